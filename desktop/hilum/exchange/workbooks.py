"""XLSX: from a workbook to rows; formulas stay text and are never calculated."""

import io
import math
import re
import warnings
import zipfile
import zlib
from collections.abc import Iterator
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from hilum.exchange.rows import (
    MAX_COLUMNS,
    MAX_ROWS,
    MAX_UNPACKED_BYTES,
    HowRead,
    TableRow,
    UnreadableTable,
)
from hilum.exchange.words import clean_text

_MAX_PARTS = 5_000
_CHUNK = 1 << 20
_ARCHIVE_FAULTS = (zipfile.BadZipFile, zlib.error, OSError, EOFError, ValueError, NotImplementedError)
# Office Open XML forbids document type declarations (ECMA-376 part 2, "XML usage"); entities declared in
# one can blow a small file up.
_DECLARATIONS = tuple("<!DOCTYPE".encode(codec) for codec in ("ascii", "utf-16-le", "utf-16-be"))
# Office Open XML writes what XML cannot hold as _xHHHH_ (ECMA-376 part 1, 22.9.2.19 ST_Xstring). Only the
# controls a cell may mean, and the underscore that protects the pattern itself, are turned back.
_ESCAPED = re.compile("_x(005[Ff]|000[9AaDd])_")


def read_workbook(data: bytes, name: str, sheet: str | None = None) -> tuple[list[TableRow], HowRead]:
    """Read the named sheet of a workbook, or the first that holds anything."""
    _refuse_bombs(data, name)
    import openpyxl

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # about styles and extensions, which we do not read
            book = openpyxl.load_workbook(io.BytesIO(data), read_only=True, data_only=False, keep_links=False)
            rows, title, others = _sheet_rows(book, name, sheet)
    except UnreadableTable:
        raise
    except Exception as error:
        # A damaged workbook makes the library fail in whatever way the damage happens to hit, from KeyError
        # to zlib.error; all of them mean the same to the keeper.
        raise UnreadableTable(
            f"{name} is damaged and cannot be read as a workbook ({type(error).__name__}). Open it in a "
            "spreadsheet program and save it again as XLSX or CSV."
        ) from error
    return rows, HowRead("XLSX", sheet=title, other_sheets=others)


def _refuse_bombs(data: bytes, name: str) -> None:
    """Look at the sizes in the archive before anything is unpacked."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            parts = archive.infolist()
            names = {part.filename for part in parts}
            unpacked = sum(part.file_size for part in parts)
            if unpacked > MAX_UNPACKED_BYTES or len(parts) > _MAX_PARTS:
                raise UnreadableTable(
                    f"{name} unpacks to {unpacked / 1e6:,.0f} MB in {len(parts):,} parts; at most "
                    f"{MAX_UNPACKED_BYTES / 1e6:,.0f} MB are read. Copy the list alone into a new workbook."
                )
            if "[Content_Types].xml" not in names:
                raise UnreadableTable(
                    f"{name} is an archive, but not an XLSX workbook. Save the list as XLSX or CSV."
                )
            for part in parts:
                if part.flag_bits & 1:
                    raise UnreadableTable(
                        f"{name} is locked with a password. Save it without one and take that in."
                    )
                if part.filename.endswith((".xml", ".rels")) and _declares(archive, part):
                    raise UnreadableTable(
                        f"{name} holds declarations that no workbook needs and some attacks use. "
                        "Nothing was read. Ask the sender for the list as CSV."
                    )
    except _ARCHIVE_FAULTS as error:
        raise UnreadableTable(
            f"{name} is damaged: the workbook cannot be unpacked. Ask for it again, or save it again as XLSX."
        ) from error


def _declares(archive: zipfile.ZipFile, part: zipfile.ZipInfo) -> bool:
    tail = b""
    with archive.open(part) as stream:
        while chunk := stream.read(_CHUNK):
            piece = tail + chunk
            if any(mark in piece for mark in _DECLARATIONS):
                return True
            tail = piece[-32:]
    return False


def _sheet_rows(book: Any, name: str, wanted: str | None) -> tuple[list[TableRow], str, tuple[str, ...]]:
    sheets = book.worksheets
    titles = [sheet.title for sheet in sheets]
    if wanted is not None and wanted not in titles:
        raise UnreadableTable(f"{name} has no sheet {wanted!r}; it has: {', '.join(titles)}.")
    chosen: tuple[list[TableRow], str] | None = None
    others: list[str] = []
    # What is hidden comes last: a keeper means what can be seen.
    for sheet in sorted(sheets, key=lambda each: each.sheet_state != "visible"):
        if chosen is None and wanted in (None, sheet.title):
            rows = list(_rows(sheet, name))
            if rows or wanted is not None:
                chosen = rows, sheet.title
        elif next(_rows(sheet, name), None) is not None:
            others.append(sheet.title)
    if chosen is None or not chosen[0]:
        raise UnreadableTable(f"{name} is empty. Choose the workbook with the list in it.")
    return chosen[0], chosen[1], tuple(others)


def _rows(sheet: Any, name: str) -> Iterator[TableRow]:
    """Give the sheet's rows up to the last that holds anything."""
    sheet.reset_dimensions()  # the stated size is often wrong
    waiting: list[TableRow] = []
    for number, values in enumerate(sheet.iter_rows(max_row=MAX_ROWS + 1, values_only=True), start=1):
        row = _row(number, values, name)
        if row.is_empty:
            waiting.append(row)
            continue
        if number > MAX_ROWS:
            raise UnreadableTable(
                f"{name} has more than {MAX_ROWS:,} rows. Split it and take the parts in one by one."
            )
        yield from waiting
        waiting.clear()
        yield row


def _row(number: int, values: tuple[object, ...], name: str) -> TableRow:
    width = len(values)
    while width and values[width - 1] is None:
        width -= 1
    if width > MAX_COLUMNS:
        raise UnreadableTable(
            f"{name}, row {number}: {width} cells, more than the {MAX_COLUMNS} a list may have. "
            "Is this the right sheet?"
        )
    cells: list[str] = []
    typed: dict[int, Decimal | date] = {}
    for position, value in enumerate(values[:width]):
        text, meant = _cell(value)
        cells.append(text)
        if meant is not None:
            typed[position] = meant
    return TableRow(number, tuple(cells), typed or None)


def _cell(value: object) -> tuple[str, Decimal | date | None]:
    """Give a cell's text, and the number or date it was stored as."""
    if value is None:
        return "", None
    if isinstance(value, str):
        return clean_text(_ESCAPED.sub(lambda found: chr(int(found.group(1), 16)), value)), None
    if isinstance(value, bool):
        return ("TRUE" if value else "FALSE"), None
    if isinstance(value, (int, float)):
        if not math.isfinite(value):
            return str(value), None
        number = Decimal(repr(value))
        text = format(number, "f")
        return (text.rstrip("0").rstrip(".") if "." in text else text), number
    if isinstance(value, datetime):
        return value.date().isoformat(), value.date()
    if isinstance(value, date):
        return value.isoformat(), value
    return clean_text(str(getattr(value, "text", None) or value)), None
