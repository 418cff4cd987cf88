"""Catalogue bench: find lots, read one lot whole, change what is written of it."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from hilum.benches.found_lots import SORTS, FoundLots, LotPage, PageEnd, count_lots, find_lots, page_of_lots
from hilum.benches.past_work import PastLine, past_of_lot
from hilum.benches.views import LotView, view
from hilum.catalogue import (
    failures,
    germination_tests,
    growing_out,
    handouts,
    history,
    ledger,
    listing,
    names,
    steps,
    taking_back,
    treated,
)
from hilum.catalogue.amounts import shown_amount
from hilum.catalogue.due import recompute
from hilum.catalogue.failures import FailureLine
from hilum.catalogue.find import resolve_lot
from hilum.catalogue.germination_tests import GerminationTestLine
from hilum.catalogue.growing_out import GrowOutLine, grow_outs_of
from hilum.catalogue.handouts import HandOutLine
from hilum.catalogue.history import PastJob
from hilum.catalogue.joining import ComponentLine, components_of
from hilum.catalogue.listing import LotFilter, MovementLine
from hilum.catalogue.lots import refresh_find_text
from hilum.catalogue.nearest import nearest_lot_numbers
from hilum.catalogue.opening import Catalogue, Job
from hilum.catalogue.people import person_names
from hilum.catalogue.records import GROW_OUT_RESULTS, HOLD_KINDS, IDENTITIES
from hilum.catalogue.related import child_numbers, parent_numbers
from hilum.catalogue.settings import read_settings
from hilum.catalogue.steps import BatchLine, HoldLine, StayLine, StepLine
from hilum.catalogue.written import FIELDS, Difference, EditedMeanwhile, Written, refuse_if_edited, written_of
from hilum.errors import BadInput

__all__ = [
    "GROW_OUT_RESULTS",
    "HOLD_KINDS",
    "IDENTITIES",
    "SORTS",
    "Difference",
    "EditedMeanwhile",
    "FoundLots",
    "LotFilter",
    "LotPage",
    "LotStory",
    "PageEnd",
    "Written",
    "change_lot",
    "correct_movement",
    "count_lots",
    "draw",
    "find_lots",
    "hold_lot",
    "lift_hold",
    "lot_number",
    "lot_story",
    "lot_view",
    "nearest_lots",
    "page_of_lots",
    "recent_jobs",
    "record_grow_out",
    "shown_amount",
    "take_back",
]


def lot_number(catalogue: Catalogue, typed: str) -> str:
    """Give the lot number that was typed or scanned, or refuse it with the nearest real ones."""
    with catalogue.look() as connection:
        return listing.one_lot(connection, resolve_lot(connection, typed)).number


def lot_view(catalogue: Catalogue, typed: str) -> LotView:
    """Give one lot with its figures, by its number as typed or scanned."""
    with catalogue.look() as connection:
        line = listing.one_lot(connection, resolve_lot(connection, typed))
        return view(line, read_settings(connection))


def nearest_lots(catalogue: Catalogue, typed: str) -> tuple[str, ...]:
    """Give the real lot numbers nearest to a mistyped one, nearest first."""
    with catalogue.look() as connection:
        return nearest_lot_numbers(connection, typed)


@dataclass(frozen=True, slots=True)
class LotStory:
    """One lot whole: its figures and everything that has happened to it."""

    lot: LotView
    written: Written
    donor: str | None
    movements: tuple[MovementLine, ...]
    tests: tuple[GerminationTestLine, ...]
    steps: tuple[StepLine, ...]
    holds: tuple[HoldLine, ...]
    stays: tuple[StayLine, ...]
    batches: tuple[BatchLine, ...]
    hand_outs: tuple[HandOutLine, ...]
    parents: tuple[str, ...]
    children: tuple[str, ...]
    people: Mapping[int, str]
    past: tuple[PastLine, ...]
    failures: tuple[FailureLine, ...]
    components: tuple[ComponentLine, ...]
    grow_outs: tuple[GrowOutLine, ...]

    @property
    def isolation(self) -> str:
        """How the lot was isolated."""
        return self.written.isolation

    @property
    def notes(self) -> str:
        """What is noted of the lot."""
        return self.written.notes

    @property
    def plants(self) -> int | None:
        """From how many plants the lot comes."""
        return self.written.plants


def lot_story(catalogue: Catalogue, typed: str) -> LotStory:
    """Give everything the catalogue knows of one lot, by its number as typed or scanned."""
    with catalogue.look() as connection:
        lot_id = resolve_lot(connection, typed)
        own = listing.own_fields(connection, lot_id)
        return LotStory(
            lot=view(listing.one_lot(connection, lot_id), read_settings(connection)),
            written=written_of(connection, lot_id),
            donor=own.donor,
            movements=listing.movements(connection, lot_id),
            tests=germination_tests.germination_tests_of(connection, lot_id),
            steps=steps.steps_of(connection, lot_id),
            holds=steps.holds_of(connection, lot_id),
            stays=steps.stays_of(connection, lot_id),
            batches=steps.batches_of(connection, lot_id),
            hand_outs=handouts.lines(connection, lot_ids=(lot_id,)),
            parents=parent_numbers(connection, lot_id),
            children=child_numbers(connection, lot_id),
            people=person_names(connection),
            failures=failures.failures_of(connection, lot_id),
            past=past_of_lot(connection, lot_id),
            components=components_of(connection, lot_id),
            grow_outs=grow_outs_of(connection, lot_id),
        )


def change_lot(
    catalogue: Catalogue, typed: str, changes: Mapping[str, Any], *, seen: Written | None = None
) -> LotView:
    """Change what is written of a lot: any fields of `Written`; names are made on the spot.

    `seen` is what was on screen: where another desk has changed something since, EditedMeanwhile says what, who and
    when, and nothing is written. The lot number stays what it was.
    """
    unknown = set(changes) - set(FIELDS)
    if unknown:
        raise BadInput(
            f"Of a lot, {', '.join(sorted(unknown))} cannot be changed here; {', '.join(FIELDS)} can."
        )
    if catalogue.hides_people and "grower" in changes:
        raise BadInput(
            "The visitors' view hides people. Switch it off at the Counter before changing a grower."
        )
    if "identity" in changes and changes["identity"] not in IDENTITIES:
        raise BadInput(f"The identity of a lot is one of: {', '.join(IDENTITIES)}.")
    with catalogue.job(f"change lot {typed}") as job:
        lot_id = resolve_lot(job.connection, typed)
        line = listing.one_lot(job.connection, lot_id)
        if seen is not None:
            refuse_if_edited(job.connection, lot_id, line.number, seen, changes)
        if steps.set_lot(job, lot_id, _as_columns(job, lot_id, changes)):
            refresh_find_text(job, [lot_id])
            if changes.get("treatment"):
                treated.hold_treated(job, lot_id, changes["treatment"])
            recompute(job, [lot_id])
        return view(listing.one_lot(job.connection, lot_id), job.settings)


def _as_columns(job: Job, lot_id: int, changes: Mapping[str, Any]) -> dict[str, Any]:
    """Give written fields as the lot's own columns; names become ids."""
    values = dict(changes)
    if "variety" in values:
        crop_id = listing.crop_of(job.connection, lot_id)
        values["variety_id"] = names.variety_id(job, crop_id, values.pop("variety"))
    for field, column, find in (
        ("grower", "grower_id", names.person_id),
        ("place_grown", "place_id", names.place_id),
    ):
        if field in values:
            name = values.pop(field)
            values[column] = find(job, name) if name else None
    return values


