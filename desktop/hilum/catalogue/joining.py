"""Lots made of lots: one variety poured together (bulked), or several kept apart in their shares (mixed)."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from sqlalchemy import Connection, select

from hilum.catalogue.history import add
from hilum.catalogue.joining_records import lot_component
from hilum.catalogue.ledger import move
from hilum.catalogue.lots import NewLot, NumberGiver, add_lot
from hilum.catalogue.opening import Job
from hilum.catalogue.records import BULKED, MIXED, crop, lot, lot_parent, variety
from hilum.catalogue.related import add_parent

__all__ = ["BULKED", "MIXED", "ComponentLine", "Part", "components_of", "join_lots", "oldest_test_of"]


@dataclass(frozen=True, slots=True)
class Part:
    """What one lot gives: `drawn` in its own unit, `amount` in the unit of the lot that is made."""

    lot_id: int
    drawn: int
    amount: int
    share_ppm: int
    share_by: str


@dataclass(frozen=True, slots=True)
class ComponentLine:
    """One component of a lot, with its share in parts of a million and by what that was reckoned."""

    lot: str
    crop: str
    variety: str
    year: int | None
    amount: int
    share_ppm: int
    share_by: str
    germination_percent: int | None
    tested_on: date | None


def join_lots(job: Job, new: NewLot, parts: Sequence[Part], *, on: date, words: str) -> tuple[int, str]:
    """Draw every part from its lot and make the lot of them, in the job it stands in; gives its id and number."""
    lot_id, number = add_lot(job, new, NumberGiver(job), why=words)
    for part in parts:
        move(job, part.lot_id, new.made_as, -part.drawn, on=on, why=f"into lot {number}")
        add_parent(job, lot_id, part.lot_id)
        add(
            job,
            lot_component,
            {
                "lot_id": lot_id,
                "parent_id": part.lot_id,
                "amount": part.amount,
                "share_ppm": part.share_ppm,
                "share_by": part.share_by,
            },
        )
    return lot_id, number


def components_of(connection: Connection, lot_id: int) -> tuple[ComponentLine, ...]:
    """Give what a lot was made of, the largest share first; empty for a lot that was harvested."""
    rows = connection.execute(
        select(
            lot.c.number, crop.c.name, variety.c.name.label("variety"), lot.c.year, lot_component.c.amount,
            lot_component.c.share_ppm, lot_component.c.share_by, lot.c.germination_percent, lot.c.tested_on,
        )
        .join(lot, lot.c.id == lot_component.c.parent_id).join(variety, variety.c.id == lot.c.variety_id)
        .join(crop, crop.c.id == variety.c.crop_id)
        .where(lot_component.c.lot_id == lot_id)
        .order_by(lot_component.c.share_ppm.desc(), lot.c.number)
    )  # fmt: skip
    return tuple(ComponentLine(*row) for row in rows)


def oldest_test_of(connection: Connection, lot_id: int) -> date | None:
    """Give the day of the oldest of the newest tests of a lot's components; None where one was never tested."""
    days = connection.execute(
        select(lot.c.tested_on)
        .join(lot_parent, lot_parent.c.parent_id == lot.c.id)
        .where(lot_parent.c.lot_id == lot_id)
    ).scalars()
    found = list(days)
    return None if not found or None in found else min(found)
