"""Packing bench, the season's list: which lots, how many packets of each, and all of them packed in one step."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from hilum.benches.packet_plan import PackingPlan, Remark, packing_bar, plan_packets
from hilum.benches.packing import MOST_PACKETS
from hilum.benches.views import LotView, view
from hilum.catalogue import listing, lots, season, steps
from hilum.catalogue.amounts import shown_amount
from hilum.catalogue.find import resolve_lot
from hilum.catalogue.opening import Catalogue, Job
from hilum.catalogue.season import SeasonList, SeasonRow, Spoon
from hilum.catalogue.settings import Settings, read_settings
from hilum.errors import BadInput
from hilum.exchange.printed_list import ListColumn, printed_list
from hilum.seedlore.packets import CheckOfTen, check_of_ten, usual_packet_seeds
from hilum.seedlore.weights import mass_of

__all__ = ["MOST_PACKETS", "CheckOfTen", "PlannedRow", "Remark", "SeasonList", "SeasonPlan", "Spoon"]

# Packets wanted of a lot until the keeper says otherwise.
USUAL_PACKETS = 10
MOST_SEEDS = 100_000
MOST_ROWS = 2_000
# From this month on packets are filled for the next year.
_NEXT_YEAR_FROM = 8
_FIGURES = {"seeds_per_packet": ("seeds in a packet", 1, MOST_SEEDS), "packets": ("packets", 0, MOST_PACKETS)}


@dataclass(frozen=True, slots=True)
class PlannedRow:
    """One lot of a list with what packing it would take; `barred` says why it cannot be packed now, or nothing."""

    id: int
    lot: LotView
    seeds_per_packet: int
    packets: int
    packed: int
    by_germination: bool
    plan: PackingPlan | None
    barred: Remark
    spoon: Spoon | None
    ten_empty_mg: int | None
    ten_filled_mg: int | None
    check: CheckOfTen | None

    @property
    def number(self) -> str:
        """The lot number."""
        return self.lot.number

    @property
    def bar(self) -> str:
        """Why the lot cannot be packed now, in whole sentences; empty where it can."""
        return self.barred.words

    @property
    def left(self) -> int:
        """Packets that are wanted and not packed yet."""
        return max(0, self.packets - self.packed)

    @property
    def can_pack(self) -> bool:
        """Whether there is something to pack and nothing bars it."""
        return self.left > 0 and not self.bar

    @property
    def warnings(self) -> tuple[str, ...]:
        """What to know before packing."""
        return () if self.plan is None else self.plan.warnings

    @property
    def draw(self) -> int | None:
        """What packing the rest takes out of stock, in the lot's own unit."""
        return None if self.plan is None else self.left * self.plan.draw_per_packet


@dataclass(frozen=True, slots=True)
class SeasonPlan:
    """A list whole, in its own order."""

    list: SeasonList
    rows: tuple[PlannedRow, ...]


def usual_name(on: date) -> str:
    """Give the name a list of this time of the year would have."""
    return f"Spring {on.year + 1 if on.month >= _NEXT_YEAR_FROM else on.year}"


def season_lists(catalogue: Catalogue) -> tuple[SeasonList, ...]:
    """Give every list, the newest first."""
    with catalogue.look() as connection:
        return season.season_lists(connection)


def make_list(catalogue: Catalogue, name: str, *, on: date) -> SeasonList:
    """Begin a list."""
    with catalogue.job(f"begin the season's list {name}") as job:
        return _one_list(job.connection, season.make_list(job, name, on))


def rename_list(catalogue: Catalogue, list_id: int, name: str) -> None:
    """Give a list another name."""
    with catalogue.job(f"rename the season's list to {name}") as job:
        season.rename_list(job, list_id, name)


def list_named(catalogue: Catalogue, name: str) -> SeasonList:
    """Give a list by its name; refused with the names there are."""
    with catalogue.look() as connection:
        return _one_list(connection, season.list_named(connection, name))


def _one_list(connection: Any, list_id: int) -> SeasonList:
    found = [each for each in season.season_lists(connection) if each.id == list_id]
    if not found:
        raise BadInput("That season's list is no longer in the catalogue.")
    return found[0]


def season_plan(catalogue: Catalogue, list_id: int, *, on: date) -> SeasonPlan:
    """Give a list with what each of its rows would take; writes nothing."""
    with catalogue.look() as connection:
        return SeasonPlan(_one_list(connection, list_id), planned_rows(connection, list_id, on))


def planned_rows(connection: Any, list_id: int, on: date) -> tuple[PlannedRow, ...]:
    """Work out every row of a list from a few readings of the whole catalogue."""
    settings = read_settings(connection)
    rows = season.rows_of(connection, list_id)
    wanted = [row.lot_id for row in rows]
    shown = {line.id: view(line, settings) for line in lots.lines_of(connection, wanted)}
    holds, spoons = steps.holds_in_force(connection), season.spoons(connection)
    undried = steps.undried_lots(connection)
    return tuple(
        _planned(
            row, shown[row.lot_id], settings, on, holds.get(row.lot_id, ()), spoons.get(row.lot_id),
            row.lot_id not in undried,
        )
        for row in rows
    )  # fmt: skip


