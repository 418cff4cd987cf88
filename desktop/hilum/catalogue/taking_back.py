"""Taking back a whole job, with what it moved and what it made: by corrections, and by marks on what stays."""

from collections.abc import Callable, Mapping
from typing import Any

from sqlalchemy import Row, Table, select, update

from hilum.catalogue import handouts, ledger
from hilum.catalogue.counter_records import hand_out
from hilum.catalogue.history import Unmaking, change, later_edits, stands_on
from hilum.catalogue.history import take_back as take_back_edits
from hilum.catalogue.joining_records import lot_component
from hilum.catalogue.opening import Job
from hilum.catalogue.records import (
    dish,
    germination_test,
    history,
    lot,
    movement,
    packet_batch,
)
from hilum.errors import KeeperError


def take_back(job: Job, old_job: str) -> tuple[str, tuple[int, ...]]:
    """Undo one earlier job, also one that moved stock or made lots; gives its words and the lots it touched.

    The ledger is only added to: a movement is undone by a correction that points at it. A lot that the job made is
    withdrawn: its number stays spent and lists leave it out. A germination test is given up. Taking that back again
    enters the movements anew. Packets that were handed out go back on the shelf by a line that points at theirs.
    Refused with the reason where a later change stands on it.
    """
    what, touched = take_back_edits(job, old_job, UNMAKING)
    if touched:
        job.run(update(lot).where(lot.c.id.in_(touched)).values(version=lot.c.version + 1))
    return what, touched


def _turn_movement(job: Job, edit: Row[Any]) -> int:
    """Undo a movement by a correction; undo a correction by entering anew what it corrected."""
    row = job.run(select(movement).where(movement.c.id == edit.row_id)).one()
    if row.kind == "corrected":
        return ledger.repeat(job, row.id)
    standing = _standing_for(job, movement, row.id)
    if standing is None:
        raise stands_on(edit.what, "a correction of its movement")
    try:
        return ledger.correct(job, standing, on=job.at.date(), why=f"taken back: {edit.what}")
    except ledger.StockError:
        # The seed it brought in has gone on: what took it is a better reason than what is left.
        _refuse_if_used(job, edit, int(row.lot_id))
        raise


def _turn_hand_out(job: Job, edit: Row[Any]) -> int:
    """Put handed-out packets back on the shelf; of a line that put packets back, hand them out anew."""
    row = job.run(
        select(hand_out.c.id, hand_out.c.takes_back_id, packet_batch.c.lot_id)
        .join(packet_batch, packet_batch.c.id == hand_out.c.batch_id)
        .where(hand_out.c.id == edit.row_id)
    ).one()
    if row.takes_back_id is not None:
        handouts.repeat(job, row.id)
        return int(row.lot_id)
    standing = _standing_for(job, hand_out, row.id)
    if standing is None:
        raise KeeperError(f"“{edit.what}” has already been taken back at the Counter.")
    handouts.take_back(job, standing, on=job.at.date(), why=f"taken back: {edit.what}")
    return int(row.lot_id)


def _standing_for(job: Job, table: Table, line_id: int) -> int | None:
    """Give the line of a ledger that holds a line's place after takings-back, or None where it was undone by hand."""
    is_undone, like = _LEDGERS[table]
    standing = line_id
    while is_undone(job, standing):
        again = job.run(
            select(history.c.row_id)
            .where(history.c.table_name == table.name)
            .where(history.c.after["repeats"].as_integer() == standing)
            .where(history.c.row_id.in_(_lines_like(table, like, standing)))
        ).scalar()
        if again is None:
            return None
        standing = int(again)
    return standing


def _lines_like(table: Table, like: str, line_id: int) -> Any:
    """Give the ids of the lines of the same lot or batch: the notes of these alone are read."""
    first = table.alias("first")
    return select(table.c.id).join(first, first.c[like] == table.c[like]).where(first.c.id == line_id)


# By ledger: whether one of its lines is undone, and the column that its lines are told apart by.
_LEDGERS: Mapping[Table, tuple[Callable[[Job, int], bool], str]] = {
    movement: (ledger.is_corrected, "lot_id"),
    hand_out: (handouts.is_taken_back, "batch_id"),
}


def _withdraw(job: Job, edit: Row[Any]) -> int:
    """Withdraw a lot that the job made, unless something has happened to it since."""
    lot_id = int(edit.row_id)
    _refuse_if_used(job, edit, lot_id)
    change(job, lot, lot_id, {"withdrawn_on": job.at.date()})
    return lot_id


def _refuse_if_used(job: Job, edit: Row[Any], lot_id: int) -> None:
    for later in later_edits(job.connection, lot_id, edit):
        if later.table_name != movement.name or not _is_undone(job, later.row_id):
            raise stands_on(edit.what, later.what)


def _is_undone(job: Job, movement_id: int) -> bool:
    """Say whether a movement and its correction leave nothing between them."""
    kind = job.run(select(movement.c.kind).where(movement.c.id == movement_id)).scalar_one()
    return kind == "corrected" or ledger.is_corrected(job, movement_id)


def _give_up_test(job: Job, edit: Row[Any]) -> int:
    """Give up a test that the job laid; its dishes stay with it, and its seed comes back by the correction."""
    row = job.run(select(germination_test).where(germination_test.c.id == edit.row_id)).one()
    if row.state != "running":
        raise stands_on(edit.what)
    change(job, germination_test, row.id, {"state": "abandoned", "note": f"taken back: {edit.what}"})
    return int(row.lot_id)


def _empty_packets(job: Job, edit: Row[Any]) -> int:
    """Empty a packet batch that the job filled, unless packets of it are gone."""
    row = job.run(select(packet_batch).where(packet_batch.c.id == edit.row_id).with_for_update()).one()
    if row.packets_left != row.packets:
        raise KeeperError(
            f"“{edit.what}” cannot be taken back: {row.packets - row.packets_left} of its {row.packets} packets "
            f"packed on {row.packed_on.isoformat()} are gone already. Nothing was changed."
        )
    change(job, packet_batch, row.id, {"packets_left": 0, "taken_back_on": job.at.date()})
    return int(row.lot_id)


def _leave_dish(job: Job, edit: Row[Any]) -> int:
    of_lot = (
        select(germination_test.c.lot_id)
        .join(dish, dish.c.test_id == germination_test.c.id)
        .where(dish.c.id == edit.row_id)
    )
    return int(job.run(of_lot).scalar_one())


def _leave_component(job: Job, edit: Row[Any]) -> int:
    # A withdrawn lot still says what it was made of.
    return int(job.run(select(lot_component.c.lot_id).where(lot_component.c.id == edit.row_id)).scalar_one())


UNMAKING: Mapping[str, Unmaking] = {
    movement.name: _turn_movement,
    hand_out.name: _turn_hand_out,
    lot.name: _withdraw,
    germination_test.name: _give_up_test,
    packet_batch.name: _empty_packets,
    dish.name: _leave_dish,
    lot_component.name: _leave_component,
}
