"""Speed of germination, two tests compared, exact and scattered intervals: what must always hold."""

import math
import random
from itertools import accumulate

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hilum.seedlore.beta import chance_below, share_at
from hilum.seedlore.comparing import compare, exact_chance
from hilum.seedlore.counts import CountError
from hilum.seedlore.first_test import first_test
from hilum.seedlore.germination import wilson_interval
from hilum.seedlore.intervals import exact_interval, scattered_interval
from hilum.seedlore.speed import germination_speed, newly_germinated, time_to
from hilum.seedlore.survival_fit import fit_survival

tests_of = st.tuples(st.integers(1, 200), st.floats(0, 1)).map(lambda one: (round(one[0] * one[1]), one[0]))
counts = st.lists(st.integers(0, 20), min_size=1, max_size=14)


@given(tests_of, st.floats(0.5, 0.99))
def test_an_exact_interval_cuts_the_tails_it_says(one: tuple[int, int], confidence: float):
    """At each bound the binomial chance of a result as far out is just the tail."""
    germinated, sown = one
    low, high = exact_interval(germinated, sown, confidence)
    tail = (1 - confidence) / 2
    assert 0 <= low <= 100 * germinated / sown <= high <= 100
    if germinated:
        above = sum(binomial(n, sown, low / 100) for n in range(germinated, sown + 1))
        assert above == pytest.approx(tail, rel=1e-6)
    if germinated < sown:
        below = sum(binomial(n, sown, high / 100) for n in range(germinated + 1))
        assert below == pytest.approx(tail, rel=1e-6)


def binomial(germinated: int, sown: int, share: float) -> float:
    return math.comb(sown, germinated) * share**germinated * (1 - share) ** (sown - germinated)


@given(st.floats(0.001, 0.999), st.floats(1, 300), st.floats(1, 300))
def test_beta_shares_and_chances_undo_each_other(chance: float, a: float, b: float):
    """Out and back for all that counts of seed can give, and the mirror adds to one."""
    share = share_at(chance, a, b)
    assert chance_below(share, a, b) == pytest.approx(chance, abs=1e-8)
    assert chance_below(0.3, a, b) + chance_below(0.7, b, a) == pytest.approx(1, abs=1e-11)


def test_one_seed_tells_nearly_nothing():
    """One of one, none of one: from five percent up, to ninety-five percent."""
    assert exact_interval(1, 1, 0.9) == pytest.approx((5, 100))
    assert exact_interval(0, 1, 0.9) == pytest.approx((0, 95))
    low, high = scattered_interval([1], [1])
    assert low < 30
    assert high == 100


