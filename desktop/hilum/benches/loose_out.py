"""Loose seed handed out at the counter, by weight or counted, with the guards that packets have."""

from dataclasses import dataclass
from datetime import date

from hilum.benches.counter import Occasion, ReasonWanted, caution_of, event_of, refuse_at_counter
from hilum.benches.lots import in_lot_unit
from hilum.benches.views import LotView, view
from hilum.catalogue import handouts, ledger, listing, loose, names
from hilum.catalogue.amounts import shown_amount
from hilum.catalogue.due import recompute
from hilum.catalogue.find import resolve_lot
from hilum.catalogue.opening import Catalogue

__all__ = ["LooseGiven", "hand_out_loose", "take_back_loose"]


@dataclass(frozen=True, slots=True)
class LooseGiven:
    """What one hand-out of loose seed did: its movement, what went in words, and the lot as it is now."""

    movement_id: int
    lot: LotView
    words: str
    caution: str


def hand_out_loose(
    catalogue: Catalogue,
    typed: str,
    *,
    on: date,
    mass_mg: int | None = None,
    seeds: int | None = None,
    occasion: Occasion | None = None,
    to: str = "",
    why: str = "",
) -> LooseGiven:
    """Hand out loose seed of a lot: either `mass_mg` or `seeds`, drawn from its stock in one transaction.

    Refused for a lot on hold or of unknown identity and where there is not as much. Raises ReasonWanted, writing
    nothing, where the reserve would be touched and `why` is empty.
    """
    with catalogue.job(f"hand out loose seed of {typed}") as job:
        lot_id = resolve_lot(job.connection, typed)
        shown = view(listing.one_lot(job.connection, lot_id), job.settings)
        refuse_at_counter(job.connection, lot_id, shown)
        amount = in_lot_unit(shown, mass_mg=mass_mg, seeds=seeds)
        event_id = event_of(job, occasion or Occasion(), on)
        to_id = names.person_id(job, to) if to.strip() else None
        moved = loose.give(job, lot_id, amount, on=on, event_id=event_id, to_id=to_id, why=why.strip())
        left = view(listing.one_lot(job.connection, lot_id), job.settings)
        if not why.strip():
            shelf = handouts.shelf_of(job.connection, lot_id)
            _refuse_into_reserve(left, sum(batch.packets_left * batch.seeds_per_packet for batch in shelf))
        recompute(job, [lot_id])
        shown = view(listing.one_lot(job.connection, lot_id), job.settings)
        return LooseGiven(moved, shown, shown_amount(amount, shown.line.unit), caution_of(shown))


def _refuse_into_reserve(left: LotView, in_packets: int) -> None:
    if left.stock_seeds is None:
        return
    remaining = left.stock_seeds + in_packets
    if remaining < left.reserve_seeds:
        raise ReasonWanted(
            f"Lot {left.number} ({left.name}) would keep about {remaining} seeds, loose and in packets; its "
            f"reserve is {left.reserve_seeds}. Give a reason to hand out nevertheless."
        )


def take_back_loose(
    catalogue: Catalogue, movement_id: int, *, on: date, why: str = "a wrong hand-out"
) -> LotView:
    """Put loose seed that was handed out back into its lot, by a correction that points at its line."""
    with catalogue.job("take back a hand-out") as job:
        lot_id = ledger.correct(job, movement_id, on=on, why=why)
        recompute(job, [lot_id])
        return view(listing.one_lot(job.connection, lot_id), job.settings)
