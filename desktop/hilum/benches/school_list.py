"""The list for schools: lots with packets that are fit for children, and how many were left out and why."""

from collections import Counter
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from hilum.benches.views import LotView, view
from hilum.catalogue import handouts, listing, steps
from hilum.catalogue.listing import LotFilter
from hilum.catalogue.opening import Catalogue
from hilum.catalogue.settings import read_settings
from hilum.exchange.printed_list import ListColumn, printed_list
from hilum.exchange.writing import write_csv

COLUMNS = (
    ListColumn("Lot", 2.2), ListColumn("Crop and variety", 5.0), ListColumn("Year", 1.0),
    ListColumn("Packets", 1.4), ListColumn("Taken", 3.2),
)  # fmt: skip
# One box for each packet on the list that goes along; more are counted by strokes beside them.
_MOST_BOXES = 12
CAUTION = "Seed is for sowing, not for eating. Check with your local authority what may be given to schools."


@dataclass(frozen=True, slots=True)
class PacketLine:
    """A lot with packets on the shelf."""

    lot: LotView
    packets_left: int

    @property
    def number(self) -> str:
        """The lot number."""
        return self.lot.number


@dataclass(frozen=True, slots=True)
class SchoolList:
    """Lots fit for schools, and how many were left out for each reason."""

    lots: tuple[PacketLine, ...]
    left_out: tuple[tuple[str, int], ...]

    @property
    def left_out_words(self) -> str:
        """Say how many were left out and why."""
        parts = [f"{count} {why}" for why, count in self.left_out]
        return f"Left out: {', '.join(parts)}." if parts else "Nothing was left out."


def take_away_list(catalogue: Catalogue, *, on: date) -> tuple[PacketLine, ...]:
    """Give every lot that may be handed out and has packets on the shelf, by crop and variety."""
    with catalogue.look() as connection:
        return tuple(line for line, why in _on_shelf(connection, on) if not why)


def school_list(catalogue: Catalogue, *, on: date) -> SchoolList:
    """Give the lots with packets that are fit for schools and children.

    Left out is what the crop table calls poisonous or unfit for children (hot seed among it), crops the table does
    not know, treated seed, other holds, and unknown identities.
    """
    fit: list[PacketLine] = []
    why_not: Counter[str] = Counter()
    with catalogue.look() as connection:
        for line, barred in _on_shelf(connection, on):
            why = _unfit(line.lot) or barred
            if why:
                why_not[why] += 1
            else:
                fit.append(line)
    return SchoolList(tuple(fit), tuple(sorted(why_not.items())))


def _on_shelf(connection: Any, on: date) -> list[tuple[PacketLine, str]]:
    settings = read_settings(connection)
    packets = handouts.packets_on_shelf(connection)
    held = steps.holds_in_force(connection)
    lines, _ = listing.list_lots(connection, LotFilter(), on=on, sort="crop")
    found = []
    for line in lines:
        if packets.get(line.id):
            marks = held.get(line.id, ())
            why = "treated" if "treated seed" in marks else "on hold" if marks else ""
            if line.identity == "unknown":
                why = why or "of unknown identity"
            found.append((PacketLine(view(line, settings), packets[line.id]), why))
    return found


def _unfit(shown: LotView) -> str:
    if shown.line.treatment:
        # Also where its hold was lifted: what may be packed is not for children yet.
        return "treated"
    reference = shown.reference
    if reference is None:
        return "of a crop the program does not know"
    if reference.poisonous:
        return "poisonous"
    if reference.unfit_for_children:
        return f"unfit for children ({reference.unfit_why})" if reference.unfit_why else "unfit for children"
    return ""


def on_paper(title: str, library: str, lines: tuple[PacketLine, ...], *, on: date, words: str = "") -> bytes:
    """Give a list of lots with packets as a PDF, each with boxes to tick for what was taken."""
    rows = [
        (
            line.number, f"{line.lot.line.crop} “{line.lot.line.variety}”", str(line.lot.line.year or "?"),
            str(line.packets_left), "☐" * min(line.packets_left, _MOST_BOXES),
        )
        for line in lines
    ]  # fmt: skip
    below = f"{library}, {on.isoformat()}: {len(lines)} lots. {words}".strip()
    return printed_list(title, below, COLUMNS, rows)


def as_csv(lines: tuple[PacketLine, ...], file: Path) -> int:
    """Write a list of lots with packets as CSV; gives the number of rows."""
    header = ("Lot", "Crop", "Variety", "Year", "Packets", "Taken")
    rows = [
        (line.number, line.lot.line.crop, line.lot.line.variety, line.lot.line.year, line.packets_left, None)
        for line in lines
    ]
    return write_csv(file, header, rows, overwrite=True)
