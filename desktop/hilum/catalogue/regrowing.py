"""Regrowings: lots grown to renew them, from the plan to the harvest, and what decides that a lot needs it."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from sqlalchemy import Connection, select

from hilum.catalogue import history
from hilum.catalogue.opening import Job
from hilum.catalogue.records import germination_test, lot
from hilum.catalogue.season_records import REGROWING_STATES, regrowing
from hilum.errors import BadInput

OPEN_STATES = ("planned", "sown", "selected")

__all__ = ["OPEN_STATES", "REGROWING_STATES", "RegrowingLine"]


@dataclass(frozen=True, slots=True)
class RegrowingLine:
    """One regrowing as it is written; what has not come yet is None."""

    id: int
    lot_id: int
    year: int
    state: str
    why: str
    garden: str
    bed: str
    plants: int
    losses_percent: int
    seeds: int
    isolation: str
    planned_on: date
    sown_on: date | None
    seeds_sown: int | None
    selected_on: date | None
    plants_kept: int | None
    harvested_on: date | None
    new_lot_id: int | None
    notes: str


def add_regrowing(job: Job, values: Mapping[str, Any]) -> int:
    """Write a plan to regrow a lot."""
    return history.add(job, regrowing, {"state": "planned", **values})


def change_regrowing(job: Job, regrowing_id: int, values: Mapping[str, Any]) -> bool:
    """Change one regrowing; says whether anything differed."""
    return history.change(job, regrowing, regrowing_id, values)


def regrowings(
    connection: Connection, states: tuple[str, ...] = REGROWING_STATES
) -> tuple[RegrowingLine, ...]:
    """Give regrowings in some states, the earliest year first, garden by garden."""
    statement: Any = (
        select(regrowing)
        .where(regrowing.c.state.in_(states))
        .order_by(regrowing.c.year, regrowing.c.garden, regrowing.c.bed, regrowing.c.id)
    )
    return tuple(RegrowingLine(*row) for row in connection.execute(statement))


def one_regrowing(connection: Connection, regrowing_id: int) -> RegrowingLine:
    """Give one regrowing by its id."""
    row: Any = connection.execute(select(regrowing).where(regrowing.c.id == regrowing_id)).one_or_none()
    if row is None:
        raise BadInput(f"There is no regrowing {regrowing_id} in this catalogue.")
    return RegrowingLine(*row)


def first_results(connection: Connection) -> dict[int, tuple[int, date]]:
    """Give the first germination result of each tested lot, in percent, with its day."""
    found: dict[int, tuple[int, date]] = {}
    rows = connection.execute(
        select(germination_test.c.lot_id, germination_test.c.normal_percent, germination_test.c.finished_on)
        .where(germination_test.c.state == "finished")
        .where(germination_test.c.normal_percent.is_not(None))
        .order_by(germination_test.c.finished_on, germination_test.c.id)
    )
    for row in rows:
        found.setdefault(row.lot_id, (row.normal_percent, row.finished_on))
    return found


def varieties_of_lots(connection: Connection) -> dict[int, int]:
    """Give the variety of every lot that still holds seed."""
    rows = connection.execute(
        select(lot.c.id, lot.c.variety_id).where((lot.c.stock.is_(None)) | (lot.c.stock > 0))
    )
    return {row.id: row.variety_id for row in rows}
