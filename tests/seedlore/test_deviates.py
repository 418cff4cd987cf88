"""Deviates: shares alive as normal deviates and back, for single figures and arrays."""

import math
from statistics import NormalDist

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hilum.seedlore.arrays import RangeError
from hilum.seedlore.deviates import (
    deviate_from_percent,
    deviate_from_share,
    percent_from_deviate,
    share_from_deviate,
)

shares = st.floats(1e-12, 1 - 1e-12)


@given(st.floats(-30, 30))
def test_shares_are_those_of_the_language_itself(deviate: float):
    """Python's own complementary error function is the witness, tails and all."""
    assert share_from_deviate(deviate) == pytest.approx(0.5 * math.erfc(-deviate / math.sqrt(2)), rel=2e-15)


@given(shares)
def test_deviates_are_those_of_the_language_itself(share: float):
    """Python's own inverse of the normal distribution is the witness."""
    assert deviate_from_share(share) == pytest.approx(NormalDist().inv_cdf(share), rel=1e-14, abs=1e-15)


@given(st.floats(-5, 5))
def test_out_and_back_is_the_same(deviate: float):
    """A deviate turned into a percentage and back is the deviate."""
    assert deviate_from_percent(percent_from_deviate(deviate)) == pytest.approx(deviate, abs=1e-9)


@given(st.lists(shares, min_size=1, max_size=20))
def test_arrays_agree_with_single_figures(given_shares: list[float]):
    """Each place of an array holds what the figure alone gives, in the same shape."""
    read = np.array(given_shares)
    assert deviate_from_share(read) == pytest.approx([deviate_from_share(one) for one in given_shares])
    assert deviate_from_share(read.reshape(1, -1)).shape == (1, len(given_shares))
    assert isinstance(deviate_from_share(given_shares[0]), float)


def test_nought_and_all_need_the_number_of_seeds():
    """10 of 10 and 400 of 400 are not the same; without the seeds there is no answer."""
    with pytest.raises(RangeError, match="Give the number of seeds"):
        deviate_from_percent(100)
    ten, many = deviate_from_percent(100, 10), deviate_from_percent(100, 400)
    assert 0 < ten < many < math.inf
    assert deviate_from_percent(0, 10) == pytest.approx(-ten)
    assert deviate_from_percent(np.array([0.0, 50.0, 100.0]), 10) == pytest.approx([-ten, 0, ten])


def test_one_seed_can_be_tested():
    """One of one counts as three quarters of a seed."""
    assert percent_from_deviate(deviate_from_percent(100, 1)) == pytest.approx(75)


@pytest.mark.parametrize("percent", [-1, 101, math.nan])
def test_a_percentage_out_of_range_is_refused(percent: float):
    """The range is named."""
    with pytest.raises(RangeError, match="Give 0 to 100 %"):
        deviate_from_percent(percent)


def test_the_ends_are_infinite_as_shares():
    """As shares nought and one lie infinitely far out, and back again."""
    assert deviate_from_share(0.0) == -math.inf
    assert deviate_from_share(1.0) == math.inf
    assert share_from_deviate(math.inf) == 1.0
    assert share_from_deviate(-math.inf) == 0.0
