"""Figures typed after an option: what is taken, and the words of each refusal."""

from argparse import ArgumentTypeError
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hilum.commands import figures


@pytest.mark.parametrize(
    ("typed", "mass_mg"), [("38.5", 38_500), ("0.001", 1), (".5", 500), ("2.", 2_000), ("1200", 1_200_000)]
)
def test_grams_become_whole_milligrams(typed: str, mass_mg: int):
    """Grams are kept as milligrams, without the slips of binary fractions."""
    assert figures.milligrams(typed) == mass_mg


@given(st.integers(1, 1_000_000_000))
def test_every_milligram_can_be_typed(mass_mg: int):
    """What a scale shows to the milligram is taken as exactly that."""
    assert figures.milligrams(f"{mass_mg // 1000}.{mass_mg % 1000:03d}") == mass_mg


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("1,5", "has a comma; grams are written with a dot"),
        ("1.200,5", "has a comma"),
        ("1.2345", "finer than a milligram"),
        ("0", "not between 0.001 g"),
        ("-3", "no weight in grams"),
        ("1e3", "no weight in grams"),
        ("nan", "no weight in grams"),
        ("٣", "no weight in grams"),
        ("5 g", "no weight in grams"),
        ("99999999999999", "not between 0.001 g"),
        ("", "no weight in grams"),
    ],
)
def test_what_is_no_weight_is_refused(typed: str, words: str):
    """A comma, a sign or too many decimals are refused with how grams are written."""
    with pytest.raises(ArgumentTypeError, match=words):
        figures.milligrams(typed)


def test_a_day_is_written_year_month_day():
    """Only the one form is taken, so that no day and month can be exchanged."""
    assert figures.day("2026-12-05") == date(2026, 12, 5)
    for typed in ("05.12.2026", "20261205", "2026-W49-6", "5 Dec 2026", "2026-12-5"):
        with pytest.raises(ArgumentTypeError, match="write it as 2026-12-05"):
            figures.day(typed)
    with pytest.raises(ArgumentTypeError, match="there is no day 2026-02-30"):
        figures.day("2026-02-30")


def test_counts_are_whole_numbers_separated_by_commas():
    """Spaces after a comma do no harm; a sign or a fraction is refused."""
    assert figures.wholes("88, 91,86,0") == (88, 91, 86, 0)
    for typed in ("88,,91", "88;91", "-1", "8.5", ""):
        with pytest.raises(ArgumentTypeError, match="no whole number"):
            figures.wholes(typed)
    with pytest.raises(ArgumentTypeError, match="not between 1"):
        figures.positives("3,0")


def test_a_temperature_may_be_below_nothing():
    """A freezer's temperature has a sign; a comma is refused here too."""
    assert figures.fraction("-18") == -18
    assert figures.fraction("6.5") == 6.5
    with pytest.raises(ArgumentTypeError, match="has a comma"):
        figures.fraction("6,5")
    with pytest.raises(ArgumentTypeError, match="no number"):
        figures.fraction("inf")


def test_bytes_that_are_no_text_are_refused():
    """What a terminal hands over undecoded cannot be kept in a catalogue."""
    with pytest.raises(ArgumentTypeError, match="no text"):
        figures.words("caf\udce9")


def test_a_pair_is_parted_at_its_last_equals_sign():
    """A heading may hold an equals sign itself."""
    assert figures.pair("Gewicht (=g)=amount") == ("Gewicht (=g)", "amount")
    with pytest.raises(ArgumentTypeError, match="WRITTEN=MEANT"):
        figures.pair("Tomate")
