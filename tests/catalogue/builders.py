"""Catalogues and lots for tests, each with defaults that a test overrides where it matters."""

import gzip
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any

import psycopg
from sqlalchemy import select

from hilum.catalogue import crops, names
from hilum.catalogue.lots import NewLot, NumberGiver, add_lot, refresh_find_text
from hilum.catalogue.opening import Catalogue, Job
from hilum.catalogue.records import lot
from tests.support.servers import for_psycopg

A_DAY = date(2026, 11, 25)


@dataclass
class TickingClock:
    """A clock that a test can read: every look at it takes one second."""

    moment: datetime = field(default_factory=lambda: datetime(2026, 11, 25, 9, 0))  # noqa: DTZ001

    def __call__(self) -> datetime:
        """Give the moment and let a second pass."""
        self.moment += timedelta(seconds=1)
        return self.moment


def write_lot(job: Job, *, crop: str = "leek", variety: str = "Harrow Blue", **given: Any) -> tuple[int, str]:
    """Write one lot inside a job, with its find text; gives its id and number."""
    crop_id = crops.crop_id(job.connection, crop)
    for name, find in (("grower", names.person_id), ("place", names.place_id)):
        if name in given:
            given[f"{name}_id"] = find(job, given.pop(name))
    facts: dict[str, Any] = {
        "year": 2025,
        "unit": "mg",
        "amount": 20_000,
        "received_on": date(2025, 10, 1),
    } | given
    new = NewLot(crop_id=crop_id, variety_id=names.variety_id(job, crop_id, variety), **facts)
    lot_id, number = add_lot(job, new, NumberGiver(job))
    refresh_find_text(job, [lot_id])
    return lot_id, number


def a_lot(catalogue: Catalogue, **given: Any) -> int:
    """Write one lot in a job of its own; gives its id."""
    with catalogue.job("take in seed") as job:
        return write_lot(job, **given)[0]


def stock_of(catalogue: Catalogue, lot_id: int) -> int | None:
    """Give a lot's stock as it stands."""
    with catalogue.look() as connection:
        stock: int | None = connection.execute(select(lot.c.stock).where(lot.c.id == lot_id)).scalar_one()
        return stock


def in_threads(jobs: "list[Callable[[], Any]]") -> list[Any]:
    """Run several jobs at once and give their results; an error in one is an error here."""
    from concurrent.futures import ThreadPoolExecutor

    with ThreadPoolExecutor(len(jobs)) as pool:
        return [run.result(timeout=120) for run in [pool.submit(job) for job in jobs]]


STORED = Path(__file__).parents[1] / "data" / "catalogues"


def put_stored(where: str | Path, revision: str) -> None:
    """Put a catalogue there as it was stored at an earlier revision: a file, or the tables of a database."""
    if isinstance(where, Path):
        where.write_bytes(gzip.decompress((STORED / f"{revision}.hilum.gz").read_bytes()))
        return
    with psycopg.connect(for_psycopg(where)) as connection:
        connection.execute((STORED / f"{revision}.sql").read_bytes())
