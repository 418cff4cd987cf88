"""Germination tests as records: dishes laid, counts by day, the finished result."""

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from datetime import date, timedelta
from typing import Any

from sqlalchemy import ColumnElement, Connection, func, select, update

from hilum.catalogue.history import add, change
from hilum.catalogue.joining import MIXED, oldest_test_of
from hilum.catalogue.opening import Job
from hilum.catalogue.records import crop, dish, dish_count, germination_test, lot, variety
from hilum.errors import BadInput

CLASSES = ("normal", "abnormal", "hard", "fresh", "dead")


@dataclass(frozen=True, slots=True)
class DishDays:
    """When a dish is laid and when it is to be counted; None where no day is set."""

    laid_on: date
    first_count_on: date | None = None
    final_count_on: date | None = None


@dataclass(frozen=True, slots=True)
class DishLine:
    """One dish with what was found in it up to now; a class nobody looked at is None."""

    id: int
    number: int
    seeds: int
    days: DishDays
    last_count_on: date | None
    totals: Mapping[str, int | None]

    @property
    def left(self) -> int:
        """Seeds that no class has taken yet."""
        return self.seeds - sum(count or 0 for count in self.totals.values())

    @property
    def next_count_on(self) -> date | None:
        """The next counting day; the first one stays the next until it was made, however late."""
        if self.left <= 0:
            return None
        days = (self.days.first_count_on, self.days.final_count_on)
        done = self.last_count_on
        return next((day for day in days if day is not None and (done is None or done < day)), None)

    @property
    def is_counted_out(self) -> bool:
        """Whether nothing more is to come: every seed is classed, or the final count was made."""
        final, last = self.days.final_count_on, self.last_count_on
        return self.left <= 0 or (last is not None and (final is None or last >= final))


@dataclass(frozen=True, slots=True)
class GerminationTestLine:
    """One test as lists and a lot's story show it."""

    id: int
    lot_id: int
    lot: str
    crop: str
    crop_key: str
    variety: str
    state: str
    started_on: date
    finished_on: date | None
    origin: str
    rules: str
    substrate: str
    temperature: str
    first_count_days: int | None
    final_count_days: int | None
    prechill_days: int
    seeds: int
    normal_percent: int | None
    abnormal_percent: int | None
    hard_percent: int | None
    fresh_percent: int | None
    dead_percent: int | None
    not_classed_percent: int | None
    low_percent: float | None
    high_percent: float | None
    range_percent: float | None
    allowed_percent: float | None
    within_tolerance: bool | None
    standard_percent: int | None
    verdict: str | None
    verdict_why: str
    note: str
    group_seeds: int | None
    bar_percent: int | None
    bar_counts_hard: bool | None
    bar_words: str
    # Of its dishes: the earliest first count, the latest final one.
    first_dish_on: date | None
    final_dish_on: date | None

    @property
    def first_count_on(self) -> date | None:
        """The day of the first count; prechilling comes before the printed days."""
        return self.first_dish_on or self._day(self.first_count_days)

    @property
    def final_count_on(self) -> date | None:
        """The day of the final count, that of the dishes laid last."""
        return self.final_dish_on or self._day(self.final_count_days)

    def _day(self, days: int | None) -> date | None:
        return None if days is None else self.started_on + timedelta(days=self.prechill_days + days)


def _lines() -> Any:
    t = germination_test.c
    of_test = dish.c.test_id == t.id
    return (
        select(
            t.id, t.lot_id, lot.c.number, crop.c.name, crop.c.key, variety.c.name, t.state, t.started_on,
            t.finished_on, t.origin, t.rules, t.substrate, t.temperature, t.first_count_days, t.final_count_days,
            t.prechill_days, t.seeds, t.normal_percent, t.abnormal_percent, t.hard_percent, t.fresh_percent,
            t.dead_percent, t.not_classed_percent, t.low_percent, t.high_percent, t.range_percent,
            t.allowed_percent, t.within_tolerance, t.standard_percent, t.verdict, t.verdict_why, t.note,
            t.group_seeds, t.bar_percent, t.bar_counts_hard, t.bar_words,
            select(func.min(dish.c.first_count_on)).where(of_test).correlate(germination_test).scalar_subquery(),
            select(func.max(dish.c.final_count_on)).where(of_test).correlate(germination_test).scalar_subquery(),
        )
        .join(lot, lot.c.id == t.lot_id).join(variety, variety.c.id == lot.c.variety_id)
        .join(crop, crop.c.id == variety.c.crop_id)
    )  # fmt: skip


def germination_tests_of(connection: Connection, lot_id: int) -> tuple[GerminationTestLine, ...]:
    """Give a lot's tests, the newest first."""
    order = (germination_test.c.started_on.desc(), germination_test.c.id.desc())
    rows = connection.execute(_lines().where(germination_test.c.lot_id == lot_id).order_by(*order))
    return tuple(GerminationTestLine(*row) for row in rows)


def finished_tests(connection: Connection) -> tuple[GerminationTestLine, ...]:
    """Give the finished tests of all lots."""
    rows = connection.execute(_lines().where(germination_test.c.state == "finished"))
    return tuple(GerminationTestLine(*row) for row in rows)


def running_tests(connection: Connection) -> tuple[GerminationTestLine, ...]:
    """Give the tests whose dishes stand, the oldest first."""
    rows = connection.execute(
        _lines()
        .where(germination_test.c.state == "running")
        .order_by(germination_test.c.started_on, germination_test.c.id)
    )
    return tuple(GerminationTestLine(*row) for row in rows)


def one_test(connection: Connection, test_id: int) -> GerminationTestLine:
    """Give one test."""
    row = connection.execute(_lines().where(germination_test.c.id == test_id)).one_or_none()
    if row is None:
        raise BadInput(f"There is no germination test {test_id} in this catalogue.")
    return GerminationTestLine(*row)


