"""Rows as a file holds them, before anything is understood."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from hilum.errors import BadInput

MAX_FILE_BYTES = 20_000_000
MAX_UNPACKED_BYTES = 200_000_000
MAX_ROWS = 100_000
MAX_COLUMNS = 256


class UnreadableTable(BadInput):
    """A file that cannot be read as a table; the text names the file and says what to do."""


@dataclass(frozen=True, slots=True)
class TableRow:
    """One row as written; `typed` holds, by position, the cells a spreadsheet stored as number or date."""

    number: int
    cells: tuple[str, ...]
    typed: Mapping[int, Decimal | date] | None = None

    def typed_at(self, position: int) -> Decimal | date | None:
        """Give the number or date a spreadsheet stored in that cell, or None when it is text."""
        return self.typed.get(position) if self.typed else None

    @property
    def is_empty(self) -> bool:
        """Whether no cell of the row holds anything but white space."""
        return not any(cell.strip() for cell in self.cells)


@dataclass(frozen=True, slots=True)
class HowRead:
    """How the bytes became cells, for showing; a field is None where it does not apply."""

    kind: str
    encoding: str | None = None
    encoding_proof: str | None = None
    separator: str | None = None
    sheet: str | None = None
    other_sheets: tuple[str, ...] = ()
