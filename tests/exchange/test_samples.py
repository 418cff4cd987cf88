"""The two samples as growers hand them in: what is taken in, for what, and what is refused."""

from datetime import date
from pathlib import Path

import pytest

from hilum.exchange.intake_values import IntakeReading
from hilum.exchange.tables import read_table
from tests.exchange.builders import SWAP, TIDY, twin, understood


@pytest.fixture(params=["csv", "xlsx"])
def tidy(request: pytest.FixtureRequest, tmp_path: Path) -> IntakeReading:
    return understood(read_table(TIDY if request.param == "csv" else twin(TIDY, tmp_path / "tidy.xlsx")))


@pytest.fixture(params=["csv", "xlsx"])
def swap(request: pytest.FixtureRequest, tmp_path: Path) -> IntakeReading:
    return understood(read_table(SWAP if request.param == "csv" else twin(SWAP, tmp_path / "swap.xlsx")))


def test_the_tidy_list_is_understood_whole(tidy):
    """Thirty lots, none refused, weights as written."""
    assert [row.row for row in tidy.understood] == list(range(2, 32))
    assert (tidy.refused, tidy.skipped) == ((), ())
    leek, bean = tidy.understood[:2]
    assert (leek.crop_key, leek.variety, leek.year) == ("leek", "Fenlock Grey", 2025)
    assert (leek.amount, leek.unit, leek.plants) == (38_500, "mg", 42)
    assert (leek.received_on, leek.received_precision) == (date(2025, 10, 4), "day")
    assert leek.notes == "Tall, blue flag; stood -11 °C last winter"
    assert (leek.grower, leek.place_grown, leek.isolation) == (
        "Marit",
        "Ashmere allotments plot 14",
        "none within 800 m",
    )
    assert bean.amount == 1_200_000
    assert (
        sum(row.amount or 0 for row in tidy.understood) == 12_790_400
    )  # added up from the file with its units


def test_the_tidy_list_needs_no_explaining(tidy):
    """Only a crop that has another name here is spoken of."""
    assert {said for row in tidy.understood for said in row.taken_for} == {
        "Squash taken as Winter squash (maxima)"
    }


def test_the_swap_table_is_parted_as_it_must_be(swap):
    """Accepted, refused and skipped rows, by the number a spreadsheet shows."""
    assert [row.row for row in swap.understood] == [4, 8, 11, 13, 15, 16]
    assert [refusal.row for refusal in swap.refused] == [2, 3, 5, 7, 10, 12, 14, 17]
    assert [(skipped.row, skipped.why) for skipped in swap.skipped] == [
        (6, "the row is empty"),
        (9, "the header again"),
    ]


def test_every_accepted_row_of_the_swap_table_says_what_it_was_taken_for(swap):
    """Names, ounces, short years, dates and the formula are all spoken of."""
    rows = {row.row: row for row in swap.understood}
    assert rows[4].taken_for == (
        "Dwarf bean taken as French bean",
        "1.11.2019 taken as 1 Nov 2019",
        "0,35 kg taken as 350 g",
    )
    assert (rows[4].amount, rows[4].unit, rows[4].donor) == (350_000, "mg", "Benedek")
    assert (rows[8].amount, rows[8].received_on) == (56_699, date(2020, 1, 1))
    assert rows[8].received_precision == "year"
    assert rows[8].taken_for == ("only the year of receipt is known (2020)", "2 oz taken as 56.699 g")
    assert rows[13].variety == '=HYPERLINK("http://invalid.example","Widow Tarrant\'s Tall")'
    assert (
        "a cell that looks like a spreadsheet formula was kept as plain text (Variety)" in rows[13].taken_for
    )
    assert (rows[15].amount, rows[15].notes) == (None, "no weight, jar half full")
    assert "amount not known: to be weighed or counted" in rows[15].taken_for
    assert (rows[16].year, rows[16].amount, rows[16].received_on) == (2024, 45_000, date(2024, 7, 30))


@pytest.mark.parametrize(
    ("row", "column", "words", "suggestion"),
    [
        (2, "Crop", 'No crop is called "Letuce"', "Lettuce"),
        (3, "Crop", '"4,75" has no unit', "Tomato"),
        (5, "year of harvest", '"2062" is in the future', None),
        (7, "Crop", "Pumpkin can be", None),
        (10, "weight", '"-3 g" is less than nothing', None),
        (12, "Crop", 'No crop is called "Unicorn root"', None),
        (14, "year of harvest", '"zwanzig-24" is not a year', None),
        (17, "weight", '"1.200 g" can be read in two ways, 1200 g or 1.2 g', None),
    ],
)
def test_every_refused_row_of_the_swap_table_says_why(swap, row, column, words, suggestion):
    """Row, column as headed, reason, suggestion."""
    [refusal] = [each for each in swap.refused if each.row == row]
    assert (refusal.column, refusal.suggestion) == (column, suggestion)
    assert words in refusal.why


def test_a_row_with_two_faults_names_both_with_their_columns(swap):
    """Otherwise a keeper would mend one and be refused again."""
    [refusal] = [each for each in swap.refused if each.row == 3]
    assert [(problem.column, problem.asks) for problem in refusal.problems] == [
        ("Crop", "crop"),
        ("weight", "unit"),
    ]
    assert 'Also, in "weight":' in refusal.why


def test_what_was_taken_of_the_swap_table_as_a_whole_is_told_with_its_proof():
    """Encoding, separator, mark, order and unit, to be confirmed before anything is written."""
    swap = understood(read_table(SWAP))
    told = {fact.about: (fact.taken, fact.proof) for fact in swap.facts}
    assert told["encoding"][0] == "Windows-1252"
    assert told["separator"][0] == "semicolon"
    assert told["decimal mark"] == ("comma", 'comma is a decimal mark (row 2: "12,5")')
    assert told["date order"] == ("day first", 'row 3: "28.09.2024" can be read in no other way')
    assert told["unit"][0] == "each cell's own"
    words = {column.heading: column.words for column in swap.columns}
    assert words["Sorte"] == '"Sorte" is empty: not used'
    assert words["came in"] == '"came in" is the date received'


def test_accents_of_the_swap_table_arrive_whole():
    """A Windows-1252 file is not taken for anything else."""
    table = read_table(SWAP)
    assert table.rows[0].cells[4:6] == ("Lüttwinkel", "Frau Öttl")
    assert table.header[2] == "Variety"
