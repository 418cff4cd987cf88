"""What a lot was grown from, and what was grown from it."""

from collections.abc import Iterable

from sqlalchemy import Connection, insert, select

from hilum.catalogue.opening import Job
from hilum.catalogue.records import lot, lot_parent


def parent_numbers(connection: Connection, lot_id: int) -> tuple[str, ...]:
    """Give the numbers of the lots a lot was grown from."""
    rows = connection.execute(
        select(lot.c.number)
        .join(lot_parent, lot_parent.c.parent_id == lot.c.id)
        .where(lot_parent.c.lot_id == lot_id)
        .order_by(lot.c.number)
    )
    return tuple(row.number for row in rows)


def child_numbers(connection: Connection, lot_id: int) -> tuple[str, ...]:
    """Give the numbers of the lots that were grown from a lot."""
    rows = connection.execute(
        select(lot.c.number)
        .join(lot_parent, lot_parent.c.lot_id == lot.c.id)
        .where(lot_parent.c.parent_id == lot_id)
        .where(lot.c.withdrawn_on.is_(None))
        .order_by(lot.c.number)
    )
    return tuple(row.number for row in rows)


def add_parent(job: Job, lot_id: int, parent_id: int) -> None:
    """Note that a lot was grown from another."""
    job.run(insert(lot_parent).values(lot_id=lot_id, parent_id=parent_id))


def made_as(connection: Connection, lot_ids: Iterable[int]) -> dict[int, str]:
    """Give how lots were made of others, bulked or mixed; empty for those that were grown."""
    rows = connection.execute(select(lot.c.id, lot.c.made_as).where(lot.c.id.in_(tuple(lot_ids))))
    return {row.id: row.made_as for row in rows}


def descendants(connection: Connection, lot_id: int) -> dict[int, int]:
    """Give the lots that were grown from a lot and from those again, with how many generations on each is."""
    found: dict[int, int] = {}
    generation, newest = 0, {lot_id}
    while newest:
        generation += 1
        rows = connection.execute(
            select(lot_parent.c.lot_id)
            .join(lot, lot.c.id == lot_parent.c.lot_id)
            .where(lot_parent.c.parent_id.in_(newest), lot.c.withdrawn_on.is_(None))
        )
        newest = {row.lot_id for row in rows} - found.keys() - {lot_id}
        found |= dict.fromkeys(newest, generation)
    return found
