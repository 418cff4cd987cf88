"""Packets: no packet is short, and a wrong fill is found by weighing ten."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hilum.seedlore.packets import check_of_ten, spoon_fill, tolerance_of_ten, usual_packet_seeds
from hilum.seedlore.weights import WeightError, mass_of


@given(st.integers(1, 2000), st.integers(1, 5000), st.integers(1_000, 2_000_000_000))
def test_spoons_hold_at_least_the_seeds_wanted_and_one_spoon_less_does_not(seeds: int, five: int, tsw: int):
    """Rounded up to whole spoons, and never by more than one."""
    fill = spoon_fill(seeds, five, tsw)
    assert fill.spoons * five >= 5 * seeds > (fill.spoons - 1) * five
    assert fill.seeds_filled >= seeds
    assert fill.mass_mg == mass_of(fill.seeds_filled, tsw)


@pytest.mark.parametrize(
    ("filled_mg", "verdict"),
    [(11_100, "right"), (11_185, "right"), (11_186, "too much"), (11_015, "right"), (11_014, "too little")],
)
def test_ten_packets_are_right_within_the_tolerance(filled_mg: int, verdict: str):
    """Ten times 110 mg and 10 g of paper: 5 % of 1.1 g and three steps of 10 mg are 85 mg either way."""
    assert tolerance_of_ten(110, 10) == 85
    assert check_of_ten(110, empty_mg=10_000, filled_mg=filled_mg, step_mg=10).verdict == verdict


def test_a_wrong_fill_says_by_how_much_and_what_to_do():
    """Half the seed is pointed out in words."""
    found = check_of_ten(110, empty_mg=10_000, filled_mg=10_550, step_mg=10)
    assert found.words.endswith("That is 50 % too little: empty them and fill again.")
    assert "Ten packets hold 0.55 g; 1.01 g to 1.19 g is right." in found.words


def test_packets_lighter_filled_than_empty_are_refused():
    """The two weights were swapped."""
    with pytest.raises(WeightError, match="Weigh both again"):
        check_of_ten(110, empty_mg=11_000, filled_mg=10_000, step_mg=10)


def test_larger_seed_makes_smaller_packets():
    """And seed of unknown weight has a figure of its own."""
    sizes = [usual_packet_seeds(tsw_g) for tsw_g in (0.1, 2.6, 12.0, 90.0, 400.0)]
    assert sizes == sorted(sizes, reverse=True)
    assert usual_packet_seeds(None) == 30
