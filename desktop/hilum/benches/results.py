"""Results of germination tests: a running test is finished, or a finished one is written whole; both are judged."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from hilum.benches.counting import DayCounts, write_counts
from hilum.benches.dishes import clean_counts, draw_for_test, method_of, refuse_bad_dishes, reserve_warnings
from hilum.benches.groups import KEEP, REGROW, GroupStanding, group_standing
from hilum.benches.views import LotView, view
from hilum.catalogue import germination_tests, listing
from hilum.catalogue.due import recompute
from hilum.catalogue.find import resolve_lot
from hilum.catalogue.germination_tests import CLASSES, DishLine, GerminationTestLine
from hilum.catalogue.opening import Catalogue, Job
from hilum.errors import BadInput
from hilum.seedlore.germination import GerminationCounts, Tolerance, Verdict, assess


@dataclass(frozen=True, slots=True)
class GerminationResult:
    """A finished test with how it was judged and when the next one falls due."""

    lot: LotView
    test: GerminationTestLine
    tolerance: Tolerance
    interval_90: tuple[float, float]
    verdict: str
    verdict_why: str
    warnings: tuple[str, ...]


def finish_test(
    catalogue: Catalogue, test_id: int, *, on: date, counts: DayCounts | None = None
) -> GerminationResult:
    """Close a test on its last count: percentages, interval, tolerance, verdict, and the next due date.

    `counts` of the same day are written first, with the end of the test or not at all.
    """
    with catalogue.job(f"finish germination test {test_id}") as job:
        if counts:
            write_counts(job, test_id, on, counts)
        test = germination_tests.one_test(job.connection, test_id)
        if test.state != "running":
            raise BadInput(f"The test of lot {test.lot} is {test.state} already.")
        counted = germination_tests.counts_by_day(job.connection, test_id)
        if not any(figure is not None for _, _, classes in counted for figure in classes.values()):
            raise BadInput(
                f"Nothing has been counted yet in the test of lot {test.lot}. Enter the counts first."
            )
        last = max(day for day, _, _ in counted)
        if on < last:
            raise BadInput(f"The last count is of {last.isoformat()}; the test cannot have ended before it.")
        return _close(job, test_id, on)


def record_test(
    catalogue: Catalogue,
    typed: str,
    *,
    on: date,
    seeds: Sequence[int],
    counts: Mapping[str, Sequence[int]],
    origin: str = "here",
    rules: str = "home test",
    note: str = "",
) -> GerminationResult:
    """Write a finished test whole: seeds a dish, and by class one figure a dish; classes left out were not counted.

    A result from elsewhere draws nothing from stock and says whose it is; a test made here draws its seed.
    """
    dishes = _dishes_for(seeds, counts)
    with catalogue.job(f"record a germination test of {typed}") as job:
        lot_id = resolve_lot(job.connection, typed)
        shown = view(listing.one_lot(job.connection, lot_id), job.settings)
        if germination_tests.running_test_of(job.connection, lot_id) is not None and origin == "here":
            raise BadInput(
                f"Lot {shown.number} is under test already. Enter the counts in that test and finish it."
            )
        if on < shown.line.received_on and origin == "here":
            raise BadInput(
                f"Lot {shown.number} came in on {shown.received_words}, after {on.isoformat()}: a test made before "
                "that is a result from elsewhere; say whose."
            )
        published = method_of(shown)
        test_id = germination_tests.add_test(
            job,
            {
                "lot_id": lot_id,
                "state": "running",
                "origin": origin,
                "rules": rules,
                "substrate": published.substrates[0].name if published else "",
                "temperature": published.warmth.words if published else "",
                "standard_percent": shown.standard_percent,
                "note": note,
            },
            dishes,
            germination_tests.DishDays(on),
        )
        if origin == "here":
            draw_for_test(job, lot_id, shown, test_id, sum(dishes), on, None)
        for place, dish in enumerate(germination_tests.dishes_of(job.connection, test_id)):
            classes = {name: int(figures[place]) for name, figures in counts.items()}
            if sum(classes.values()) > dish.seeds:
                raise BadInput(
                    f"Test not recorded: dish {dish.number} has {sum(classes.values())} seeds classed, but only "
                    f"{dish.seeds} were sown. Correct one of the figures."
                )
            germination_tests.write_count(job, dish.id, on, clean_counts(classes, dish.number))
        return _close(job, test_id, on)


def _dishes_for(seeds: Sequence[int], counts: Mapping[str, Sequence[int]]) -> tuple[int, ...]:
    if "normal" not in counts or not counts["normal"]:
        raise BadInput("A test needs the number of normal seedlings, one figure a dish.")
    number = len(counts["normal"])
    for name, figures in counts.items():
        if len(figures) != number:
            raise BadInput(
                f"There are {number} figures of normal seedlings but {len(figures)} of {name} ones. "
                "Give one for each dish."
            )
    dishes = tuple(seeds) * number if len(seeds) == 1 else tuple(seeds)
    if len(dishes) != number:
        raise BadInput(
            f"There are {number} dishes by their counts, but seeds are given for {len(dishes)}. "
            "Give one number, or one for each dish."
        )
    refuse_bad_dishes(dishes)
    return dishes


def _close(job: Job, test_id: int, on: date) -> GerminationResult:
    """Judge a test on what its dishes showed, write the result, and bring the lot up to date."""
    test = germination_tests.one_test(job.connection, test_id)
    dishes = germination_tests.dishes_of(job.connection, test_id)
    before = view(listing.one_lot(job.connection, test.lot_id), job.settings)
    judged = assess(_counts_of(dishes), before.standard)
    classes, tolerance = judged.classes, judged.tolerance
    word, why = _verdict(judged.verdict, group_standing(test, dishes))
    low, high = judged.interval_90
    germination_tests.change_test(
        job,
        test_id,
        {
            "state": "finished",
            "finished_on": on,
            "normal_percent": classes.normal,
            "abnormal_percent": classes.abnormal,
            "hard_percent": classes.hard,
            "fresh_percent": classes.fresh,
            "dead_percent": classes.dead,
            "not_classed_percent": classes.not_classed,
            "low_percent": low,
            "high_percent": high,
            "range_percent": tolerance.range_percent,
            "allowed_percent": tolerance.allowed_percent,
            "within_tolerance": tolerance.within,
            "standard_percent": before.standard_percent,
            "verdict": word,
            "verdict_why": why,
        },
    )
    germination_tests.carry_to_lot(job, test.lot_id)
    recompute(job, [test.lot_id])
    after = view(listing.one_lot(job.connection, test.lot_id), job.settings)
    return GerminationResult(
        lot=after,
        test=germination_tests.one_test(job.connection, test_id),
        tolerance=tolerance,
        interval_90=(low, high),
        verdict=word,
        verdict_why=why,
        warnings=reserve_warnings(after, "The test has drawn") if test.origin == "here" else (),
    )


def _verdict(single: Verdict, groups: GroupStanding | None) -> tuple[str, str]:
    """Give what a test means for its lot: a test in groups is decided by its plan, unless its dishes disagree."""
    if groups is None:
        return single.word, single.why
    packing = f"For packing: {single.why}"
    if not groups.is_over:
        return (
            single.word,
            f"Ended before the groups gave a clear answer against {groups.bar_words}. {packing}",
        )
    if single.word == "retest":
        return single.word, single.why
    return {KEEP: "keep", REGROW: "regrow"}[groups.word], f"In groups: {groups.why} {packing}"


def _counts_of(dishes: Sequence[DishLine]) -> GerminationCounts:
    counted = {name: any(dish.totals[name] is not None for dish in dishes) for name in CLASSES}
    figures = {
        # A class noted in one dish and not in another: the rest of that dish is "not classed", not nought of all.
        name: tuple(dish.totals[name] or 0 for dish in dishes) if counted[name] else None
        for name in CLASSES
        if name != "normal"
    }
    return GerminationCounts(
        sown=tuple(dish.seeds for dish in dishes),
        normal=tuple(dish.totals["normal"] or 0 for dish in dishes),
        **figures,
    )
