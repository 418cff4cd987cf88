"""A day written into one field is read as a whole, or refused with what to write."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hilum.benches.days import day_written
from hilum.errors import BadInput


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("2026-11-05", date(2026, 11, 5)),
        (" 2026-1-5 ", date(2026, 1, 5)),
        ("20261105", date(2026, 11, 5)),
        ("5 Nov 2026", date(2026, 11, 5)),
        ("25.11.2026", date(2026, 11, 25)),
        ("11/25/2026", date(2026, 11, 25)),
        ("05/05/2026", date(2026, 5, 5)),
        ("٢٠٢٦-١١-٠٥", date(2026, 11, 5)),
    ],
)
def test_a_day_is_read_as_people_write_it(text: str, day: date):
    """Year first, in figures alone, with the month's name, or in any order that leaves no doubt."""
    assert day_written(text) == day


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "There is no date."),
        ("unknown", "There is no date."),
        ("5", "“5” is not a date."),
        ("2026-02-30", "“2026-02-30” is not a date."),
        ("2026", "says only the year"),
        ("Nov 2026", "says only the month"),
        ("05/11/2026", "can be read in two ways, 5 Nov 2026 or 11 May 2026"),
        ("25.11.26", "“25.11.26”"),
        ("5 Nov 26", "“5 Nov 26”"),
        ("25.11.76", "no year of four digits"),
    ],
)
def test_what_is_no_day_is_refused_with_the_way_to_write_it(text: str, words: str):
    """The words say what stands there, why it is no day, and what to write instead."""
    with pytest.raises(BadInput, match="Write year, month and day, as 2026-11-05") as refused:
        day_written(text)
    assert words in str(refused.value)


@given(st.dates(min_value=date(1000, 1, 1)))
def test_every_day_comes_back_from_its_own_writing(day: date):
    """What the field itself writes it also reads."""
    assert day_written(day.isoformat()) == day
