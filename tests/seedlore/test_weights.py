"""Seeds and grams: nothing is promised that is not there, and no packet is short."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hilum.seedlore.weights import (
    WeightError,
    mass_of,
    packet_fill,
    reserve_seeds,
    seeds_in,
    thousand_seed_weight,
    weighing_decimals,
)

weights_ug = st.integers(1_000, 2_000_000_000)


@given(st.integers(0, 1_000_000), weights_ug)
def test_seeds_weighed_out_are_all_there(seeds: int, tsw_ug: int):
    """Mass up, seeds down: the way there and back never loses a seed."""
    assert seeds_in(mass_of(seeds, tsw_ug), tsw_ug) >= seeds


@given(st.integers(0, 10_000_000), weights_ug)
def test_seeds_promised_from_a_mass_weigh_no_more_than_it(mass_mg: int, tsw_ug: int):
    """Seeds are rounded down."""
    assert mass_of(seeds_in(mass_mg, tsw_ug), tsw_ug) <= mass_mg


@given(st.integers(1, 2000), weights_ug, st.sampled_from([1, 5, 10, 100]), st.integers(1, 100))
def test_a_packet_is_never_short_and_at_most_one_step_over(
    seeds: int, tsw_ug: int, step_mg: int, percent: int
):
    """The fill is a whole number of the scale's steps."""
    fill = packet_fill(seeds, tsw_ug, percent, viable=True, step_mg=step_mg)
    assert fill.fill_mg % step_mg == 0
    assert 0 <= fill.fill_mg - fill.exact_mg < step_mg
    assert fill.seeds_filled >= fill.seeds_wanted
    assert fill.seeds_wanted * percent >= 100 * seeds > (fill.seeds_wanted - 1) * percent


def test_a_fill_too_light_for_the_scale_asks_for_a_spoon():
    """Forty seeds of 0.1 mg cannot be weighed on a scale that shows 0.01 g."""
    fill = packet_fill(40, 100_000)
    assert fill.too_light
    assert "count what five level spoons of a small measure hold" in fill.why
    assert not packet_fill(40, 2_577_000).too_light


def test_without_a_germination_figure_no_packet_is_filled_by_viable_seeds():
    """The message says what to do."""
    with pytest.raises(WeightError, match="Test it first, or fill by number of seeds"):
        packet_fill(40, 2_577_000, viable=True)
    assert packet_fill(40, 2_577_000, germination_percent=50).seeds_wanted == 40  # not asked for, not used


@pytest.mark.parametrize("percent", [0, -1, 101])
def test_a_germination_out_of_range_fills_no_packet(percent: float):
    """Nought would need endless seed."""
    with pytest.raises(WeightError, match="cannot fill a packet"):
        packet_fill(40, 2_577_000, percent, viable=True)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: seeds_in(-1, 100), "A mass of -1 mg cannot be"),
        (lambda: seeds_in(1, 0), "The thousand-seed weight is 0 µg"),
        (lambda: mass_of(-1, 100), "-1 seeds cannot be"),
        (lambda: mass_of(1, -5), "The thousand-seed weight is -5 µg"),
        (lambda: packet_fill(0, 100), "The number of seeds is 0 seeds"),
        (lambda: packet_fill(1, 100, step_mg=0), "The step of the scale is 0 mg"),
        (lambda: thousand_seed_weight([], 100), "0 weights and 0 counts"),
        (lambda: thousand_seed_weight([1.0, 2.0], [100]), "2 weights and 1 counts"),
        (lambda: thousand_seed_weight([0.0], 100), "A replicate is 0 g"),
        (lambda: thousand_seed_weight([1.0], 0), "A count is 0 seeds"),
        (lambda: weighing_decimals(float("nan")), "The mass is nan g"),
        (lambda: reserve_seeds(0, 0.8, 0.5), "The number of plants is 0 plants"),
        (lambda: reserve_seeds(10, 80, 0.5), "A germination of 80 cannot be: give a fraction"),
        (lambda: reserve_seeds(10, 0.8, 0), "A field survival of 0 cannot be"),
        (lambda: reserve_seeds(10, 0.8, 0.5, 0.5), "too small"),
    ],
)
def test_figures_that_cannot_be_are_refused_in_words(call, words: str):
    """Which figure, and what to give instead."""
    with pytest.raises(WeightError, match=words):
        call()


def test_one_replicate_has_no_coefficient_of_variation():
    """A small lot: fifty seeds, once."""
    found = thousand_seed_weight([0.15], 50)
    assert (found.tsw_ug, found.cv_percent, found.retest, found.seeds_counted) == (3_000_000, None, False, 50)
    assert found.shown == "3.000"


def test_replicates_of_different_size_are_brought_to_a_thousand():
    """Fifty and a hundred seeds of one lot."""
    found = thousand_seed_weight([0.15, 0.30], [50, 100])
    assert found.tsw_g == pytest.approx(3)
    assert found.seeds_counted == 150


def test_replicates_that_disagree_ask_for_eight_more():
    """Until sixteen are there; then the far ones are left out."""
    eight = [0.31, 0.298, 0.305, 0.335, 0.301, 0.289, 0.327, 0.296]
    first = thousand_seed_weight(eight, 100)
    assert first.retest
    assert "Count and weigh 8 more" in first.why
    second = thousand_seed_weight([*eight, 0.306, 0.311, 0.299, 0.303, 0.308, 0.297, 0.304, 0.42], 100)
    assert not second.retest
    assert second.seeds_counted == 1500
    assert "1 of 16 lay further than 2 standard deviations" in second.why


@pytest.mark.parametrize(
    ("plants", "germination", "survival", "seeds"), [(100, 0.8, 0.5, 500), (20, 0.9, 0.7, 64), (1, 1, 1, 2)]
)
def test_the_reserve_grows_the_variety_twice(plants: int, germination: float, survival: float, seeds: int):
    """Plants / (germination x field survival) x 2, rounded up."""
    assert reserve_seeds(plants, germination, survival) == seeds
