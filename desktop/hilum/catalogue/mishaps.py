"""What a database could not do, said in a keeper's words."""

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from hilum.errors import KeeperError

# Looking at a file from outside, which the first page does, needs the words but not the library.
if TYPE_CHECKING:
    from sqlalchemy.exc import OperationalError

# Clues in what SQLite and PostgreSQL say, in the order in which they are looked for.
_CAUSES = (
    ("locked", "another program is writing to the catalogue. Close it there, or try again in a moment."),
    ("lock timeout", "another desk is writing to the catalogue. Try again in a moment."),
    ("deadlock", "two desks changed the same lots at once. Try again."),
    ("readonly", "the catalogue may only be read: the file or its folder is write-protected."),
    ("read-only", "the catalogue may only be read: the server accepts no changes."),
    ("is full", "the disk is full. Free some space and try again."),
    ("No space left", "the server's disk is full. Free some space and try again."),
    ("unable to open", "the file cannot be opened. Check its folder and the rights on it."),
    ("disk I/O error", "the disk did not answer as it should. Check the drive, then try again."),
    ("password", "the server did not accept the name or the password. Check the address."),
    ("Connection refused", "no server answers there. Check the address, and that the server is running."),
    ("could not translate host", "no server of that name was found. Check the address and the network."),
    ("failed to resolve host", "no server of that name was found. Check the address and the network."),
    (
        "timeout expired",
        "the server did not answer in time. Check the network, and that the server is running.",
    ),
    ("does not exist", "the server has no such database or user. Have it made there first."),
    ("server closed the connection", "the server ended the connection. Try again."),
)


class CatalogueError(KeeperError):
    """The catalogue cannot be opened, read or written; the words say which and what to do."""


class DamagedError(CatalogueError):
    """The catalogue's file has pages that cannot be read."""


@contextmanager
def plain_words(where: str) -> Iterator[None]:
    """Turn what the database could not do into a CatalogueError; a fault of the program passes as it is."""
    from sqlalchemy.exc import DBAPIError, OperationalError

    try:
        yield
    except OperationalError as error:
        words = DISK_FULL if is_full(Path(where)) else _cause(error)
        raise CatalogueError(f"{where}: {words} Nothing was changed.") from error
    except DBAPIError as error:
        if "file is not a database" in str(error.orig):
            raise CatalogueError(f"{where} is not a Hilum catalogue. It was left as it is.") from error
        if "malformed" in str(error.orig):
            raise DamagedError(damaged(where)) from error
        raise


DISK_FULL = "the disk is full. Free some space and try again."
# With less than this left, a file's log cannot be begun: SQLite then only says that the disk did not answer.
_LEAST_FREE_BYTES = 100_000


def is_full(file: Path) -> bool:
    """Say whether the disk that a file lies on has no room left; no for what is no file here."""
    try:
        return shutil.disk_usage(file.parent).free < _LEAST_FREE_BYTES
    except OSError:
        return False


def damaged(where: object) -> str:
    """Say that a catalogue is damaged and what to do about it."""
    return f"{where} is damaged. Keep it, and bring back the newest safety copy with: hilum restore FILE"


def _cause(error: "OperationalError") -> str:
    said = " ".join(str(error.orig).split()) if error.orig else str(error)
    for clue, words in _CAUSES:
        if clue.casefold() in said.casefold():
            return words
    return f"the database did not answer as it should ({said})."
