"""The ledger of packets: hand-outs are added, never changed; a batch's packets left are carried along."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from sqlalchemy import Connection, func, insert, select, update

from hilum.catalogue.counter_records import event, hand_out
from hilum.catalogue.history import add, note_hand_out
from hilum.catalogue.ledger import StockError
from hilum.catalogue.names import clean_name, compared
from hilum.catalogue.opening import Job
from hilum.catalogue.records import crop, lot, packet_batch, variety
from hilum.errors import BadInput


@dataclass(frozen=True, slots=True)
class Shelf:
    """The packets of one batch that are still on the shelf."""

    batch_id: int
    packed_on: date
    seeds_per_packet: int
    packets_left: int


@dataclass(frozen=True, slots=True)
class HandOutLine:
    """One line of the ledger of packets; `packets` is below nothing where it takes another line back."""

    id: int
    lot_id: int
    lot: str
    crop: str
    variety: str
    batch_id: int
    packed_on: date
    seeds_per_packet: int
    packets: int
    on: date
    event: str
    event_kind: str
    season: int
    to_id: int | None
    why: str
    takes_back_id: int | None
    from_counts: bool
    entered_at: datetime


@dataclass(frozen=True, slots=True)
class EventLine:
    """An occasion at which packets go out."""

    id: int
    name: str
    kind: str
    season: int


def shelf_of(connection: Connection, lot_id: int) -> tuple[Shelf, ...]:
    """Give a lot's batches that have packets left, the oldest first."""
    rows = connection.execute(
        select(
            packet_batch.c.id,
            packet_batch.c.packed_on,
            packet_batch.c.seeds_per_packet,
            packet_batch.c.packets_left,
        )
        .where(packet_batch.c.lot_id == lot_id)
        .where(packet_batch.c.packets_left > 0)
        .order_by(packet_batch.c.packed_on, packet_batch.c.id)
    )
    return tuple(Shelf(*row) for row in rows)


def packets_on_shelf(connection: Connection) -> dict[int, int]:
    """Give how many packets are on the shelf, by lot, of the lots that have any."""
    rows = connection.execute(
        select(packet_batch.c.lot_id, func.sum(packet_batch.c.packets_left))
        .where(packet_batch.c.packets_left > 0)
        .group_by(packet_batch.c.lot_id)
    )
    return {lot_id: int(left) for lot_id, left in rows}


def give(
    job: Job,
    batch_id: int,
    packets: int,
    *,
    on: date,
    event_id: int | None = None,
    to_id: int | None = None,
    why: str = "",
    takes_back_id: int | None = None,
    from_counts: bool = False,
    repeats: int | None = None,
) -> int:
    """Add one line and carry the batch's packets left along, in one guarded statement; gives the line's id.

    Refused where fewer packets are left. The lot's own stock is not touched: packing drew it already. `repeats` is
    the line that this one enters anew after it was taken back.
    """
    left = packet_batch.c.packets_left - packets
    moved = (
        update(packet_batch)
        .where(packet_batch.c.id == batch_id)
        .where(left.between(0, packet_batch.c.packets))
        .values(packets_left=left)
    )
    if job.run(moved).rowcount != 1:
        raise StockError("There are not as many packets left in that batch. Nothing was changed.")
    values = {
        "batch_id": batch_id,
        "packets": packets,
        "on_date": on,
        "event_id": event_id,
        "to_id": to_id,
        "person_id": job.person_id,
        "why": why,
        "takes_back_id": takes_back_id,
        "from_counts": from_counts,
        "entered_at": job.at,
    }
    line_id = int(job.run(insert(hand_out).values(**values).returning(hand_out.c.id)).scalar_one())
    note_hand_out(job, line_id, batch_id, repeats)
    return line_id


def take_back(job: Job, line_id: int, *, on: date, why: str) -> int:
    """Put the packets of one line back on the shelf by its opposite, pointing at it; gives the new line's id."""
    row = job.run(select(hand_out).where(hand_out.c.id == line_id)).one_or_none()
    if row is None:
        raise BadInput("That hand-out is not in the catalogue.")
    if row.takes_back_id is not None:
        raise BadInput("Taking back is not taken back again. Hand the packets out anew instead.")
    if is_taken_back(job, line_id):
        raise BadInput("That hand-out has already been taken back.")
    return give(
        job,
        row.batch_id,
        -row.packets,
        on=on,
        event_id=row.event_id,
        to_id=row.to_id,
        why=why,
        takes_back_id=line_id,
        from_counts=row.from_counts,
    )


def is_taken_back(job: Job, line_id: int) -> bool:
    """Say whether another line takes a line back."""
    return job.run(select(hand_out.c.id).where(hand_out.c.takes_back_id == line_id)).first() is not None


