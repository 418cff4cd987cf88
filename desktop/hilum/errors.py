"""What can go wrong in a way the keeper can mend; every room's own errors descend from here.

The text of such an error is shown as it stands: what is wrong, where, and what to do. Anything
that is not a `KeeperError` is a fault of the program and goes whole to the log.
"""


class KeeperError(Exception):
    """Something the keeper can put right; nothing has been changed."""


class BadInput(KeeperError):
    """What was typed, scanned or read from a file cannot be meant; the command line exits 2 on it."""


class ResourceError(KeeperError):
    """A file that came with the program is missing or damaged."""
