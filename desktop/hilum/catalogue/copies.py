"""One verified copy of a catalogue's file: whole under its own name, or not there at all."""

import os
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from datetime import date
from pathlib import Path

from hilum.catalogue.files import COMPANIONS, companion
from hilum.catalogue.mishaps import CatalogueError

# A half-written copy this much older than a new one belongs to a run that was ended in the middle.
_ABANDONED_AFTER_S = 3600
_PART = ".part"


def free_name(folder: Path, name: str, on: date, suffix: str) -> Path:
    """Give the first name with a date that is not taken: `name 2026-11-25.hilum`, then `... (2).hilum`."""
    wanted = folder / f"{name} {on.isoformat()}{suffix}"
    number = 2
    while wanted.exists():
        wanted = folder / f"{name} {on.isoformat()} ({number}){suffix}"
        number += 1
    return wanted


def row_counts(raw: sqlite3.Connection) -> dict[str, int]:
    """Give the number of rows of every table of a SQLite database."""
    names = raw.execute(
        "SELECT name FROM sqlite_master WHERE type = 'table' AND sql NOT LIKE 'CREATE VIRTUAL%' "
        "AND name NOT LIKE 'sqlite~_%' ESCAPE '~' ORDER BY name"
    ).fetchall()
    return {name: int(raw.execute(f'SELECT count(*) FROM "{name}"').fetchone()[0]) for (name,) in names}


def put_copy(source: sqlite3.Connection, target: Path) -> None:
    """Copy the whole database behind a connection into a new file, read it back, and only then name it.

    The copy is what the source held at one moment, even while others write to it. It needs no file beside it.
    """
    if target.exists():
        raise CatalogueError(f"{target} already exists. Choose another name, or move that file away first.")
    with _part_of(target) as part:
        # The database's own online copy: copying an open file as bytes could catch it between two pages.
        with _closing(part) as copy:
            # A read held open makes the counts and the copy speak of the same moment.
            own = not source.in_transaction
            if own:
                source.execute("BEGIN")
            try:
                expected = row_counts(source)
                source.backup(copy)
            finally:
                if own:
                    source.execute("ROLLBACK")
            copy.execute("PRAGMA journal_mode=DELETE")
        found = verified_counts(part)
        if found != expected:
            raise CatalogueError(
                f"The copy for {target} does not hold as many rows as the catalogue. It was thrown away."
            )
        _flush(part)
        part.replace(target)
        _flush(target.parent)


def verified_counts(file: Path) -> dict[str, int]:
    """Check every page and every reference of a copy and give its rows by table; refuse a bad one."""
    with _closing(file) as copy:
        said = copy.execute("PRAGMA integrity_check").fetchone()[0]
        if said != "ok":
            raise CatalogueError(f"{file} is damaged ({said}).")
        if copy.execute("PRAGMA foreign_key_check").fetchone() is not None:
            raise CatalogueError(f"{file} is damaged: it has rows without what they belong to.")
        return row_counts(copy)


@contextmanager
def _part_of(target: Path) -> Iterator[Path]:
    part = target.with_name(f".{target.name}.{os.getpid()}{_PART}")
    try:
        target.parent.mkdir(parents=True, exist_ok=True)
        _remove(part)
        yield part
    except sqlite3.DatabaseError as error:
        raise CatalogueError(
            f"The copy {target} could not be written ({error}). It was thrown away."
        ) from error
    except OSError as error:
        raise CatalogueError(f"The copy {target} could not be written: {error.strerror}.") from error
    finally:
        _remove(part)


def sweep(folder: Path) -> None:
    """Remove the half-written copies of runs that were ended in the middle."""
    parts = [(file, file.stat().st_mtime) for file in folder.glob(f".*{_PART}*")]
    newest = max((file.stat().st_mtime for file in folder.iterdir()), default=0.0)
    for file, changed in parts:
        if newest - changed > _ABANDONED_AFTER_S:
            file.unlink(missing_ok=True)


def _remove(part: Path) -> None:
    with suppress(OSError):
        for file in (part, *(companion(part, ending) for ending in COMPANIONS)):
            file.unlink(missing_ok=True)


@contextmanager
def _closing(file: Path) -> Iterator[sqlite3.Connection]:
    connection = sqlite3.connect(file, isolation_level=None)
    try:
        yield connection
    finally:
        connection.close()


def _flush(path: Path) -> None:
    # Windows opens no folder as a file, and needs none flushed.
    if os.name == "nt" and path.is_dir():
        return
    handle = os.open(path, os.O_RDONLY if path.is_dir() or os.name != "nt" else os.O_RDWR)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