def _planned(
    row: SeasonRow,
    shown: LotView,
    settings: Settings,
    on: date,
    holds: Sequence[str],
    spoon: Spoon | None,
    is_dried: bool,
) -> PlannedRow:
    plan, bar = None, packing_bar(shown, holds)
    try:
        plan = plan_packets(
            shown, row.seeds_per_packet, settings, on=on, viable=row.by_germination, spoon=spoon,
            is_dried=is_dried,
        )  # fmt: skip
    except BadInput as refused:
        bar = bar if bar.words else Remark("fill not known", str(refused))
    left = max(0, row.packets - row.packed)
    possible = None if plan is None else plan.possible_packets
    if not bar.words and possible is not None and left > possible:
        bar = Remark(
            f"only {possible} possible",
            f"{left} packets would eat into the reserve; {possible} are possible.",
        )
    check = None
    fill_mg = None if plan is None else _expected_mg(plan)
    if fill_mg and row.ten_empty_mg is not None and row.ten_filled_mg is not None:
        check = check_of_ten(fill_mg, row.ten_empty_mg, row.ten_filled_mg, settings.scale_step_mg)
    return PlannedRow(
        row.id, shown, row.seeds_per_packet, row.packets, row.packed, row.by_germination, plan, bar, spoon,
        row.ten_empty_mg, row.ten_filled_mg, check,
    )  # fmt: skip


def _expected_mg(plan: PackingPlan) -> int | None:
    """Give what one packet should weigh without its paper; reckoned by the seed's weight where it is counted."""
    if plan.fill_mg is not None:
        return plan.fill_mg
    tsw_ug = plan.lot.thousand_seed_weight_ug
    return None if tsw_ug is None else mass_of(plan.draw_per_packet, tsw_ug)


@dataclass(frozen=True, slots=True)
class AddedLots:
    """What was put on a list, and what was on it already."""

    added: tuple[str, ...]
    there: tuple[str, ...]


def add_lots(
    catalogue: Catalogue,
    list_id: int,
    typed: Sequence[str],
    *,
    seeds: int | None = None,
    packets: int = USUAL_PACKETS,
) -> AddedLots:
    """Put lots on a list, all or none; the seeds in a packet are those usual for their crops unless given."""
    with catalogue.job(f"put {_counted(len(typed), 'lot')} on the season's list") as job:
        _one_list(job.connection, list_id)
        return _add(job, list_id, [(each, seeds, packets) for each in typed])


def _add(job: Job, list_id: int, wanted: Sequence[tuple[str, int | None, int | None]]) -> AddedLots:
    present = {row.lot_id for row in season.rows_of(job.connection, list_id)}
    set_by_library = season.packet_seeds_set(job.connection)
    added, there = [], []
    for typed, seeds, packets in wanted:
        lot_id = resolve_lot(job.connection, typed)
        shown = view(listing.one_lot(job.connection, lot_id), job.settings)
        if lot_id in present:
            there.append(shown.number)
            continue
        present.add(lot_id)
        if len(present) > MOST_ROWS:
            raise BadInput(f"A season's list has at most {MOST_ROWS} lots. Begin another one.")
        figures = {
            "seeds_per_packet": seeds or set_by_library.get(lot_id) or _usual_seeds(shown),
            "packets": USUAL_PACKETS if packets is None else packets,
        }
        _check_figures(figures)
        season.add_row(job, list_id, {"lot_id": lot_id, **figures})
        added.append(shown.number)
    return AddedLots(tuple(added), tuple(there))


def _usual_seeds(shown: LotView) -> int:
    tsw_ug = shown.thousand_seed_weight_ug
    return usual_packet_seeds(None if tsw_ug is None else tsw_ug / 1_000_000)


def _check_figures(figures: Mapping[str, Any]) -> None:
    for name, value in figures.items():
        if name in _FIGURES:
            words, low, high = _FIGURES[name]
            if not low <= value <= high:
                raise BadInput(f"{words[:1].upper()}{words[1:]} go from {low} to {high:,}, not {value:,}.")


def change_rows(catalogue: Catalogue, row_ids: Sequence[int], changes: Mapping[str, Any]) -> None:
    """Change seeds_per_packet, packets or by_germination of some rows alike."""
    allowed = {"seeds_per_packet", "packets", "by_germination"}
    if set(changes) - allowed:
        raise BadInput(f"Of a row, {', '.join(sorted(allowed))} can be changed.")
    _check_figures(changes)
    with catalogue.job("change the season's list") as job:
        for row_id in row_ids:
            season.change_row(job, row_id, _checked_anew(changes))


def _checked_anew(changes: Mapping[str, Any]) -> dict[str, Any]:
    """Let go of the check weight with the fill that was checked."""
    if not {"seeds_per_packet", "by_germination"} & set(changes):
        return dict(changes)
    return {**changes, "ten_empty_mg": None, "ten_filled_mg": None, "checked_on": None}


@dataclass(frozen=True, slots=True)
class WantedFigures:
    """A lot with the figures pasted or typed for it; None leaves a figure as it is."""

    lot: str
    seeds_per_packet: int | None = None
    packets: int | None = None


