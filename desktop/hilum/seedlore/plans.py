"""Sequential plans: the rows of decision, printed or reckoned for any standard, group and risks."""

import math
from dataclasses import dataclass
from functools import cache

from hilum.errors import BadInput
from hilum.seedlore.tables import rule, table


class PlanError(BadInput):
    """A sequential plan that cannot be, or counts that do not fit it."""


@dataclass(frozen=True, slots=True)
class PlanStep:
    """One row of a plan: after so many seeds, regrow at or below the one count, keep at or above the other."""

    tested: int
    regrow_at_most: int | None
    keep_at_least: int | None
    source: str


@dataclass(frozen=True, slots=True)
class SequentialPlan:
    """A plan for one standard; `status` says whether its rows are published, from memory or computed."""

    standard_percent: float
    group_size: int
    steps: tuple[PlanStep, ...]
    margin_points: float
    status: str
    source: str

    @property
    def most_seeds(self) -> int:
        """The seeds that are sown when no earlier row gives an answer."""
        return self.steps[-1].tested

    def step(self, tested: int) -> PlanStep:
        """Give the row for a number of seeds."""
        for one in self.steps:
            if one.tested == tested:
                return one
        rows = ", ".join(str(one.tested) for one in self.steps)
        raise PlanError(f"The plan has no row for {tested} seeds. It has rows for {rows}.")


def computed_plan(
    standard_percent: float,
    *,
    group_size: int = 40,
    groups: int = 9,
    margin_points: float = 5.0,
    keep_risk: float | None = None,
    regrow_risk: float | None = None,
) -> SequentialPlan:
    """Reckon a plan for any standard, group and risks.

    Parameters
    ----------
    standard_percent : float
        More than 0; with the margin less than 100.
    group_size : int
        Seeds in a group, 1 to 400.
    groups : int
        The most groups, 1 to 50.
    margin_points : float
        A lot this much above the standard is one that must not be regrown; more than 0.
    keep_risk : float or None
        Chance of keeping a lot that lies at the standard; 0.085 unless given, below 0.5.
    regrow_risk : float or None
        Chance of regrowing a lot that lies the margin above it; 0.085 unless given, below 0.5.

    Returns
    -------
    SequentialPlan

    Raises
    ------
    PlanError
        A figure is out of range.

    Source
    ------
    A. Wald (1947), Sequential Analysis, from memory; the risk of 0.085 fitted to the rows of Kameswara Rao et al.
    2006.

    Examples
    --------
    >>> [(one.regrow_at_most, one.keep_at_least) for one in computed_plan(85).steps[:3]]
    [(29, None), (64, 76), (100, 111)]
    """
    risk = rule("sequential_risk")
    keep_wrong = risk.value if keep_risk is None else keep_risk
    regrow_wrong = risk.value if regrow_risk is None else regrow_risk
    _check_plan(standard_percent, group_size, groups, margin_points, (keep_wrong, regrow_wrong))
    bad, good = standard_percent / 100, (standard_percent + margin_points) / 100
    per_dead = math.log((1 - bad) / (1 - good))
    per_seed = math.log(good / bad) + per_dead
    slope = per_dead / per_seed
    keep_height = math.log((1 - regrow_wrong) / keep_wrong) / per_seed
    regrow_height = math.log((1 - keep_wrong) / regrow_wrong) / per_seed
    steps = []
    for tested in range(group_size, group_size * groups + 1, group_size):
        low, high = math.floor(slope * tested - regrow_height), math.ceil(slope * tested + keep_height)
        steps.append(
            PlanStep(tested, low if low >= 0 else None, high if high <= tested else None, risk.source)
        )
    return SequentialPlan(standard_percent, group_size, tuple(steps), margin_points, "computed", risk.source)


def _check_plan(
    standard_percent: float, group_size: int, groups: int, margin_points: float, risks: tuple[float, float]
) -> None:
    if not 0 < standard_percent < 100 or margin_points <= 0 or standard_percent + margin_points >= 100:
        raise PlanError(
            f"A standard of {standard_percent:g} % with a margin of {margin_points:g} points is out of range: the "
            "standard must be above 0 % and, with the margin, below 100 %."
        )
    if not (1 <= group_size <= 400 and 1 <= groups <= 50):
        raise PlanError(
            f"{groups} groups of {group_size} seeds are out of range. Give 1 to 50 groups of 1 to 400 seeds."
        )
    for one in risks:
        if not 0 < one < 0.5:
            raise PlanError(f"A risk of {one:g} is out of range. Give more than 0 and less than 0.5.")


@cache
def _printed_plans() -> dict[float, SequentialPlan]:
    rows: dict[float, list[PlanStep]] = {}
    status: dict[float, set[str]] = {}
    for line in table("sequential_plan"):
        percent = line.number("standard_percent")
        note = line.one_of("status", ("published", "from memory"))
        source = line.text("source") + (" (from memory)" if note == "from memory" else "")
        step = PlanStep(
            line.whole("tested"),
            line.optional_whole("regrow_at_most"),
            line.optional_whole("keep_at_least"),
            source,
        )
        rows.setdefault(percent, []).append(step)
        status.setdefault(percent, set()).add(note)
    found = {}
    for percent, steps in rows.items():
        words = "published; rows from 120 seeds on from memory" if len(status[percent]) > 1 else "published"
        found[percent] = SequentialPlan(percent, steps[0].tested, tuple(steps), 5.0, words, steps[0].source)
    return found


def sequential_plan(standard_percent: float, group_size: int = 40) -> SequentialPlan:
    """Give the published plan for a standard and group, or reckon one where none is printed.

    Parameters
    ----------
    standard_percent : float
        More than 0; above 94 a computed plan takes a margin of half of what is left to 100 %.
    group_size : int
        Seeds in a group.

    Returns
    -------
    SequentialPlan

    Raises
    ------
    PlanError
        A figure is out of range.

    Source
    ------
    Kameswara Rao et al. 2006, Manual of Seed Handling in Genebanks, Flowchart 8.1 and Table 8.3; else as
    `computed_plan`.

    Examples
    --------
    >>> sequential_plan(85).status, sequential_plan(70).status
    ('published; rows from 120 seeds on from memory', 'computed')
    """
    printed = _printed_plans().get(standard_percent)
    if printed is not None and printed.group_size == group_size:
        return printed
    margin = 5.0 if standard_percent <= 94 else (100 - standard_percent) / 2
    return computed_plan(standard_percent, group_size=group_size, margin_points=margin or 1.0)