def running_test_of(connection: Connection, lot_id: int) -> int | None:
    """Give the id of a lot's running test, or None."""
    found = connection.execute(
        select(germination_test.c.id)
        .where(germination_test.c.lot_id == lot_id)
        .where(germination_test.c.state == "running")
    ).scalar()
    return None if found is None else int(found)


def add_test(job: Job, values: Mapping[str, Any], dishes: Sequence[int], days: DishDays) -> int:
    """Write a test and its dishes; gives the test's id."""
    test_id = add(job, germination_test, {**values, "seeds": sum(dishes), "started_on": days.laid_on})
    add_dishes(job, test_id, dishes, days)
    return test_id


def add_dishes(job: Job, test_id: int, dishes: Sequence[int], days: DishDays, *, after: int = 0) -> None:
    """Write dishes of a test, numbered on from `after`."""
    for number, seeds in enumerate(dishes, start=after + 1):
        add(job, dish, {"test_id": test_id, "number": number, "seeds": seeds, **asdict(days)})


def dishes_of(connection: Connection, test_id: int) -> tuple[DishLine, ...]:
    """Give a test's dishes with their totals by class."""
    return _dishes(connection, germination_test.c.id == test_id).get(test_id, ())


def running_dishes(connection: Connection) -> dict[int, tuple[DishLine, ...]]:
    """Give the dishes of every running test, by the test's id."""
    return _dishes(connection, germination_test.c.state == "running")


def _dishes(connection: Connection, wanted: ColumnElement[bool]) -> dict[int, tuple[DishLine, ...]]:
    totals: dict[int, dict[str, int | None]] = {}
    last: dict[int, date] = {}
    to_test = germination_test.c.id == dish.c.test_id
    counts = select(dish_count).join(dish, dish.c.id == dish_count.c.dish_id).join(germination_test, to_test)
    for row in connection.execute(counts.where(wanted)):
        sums = totals.setdefault(row.dish_id, dict.fromkeys(CLASSES))
        for name in CLASSES:
            found = getattr(row, name)
            if found is not None:
                sums[name] = (sums[name] or 0) + found
                last[row.dish_id] = max(row.on_date, last.get(row.dish_id, row.on_date))
    t = germination_test.c
    rows = select(dish, t.started_on, t.prechill_days, t.first_count_days, t.final_count_days)
    found_dishes: dict[int, list[DishLine]] = {}
    for row in connection.execute(rows.join(germination_test, to_test).where(wanted).order_by(dish.c.number)):
        line = DishLine(
            row.id, row.number, row.seeds, _days_of(row), last.get(row.id),
            totals.get(row.id, dict.fromkeys(CLASSES)),
        )  # fmt: skip
        found_dishes.setdefault(row.test_id, []).append(line)
    return {test_id: tuple(lines) for test_id, lines in found_dishes.items()}


def _days_of(row: Any) -> DishDays:
    if row.laid_on is not None:
        return DishDays(row.laid_on, row.first_count_on, row.final_count_on)
    warm = row.started_on + timedelta(days=row.prechill_days)
    first, final = (
        None if days is None else warm + timedelta(days=days)
        for days in (row.first_count_days, row.final_count_days)
    )
    return DishDays(row.started_on, first, final)


def counts_by_day(
    connection: Connection, test_id: int
) -> tuple[tuple[date, int, Mapping[str, int | None]], ...]:
    """Give every count as day, dish number and figures newly found that day; one emptied again is none."""
    rows = connection.execute(
        select(dish.c.number, dish_count)
        .join(dish, dish.c.id == dish_count.c.dish_id)
        .where(dish.c.test_id == test_id)
        .order_by(dish_count.c.on_date, dish.c.number)
    ).all()
    counts = ((row.on_date, row.number, {name: getattr(row, name) for name in CLASSES}) for row in rows)
    return tuple(count for count in counts if any(figure is not None for figure in count[2].values()))


def write_count(job: Job, dish_id: int, on: date, counts: Mapping[str, int | None]) -> None:
    """Write what one dish showed on one day, in place of what that day had, with history."""
    of_the_day = (
        select(dish_count.c.id).where(dish_count.c.dish_id == dish_id).where(dish_count.c.on_date == on)
    )
    written = job.run(of_the_day).scalar()
    if written is None:
        add(job, dish_count, {"dish_id": dish_id, "on_date": on, **counts})
    else:
        change(job, dish_count, written, counts)


def change_test(job: Job, test_id: int, values: Mapping[str, Any]) -> None:
    """Change a test's own fields, with history."""
    change(job, germination_test, test_id, values)


def carry_to_lot(job: Job, lot_id: int) -> None:
    """Keep the newest finished result on the lot, where lists read it.

    A mix that was not tested as a whole has no figure; of its components' tests the oldest counts.
    """
    row = job.run(
        select(
            germination_test.c.normal_percent, germination_test.c.hard_percent, germination_test.c.finished_on
        )
        .where(germination_test.c.lot_id == lot_id)
        .where(germination_test.c.state == "finished")
        .order_by(germination_test.c.finished_on.desc(), germination_test.c.id.desc())
        .limit(1)
    ).one_or_none()
    job.run(
        update(lot)
        .where(lot.c.id == lot_id)
        .values(
            germination_percent=row.normal_percent if row else None,
            hard_percent=row.hard_percent if row else None,
            tested_on=row.finished_on if row else _tested_as_components(job, lot_id),
        )
    )


def _tested_as_components(job: Job, lot_id: int) -> date | None:
    made_as = job.run(select(lot.c.made_as).where(lot.c.id == lot_id)).scalar_one()
    return oldest_test_of(job.connection, lot_id) if made_as == MIXED else None
