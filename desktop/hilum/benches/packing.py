"""Packing bench: packets of a number of seeds from one lot; stock, batch and labels in one step or not at all."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date

from hilum.benches.asked import is_old_test, months_since
from hilum.benches.lots import refuse_if_held
from hilum.benches.print_book import book_in
from hilum.benches.printing import LabelJob, OrderedSheets, make_lot_sheets, newest_result
from hilum.benches.views import LotView, view
from hilum.catalogue import germination_tests, ledger, listing, steps
from hilum.catalogue.due import recompute
from hilum.catalogue.find import resolve_lot
from hilum.catalogue.germination_tests import GerminationTestLine
from hilum.catalogue.opening import Catalogue, Job
from hilum.catalogue.settings import Settings, read_settings
from hilum.errors import BadInput
from hilum.seedlore.weights import packet_fill

MOST_PACKETS = 10_000


@dataclass(frozen=True, slots=True)
class PackingPlan:
    """What packing a lot would take: the fill of one packet, what is possible above the reserve, what to know first."""

    lot: LotView
    seeds_per_packet: int
    fill_mg: int | None
    fill_words: str
    draw_per_packet: int
    possible_packets: int | None
    warnings: tuple[str, ...]


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
        shown = view(listing.one_lot(connection, lot_id), settings)
        result = newest_result(germination_tests.germination_tests_of(connection, lot_id))
        return _plan(shown, seeds, settings, viable=viable, result=result, on=on)


def _plan(
    shown: LotView,
    seeds: int,
    settings: Settings,
    *,
    viable: bool,
    result: GerminationTestLine | None,
    on: date,
) -> PackingPlan:
    if seeds < 1:
        raise BadInput("A packet holds at least one seed.")
    germination = shown.line.germination_percent
    if viable and not germination:
        raise BadInput(
            f"Lot {shown.number} has no germination result, so packets cannot be filled by germinating seeds."
        )
    said = list(_warnings(shown, result, on))
    counted = seeds if not viable or not germination else -(-seeds * 100 // germination)
    if shown.line.unit == "seeds":
        fill_mg, words, per_packet = None, f"{counted} seeds, counted", counted
        spare = shown.spare_seeds
    else:
        tsw_ug = shown.thousand_seed_weight_ug
        if tsw_ug is None:
            raise BadInput(
                f"Lot {shown.number} has no thousand-seed weight and none is published for {shown.line.crop}. "
                "Count and weigh a sample of it first (Preparing)."
            )
        fill = packet_fill(
            seeds, tsw_ug, germination_percent=germination, viable=viable, step_mg=settings.scale_step_mg
        )
        fill_mg, per_packet = fill.fill_mg, fill.fill_mg
        words = ledger.shown_amount(fill_mg, "mg")
        if fill.too_light:
            said.append(fill.why)
        spare = _spare_mg(shown)
    possible = None if spare is None else max(0, spare // per_packet)
    return PackingPlan(shown, seeds, fill_mg, words, per_packet, possible, tuple(said))


def _spare_mg(shown: LotView) -> int | None:
    if shown.line.stock is None or shown.thousand_seed_weight_ug is None:
        return None
    reserve_mg = -(-shown.reserve_seeds * shown.thousand_seed_weight_ug // 1_000_000)
    return shown.line.stock - int(reserve_mg)


def _warnings(shown: LotView, result: GerminationTestLine | None, on: date) -> tuple[str, ...]:
    said = []
    if result is None:
        said.append("This lot has never been tested; a germination test is due before its first packing.")
    elif shown.line.below_standard:
        said.append(
            f"Germination is {shown.line.germination_percent} %, below the standard of {shown.standard_percent} %. "
            "Some places ask for the words “Below Standard” on the packet: check with your local authority."
        )
    if result is not None and result.finished_on is not None and is_old_test(result.finished_on, on):
        months = months_since(result.finished_on, on)
        said.append(f"Its newest germination test is {months} months old: test again before packing.")
    if shown.thousand_seed_weight_is_estimate and shown.line.unit == "mg":
        said.append(
            "The fill is reckoned by the crop's usual seed weight. Count and weigh a sample to be sure."
        )
    reference = shown.reference
    if reference is not None and reference.poisonous:
        said.append(f"{reference.label_caution} Check with your local authority before handing out.")
    return tuple(said)


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
        plan, result = book_packets(work, lot_id, packets=packets, seeds=seeds, on=on, viable=viable)
        after = view(listing.one_lot(work.connection, lot_id), work.settings)
        sheets = make_lot_sheets(
            [(after, result)] * packets,
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


def book_packets(
    work: Job, lot_id: int, *, packets: int, seeds: int, on: date, viable: bool = False
) -> tuple[PackingPlan, GerminationTestLine | None]:
    """Draw the seed of some packets and write their batch; gives the plan and the newest test they carry.

    Refused for a lot on hold, of unknown identity or never weighed, and where the reserve would be touched.
    """
    if not 1 <= packets <= MOST_PACKETS:
        raise BadInput(f"Packets go from 1 to {MOST_PACKETS} a step.")
    shown = view(listing.one_lot(work.connection, lot_id), work.settings)
    refuse_if_held(work.connection, lot_id, shown)
    _refuse_unknown(shown)
    result = newest_result(germination_tests.germination_tests_of(work.connection, lot_id))
    plan = _plan(shown, seeds, work.settings, viable=viable, result=result, on=on)
    if plan.possible_packets is not None and packets > plan.possible_packets:
        raise BadInput(
            f"Lot {shown.number} has seed for {plan.possible_packets} packets of {seeds} above its reserve of "
            f"{shown.reserve_seeds} seeds; {packets} were asked for. Nothing was packed."
        )
    batch = steps.add_batch(work, lot_id, on, packets=packets, seeds_per_packet=seeds, fill_mg=plan.fill_mg)
    why = f"{packets} packets of {seeds} seeds"
    ledger.move(work, lot_id, "packed", -packets * plan.draw_per_packet, on=on, why=why, batch_id=batch)
    recompute(work, [lot_id])
    return plan, result


def why_not(catalogue: Catalogue, typed: str) -> str:
    """Say what bars a lot from packing (a hold, its identity, no weight), or nothing."""
    with catalogue.look() as connection:
        lot_id = resolve_lot(connection, typed)
        shown = view(listing.one_lot(connection, lot_id), read_settings(connection))
        try:
            refuse_if_held(connection, lot_id, shown)
            _refuse_unknown(shown)
        except BadInput as refused:
            return str(refused)
    return ""


def _refuse_unknown(shown: LotView) -> None:
    if shown.line.identity == "unknown":
        raise BadInput(
            f"The identity of lot {shown.number} is unknown; it is not packed as “{shown.line.variety}”. "
            "Grow it out and set its identity first."
        )
    if shown.line.stock is None:
        raise BadInput(f"Lot {shown.number} has not been weighed yet. Weigh it before packing (Preparing).")
