"""Promised returns, and seed that comes back: a new lot with its parent, by the same intake as any list."""

from datetime import date

from hilum.benches import intake
from hilum.benches.promised import Promise, promised_returns
from hilum.benches.views import LotView, view
from hilum.catalogue import listing, names, promises
from hilum.catalogue.crops import reference_crop
from hilum.catalogue.find import resolve_lot
from hilum.catalogue.joined import all_in_one
from hilum.catalogue.opening import Catalogue
from hilum.catalogue.related import add_parent
from hilum.catalogue.steps import set_lot
from hilum.errors import BadInput
from hilum.seedlore.crops import crop_name

__all__ = ["Promise", "give_up", "promise_return", "promised_returns", "take_return"]

UNNAMED = "name not known"


def promise_return(
    catalogue: Catalogue, typed: str, *, on: date, by: date, who: str = "", note: str = ""
) -> int:
    """Write down that seed of a lot was promised back by a day; who promised it may stay unsaid."""
    with catalogue.job(f"note a promised return of {typed}") as job:
        lot_id = resolve_lot(job.connection, typed)
        from_id = names.person_id(job, who) if who.strip() else None
        return promises.add_promise(
            job, lot_id, on=on, by=by, from_id=from_id, event_id=None, note=note.strip()
        )


def give_up(catalogue: Catalogue, promise_id: int, *, on: date, why: str) -> None:
    """Close a promise that will not be kept, with the reason."""
    with catalogue.job("give up a promised return") as job:
        promises.settle(job, promise_id, on=on, why=why)


def take_return(
    catalogue: Catalogue,
    *,
    on: date,
    parent: str = "",
    crop: str = "",
    variety: str = "",
    weight: str = "",
    year: int | None = None,
    who: str = "",
    place_grown: str = "",
    notes: str = "",
    promise_id: int | None = None,
) -> LotView:
    """Take in seed that came back as a new lot: all in one transaction, by the intake every list goes through.

    With a `parent` lot, crop and variety are the parent's and it becomes the new lot's parent. A return without a
    parent names its `crop`; without a `variety` its identity is unknown, so it is never packed as something.
    `weight` is as typed ("12 g", "40 seeds") or empty.
    """
    with all_in_one(catalogue, "take in a return") as joined:
        parent_id = None
        if parent.strip():
            with joined.look() as connection:
                parent_id = resolve_lot(connection, parent)
                of = listing.one_lot(connection, parent_id)
            reference = reference_crop(of.crop_key)
            language = joined.settings().language
            crop = of.crop if reference is None else crop_name(reference, language)
            variety = variety.strip() or of.variety
        if not crop.strip():
            raise BadInput("Say at least which crop came back, or scan the lot it was grown from.")
        number = _taken_in(
            joined, (crop, variety.strip() or UNNAMED, str(year or on.year), weight, place_grown, who,
                     on.isoformat(), "", "", notes), on,
        )  # fmt: skip
        with joined.job(f"note what lot {number} was grown from") as job:
            lot_id = resolve_lot(job.connection, number)
            if parent_id is not None:
                add_parent(job, lot_id, parent_id)
            elif not variety.strip():
                set_lot(job, lot_id, {"identity": "unknown"})
            if promise_id is not None:
                promises.settle(job, promise_id, on=on, returned_lot_id=lot_id)
            return view(listing.one_lot(job.connection, lot_id), job.settings)


def _taken_in(catalogue: Catalogue, row: tuple[str, ...], on: date) -> str:
    plan = intake.plan_rows(catalogue, (row,), today=on)
    if plan.reading.refused:
        raise BadInput(f"The return was not taken in. {plan.reading.refused[0].why}")
    if plan.rows and plan.rows[0].status == intake.ALREADY_HERE:
        raise BadInput(f"The return was not taken in. {plan.rows[0].words}")
    done = intake.take_in(catalogue, plan, anyway=frozenset(planned.read.row for planned in plan.rows))
    return done.accepted[0].lot
