"""People: growers, donors, recipients and those at the bench; history and ledger hold their ids only."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Any

from sqlalchemy import Connection, func, or_, select, update

from hilum.catalogue.counter_records import hand_out, loose_hand_out, promised_return
from hilum.catalogue.lots import refresh_find_text
from hilum.catalogue.names import person_id
from hilum.catalogue.opening import Job, hides_people
from hilum.catalogue.records import lot, movement, person

ERASED = "(erased)"
HIDDEN = "(hidden)"


def person_names(connection: Connection) -> dict[int, str]:
    """Give every person's name by id; an erased one is shown as such, and all are hidden in the visitors' view."""
    hidden = hides_people(connection)
    rows = connection.execute(select(person.c.id, person.c.name))
    return {row.id: HIDDEN if hidden else row.name if row.name is not None else ERASED for row in rows}


def bench_people(connection: Connection) -> tuple[tuple[int, str], ...]:
    """Give those who work at the bench, by name; nobody in the visitors' view."""
    if hides_people(connection):
        return ()
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


@dataclass(frozen=True, slots=True)
class PersonLine:
    """A person whose name is kept: when they were last met with, and what still needs the name."""

    id: int
    name: str
    note: str
    at_bench: bool
    last_on: date | None
    lots_in_hand: int
    promises_open: int

    @property
    def is_needed(self) -> bool:
        """Whether work that is going on needs the name: a lot in hand, an open promise, a place at the bench."""
        return self.at_bench or self.lots_in_hand > 0 or self.promises_open > 0


def people_kept(connection: Connection) -> tuple[PersonLine, ...]:
    """Give everybody whose name is kept, by name."""
    last = _last_dates(connection)
    in_hand = _counts(connection, _lots_in_hand())
    waiting = _counts(
        connection,
        select(promised_return.c.from_id, func.count())
        .where(promised_return.c.settled_on.is_(None))
        .group_by(promised_return.c.from_id),
    )
    rows = connection.execute(
        select(person.c.id, person.c.name, person.c.note, person.c.at_bench)
        .where(person.c.name.is_not(None))
        .order_by(person.c.folded, person.c.id)
    )
    hidden = hides_people(connection)
    return tuple(
        PersonLine(
            row.id, HIDDEN if hidden else row.name, "" if hidden else row.note, row.at_bench, last.get(row.id),
            in_hand.get(row.id, 0), waiting.get(row.id, 0),
        )
        for row in rows
    )  # fmt: skip


def erase(job: Job, ids: Iterable[int], on: date) -> tuple[int, ...]:
    """Blank the rows of some people and what find knows of them; their ids stay in ledger and history.

    Gives those whose name was still there.
    """
    wanted = tuple(ids)
    named = job.run(select(person.c.id).where(person.c.id.in_(wanted)).where(person.c.name.is_not(None)))
    found = tuple(named.scalars())
    job.run(
        update(person)
        .where(person.c.id.in_(found))
        .values(name=None, folded="", note="", at_bench=False, erased_on=on)
    )
    refresh_find_text(job, job.run(select(lot.c.id).where(lot.c.grower_id.in_(found))).scalars().all())
    return found


def erased_people(connection: Connection) -> dict[int, date]:
    """Give who was erased, and when: the list that a restore replays."""
    rows = connection.execute(select(person.c.id, person.c.erased_on).where(person.c.erased_on.is_not(None)))
    return {row.id: row.erased_on for row in rows}


def _last_dates(connection: Connection) -> dict[int, date]:
    last: dict[int, date] = {}
    for who, day in (
        (hand_out.c.to_id, hand_out.c.on_date),
        (hand_out.c.person_id, hand_out.c.on_date),
        (loose_hand_out.c.to_id, movement.c.on_date),
        (promised_return.c.from_id, promised_return.c.expected_by),
        (movement.c.person_id, movement.c.on_date),
        (lot.c.grower_id, lot.c.received_on),
        (lot.c.donor_id, lot.c.received_on),
    ):
        for person_at, newest in connection.execute(
            select(who, func.max(day)).select_from(_dated(who.table)).where(who.is_not(None)).group_by(who)
        ):
            last[person_at] = max(newest, last.get(person_at, newest))
    return last


def _dated(table: Any) -> Any:
    """Give a table with the rows that say on which day each of its own was."""
    if table is loose_hand_out:
        return loose_hand_out.join(movement, movement.c.id == loose_hand_out.c.movement_id)
    return table


def _lots_in_hand() -> Any:
    of = person.alias("of")
    return (
        select(of.c.id, func.count())
        .join(lot, or_(lot.c.grower_id == of.c.id, lot.c.donor_id == of.c.id))
        .where(or_(lot.c.stock.is_(None), lot.c.stock > 0), lot.c.withdrawn_on.is_(None))
        .group_by(of.c.id)
    )


def _counts(connection: Connection, statement: Any) -> dict[int, int]:
    return {who: int(count) for who, count in connection.execute(statement) if who is not None}
