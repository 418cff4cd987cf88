"""Water in seed: there and back again, and what cannot be is refused."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hilum.seedlore.moisture import (
    MoistureError,
    dry_basis_percent,
    drying_loss_percent,
    mass_after_drying,
    mean_moisture_percent_wb,
    moisture_from_weight_percent_wb,
    oven_moisture_percent_wb,
    two_stage_moisture_percent_wb,
    wet_basis_percent,
)

percents = st.floats(0, 95)


@given(percents)
def test_the_two_bases_turn_into_each_other(moisture: float):
    """Fresh weight to dry weight and back."""
    assert wet_basis_percent(dry_basis_percent(moisture)) == pytest.approx(moisture, abs=1e-9)


@given(st.floats(0.001, 1e6), percents, percents)
def test_weight_tells_the_moisture_it_was_dried_to(mass: float, before: float, after: float):
    """The target weight, weighed, gives the target moisture; wetting is no error."""
    target = mass_after_drying(mass, before, after)
    assert moisture_from_weight_percent_wb(mass, before, target) == pytest.approx(after, abs=1e-6)
    assert drying_loss_percent(before, after) == pytest.approx(100 * (1 - target / mass), abs=1e-6)


@given(percents, percents)
def test_two_stages_are_one_loss_after_the_other(first: float, second: float):
    """What is left after both is the share left by the first of the share left by the second."""
    left = (100 - first) * (100 - second) / 100
    assert two_stage_moisture_percent_wb(first, second) == pytest.approx(100 - left, abs=1e-9)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: oven_moisture_percent_wb(250, 280, 300), "the wet seed most"),
        (lambda: oven_moisture_percent_wb(300, 310, 290), "the container must weigh least"),
        (lambda: oven_moisture_percent_wb(-1, 3, 2), "the container must weigh least"),
        (lambda: dry_basis_percent(100), "less than 100"),
        (lambda: wet_basis_percent(-1), "of dry weight cannot be"),
        (lambda: mass_after_drying(0, 10, 5), "A weight of 0 cannot be"),
        (lambda: mass_after_drying(10, 10, float("nan")), "A moisture of nan %"),
        (lambda: moisture_from_weight_percent_wb(100, 10, 80), "80 is less than the 90 that the seed weighs"),
        (lambda: mean_moisture_percent_wb(-1, 5), "A moisture of -1 %"),
    ],
)
def test_figures_that_cannot_be_are_refused_in_words(call, words: str):
    """Which figure, and why."""
    with pytest.raises(MoistureError, match=words):
        call()
