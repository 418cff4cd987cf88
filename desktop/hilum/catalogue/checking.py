"""Looking a catalogue over: what does not add up in it, in words and with nothing changed."""

from collections.abc import Callable, Iterator
from datetime import date
from itertools import pairwise

from sqlalchemy import Connection, and_, case, func, or_, select
from sqlalchemy.exc import DatabaseError

from hilum.catalogue import numbering
from hilum.catalogue.amounts import shown_amount
from hilum.catalogue.counter_records import hand_out
from hilum.catalogue.mishaps import DamagedError
from hilum.catalogue.opening import Catalogue
from hilum.catalogue.records import (
    dish,
    dish_count,
    germination_test,
    lot,
    movement,
    packet_batch,
    stay,
    store_place,
)

# Past this many of one kind a list is no longer read.
_SHOWN_OF_A_KIND = 20


def check(catalogue: Catalogue) -> tuple[str, ...]:
    """Look the whole catalogue over and give what was found, in words; empty when all is well."""
    try:
        with catalogue.look() as connection:
            if catalogue.is_sqlite and (damage := _few(_pages(connection))):
                # What the rest of such a file says is not worth asking.
                return tuple(damage)
            findings = [finding for question in _QUESTIONS for finding in _few(question(connection))]
    except DamagedError as error:
        return (str(error),)
    if catalogue.is_sqlite:
        findings += _find_index(catalogue)
    return tuple(findings)


def _few(found: Iterator[str]) -> list[str]:
    lines = list(found)
    more = len(lines) - _SHOWN_OF_A_KIND
    return lines if more <= 0 else [*lines[:_SHOWN_OF_A_KIND], f"… and {more} more like the last."]


def _pages(connection: Connection) -> Iterator[str]:
    for (said,) in connection.exec_driver_sql("PRAGMA integrity_check"):
        if said != "ok":
            yield f"The file is damaged: {said}. Bring back the newest safety copy with: hilum restore FILE"


def _keys(connection: Connection) -> Iterator[str]:
    # A server keeps its keys at all times; a file's can be passed by, by a program that does not ask for them.
    if connection.dialect.name == "sqlite":
        for table, row_id, parent, _key in connection.exec_driver_sql("PRAGMA foreign_key_check"):
            yield f"Row {row_id} of {table} belongs to a {parent} that is not in the catalogue."


def _stock(connection: Connection) -> Iterator[str]:
    # The sum of no figure at all is null, as is the stock of a lot that was never weighed.
    sums = (
        select(movement.c.lot_id, func.sum(movement.c.amount).label("moved"))
        .group_by(movement.c.lot_id)
        .subquery()
    )
    rows = connection.execute(
        select(lot.c.number, lot.c.stock, lot.c.unit, sums.c.moved)
        .outerjoin(sums, sums.c.lot_id == lot.c.id)
        .where(lot.c.stock.is_distinct_from(sums.c.moved))
        .order_by(lot.c.number)
    )
    for number, stock, unit, moved in rows:
        added_up = None if moved is None else int(moved)
        yield (
            f"Lot {number} is shown with {shown_amount(stock, unit)}, but its movements add up to "
            f"{shown_amount(added_up, unit)}."
        )


def _numbers(connection: Connection) -> Iterator[str]:
    for number in connection.execute(select(lot.c.number).order_by(lot.c.number)).scalars():
        if not numbering.is_well_formed(number):
            yield f"Lot {number} has a wrong check character; its label cannot be trusted when it is typed."


def _batches(connection: Connection) -> Iterator[str]:
    rows = connection.execute(
        select(lot.c.number, packet_batch)
        .join(lot, lot.c.id == packet_batch.c.lot_id)
        .order_by(lot.c.number, packet_batch.c.id)
    ).all()
    taken_from = connection.execute(
        select(movement.c.batch_id, func.min(movement.c.lot_id).label("lot_id"))
        .where(movement.c.batch_id.is_not(None))
        .where(movement.c.kind == "packed")
        .group_by(movement.c.batch_id)
    )
    packed = {row.batch_id: row.lot_id for row in taken_from}
    for row in rows:
        batch = f"Lot {row.number}, packed {row.packed_on}"
        if not 0 <= row.packets_left <= row.packets:
            yield f"{batch}: {row.packets_left} packets are left of {row.packets}."
        if row.id not in packed:
            yield f"{batch}: no movement took the seed for the packets out of stock."
        elif packed[row.id] != row.lot_id:
            yield f"{batch}: the seed was taken out of another lot."