def repeat(job: Job, opposite_id: int) -> int:
    """Hand out anew what a line put back on the shelf, for the putting back was wrong; gives the new line's id."""
    first = hand_out.alias("first")
    row = job.run(
        select(first)
        .join(hand_out, hand_out.c.takes_back_id == first.c.id)
        .where(hand_out.c.id == opposite_id)
    ).one()
    return give(
        job, row.batch_id, row.packets, on=row.on_date, event_id=row.event_id, to_id=row.to_id, why=row.why,
        from_counts=row.from_counts, repeats=row.id,
    )  # fmt: skip


def event_id(job: Job, name: str, kind: str, season: int) -> int:
    """Give the event of that name in a season, made on the spot where new; its kind stays what it was."""
    name = clean_name(name, "event")
    found = job.run(
        select(event.c.id).where(event.c.folded == compared(name)).where(event.c.season == season)
    ).scalar()
    if found is not None:
        return int(found)
    return add(job, event, {"name": name, "folded": compared(name), "kind": kind, "season": season})


def events(connection: Connection) -> tuple[EventLine, ...]:
    """Give every event, the newest season first."""
    rows = connection.execute(
        select(event.c.id, event.c.name, event.c.kind, event.c.season).order_by(
            event.c.season.desc(), event.c.id.desc()
        )
    )
    return tuple(EventLine(*row) for row in rows)


def lines(
    connection: Connection,
    *,
    on: date | None = None,
    lot_ids: Iterable[int] | None = None,
    to_id: int | None = None,
    in_event: int | None = None,
) -> tuple[HandOutLine, ...]:
    """Give lines of the ledger of packets, newest first: of a day, of some lots, to a person, at an event."""
    statement = _lines()
    if on is not None:
        statement = statement.where(hand_out.c.on_date == on)
    if lot_ids is not None:
        statement = statement.where(packet_batch.c.lot_id.in_(tuple(lot_ids)))
    if to_id is not None:
        statement = statement.where(hand_out.c.to_id == to_id)
    if in_event is not None:
        statement = statement.where(hand_out.c.event_id == in_event)
    return tuple(_line(row) for row in connection.execute(statement.order_by(hand_out.c.id.desc())))


def taken_back_ids(connection: Connection) -> frozenset[int]:
    """Give the lines that another line has taken back."""
    found = select(hand_out.c.takes_back_id).where(hand_out.c.takes_back_id.is_not(None))
    return frozenset(connection.execute(found).scalars())


def packets_of(connection: Connection, line_ids: Iterable[int]) -> int:
    """Give the packets of some lines together."""
    found = select(func.coalesce(func.sum(hand_out.c.packets), 0)).where(hand_out.c.id.in_(tuple(line_ids)))
    return int(connection.execute(found).scalar_one())


def sums(connection: Connection) -> tuple[tuple[str, str, int | None, str, str, date, int, int], ...]:
    """Give what went out summed by crop, variety, season and kind and name of event and day, with its seeds."""
    rows = connection.execute(
        select(
            crop.c.name, variety.c.name, event.c.season, event.c.kind, event.c.name, hand_out.c.on_date,
            func.sum(hand_out.c.packets), func.sum(hand_out.c.packets * packet_batch.c.seeds_per_packet),
        )
        .select_from(_joined())
        .group_by(
            crop.c.name, variety.c.name, event.c.season, event.c.kind, event.c.name, hand_out.c.on_date
        )
    )  # fmt: skip
    return tuple((r[0], r[1], r[2], r[3] or "counter", r[4] or "", r[5], int(r[6]), int(r[7])) for r in rows)


def _joined() -> Any:
    return (
        hand_out.join(packet_batch, packet_batch.c.id == hand_out.c.batch_id)
        .join(lot, lot.c.id == packet_batch.c.lot_id)
        .join(variety, variety.c.id == lot.c.variety_id)
        .join(crop, crop.c.id == variety.c.crop_id)
        .outerjoin(event, event.c.id == hand_out.c.event_id)
    )


def _lines() -> Any:
    return select(
        hand_out, lot.c.id.label("lot_id"), lot.c.number, crop.c.name.label("crop"),
        variety.c.name.label("variety"), packet_batch.c.packed_on, packet_batch.c.seeds_per_packet,
        event.c.name.label("event"), event.c.kind.label("event_kind"), event.c.season,
    ).select_from(_joined())  # fmt: skip


def _line(row: Any) -> HandOutLine:
    return HandOutLine(
        id=row.id, lot_id=row.lot_id, lot=row.number, crop=row.crop, variety=row.variety, batch_id=row.batch_id,
        packed_on=row.packed_on, seeds_per_packet=row.seeds_per_packet, packets=row.packets, on=row.on_date,
        event=row.event or "", event_kind=row.event_kind or "counter", season=row.season or row.on_date.year,
        to_id=row.to_id, why=row.why, takes_back_id=row.takes_back_id, from_counts=row.from_counts,
        entered_at=row.entered_at,
    )  # fmt: skip
