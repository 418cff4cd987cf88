"""Writing: tables out as CSV or XLSX in which no cell can run as a formula.

CSV is written as UTF-8 with its mark, so that spreadsheets show accents, with commas, CRLF line ends (RFC
4180) and every text in quotation marks; a text that a spreadsheet would run gets an apostrophe before it,
which our own reader takes off again. XLSX keeps such a text as it is, stored as text and marked so.
"""

import csv
import io
import os
import re
import secrets
from collections.abc import Iterable, Sequence
from datetime import date, datetime
from decimal import Decimal
from pathlib import Path
from typing import Any

from hilum.errors import KeeperError
from hilum.exchange.delimited import GUARDED
from hilum.exchange.words import clean_text

Cell = str | int | float | Decimal | date | None

# Limits of a worksheet: "Excel specifications and limits", Microsoft support pages.
_MAX_CELL_CHARACTERS = 32_767
_MAX_SHEET_ROWS = 1_048_576
# See workbooks: an underscore that would begin an escape is itself escaped.
_LIKE_AN_ESCAPE = re.compile("_(?=x[0-9A-Fa-f]{4}_)")
_TITLE_FORBIDDEN = re.compile(r"[\[\]:*?/\\]")


class WritingError(KeeperError):
    """A file could not be written; whatever stood there before still does."""


def write_csv(
    path: Path, header: Sequence[str], rows: Iterable[Sequence[Cell]], *, overwrite: bool = False
) -> int:
    """Write a table as CSV and give the number of rows; an existing file is replaced only if `overwrite`."""
    _refuse_existing(path, overwrite)
    written = io.StringIO(newline="")
    writer = csv.writer(written, quoting=csv.QUOTE_NONNUMERIC, lineterminator="\r\n")
    writer.writerow([_csv_cell(text) for text in header])
    count = 0
    for row in rows:
        writer.writerow([_csv_cell(cell) for cell in row])
        count += 1
    put_whole(path, written.getvalue().encode("utf-8-sig"), overwrite=overwrite)
    return count


def write_xlsx(
    path: Path,
    header: Sequence[str],
    rows: Iterable[Sequence[Cell]],
    *,
    title: str = "Seed",
    overwrite: bool = False,
) -> int:
    """Write a table as XLSX and give the number of rows; an existing file is replaced only if `overwrite`."""
    _refuse_existing(path, overwrite)
    # Everything that can be wrong is found before the workbook is begun: it cannot be left half made.
    told = [[_checked(cell, path, number) for cell in row] for number, row in enumerate((header, *rows), 1)]
    if len(told) > _MAX_SHEET_ROWS:
        raise WritingError(f"{path.name} not written: a sheet holds {_MAX_SHEET_ROWS:,} rows. Use CSV.")
    import openpyxl

    book = openpyxl.Workbook(write_only=True)
    sheet = book.create_sheet(_TITLE_FORBIDDEN.sub(" ", clean_text(title)).strip("' ")[:31] or "Seed")
    sheet.freeze_panes = "A2"
    for row in told:
        sheet.append([_xlsx_cell(sheet, cell) for cell in row])
    written = io.BytesIO()
    book.save(written)
    put_whole(path, written.getvalue(), overwrite=overwrite)
    return len(told) - 1


def _csv_cell(cell: Cell) -> str | int | float | Decimal:
    if cell is None:
        return ""
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, Decimal):
        return _PlainDecimal(cell)
    if isinstance(cell, (int, float)):
        return cell
    if isinstance(cell, date):
        return _date_text(cell)
    text = clean_text(cell)
    return f"'{text}" if GUARDED.match(text) else text


class _PlainDecimal(Decimal):
    """A decimal that prints without exponent, as spreadsheets of every language read it."""

    def __str__(self) -> str:
        return format(self, "f")


def _date_text(moment: date) -> str:
    return moment.isoformat(" ", "seconds") if isinstance(moment, datetime) else moment.isoformat()


def _checked(cell: Cell, path: Path, number: int) -> Cell:
    """Give a cell as a sheet can hold it; refuse a text that the library would cut off silently."""
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, datetime):
        return _date_text(cell)
    if not isinstance(cell, str):
        return cell
    text = _LIKE_AN_ESCAPE.sub("_x005F_", clean_text(cell))
    if len(text) > _MAX_CELL_CHARACTERS:
        raise WritingError(
            f"{path.name} not written: a text in row {number} has {len(text):,} characters, and a cell "
            f"holds {_MAX_CELL_CHARACTERS:,}. Use CSV."
        )
    return text


def _xlsx_cell(sheet: Any, cell: Cell) -> Any:
    from openpyxl.cell import WriteOnlyCell

    if isinstance(cell, date):
        dated = WriteOnlyCell(sheet, cell)
        dated.number_format = "yyyy-mm-dd"
        return dated
    if not isinstance(cell, str):
        return cell
    stored = WriteOnlyCell(sheet, cell)
    # Set after the value: the library would store a text that begins with "=" as a formula.
    stored.data_type = "s"
    if GUARDED.match(cell):
        stored.quotePrefix = True
    return stored


def _refuse_existing(path: Path, overwrite: bool) -> None:
    if path.is_dir():
        raise WritingError(f"{path} is a folder. Give the file a name in it.")
    if path.exists() and not overwrite:
        raise WritingError(f"{path} is already there and was left as it is. Choose another name.")


def put_whole(path: Path, data: bytes, *, overwrite: bool = False) -> None:
    """Write beside the place first, so that the file is there whole or as it was before."""
    beside = path.with_name(f".{path.name[:80]}.{secrets.token_hex(4)}.part")
    try:
        try:
            with beside.open("xb") as file:
                file.write(data)
                file.flush()
                os.fsync(file.fileno())
            # Somebody may have made the file meanwhile.
            _refuse_existing(path, overwrite)
            beside.replace(path)
        finally:
            beside.unlink(missing_ok=True)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or error
        raise WritingError(f"{path} could not be written: {reason}. Choose another place.") from error
