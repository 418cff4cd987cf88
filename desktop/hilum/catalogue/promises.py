"""Promised returns: seed that somebody said would come back, until it does or is given up."""

from dataclasses import dataclass
from datetime import date
from typing import Any

from sqlalchemy import Connection, func, select

from hilum.catalogue.counter_records import event, promised_return
from hilum.catalogue.history import add, change
from hilum.catalogue.opening import Job
from hilum.catalogue.records import crop, lot, variety
from hilum.errors import BadInput


@dataclass(frozen=True, slots=True)
class PromiseLine:
    """One promised return; `settled_on` is None while it is waited for."""

    id: int
    lot_id: int
    lot: str
    crop: str
    variety: str
    from_id: int | None
    event: str
    event_kind: str
    promised_on: date
    expected_by: date
    note: str
    settled_on: date | None
    settled_why: str
    returned_lot: str | None


def add_promise(
    job: Job, lot_id: int, *, on: date, by: date, from_id: int | None, event_id: int | None, note: str
) -> int:
    """Write down that seed of a lot was promised back."""
    if by < on:
        raise BadInput("A return cannot be expected before the day it was promised. Correct the date.")
    values = {
        "lot_id": lot_id,
        "from_id": from_id,
        "event_id": event_id,
        "promised_on": on,
        "expected_by": by,
        "note": note,
    }
    return add(job, promised_return, values)


def settle(job: Job, promise_id: int, *, on: date, why: str = "", returned_lot_id: int | None = None) -> None:
    """Close a promise, by the lot that came back or by a reason."""
    row = job.run(
        select(promised_return.c.settled_on).where(promised_return.c.id == promise_id)
    ).one_or_none()
    if row is None or row.settled_on is not None:
        raise BadInput("That return is not waited for any more.")
    if returned_lot_id is None and not why.strip():
        raise BadInput("A promise is given up with a reason: say in a few words why.")
    change(
        job,
        promised_return,
        promise_id,
        {"settled_on": on, "settled_why": why.strip(), "returned_lot_id": returned_lot_id},
    )


def promises(
    connection: Connection, *, waited_for: bool = True, from_id: int | None = None
) -> tuple[PromiseLine, ...]:
    """Give promised returns, those expected first at the top: the open ones, or all, or one person's."""
    returned = lot.alias("returned")
    statement = (
        select(
            promised_return.c.id, promised_return.c.lot_id, lot.c.number, crop.c.name, variety.c.name,
            promised_return.c.from_id, func.coalesce(event.c.name, ""), func.coalesce(event.c.kind, "counter"),
            promised_return.c.promised_on,
            promised_return.c.expected_by, promised_return.c.note, promised_return.c.settled_on,
            promised_return.c.settled_why, returned.c.number,
        )
        .join(lot, lot.c.id == promised_return.c.lot_id)
        .join(variety, variety.c.id == lot.c.variety_id)
        .join(crop, crop.c.id == variety.c.crop_id)
        .outerjoin(event, event.c.id == promised_return.c.event_id)
        .outerjoin(returned, returned.c.id == promised_return.c.returned_lot_id)
        .order_by(promised_return.c.expected_by, promised_return.c.id)
    )  # fmt: skip
    if waited_for:
        statement = statement.where(promised_return.c.settled_on.is_(None))
    if from_id is not None:
        statement = statement.where(promised_return.c.from_id == from_id)
    rows: Any = connection.execute(statement)
    return tuple(PromiseLine(*row) for row in rows)
