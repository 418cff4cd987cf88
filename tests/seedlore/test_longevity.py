"""Longevity: the viability equation in every direction, its range, and what it must never do."""

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from hilum.seedlore.arrays import RangeError
from hilum.seedlore.conditions import lower_moisture_limit, storage_conditions
from hilum.seedlore.constants import ViabilityConstants, all_constants, given_constants
from hilum.seedlore.deviates import deviate_from_percent
from hilum.seedlore.longevity import (
    days_to_share_of_initial,
    days_to_standard,
    days_until,
    half_life_days,
    log_sigma,
    sigma_at_other_c,
    sigma_days,
    viability_percent,
)
from hilum.seedlore.needed import ki_needed, moisture_for, sigma_needed, storage_c_for
from hilum.seedlore.staying import StayInStore, deviates_lost, mean_sigma_days, swinging_sigma_days

ONION = ViabilityConstants(6.975, 3.47, 0.04, 0.000428)
SOUND = [one for one in all_constants() if one.standing == "sound"]

sets = st.sampled_from(SOUND)
moistures = st.floats(5, 25)
warmths = st.floats(-20, 90)
deviates = st.floats(-2, 4)
percents = st.floats(0.5, 99.5)


def sigma_at(one: ViabilityConstants, moisture: float, warmth: float) -> float:
    return float(sigma_days(one, storage_conditions(moisture, warmth)))


@given(sets, moistures, moistures, warmths)
def test_drier_seed_never_ages_faster(one: ViabilityConstants, first: float, second: float, warmth: float):
    """Within the range, at any temperature, for every sound set."""
    dry, moist = sorted((first, second))
    assert sigma_at(one, dry, warmth) >= sigma_at(one, moist, warmth)


@given(sets, moistures, warmths, warmths)
def test_colder_seed_never_ages_faster(one: ViabilityConstants, moisture: float, first: float, second: float):
    """Within the range, for every sound set."""
    cold, warm = sorted((first, second))
    assert sigma_at(one, moisture, cold) >= sigma_at(one, moisture, warm) * (1 - 1e-12)


@given(deviates, st.floats(0, 1e5), st.floats(0, 1e5), st.floats(1, 1e6))
def test_stored_seed_only_loses_life(ki: float, first: float, second: float, sigma: float):
    """Always between 0 and 100 %, and never more after a longer time."""
    early, late = sorted((first, second))
    less, more = viability_percent(ki, late, sigma), viability_percent(ki, early, sigma)
    assert 0 <= less <= more <= 100


@given(deviates, st.floats(0.01, 1e5), st.floats(1, 1e6))
def test_time_and_share_undo_each_other(ki: float, days: float, sigma: float):
    """The days until a share are the days after which it is alive; so are the start and the sigma."""
    percent = float(viability_percent(ki, days, sigma))
    assume(0.001 < percent < 99.9 and days / sigma > 1e-3)
    assert days_until(ki, percent, sigma) == pytest.approx(days, rel=1e-6)
    assert ki_needed(percent, days, sigma) == pytest.approx(ki, abs=1e-6)
    assert sigma_needed(ki, percent, days) == pytest.approx(sigma, rel=1e-6)


@given(sets, moistures, warmths, st.floats(0.2, 3))
def test_moisture_and_warmth_undo_the_equation(
    one: ViabilityConstants, moisture: float, warmth: float, lost: float
):
    """Asked for the store that gives a share in a time, both answers are the store it was reckoned from."""
    days = lost * sigma_at(one, moisture, warmth)
    ki = 2.0
    percent = float(viability_percent(ki, days, days / lost))
    assert moisture_for(one, ki, percent, days, warmth) == pytest.approx(moisture, rel=1e-6)
    assert storage_c_for(one, ki, percent, days, moisture) == pytest.approx(warmth, abs=1e-4)


@given(st.floats(1, 1e5), warmths, warmths)
def test_sigma_is_carried_to_another_temperature_and_back(sigma: float, first: float, second: float):
    """There and back again is the same."""
    there = sigma_at_other_c(sigma, first, second)
    assert sigma_at_other_c(there, second, first) == pytest.approx(sigma, rel=1e-9)


@given(st.lists(st.tuples(moistures, warmths), min_size=1, max_size=10))
def test_arrays_agree_with_single_stores(stores: list[tuple[float, float]]):
    """A million lots in one call give what each gives alone."""
    moisture, warmth = (np.array(column) for column in zip(*stores, strict=True))
    found = sigma_days(ONION, storage_conditions(moisture, warmth))
    assert found.shape == (len(stores),)
    assert found == pytest.approx([sigma_at(ONION, *one) for one in stores], rel=1e-12)
    assert log_sigma(ONION.ke, ONION.cw, ONION.ch, ONION.cq, moisture, warmth) == pytest.approx(
        np.log10(found)
    )


def test_halves_and_bars_are_named_apart():
    """85 % of the beginning is not a standard of 85 %; half of the seed is a third thing."""
    ki, sigma = deviate_from_percent(94), 500.0
    of_initial, standard = days_to_share_of_initial(ki, sigma), days_to_standard(ki, 85, sigma)
    assert standard < of_initial < half_life_days(ki, sigma)
    assert viability_percent(ki, of_initial, sigma) == pytest.approx(0.85 * 94)
    assert viability_percent(ki, standard, sigma) == pytest.approx(85)


