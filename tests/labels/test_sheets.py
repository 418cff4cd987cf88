"""Sheets: where labels begin, which places are skipped, what is refused."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hilum.labels.errors import LabelError
from hilum.labels.sheets import Place, places
from hilum.labels.stocks import label_stock

SHEET, ROLL = label_stock("a4-3x8"), label_stock("roll-57x32")


def test_labels_begin_at_start_and_go_on_at_the_first_place_of_the_next_sheet() -> None:
    """Start counts from 1, row by row."""
    assert places(3, SHEET, start=23) == (Place(0, 23), Place(0, 24), Place(1, 1))


def test_skipped_places_stay_empty_on_the_first_sheet_only() -> None:
    """Spoiled labels on a part sheet."""
    found = places(26, SHEET, skip=(2, 24))
    assert Place(0, 2) not in found
    assert Place(0, 24) not in found
    assert Place(1, 2) in found


def test_a_roll_has_one_label_a_page() -> None:
    """And start and skip mean nothing there."""
    assert [each.page for each in places(3, ROLL)] == [0, 1, 2]
    with pytest.raises(LabelError, match="is a roll"):
        places(3, ROLL, start=2)


@pytest.mark.parametrize(
    ("start", "skip", "words"),
    [
        (25, (), "Start is 25, but a sheet of a4-3x8-70x37 has positions 1 to 24"),
        (0, (), "Start is 0"),
        (1, (30,), "Skip names 30"),
        (24, (24,), "no free position"),
    ],
)
def test_places_beyond_the_sheet_are_refused(start: int, skip: tuple[int, ...], words: str) -> None:
    """With the positions there are."""
    with pytest.raises(LabelError, match=words):
        places(1, SHEET, start, skip)


@given(st.integers(1, 200), st.integers(1, 24), st.sets(st.integers(1, 23), max_size=10))
@settings(deadline=None)
def test_every_label_has_a_place_of_its_own(count: int, start: int, skip: set[int]) -> None:
    """In reading order."""
    if start in skip and not set(range(start, 25)) - skip:
        return
    found = places(count, SHEET, start, tuple(skip))
    assert len(found) == count
    order = [(each.page, each.position) for each in found]
    assert order == sorted(set(order))