def test_dishes_that_disagree_widen_the_interval():
    """The same total, the same dishes: only the scatter differs, and the more of it the wider."""
    widths = []
    for spread in (0, 4, 8, 12):
        low, high = scattered_interval(
            [40 - spread, 40 + spread, 40 - spread // 2, 40 + spread // 2], [52] * 4
        )
        widths.append(high - low)
    assert widths == sorted(widths)
    plain = wilson_interval(160, 208)
    assert widths[-1] > 1.5 * (plain[1] - plain[0])
    assert widths[0] < 1.3 * (plain[1] - plain[0])


def test_scattered_dishes_are_held_where_the_plain_interval_misses_them():
    """150 drawn tests of four scattered dishes (correlation 0.05): nine in ten or nearly, not six."""
    draw, held, plainly = random.Random(11), 0, 0
    for _ in range(150):
        shares = [draw.betavariate(0.9 * 19, 0.1 * 19) for _ in range(4)]
        grown = [sum(draw.random() < share for _ in range(50)) for share in shares]
        low, high = scattered_interval(grown, [50] * 4)
        held += low <= 90 <= high
        low, high = wilson_interval(sum(grown), 200)
        plainly += low <= 90 <= high
    assert held >= 120
    assert plainly <= 105


def test_the_ends_belong_to_the_interval():
    """None or all germinated: the interval reaches the end itself."""
    assert scattered_interval([0, 0], [25, 25])[0] == 0
    assert scattered_interval([25, 25], [25, 25])[1] == 100


@given(tests_of, tests_of)
def test_comparing_the_other_way_round_changes_the_sign_only(one: tuple[int, int], other: tuple[int, int]):
    """Difference and interval change their sign, the chance stays."""
    there, back = compare(*one, *other), compare(*other, *one)
    assert there.difference_points == pytest.approx(-back.difference_points)
    assert there.interval_points == pytest.approx((-back.interval_points[1], -back.interval_points[0]))
    assert there.chance == pytest.approx(back.chance, rel=1e-9)
    assert 0 < there.chance <= 1


@given(tests_of)
def test_a_test_does_not_differ_from_itself(one: tuple[int, int]):
    """No difference, and chance makes it always."""
    found = compare(*one, *one)
    assert found.chance == pytest.approx(1)
    assert not found.real
    assert "Both tests show the same" in found.words


def test_a_comparison_on_the_border_says_so():
    """The span of 45 of 50 against 38 of 50 leaves out nought; the exact chance, 11 in a hundred, is not small."""
    words = compare(45, 50, 38, 50).words
    assert "need not be real" in words
    assert "between \N{MINUS SIGN}26 and \N{MINUS SIGN}2 points" in words
    assert "this is the border" in words
    assert "border" not in compare(45, 50, 44, 50).words


def test_a_comparison_is_told_in_plain_words():
    """Real or not, between what, and how little few seeds tell."""
    assert "so it is real" in compare(90, 100, 60, 100).words
    small = compare(18, 20, 15, 20).words
    assert "need not be real" in small
    assert "With only 20 seeds in a test, much stays hidden" in small


def test_the_exact_chance_is_that_of_counting_every_table():
    """Whole numbers without logarithms are the witness."""
    ways = [math.comb(9, n) * math.comb(7, 8 - n) for n in range(1, 9)]
    found = ways[6 - 1]
    wanted = sum(one for one in ways if one <= found) / math.comb(16, 8)
    assert exact_chance(6, 9, 2, 7) == pytest.approx(wanted, rel=1e-12)


@given(counts)
def test_speed_stays_within_the_days_of_counting(new: list[int]):
    """Every time lies between the first and the last day with germinated seed; shares stay shares."""
    days = list(range(1, len(new) + 1))
    found = germination_speed(days, new, max(1, sum(new)))
    if sum(new) == 0:
        assert found.mean_days is None
        assert "Nothing germinated" in found.notes[0]
        return
    assert found.first_day <= found.mean_days * (1 + 1e-12)
    assert found.mean_days <= found.last_day * (1 + 1e-12)
    if found.t50_half_days is not None:
        assert 1 <= found.t50_half_days <= found.t50_days <= found.last_day
    if found.synchrony is not None:
        assert 0 <= found.synchrony <= 1
    assert found.uncertainty_bits >= 0


@given(counts)
def test_totals_and_new_seed_are_the_same_counts(new: list[int]):
    """Running totals taken apart again are the new seed of each day."""
    assert list(newly_germinated(list(accumulate(new)))) == new


def test_one_seed_has_a_time_but_no_spread():
    """Variance and synchrony of one seed do not exist."""
    found = germination_speed([4, 7], [0, 1], 10)
    assert (found.mean_days, found.t50_days, found.variance, found.synchrony) == (7, 7, None, None)
    assert "One seed germinated" in found.notes[0]


def test_half_before_the_first_count_is_not_made_up():
    """Nobody looked earlier, so nobody knows when the first half came up."""
    found = germination_speed([5, 7], [30, 2], 40)
    assert found.t50_days is None
    assert "before the first count" in found.notes[0]
    assert time_to([5, 7], [30, 2], 31) == 6


@pytest.mark.parametrize(
    ("days", "new", "sown", "words"),
    [
        ([], [], 10, "Give one count for each day"),
        ([3, 3], [1, 1], 10, "rise from one count to the next"),
        ([0, 3], [1, 1], 10, "above 0"),
        ([3, 5], [4, -1], 10, "not totals"),
        ([3, 5], [4, 9], 10, "not running totals"),
    ],
)
def test_counts_that_cannot_be_are_refused(days: list[int], new: list[int], sown: int, words: str):
    """With the likeliest slip: totals given for new seed."""
    with pytest.raises(CountError, match=words):
        germination_speed(days, new, sown)


def test_falling_totals_are_refused():
    """A running total cannot fall."""
    with pytest.raises(CountError, match="cannot fall"):
        newly_germinated([3, 2])


def test_a_first_test_above_ninety_is_enough():
    """Else 200 seeds more, and the mean of both."""
    assert first_test([95, 92]).finished
    assert "test 200 seeds more" in first_test([90, 90]).words
    with pytest.raises(CountError, match="each replicate"):
        first_test([])


def test_tests_without_decline_have_no_sigma():
    """Rising results are no proof of endless life: no figure, no limits."""
    fit = fit_survival([0, 3, 6], [44, 45, 46], [50, 50, 50])
    assert fit.slope > 0
    assert (fit.sigma, fit.half_life, fit.half_life_se, fit.half_life_limits()) == (None, None, None, None)


def test_an_unsure_decline_cannot_be_bounded():
    """A slope within its own error gives a half-life but no limits to it."""
    fit = fit_survival([0, 3], [46, 45], [50, 50])
    assert fit.half_life is not None
    assert fit.half_life_limits() is None


@pytest.mark.parametrize(
    ("times", "grown", "words"),
    [
        ([0, 0], [40, 38], "two different times"),
        ([0, 1], [50, 50], "one end"),
        ([0, 1], [51, 40], "cannot have"),
    ],
)
def test_series_without_a_curve_are_refused(times: list[int], grown: list[int], words: str):
    """With the reason."""
    with pytest.raises(CountError, match=words):
        fit_survival(times, grown, [50, 50])


def test_a_lot_that_died_between_two_tests_has_no_curve():
    """All alive, then all dead: any steep curve fits, so none is given."""
    with pytest.raises(CountError, match="all seed died from one to the next"):
        fit_survival([0, 1, 2, 3], [50, 50, 0, 0], [50, 50, 50, 50])
