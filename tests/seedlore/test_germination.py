"""From counts to a verdict: rounding, interval, agreement of dishes, the bar."""

from statistics import NormalDist

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from hilum.errors import BadInput
from hilum.seedlore.germination import (
    VERDICTS,
    CountError,
    assess,
    germination_counts,
    judge,
    regrowing_bar_percent,
    replicate_tolerance,
    round_classes,
    wilson_interval,
)
from hilum.seedlore.standards import Standard

LEEK = Standard("Leek", 60, True, "7 CFR 201.31")


def a_bar(percent: float, counts_hard_seed: bool = False) -> Standard:
    return Standard("Pea", percent, counts_hard_seed, "our own")


# Counts ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("given_counts", "words"),
    [
        (
            {"of": 100, "normal": [104]},
            "in dish 1, 104 seeds germinated, but only 100 were sown. Correct one",
        ),
        (
            {"of": 50, "normal": [40, 41], "hard": [3, 12]},
            "in dish 2, the classes add up to 53 seeds, but only 50",
        ),
        ({"of": [50, 50], "normal": [40]}, "2 dishes were sown, but 1 figures are given as normal"),
        ({"of": 50, "normal": []}, "no dish was given"),
        ({"of": 0, "normal": [0]}, "dish 1 has 0 sown seeds"),
        ({"of": 50, "normal": [-1]}, "dish 1 has -1 normal seeds"),
        (
            {"of": 50, "normal": [40], "abnormal": [1], "hard": [0], "fresh": [0], "dead": [8]},
            "the classes add up to 49 seeds, but 50 were sown. Find the missing seeds",
        ),
    ],
)
def test_counts_that_cannot_be_are_refused_with_their_dish(given_counts: dict, words: str):
    """The message gives both figures and what to do."""
    with pytest.raises(CountError, match=words) as refused:
        germination_counts(**given_counts)
    assert str(refused.value).startswith("This test cannot be: ")


def test_a_class_that_was_not_counted_is_not_nought():
    """Unknown stays unknown in sums and in the report."""
    counts = germination_counts([50, 25], [40, 20], hard=[2, 1])
    assert (counts.total("hard"), counts.total("dead")) == (3, None)
    classes = assess(counts, None).classes
    assert (classes.normal, classes.hard, classes.dead, classes.not_classed) == (80, 4, None, 16)


# Rounding ----------------------------------------------------------------------------------------

five_classes = st.lists(st.integers(0, 200), min_size=5, max_size=5)


@given(five_classes)
def test_rounded_classes_add_to_100_and_stay_within_one(parts: list[int]):
    """Whatever the counts; normal seedlings are always rounded to the nearest."""
    sown = sum(parts)
    assume(sown)
    normal, abnormal, hard, fresh, dead = parts
    found = round_classes(sown, normal=normal, abnormal=abnormal, hard=hard, fresh=fresh, dead=dead)
    whole = [found.normal, found.abnormal, found.hard, found.fresh, found.dead]
    assert sum(whole) == 100
    assert found.not_classed == 0
    assert all(abs(one - 100 * part / sown) < 1 for one, part in zip(whole, parts, strict=True))
    assert found.normal == (200 * normal + sown) // (2 * sown)


@given(five_classes, st.sets(st.sampled_from(["abnormal", "hard", "fresh", "dead"]), min_size=1))
def test_seeds_of_classes_not_counted_are_reported_as_not_classed(parts: list[int], left_out: set[str]):
    """Never as dead."""
    sown = sum(parts)
    assume(sown)
    named = dict(zip(["abnormal", "hard", "fresh", "dead"], parts[1:], strict=True))
    counted = {name: count for name, count in named.items() if name not in left_out}
    found = round_classes(sown, normal=parts[0], **counted)
    assert all(getattr(found, name) is None for name in left_out)
    whole = [getattr(found, name) for name in counted]
    assert found.normal + sum(whole) + found.not_classed == 100


def test_ties_are_settled_in_the_order_of_the_classes():
    """Abnormal, hard, fresh, dead."""
    found = round_classes(8, normal=4, abnormal=1, hard=1, fresh=1, dead=1)
    assert (found.normal, found.abnormal, found.hard, found.fresh, found.dead) == (50, 13, 13, 12, 12)


@pytest.mark.parametrize(
    ("sown", "classes", "words"),
    [
        (100, {"normal": 101}, "do not fit into 100 seeds"),
        (
            100,
            {"normal": 90, "abnormal": 1, "hard": 1, "fresh": 1, "dead": 1},
            "6 seeds fewer than the 100 sown",
        ),
        (0, {"normal": 0}, "do not fit into 0 seeds"),
        (100, {"normal": -1}, "do not fit"),
    ],
)
def test_classes_that_do_not_fit_are_refused(sown: int, classes: dict, words: str):
    """Nothing is stretched to 100."""
    with pytest.raises(CountError, match=words):
        round_classes(sown, **classes)


