"""A first look at a catalogue's file: the lots due, read before the database library is loaded.

Loading SQLAlchemy takes longer than a bare window takes to open. The due date, its reason and its bar are kept on the
lot, so the driver alone can show the first rows; the catalogue is then opened as ever, and what it says stands.
"""

import sqlite3
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from hilum.catalogue.files import read_only, revision_in
from hilum.catalogue.migrations import NEWEST_REVISION
from hilum.catalogue.mishaps import CatalogueError

_DUE = "FROM lot WHERE due_bar = '' AND due_on <= ?"
# The order of the day sheet; its index holds it ready.
_LOTS = f"""
WITH first AS (
    SELECT id, number, variety_id, year, due_on, due_why, unit, stock, stock_is_estimate {_DUE}
    ORDER BY due_on, id LIMIT ?
)
SELECT number, crop.name, variety.name, year, due_on, due_why, unit, stock, stock_is_estimate
FROM first JOIN variety ON variety.id = variety_id JOIN crop ON crop.id = crop_id ORDER BY due_on, first.id
"""


@dataclass(frozen=True, slots=True)
class DueLine:
    """A lot due for a germination test, as far as a first look shows it."""

    number: str
    crop: str
    variety: str
    year: int | None
    due_on: date
    due_why: str
    unit: str
    stock: int | None
    stock_is_estimate: bool


def due_at_a_glance(where: str, on: date, limit: int) -> tuple[tuple[DueLine, ...], int] | None:
    """Give the first lots due on a day and how many there are in all.

    None where a look is not to be had: no file, another revision, a file that cannot be read. Nothing is said then,
    because the catalogue is opened next, and that says why it cannot be.
    """
    file = Path(where)
    if "://" in where or not file.is_file():
        return None
    try:
        if revision_in(file) != NEWEST_REVISION:
            return None
        with read_only(file) as connection:
            return _read(connection, on, limit)
    except CatalogueError:
        return None


def _read(connection: sqlite3.Connection, on: date, limit: int) -> tuple[tuple[DueLine, ...], int]:
    day = on.isoformat()
    lots = tuple(
        DueLine(number, crop, variety, year, date.fromisoformat(due_on), why, unit, stock, bool(estimate))
        for number, crop, variety, year, due_on, why, unit, stock, estimate in connection.execute(
            _LOTS, (day, limit)
        )
    )
    if len(lots) < limit:
        return lots, len(lots)
    [total] = connection.execute(f"SELECT count(*) {_DUE}", (day,)).fetchone()
    return lots, total
