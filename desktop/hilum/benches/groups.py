"""Tests in groups: seed is laid in small groups, and after each it is said whether another is needed."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import accumulate

from hilum.benches.conditions import Conditions
from hilum.benches.dishes import draw_for_test, reserve_warnings
from hilum.benches.views import LotView, view
from hilum.catalogue import germination_tests, listing
from hilum.catalogue.due import recompute
from hilum.catalogue.germination_tests import DishLine, GerminationTestLine
from hilum.catalogue.opening import Catalogue
from hilum.errors import BadInput
from hilum.seedlore.germination import regrowing_bar_percent
from hilum.seedlore.sequential import (
    ANOTHER,
    AT_THE_BAR,
    KEEP,
    REGROW,
    Decision,
    PlanError,
    SequentialPlan,
    characteristics,
    decide,
    sequential_plan,
)

__all__ = [
    "ANOTHER", "COUNT_ON", "FIRST_RESULT", "KEEP", "REGROW", "STANDARD", "Bar", "Group", "GroupStanding",
    "bar_named", "bars_for", "expected_words", "group_standing", "lay_group",
]  # fmt: skip

COUNT_ON = "count on"
FIRST_RESULT, STANDARD = "first result", "standard"
GROUP_SEEDS = 40


@dataclass(frozen=True, slots=True)
class Bar:
    """A bar that a test in groups can be held to, by its name."""

    key: str
    percent: int
    counts_hard_seed: bool
    words: str


def bars_for(shown: LotView, tests: Sequence[GerminationTestLine]) -> tuple[Bar, ...]:
    """Give the bars of a lot: 85 % of its first result, and the standard the library accepts."""
    found = []
    finished = [test for test in tests if test.state == "finished" and test.normal_percent]
    if finished:
        first = min(finished, key=lambda test: (test.finished_on or test.started_on, test.id))
        percent = regrowing_bar_percent(first.normal_percent or 0)
        words = f"{percent} %, which is 85 % of its first result ({first.normal_percent} %)"
        found.append(Bar(FIRST_RESULT, percent, False, words))
    if shown.standard is not None:
        held = shown.standard
        found.append(Bar(STANDARD, round(held.percent), held.counts_hard_seed, held.words))
    return tuple(found)


def bar_named(key: str, shown: LotView, tests: Sequence[GerminationTestLine]) -> Bar:
    """Give one bar of a lot; refused where the lot has none of that name."""
    bars = bars_for(shown, tests)
    for bar in bars:
        if bar.key == key:
            return bar
    there = f"It has: {'; '.join(bar.words for bar in bars)}." if bars else ""
    raise BadInput(
        f"Lot {shown.number} has no bar “{key}” to hold groups against. "
        f"{there or 'It was never tested, and its crop has no standard: set one for the crop, or test without groups.'}"
    )


def expected_words(bar: Bar, group_seeds: int, likely_percent: int | None) -> str:
    """Say how many seeds a test in groups takes, at most and, where the lot was tested before, on average."""
    plan = sequential_plan(bar.percent, group_seeds)
    words = f"Groups of {group_seeds} until the answer is clear, {plan.most_seeds} seeds at most."
    if likely_percent is not None:
        found = characteristics(plan, likely_percent)
        words += f" A lot that still germinates {likely_percent} % takes about {found.expected_seeds:.0f}."
    return f"{words} {AT_THE_BAR}"


@dataclass(frozen=True, slots=True)
class Group:
    """One group of dishes with the running totals up to and with it."""

    number: int
    laid_on: date
    tested: int
    germinated: int
    left: int
    is_counted_out: bool


@dataclass(frozen=True, slots=True)
class GroupStanding:
    """How a test in groups stands: what to do next, why, and how far that is to be trusted.

    `word` is one of KEEP, REGROW, ANOTHER and COUNT_ON. `wrong_chance` is the plan's own risk and None while the
    test goes on; `below_chance` is the chance that the lot lies below the bar, None before anything is settled.
    """

    word: str
    why: str
    bar_percent: int
    bar_words: str
    group_seeds: int
    groups: tuple[Group, ...]
    wrong_chance: float | None
    below_chance: float | None
    seeds_saved: int
    plan: SequentialPlan
    alive_left: int

    @property
    def is_over(self) -> bool:
        """Whether the answer is clear."""
        return self.word in (KEEP, REGROW)


def group_standing(test: GerminationTestLine, dishes: Sequence[DishLine]) -> GroupStanding | None:
    """Say how a test in groups stands; None for a test that is not one."""
    if test.group_seeds is None or test.bar_percent is None:
        return None
    plan = sequential_plan(test.bar_percent, test.group_seeds)
    counted = ("normal", "hard") if test.bar_counts_hard else ("normal",)
    groups = _groups(dishes, test.group_seeds, counted)
    found = _decided(plan, groups, test.bar_words)
    # What took up water without sprouting, and hard seed, lives: it is no sign of a lot that fades.
    alive = sum(_total(dish, [name for name in ("hard", "fresh") if name not in counted]) for dish in dishes)
    word, why = (COUNT_ON, _wait_words(plan, groups)) if found is None else (found.word, found.why)
    if found is not None and word == ANOTHER and not groups[-1].is_counted_out:
        word, why = COUNT_ON, _wait_words(plan, groups)
    if alive and word != KEEP:
        why += (
            f" {alive} hard or fresh seeds are not counted, though they may live: break their dormancy first."
        )
    return GroupStanding(
        word, why, test.bar_percent, test.bar_words, test.group_seeds, groups,
        found.wrong_chance if found is not None else None,
        found.below_chance if found is not None else None,
        found.seeds_saved if found is not None else 0,
        plan, alive,
    )  # fmt: skip


def _total(dish: DishLine, classes: Sequence[str]) -> int:
    return sum(dish.totals[name] or 0 for name in classes)


def _groups(dishes: Sequence[DishLine], group_seeds: int, counted: Sequence[str]) -> tuple[Group, ...]:
    parts: list[list[DishLine]] = []
    for dish in dishes:
        if not parts or sum(one.seeds for one in parts[-1]) >= group_seeds:
            parts.append([])
        parts[-1].append(dish)
    tested = accumulate(sum(dish.seeds for dish in part) for part in parts)
    grown = accumulate(sum(_total(dish, counted) for dish in part) for part in parts)
    return tuple(
        Group(
            number, part[0].days.laid_on, seeds, normal, sum(max(0, dish.left) for dish in part),
            all(dish.is_counted_out for dish in part),
        )
        for number, (part, seeds, normal) in enumerate(zip(parts, tested, grown, strict=True), start=1)
    )  # fmt: skip


def _decided(plan: SequentialPlan, groups: Sequence[Group], bar_words: str) -> Decision | None:
    """Give what is settled: by groups counted out, or by one that stands but can no longer change the answer."""
    settled: list[Group] = []
    last: Decision | None = None
    for group in groups:
        tested = [one.tested for one in (*settled, group)]
        grown = [one.germinated for one in settled]
        least = decide(plan, tested, [*grown, group.germinated], bar_words)
        if not group.is_counted_out:
            most = decide(plan, tested, [*grown, group.germinated + group.left])
            return least if least.word == most.word != ANOTHER else last
        settled.append(group)
        last = least
        if least.word != ANOTHER:
            return least
    return last


def _wait_words(plan: SequentialPlan, groups: Sequence[Group]) -> str:
    group = groups[-1]
    step = plan.step(group.tested)
    limits = [f"keep from {step.keep_at_least} on"] if step.keep_at_least is not None else []
    limits += [f"regrow at {step.regrow_at_most} or fewer"] if step.regrow_at_most is not None else []
    return (
        f"Group {group.number} still stands: {group.germinated} of {group.tested} seeds in all have germinated so far, "
        f"{group.left} are left. Of {group.tested}: {', '.join(limits) or 'no limit at this row'}."
    )


def lay_group(
    catalogue: Catalogue, test_id: int, *, on: date, mass_mg: int | None = None
) -> tuple[GerminationTestLine, tuple[str, ...]]:
    """Lay another group of a test in groups: its seed is drawn from stock now. Gives the test and what to heed.

    `mass_mg` is what the seed weighed. Refused where the answer is clear already, or while a group still stands.
    """
    with catalogue.job(f"lay another group of germination test {test_id}") as job:
        test = germination_tests.one_test(job.connection, test_id)
        dishes = germination_tests.dishes_of(job.connection, test_id)
        _refuse_group(test, group_standing(test, dishes), dishes, on)
        shown = view(listing.one_lot(job.connection, test.lot_id), job.settings)
        sizes = _first_group(dishes, test.group_seeds or 0)
        asked = Conditions(
            first_count_days=test.first_count_days,
            final_count_days=test.final_count_days,
            prechill_days=test.prechill_days,
        )
        days = asked.days_from(on, job.settings.closed_weekdays)
        germination_tests.add_dishes(job, test_id, sizes, days, after=len(dishes))
        germination_tests.change_test(job, test_id, {"seeds": test.seeds + sum(sizes)})
        draw_for_test(job, test.lot_id, shown, test_id, sum(sizes), on, mass_mg)
        recompute(job, [test.lot_id])
        after = view(listing.one_lot(job.connection, test.lot_id), job.settings)
        return germination_tests.one_test(job.connection, test_id), reserve_warnings(
            after, "This group draws"
        )


def _first_group(dishes: Sequence[DishLine], group_seeds: int) -> tuple[int, ...]:
    sizes: list[int] = []
    for dish in dishes:
        if sum(sizes) >= group_seeds:
            break
        sizes.append(dish.seeds)
    return tuple(sizes)


def _refuse_group(
    test: GerminationTestLine, standing: GroupStanding | None, dishes: Sequence[DishLine], on: date
) -> None:
    if test.state != "running":
        raise BadInput(f"The test of lot {test.lot} is {test.state}; nothing more is laid in it.")
    if standing is None:
        raise BadInput(f"The test of lot {test.lot} is not in groups. Finish it and start another one.")
    if standing.is_over:
        raise BadInput(f"No other group is needed for lot {test.lot}: {standing.word}. {standing.why}")
    if standing.word != ANOTHER:
        raise BadInput(f"Lot {test.lot}: count the group that stands first. {standing.why}")
    latest = max(dish.last_count_on or dish.days.laid_on for dish in dishes)
    if on < latest:
        raise BadInput(
            f"The group before was counted on {latest.isoformat()}; lay the next one then or later."
        )


def refuse_bad_groups(bar: Bar, group_seeds: int) -> None:
    """Refuse groups that no plan can be made for."""
    try:
        sequential_plan(bar.percent, group_seeds)
    except PlanError as error:
        raise BadInput(f"No plan for groups of {group_seeds} against {bar.words}: {error}") from error
