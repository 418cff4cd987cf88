"""Lots that a row of a list may already be: the same crop, variety, year, place and grower."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from sqlalchemy import Connection, func, select

from hilum.catalogue.folding import fold
from hilum.catalogue.names import find_variety
from hilum.catalogue.records import crop, lot, movement, person, place

BATCH = 500
LotKey = tuple[int, int | None, str, str]
# One list calls a person the grower, another the donor: for comparing rows either is where the seed came from.
donor = person.alias("donor")


@dataclass(frozen=True, slots=True)
class KnownLot:
    """What a lot was received with, to compare a row of a list with."""

    number: str
    amount: int | None
    unit: str
    received_on: date


def variety_ids(connection: Connection, wanted: Iterable[tuple[str, str]]) -> dict[tuple[str, str], int]:
    """Give the varieties that are known of pairs of crop key and variety name as written."""
    found: dict[tuple[str, str], int] = {}
    crops = {row.key: row.id for row in connection.execute(select(crop.c.key, crop.c.id))}
    for key, name in set(wanted):
        if key in crops and (known := find_variety(connection, crops[key], name)) is not None:
            found[key, name] = known
    return found


def known_lots(connection: Connection, of_varieties: Iterable[int]) -> dict[LotKey, list[KnownLot]]:
    """Give the lots of some varieties by variety, year, folded place, and folded grower or donor."""
    found: dict[LotKey, list[KnownLot]] = {}
    ids = tuple(of_varieties)
    for start in range(0, len(ids), BATCH):
        rows = connection.execute(
            select(
                lot.c.variety_id, lot.c.year, place.c.folded.label("place"),
                func.coalesce(person.c.folded, donor.c.folded, "").label("came_from"),
                lot.c.number, lot.c.unit, lot.c.received_on, movement.c.amount,
            )
            .outerjoin(place, place.c.id == lot.c.place_id).outerjoin(person, person.c.id == lot.c.grower_id)
            .outerjoin(donor, donor.c.id == lot.c.donor_id)
            .join(movement, (movement.c.lot_id == lot.c.id) & (movement.c.kind == "received"))
            .where(lot.c.variety_id.in_(ids[start : start + BATCH]), lot.c.withdrawn_on.is_(None))
        )  # fmt: skip
        for row in rows:
            key = (row.variety_id, row.year, row.place or "", row.came_from)
            found.setdefault(key, []).append(KnownLot(row.number, row.amount, row.unit, row.received_on))
    return found


def lot_key(variety: int, year: int | None, place_grown: str | None, came_from: str | None) -> LotKey:
    """Give the key under which `known_lots` files a row with those words."""
    return variety, year, fold(place_grown or ""), fold(came_from or "")
