"""Stocktakes: what was seen while a place is counted; working paper without a history, until it is written."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from sqlalchemy import Connection, delete, insert, select, update

from hilum.catalogue.history import change
from hilum.catalogue.opening import Job
from hilum.catalogue.store_records import stocktake, stocktake_line
from hilum.errors import BadInput

OPEN, WRITTEN, DROPPED = "open", "written", "dropped"


@dataclass(frozen=True, slots=True)
class StocktakeLine:
    """One stocktake: the place that is counted and how far it has come."""

    id: int
    store_place_id: int
    begun_on: date
    ended_on: date | None
    state: str


@dataclass(frozen=True, slots=True)
class SeenLine:
    """One code that was seen: where, how, and what the scale or the count said, masses in mg."""

    id: int
    code: str
    lot_id: int | None
    store_place_id: int
    seen_by: str
    gross_mg: int | None
    tare_mg: int | None
    seeds: int | None


def begin(job: Job, store_place_id: int, on: date) -> int:
    """Open a stocktake of a place; one place is counted once at a time."""
    if any(each.store_place_id == store_place_id for each in open_stocktakes(job.connection)):
        raise BadInput("This place is being counted already. Go on with that stocktake, or drop it.")
    values = {"store_place_id": store_place_id, "begun_on": on, "state": OPEN, "person_id": job.person_id}
    return int(job.run(insert(stocktake).values(**values).returning(stocktake.c.id)).scalar_one())


def open_stocktakes(connection: Connection) -> tuple[StocktakeLine, ...]:
    """Give the stocktakes that are under way, the newest first."""
    rows = connection.execute(
        select(stocktake).where(stocktake.c.state == OPEN).order_by(stocktake.c.id.desc())
    )
    return tuple(map(_line, rows))


def stocktake_of(connection: Connection, stocktake_id: int) -> StocktakeLine:
    """Give one stocktake; refuses one that is not under way."""
    row = connection.execute(select(stocktake).where(stocktake.c.id == stocktake_id)).one_or_none()
    if row is None:
        raise BadInput("There is no such stocktake.")
    if row.state != OPEN:
        raise BadInput(
            f"This stocktake was {row.state} on {row.ended_on.isoformat()}. Begin a new one for the place."
        )
    return _line(row)


def _line(row: Any) -> StocktakeLine:
    return StocktakeLine(row.id, row.store_place_id, row.begun_on, row.ended_on, row.state)


def see(job: Job, stocktake_id: int, code: str, values: Mapping[str, Any]) -> bool:
    """Note a code that was seen; one seen before takes the new figures that are given. Says whether it is new."""
    known = job.run(
        select(stocktake_line.c.id)
        .where(stocktake_line.c.stocktake_id == stocktake_id)
        .where(stocktake_line.c.code == code)
    ).scalar()
    if known is None:
        job.run(insert(stocktake_line).values(stocktake_id=stocktake_id, code=code, **values))
        return True
    given = {name: value for name, value in values.items() if value is not None}
    job.run(update(stocktake_line).where(stocktake_line.c.id == known).values(**given))
    return False


def forget(job: Job, stocktake_id: int, code: str) -> bool:
    """Strike a code that was noted by mistake; says whether it was there."""
    struck = job.run(
        delete(stocktake_line)
        .where(stocktake_line.c.stocktake_id == stocktake_id)
        .where(stocktake_line.c.code == code)
    )
    return bool(struck.rowcount)


def seen_in(connection: Connection, stocktake_id: int) -> tuple[SeenLine, ...]:
    """Give what was seen in a stocktake, in the order of its first sight."""
    rows = connection.execute(
        select(stocktake_line)
        .where(stocktake_line.c.stocktake_id == stocktake_id)
        .order_by(stocktake_line.c.id)
    )
    return tuple(
        SeenLine(
            row.id, row.code, row.lot_id, row.store_place_id, row.seen_by, row.gross_mg, row.tare_mg, row.seeds
        )
        for row in rows
    )  # fmt: skip


def seen_counts(connection: Connection, stocktake_ids: Iterable[int]) -> dict[int, int]:
    """Give how many codes were seen so far, by stocktake."""
    return {each: len(seen_in(connection, each)) for each in stocktake_ids}


def end(job: Job, stocktake_id: int, state: str, on: date) -> None:
    """End a stocktake as written or dropped. This alone stands in the history, so that it can be taken back."""
    change(job, stocktake, stocktake_id, {"state": state, "ended_on": on})
