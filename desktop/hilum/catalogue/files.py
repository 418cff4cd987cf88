"""A catalogue's file seen from outside: what it is and what it holds, read without changing a byte."""

import os
import sqlite3
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from urllib.parse import quote

from hilum.catalogue.mishaps import DISK_FULL, CatalogueError, DamagedError, damaged, is_full

SUFFIX = ".hilum"
_HEADER = b"SQLite format 3\x00"
# What SQLite keeps beside a database while it is open, or after it was not closed properly.
COMPANIONS = ("-wal", "-shm", "-journal")
# Folders that some program keeps in step with other machines, file by file.
_SYNCED = (
    "dropbox", "onedrive", "google drive", "googledrive", "icloud", "cloudstorage", "nextcloud", "owncloud",
    "syncthing",
)  # fmt: skip
_NETWORK_MOUNTS = (
    "nfs",
    "cifs",
    "smb",
    "afp",
    "9p",
    "ceph",
    "gluster",
    "fuse.sshfs",
    "fuse.gvfs",
    "davfs",
    "fuse.rclone",
)
_WINDOWS_REMOTE_DRIVE = 4  # DRIVE_REMOTE, GetDriveTypeW, Win32 API


def companion(file: Path, ending: str) -> Path:
    """Give one of the files SQLite keeps beside a database; its name is the database's with an ending."""
    return file.with_name(file.name + ending)


@contextmanager
def read_only(file: Path) -> Iterator[sqlite3.Connection]:
    """Open a SQLite file so that neither it nor its folder is changed, and give the driver's connection."""
    if not _begins_like_a_database(file):
        raise CatalogueError(f"{file} is not a Hilum catalogue. It was left as it is.")
    # Opened plainly, a file that uses a write-ahead log would get an empty log and its index beside it.
    how = "mode=ro" if companion(file, "-wal").exists() else "mode=ro&immutable=1"
    connection = None
    try:
        connection = sqlite3.connect(f"{_address(file)}?{how}", uri=True, timeout=10)
        yield connection
    except sqlite3.DatabaseError as error:
        if "malformed" not in str(error) and is_full(file):
            raise CatalogueError(f"{file}: {DISK_FULL} It was left as it is.") from error
        kind = DamagedError if "malformed" in str(error) else CatalogueError
        raise kind(_cause(file, error)) from error
    finally:
        if connection is not None:
            connection.close()


def revision_in(file: Path) -> str | None:
    """Give the schema revision of a file, or None where the file holds no catalogue."""
    with read_only(file) as connection:
        if not connection.execute("SELECT 1 FROM sqlite_master WHERE name = 'alembic_version'").fetchone():
            return None
        row = connection.execute("SELECT version_num FROM alembic_version").fetchone()
        return None if row is None else str(row[0])


def refuse_unwritable(file: Path) -> None:
    """Refuse a catalogue that cannot be written to, before anything is tried on it."""
    if not os.access(file, os.W_OK) or not os.access(file.parent, os.W_OK):
        raise CatalogueError(
            f"{file} may only be read: the file or its folder is write-protected. "
            "Copy it to a folder of your own, or lift the protection."
        )


def is_shared(file: Path) -> bool:
    """Say whether a file lies where a write-ahead log is unsafe: on a network share or in a synced folder."""
    words = str(file.parent).casefold()
    if words.startswith(("\\\\", "//")) or any(name in words for name in _SYNCED):
        return True
    if sys.platform == "win32":  # pragma: no cover - runs on Windows only
        import ctypes

        return bool(ctypes.windll.kernel32.GetDriveTypeW(file.anchor) == _WINDOWS_REMOTE_DRIVE)
    mounts = Path("/proc/mounts")
    if not mounts.exists():
        return False
    return mount_kind(file, mounts.read_text("utf-8", "replace")).startswith(_NETWORK_MOUNTS)


def mount_kind(file: Path, mounts: str) -> str:
    """Give the file system kind of the mount a file lies on, from a table in the form of /proc/mounts."""
    best, kind = -1, ""
    for line in mounts.splitlines():
        parts = line.split()
        if len(parts) < 3:
            continue
        # Blanks in a mount's path are written as octal escapes: proc(5) refers to getmntent(3).
        point = Path(parts[1].replace("\\040", " ").replace("\\011", "\t").replace("\\134", "\\"))
        if len(point.parts) >= best and (point == file or point in file.parents):
            best, kind = len(point.parts), parts[2]
    return kind


def _begins_like_a_database(file: Path) -> bool:
    try:
        with file.open("rb") as opened:
            return opened.read(len(_HEADER)) == _HEADER
    except OSError as error:
        raise CatalogueError(f"{file} cannot be read: {error.strerror}.") from error


def _address(file: Path) -> str:
    path = quote(file.absolute().as_posix(), safe="/:")
    return "file://" + (path if path.startswith("/") else "/" + path)


def _cause(file: Path, error: sqlite3.DatabaseError) -> str:
    said = str(error)
    if "not a database" in said:
        return f"{file} is not a Hilum catalogue. It was left as it is."
    if "malformed" in said:
        return damaged(file)
    if "locked" in said:
        return f"{file}: another program is writing to it. Close it there, or try again in a moment."
    return f"{file} cannot be read ({said}). It was left as it is."