def test_below_the_freezer_counts_as_minus_twenty_and_says_so():
    """The equation turns round near -34 °C; colder than -20 gains nothing and loses nothing."""
    cold = storage_conditions(6.0, -60.0)
    assert cold.storage_c == -20
    assert cold.notes == ("Storage below -20 °C counts as -20 °C.",)
    assert sigma_days(ONION, cold) == sigma_days(ONION, storage_conditions(6.0, -20.0))


@pytest.mark.parametrize(
    ("moisture", "warmth", "words"),
    [
        (4.0, 10.0, "moisture of 4 % of fresh weight is out of range: the equation holds from 5 to 25 %"),
        (26.0, 10.0, "moisture of 26 % of fresh weight is out of range: the equation holds from 5 to 25 %"),
        (8.0, 91.0, "storage temperature of 91 °C is out of range. Give at most 90 °C"),
        (0.0, 10.0, "Moisture must be above 0 and below 100 %"),
        (8.0, math.nan, "the temperature a number"),
    ],
)
def test_out_of_range_is_refused_by_name(moisture: float, warmth: float, words: str):
    """The range stands in the message, with what was given."""
    with pytest.raises(RangeError) as refused:
        storage_conditions(moisture, warmth)
    assert words in str(refused.value)


def test_a_forecast_ends_at_fifteen_percent():
    """The equation is asked up to 25 %, a store only up to 15."""
    assert storage_conditions(16.0, 20.0).beyond is False
    with pytest.raises(RangeError, match="from 5 to 15 %"):
        storage_conditions(16.0, 20.0, forecast=True)


def test_beyond_the_range_is_marked_where_it_is_allowed():
    """The figure comes, with a mark on it and words beside it; an array is marked place by place."""
    found = storage_conditions(3.0, 20.0, beyond=True)
    assert found.beyond is True
    assert "not to be relied on" in found.notes[0]
    several = storage_conditions(np.array([3.0, 8.0]), 20.0, beyond=True)
    assert list(several.beyond) == [True, False]


def test_drying_below_the_lower_limit_gains_nothing():
    """Pea has its limit at 6.2 %: seed dried to 5.5 % counts as 6.2, and the answer says so."""
    limit = lower_moisture_limit("Pisum sativum", None)
    assert limit is not None
    found = storage_conditions(5.5, 10.0, lower_limit_percent_wb=limit.percent_wb)
    assert found.moisture_percent_wb == 6.2
    assert "counts as that limit" in found.notes[0]


def test_oily_seed_may_be_drier_than_five_percent():
    """Its lower limit lies below five, so the equation may be asked down to there."""
    limit = lower_moisture_limit("Helianthus annuus", 45.0)
    assert limit is not None
    assert 2 < limit.percent_wb < 4
    assert storage_conditions(4.0, 10.0, lower_limit_percent_wb=limit.percent_wb).beyond is False
    assert lower_moisture_limit(None, None) is None


def test_stored_seed_cannot_be_asked_to_improve():
    """A share at the end that is not below the start has no sigma."""
    with pytest.raises(RangeError, match="only loses life"):
        sigma_needed(1.0, 90, 100)


@pytest.mark.parametrize(
    ("cw", "ch", "cq"), [(0, 0.03, 0.0005), (-1, 0.03, 0.0005), (4, -0.05, 0.001), (4, 0, 0)]
)
def test_constants_of_the_wrong_sign_are_refused(cw: float, ch: float, cq: float):
    """Seed that lived longer for being warm or damp would be no seed."""
    with pytest.raises(RangeError, match="would let"):
        given_constants(7.0, cw, ch, cq)


def test_constants_far_from_any_published_are_refused():
    """So that no power of ten runs away."""
    with pytest.raises(RangeError, match=r"A CH of 100 is out of range\. Give -1 to 1\."):
        given_constants(7.0, 4.0, 100.0, 0.0)


def test_universal_temperature_terms_stand_in():
    """KE and CW alone take the universal pair and name its source; half a pair is refused."""
    found = given_constants(6.895, 4.2)
    assert (found.ch, found.cq, found.temperature_terms) == (0.0329, 0.000478, "universal")
    assert "Dickie" in found.source
    with pytest.raises(RangeError, match="belong together"):
        given_constants(6.895, 4.2, 0.03)


@given(st.permutations([(730.0, 6.0, 5.0), (180.0, 8.0, 20.0), (30.0, 10.0, 35.0)]))
def test_the_order_of_stays_does_not_matter(stays: list[tuple[float, float, float]]):
    """What is lost adds up, whichever store came first."""
    lost = deviates_lost(ONION, [StayInStore(d, storage_conditions(m, c)) for d, m, c in stays])
    assert lost == pytest.approx(sum(d / sigma_at(ONION, m, c) for d, m, c in stays))


def test_a_swinging_shelf_ages_seed_faster_than_its_mean():
    """What is averaged is 1 / sigma; no swing gives the plain sigma."""
    plain = sigma_at(ONION, 7.0, 15.0)
    assert swinging_sigma_days(ONION, 7.0, 15.0, 0.0) == pytest.approx(plain)
    assert swinging_sigma_days(ONION, 7.0, 15.0, 10.0) < plain
    both = [storage_conditions(7.0, 5.0), storage_conditions(7.0, 25.0)]
    assert mean_sigma_days(ONION, both, [0.5, 0.5]) < plain
    with pytest.raises(RangeError, match="They must add to 1"):
        mean_sigma_days(ONION, both, [0.5, 0.6])


def test_no_stay_loses_nothing():
    """A lot that was never stored is as it was."""
    assert deviates_lost(ONION, []) == 0.0
