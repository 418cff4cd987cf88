"""Sequential tests: sow in small groups, stop as soon as the answer is clear, and how far to trust it."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from hilum.seedlore.beta import chance_below
from hilum.seedlore.plans import PlanError, PlanStep, SequentialPlan, computed_plan, sequential_plan

__all__ = [
    "ANOTHER",
    "AT_THE_BAR",
    "KEEP",
    "REGROW",
    "Characteristics",
    "Decision",
    "PlanError",
    "PlanStep",
    "SequentialPlan",
    "characteristics",
    "computed_plan",
    "decide",
    "sequential_plan",
]

KEEP, REGROW, ANOTHER = "stop and keep", "stop and regrow", "sow another group"
AT_THE_BAR = (
    "A plan is made to catch lots that have fallen to the bar: a lot that lies exactly at it is mostly sent to "
    "regrowing."
)


@dataclass(frozen=True, slots=True)
class Characteristics:
    """What a plan does with lots of one true germination: chances, and the seeds it takes on average."""

    true_percent: float
    keep_chance: float
    regrow_chance: float
    expected_seeds: float
    seeds_saved: float
    regrow_at_step: tuple[float, ...]
    keep_at_step: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Decision:
    """What to do after a group, and how far that is to be trusted.

    `wrong_chance` is the plan's own risk: for "keep", that a lot which lies just at the standard gets
    that answer; for "regrow", that a lot better than the standard by the plan's margin does. While the
    test goes on it is None. `below_chance` is the chance that this lot is below the standard, all
    germinations being held equally likely before.
    """

    word: str
    tested: int
    germinated: int
    wrong_chance: float | None
    below_chance: float
    seeds_saved: int
    more_seeds_expected: float
    why: str
    plan: SequentialPlan


def _word(plan: SequentialPlan, step: PlanStep, germinated: int) -> str:
    """Say what a row decides; at the last row the plain result decides."""
    if step.regrow_at_most is not None and germinated <= step.regrow_at_most:
        return REGROW
    if step.keep_at_least is not None and germinated >= step.keep_at_least:
        return KEEP
    if step.tested < plan.most_seeds:
        return ANOTHER
    return KEEP if 100 * germinated >= plan.standard_percent * step.tested else REGROW


def _walk(
    plan: SequentialPlan, true_percent: float, tested: int = 0, germinated: int = 0
) -> tuple[list[float], list[float], float]:
    """Follow a test through the plan group by group, carrying the chance of every count.

    Gives the chances to regrow and to keep at each row after `tested`, and the seeds expected from
    there on.
    """
    share = true_percent / 100
    open_counts = {germinated: 1.0}
    regrow, keep, seeds, sown = [], [], 0.0, tested
    for step in plan.steps:
        if step.tested <= tested:
            continue
        group = step.tested - sown
        sown = step.tested
        seeds += group * sum(open_counts.values())
        chances = [math.comb(group, n) * share**n * (1 - share) ** (group - n) for n in range(group + 1)]
        after: dict[int, float] = {}
        for count, weight in open_counts.items():
            for grown, chance in enumerate(chances):
                after[count + grown] = after.get(count + grown, 0.0) + weight * chance
        words = {count: _word(plan, step, count) for count in after}
        regrow.append(math.fsum(c for count, c in after.items() if words[count] == REGROW))
        keep.append(math.fsum(c for count, c in after.items() if words[count] == KEEP))
        open_counts = {count: chance for count, chance in after.items() if words[count] == ANOTHER}
    return regrow, keep, seeds


def characteristics(plan: SequentialPlan, true_percent: float) -> Characteristics:
    """Reckon exactly what a plan does with lots of one true germination.

    Parameters
    ----------
    plan : SequentialPlan
    true_percent : float
        0 to 100.

    Returns
    -------
    Characteristics
        Seeds saved are those of the whole plan that are not sown on average.

    Raises
    ------
    PlanError
        The germination is out of range.

    Source
    ------
    Binomial chances of each group, added up group by group; no approximation.

    Examples
    --------
    >>> at_bar = characteristics(sequential_plan(85), 85)
    >>> round(at_bar.keep_chance, 2), round(at_bar.regrow_chance, 2)
    (0.19, 0.81)
    """
    if not 0 <= true_percent <= 100:
        raise PlanError(f"A germination of {true_percent:g} % is out of range. Give 0 to 100.")
    regrow, keep, seeds = _walk(plan, true_percent)
    return Characteristics(
        true_percent,
        math.fsum(keep),
        math.fsum(regrow),
        seeds,
        plan.most_seeds - seeds,
        tuple(regrow),
        tuple(keep),
    )


def decide(
    plan: SequentialPlan, tested: Sequence[int], germinated: Sequence[int], bar_words: str | None = None
) -> Decision:
    """Say what to do after the groups sown so far.

    Parameters
    ----------
    plan : SequentialPlan
    tested, germinated : sequence of int
        Running totals after each group, rising; the plan must have a row for each number tested.
    bar_words : str or None
        The bar by its name, for the sentence; "a standard of 85 %" unless given.

    Returns
    -------
    Decision
        From the first row that decides: groups sown after that do not count.

    Raises
    ------
    PlanError
        Totals that fall, do not fit each other, or have no row.

    Source
    ------
    Kameswara Rao et al. 2006; A. Wald (1947).

    Examples
    --------
    >>> decide(sequential_plan(85), [40, 80], [35, 71]).word
    'sow another group'
    >>> decide(sequential_plan(85), [40], [29]).word
    'stop and regrow'
    """
    _check_totals(tested, germinated)
    steps = [plan.step(one) for one in tested]
    for step, grown in zip(steps, germinated, strict=True):
        word = _word(plan, step, grown)
        if word != ANOTHER:
            break
    share = plan.standard_percent / 100
    below = chance_below(share, grown + 1, step.tested - grown + 1)
    observed = 100 * grown / step.tested
    if word == ANOTHER:
        more = _walk(plan, observed, step.tested, grown)[2]
        wrong = None
    else:
        more, wrong = 0.0, _plan_risk(plan, word)
    saved = 0 if word == ANOTHER else plan.most_seeds - step.tested
    bar = bar_words or f"a standard of {plan.standard_percent:g} %"
    why = f"{grown} of {step.tested} seeds against {bar}{_why(plan, step, word, wrong, more)}"
    return Decision(word, step.tested, grown, wrong, below, saved, more, why, plan)


def _plan_risk(plan: SequentialPlan, word: str) -> float:
    if word == KEEP:
        return characteristics(plan, plan.standard_percent).keep_chance
    return characteristics(plan, plan.standard_percent + plan.margin_points).regrow_chance


def _check_totals(tested: Sequence[int], germinated: Sequence[int]) -> None:
    if not tested or len(tested) != len(germinated):
        raise PlanError(
            f"{len(tested)} totals sown and {len(germinated)} totals germinated were given. Give one pair a group."
        )
    pairs = [(0, 0), *zip(tested, germinated, strict=True)]
    for (sown, grown), (more_sown, more_grown) in pairwise(pairs):
        if more_sown <= sown or not 0 <= more_grown - grown <= more_sown - sown:
            raise PlanError(
                f"{more_grown} of {more_sown} cannot follow {grown} of {sown}. Give running totals over all groups."
            )


def _why(plan: SequentialPlan, step: PlanStep, word: str, wrong: float | None, more: float) -> str:
    """Say the decision after its figures, in a sentence or two."""
    if word == ANOTHER:
        limits = [f"regrow at {step.regrow_at_most} or fewer"] if step.regrow_at_most is not None else []
        limits += [f"keep at {step.keep_at_least} or more"] if step.keep_at_least is not None else []
        return (
            f" is not clear yet ({', '.join(limits) or 'no limit at this row'}). Sow another "
            f"{plan.group_size} seeds; about {more:.0f} more are to be expected."
        )
    chance = f"{100 * (wrong or 0):.0f} in a hundred"
    if word == KEEP:
        return f": keep. Of lots that lie just at the bar, {chance} get this answer. {AT_THE_BAR}"
    better = plan.standard_percent + plan.margin_points
    return f": regrow. Of lots as good as {better:g} %, {chance} get this answer. {AT_THE_BAR}"
