"""Tables out: what was text comes back as text, and no spreadsheet runs it."""

import csv
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from hilum.errors import KeeperError
from hilum.exchange.tables import read_table
from hilum.exchange.words import clean_text
from hilum.exchange.writing import WritingError, write_csv, write_xlsx

HEADER = ["Lot", "Words"]
DANGEROUS = [
    "=1+1",
    "+1",
    "-1+1",
    "@SUM(A1)",
    "\t=1",
    "\r=1",
    "\n=1",
    " =1",
    "＝1",
    "'=1",
    "''=1",
    "'",
    "'24",
    "-11 °C",
]
texts = st.one_of(
    st.sampled_from(DANGEROUS),
    st.text(max_size=20),
    st.text("=+-@'\t\r\n _x0041D\"“;,| é", max_size=12),
)


@given(st.lists(texts, min_size=1, max_size=8))
@example(DANGEROUS)
@example(["_x000D_", "_x005F_x0041_", "_x0041_x0042_", "#N/A", "00123", "1e5", "TRUE", " x "])
def test_text_comes_back_as_it_went_out(tmp_path_factory, words):
    """Through both kinds of file, whatever it begins with."""
    folder: Path = tmp_path_factory.mktemp("out")
    rows = [[f"lot {number}", text] for number, text in enumerate(words)]
    expected = [clean_text(text) for text in words]
    for path, write in [(folder / "list.csv", write_csv), (folder / "list.xlsx", write_xlsx)]:
        assert write(path, HEADER, rows) == len(words)
        table = read_table(path)
        assert table.header == tuple(HEADER)
        assert [(*row.cells, "")[1] for row in table.rows] == expected, path.suffix
        assert all(row.typed is None for row in table.rows)


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1+1", "@SUM(A1)", "\t=1", "\r=1", " =1", "＝1"])
def test_no_cell_of_a_csv_begins_as_a_formula_does(tmp_path, text):
    """As a plain CSV reader sees it, an apostrophe stands before it."""
    write_csv(tmp_path / "list.csv", HEADER, [["lot 1", text]])
    with (tmp_path / "list.csv").open(encoding="utf-8-sig", newline="") as file:
        [_, [_, cell]] = csv.reader(file)
    assert cell == "'" + clean_text(text)


@pytest.mark.parametrize("text", ["=1+1", "+1", "@SUM(A1)", "\t=1"])
def test_no_cell_of_a_workbook_is_a_formula(tmp_path, text):
    """It is stored as text and marked so that it stays text when it is edited."""
    import openpyxl

    write_xlsx(tmp_path / "list.xlsx", HEADER, [["lot 1", text]])
    cell = openpyxl.load_workbook(tmp_path / "list.xlsx").active["B2"]
    assert (cell.data_type, cell.value, cell.quotePrefix) == ("s", text, True)


def test_figures_and_dates_stay_figures_and_dates(tmp_path):
    """A negative number is a number, not a dangerous text."""
    header = ["Lot", "Mass", "Count", "On", "Hold", "Place"]
    row = ["lot 1", Decimal("-0.00000350"), 40, date(2025, 10, 4), True, None]
    write_csv(tmp_path / "list.csv", header, [row])
    assert (tmp_path / "list.csv").read_bytes() == (
        b"\xef\xbb\xbf" + b'"Lot","Mass","Count","On","Hold","Place"\r\n'
        b'"lot 1",-0.00000350,40,"2025-10-04","yes",""\r\n'
    )
    write_xlsx(tmp_path / "list.xlsx", header, [row])
    [read] = read_table(tmp_path / "list.xlsx").rows
    assert read.typed == {1: Decimal("-0.0000035"), 2: Decimal(40), 3: date(2025, 10, 4)}


@pytest.mark.parametrize("write", [write_csv, write_xlsx])
def test_a_file_that_is_there_is_replaced_only_when_asked(tmp_path, write):
    """And then whole."""
    path = tmp_path / "list.out"
    path.write_text("precious")
    with pytest.raises(WritingError, match="is already there and was left as it is"):
        write(path, HEADER, [["lot 1", "x"]])
    assert path.read_text() == "precious"
    write(path, HEADER, [["lot 1", "x"]], overwrite=True)
    assert read_table(path).rows[0].cells == ("lot 1", "x")
    assert [each.name for each in tmp_path.iterdir() if each.is_file()] == ["list.out"]


@pytest.mark.parametrize("write", [write_csv, write_xlsx])
def test_a_row_that_fails_leaves_no_file_behind(tmp_path, write):
    """Neither the file nor a piece of it."""

    def rows():
        yield ["lot 1", "x"]
        raise KeeperError("the lots could not be read")

    path = tmp_path / "list.out"
    path.write_text("precious")
    with pytest.raises(KeeperError, match="could not be read"):
        write(path, HEADER, rows(), overwrite=True)
    assert path.read_text() == "precious"
    assert [each.name for each in tmp_path.iterdir() if each.is_file()] == ["list.out"]


def test_a_place_that_is_not_there_is_told_in_words(tmp_path):
    """With what to do."""
    with pytest.raises(WritingError, match=r"could not be written: No such file.*Choose another place"):
        write_csv(tmp_path / "none" / "list.csv", HEADER, [])
    with pytest.raises(WritingError, match="is a folder"):
        write_csv(tmp_path, HEADER, [], overwrite=True)


def test_a_text_too_long_for_a_sheet_is_refused_not_cut(tmp_path):
    """A sheet's cell holds 32,767 characters; a library would cut the rest off silently."""
    with pytest.raises(WritingError, match=r"list\.xlsx not written: a text in row 2 has 32,768 characters"):
        write_xlsx(tmp_path / "list.xlsx", HEADER, [["lot 1", "x" * 32_768]])
    assert not (tmp_path / "list.xlsx").exists()
    write_csv(tmp_path / "list.csv", HEADER, [["lot 1", "x" * 32_768]])


def test_an_empty_list_is_a_header(tmp_path):
    """Nothing found is no error."""
    assert write_csv(tmp_path / "list.csv", HEADER, []) == 0
    assert write_xlsx(tmp_path / "list.xlsx", HEADER, []) == 0
    assert read_table(tmp_path / "list.xlsx").rows == ()
