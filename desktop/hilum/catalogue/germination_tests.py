"""Germination tests as records: dishes laid, counts by day, the finished result."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from sqlalchemy import Connection, select, update

from hilum.catalogue.history import add, change
from hilum.catalogue.opening import Job
from hilum.catalogue.records import crop, dish, dish_count, germination_test, lot, variety
from hilum.errors import BadInput

CLASSES = ("normal", "abnormal", "hard", "fresh", "dead")


@dataclass(frozen=True, slots=True)
class DishLine:
    """One dish with what was found in it up to now; a class nobody looked at is None."""

    id: int
    number: int
    seeds: int
    totals: Mapping[str, int | None]

    @property
    def left(self) -> int:
        """Seeds that no class has taken yet."""
        return self.seeds - sum(count or 0 for count in self.totals.values())


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

    @property
    def first_count_on(self) -> date | None:
        """The day of the first count; prechilling comes before the printed days."""
        return self._day(self.first_count_days)

    @property
    def final_count_on(self) -> date | None:
        """The day of the final count."""
        return self._day(self.final_count_days)

    def _day(self, days: int | None) -> date | None:
        return None if days is None else self.started_on + timedelta(days=self.prechill_days + days)


def _lines() -> Any:
    t = germination_test.c
    return (
        select(
            t.id, t.lot_id, lot.c.number, crop.c.name, crop.c.key, variety.c.name, t.state, t.started_on,
            t.finished_on, t.origin, t.rules, t.substrate, t.temperature, t.first_count_days, t.final_count_days,
            t.prechill_days, t.seeds, t.normal_percent, t.abnormal_percent, t.hard_percent, t.fresh_percent,
            t.dead_percent, t.not_classed_percent, t.low_percent, t.high_percent, t.range_percent,
            t.allowed_percent, t.within_tolerance, t.standard_percent, t.verdict, t.verdict_why, t.note,
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


def add_test(job: Job, values: Mapping[str, Any], dishes: Sequence[int]) -> int:
    """Write a test and its dishes; gives the test's id."""
    test_id = add(job, germination_test, {**values, "seeds": sum(dishes)})
    for number, seeds in enumerate(dishes, start=1):
        add(job, dish, {"test_id": test_id, "number": number, "seeds": seeds})
    return test_id


def dishes_of(connection: Connection, test_id: int) -> tuple[DishLine, ...]:
    """Give a test's dishes with their totals by class."""
    totals: dict[int, dict[str, int | None]] = {}
    for row in connection.execute(
        select(dish_count).join(dish, dish.c.id == dish_count.c.dish_id).where(dish.c.test_id == test_id)
    ):
        sums = totals.setdefault(row.dish_id, dict.fromkeys(CLASSES))
        for name in CLASSES:
            found = getattr(row, name)
            if found is not None:
                sums[name] = (sums[name] or 0) + found
    rows = connection.execute(select(dish).where(dish.c.test_id == test_id).order_by(dish.c.number)).all()
    return tuple(
        DishLine(row.id, row.number, row.seeds, totals.get(row.id, dict.fromkeys(CLASSES))) for row in rows
    )


def counts_by_day(
    connection: Connection, test_id: int
) -> tuple[tuple[date, int, Mapping[str, int | None]], ...]:
    """Give every count as day, dish number and figures newly found that day."""
    rows = connection.execute(
        select(dish.c.number, dish_count)
        .join(dish, dish.c.id == dish_count.c.dish_id)
        .where(dish.c.test_id == test_id)
        .order_by(dish_count.c.on_date, dish.c.number)
    ).all()
    return tuple((row.on_date, row.number, {name: getattr(row, name) for name in CLASSES}) for row in rows)


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
    """Keep the newest finished result on the lot, where lists read it."""
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
            tested_on=row.finished_on if row else None,
        )
    )
