"""The sheet of the intake grid: plain rows of text that can be undone; the last row is always empty."""

import csv
import io
from collections.abc import Iterable, Mapping, Sequence

Row = tuple[str, ...]
# Enough to take back a whole evening's typing.
DEEPEST_UNDO = 200


class Sheet:
    """Rows of cells with undo and redo; every change is one step."""

    def __init__(self, width: int) -> None:
        self.width = width
        self._rows: tuple[Row, ...] = (self._empty(),)
        self._before: list[tuple[Row, ...]] = []
        self._after: list[tuple[Row, ...]] = []

    @property
    def rows(self) -> tuple[Row, ...]:
        """Every row, the empty last one too."""
        return self._rows

    @property
    def told(self) -> tuple[int, ...]:
        """The places of the rows that say something."""
        return tuple(place for place, row in enumerate(self._rows) if says_something(row))

    def write(self, cells: Mapping[tuple[int, int], str]) -> bool:
        """Write some cells by row and column; says whether anything changed."""
        rows = [list(row) for row in self._rows]
        for (row, column), text in cells.items():
            while row >= len(rows):
                rows.append(list(self._empty()))
            if column < self.width:
                rows[row][column] = text
        return self._step(tuple(tuple(row) for row in rows))

    def paste(self, row: int, column: int, block: Sequence[Sequence[str]]) -> bool:
        """Write a block of cells with its upper left corner at a cell."""
        return self.write(
            {
                (row + down, column + right): text
                for down, line in enumerate(block)
                for right, text in enumerate(line)
            }
        )

    def copy_above(self, cells: Iterable[tuple[int, int]]) -> bool:
        """Give each of some cells what stands above the topmost of them in its column."""
        wanted = sorted(cells)
        top: dict[int, int] = {}
        for row, column in wanted:
            top.setdefault(column, row)
        return self.write(
            {
                (row, column): self._rows[top[column] - 1][column]
                for row, column in wanted
                if top[column] > 0 and row < len(self._rows)
            }
        )

    def remove(self, places: Iterable[int]) -> bool:
        """Take whole rows out."""
        gone = set(places)
        return self._step(tuple(row for place, row in enumerate(self._rows) if place not in gone))

    def forget(self, places: Iterable[int]) -> None:
        """Take rows out for good: they have become lots, and undo must not bring them back."""
        gone = set(places)
        self._rows = self._ended(row for place, row in enumerate(self._rows) if place not in gone)
        self._before.clear()
        self._after.clear()

    def undo(self) -> bool:
        """Take back the last step."""
        return self._go(self._before, self._after)

    def redo(self) -> bool:
        """Do again what was taken back."""
        return self._go(self._after, self._before)

    def _go(self, source: list[tuple[Row, ...]], target: list[tuple[Row, ...]]) -> bool:
        if not source:
            return False
        target.append(self._rows)
        self._rows = source.pop()
        return True

    def _step(self, rows: tuple[Row, ...]) -> bool:
        rows = self._ended(rows)
        if rows == self._rows:
            return False
        self._before.append(self._rows)
        del self._before[:-DEEPEST_UNDO]
        self._after.clear()
        self._rows = rows
        return True

    def _ended(self, rows: Iterable[Row]) -> tuple[Row, ...]:
        """End the sheet with exactly one empty row."""
        kept = list(rows)
        while kept and not says_something(kept[-1]):
            kept.pop()
        return (*kept, self._empty())

    def _empty(self) -> Row:
        return ("",) * self.width


def says_something(row: Row) -> bool:
    """Say whether any cell of a row holds more than white space."""
    return any(cell.strip() for cell in row)


def block_from_text(text: str) -> tuple[Row, ...]:
    """Take what a spreadsheet put on the clipboard apart into rows of cells; a cell is one line."""
    lines = csv.reader(io.StringIO(text), dialect="excel-tab")
    rows = [tuple(" ".join(cell.split()) for cell in line) for line in lines]
    return tuple(row for row in rows if row)


def text_from_block(block: Iterable[Sequence[str]]) -> str:
    """Put rows of cells into the words a spreadsheet takes from the clipboard."""
    out = io.StringIO()
    csv.writer(out, dialect="excel-tab", lineterminator="\n").writerows(block)
    return out.getvalue()
