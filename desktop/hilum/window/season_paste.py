"""What was pasted onto the season's list from a spreadsheet, understood as figures of lots."""

import re
from collections.abc import Sequence

from hilum.benches.season import PlannedRow, WantedFigures
from hilum.errors import BadInput

SEEDS, PACKETS = "seeds each", "packets"
# Letters and the year of a lot number as typed or copied.
_NUMBER_LIKE = re.compile(r"'?[A-Za-z]{3}[\s-]?\d{2}")


def understood(text: str, rows: Sequence[PlannedRow], row: int, column: int) -> tuple[WantedFigures, ...]:
    """Give the figures that pasted text means, lot by lot.

    Lines that begin with lot numbers speak for those lots, on the list or not: with the headings of this table, or
    with one figure (packets) or two (seeds each, packets) behind the number. Figures alone go into the rows from the
    cursor down, beginning in its column (2 is seeds each, 3 is packets).
    """
    lines = [line.split("\t") for line in text.splitlines() if line.strip()]
    if not lines:
        raise BadInput("There is nothing to paste. Copy cells in a spreadsheet first.")
    headings = [cell.strip().casefold() for cell in lines[0]]
    if "lot" in headings:
        return tuple(_by_heading(headings, cells) for cells in lines[1:])
    if _NUMBER_LIKE.match(lines[0][0].strip()):
        return tuple(_by_lot(cells) for cells in lines)
    return tuple(_at_cursor(lines, rows, row, column))


def _by_heading(headings: Sequence[str], cells: Sequence[str]) -> WantedFigures:
    named = dict(zip(headings, cells, strict=False))
    return WantedFigures(_lot(named["lot"]), _figure(named.get(SEEDS, "")), _figure(named.get(PACKETS, "")))


def _by_lot(cells: Sequence[str]) -> WantedFigures:
    figures = [_figure(cell) for cell in cells[1:] if _is_figure(cell)]
    if len(figures) > 2:
        raise BadInput(
            f"{_lot(cells[0])} comes with {len(figures)} figures. Paste the lot number, then packets, or seeds each "
            "and packets; or paste with the headings of this table."
        )
    packets = figures[-1] if figures else None
    return WantedFigures(_lot(cells[0]), figures[0] if len(figures) == 2 else None, packets)


def _at_cursor(
    lines: Sequence[Sequence[str]], rows: Sequence[PlannedRow], row: int, column: int
) -> Sequence[WantedFigures]:
    if row < 0 or column not in (2, 3):
        raise BadInput("Put the cursor into “Seeds each” or “Packets” to paste figures there.")
    if row + len(lines) > len(rows):
        raise BadInput(
            f"{len(lines)} lines do not fit from the cursor down: {len(rows) - row} lots are there."
        )
    found = []
    for line, here in zip(lines, rows[row:], strict=False):
        if len(line) > 4 - column:
            raise BadInput("More columns were pasted than there are from the cursor to “Packets”.")
        figures = dict(enumerate((_figure(cell) for cell in line), start=column))
        found.append(WantedFigures(here.number, figures.get(2), figures.get(3)))
    return found


def _lot(cell: str) -> str:
    return cell.strip().removeprefix("'")


def _is_figure(cell: str) -> bool:
    digits = cell.strip().replace(",", "").replace(" ", "")
    return digits.isascii() and digits.isdigit()


def _figure(cell: str) -> int | None:
    """Read a figure as it is copied from this table or a spreadsheet; an empty cell is none."""
    words = cell.strip().removesuffix(" germ.")
    if not words:
        return None
    if not _is_figure(words) or len(words) > 9:
        raise BadInput(f"“{cell.strip()}” is no whole number. Nothing was pasted.")
    return int(words.replace(",", "").replace(" ", ""))
