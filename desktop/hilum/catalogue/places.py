"""Store places: rooms, freezers, shelves, boxes and slots; made, changed and moved with the day from which it holds."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from sqlalchemy import Connection, func, select

from hilum.catalogue.history import add, change
from hilum.catalogue.opening import Job
from hilum.catalogue.records import stay, store_place
from hilum.catalogue.store_records import place_past
from hilum.catalogue.store_tree import read_store_tree
from hilum.errors import BadInput

BETWEEN = " / "
# What the forecast reads of a place: a change of it has a day from which it holds.
DATED = ("parent_id", "temperature_c", "humidity_percent")
# More ids than this would not fit into one statement on SQLite.
_AT_ONCE = 5000


@dataclass(frozen=True, slots=True)
class StorePlaceLine:
    """One place of the store with what it lies in."""

    id: int
    parent_id: int | None
    kind: str
    name: str
    path: str
    temperature_c: float | None
    humidity_percent: float | None
    note: str
    closed_on: date | None = None


@dataclass(frozen=True, slots=True)
class PastLine:
    """What a place was until a day."""

    until_on: date
    parent_id: int | None
    temperature_c: float | None
    humidity_percent: float | None


def store_places(connection: Connection) -> tuple[StorePlaceLine, ...]:
    """Give every store place, sorted by its whole path."""
    rows = {row.id: row for row in connection.execute(select(store_place))}

    def path(row_id: int) -> str:
        row = rows[row_id]
        return row.name if row.parent_id is None else f"{path(row.parent_id)}{BETWEEN}{row.name}"

    lines = [
        StorePlaceLine(
            row.id,
            row.parent_id,
            row.kind,
            row.name,
            path(row.id),
            row.temperature_c,
            row.humidity_percent,
            row.note,
            row.closed_on,
        )
        for row in rows.values()
    ]
    return tuple(sorted(lines, key=lambda line: line.path.casefold()))


def add_store_place(job: Job, values: Mapping[str, Any]) -> int:
    """Write one place of the store."""
    return add(job, store_place, values)


def change_store_place(job: Job, store_place_id: int, values: Mapping[str, Any], *, on: date | None) -> bool:
    """Change one place of the store; says whether anything differed.

    What the forecast reads holds from the day `on`, and what was before stays known; without a day the place is
    said to have been so all along since it last changed. A place that would lie in itself is refused.
    """
    row = job.run(select(store_place).where(store_place.c.id == store_place_id)).one()
    if on is not None and any(getattr(row, name) != values[name] for name in DATED if name in values):
        _keep_past(job, row, on)
    changed = change(job, store_place, store_place_id, values)
    if changed and "parent_id" in values and read_store_tree(job.connection).has_ring():
        raise BadInput(
            f"{row.name} cannot lie in itself or in a place that lies in it. Choose another place."
        )
    return changed


def _keep_past(job: Job, row: Any, on: date) -> None:
    newest = job.run(
        select(func.max(place_past.c.until_on)).where(place_past.c.store_place_id == row.id)
    ).scalar()
    if newest is not None and on < newest:
        raise BadInput(
            f"{row.name} has been as it is since {newest.isoformat()}; it cannot have changed before that. "
            "Give that day or a later one, or take the change of that day back first."
        )
    if newest != on:
        past = {name: getattr(row, name) for name in DATED}
        add(job, place_past, {"store_place_id": row.id, "until_on": on, **past})


def past_of(connection: Connection, store_place_id: int) -> tuple[PastLine, ...]:
    """Give what a place was before, oldest first."""
    rows = connection.execute(
        select(place_past)
        .where(place_past.c.store_place_id == store_place_id)
        .order_by(place_past.c.until_on)
    )
    return tuple(
        PastLine(row.until_on, row.parent_id, row.temperature_c, row.humidity_percent) for row in rows
    )


def lots_at(connection: Connection, store_place_ids: Iterable[int]) -> tuple[int, ...]:
    """Give the lots that lie in any of some store places now."""
    return tuple(places_of_lots(connection, store_place_ids))


def places_of_lots(connection: Connection, store_place_ids: Iterable[int]) -> dict[int, int]:
    """Give where each lot lies that lies in any of some store places now."""
    ids, found = sorted(store_place_ids), dict[int, int]()
    for start in range(0, len(ids), _AT_ONCE):
        rows = connection.execute(
            select(stay.c.lot_id, stay.c.store_place_id)
            .where(stay.c.store_place_id.in_(ids[start : start + _AT_ONCE]))
            .where(stay.c.until_on.is_(None))
            .order_by(stay.c.lot_id)
        )
        found.update((row.lot_id, row.store_place_id) for row in rows)
    return found


def place_of_lot(connection: Connection, lot_id: int) -> int | None:
    """Give the place a lot lies in now, or None."""
    found: int | None = connection.execute(
        select(stay.c.store_place_id).where(stay.c.lot_id == lot_id).where(stay.c.until_on.is_(None))
    ).scalar()
    return found


@dataclass(frozen=True, slots=True)
class OpenStay:
    """Where one lot lies now: since when, and in what."""

    lot_id: int
    store_place_id: int
    from_on: date
    container: str
    airtight: bool | None


def open_stays(connection: Connection, store_place_ids: Iterable[int], limit: int) -> tuple[OpenStay, ...]:
    """Give where each lot lies that lies in any of some store places now, at most so many of them."""
    ids, found = sorted(store_place_ids), list[OpenStay]()
    for start in range(0, len(ids), _AT_ONCE):
        rows = connection.execute(
            select(stay.c.lot_id, stay.c.store_place_id, stay.c.from_on, stay.c.container, stay.c.airtight)
            .where(stay.c.store_place_id.in_(ids[start : start + _AT_ONCE]))
            .where(stay.c.until_on.is_(None))
            .order_by(stay.c.lot_id)
            .limit(limit - len(found))
        )
        found += [OpenStay(*row) for row in rows]
    return tuple(found)


def lots_by_place(connection: Connection) -> dict[int, int]:
    """Give how many lots lie in each place itself now, without those in the places in it."""
    rows = connection.execute(
        select(stay.c.store_place_id, func.count())
        .where(stay.c.until_on.is_(None))
        .group_by(stay.c.store_place_id)
    )
    return {row[0]: int(row[1]) for row in rows}
