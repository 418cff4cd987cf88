"""Sequential tests: plans, decisions, and what a plan does on average."""

import random
from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hilum.seedlore.sequential import (
    ANOTHER,
    KEEP,
    REGROW,
    PlanError,
    characteristics,
    computed_plan,
    decide,
    sequential_plan,
)

standards = st.integers(20, 90).map(float)
sizes = st.integers(5, 60)


@settings(max_examples=30)
@given(standards, sizes)
def test_more_germinated_never_lowers_a_decision(standard: float, size: int):
    """In every row, regrow comes below sow another and that below keep."""
    plan = computed_plan(standard, group_size=size, groups=4)
    order = [REGROW, ANOTHER, KEEP]
    for step in plan.steps:
        words = [decide(plan, [step.tested], [grown]).word for grown in range(step.tested + 1)]
        places = [order.index(word) for word in words]
        assert places == sorted(places)


@given(standards, sizes, st.floats(0, 100))
def test_every_test_ends_in_one_of_two_answers(standard: float, size: int, true_percent: float):
    """Chances add to one, and no more seeds are expected than the plan has."""
    plan = computed_plan(standard, group_size=size, groups=4)
    found = characteristics(plan, true_percent)
    assert found.keep_chance + found.regrow_chance == pytest.approx(1)
    assert size <= found.expected_seeds * (1 + 1e-12)
    assert found.expected_seeds <= plan.most_seeds * (1 + 1e-12)
    assert found.seeds_saved == pytest.approx(plan.most_seeds - found.expected_seeds)


def test_chances_are_those_of_a_test_played_through():
    """Ten thousand tests drawn seed by seed are the witness."""
    plan, draw = sequential_plan(85), random.Random(4)
    ends: Counter[str] = Counter()
    seeds = 0
    for _ in range(3000):
        tested = grown = 0
        word = ANOTHER
        while word == ANOTHER:
            tested += 40
            grown += sum(draw.random() < 0.88 for _ in range(40))
            word = decide_one(plan, tested, grown)
        ends[word] += 1
        seeds += tested
    found = characteristics(plan, 88)
    assert ends[KEEP] / 3000 == pytest.approx(found.keep_chance, abs=0.03)
    assert seeds / 3000 == pytest.approx(found.expected_seeds, rel=0.04)


def decide_one(plan, tested: int, grown: int) -> str:
    """Give the word of one row without the rest of the sentence."""
    step = plan.step(tested)
    if step.regrow_at_most is not None and grown <= step.regrow_at_most:
        return REGROW
    if step.keep_at_least is not None and grown >= step.keep_at_least:
        return KEEP
    if tested < plan.most_seeds:
        return ANOTHER
    return KEEP if grown >= 0.85 * tested else REGROW


def test_a_lot_at_the_bar_is_mostly_regrown_and_the_answer_says_so():
    """That is what the plan is for, and a keeper must know it."""
    found = characteristics(sequential_plan(85), 85)
    assert found.regrow_chance > 0.75
    assert "exactly at it is mostly sent to regrowing" in decide(sequential_plan(85), [80], [76]).why


def test_good_and_bad_lots_are_told_with_few_seeds():
    """A lot of 98 % and one of 60 % need a quarter of the whole plan or less."""
    for percent, word in ((98, "keep_chance"), (60, "regrow_chance")):
        found = characteristics(sequential_plan(85), percent)
        assert getattr(found, word) > 0.999
        assert found.expected_seeds < 90
        assert found.seeds_saved > 270


def test_the_first_row_that_decides_counts():
    """What was sown after the answer was clear changes nothing."""
    found = decide(sequential_plan(85), [40, 80], [29, 69])
    assert (found.word, found.tested, found.seeds_saved) == (REGROW, 40, 320)


def test_an_open_test_says_what_is_still_to_come():
    """Limits of the row, the next group, and the seeds to be expected."""
    found = decide(sequential_plan(85), [40, 80], [35, 71])
    assert found.word == ANOTHER
    assert found.wrong_chance is None
    assert 40 <= found.more_seeds_expected <= 280
    assert "regrow at 64 or fewer, keep at 76 or more" in found.why
    assert 0.1 < found.below_chance < 0.4


def test_the_last_row_ends_the_test():
    """Without a clear answer by then the plain percentage decides."""
    plan = sequential_plan(85)
    tested = [step.tested for step in plan.steps]
    totals = [round(one * 0.88) for one in tested]
    assert decide(plan, tested, totals).word == KEEP
    assert decide(plan, [360], [311]).word == KEEP
    assert decide(plan, [360], [310]).word == REGROW


def test_stricter_risks_ask_for_more_seeds():
    """With groups enough to come to an answer, a plan keeps the risks it was given; smaller ones cost seed."""
    plain = computed_plan(80, groups=50)
    strict = computed_plan(80, groups=50, keep_risk=0.02, regrow_risk=0.02)
    assert characteristics(strict, 82).expected_seeds > characteristics(plain, 82).expected_seeds
    for plan, risk in ((plain, 0.085), (strict, 0.02)):
        assert characteristics(plan, 80).keep_chance == pytest.approx(risk, rel=0.4)
        assert characteristics(plan, 85).regrow_chance == pytest.approx(risk, rel=0.4)


@pytest.mark.parametrize(
    ("words", "call"),
    [
        ("below 100 %", lambda: computed_plan(96)),
        ("Give 1 to 50 groups", lambda: computed_plan(80, groups=0)),
        ("less than 0.5", lambda: computed_plan(80, keep_risk=0.5)),
        ("no row for 50 seeds", lambda: decide(sequential_plan(85), [50], [45])),
        ("cannot follow", lambda: decide(sequential_plan(85), [40, 80], [35, 30])),
        ("Give one pair a group", lambda: decide(sequential_plan(85), [], [])),
        ("Give 0 to 100", lambda: characteristics(sequential_plan(85), 101)),
    ],
)
def test_what_cannot_be_is_refused(words: str, call):
    """With what is wrong and what to give."""
    with pytest.raises(PlanError, match=words):
        call()


def test_any_standard_has_a_plan_nearly_to_the_top():
    """At 98 % the margin shrinks so that a good lot is still one that can be."""
    plan = sequential_plan(98)
    assert plan.margin_points == 1
    assert decide(plan, [40], [30]).word == REGROW
