"""Lot numbers: made, checked and read back; what a slip does to them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stdnum.iso7064 import mod_37_2

from hilum.catalogue import numbering
from hilum.catalogue.nearest import count_slips
from hilum.errors import BadInput

LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"
numbers = st.builds(
    numbering.compose,
    st.text(LETTERS, min_size=3, max_size=3),
    st.one_of(st.none(), st.integers(1800, 2200)),
    st.integers(1, 99_999),
).filter(lambda number: number is not None)


@given(number=numbers)
def test_a_number_is_well_formed_short_and_plain(number: str) -> None:
    """At most sixteen upper-case letters, digits and hyphens, never the star, right by its own check."""
    assert len(number) <= 16
    assert set(number) <= set("ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-")
    assert numbering.is_well_formed(number)
    assert numbering.looks_like_number(number)


@given(number=numbers, at=st.integers(0, 20), other=st.sampled_from("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"))
def test_one_wrong_character_is_always_noticed(number: str, at: int, other: str) -> None:
    """The check catches every single substitution."""
    bare = numbering.as_typed(number)
    at %= len(bare)
    if bare[at] != other:
        assert not numbering.is_well_formed(bare[:at] + other + bare[at + 1 :])


@given(number=numbers, at=st.integers(0, 20))
def test_two_swapped_neighbours_are_always_noticed(number: str, at: int) -> None:
    """The check catches every swap of two neighbours that differ."""
    bare = numbering.as_typed(number)
    at %= len(bare) - 1
    swapped = bare[:at] + bare[at + 1] + bare[at] + bare[at + 2 :]
    if swapped != bare:
        assert not numbering.is_well_formed(swapped)


def test_a_serial_whose_check_is_hard_to_read_is_skipped() -> None:
    """Exactly the serials for which a general library gives *, I or O have no number."""
    serials = range(1, 1_000)
    skipped = [serial for serial in serials if numbering.compose("LEK", 2025, serial) is None]
    assert skipped == [
        serial for serial in serials if mod_37_2.calc_check_digit(f"LEK25{serial:03d}") in "*IO"
    ]
    assert 0 < len(skipped) < 1_000 / 10


def test_a_number_that_would_be_too_long_is_refused() -> None:
    """Sixteen characters is the most a small code and a scanner's field take."""
    with pytest.raises(BadInput, match="longer than 16 characters"):
        numbering.compose("LEK", 2025, 1_000_000_000)


@pytest.mark.parametrize(
    ("one", "other", "slips"),
    [
        ("LEK25001S", "LEK25001S", 0),
        ("LEK25001S", "LEK25001T", 1),
        ("LEK25001S", "LEK2501S", 1),
        ("LEK2501S", "LEK25001S", 1),
        ("LKE25001S", "LEK25001S", 1),
        ("LKE25010S", "LEK25001S", 2),
        ("", "ABC", 3),
        ("ABC", "", 3),
    ],
)
def test_slips_are_counted_as_a_typist_would(one: str, other: str, slips: int) -> None:
    """A wrong, missing or extra character and two swapped neighbours are one slip each."""
    assert count_slips(one, other) == slips
