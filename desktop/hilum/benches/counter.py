"""Counter bench: packets handed out scan by scan, each written at once, and taken back by their opposite."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from hilum.benches.lots import refuse_if_held
from hilum.benches.views import LotView, view
from hilum.catalogue import handouts, listing, loose, names
from hilum.catalogue.amounts import shown_amount
from hilum.catalogue.counter_records import EVENT_KINDS
from hilum.catalogue.find import resolve_lot
from hilum.catalogue.handouts import EventLine, HandOutLine
from hilum.catalogue.loose import LooseLine
from hilum.catalogue.opening import Catalogue, Job
from hilum.catalogue.people import person_names
from hilum.catalogue.records import person
from hilum.catalogue.treated import treatment_words
from hilum.errors import BadInput
from hilum.exchange.writing import write_csv

__all__ = [
    "EVENT_KINDS", "MOST_PACKETS", "EventLine", "Given", "HandOutLine", "Occasion", "OutToday", "ReasonWanted",
    "WentOut", "event_words", "events", "hand_out", "out_today", "packets_left", "people_like", "take_back", "went_out",
    "went_out_csv",
]  # fmt: skip

MOST_PACKETS = 1_000


class ReasonWanted(BadInput):
    """The hand-out takes the last packets or goes into the reserve: it wants a reason, then it is done."""


@dataclass(frozen=True, slots=True)
class Occasion:
    """At which event packets go out, of what kind and season; without a name it is the plain counter."""

    name: str = ""
    kind: str = "counter"
    season: int | None = None

    def __post_init__(self) -> None:
        """Refuse a kind that is not known."""
        if self.kind not in EVENT_KINDS:
            raise BadInput(f"An event is one of: {', '.join(EVENT_KINDS)}; not {self.kind!r}.")


@dataclass(frozen=True, slots=True)
class Given:
    """What one scan did: the lines it wrote, and what is left of the lot in packets."""

    lines: tuple[int, ...]
    lot: LotView
    packets: int
    packets_left: int
    caution: str


def hand_out(
    catalogue: Catalogue,
    typed: str,
    *,
    on: date,
    packets: int = 1,
    occasion: Occasion = Occasion(),
    to: str = "",
    why: str = "",
) -> Given:
    """Hand out packets of a lot, from its oldest batch first, by its number as typed or scanned.

    Each call is one transaction: what was scanned is kept when the power fails. Refused for a lot on hold or of
    unknown identity and where too few packets are left. Raises ReasonWanted, writing nothing, where the last
    packets or the reserve would go and `why` is empty.
    """
    with catalogue.job(f"hand out {typed}") as job:
        lot_id = resolve_lot(job.connection, typed)
        event = event_of(job, occasion, on)
        to_id = names.person_id(job, to) if to.strip() else None
        return give(job, lot_id, packets, on=on, event_id=event, to_id=to_id, why=why)


def event_of(job: Job, occasion: Occasion, on: date) -> int | None:
    """Give the event of an occasion, made on the spot where new; None for the plain counter."""
    if not occasion.name.strip() and occasion.kind == "counter":
        return None
    season = on.year if occasion.season is None else occasion.season
    return handouts.event_id(job, occasion.name.strip() or occasion.kind, occasion.kind, season)


def give(
    job: Job,
    lot_id: int,
    packets: int,
    *,
    on: date,
    event_id: int | None,
    to_id: int | None = None,
    why: str = "",
    from_counts: bool = False,
) -> Given:
    """Hand out packets of one lot inside a job, with every guard; see `hand_out`."""
    if not 1 <= packets <= MOST_PACKETS:
        raise BadInput(f"Packets go from 1 to {MOST_PACKETS} at a time.")
    shown = view(listing.one_lot(job.connection, lot_id), job.settings)
    refuse_at_counter(job.connection, lot_id, shown)
    shelf = handouts.shelf_of(job.connection, lot_id)
    left = sum(batch.packets_left for batch in shelf)
    if left < packets:
        raise BadInput(
            f"Lot {shown.number} ({shown.name}) has "
            f"{'no packets' if not left else f'only {left} packets'} left. Nothing was handed out."
        )
    if not why.strip():
        _refuse_without_reason(shown, shelf, packets)
    written, wanted = [], packets
    for batch in shelf:
        some = min(wanted, batch.packets_left)
        if some:
            written.append(
                handouts.give(
                    job, batch.batch_id, some, on=on, event_id=event_id, to_id=to_id, why=why.strip(),
                    from_counts=from_counts,
                )
            )  # fmt: skip
        wanted -= some
    return Given(tuple(written), shown, packets, left - packets, caution_of(shown))


def refuse_at_counter(connection: Any, lot_id: int, shown: LotView) -> None:
    """Refuse to hand out seed of a lot on hold, or of one that nobody can put a name to."""
    refuse_if_held(connection, lot_id, shown)
    if shown.line.identity == "unknown":
        raise BadInput(
            f"The identity of lot {shown.number} is unknown; it is not handed out as “{shown.line.variety}”."
        )


def caution_of(shown: LotView) -> str:
    """Give what is said where the packets are handed over: treated, poisonous, of doubtful right."""
    reference, line = shown.reference, shown.line
    said = [treatment_words(line.treatment)]
    if reference is not None and reference.poisonous:
        said.append(reference.label_caution or "")
    if line.rights_notice:
        said.append(f"Rights notice: {line.rights_notice}.")
    return " ".join(each for each in said if each)


def _refuse_without_reason(shown: LotView, shelf: tuple[handouts.Shelf, ...], packets: int) -> None:
    """Ask for a reason before the last packets go, or seed that the reserve needs."""
    left = sum(batch.packets_left for batch in shelf)
    if left == packets:
        raise ReasonWanted(
            f"{'This is the last packet' if packets == 1 else 'These are the last packets'} of lot "
            f"{shown.number} ({shown.name}). Give a reason to hand out nevertheless."
        )
    in_packets, wanted = 0, packets
    for batch in shelf:
        some = min(wanted, batch.packets_left)
        wanted -= some
        in_packets += (batch.packets_left - some) * batch.seeds_per_packet
    remaining = in_packets + (shown.stock_seeds or 0)
    if remaining < shown.reserve_seeds:
        raise ReasonWanted(
            f"Lot {shown.number} ({shown.name}) would keep about {remaining} seeds, loose and in packets; its "
            f"reserve is {shown.reserve_seeds}. Give a reason to hand out nevertheless."
        )


def take_back(catalogue: Catalogue, lines: tuple[int, ...], *, on: date, why: str = "a wrong scan") -> int:
    """Put the packets of one hand-out back on the shelf; gives how many packets that were."""
    with catalogue.job("take back a hand-out") as job:
        for line in lines:
            handouts.take_back(job, line, on=on, why=why)
        return handouts.packets_of(job.connection, lines)


@dataclass(frozen=True, slots=True)
class OutToday:
    """One hand-out of a day, with the name of who got it, and whether it was taken back since."""

    line: HandOutLine | LooseLine
    to: str
    taken_back: bool

    @property
    def id(self) -> tuple[bool, int]:
        """Whether it is loose seed, and the id of its line or movement."""
        return self.is_loose, self.line.id

    @property
    def is_loose(self) -> bool:
        """Whether loose seed went rather than packets."""
        return isinstance(self.line, LooseLine)

    @property
    def packets(self) -> int:
        """Packets that went; none where it was loose seed."""
        return 0 if isinstance(self.line, LooseLine) else self.line.packets

    @property
    def amount(self) -> str:
        """How much went, as it is shown."""
        return self.line.words if isinstance(self.line, LooseLine) else str(self.line.packets)


def out_today(catalogue: Catalogue, *, on: date) -> tuple[OutToday, ...]:
    """Give a day's hand-outs, newest first; lines that only take another back are not shown themselves."""
    with catalogue.look() as connection:
        back = handouts.taken_back_ids(connection)
        known = person_names(connection)
        packets = [
            OutToday(line, _told(known, line), line.id in back)
            for line in handouts.lines(connection, on=on)
            if line.takes_back_id is None
        ]
        seed = [
            OutToday(line, _told(known, line), line.taken_back) for line in loose.lines(connection, on=on)
        ]
    return tuple(sorted([*packets, *seed], key=lambda row: row.line.entered_at, reverse=True))


