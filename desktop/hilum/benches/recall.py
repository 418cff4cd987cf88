"""Recall: everything that went out of one lot and of what was grown from it, and where it went."""

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from hilum.benches.counter import event_words
from hilum.catalogue import handouts, listing, loose, promises
from hilum.catalogue.amounts import shown_amount
from hilum.catalogue.find import resolve_lot
from hilum.catalogue.opening import Catalogue
from hilum.catalogue.people import ERASED, person_names
from hilum.catalogue.related import descendants, made_as
from hilum.catalogue.steps import batches_of
from hilum.exchange.printed_list import ListColumn, printed_list
from hilum.exchange.writing import write_csv

HEADER = ("Lot", "Crop", "Variety", "Packed on", "Packets", "Loose seed", "Handed out on", "Event", "To",
          "How it descends")  # fmt: skip
COLUMNS = (
    ListColumn("Lot", 2.2), ListColumn("Crop and variety", 3.0), ListColumn("Packed on", 1.8),
    ListColumn("How much", 2.6), ListColumn("Out on", 1.8), ListColumn("Event", 2.3), ListColumn("To", 1.9),
    ListColumn("Told", 0.9),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class RecallRow:
    """Packets of one batch or loose seed: still here (no `on`), or handed out on a day at an event to somebody.

    Packets have the day they were packed; loose seed has its amount in words and no packets.
    """

    lot: str
    crop: str
    variety: str
    generation: int
    packed_on: date | None
    packets: int
    on: date | None
    event: str
    event_kind: str
    to: str
    loose: str = ""
    # How the lot was made of others, bulked or mixed; empty for a lot that was grown.
    made_as: str = ""

    @property
    def amount(self) -> str:
        """How much it is, as it is shown."""
        return self.loose or ("1 packet" if self.packets == 1 else f"{self.packets} packets")

    @property
    def packed_words(self) -> str:
        """The day they were packed; empty for loose seed."""
        return "" if self.packed_on is None else self.packed_on.isoformat()

    @property
    def on_words(self) -> str:
        """The day they went out; empty for what is here."""
        return "" if self.on is None else self.on.isoformat()

    @property
    def where(self) -> str:
        """Where the packets are, in words."""
        if self.on is not None:
            return self.event
        return "in the store" if self.loose else "on the shelf"

    @property
    def descent(self) -> str:
        """How the lot descends from the one recalled."""
        if self.generation == 0:
            return "the lot itself"
        if self.made_as:
            words = f"{self.made_as} with seed of it"
            return words if self.generation == 1 else f"{words}, {self.generation} steps on"
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
    def loose_out(self) -> int:
        """How often loose seed went out."""
        return sum(1 for row in self.rows if row.on is not None and row.loose)

    @property
    def out_words(self) -> str:
        """What is out and what is on the shelf, in words."""
        loose = "once" if self.loose_out == 1 else f"{self.loose_out} times"
        besides = f"; loose seed went out {loose}" if self.loose_out else ""
        packets = "1 packet" if self.packets_out == 1 else f"{self.packets_out} packets"
        return f"{packets} out, {self.packets_on_shelf} on the shelf{besides}"

    @property
    def packets_on_shelf(self) -> int:
        """Packets that are still here."""
        return sum(row.packets for row in self.rows if row.on is None)


def recall(catalogue: Catalogue, typed: str) -> Recall:
    """Gather where seed of a lot, and of every lot grown, bulked or mixed from it, went; not what was taken back."""
    with catalogue.look() as connection:
        lot_id = resolve_lot(connection, typed)
        generations = {lot_id: 0, **descendants(connection, lot_id)}
        known, made = person_names(connection), made_as(connection, generations)
        views = {each: listing.one_lot(connection, each) for each in generations}
        back = handouts.taken_back_ids(connection)
        rows = [
            RecallRow(
                line.lot, line.crop, line.variety, generations[line.lot_id], line.packed_on, line.packets, line.on,
                event_words(line.event, line.event_kind), line.event_kind, _person(known, line.to_id, line.event_kind),
                made_as=made[line.lot_id],
            )
            for line in handouts.lines(connection, lot_ids=generations)
            if line.takes_back_id is None and line.id not in back
        ]  # fmt: skip
        rows += [
            RecallRow(
                line.lot, line.crop, line.variety, generations[line.lot_id], None, 0, line.on,
                event_words(line.event, line.event_kind), line.event_kind, _person(known, line.to_id, line.event_kind),
                line.words, made[line.lot_id],
            )
            for line in loose.lines(connection, lot_ids=generations)
            if not line.taken_back
        ]  # fmt: skip
        for each, generation in generations.items():
            shown = views[each]
            rows += [
                RecallRow(
                    shown.number, shown.crop, shown.variety, generation, batch.packed_on, batch.packets_left,
                    None, "", "counter", "", made_as=made[each],
                )
                for batch in batches_of(connection, each)
                if batch.packets_left
            ]  # fmt: skip
            if shown.stock:
                rows.append(
                    RecallRow(
                        shown.number, shown.crop, shown.variety, generation, None, 0, None, "", "counter", "",
                        f"{shown_amount(shown.stock, shown.unit)} loose", made[each],
                    )
                )  # fmt: skip
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
            row.lot, row.crop, row.variety, row.packed_on, row.packets or None, row.loose or None, row.on,
            row.where, row.to, row.descent,
        )
        for row in found.rows
    ]  # fmt: skip
    return write_csv(file, HEADER, rows, overwrite=True)


def recall_on_paper(found: Recall, *, on: date) -> bytes:
    """Give a recall as a PDF with a box to tick for everybody who was told."""
    rows = [
        (
            row.lot, f"{row.crop} “{row.variety}”", row.packed_words, row.amount, row.on_words, row.where, row.to,
            "" if row.on is None else "☐",
        )
        for row in found.rows
    ]  # fmt: skip
    below = f"{on.isoformat()}: {len(found.lots)} lots, {found.out_words}"
    return printed_list(f"Recall of lot {found.lot}, {found.name}", below, COLUMNS, rows)
