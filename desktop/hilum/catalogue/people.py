"""People: growers, donors and those who work at the bench; history and ledger hold their ids only."""

from sqlalchemy import Connection, select, update

from hilum.catalogue.names import person_id
from hilum.catalogue.opening import Job
from hilum.catalogue.records import person

ERASED = "(erased)"


def person_names(connection: Connection) -> dict[int, str]:
    """Give every person's name by id; an erased one is shown as such."""
    rows = connection.execute(select(person.c.id, person.c.name))
    return {row.id: row.name if row.name is not None else ERASED for row in rows}


def bench_people(connection: Connection) -> tuple[tuple[int, str], ...]:
    """Give those who work at the bench, by name."""
    rows = connection.execute(
        select(person.c.id, person.c.name)
        .where(person.c.at_bench.is_(True))
        .where(person.c.name.is_not(None))
        .order_by(person.c.folded)
    )
    return tuple((row.id, row.name) for row in rows)


def welcome(job: Job, name: str) -> int:
    """Give the person of that name as one who works at the bench, made on the spot where new."""
    who = person_id(job, name)
    job.run(update(person).where(person.c.id == who).values(at_bench=True))
    return who
