"""Running tests: how far each has come, its count sheet, and what a day's count adds to it."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from hilum.benches.dishes import clean_counts
from hilum.benches.groups import GroupStanding, group_standing
from hilum.catalogue import germination_tests, listing
from hilum.catalogue.find import resolve_lot
from hilum.catalogue.germination_tests import DishLine, GerminationTestLine
from hilum.catalogue.opening import Catalogue, Job
from hilum.errors import BadInput

# Dish number to classes; None is a class nobody looked at.
DayCounts = Mapping[int, Mapping[str, int | None]]


def running(catalogue: Catalogue) -> tuple[GerminationTestLine, ...]:
    """Give the tests whose dishes stand, the oldest first."""
    with catalogue.look() as connection:
        return germination_tests.running_tests(connection)


def running_test(catalogue: Catalogue, typed: str) -> GerminationTestLine:
    """Give the running test of a lot; refused where its lot has none."""
    with catalogue.look() as connection:
        lot_id = resolve_lot(connection, typed)
        test_id = germination_tests.running_test_of(connection, lot_id)
        if test_id is None:
            number = listing.one_lot(connection, lot_id).number
            raise BadInput(f"Lot {number} is not under test. Lay its dishes first.")
        return germination_tests.one_test(connection, test_id)


@dataclass(frozen=True, slots=True)
class StandingTest:
    """A running test with how far its counts have come."""

    test: GerminationTestLine
    dishes: tuple[DishLine, ...]
    groups: GroupStanding | None

    @property
    def normal(self) -> int:
        """Normal seedlings found so far."""
        return sum(dish.totals["normal"] or 0 for dish in self.dishes)

    @property
    def left(self) -> int:
        """Seeds that no class has taken yet."""
        return sum(dish.left for dish in self.dishes)

    @property
    def has_days(self) -> bool:
        """Whether any counting day is set."""
        return any(dish.days.final_count_on is not None for dish in self.dishes)

    @property
    def next_count_on(self) -> date | None:
        """The next counting day of any dish; None once all were counted out, or where no day is set."""
        days = (dish.next_count_on for dish in self.dishes)
        return min((day for day in days if day is not None), default=None)

    def waits_on(self, day: date) -> bool:
        """Whether there is something to do with it on a day: a count, or it is over."""
        following = self.next_count_on
        return self.has_days if following is None else following <= day


def standing_tests(catalogue: Catalogue) -> tuple[StandingTest, ...]:
    """Give the running tests with how far they have come, the oldest first."""
    with catalogue.look() as connection:
        tests = germination_tests.running_tests(connection)
        dishes = germination_tests.running_dishes(connection)
    return tuple(
        StandingTest(test, dishes.get(test.id, ()), group_standing(test, dishes.get(test.id, ())))
        for test in tests
    )


@dataclass(frozen=True, slots=True)
class CountSheet:
    """A test with its dishes and every count so far; `standing` says how far it has come."""

    test: GerminationTestLine
    dishes: tuple[DishLine, ...]
    counts: tuple[tuple[date, int, Mapping[str, int | None]], ...]
    standing: StandingTest


def count_sheet(catalogue: Catalogue, test_id: int) -> CountSheet:
    """Give one test as its count sheet shows it."""
    with catalogue.look() as connection:
        test = germination_tests.one_test(connection, test_id)
        dishes = germination_tests.dishes_of(connection, test_id)
        counts = germination_tests.counts_by_day(connection, test_id)
    return CountSheet(test, dishes, counts, StandingTest(test, dishes, group_standing(test, dishes)))


def enter_counts(catalogue: Catalogue, test_id: int, *, on: date, counts: DayCounts) -> CountSheet:
    """Write what some dishes showed on one day (dish number to classes, newly found since the last count).

    A figure of None is a class nobody looked at. A dish never ends with more seeds than were laid in it.
    """
    with catalogue.job(f"count germination test {test_id}") as job:
        write_counts(job, test_id, on, counts)
    return count_sheet(catalogue, test_id)


def write_counts(job: Job, test_id: int, on: date, counts: DayCounts) -> None:
    """Write the counts of a day within a job; refuses what cannot be, by dish."""
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
        laid = dishes[number].days.laid_on
        if on < laid:
            raise BadInput(
                f"Dish {number} was laid on {laid.isoformat()}; nothing was counted in it before that."
            )
        germination_tests.write_count(job, dishes[number].id, on, clean_counts(classes, number))
    for dish in germination_tests.dishes_of(job.connection, test_id):
        if dish.left < 0:
            raise BadInput(
                f"Dish {dish.number}: {dish.seeds - dish.left} seeds counted, but only {dish.seeds} were laid. "
                "Correct one of the counts."
            )
