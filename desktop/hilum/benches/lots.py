"""Catalogue bench: find lots, read one lot whole, change what is written of it."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from hilum.benches.views import LotView, view
from hilum.catalogue import failures, germination_tests, history, ledger, listing, names, steps
from hilum.catalogue.due import recompute
from hilum.catalogue.failures import FailureLine
from hilum.catalogue.find import resolve_lot
from hilum.catalogue.germination_tests import GerminationTestLine
from hilum.catalogue.history import Edit, EditedMeanwhile, PastJob
from hilum.catalogue.ledger import shown_amount
from hilum.catalogue.listing import LotFilter, MovementLine
from hilum.catalogue.lots import refresh_find_text
from hilum.catalogue.nearest import did_you_mean, nearest_lot_numbers
from hilum.catalogue.opening import Catalogue
from hilum.catalogue.people import person_names
from hilum.catalogue.records import HOLD_KINDS, IDENTITIES
from hilum.catalogue.related import child_numbers, parent_numbers
from hilum.catalogue.settings import read_settings
from hilum.catalogue.steps import BatchLine, HoldLine, StayLine, StepLine
from hilum.errors import BadInput

__all__ = [
    "HOLD_KINDS",
    "IDENTITIES",
    "Edit",
    "LotFilter",
    "LotPage",
    "LotStory",
    "change_lot",
    "correct_movement",
    "draw",
    "find_lots",
    "hold_lot",
    "lift_hold",
    "lot_number",
    "lot_story",
    "lot_view",
    "nearest_lots",
    "recent_jobs",
    "shown_amount",
    "take_back",
]


@dataclass(frozen=True, slots=True)
class LotPage:
    """A list of lots, how many there are in all, and near names when nothing was found."""

    lots: tuple[LotView, ...]
    total: int
    did_you_mean: tuple[str, ...]


def find_lots(
    catalogue: Catalogue,
    wanted: LotFilter,
    *,
    on: date,
    sort: str = "number",
    descending: bool = False,
    limit: int | None = None,
) -> LotPage:
    """Give the lots that match a filter; sorts are those of `catalogue.listing.SORTS`."""
    with catalogue.look() as connection:
        settings = read_settings(connection)
        lines, total = listing.list_lots(
            connection, wanted, on=on, sort=sort, descending=descending, limit=limit
        )
        near = did_you_mean(connection, wanted.words) if not lines and wanted.words.strip() else ()
    return LotPage(tuple(view(line, settings) for line in lines), total, near)


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
    isolation: str
    notes: str
    plants: int | None
    donor: str | None
    movements: tuple[MovementLine, ...]
    tests: tuple[GerminationTestLine, ...]
    steps: tuple[StepLine, ...]
    holds: tuple[HoldLine, ...]
    stays: tuple[StayLine, ...]
    batches: tuple[BatchLine, ...]
    parents: tuple[str, ...]
    children: tuple[str, ...]
    people: Mapping[int, str]
    edits: tuple[Edit, ...]
    failures: tuple[FailureLine, ...] = ()


def lot_story(catalogue: Catalogue, typed: str) -> LotStory:
    """Give everything the catalogue knows of one lot, by its number as typed or scanned."""
    with catalogue.look() as connection:
        lot_id = resolve_lot(connection, typed)
        own = listing.own_fields(connection, lot_id)
        return LotStory(
            lot=view(listing.one_lot(connection, lot_id), read_settings(connection)),
            isolation=own.isolation,
            notes=own.notes,
            plants=own.plants,
            donor=own.donor,
            movements=listing.movements(connection, lot_id),
            tests=germination_tests.germination_tests_of(connection, lot_id),
            steps=steps.steps_of(connection, lot_id),
            holds=steps.holds_of(connection, lot_id),
            stays=steps.stays_of(connection, lot_id),
            batches=steps.batches_of(connection, lot_id),
            parents=parent_numbers(connection, lot_id),
            children=child_numbers(connection, lot_id),
            people=person_names(connection),
            edits=history.job_edits(connection, lot_id),
            failures=failures.failures_of(connection, lot_id),
        )


def change_lot(
    catalogue: Catalogue, typed: str, changes: Mapping[str, Any], *, seen_version: int | None = None
) -> LotView:
    """Change what is written of a lot: year, isolation, notes, plants, identity, variety, grower, place_grown.

    `seen_version` is the version that was on screen; the change is refused if another desk was quicker. Names are
    made on the spot. The lot number stays what it was.
    """
    allowed = {"year", "isolation", "notes", "plants", "identity", "variety", "grower", "place_grown"}
    unknown = set(changes) - allowed
    if unknown:
        raise BadInput(
            f"Of a lot, {', '.join(sorted(unknown))} cannot be changed here; {', '.join(sorted(allowed))} can."
        )
    if "identity" in changes and changes["identity"] not in IDENTITIES:
        raise BadInput(f"The identity of a lot is one of: {', '.join(IDENTITIES)}.")
    with catalogue.job(f"change lot {typed}") as job:
        lot_id = resolve_lot(job.connection, typed)
        line = listing.one_lot(job.connection, lot_id)
        if seen_version is not None and seen_version != line.version:
            raise EditedMeanwhile(
                f"Lot {line.number} was changed at another desk meanwhile. It is shown anew; make your change again."
            )
        values = {
            name: value
            for name, value in changes.items()
            if name in ("year", "isolation", "notes", "plants", "identity")
        }
        if "variety" in changes:
            values["variety_id"] = names.variety_id(
                job, listing.crop_of(job.connection, lot_id), changes["variety"]
            )
        if "grower" in changes:
            values["grower_id"] = names.person_id(job, changes["grower"]) if changes["grower"] else None
        if "place_grown" in changes:
            values["place_id"] = (
                names.place_id(job, changes["place_grown"]) if changes["place_grown"] else None
            )
        if steps.set_lot(job, lot_id, values):
            refresh_find_text(job, [lot_id])
            recompute(job, [lot_id])
        return view(listing.one_lot(job.connection, lot_id), job.settings)


def recent_jobs(catalogue: Catalogue, *, limit: int = 50) -> tuple[PastJob, ...]:
    """Give the newest jobs that left edits, newest first."""
    with catalogue.look() as connection:
        return history.recent_jobs(connection, limit)


def take_back(catalogue: Catalogue, job_id: str) -> str:
    """Undo the edits of one earlier job, in a later session too; gives what was undone in words."""
    with catalogue.job("take back") as job:
        what, touched = history.take_back(job, job_id)
        refresh_find_text(job, touched)
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


def correct_movement(catalogue: Catalogue, movement_id: int, *, on: date, why: str) -> LotView:
    """Undo one movement of the ledger by its opposite, with the reason."""
    with catalogue.job(f"correct movement {movement_id}") as job:
        lot_id = ledger.correct(job, movement_id, on=on, why=why)
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
