"""The list of erasures beside a catalogue's file: ids and days, never a name; a restore replays it.

It lies outside the catalogue because a restore puts an older catalogue, with the names still in it, in its place.
"""

import json
import sqlite3
from datetime import date
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, select

from hilum.catalogue.files import read_only
from hilum.catalogue.mishaps import CatalogueError
from hilum.catalogue.opening import Catalogue
from hilum.catalogue.people import erased_people
from hilum.catalogue.records import history

_ENDING = ".erasures.json"


def note_erasures(connection: Connection, file: Path | None) -> None:
    """Write beside the file whom the library has erased; called before the job that erases is kept."""
    if file is None:
        return
    written = {
        "library": lineage(connection),
        "erased": {str(who): day.isoformat() for who, day in sorted(erased_people(connection).items())},
    }
    target = _list_of(file)
    part = target.with_name(f".{target.name}.part")
    part.write_text(json.dumps(written, indent=1) + "\n", encoding="ascii")
    part.replace(target)


def overwrite_deleted(catalogue: Catalogue) -> bool:
    """Write a catalogue's file anew without the text that was deleted from it; says whether that could be done.

    What is blanked or deleted otherwise lies on in unused pages, in the find index and in the log beside the file.
    Not done while another window or program has the file open. A server clears its own pages.
    """
    if not catalogue.is_sqlite:
        return True
    raw = catalogue.engine.raw_connection()
    try:
        run: Any = raw.driver_connection
        run.execute("INSERT INTO lot_find (lot_find) VALUES ('optimize')")
        run.execute("VACUUM")
        [(is_busy, _, _)] = run.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchall()
    except sqlite3.OperationalError:
        return False
    finally:
        raw.close()
    return not is_busy


def erasures_noted(file: Path) -> tuple[str, dict[int, date]]:
    """Give which library the list beside a file belongs to, and whom it erased when; nothing where there is none."""
    target = _list_of(file)
    if not target.is_file():
        return "", {}
    try:
        found = json.loads(target.read_text(encoding="ascii"))
        return str(found["library"]), {
            int(who): date.fromisoformat(day) for who, day in found["erased"].items()
        }
    except (ValueError, KeyError, TypeError, AttributeError) as error:
        raise CatalogueError(
            f"The list of erased names {target} cannot be read. Nothing was restored: the copy could bring back "
            "names that were erased. Mend the list, or move it away if you are sure."
        ) from error


def lineage(connection: Connection) -> str:
    """Give what tells one library from another through all its copies: the first job of its history."""
    first = connection.execute(select(history.c.job).order_by(history.c.id).limit(1)).scalar()
    return str(first or "")


def lineage_of_file(file: Path) -> str:
    """Give the same of a file that is not opened as a catalogue."""
    with read_only(file) as raw:
        row = raw.execute("SELECT job FROM history ORDER BY id LIMIT 1").fetchone()
    return str(row[0]) if row else ""


def _list_of(file: Path) -> Path:
    return file.with_name(file.stem + _ENDING)