def put_figures(catalogue: Catalogue, list_id: int, wanted: Sequence[WantedFigures]) -> AddedLots:
    """Set figures of many lots in one step, as from a spreadsheet; lots that are not on the list yet are put on it."""
    with catalogue.job(f"set figures of {_counted(len(wanted), 'lot')} on the season's list") as job:
        _one_list(job.connection, list_id)
        done = _add(job, list_id, [(each.lot, each.seeds_per_packet, each.packets) for each in wanted])
        rows = {row.lot_id: row.id for row in season.rows_of(job.connection, list_id)}
        for each in wanted:
            figures = {"seeds_per_packet": each.seeds_per_packet, "packets": each.packets}
            given = {name: value for name, value in figures.items() if value is not None}
            _check_figures(given)
            if given:
                season.change_row(job, rows[resolve_lot(job.connection, each.lot)], _checked_anew(given))
        return done


def remove_rows(catalogue: Catalogue, row_ids: Sequence[int]) -> None:
    """Take lots off a list, all or none; refused for those that have been packed for it."""
    with catalogue.job(f"take {_counted(len(row_ids), 'lot')} off the season's list") as job:
        for row_id in row_ids:
            season.remove_row(job, row_id)


def keep_usual_seeds(catalogue: Catalogue, typed: str, seeds: int) -> str:
    """Keep a number of seeds as what the library puts into packets of a lot's crop; gives the crop's name."""
    _check_figures({"seeds_per_packet": seeds})
    with catalogue.job(f"put {seeds} seeds into packets of a crop") as job:
        lot_id = resolve_lot(job.connection, typed)
        season.set_packet_seeds(job, listing.crop_of(job.connection, lot_id), seeds)
        return listing.one_lot(job.connection, lot_id).crop


def count_spoon(catalogue: Catalogue, typed: str, spoon: str, seeds_in_five: int, *, on: date) -> None:
    """Record what five level fillings of a spoon hold together; packets too light to weigh are filled by it."""
    if not 1 <= seeds_in_five <= MOST_SEEDS:
        raise BadInput(f"Five spoons hold 1 to {MOST_SEEDS:,} seeds together, not {seeds_in_five:,}.")
    with catalogue.job(f"count five spoons of {typed}") as job:
        season.add_spoon(job, resolve_lot(job.connection, typed), spoon, seeds_in_five, on)


def weigh_ten(
    catalogue: Catalogue, list_id: int, row_id: int, *, empty_mg: int, filled_mg: int, on: date
) -> CheckOfTen:
    """Record the check weight of ten packets and say whether they are filled right."""
    with catalogue.job("weigh ten packets") as job:
        values = {"ten_empty_mg": empty_mg, "ten_filled_mg": filled_mg, "checked_on": on}
        before = _row(job.connection, list_id, row_id, on)
        fill_mg = None if before.plan is None else _expected_mg(before.plan)
        if fill_mg is None:
            raise BadInput(
                f"Lot {before.number} has no thousand-seed weight, so it is not known what ten packets should weigh."
            )
        found = check_of_ten(fill_mg, empty_mg, filled_mg, job.settings.scale_step_mg)
        season.change_row(job, row_id, values)
        return found


def _row(connection: Any, list_id: int, row_id: int, on: date) -> PlannedRow:
    for row in planned_rows(connection, list_id, on):
        if row.id == row_id:
            return row
    raise BadInput("That lot is no longer on the season's list.")


def filling_list(catalogue: Catalogue, list_id: int, row_ids: Sequence[int], *, on: date) -> bytes:
    """Give the PDF of a list to fill packets by, at the scale, in the order of the rows given; no barred rows."""
    plan = season_plan(catalogue, list_id, on=on)
    rows = {row.id: row for row in plan.rows}
    chosen = [rows[row_id] for row_id in row_ids if row_id in rows and rows[row_id].can_pack]
    if not chosen:
        raise BadInput("There is nothing left to fill on this list.")
    columns = (
        ListColumn("Lot", 2.4), ListColumn("Crop and variety", 4.6), ListColumn("Packets", 1.5),
        ListColumn("Seeds", 1.2), ListColumn("Fill", 2.3), ListColumn("In all", 1.5), ListColumn("Look at", 3.0),
        ListColumn("Ten hold", 1.4),
    )  # fmt: skip
    cells = [
        (
            row.number, row.lot.name, str(row.left), str(row.seeds_per_packet), row.plan.fill_words,
            shown_amount(row.draw, row.lot.line.unit), ", ".join(remark.short for remark in row.plan.remarks), "",
        )
        for row in chosen
        if row.plan is not None
    ]  # fmt: skip
    below = (
        f"{catalogue.settings().library_name}, {on.isoformat()}: {_counted(len(chosen), 'lot')}, "
        f"{_counted(sum(row.left for row in chosen), 'packet')}"
    )
    return printed_list(f"Packets to fill: {plan.list.name}", below, columns, cells)


def _counted(number: int, word: str) -> str:
    return f"1 {word}" if number == 1 else f"{number:,} {word}s"
