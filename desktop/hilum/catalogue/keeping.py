"""Safety copies of a catalogue: made, rotated, and brought back without losing what was there."""

import os
import re
import sqlite3
from collections.abc import Callable
from contextlib import suppress
from datetime import date, datetime
from pathlib import Path

from hilum.catalogue.checking import check
from hilum.catalogue.copies import free_name, put_copy, sweep
from hilum.catalogue.files import COMPANIONS, SUFFIX, companion, read_only, revision_in
from hilum.catalogue.mishaps import CatalogueError, DamagedError
from hilum.catalogue.opening import Catalogue

__all__ = ["backup", "check", "copies_folder", "keep_copy", "restore", "safety_copies", "safety_copy"]


def copies_folder(file: Path) -> Path:
    """Give the folder that holds the safety copies of a catalogue, beside its file."""
    return file.with_name(f"{file.stem} safety copies")


def safety_copy(catalogue: Catalogue, folder: Path, on: date, keep: int) -> Path:
    """Make and verify one dated copy in a folder, then remove the oldest; gives the copy.

    The `keep` newest stay, and of older days the last copy of each of the `keep` newest days, so that a day
    with many copies does not push out the days before it.
    """
    made = keep_copy(catalogue, folder, _file_of(catalogue).stem, on)
    _rotate(folder, _file_of(catalogue).stem, max(1, keep))
    return made


def keep_copy(catalogue: Catalogue, folder: Path, name: str, on: date) -> Path:
    """Make and verify one dated copy under a name of its own, which rotation leaves alone."""
    target = free_name(folder, name, on, SUFFIX)
    _copy(catalogue, target)
    sweep(folder)
    return target


def backup(catalogue: Catalogue, file: Path) -> Path:
    """Make and verify one copy where the keeper wants it; refuse to write over anything."""
    _copy(catalogue, file)
    return file


def safety_copies(folder: Path, stem: str) -> tuple[Path, ...]:
    """Give the dated copies of a catalogue in a folder, newest first."""
    if not folder.is_dir():
        return ()
    pattern = re.compile(re.escape(stem) + r" (\d{4}-\d\d-\d\d)(?: \((\d+)\))?" + re.escape(SUFFIX))
    found = [
        (hit[1], int(hit[2] or 1), file) for file in folder.iterdir() if (hit := pattern.fullmatch(file.name))
    ]
    return tuple(file for _day, _number, file in sorted(found, reverse=True))


def lots_in_copy(copy: Path) -> int:
    """Give the number of lots in a copy, withdrawn ones too; raises CatalogueError where it cannot be read."""
    with read_only(copy) as source:
        return int(source.execute("SELECT count(*) FROM lot").fetchone()[0])


def restore(copy: Path, where: Path, clock: Callable[[], datetime]) -> Path | None:
    """Put a verified copy in a catalogue's place; gives where the file that was there is kept, or None.

    A copy that is damaged, is no catalogue, or was made by a newer version is refused before anything moves.
    """
    if not copy.is_file():
        raise CatalogueError(f"There is no copy at {copy}.")
    if where.exists() and copy.samefile(where):
        raise CatalogueError(f"{copy} is the catalogue itself. Name a copy of it.")
    _refuse_unusable(copy)
    fresh = where.with_name(f".{where.name}.{os.getpid()}.restored")
    fresh.unlink(missing_ok=True)
    try:
        with read_only(copy) as source:
            source.isolation_level = None
            put_copy(source, fresh)
        kept = _set_aside(where, clock().date())
        try:
            fresh.rename(where)
        except OSError:
            if kept is not None:
                kept.rename(where)
            raise
    except OSError as error:
        raise CatalogueError(
            f"{where} could not be replaced: {error.strerror}. Nothing was changed."
        ) from error
    finally:
        fresh.unlink(missing_ok=True)
    return kept


def _copy(catalogue: Catalogue, target: Path) -> None:
    _file_of(catalogue)
    with catalogue.look() as connection:
        source = connection.connection.driver_connection
        if not isinstance(source, sqlite3.Connection):
            raise TypeError(f"no SQLite connection: {source!r}")
        put_copy(source, target)


def _file_of(catalogue: Catalogue) -> Path:
    if catalogue.file is None:
        raise CatalogueError(
            f"{catalogue.where} lies on a server, and its copies are made there with the server's own tools, "
            "for example: pg_dump --format=custom --file=library.dump ADDRESS. Ask whoever runs the server "
            "when that was last done, and where the copies are kept."
        )
    return catalogue.file


def _rotate(folder: Path, stem: str, keep: int) -> None:
    copies = safety_copies(folder, stem)
    last_of_day: dict[str, Path] = {}
    for file in copies:
        last_of_day.setdefault(file.name[len(stem) + 1 :][:10], file)
    staying = {*copies[:keep], *list(last_of_day.values())[:keep]}
    for file in copies:
        if file not in staying:
            # A copy that another program holds open goes the next time.
            with suppress(PermissionError):
                file.unlink(missing_ok=True)


def _refuse_unusable(copy: Path) -> None:
    from hilum.catalogue.upgrading import refuse_unknown

    try:
        revision = revision_in(copy)
    except DamagedError as error:
        raise _damaged(copy) from error
    if revision is None:
        raise CatalogueError(f"{copy} is not a Hilum catalogue. Nothing was changed.")
    refuse_unknown(revision, str(copy))
    try:
        with read_only(copy) as source:
            said = str(source.execute("PRAGMA integrity_check").fetchone()[0])
    except CatalogueError as error:
        said = str(error)
    if said != "ok":
        raise _damaged(copy)


def _damaged(copy: Path) -> CatalogueError:
    return CatalogueError(f"{copy} is damaged. Restore another copy. Nothing was changed.")


def _set_aside(where: Path, on: date) -> Path | None:
    """Move the present catalogue out of the way, with whatever SQLite kept beside it; gives its new name."""
    kept = free_name(where.parent, f"{where.stem} replaced", on, where.suffix)
    if where.exists():
        _fold_in_log(where)
    for ending in COMPANIONS:
        # A log left beside the name would be played into the restored file, so it moves first.
        left = companion(where, ending)
        if left.exists():
            left.rename(companion(kept, ending))
    if not where.exists():
        return None
    where.rename(kept)
    return kept


def _fold_in_log(where: Path) -> None:
    """Bring the write-ahead log home; refuse while somebody has the catalogue open."""
    try:
        revision_in(where)
    except CatalogueError:
        # Too damaged to be read: opened for writing, it might lose its log, so it is kept as it is.
        return
    connection = sqlite3.connect(where, timeout=0.5, isolation_level=None)
    try:
        # Leaving write-ahead logging takes a lock that no other open connection may share.
        connection.execute("PRAGMA journal_mode=DELETE")
        connection.execute("BEGIN EXCLUSIVE")
        connection.execute("ROLLBACK")
    except sqlite3.OperationalError as error:
        raise CatalogueError(
            f"{where} is open in another window or program, or may not be written to ({error}). "
            "Close it there first. Nothing was changed."
        ) from error
    finally:
        connection.close()
