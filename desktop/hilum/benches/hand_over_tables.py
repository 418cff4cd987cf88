"""The tables of the pack for the next keeper: a line a lot, in words that intake reads again."""

from datetime import date

from hilum.benches.views import LotView
from hilum.catalogue.written import Written
from hilum.exchange.passport import Passport

HEADINGS = (
    "Lot", "Crop", "Botanical name", "Variety", "Year", "Place grown", "Grower", "Received", "Weight (g)",
    "Number of seeds", "Plants", "Isolation", "Identity", "Treatment", "F1", "Rights notice", "Supplier's batch",
    "Germination %", "Tested on", "Next test", "State", "Notes", "Growing notes",
)  # fmt: skip
Cell = str | int | float | date | None


def lot_row(lot: LotView, written: Written) -> tuple[Cell, ...]:
    """Give one line of the table; what is not known is empty, and only the figure that is booked is given."""
    line = lot.line
    # Intake asks for the word where a year is not known.
    year = "unknown" if line.year is None else line.year
    grams = None if line.unit != "mg" or line.stock is None else line.stock / 1000
    return (
        line.number, line.crop, line.botanical_name, line.variety, year, line.place_grown, written.grower,
        lot.received_words, grams, line.stock if line.unit == "seeds" else None, written.plants, written.isolation,
        line.identity, line.treatment, "yes" if line.is_f1 else "", line.rights_notice, line.supplier_batch,
        line.germination_percent, line.tested_on, line.due_on, line.state, written.notes,
        line.growing_notes,
    )  # fmt: skip


def passport_of(lot: LotView, written: Written, library: str) -> Passport:
    """Give what passport data tells of one lot."""
    line = lot.line
    return Passport(
        lot=line.number,
        botanical_name=line.botanical_name,
        crop=line.crop,
        names=(line.variety,),
        received_on=line.received_on,
        received_precision=line.received_precision,
        donor=written.grower or "",
        library=library,
        year=line.year,
        place_grown=line.place_grown or "",
    )
