"""Testing bench: lay out a germination test, count, finish, judge; or record a finished one whole."""

from collections.abc import Sequence
from dataclasses import asdict, dataclass
from datetime import date
from typing import Any

from hilum.benches.conditions import Conditions
from hilum.benches.counting import (
    CountSheet,
    StandingTest,
    count_sheet,
    enter_counts,
    running,
    running_test,
    standing_tests,
)
from hilum.benches.dishes import draw_for_test, method_of, method_words, refuse_bad_dishes
from hilum.benches.groups import (
    GROUP_SEEDS,
    Bar,
    bar_named,
    bars_for,
    expected_words,
    lay_group,
    refuse_bad_groups,
)
from hilum.benches.results import GerminationResult, finish_test, record_test
from hilum.benches.views import LotView, view
from hilum.catalogue import germination_tests, listing
from hilum.catalogue.due import recompute
from hilum.catalogue.find import resolve_lot
from hilum.catalogue.germination_tests import CLASSES, GerminationTestLine
from hilum.catalogue.opening import Catalogue, Job
from hilum.catalogue.settings import read_settings
from hilum.errors import BadInput
from hilum.seedlore.methods import GerminationMethod

__all__ = [
    "CLASSES",
    "GROUP_SEEDS",
    "Bar",
    "Conditions",
    "CountSheet",
    "GerminationPlan",
    "GerminationResult",
    "GerminationTestLine",
    "StandingTest",
    "abandon_test",
    "count_sheet",
    "enter_counts",
    "expected_words",
    "finish_test",
    "lay_group",
    "method_words",
    "plan_test",
    "record_test",
    "running",
    "running_test",
    "standing_tests",
    "start_test",
]

# The published number is 400 in dishes of 100 (7 CFR 201.54); few keepers have it to spare, so the layout steps
# down to what the lot bears. The smaller layouts are common practice, no source.
LAYOUTS = ((4, 100), (4, 50), (4, 25), (2, 25), (2, 20), (2, 10))
# A home test is kept to a tenth of a scarce lot: common practice, no source.
LARGEST_SHARE = 0.1


@dataclass(frozen=True, slots=True)
class GerminationPlan:
    """What a test of a lot would be: the published method, dishes that the stock bears, what it costs in seed.

    `changed` says what differs from the published method; `bars` are what a test in groups can be held to.
    """

    lot: LotView
    method: GerminationMethod | None
    method_words: str
    conditions: Conditions
    changed: str
    dishes: tuple[int, ...]
    counting_days: tuple[date, ...]
    warnings: tuple[str, ...]
    running_test: int | None
    bars: tuple[Bar, ...]


def plan_test(
    catalogue: Catalogue,
    typed: str,
    *,
    on: date,
    dishes: Sequence[int] | None = None,
    asked: Conditions | None = None,
    in_groups: bool = False,
) -> GerminationPlan:
    """Say how a lot would be tested from a given day; nothing is written. `in_groups`: the dishes are one group's."""
    with catalogue.look() as connection:
        lot_id = resolve_lot(connection, typed)
        settings = read_settings(connection)
        shown = view(listing.one_lot(connection, lot_id), settings)
        tests = germination_tests.germination_tests_of(connection, lot_id)
    usual = (GROUP_SEEDS,) if in_groups else _layout(shown)
    laid = tuple(dishes) if dishes is not None else usual
    published = method_of(shown)
    conditions = (asked or Conditions()).filled_in(published)
    days = conditions.days_from(on, settings.closed_weekdays)
    counting = tuple(day for day in (days.first_count_on, days.final_count_on) if day is not None)
    warnings = _warnings(shown, sum(laid), in_groups) + _closed_warnings(counting, settings.closed_weekdays)
    return GerminationPlan(
        shown, published, method_words(published), conditions, conditions.changed_words(published), laid, counting,
        warnings, next((test.id for test in tests if test.state == "running"), None), bars_for(shown, tests),
    )  # fmt: skip


def _layout(shown: LotView) -> tuple[int, ...]:
    spare = shown.stock_seeds
    if spare is None:
        return (25, 25)
    for count, seeds in LAYOUTS:
        if count * seeds <= spare * LARGEST_SHARE:
            return (seeds,) * count
    return (10, 10) if spare >= 20 else (max(spare, 1),)


