"""Testing bench: lay out a germination test, count, finish, judge; or record a finished one whole."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from hilum.benches.dishes import clean_counts, draw_for_test, method_of, method_words, refuse_bad_dishes
from hilum.benches.results import GerminationResult, finish_test, record_test
from hilum.benches.views import LotView, view
from hilum.catalogue import germination_tests, listing
from hilum.catalogue.due import recompute
from hilum.catalogue.find import resolve_lot
from hilum.catalogue.germination_tests import CLASSES, DishLine, GerminationTestLine
from hilum.catalogue.opening import Catalogue
from hilum.catalogue.settings import Settings, read_settings
from hilum.errors import BadInput
from hilum.seedlore.methods import GerminationMethod

__all__ = [
    "CLASSES",
    "CountSheet",
    "GerminationPlan",
    "GerminationResult",
    "GerminationTestLine",
    "abandon_test",
    "count_sheet",
    "enter_counts",
    "finish_test",
    "method_words",
    "plan_test",
    "record_test",
    "running",
    "start_test",
]

# The published number is 400 in dishes of 100 (7 CFR 201.54); few keepers have it to spare, so the layout steps
# down to what the lot bears. The smaller layouts are common practice, no source.
LAYOUTS = ((4, 100), (4, 50), (4, 25), (2, 25), (2, 20), (2, 10))
# A home test is kept to a tenth of a scarce lot: common practice, no source.
LARGEST_SHARE = 0.1


@dataclass(frozen=True, slots=True)
class GerminationPlan:
    """What a test of a lot would be: the published method, dishes that the stock bears, what it costs in seed."""

    lot: LotView
    method: GerminationMethod | None
    method_words: str
    dishes: tuple[int, ...]
    counting_days: tuple[date, ...]
    warnings: tuple[str, ...]
    running_test: int | None


def plan_test(
    catalogue: Catalogue, typed: str, *, on: date, dishes: Sequence[int] | None = None
) -> GerminationPlan:
    """Say how a lot would be tested from a given day; nothing is written."""
    with catalogue.look() as connection:
        lot_id = resolve_lot(connection, typed)
        settings = read_settings(connection)
        shown = view(listing.one_lot(connection, lot_id), settings)
        running = germination_tests.running_test_of(connection, lot_id)
    laid = tuple(dishes) if dishes is not None else _layout(shown)
    published = method_of(shown)
    days = _counting_days(published, on, settings)
    return GerminationPlan(
        shown, published, method_words(published), laid, days, _warnings(shown, sum(laid)), running
    )


def _layout(shown: LotView) -> tuple[int, ...]:
    spare = shown.stock_seeds
    if spare is None:
        return (25, 25)
    for count, seeds in LAYOUTS:
        if count * seeds <= spare * LARGEST_SHARE:
            return (seeds,) * count
    return (10, 10) if spare >= 20 else (max(spare, 1),)


def _counting_days(published: GerminationMethod | None, on: date, settings: Settings) -> tuple[date, ...]:
    if published is None:
        return ()
    days = [
        number for number in (published.first_count_days, published.final_count_days) if number is not None
    ]
    first_may_shift = published.first_count_days is not None
    counted = []
    for place, number in enumerate(days):
        day = on + timedelta(days=number)
        # 7 CFR 201.58(a)(1): the first count may shift by 1 to 3 days; the test may run 2 days past the final one.
        allowed = 3 if place == 0 and first_may_shift else 2
        for shift in range(allowed + 1):
            if (day + timedelta(days=shift)).weekday() not in settings.closed_weekdays:
                day += timedelta(days=shift)
                break
        counted.append(day)
    return tuple(counted)


def _warnings(shown: LotView, seeds: int) -> tuple[str, ...]:
    said = []
    if shown.stock_seeds is not None:
        left = shown.stock_seeds - seeds
        if left < shown.reserve_seeds:
            said.append(
                f"{seeds} seeds leave about {max(left, 0)}, fewer than the reserve of {shown.reserve_seeds}: "
                "plan its regrowing, or test fewer."
            )
    if seeds < 100:
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
) -> GerminationTestLine:
    """Lay out a test: its seed is drawn from stock now; the published method fills in what is not given.

    `mass_mg` is what the seed weighed, for a lot whose seed weight is not known.
    """
    refuse_bad_dishes(dishes)
    with catalogue.job(f"start a germination test of {typed}") as job:
        lot_id = resolve_lot(job.connection, typed)
        shown = view(listing.one_lot(job.connection, lot_id), job.settings)
        if germination_tests.running_test_of(job.connection, lot_id) is not None:
            raise BadInput(f"Lot {shown.number} is under test already. Finish or abandon that test first.")
        published = method_of(shown)
        test_id = germination_tests.add_test(
            job,
            {
                "lot_id": lot_id,
                "state": "running",
                "started_on": on,
                "substrate": substrate or (published.substrates[0].name if published else ""),
                "temperature": temperature or (published.warmth.words if published else ""),
                "first_count_days": first_count_days or (published.first_count_days if published else None),
                "final_count_days": final_count_days or (published.final_count_days if published else None),
                "prechill_days": prechill_days,
                "standard_percent": shown.standard_percent,
                "note": note,
            },
            dishes,
        )
        draw_for_test(job, lot_id, shown, test_id, sum(dishes), on, mass_mg)
        recompute(job, [lot_id])
        return germination_tests.one_test(job.connection, test_id)


def running(catalogue: Catalogue) -> tuple[GerminationTestLine, ...]:
    """Give the tests whose dishes stand, the oldest first."""
    with catalogue.look() as connection:
        return germination_tests.running_tests(connection)


@dataclass(frozen=True, slots=True)
class CountSheet:
    """A test with its dishes and every count so far."""

    test: GerminationTestLine
    dishes: tuple[DishLine, ...]
    counts: tuple[tuple[date, int, Mapping[str, int | None]], ...]


def count_sheet(catalogue: Catalogue, test_id: int) -> CountSheet:
    """Give one test as its count sheet shows it."""
    with catalogue.look() as connection:
        return CountSheet(
            germination_tests.one_test(connection, test_id),
            germination_tests.dishes_of(connection, test_id),
            germination_tests.counts_by_day(connection, test_id),
        )


def enter_counts(
    catalogue: Catalogue, test_id: int, *, on: date, counts: Mapping[int, Mapping[str, int | None]]
) -> CountSheet:
    """Write what some dishes showed on one day (dish number to classes, newly found since the last count).

    A figure of None is a class nobody looked at. A dish never ends with more seeds than were laid in it.
    """
    with catalogue.job(f"count germination test {test_id}") as job:
        test = germination_tests.one_test(job.connection, test_id)
        if test.state != "running":
            raise BadInput(f"The test of lot {test.lot} is {test.state}; nothing more is counted in it.")
        if on < test.started_on:
            raise BadInput(
                f"The dishes were laid on {test.started_on.isoformat()}; nothing was counted before that."
            )
        dishes = {dish.number: dish for dish in germination_tests.dishes_of(job.connection, test_id)}
        for number, classes in counts.items():
            if number not in dishes:
                raise BadInput(f"The test of lot {test.lot} has no dish {number}; it has {len(dishes)}.")
            germination_tests.write_count(job, dishes[number].id, on, clean_counts(classes, number))
        for dish in germination_tests.dishes_of(job.connection, test_id):
            if dish.left < 0:
                raise BadInput(
                    f"Dish {dish.number}: {dish.seeds - dish.left} seeds counted, but only {dish.seeds} were laid. "
                    "Correct one of the counts."
                )
        return CountSheet(
            test,
            germination_tests.dishes_of(job.connection, test_id),
            germination_tests.counts_by_day(job.connection, test_id),
        )


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
