"""Workbooks: typed cells, formulas that stay text, and archives made to do harm."""

import zipfile
from datetime import date
from decimal import Decimal

import pytest

from hilum.exchange import workbooks
from hilum.exchange.tables import UnreadableTable, read_table
from tests.exchange.builders import TIDY, the_refusal, the_row, understood, workbook, write_file

HEADER = ["Crop", "Variety", "Year", "Weight (g)", "Received"]


def test_numbers_and_dates_typed_by_a_spreadsheet_are_unambiguous(tmp_path):
    """1.234 stored as a number is 1.234, and a date cell is that date."""
    path = workbook(tmp_path / "list.xlsx", HEADER, ["Leek", "Blue", 2024, 1.234, date(2024, 3, 4)])
    table = read_table(path)
    assert table.rows[0].typed == {2: Decimal(2024), 3: Decimal("1.234"), 4: date(2024, 3, 4)}
    row = the_row(understood(table))
    assert (row.amount, row.year, row.received_on) == (1_234, 2024, date(2024, 3, 4))


def test_the_tidy_list_typed_into_a_spreadsheet_gives_the_same_lots(tmp_path):
    """Years and plants as numbers, dates as dates."""
    source = read_table(TIDY)
    rows = [
        [
            int(cell)
            if cell.isdigit()
            else date.fromisoformat(cell)
            if source.header[at] == "Received"
            else cell
            for at, cell in enumerate(row.cells)
        ]
        for row in source.rows
    ]
    table = read_table(workbook(tmp_path / "list.xlsx", list(source.header), *rows))
    expected = understood(source).understood
    assert understood(table).understood == expected


def test_the_same_figure_as_text_is_still_asked_about(tmp_path):
    """A text cell proves nothing."""
    path = workbook(tmp_path / "list.xlsx", HEADER, ["Leek", "Blue", "2024", "1.234", "2024-03-04"])
    assert "can be read in two ways, 1234 or 1.234" in the_refusal(understood(read_table(path))).why


def test_a_formula_is_seen_as_text_and_never_calculated(tmp_path):
    """In words it is kept, in figures refused."""
    path = workbook(
        tmp_path / "list.xlsx",
        HEADER,
        ["Leek", '=HYPERLINK("http://invalid.example")', 2024, 5, "2024-03-04"],
        ["Leek", "Blue", 2024, "=2+3", "2024-03-04"],
    )
    reading = understood(read_table(path))
    [row] = reading.understood
    assert row.variety == '=HYPERLINK("http://invalid.example")'
    assert "is a spreadsheet formula, which is never calculated" in the_refusal(reading).why


def test_a_figure_that_a_spreadsheet_made_a_date_is_refused(tmp_path):
    """1.2 typed into a spreadsheet with other habits becomes the first of February."""
    path = workbook(tmp_path / "list.xlsx", HEADER, ["Leek", "Blue", 2024, date(2026, 2, 1), "2024-03-04"])
    refusal = the_refusal(understood(read_table(path)))
    assert refusal.column == "Weight (g)"
    assert "holds the date 2026-02-01" in refusal.why


def test_the_first_sheet_with_anything_in_it_is_read_and_the_others_named(tmp_path):
    """So that nobody waits for a second sheet that was not read."""
    import openpyxl

    book = openpyxl.Workbook()
    book.create_sheet("Seeds").append(["Crop", "Variety"])
    book.create_sheet("People").append(["Name"])
    book.save(tmp_path / "list.xlsx")
    table = read_table(tmp_path / "list.xlsx")
    assert (table.how.sheet, table.how.other_sheets) == ("Seeds", ("People",))
    assert read_table(tmp_path / "list.xlsx", sheet="People").header == ("Name",)
    with pytest.raises(UnreadableTable, match="has no sheet 'Plants'"):
        read_table(tmp_path / "list.xlsx", sheet="Plants")


def test_rows_have_the_numbers_of_the_sheet(tmp_path):
    """Also after rows that the file does not hold at all."""
    import openpyxl

    book = openpyxl.Workbook()
    for at, text in {"A3": "Crop", "B3": "Variety", "A7": "Leek", "B7": "Blue", "D9": None}.items():
        book.active[at] = text
    book.save(tmp_path / "list.xlsx")
    table = read_table(tmp_path / "list.xlsx")
    assert table.header_number == 3
    assert [row.number for row in table.rows if not row.is_empty] == [7]
    assert table.rows[-1].number == 7


def test_an_archive_that_unpacks_to_too_much_is_not_unpacked(tmp_path):
    """The sizes are looked at before anything is opened."""
    path = tmp_path / "bomb.xlsx"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("[Content_Types].xml", "<x/>")
        with archive.open("xl/worksheets/sheet1.xml", "w", force_zip64=True) as part:
            for _ in range(201):
                part.write(b" " * 1_000_000)
    assert path.stat().st_size < 1_000_000
    with pytest.raises(UnreadableTable, match="unpacks to 201 MB"):
        read_table(path)


def test_declared_entities_are_refused(tmp_path):
    """They can blow a small file up, and no workbook needs them."""
    sound = workbook(tmp_path / "sound.xlsx", ["Crop", "Variety"], ["Leek", "Blue"])
    path = tmp_path / "entities.xlsx"
    with zipfile.ZipFile(sound) as old, zipfile.ZipFile(path, "w") as new:
        for part in old.infolist():
            data = old.read(part)
            if part.filename.endswith("sheet1.xml"):
                data = b'<?xml version="1.0"?><!DOCTYPE a [<!ENTITY b "cc">]>' + data
            new.writestr(part, data)
    with pytest.raises(UnreadableTable, match="declarations that no workbook needs"):
        read_table(path)


def test_other_archives_and_broken_workbooks_are_refused(tmp_path):
    """Each in its own words."""
    path = tmp_path / "letters.zip"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("letter.txt", "dear all")
    with pytest.raises(UnreadableTable, match="not an XLSX workbook"):
        read_table(path)
    with pytest.raises(UnreadableTable, match="is not a workbook, whatever its name says"):
        read_table(write_file(tmp_path / "list.xlsx", "Crop,Variety\nLeek,Blue\n"))
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("[Content_Types].xml", "<nonsense")
    with pytest.raises(UnreadableTable, match="is damaged and cannot be read as a workbook"):
        read_table(path)
    empty = workbook(tmp_path / "empty.xlsx")
    with pytest.raises(UnreadableTable, match=r"empty\.xlsx is empty"):
        read_table(empty)


def test_a_sheet_of_too_many_rows_is_refused(tmp_path, monkeypatch):
    """A row far below counts as well."""
    import openpyxl

    monkeypatch.setattr(workbooks, "MAX_ROWS", 50)
    book = openpyxl.Workbook()
    book.active["A1"], book.active["A51"] = "Crop", "Leek"
    book.save(tmp_path / "list.xlsx")
    with pytest.raises(UnreadableTable, match="more than 50 rows"):
        read_table(tmp_path / "list.xlsx")
