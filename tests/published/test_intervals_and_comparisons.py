"""Intervals, the exact test and rules on samples against printed figures, quoted from memory.

The papers are named; the figures were written down from memory and not looked up again.
"""

import pytest

from hilum.seedlore.beta import share_at
from hilum.seedlore.comparing import compare, exact_chance
from hilum.seedlore.germination import wilson_interval
from hilum.seedlore.intervals import exact_interval
from hilum.seedlore.population import effective_size, plants_for_allele

KIND = "from memory"
KINDS = {"test_shares_of_the_beta_curve_as_worked_out": "derived"}

# R. G. Newcombe (1998), Stat. Med. 17, 857-872, Table I: methods 3 (score) and 5 (exact), 95 %.
SHARES = [
    (81, 263, (0.2553, 0.3662), (0.2527, 0.3676)),
    (15, 148, (0.0624, 0.1605), (0.0578, 0.1617)),
    (0, 20, (0.0, 0.1611), (0.0, 0.1684)),
    (1, 29, (0.0061, 0.1718), (0.0009, 0.1776)),
]


@pytest.mark.parametrize(("germinated", "sown", "score", "exact"), SHARES)
def test_printed_intervals_of_one_share(
    germinated: int, sown: int, score: tuple[float, float], exact: tuple[float, float]
):
    """Newcombe 1998, to the four decimals printed."""
    assert wilson_interval(germinated, sown, 0.95) == pytest.approx([100 * one for one in score], abs=0.0051)
    assert exact_interval(germinated, sown, 0.95) == pytest.approx([100 * one for one in exact], abs=0.0051)


def test_a_printed_interval_of_a_difference():
    """Newcombe 1998, Stat. Med. 17, 873-890, Table II: 56/70 less 48/80, method 10, 0.0524 to 0.3339."""
    found = compare(48, 80, 56, 70, 0.95)
    assert found.difference_points == pytest.approx(20)
    assert found.interval_points == pytest.approx((5.24, 33.39), abs=0.0051)


def test_the_lady_who_tasted_tea():
    """R. A. Fisher (1935), The Design of Experiments: all right 1 in 70, three of four right 16 in 70 more."""
    assert exact_chance(4, 4, 0, 4) == pytest.approx(2 / 70)  # both ends alike
    assert exact_chance(3, 4, 1, 4) == pytest.approx(34 / 70)


def test_fifty_nine_gametes_hold_a_form_of_five_percent():
    """D. R. Marshall and A. H. D. Brown (1975): 59 gametes at random, with a chance of 95 %."""
    assert plants_for_allele(0.05, 0.95).plants == 59


def test_one_narrow_generation_rules_the_effective_size():
    """S. Wright (1938): the harmonic mean of the generations; ten of 100 and 10 in turn give 18.2."""
    assert effective_size([100, 10] * 5) == pytest.approx(18.18, abs=0.005)


def test_shares_of_the_beta_curve_as_worked_out():
    """The middle 95 % of the curve for 45 of 50 with half a seed added on each side (Jeffreys), to ten figures.

    Source: own computation with forty digits.
    """
    low, high = (100 * share_at(chance, 45.5, 5.5) for chance in (0.025, 0.975))
    assert low == pytest.approx(79.4645171976952267, rel=1e-10)
    assert high == pytest.approx(96.0805635605816208, rel=1e-10)
