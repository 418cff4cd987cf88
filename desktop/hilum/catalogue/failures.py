"""Failures of the store: a freezer that stood warm, jars that were opened cold and drew damp; the lots they befell."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from sqlalchemy import Connection, func, or_, select

from hilum.catalogue.history import add
from hilum.catalogue.opening import Job
from hilum.catalogue.records import lot, stay
from hilum.catalogue.store_records import FAILURE_KINDS, store_failure, store_failure_lot

WARM, WET = FAILURE_KINDS


@dataclass(frozen=True, slots=True)
class FailureLine:
    """One failure of a place, with the numbers of the lots it befell where they were asked for."""

    id: int
    store_place_id: int
    kind: str
    from_on: date
    until_on: date
    temperature_c: float | None
    note: str
    lots: tuple[str, ...] = ()


def add_failure(
    job: Job,
    store_place_id: int,
    kind: str,
    from_on: date,
    until_on: date,
    temperature_c: float | None,
    note: str,
    lot_ids: Iterable[int],
) -> int:
    """Write one failure with every lot it befell."""
    failure_id = add(
        job,
        store_failure,
        {
            "store_place_id": store_place_id,
            "kind": kind,
            "from_on": from_on,
            "until_on": until_on,
            "temperature_c": temperature_c,
            "note": note,
        },
    )
    for lot_id in lot_ids:
        add(job, store_failure_lot, {"failure_id": failure_id, "lot_id": lot_id})
    return failure_id


def lots_lying(
    connection: Connection, store_place_ids: Iterable[int], from_on: date, until_on: date
) -> tuple[int, ...]:
    """Give the lots that lay in any of some places on any of some days."""
    rows = connection.execute(
        select(stay.c.lot_id)
        .where(stay.c.store_place_id.in_(sorted(store_place_ids)))
        .where(stay.c.from_on <= until_on)
        .where(or_(stay.c.until_on.is_(None), stay.c.until_on > from_on))
        .distinct()
        .order_by(stay.c.lot_id)
    )
    return tuple(rows.scalars())


def failures_of(connection: Connection, lot_id: int) -> tuple[FailureLine, ...]:
    """Give the failures that befell one lot, in the order of their dates."""
    rows = connection.execute(
        select(store_failure)
        .join(store_failure_lot, store_failure_lot.c.failure_id == store_failure.c.id)
        .where(store_failure_lot.c.lot_id == lot_id)
        .order_by(store_failure.c.from_on, store_failure.c.id)
    )
    return tuple(FailureLine(**row._asdict()) for row in rows)


def all_failures(connection: Connection) -> tuple[FailureLine, ...]:
    """Give every failure with the lots it befell, newest first."""
    befell: dict[int, list[str]] = {}
    rows = connection.execute(
        select(store_failure_lot.c.failure_id, lot.c.number)
        .join(lot, lot.c.id == store_failure_lot.c.lot_id)
        .order_by(lot.c.number)
    )
    for failure_id, number in rows:
        befell.setdefault(failure_id, []).append(number)
    found = connection.execute(
        select(store_failure).order_by(store_failure.c.from_on.desc(), store_failure.c.id.desc())
    )
    return tuple(FailureLine(**row._asdict(), lots=tuple(befell.get(row.id, ()))) for row in found)


def wetted_on(connection: Connection, lot_id: int) -> date | None:
    """Give the newest day on which a lot's seed drew damp: what was measured up to then proves no dryness any more."""
    found: date | None = connection.execute(
        select(func.max(store_failure.c.from_on))
        .join(store_failure_lot, store_failure_lot.c.failure_id == store_failure.c.id)
        .where(store_failure_lot.c.lot_id == lot_id)
        .where(store_failure.c.kind == WET)
    ).scalar()
    return found
