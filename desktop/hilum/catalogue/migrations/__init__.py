"""The steps by which a catalogue of an older version becomes one of this version."""