def _closed_warnings(days: Sequence[date], closed_weekdays: tuple[int, ...]) -> tuple[str, ...]:
    return tuple(
        f"{day.isoformat()} is a day on which nobody counts, and the rules allow no other near it: lay the dishes on "
        "another day, or come in."
        for day in days
        if day.weekday() in closed_weekdays
    )


def _warnings(shown: LotView, seeds: int, in_groups: bool) -> tuple[str, ...]:
    said = []
    if shown.stock_seeds is not None:
        left = shown.stock_seeds - seeds
        if left < shown.reserve_seeds:
            said.append(
                f"{seeds} seeds leave about {max(left, 0)}, fewer than the reserve of {shown.reserve_seeds}: "
                "plan its regrowing, or test fewer."
            )
    if seeds < 100 and not in_groups:
        said.append(f"{seeds} seeds tell little: read the interval with the percentage.")
    if shown.thousand_seed_weight_is_estimate and shown.line.unit == "mg":
        said.append(
            "The seeds drawn are reckoned by the crop's usual weight: count and weigh a sample to be sure."
        )
    return tuple(said)


def start_test(
    catalogue: Catalogue,
    typed: str,
    *,
    on: date,
    dishes: Sequence[int],
    substrate: str = "",
    temperature: str = "",
    first_count_days: int | None = None,
    final_count_days: int | None = None,
    prechill_days: int = 0,
    mass_mg: int | None = None,
    note: str = "",
    bar: str | None = None,
) -> GerminationTestLine:
    """Lay out a test: its seed is drawn from stock now; the published method fills in what is not given.

    `mass_mg` is what the seed weighed, for a lot whose seed weight is not known. With a `bar` ("first result" or
    "standard") the dishes are the first group of a test in groups.
    """
    refuse_bad_dishes(dishes)
    asked = Conditions(substrate, temperature, first_count_days, final_count_days, prechill_days)
    with catalogue.job(f"start a germination test of {typed}") as job:
        lot_id = resolve_lot(job.connection, typed)
        shown = view(listing.one_lot(job.connection, lot_id), job.settings)
        if germination_tests.running_test_of(job.connection, lot_id) is not None:
            raise BadInput(f"Lot {shown.number} is under test already. Finish or abandon that test first.")
        published = method_of(shown)
        conditions = asked.filled_in(published)
        words = (note.strip(), conditions.changed_words(published))
        test_id = germination_tests.add_test(
            job,
            {
                "lot_id": lot_id,
                "state": "running",
                **asdict(conditions),
                "standard_percent": shown.standard_percent,
                "note": "; ".join(each for each in words if each),
                **_group_values(job, shown, bar, sum(dishes)),
            },
            dishes,
            conditions.days_from(on, job.settings.closed_weekdays),
        )
        draw_for_test(job, lot_id, shown, test_id, sum(dishes), on, mass_mg)
        recompute(job, [lot_id])
        return germination_tests.one_test(job.connection, test_id)


def _group_values(job: Job, shown: LotView, bar: str | None, group_seeds: int) -> dict[str, Any]:
    if bar is None:
        return {}
    held = bar_named(bar, shown, germination_tests.germination_tests_of(job.connection, shown.line.id))
    refuse_bad_groups(held, group_seeds)
    return {
        "group_seeds": group_seeds,
        "bar_percent": held.percent,
        "bar_counts_hard": held.counts_hard_seed,
        "bar_words": held.words,
    }


def abandon_test(catalogue: Catalogue, test_id: int, *, on: date, why: str) -> GerminationTestLine:
    """Give a test up (dishes dried out, knocked over); the seed laid in it is spent, no result is kept."""
    if not why.strip():
        raise BadInput("Say in a few words why the test is given up.")
    with catalogue.job(f"abandon germination test {test_id}") as job:
        test = germination_tests.one_test(job.connection, test_id)
        if test.state != "running":
            raise BadInput(f"The test of lot {test.lot} is {test.state} already.")
        germination_tests.change_test(
            job, test_id, {"state": "abandoned", "finished_on": max(on, test.started_on), "note": why.strip()}
        )
        recompute(job, [test.lot_id])
        return germination_tests.one_test(job.connection, test_id)
