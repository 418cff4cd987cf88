"""The ledger of stock: movements are added, never changed; a lot's stock is their running sum."""

from datetime import date
from functools import cache
from typing import Any

from sqlalchemy import Integer, bindparam, func, insert, literal, select, update

from hilum.catalogue.amounts import shown_amount
from hilum.catalogue.counter_records import loose_hand_out
from hilum.catalogue.history import note_movement
from hilum.catalogue.opening import Job
from hilum.catalogue.records import lot, movement
from hilum.errors import KeeperError


class StockError(KeeperError):
    """The stock does not allow the movement; nothing was changed."""


def move(
    job: Job,
    lot_id: int,
    kind: str,
    amount: int | None,
    *,
    on: date,
    why: str = "",
    corrects_id: int | None = None,
    test_id: int | None = None,
    batch_id: int | None = None,
    repeats: int | None = None,
) -> int:
    """Add one movement and carry the lot's stock along, in one guarded statement; gives the movement's id.

    `amount` is signed, in the lot's own unit; None for what was neither weighed nor counted. Refused where the
    stock would fall below zero, and where something is taken from a lot whose stock is not known.
    """
    if amount is not None:
        # One statement reads, guards and writes, so two desks cannot both take the last seed.
        guarded = _taking() if amount < 0 else _giving()
        if job.run(guarded, {"lot": lot_id, "moved": amount}).rowcount != 1:
            _refuse(job, lot_id, amount)
    written = {
        "lot_id": lot_id,
        "kind": kind,
        "amount": amount,
        "on_date": on,
        "person_id": job.person_id,
        "why": why,
        "corrects_id": corrects_id,
        "test_id": test_id,
        "batch_id": batch_id,
        "entered_at": job.at,
    }
    movement_id = int(job.run(_writing(), written).scalar_one())
    note_movement(job, movement_id, lot_id, repeats)
    return movement_id


def correct(job: Job, movement_id: int, *, on: date, why: str, right_amount: int | None = None) -> int:
    """Undo one movement by its opposite, pointing at it; gives the lot's id.

    `right_amount` is what should have been written, signed as in the ledger: it is entered anew, as a movement of
    the same kind that may itself be corrected later.
    """
    row = job.run(select(movement).where(movement.c.id == movement_id)).one_or_none()
    if row is None:
        raise StockError(f"There is no movement {movement_id}.")
    if row.kind == "corrected":
        raise StockError("A correction is not corrected again. Enter the movement anew instead.")
    if is_corrected(job, movement_id):
        raise StockError("That movement has already been corrected.")
    if not why.strip():
        raise StockError("A correction needs its reason: say in a few words what was wrong.")
    opposite = None if row.amount is None else -row.amount
    if right_amount is None:
        move(job, row.lot_id, "corrected", opposite, on=on, why=why, corrects_id=movement_id)
        return int(row.lot_id)
    if right_amount == row.amount:
        raise StockError("That figure is what the line says already. Write the right one.")
    ways = [
        ("corrected", opposite, why, movement_id),
        (row.kind, right_amount, f"in place of the line of {row.on_date.isoformat()}: {why}", None),
    ]
    # What comes in is written first: the stock must never look as if it fell below nothing on the way.
    for kind, amount, words, corrects in sorted(ways, key=lambda way: -(way[1] or 0)):
        moved = move(
            job, row.lot_id, kind, amount, on=on if corrects else row.on_date, why=words, corrects_id=corrects,
            test_id=None if corrects else row.test_id, batch_id=None if corrects else row.batch_id,
        )  # fmt: skip
        if corrects is None:
            _keep_where_it_went(job, movement_id, moved)
    return int(row.lot_id)


def is_corrected(job: Job, movement_id: int) -> bool:
    """Say whether a correction points at a movement."""
    return job.run(select(movement.c.id).where(movement.c.corrects_id == movement_id)).first() is not None


def repeat(job: Job, correction_id: int) -> int:
    """Enter anew the movement that a correction undid, for the correction itself was wrong; gives the lot's id."""
    wrong = movement.alias("wrong")
    row = job.run(
        select(wrong)
        .join(movement, movement.c.corrects_id == wrong.c.id)
        .where(movement.c.id == correction_id)
    ).one_or_none()
    if row is None:
        raise StockError(f"Movement {correction_id} corrects nothing.")
    moved = move(
        job, row.lot_id, row.kind, row.amount, on=row.on_date, why=row.why,
        test_id=row.test_id, batch_id=row.batch_id, repeats=row.id,
    )  # fmt: skip
    _keep_where_it_went(job, row.id, moved)
    return int(row.lot_id)


def _keep_where_it_went(job: Job, movement_id: int, in_place_id: int) -> None:
    """Let a movement that stands in another's place say the same of loose seed handed out."""
    went = loose_hand_out.c
    same = select(literal(in_place_id), went.event_id, went.to_id).where(went.movement_id == movement_id)
    job.run(insert(loose_hand_out).from_select(["movement_id", "event_id", "to_id"], same))


# Put together once: an intake moves stock thousands of times.
@cache
def _giving() -> Any:
    after = func.coalesce(lot.c.stock, 0) + bindparam("moved", type_=Integer)
    return update(lot).where(lot.c.id == bindparam("lot")).values(stock=after, version=lot.c.version + 1)


@cache
def _taking() -> Any:
    # Of a stock that is not known (NULL) the comparison is not true either.
    return _giving().where(lot.c.stock + bindparam("moved", type_=Integer) >= 0)


@cache
def _writing() -> Any:
    return insert(movement).returning(movement.c.id)


def _refuse(job: Job, lot_id: int, amount: int) -> None:
    row = job.run(select(lot.c.number, lot.c.stock, lot.c.unit).where(lot.c.id == lot_id)).one_or_none()
    if row is None:
        raise StockError("The lot is no longer in the catalogue.")
    if row.stock is None:
        raise StockError(
            f"Lot {row.number} has not been weighed yet, so nothing can be taken from it. Weigh it first."
        )
    raise StockError(
        f"Lot {row.number} holds {shown_amount(row.stock, row.unit)}; "
        f"{shown_amount(-amount, row.unit)} cannot be taken from it. Nothing was changed."
    )
