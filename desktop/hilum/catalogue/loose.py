"""Loose seed handed out, by weight or counted: a movement of the lot's own ledger, with where it went beside it."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from sqlalchemy import Connection, insert, select

from hilum.catalogue import ledger
from hilum.catalogue.amounts import shown_amount
from hilum.catalogue.counter_records import event, loose_hand_out
from hilum.catalogue.opening import Job
from hilum.catalogue.records import crop, lot, movement, variety

KIND = "handed out"


@dataclass(frozen=True, slots=True)
class LooseLine:
    """Loose seed that went out of one lot; `id` is its movement's, `amount` is in the lot's own unit."""

    id: int
    lot_id: int
    lot: str
    crop: str
    variety: str
    amount: int
    unit: str
    on: date
    event: str
    event_kind: str
    season: int
    to_id: int | None
    why: str
    taken_back: bool
    entered_at: datetime

    @property
    def words(self) -> str:
        """How much went, as it is shown."""
        return f"{shown_amount(self.amount, self.unit)} loose"


def give(
    job: Job, lot_id: int, amount: int, *, on: date, event_id: int | None, to_id: int | None, why: str
) -> int:
    """Draw loose seed from a lot's stock and keep where it went; gives the movement's id."""
    moved = ledger.move(job, lot_id, KIND, -amount, on=on, why=why)
    job.run(insert(loose_hand_out).values(movement_id=moved, event_id=event_id, to_id=to_id))
    return moved


def lines(
    connection: Connection,
    *,
    on: date | None = None,
    lot_ids: Iterable[int] | None = None,
    to_id: int | None = None,
) -> tuple[LooseLine, ...]:
    """Give loose seed that went out, newest first: of a day, of some lots, to a person; without lines not known."""
    statement = _lines()
    if on is not None:
        statement = statement.where(movement.c.on_date == on)
    if lot_ids is not None:
        statement = statement.where(movement.c.lot_id.in_(tuple(lot_ids)))
    if to_id is not None:
        statement = statement.where(loose_hand_out.c.to_id == to_id)
    return tuple(_line(row) for row in connection.execute(statement.order_by(movement.c.id.desc())))


def _lines() -> Any:
    correction = movement.alias("correction")
    return (
        select(
            movement, lot.c.number, lot.c.unit, crop.c.name.label("crop"), variety.c.name.label("variety"),
            event.c.name.label("event"), event.c.kind.label("event_kind"), event.c.season,
            loose_hand_out.c.to_id, correction.c.id.label("corrected_by"),
        )
        .join(lot, lot.c.id == movement.c.lot_id)
        .join(variety, variety.c.id == lot.c.variety_id)
        .join(crop, crop.c.id == variety.c.crop_id)
        # Seed that a catalogue of an older program drew as handed out has no more to say than its movement.
        .outerjoin(loose_hand_out, loose_hand_out.c.movement_id == movement.c.id)
        .outerjoin(event, event.c.id == loose_hand_out.c.event_id)
        .outerjoin(correction, correction.c.corrects_id == movement.c.id)
        .where(movement.c.kind == KIND)
    )  # fmt: skip


def _line(row: Any) -> LooseLine:
    return LooseLine(
        id=row.id, lot_id=row.lot_id, lot=row.number, crop=row.crop, variety=row.variety, amount=-(row.amount or 0),
        unit=row.unit, on=row.on_date, event=row.event or "", event_kind=row.event_kind or "counter",
        season=row.season or row.on_date.year, to_id=row.to_id, why=row.why,
        taken_back=row.corrected_by is not None, entered_at=row.entered_at,
    )  # fmt: skip