def _told(known: Mapping[int, str], line: HandOutLine | LooseLine) -> str:
    # Rows can be copied out of the window, and no child is named on what goes out.
    return "" if line.event_kind == "school" else known.get(line.to_id or 0, "")


def events(catalogue: Catalogue) -> tuple[EventLine, ...]:
    """Give every event, newest first; no school in the visitors' view."""
    with catalogue.look() as connection:
        found = handouts.events(connection)
    return tuple(each for each in found if each.kind != "school" or not catalogue.hides_people)


def people_like(catalogue: Catalogue, typed: str, *, limit: int = 8) -> tuple[str, ...]:
    """Give names of people that hold what was typed; none in the visitors' view."""
    with catalogue.look() as connection:
        return names.names_like(connection, person, typed, limit)


@dataclass(frozen=True, slots=True)
class WentOut:
    """Packets of one variety that went out in one season at one event; a school is never named."""

    crop: str
    variety: str
    season: int
    kind: str
    event: str
    packets: int
    seeds: int
    # Loose seed besides, in the unit each lot is booked in.
    loose_mg: int = 0
    loose_seeds: int = 0

    @property
    def loose_words(self) -> str:
        """The loose seed as it is shown; empty where none went."""
        both = ((self.loose_mg, "mg"), (self.loose_seeds, "seeds"))
        return " and ".join(shown_amount(amount, unit) for amount, unit in both if amount)


