"""How many labels of each lot: as many as packets were filled, or as a column of a list says."""

from collections.abc import Sequence
from pathlib import Path

from hilum.catalogue import listing, steps
from hilum.catalogue.find import resolve_lot
from hilum.catalogue.opening import Catalogue
from hilum.errors import BadInput
from hilum.exchange.tables import Table, read_table
from hilum.exchange.words import folded

# Headings that are taken for the lot and for the number of labels without being told.
_LOT_HEADINGS = ("lot", "lot number", "lot no", "number")
_COPY_HEADINGS = ("labels", "copies", "packets", "number of labels", "number of packets")
_MOST_COPIES = 10_000


def copies_as_packed(catalogue: Catalogue, numbers: Sequence[str]) -> dict[str, int]:
    """Give for each lot the packets of its newest batch; 0 for a lot that was never packed."""
    found = {}
    with catalogue.look() as connection:
        for typed in numbers:
            lot_id = resolve_lot(connection, typed)
            batches = steps.batches_of(connection, lot_id)
            found[listing.one_lot(connection, lot_id).number] = batches[-1].packets if batches else 0
    return found


def copies_from_list(catalogue: Catalogue, file: Path, column: str = "") -> dict[str, int]:
    """Read lots and numbers of labels from a CSV or XLSX list; a lot on several rows has the sum of them.

    Refused, naming the row, where a lot is not known or a number cannot be meant; an empty number is none.
    """
    table = read_table(file)
    lot_at = _column(table, "", _LOT_HEADINGS, "the lots")
    copies_at = _column(table, column, _COPY_HEADINGS, "how many labels")
    found: dict[str, int] = {}
    with catalogue.look() as connection:
        for row in table.rows:
            typed, count = row.cells[lot_at].strip(), row.cells[copies_at].strip()
            if not typed and not count:
                continue
            where = f"{file.name}, row {row.number}"
            try:
                number = listing.one_lot(connection, resolve_lot(connection, typed)).number
            except BadInput as fault:
                raise BadInput(f"{where}: {fault}") from fault
            found[number] = found.get(number, 0) + _count(count, where, table.header[copies_at])
    if not any(found.values()):
        raise BadInput(
            f"{file.name} asks for no labels: every number under “{table.header[copies_at]}” is 0."
        )
    return found


def _column(table: Table, wanted: str, usual: tuple[str, ...], what: str) -> int:
    headings = [folded(heading) for heading in table.header]
    for name in (wanted,) if wanted.strip() else usual:
        if folded(name) in headings:
            return headings.index(folded(name))
    there = ", ".join(f"“{heading}”" for heading in table.header)
    asked = f"a heading “{wanted}”" if wanted.strip() else f"a heading such as “{usual[0]}” for {what}"
    raise BadInput(f"The list has no {asked.removeprefix('a ')}; its headings are {there}.")


def _count(text: str, where: str, heading: str) -> int:
    # A workbook gives whole numbers as “12” or “12.0”.
    whole = text.removesuffix(".0")
    if not whole:
        return 0
    if not whole.isdecimal() or int(whole) > _MOST_COPIES:
        raise BadInput(
            f"{where}: “{text}” under “{heading}” is no number of labels; give a whole number up to {_MOST_COPIES}."
        )
    return int(whole)
