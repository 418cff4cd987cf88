"""Readings of store places, one row a place and day: of two figures for a day the one from more readings stays."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from sqlalchemy import Connection, func, select

from hilum.catalogue.history import add, remove
from hilum.catalogue.opening import Job
from hilum.catalogue.store_records import reading


@dataclass(frozen=True, slots=True)
class ReadingLine:
    """The readings of a place on one day."""

    id: int
    store_place_id: int
    on: date
    temperature_c: float | None
    lowest_c: float | None
    highest_c: float | None
    ageing_c: float | None
    humidity_percent: float | None
    readings: int
    origin: str


@dataclass(frozen=True, slots=True)
class DaysKept:
    """How many days were new, replaced by more readings, and left as they were."""

    new: int
    replaced: int
    left: int


def keep_days(job: Job, store_place_id: int, days: Iterable[Mapping[str, Any]], origin: str) -> DaysKept:
    """Write daily figures of a place; `days` have the columns of a reading, without place and origin."""
    known = {
        row.on_date: row
        for row in job.run(select(reading).where(reading.c.store_place_id == store_place_id)).all()
    }
    new = replaced = left = 0
    for day in days:
        there = known.get(day["on_date"])
        if there is not None:
            same = all(getattr(there, name) == value for name, value in day.items())
            if same or day["readings"] < there.readings:
                left += 1
                continue
            # Taken away whole and not changed, so that the history tells of both.
            remove(job, reading, there.id)
            replaced += 1
        else:
            new += 1
        add(job, reading, {"store_place_id": store_place_id, "origin": origin, **day})
    return DaysKept(new, replaced, left)


def readings_of(
    connection: Connection, store_place_id: int, limit: int | None = None
) -> tuple[ReadingLine, ...]:
    """Give the daily figures of a place, newest first."""
    rows = connection.execute(
        select(reading)
        .where(reading.c.store_place_id == store_place_id)
        .order_by(reading.c.on_date.desc())
        .limit(limit)
    )
    return tuple(
        ReadingLine(
            row.id, row.store_place_id, row.on_date, row.temperature_c, row.lowest_c, row.highest_c, row.ageing_c,
            row.humidity_percent, row.readings, row.origin,
        )
        for row in rows
    )  # fmt: skip


def count_days(connection: Connection) -> dict[int, tuple[int, date]]:
    """Give for each place with readings how many days it has and the newest of them."""
    rows = connection.execute(
        select(reading.c.store_place_id, func.count().label("days"), func.max(reading.c.on_date).label("newest"))
        .group_by(reading.c.store_place_id)
    )  # fmt: skip
    return {row.store_place_id: (row.days, row.newest) for row in rows}