# Interval ----------------------------------------------------------------------------------------


@given(st.integers(1, 500), st.data(), st.floats(0.5, 0.99))
def test_the_ends_of_the_interval_solve_the_score_equation(sown: int, data: st.DataObject, confidence: float):
    """An independent witness: at each end the observed share lies exactly z standard errors away."""
    germinated = data.draw(st.integers(0, sown))
    low, high = (bound / 100 for bound in wilson_interval(germinated, sown, confidence))
    share, z = germinated / sown, NormalDist().inv_cdf((1 + confidence) / 2)
    assert 0 <= low <= share <= high <= 1
    for bound in {low, high} - {0.0, 1.0}:
        assert abs(share - bound) == pytest.approx(
            z * (bound * (1 - bound) / sown) ** 0.5, rel=1e-6, abs=1e-9
        )


@pytest.mark.parametrize(
    ("germinated", "sown", "confidence"), [(3, 2, 0.9), (-1, 2, 0.9), (0, 0, 0.9), (1, 2, 1)]
)
def test_an_interval_of_impossible_counts_is_refused(germinated: int, sown: int, confidence: float):
    """Also a confidence of 0 or 1."""
    with pytest.raises(CountError, match="cannot"):
        wilson_interval(germinated, sown, confidence)


# Dishes that agree -------------------------------------------------------------------------------


def test_fifties_and_twentyfives_are_joined_to_hundreds():
    """Eight fifties are four hundreds, four fifties two."""
    eight = replicate_tolerance([44, 45, 47, 42, 48, 48, 41, 43], 50)
    assert (eight.replicates, eight.range_percent, eight.allowed_percent) == (4, 12, 12)
    assert "joined from smaller dishes" in eight.rule
    assert "7 CFR 201.55" in eight.source
    sixteen = replicate_tolerance([22] * 16, 25)
    assert (sixteen.replicates, sixteen.mean_percent, sixteen.within) == (4, 88, True)
    four = replicate_tolerance([50, 50, 50, 42], 50)
    assert (four.replicates, four.range_percent, four.allowed_percent, four.within) == (2, 8, 6, False)
    mixed = replicate_tolerance([90, 44, 45], [100, 50, 50])
    assert (mixed.replicates, mixed.range_percent) == (2, 1)


@pytest.mark.parametrize(
    ("germinated", "seeds", "allowed"),
    [
        ([20, 22], 25, 3.1698 * (84 * 16 / 25) ** 0.5),
        ([90, 90, 90], 100, 3.6823 * (90 * 10 / 100) ** 0.5),
        ([20, 20, 20, 20], 25, 3.984 * (80 * 20 / 25) ** 0.5),  # one hundred only, so not joined
        ([45] * 6, 50, 4.3609 * (90 * 10 / 50) ** 0.5),
        ([100, 99], 100, 3.1698 * (99.5 * 0.5 / 100) ** 0.5),  # no value is printed there
    ],
)
def test_other_dishes_are_compared_by_the_theory_behind_the_table(
    germinated: list[int], seeds: int, allowed: float
):
    """Points of the studentized range times the binomial spread of a dish."""
    found = replicate_tolerance(germinated, seeds)
    assert found.allowed_percent == pytest.approx(allowed, rel=1e-4)
    assert "by the theory behind the regulation's table" in found.rule


def test_one_dish_has_nothing_to_be_compared_with():
    """No tolerance is made up."""
    found = replicate_tolerance([88], 100)
    assert (found.range_percent, found.allowed_percent, found.within) == (None, None, None)
    assert found.rule == "one replicate only: there is nothing to compare it with"


