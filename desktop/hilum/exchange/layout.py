"""Where the meanings stand in one table, and the cells of a row by meaning."""

from collections.abc import Sequence
from dataclasses import dataclass

from hilum.errors import BadInput
from hilum.exchange.columns import (
    BOTANICAL_NAME,
    CROP,
    NOT_USED,
    NOTES,
    VARIETY,
    YEAR,
    ColumnReading,
)
from hilum.exchange.rows import TableRow
from hilum.exchange.words import listed, shown


@dataclass(frozen=True, slots=True)
class Layout:
    """The columns of one table: one position a meaning, and all that goes to the notes."""

    header: tuple[str, ...]
    position: dict[str, int]
    headings: dict[str, str]
    notes: tuple[ColumnReading, ...]

    @classmethod
    def of(cls, header: tuple[str, ...], columns: Sequence[ColumnReading]) -> "Layout":
        """Sort the columns by meaning; refuse a table without the columns no lot can do without."""
        used = {
            column.meaning: column
            for column in columns
            if column.meaning and column.meaning not in {NOTES, NOT_USED}
        }
        missing = [] if CROP in used or BOTANICAL_NAME in used else ["the crop (or the botanical name)"]
        missing += [f"the {meaning}" for meaning in (VARIETY, YEAR) if meaning not in used]
        if missing:
            headings = listed([shown(text) for text in header if text]) or "none"
            raise BadInput(
                f"No column with anything in it is headed as {listed(missing)}; the headings are {headings}. "
                "Name the column in the first row of the list, or say which column it is."
            )
        return cls(
            header=header,
            position={meaning: column.position for meaning, column in used.items()},
            headings={column.meaning: column.heading for column in reversed(columns) if column.meaning},
            notes=tuple(column for column in columns if column.meaning in {NOTES, None}),
        )

    def text(self, row: TableRow, meaning: str) -> str:
        """Give the cell of a row with that meaning, without outer white space; empty when there is none."""
        at = self.position.get(meaning)
        return row.cells[at].strip() if at is not None and at < len(row.cells) else ""

    def typed(self, row: TableRow, meaning: str) -> object:
        """Give the number or date a spreadsheet stored in that cell, or None."""
        at = self.position.get(meaning)
        return None if at is None else row.typed_at(at)

    def heading(self, *meanings: str) -> str:
        """Give the heading, as in the file, of the first of these meanings that has a column."""
        return next((self.headings[meaning] for meaning in meanings if meaning in self.headings), meanings[0])
