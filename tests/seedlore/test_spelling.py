"""Names that differ only in writing, and slips of the hand."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hilum.seedlore.spelling import folded, name_keys, slips_between

words = st.text("abcdeé -'", max_size=12)


@given(words)
def test_folding_twice_changes_nothing_more(text: str):
    """A key can be folded again without harm."""
    assert folded(folded(text)) == folded(text)


@given(words)
def test_case_and_marks_do_not_change_the_keys(text: str):
    """What was typed in capitals or with commas is the same name."""
    assert name_keys(text) == name_keys(text.upper()) == name_keys(f" {text},")


@given(words, words)
def test_slips_are_counted_alike_both_ways(a: str, b: str):
    """And there is none exactly when the words are equal."""
    assert slips_between(a, b, 12) == slips_between(b, a, 12)
    assert (slips_between(a, b, 12) == 0) == (a == b)


@pytest.mark.parametrize(
    ("a", "b", "slips"), [("carrto", "carrot", 1), ("leek", "leak", 1), ("pea", "bean", 2), ("", "abc", 3)]
)
def test_a_slip_is_a_letter_missing_added_changed_or_two_swapped(a: str, b: str, slips: int):
    """Each counts one."""
    assert slips_between(a, b, 9) == slips


def test_counting_stops_where_it_no_longer_matters():
    """Far words are only known to be too far."""
    assert slips_between("pea", "watermelon", 2) == 3
