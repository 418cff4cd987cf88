"""Grow-outs: seed of a lot is grown to see whether it is what its name says; each result is a dated fact."""

from dataclasses import dataclass
from datetime import date

from sqlalchemy import Connection, select

from hilum.catalogue.history import add
from hilum.catalogue.opening import Job
from hilum.catalogue.records import GROW_OUT_RESULTS, grow_out
from hilum.errors import BadInput

# What the identity of a lot becomes by a result; one that is not clear changes nothing.
IDENTITY_AFTER = {"seen true": "seen true", "not true": "unknown"}


@dataclass(frozen=True, slots=True)
class GrowOutLine:
    """One grow-out: `off_type` of the `plants` looked at were not of the variety; None where nobody counted."""

    id: int
    on: date
    result: str
    plants: int | None
    off_type: int | None
    note: str
    person_id: int | None


def add_grow_out(
    job: Job, lot_id: int, on: date, result: str, *, plants: int | None, off_type: int | None, note: str
) -> int:
    """Write one grow-out of a lot."""
    if result not in GROW_OUT_RESULTS:
        raise BadInput(f"A grow-out ends as one of: {', '.join(GROW_OUT_RESULTS)}.")
    if plants is not None and plants < 1:
        raise BadInput("A grow-out looks at one plant at least. Leave the number out where nobody counted.")
    if off_type is not None and (plants is None or not 0 <= off_type <= plants):
        raise BadInput("Say how many plants were looked at; not more of them can be off type.")
    return add(
        job,
        grow_out,
        {
            "lot_id": lot_id,
            "on_date": on,
            "result": result,
            "plants": plants,
            "off_type": off_type,
            "note": note,
            "person_id": job.person_id,
        },
    )


def grow_outs_of(connection: Connection, lot_id: int) -> tuple[GrowOutLine, ...]:
    """Give a lot's grow-outs in the order of their dates."""
    rows = connection.execute(
        select(grow_out).where(grow_out.c.lot_id == lot_id).order_by(grow_out.c.on_date, grow_out.c.id)
    )
    return tuple(
        GrowOutLine(row.id, row.on_date, row.result, row.plants, row.off_type, row.note, row.person_id)
        for row in rows
    )
