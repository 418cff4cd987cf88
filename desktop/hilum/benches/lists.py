"""Printed lists of lots: what is due, or any search, on paper to work from at the shelf."""

from datetime import date

from hilum.benches.lots import LotFilter, find_lots
from hilum.catalogue.opening import Catalogue
from hilum.errors import BadInput
from hilum.exchange.printed_list import ListColumn, printed_list

COLUMNS = (
    ListColumn("Lot", 2.2), ListColumn("Crop and variety", 4.2), ListColumn("Year", 0.9), ListColumn("Stock", 1.6),
    ListColumn("Germination", 2.0), ListColumn("Next test, and why", 4.4),
)  # fmt: skip


def lots_on_paper(
    catalogue: Catalogue,
    wanted: LotFilter,
    *,
    on: date,
    sort: str | None = "due",
    descending: bool = False,
) -> bytes:
    """Give the PDF of a list of lots; refused where there is none to list."""
    found = find_lots(catalogue, wanted, on=on, sort=sort, descending=descending).lots
    if not found:
        raise BadInput("There is no lot to list. Widen the search.")
    rows = [
        (
            lot.number,
            f"{lot.line.crop} “{lot.line.variety}”",
            "?" if lot.line.year is None else str(lot.line.year),
            lot.stock_words,
            "not tested" if lot.line.germination_percent is None else f"{lot.line.germination_percent} %",
            f"{lot.line.due_bar or (lot.line.due_on.isoformat() if lot.line.due_on else 'none')}: {lot.line.due_why}",
        )
        for lot in found
    ]
    what = "Lots due for a germination test" if wanted.due else "Lots"
    below = f"{catalogue.settings().library_name}, {on.isoformat()}: {len(found)} lots"
    return printed_list(what, below, COLUMNS, rows)
