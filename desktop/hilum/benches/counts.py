"""Counts from a swap day away from home: lot numbers and packets taken, typed or pasted back as one job."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from hilum.benches.counter import Occasion, event_of, give
from hilum.catalogue import handouts
from hilum.catalogue.find import resolve_lot
from hilum.catalogue.opening import Catalogue, Job
from hilum.errors import BadInput, KeeperError


@dataclass(frozen=True, slots=True)
class CountedRow:
    """One row of a counting list that was handed out."""

    row: int
    lot: str
    packets: int


@dataclass(frozen=True, slots=True)
class RefusedRow:
    """One row that was not handed out, and why."""

    row: int
    typed: str
    why: str


@dataclass(frozen=True, slots=True)
class CountsTaken:
    """What a counting list did, row by row; every filled row is in one of the two."""

    taken: tuple[CountedRow, ...]
    refused: tuple[RefusedRow, ...]


def take_counts(
    catalogue: Catalogue,
    rows: Sequence[tuple[str, str]],
    occasion: Occasion,
    *,
    on: date,
    again: bool = False,
    why: str = "",
) -> CountsTaken:
    """Hand out what a counting list says, as one job; rows are lot number and packets as typed.

    A row that cannot be right is refused with its reason and the others are kept. A lot that was already counted
    at this event, or earlier in this list, is refused unless `again`: the same list merged twice changes nothing.
    The last packets and the reserve want a reason here too.
    """
    if not occasion.name.strip():
        raise BadInput("Name the event the counts are from, so that the same list is not taken twice.")
    taken: list[CountedRow] = []
    refused: list[RefusedRow] = []
    with catalogue.job(f"take counts of {occasion.name}") as job:
        event = event_of(job, occasion, on)
        counted = _counted_before(job, event)
        for number, (typed, packets) in enumerate(rows, start=1):
            if not typed.strip() and not packets.strip():
                continue
            try:
                # A row that fails halfway leaves nothing of itself.
                with job.connection.begin_nested():
                    taken.append(_one_row(job, number, typed, packets, event, counted, on, again, why))
            except KeeperError as error:
                refused.append(RefusedRow(number, typed.strip(), str(error)))
    return CountsTaken(tuple(taken), tuple(refused))


def _counted_before(job: Job, event: int | None) -> dict[int, int]:
    counted: dict[int, int] = {}
    for line in handouts.lines(job.connection, in_event=event):
        if line.from_counts:
            counted[line.lot_id] = counted.get(line.lot_id, 0) + line.packets
    return counted


def _one_row(
    job: Job,
    number: int,
    typed: str,
    packets: str,
    event: int | None,
    counted: dict[int, int],
    on: date,
    again: bool,
    why: str,
) -> CountedRow:
    lot_id = resolve_lot(job.connection, typed)
    some = _whole(packets)
    if counted.get(lot_id) and not again:
        raise BadInput(
            f"{counted[lot_id]} packets of this lot were already counted at this event. "
            "If these are further ones, take the counts again as further packets."
        )
    given = give(job, lot_id, some, on=on, event_id=event, why=why, from_counts=True)
    counted[lot_id] = counted.get(lot_id, 0) + some
    return CountedRow(number, given.lot.number, some)


def _whole(packets: str) -> int:
    text = packets.strip()
    if not (text.isascii() and text.isdecimal()) or len(text) > 6 or int(text) < 1:
        raise BadInput(f"“{text[:20]}” is not a number of packets; type a whole number from 1.")
    return int(text)
