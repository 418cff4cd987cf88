"""Tables and words on a terminal: within a hundred columns, on any terminal."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hilum.commands.terminal import Column, cells, facts, shortened, table, wrapped

WORDS = st.text(st.characters(codec="utf-8", exclude_categories=["Cs"]), max_size=120)
COLUMNS = (Column("Lot", 16), Column("Crop", 40), Column("Variety", 60), Column("Stock", 15, right=True))


@pytest.fixture(autouse=True)
def _wide(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "100")


@given(st.lists(st.tuples(WORDS, WORDS, WORDS, st.just("1 g")), min_size=1, max_size=6), WORDS)
def test_a_table_fits_a_hundred_columns(rows: list[tuple[str, str, str, str]], reason: str):
    """Whatever names a library has, no line is longer, and none steers the terminal."""
    for line in table(COLUMNS, rows, [reason] * len(rows)):
        assert cells(line) <= 100
        assert not any(ord(character) < 32 for character in line)


def test_words_are_cut_before_figures(monkeypatch: pytest.MonkeyPatch):
    """On a narrow terminal the lot number and the stock stay whole."""
    monkeypatch.setenv("COLUMNS", "60")
    lines = table(
        COLUMNS, [("LEK-25-001-S", "Leek of a very long name indeed", "Fenlock Grey " * 4, "38.5 g")]
    )
    assert all(cells(line) <= 60 for line in lines)
    assert lines[1].startswith("LEK-25-001-S  ")
    assert lines[1].endswith("38.5 g")
    assert "…" in lines[1]


def test_wide_characters_take_two_columns():
    """Names in other scripts stand in line too."""
    assert cells("大根") == 4
    assert cells("e\u0301") == 1
    assert shortened("大根の種", 5) == "大根…"


def test_facts_stand_below_each_other_and_wrap():
    """A long fact goes on below its own beginning; one with nothing to say is left out."""
    lines = facts((("Stock", "38.5 g"), ("Notes", ""), ("Germination", "word " * 30)))
    assert lines[0] == "Stock        38.5 g"
    assert lines[1].startswith("Germination  word")
    assert lines[2].startswith(" " * 13 + "word")
    assert len(lines) == 3


def test_long_lot_numbers_are_not_broken():
    """A hyphen in a lot number is no place to break the line."""
    text = "x " * 45 + "LEK-25-001-S and more words to come"
    assert any("LEK-25-001-S" in line for line in wrapped(text))