def recent_jobs(catalogue: Catalogue, *, limit: int = 50) -> tuple[PastJob, ...]:
    """Give the newest jobs that left edits, newest first."""
    with catalogue.look() as connection:
        return history.recent_jobs(connection, limit)


def take_back(catalogue: Catalogue, job_id: str) -> str:
    """Undo the edits of one earlier job, in a later session too; gives what was undone in words."""
    with catalogue.job("take back") as job:
        what, touched = taking_back.take_back(job, job_id)
        refresh_find_text(job, touched)
        for lot_id in touched:
            germination_tests.carry_to_lot(job, lot_id)
        recompute(job, touched)
        return what


def draw(
    catalogue: Catalogue,
    typed: str,
    kind: str,
    *,
    on: date,
    mass_mg: int | None = None,
    seeds: int | None = None,
    why: str = "",
) -> LotView:
    """Take seed out of a lot as one movement: cleaned, test, packed, sown or discarded.

    Either `mass_mg` or `seeds`; the other unit is reckoned by the thousand-seed weight, and refused without one.
    """
    kinds = ("cleaned", "test", "packed", "sown", "discarded")
    if kind not in kinds:
        raise BadInput(f"Seed is drawn as one of: {', '.join(kinds)}; not as {kind!r}.")
    with catalogue.job(f"draw from {typed}") as job:
        lot_id = resolve_lot(job.connection, typed)
        shown = view(listing.one_lot(job.connection, lot_id), job.settings)
        amount = in_lot_unit(shown, mass_mg=mass_mg, seeds=seeds)
        if kind == "packed":
            refuse_if_held(job.connection, lot_id, shown)
            refuse_if_unknown(shown)
            _refuse_into_reserve(shown, amount)
        ledger.move(job, lot_id, kind, -amount, on=on, why=why)
        recompute(job, [lot_id])
        return view(listing.one_lot(job.connection, lot_id), job.settings)