@pytest.mark.parametrize("count", [0, 25, 100])
def test_dishes_that_are_all_alike_agree(count: int):
    """Also at 0 and 100 %, where the table prints nothing."""
    assert replicate_tolerance([count] * 4, 100).within is True
    assert replicate_tolerance([count // 4] * 3, 25).within is True


def test_unequal_dishes_say_that_they_are():
    """Their mean size is the harmonic one."""
    found = replicate_tolerance([10, 35], [20, 40])
    assert "2 replicates of 26.7 seeds on average (unequal dishes)" in found.rule
    assert found.range_percent == 37.5


@pytest.mark.parametrize(("germinated", "seeds"), [([], 100), ([5], [10, 10]), ([11], 10), ([-1], 10)])
def test_impossible_dishes_are_refused(germinated: list[int], seeds: int | list[int]):
    """The dish is named."""
    with pytest.raises(CountError):
        replicate_tolerance(germinated, seeds)


@given(st.lists(st.integers(0, 50), min_size=2, max_size=20), st.randoms())
def test_dishes_compared_by_the_theory_may_stand_in_any_order(counts: list[int], shuffler):
    """Only joining to hundreds minds the order."""
    shuffled = list(counts)
    shuffler.shuffle(shuffled)
    one, other = (replicate_tolerance(order, 51) for order in (counts, shuffled))
    assert (one.range_percent, one.within) == (other.range_percent, other.within)


# Verdict -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("of", "normal", "bar", "word"),
    [
        (100, [86, 88, 84, 90], LEEK, "keep"),
        (100, [60, 60], LEEK, "keep"),
        (100, [59, 60], LEEK, "keep"),  # 59.5 is rounded to 60
        (100, [59, 59], LEEK, "regrow"),
        (100, [80, 40], LEEK, "retest"),
        (100, [80, 40], None, "retest"),
        (100, [86, 88], None, "no standard"),
        (10, [7, 6], LEEK, "too few seeds to say"),
        (10, [2, 1], LEEK, "regrow"),  # 20 seeds are enough to see that it is far below
        (25, [24, 25], LEEK, "keep"),
        (50, [30, 29], LEEK, "regrow"),  # 100 seeds are held against the bar as they are
        (49, [30, 29], LEEK, "too few seeds to say"),
        (25, [25, 8], LEEK, "too few seeds to say"),  # too few goes before dishes that disagree
    ],
)
def test_a_verdict_follows_from_seeds_dishes_and_bar(
    of: int, normal: list[int], bar: Standard | None, word: str
):
    """Keep, retest, regrow, too few, no standard."""
    verdict = judge(germination_counts(of, normal), bar)
    assert verdict.word == word
    assert verdict.word in VERDICTS


def test_hard_seed_counts_where_the_standard_says_so():
    """And only where it was counted."""
    counts = germination_counts(100, [70, 70], hard=[10, 12])
    assert judge(counts, a_bar(80, counts_hard_seed=True)).word == "keep"
    assert judge(counts, a_bar(80)).word == "regrow"
    assert judge(germination_counts(100, [70, 70]), a_bar(80, counts_hard_seed=True)).word == "regrow"
    words = judge(counts, a_bar(80, counts_hard_seed=True)).why
    assert words == (
        "germination with hard seed 81 % of 200 seeds against the standard for Pea, 80 %, hard seed counted: "
        "it reaches the bar."
    )


def test_hard_seed_that_was_not_counted_is_pointed_out_where_there_can_be_some():
    """A lot of peas below the bar may only be hard; a leek cannot be."""
    bar, words = a_bar(80, counts_hard_seed=True), "Hard seed was not counted, and the standard counts it"
    uncounted = germination_counts(100, [70, 70])
    assert words in judge(uncounted, bar, hard_seed_possible=True).why
    assert words in assess(uncounted, bar, hard_seed_possible=True).verdict.why
    assert words not in judge(uncounted, bar).why
    counted = germination_counts(100, [70, 70], hard=[1, 1])
    assert words not in judge(counted, bar, hard_seed_possible=True).why


def test_fresh_seed_is_pointed_out_before_a_lot_is_regrown():
    """Dormant is not dead."""
    verdict = judge(germination_counts(100, [40, 40], fresh=[30, 28]), LEEK)
    assert verdict.word == "regrow"
    assert "58 of 200 seeds were fresh: perhaps dormant, not dead" in verdict.why


def test_a_verdict_names_its_bar():
    """Which bar is meant is always said."""
    verdict = judge(germination_counts(10, [7, 6]), LEEK)
    assert (verdict.bar, verdict.bar_percent) == ("the standard for Leek, 60 %, hard seed counted", 60)
    assert "most likely lies between 47 and 80 %. Test more seeds, 100 in all or more." in verdict.why


@given(st.lists(st.integers(0, 100), min_size=1, max_size=8), st.integers(1, 100))
def test_every_test_gets_one_verdict_with_a_reason(normal: list[int], percent: int):
    """Any counts, any bar."""
    result = assess(germination_counts(100, normal), a_bar(percent))
    assert result.verdict.word in VERDICTS
    assert result.verdict.why
    assert result.verdict.compared_percent == result.percent


@pytest.mark.parametrize("first", [0, 101, -3])
def test_a_first_result_out_of_range_gives_no_bar(first: float):
    """85 % of nothing is nothing."""
    with pytest.raises(BadInput, match="gives no bar"):
        regrowing_bar_percent(first)