def went_out(catalogue: Catalogue, *, season: int | None = None) -> tuple[WentOut, ...]:
    """Give what went out by variety, season and event, of every season or of one; what came back is left out."""
    summed: dict[tuple[str, str, int, str, str], list[int]] = {}
    with catalogue.look() as connection:
        for crop, variety, in_season, kind, event, on, packets, seeds in handouts.sums(connection):
            of = on.year if in_season is None else in_season
            key = (crop, variety, of, kind, event_words(event, kind))
            so_far = summed.setdefault(key, [0, 0, 0, 0])
            so_far[0] += packets
            so_far[1] += seeds
        for line in loose.lines(connection):
            if not line.taken_back:
                key = (
                    line.crop,
                    line.variety,
                    line.season,
                    line.event_kind,
                    event_words(line.event, line.event_kind),
                )
                summed.setdefault(key, [0, 0, 0, 0])[2 if line.unit == "mg" else 3] += line.amount
    return tuple(
        WentOut(*key, *sums)
        for key, sums in sorted(summed.items())
        if (sums[0] or sums[2] or sums[3]) and season in (None, key[2])
    )


def event_words(event: str, kind: str) -> str:
    """Give the event as it may be shown and printed: a school only as a school."""
    return "a school" if kind == "school" else event or "at the counter"


def packets_left(catalogue: Catalogue, typed: str) -> int:
    """Give how many packets of a lot are on the shelf."""
    with catalogue.look() as connection:
        lot_id = resolve_lot(connection, typed)
        return sum(batch.packets_left for batch in handouts.shelf_of(connection, lot_id))


def went_out_csv(rows: tuple[WentOut, ...], file: Path) -> int:
    """Write what went out as CSV in which no cell can run as a formula; gives the number of rows."""
    header = (
        "Crop",
        "Variety",
        "Season",
        "Kind of event",
        "Event",
        "Packets",
        "Seeds, as packed",
        "Loose (g)",
        "Loose (seeds)",
    )
    cells = [
        (
            each.crop,
            each.variety,
            each.season,
            each.kind,
            each.event,
            each.packets,
            each.seeds,
            each.loose_mg / 1000 or None,
            each.loose_seeds or None,
        )
        for each in rows
    ]
    return write_csv(file, header, cells, overwrite=True)