def in_lot_unit(shown: LotView, *, mass_mg: int | None, seeds: int | None) -> int:
    """Give an amount in the unit the lot is booked in; refused when both or neither are given."""
    if (mass_mg is None) == (seeds is None):
        raise BadInput("Say either grams or seeds, not both.")
    given = mass_mg if mass_mg is not None else seeds
    if given is None or given <= 0:
        raise BadInput("The amount must be more than nothing.")
    if (shown.line.unit == "mg") == (mass_mg is not None):
        return given
    tsw_ug = shown.thousand_seed_weight_ug
    if tsw_ug is None:
        other = "grams" if shown.line.unit == "mg" else "seeds"
        raise BadInput(
            f"Lot {shown.number} has no thousand-seed weight and none is published for {shown.line.crop}. "
            f"Count and weigh a sample of it (Preparing), or say the amount in {other}."
        )
    if shown.line.unit == "mg":
        return max(1, round(given * tsw_ug / 1_000_000))
    return max(1, round(given * 1_000_000 / tsw_ug))


def refuse_if_held(connection: Any, lot_id: int, shown: LotView) -> None:
    """Refuse to let seed out of a lot that bears a hold."""
    for mark in steps.holds_of(connection, lot_id):
        if mark.lifted_on is None:
            note = f" ({mark.note})" if mark.note else ""
            raise BadInput(
                f"Lot {shown.number} is on hold since {mark.set_on.isoformat()}: {mark.kind}{note}. "
                "Lift the hold with a reason before packing or handing out."
            )


def refuse_if_unknown(shown: LotView) -> None:
    """Refuse to pack seed under a name that nobody can vouch for."""
    if shown.line.identity == "unknown":
        raise BadInput(
            f"The identity of lot {shown.number} is unknown; it is not packed as “{shown.line.variety}”. "
            "Grow it out and record what was seen."
        )


def record_grow_out(
    catalogue: Catalogue,
    typed: str,
    result: str,
    *,
    on: date,
    plants: int | None = None,
    off_type: int | None = None,
    note: str = "",
) -> LotView:
    """Write what a grow-out of a lot has shown: seen true, not true, or not clear.

    The first two settle the identity of the lot; one that is not true is unknown, and barred from packing.
    """
    with catalogue.job(f"record a grow-out of {typed}: {result}") as job:
        lot_id = resolve_lot(job.connection, typed)
        growing_out.add_grow_out(job, lot_id, on, result, plants=plants, off_type=off_type, note=note.strip())
        identity = growing_out.IDENTITY_AFTER.get(result)
        if identity is not None:
            steps.set_lot(job, lot_id, {"identity": identity})
        recompute(job, [lot_id])
        return view(listing.one_lot(job.connection, lot_id), job.settings)


def _refuse_into_reserve(shown: LotView, amount: int) -> None:
    per_seed = 1 if shown.line.unit == "seeds" else (shown.thousand_seed_weight_ug or 0) / 1_000_000
    if shown.line.stock is None or not per_seed:
        return
    left = int((shown.line.stock - amount) / per_seed)
    if left < shown.reserve_seeds:
        raise BadInput(
            f"Packing that much from lot {shown.number} would leave about {max(left, 0)} seeds; "
            f"the reserve is {shown.reserve_seeds}. Pack less, or change the crop's reserve."
        )


def correct_movement(
    catalogue: Catalogue,
    movement_id: int,
    *,
    on: date,
    why: str,
    right_mg: int | None = None,
    right_seeds: int | None = None,
) -> LotView:
    """Undo one movement of the ledger by its opposite, with the reason.

    `right_mg` or `right_seeds` is the figure that should have been written, without its sign: it is entered anew, in
    the direction of the line that was wrong. Without it the line should not have been written at all.
    """
    with catalogue.job(f"correct movement {movement_id}") as job:
        right = None
        if right_mg is not None or right_seeds is not None:
            lot_id, wrong = listing.moved_amount(job.connection, movement_id)
            shown = view(listing.one_lot(job.connection, lot_id), job.settings)
            right = in_lot_unit(shown, mass_mg=right_mg, seeds=right_seeds)
            right = -right if wrong is not None and wrong < 0 else right
        lot_id = ledger.correct(job, movement_id, on=on, why=why, right_amount=right)
        recompute(job, [lot_id])
        return view(listing.one_lot(job.connection, lot_id), job.settings)


def hold_lot(catalogue: Catalogue, typed: str, kind: str, *, on: date, note: str = "") -> LotView:
    """Put a hold on a lot; it bars packing and the counter until lifted."""
    if kind not in HOLD_KINDS:
        raise BadInput(f"A hold is one of: {', '.join(HOLD_KINDS)}.")
    with catalogue.job(f"hold lot {typed}: {kind}") as job:
        lot_id = resolve_lot(job.connection, typed)
        steps.add_hold(job, lot_id, kind, on, note)
        recompute(job, [lot_id])
        return view(listing.one_lot(job.connection, lot_id), job.settings)


def lift_hold(catalogue: Catalogue, hold_id: int, *, on: date, why: str) -> LotView:
    """Lift a hold with its reason."""
    with catalogue.job("lift a hold") as job:
        lot_id = steps.lift_hold(job, hold_id, on, why)
        recompute(job, [lot_id])
        return view(listing.one_lot(job.connection, lot_id), job.settings)