def _hand_outs(connection: Connection) -> Iterator[str]:
    out = (
        select(hand_out.c.batch_id, func.sum(hand_out.c.packets).label("packets"))
        .group_by(hand_out.c.batch_id)
        .subquery()
    )
    given = func.coalesce(out.c.packets, 0)
    rows = connection.execute(
        select(
            lot.c.number, packet_batch.c.packed_on, packet_batch.c.packets, packet_batch.c.packets_left, given
        )
        .join(lot, lot.c.id == packet_batch.c.lot_id)
        .outerjoin(out, out.c.batch_id == packet_batch.c.id)
        # Of a packing that was taken back no packet is left, and none went out.
        .where(
            case((packet_batch.c.taken_back_on.is_(None), packet_batch.c.packets), else_=0)
            - packet_batch.c.packets_left
            != given
        )
        .order_by(lot.c.number, packet_batch.c.id)
    )
    for number, packed_on, packets, left, handed in rows:
        yield (
            f"Lot {number}, packed {packed_on}: {left} packets of {packets} are shown as left, but "
            f"{int(handed)} were handed out."
        )


def _dishes(connection: Connection) -> Iterator[str]:
    laid = select(dish.c.test_id, func.sum(dish.c.seeds).label("seeds")).group_by(dish.c.test_id).subquery()
    rows = connection.execute(
        select(
            lot.c.number, germination_test.c.started_on, germination_test.c.seeds, laid.c.seeds.label("laid")
        )
        .join(lot, lot.c.id == germination_test.c.lot_id)
        .outerjoin(laid, laid.c.test_id == germination_test.c.id)
        .where(
            or_(
                and_(laid.c.seeds.is_(None), germination_test.c.state == "running"),
                laid.c.seeds != germination_test.c.seeds,
            )
        )
        .order_by(lot.c.number)
    )
    for number, started, seeds, in_dishes in rows:
        of_lot = f"Lot {number}: the test begun {started}"
        if in_dishes is None:
            yield f"{of_lot} is running but has no dishes."
        else:
            yield f"{of_lot} is of {seeds} seeds, but its dishes hold {in_dishes}."


def _counts(connection: Connection) -> Iterator[str]:
    counted = sum(
        (func.coalesce(dish_count.c[name], 0) for name in ("abnormal", "hard", "fresh", "dead")),
        start=func.coalesce(dish_count.c.normal, 0),
    )
    rows = connection.execute(
        select(lot.c.number, germination_test.c.started_on, dish.c.number, dish.c.seeds, func.sum(counted))
        .join(dish, dish.c.id == dish_count.c.dish_id)
        .join(germination_test, germination_test.c.id == dish.c.test_id)
        .join(lot, lot.c.id == germination_test.c.lot_id)
        .group_by(lot.c.number, germination_test.c.started_on, dish.c.id, dish.c.number, dish.c.seeds)
        .having(func.sum(counted) > dish.c.seeds)
        .order_by(lot.c.number, dish.c.number)
    )
    for number, started, dish_number, seeds, total in rows:
        of_dish = f"Lot {number}: in dish {dish_number} of the test begun {started}"
        yield f"{of_dish}, {int(total)} seeds were counted of {seeds}."


def _stays(connection: Connection) -> Iterator[str]:
    rows = connection.execute(
        select(lot.c.number, stay.c.lot_id, stay.c.from_on, stay.c.until_on, store_place.c.name)
        .join(lot, lot.c.id == stay.c.lot_id)
        .join(store_place, store_place.c.id == stay.c.store_place_id)
        .order_by(lot.c.number, stay.c.from_on, stay.c.until_on.is_(None), stay.c.until_on, stay.c.id)
    ).all()
    for before, after in pairwise(rows):
        # A lot may leave one place and reach the next on the same day.
        if before.lot_id == after.lot_id and (before.until_on or date.max) > after.from_on:
            yield (
                f"Lot {after.number} is said to be in two places at once from {after.from_on}: "
                f"{before.name} and {after.name}."
            )


def _find_index(catalogue: Catalogue) -> Iterator[str]:
    """Ask the index whether it says what the lots say; the question is put as a write, so it is undone."""
    with catalogue.engine.connect() as connection, connection.begin() as asking:
        try:
            connection.exec_driver_sql("INSERT INTO lot_find (lot_find, rank) VALUES ('integrity-check', 1)")
        except DatabaseError:
            yield "The find index does not say what the lots say, so find would miss some lots."
        asking.rollback()


_QUESTIONS: tuple[Callable[[Connection], Iterator[str]], ...] = (
    _keys,
    _stock,
    _numbers,
    _batches,
    _hand_outs,
    _dishes,
    _counts,
    _stays,
)
