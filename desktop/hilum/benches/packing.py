"""Packing bench: packets of a number of seeds from one lot; stock, batch and labels in one step or not at all."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from typing import Any

from hilum.benches.lots import refuse_if_held
from hilum.benches.packet_plan import PackingPlan, packing_bar, plan_packets
from hilum.benches.print_book import book_in
from hilum.benches.printing import LabelJob, OrderedSheets, make_lot_sheets, newest_result
from hilum.benches.views import LotView, view
from hilum.catalogue import germination_tests, ledger, listing, season, steps
from hilum.catalogue.due import recompute
from hilum.catalogue.find import resolve_lot
from hilum.catalogue.germination_tests import GerminationTestLine
from hilum.catalogue.opening import Catalogue, Job
from hilum.catalogue.settings import Settings, read_settings
from hilum.catalogue.steps import BatchLine
from hilum.errors import BadInput

__all__ = [
    "MOST_PACKETS",
    "Booked",
    "Packed",
    "PackingPlan",
    "book_packets",
    "pack",
    "plan_packing",
    "why_not",
]

MOST_PACKETS = 10_000


@dataclass(frozen=True, slots=True)
class Packed:
    """What was packed, with its labels."""

    lot: LotView
    packets: int
    seeds_per_packet: int
    fill_mg: int | None
    sheets: OrderedSheets
    warnings: tuple[str, ...]


def plan_packing(
    catalogue: Catalogue, typed: str, *, seeds: int, on: date, viable: bool = False
) -> PackingPlan:
    """Say what packets of so many seeds would need; `viable` fills for that many germinating seeds. Writes nothing."""
    with catalogue.look() as connection:
        lot_id = resolve_lot(connection, typed)
        settings = read_settings(connection)
        return _plan(connection, lot_id, seeds, settings, on=on, viable=viable)


def _plan(
    connection: Any, lot_id: int, seeds: int, settings: Settings, *, on: date, viable: bool
) -> PackingPlan:
    shown = view(listing.one_lot(connection, lot_id), settings)
    return plan_packets(
        shown, seeds, settings, on=on, viable=viable, spoon=season.spoons(connection, lot_id).get(lot_id),
        is_dried=steps.is_dried(connection, lot_id),
    )  # fmt: skip


def pack(
    catalogue: Catalogue,
    typed: str,
    *,
    packets: int,
    seeds: int,
    job: LabelJob,
    on: date,
    viable: bool = False,
    keep: Callable[[bytes], None] | None = None,
    progress: Callable[[int, int], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> Packed:
    """Fill packets: draw the stock, write the batch, make its proofed labels; all of it, or nothing.

    `keep` is handed the PDF while the transaction is still open: when it cannot be written nothing was packed.
    """
    with catalogue.job(f"pack {packets} packets of {typed}") as work:
        lot_id = resolve_lot(work.connection, typed)
        booked = book_packets(work, lot_id, packets=packets, seeds=seeds, on=on, viable=viable)
        plan = booked.plan
        after = view(listing.one_lot(work.connection, lot_id), work.settings)
        sheets = make_lot_sheets(
            [(after, booked.result)] * packets,
            job,
            work.settings,
            on=on,
            treated=steps.treated_lots(work.connection),
            seeds_per_packet=seeds,
            progress=progress,
            stop=stop,
        )
        book_in(work, sheets, on=on, went_to="packing")
        if keep is not None:
            keep(sheets.pdf)
        return Packed(after, packets, seeds, plan.fill_mg, sheets, plan.warnings)


@dataclass(frozen=True, slots=True)
class Booked:
    """Packets that were booked: their plan, the newest test they carry, and their batch."""

    plan: PackingPlan
    result: GerminationTestLine | None
    batch_id: int


def book_packets(
    work: Job, lot_id: int, *, packets: int, seeds: int, on: date, viable: bool = False
) -> Booked:
    """Draw the seed of some packets and write their batch.

    Refused for a lot on hold, of unknown identity or never weighed, and where the reserve would be touched.
    """
    if not 1 <= packets <= MOST_PACKETS:
        raise BadInput(f"Packets go from 1 to {MOST_PACKETS} a step.")
    _refuse_barred(work.connection, lot_id, view(listing.one_lot(work.connection, lot_id), work.settings))
    plan = _plan(work.connection, lot_id, seeds, work.settings, on=on, viable=viable)
    shown = plan.lot
    if plan.possible_packets is not None and packets > plan.possible_packets:
        raise BadInput(
            f"Lot {shown.number} has seed for {plan.possible_packets} packets of {seeds} above its reserve of "
            f"{shown.reserve_seeds} seeds; {packets} were asked for. Nothing was packed."
        )
    batch = steps.add_batch(work, lot_id, on, packets=packets, seeds_per_packet=seeds, fill_mg=plan.fill_mg)
    why = f"{packets} packets of {seeds} seeds"
    ledger.move(work, lot_id, "packed", -packets * plan.draw_per_packet, on=on, why=why, batch_id=batch)
    recompute(work, [lot_id])
    result = newest_result(germination_tests.germination_tests_of(work.connection, lot_id))
    return Booked(plan, result, batch)


def packed_on(catalogue: Catalogue, on: date) -> tuple[tuple[LotView, BatchLine], ...]:
    """Give what was packed on a day, at this desk and at every other, the newest first."""
    with catalogue.look() as connection:
        settings = read_settings(connection)
        return tuple(
            (view(listing.one_lot(connection, lot_id), settings), batch)
            for lot_id, batch in steps.batches_on(connection, on)
        )


def why_not(catalogue: Catalogue, typed: str) -> str:
    """Say what bars a lot from packing (a hold, its identity, no weight), or nothing."""
    with catalogue.look() as connection:
        lot_id = resolve_lot(connection, typed)
        shown = view(listing.one_lot(connection, lot_id), read_settings(connection))
        try:
            _refuse_barred(connection, lot_id, shown)
        except BadInput as refused:
            return str(refused)
    return ""


def _refuse_barred(connection: Any, lot_id: int, shown: LotView) -> None:
    refuse_if_held(connection, lot_id, shown)
    bar = packing_bar(shown, ())
    if bar.words:
        raise BadInput(bar.words)
