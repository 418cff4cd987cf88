"""The steps by which a catalogue of an older version becomes one of this version."""

# The newest revision in versions; a test holds the two together.
NEWEST_REVISION = "0009"
