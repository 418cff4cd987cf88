"""Builders for tables and workbooks, with what a test does not care about filled in."""

from datetime import date
from pathlib import Path
from typing import Any

from hilum.exchange.choices import Choices
from hilum.exchange.intake_rows import understand
from hilum.exchange.intake_values import IntakeReading, ReadRow, Refusal
from hilum.exchange.tables import Table, read_table, table_from_cells
from hilum.seedlore.crops import crop_index

TODAY = date(2026, 11, 25)
DATA = Path(__file__).parents[1] / "data"
TIDY = DATA / "autumn_intake.csv"
SWAP = DATA / "swap_table_cp1252.csv"
USUAL = {
    "Crop": "Leek",
    "Variety": "Fenlock Grey",
    "Year": "2024",
    "Weight": "20 g",
    "Received": "2024-10-05",
}


def a_table(*rows: dict[str, str], **headings: str) -> Table:
    """Make a typed-in table of rows that differ from the usual row in the cells given."""
    usual = USUAL | headings
    header = list(dict.fromkeys([*usual, *(key for row in rows for key in row)]))
    return table_from_cells(header, [[(usual | row).get(key, "") for key in header] for row in rows])


def understood(table: Table, choices: Choices | None = None, today: date = TODAY) -> IntakeReading:
    """Understand a table with the crops of an English library."""
    return understand(table, crops=crop_index(), today=today, choices=choices)


def read_rows(*rows: dict[str, str], choices: Choices | None = None) -> IntakeReading:
    """Understand rows that differ from the usual one in the cells given."""
    return understood(a_table(*rows), choices)


def the_row(reading: IntakeReading) -> ReadRow:
    """Give the only row, which was understood."""
    assert reading.refused == ()
    [row] = reading.understood
    return row


def the_refusal(reading: IntakeReading) -> Refusal:
    """Give the only refusal."""
    [refusal] = reading.refused
    return refusal


def write_file(path: Path, content: str | bytes, encoding: str = "utf-8") -> Path:
    """Write a file as it would arrive."""
    path.write_bytes(content if isinstance(content, bytes) else content.encode(encoding))
    return path


def workbook(path: Path, *rows: list[Any], title: str = "List") -> Path:
    """Write a workbook as a spreadsheet program would: formulas are formulas, dates are dates."""
    import openpyxl

    book = openpyxl.Workbook()
    book.active.title = title
    for row in rows:
        book.active.append(row)
    book.save(path)
    return path


def twin(source: Path, path: Path) -> Path:
    """Write a CSV sample again as a workbook in which every cell is text."""
    import openpyxl

    table = read_table(source)
    book = openpyxl.Workbook()
    for number, cells in [(1, table.header), *((row.number, row.cells) for row in table.rows)]:
        for column, text in enumerate(cells, start=1):
            cell = book.active.cell(number, column)
            cell.value = text
            cell.data_type = "s"
    book.save(path)
    return path
