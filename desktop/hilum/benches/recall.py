"""Recall: everything that went out of one lot and of what was grown from it, and where it went."""

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from hilum.benches.counter import event_words
from hilum.catalogue import handouts, listing, promises
from hilum.catalogue.find import resolve_lot
from hilum.catalogue.opening import Catalogue
from hilum.catalogue.people import ERASED, person_names
from hilum.catalogue.related import descendants
from hilum.catalogue.steps import batches_of
from hilum.exchange.printed_list import ListColumn, printed_list
from hilum.exchange.writing import write_csv

HEADER = ("Lot", "Crop", "Variety", "Packed on", "Packets", "Handed out on", "Event", "To", "How it descends")
COLUMNS = (
    ListColumn("Lot", 2.2), ListColumn("Crop and variety", 3.6), ListColumn("Packed on", 1.6),
    ListColumn("Packets", 1.2), ListColumn("Out on", 1.6), ListColumn("Event", 2.6), ListColumn("To", 2.2),
    ListColumn("Told", 0.8),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class RecallRow:
    """Packets of one batch: still on the shelf (no `on`), or handed out on a day at an event to somebody."""

    lot: str
    crop: str
    variety: str
    generation: int
    packed_on: date
    packets: int
    on: date | None
    event: str
    event_kind: str
    to: str

    @property
    def where(self) -> str:
        """Where the packets are, in words."""
        return "on the shelf" if self.on is None else self.event

    @property
    def descent(self) -> str:
        """How the lot descends from the one recalled."""
        if self.generation == 0:
            return "the lot itself"
        return "grown from it" if self.generation == 1 else f"{self.generation} generations on"


@dataclass(frozen=True, slots=True)
class Recall:
    """What went out of a lot and its descendants, what is on the shelf, and who promised seed of it back."""

    lot: str
    name: str
    lots: tuple[str, ...]
    rows: tuple[RecallRow, ...]
    promised_by: tuple[str, ...]

    @property
    def packets_out(self) -> int:
        """Packets that are out."""
        return sum(row.packets for row in self.rows if row.on is not None)

    @property
    def packets_on_shelf(self) -> int:
        """Packets that are still here."""
        return sum(row.packets for row in self.rows if row.on is None)


def recall(catalogue: Catalogue, typed: str) -> Recall:
    """Gather where seed of a lot and of every lot grown from it went; what was taken back is left out."""
    with catalogue.look() as connection:
        lot_id = resolve_lot(connection, typed)
        generations = {lot_id: 0, **descendants(connection, lot_id)}
        known = person_names(connection)
        views = {each: listing.one_lot(connection, each) for each in generations}
        back = handouts.taken_back_ids(connection)
        rows = [
            RecallRow(
                line.lot, line.crop, line.variety, generations[line.lot_id], line.packed_on, line.packets, line.on,
                event_words(line.event, line.event_kind), line.event_kind, _person(known, line.to_id, line.event_kind),
            )
            for line in handouts.lines(connection, lot_ids=generations)
            if line.takes_back_id is None and line.id not in back
        ]  # fmt: skip
        for each, generation in generations.items():
            shown = views[each]
            rows += [
                RecallRow(
                    shown.number, shown.crop, shown.variety, generation, batch.packed_on, batch.packets_left,
                    None, "", "counter", "",
                )
                for batch in batches_of(connection, each)
                if batch.packets_left
            ]  # fmt: skip
        promised = tuple(
            dict.fromkeys(
                _person(known, line.from_id, line.event_kind) or "somebody unnamed"
                for line in promises.promises(connection)
                if line.lot_id in generations
            )
        )
    first = views[lot_id]
    rows.sort(key=lambda row: (row.generation, row.lot, row.on is None, row.on or date.min))
    return Recall(
        first.number,
        f"{first.crop} “{first.variety}”",
        tuple(views[each].number for each in generations),
        tuple(rows),
        promised,
    )


def _person(known: dict[int, str], who: int | None, kind: str) -> str:
    # Neither a child nor a school is named on what is printed or written out.
    return "" if who is None or kind == "school" else known.get(who, ERASED)


def recall_csv(found: Recall, file: Path) -> int:
    """Write a recall as CSV; gives the number of rows."""
    rows = [
        (
            row.lot, row.crop, row.variety, row.packed_on, row.packets, row.on, row.where, row.to, row.descent,
        )
        for row in found.rows
    ]  # fmt: skip
    return write_csv(file, HEADER, rows, overwrite=True)


def recall_on_paper(found: Recall, *, on: date) -> bytes:
    """Give a recall as a PDF with a box to tick for everybody who was told."""
    rows = [
        (
            row.lot, f"{row.crop} “{row.variety}”", row.packed_on.isoformat(), str(row.packets),
            "" if row.on is None else row.on.isoformat(), row.where, row.to, "" if row.on is None else "☐",
        )
        for row in found.rows
    ]  # fmt: skip
    below = (
        f"{on.isoformat()}: {len(found.lots)} lots, {found.packets_out} packets out, "
        f"{found.packets_on_shelf} on the shelf"
    )
    return printed_list(f"Recall of lot {found.lot}, {found.name}", below, COLUMNS, rows)
