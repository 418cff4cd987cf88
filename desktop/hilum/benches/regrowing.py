"""Regrowing bench: a lot is planned, sown, selected and harvested; the new lot remembers what it was grown from."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from hilum.benches.lots import in_lot_unit
from hilum.benches.regrowing_reasons import Candidate, Candidates, Reason, candidates, reasons_of
from hilum.benches.regrowing_rows import Regrowing, flowering_year, read_regrowings, to_sow
from hilum.benches.regrowing_sums import (
    GardenCrossing,
    InGarden,
    RegrowingSums,
    crossing_words,
    crossings,
    sums_of,
    usual_losses,
)
from hilum.benches.views import LotView, view
from hilum.catalogue import ledger, listing, names, regrowing, steps
from hilum.catalogue.due import recompute
from hilum.catalogue.find import resolve_lot
from hilum.catalogue.folding import tidy
from hilum.catalogue.lots import NewLot, NumberGiver, add_lot, refresh_find_text
from hilum.catalogue.opening import Catalogue, Job
from hilum.catalogue.regrowing import OPEN_STATES
from hilum.catalogue.related import add_parent
from hilum.catalogue.settings import read_settings
from hilum.errors import BadInput
from hilum.exchange.printed_list import ListColumn, printed_list
from hilum.seedlore.ripening import EMPTY_SEED, ripening

__all__ = [
    "OPEN_STATES", "Candidate", "Candidates", "GardenCrossing", "Reason", "Regrowing", "RegrowingPlan", "candidates",
    "crossing_words", "reasons_of", "to_sow", "usual_losses",
]  # fmt: skip

# From this month on one plans for the next year.
_NEXT_YEAR_FROM = 8
EARLIEST_YEAR, LATEST_YEAR = 1900, 2200


@dataclass(frozen=True, slots=True)
class RegrowingPlan:
    """Regrowings as asked for, and what would cross among those that are open, year by year."""

    rows: tuple[Regrowing, ...]
    crossings: tuple[GardenCrossing, ...]
    gardens: tuple[str, ...]

    def crosses_with(self, number: str) -> tuple[str, ...]:
        """Give the lots that would cross with one, by their numbers."""
        pairs = [
            (each.first, each.second)
            for each in self.crossings
            if each.is_sure and number in (each.first, each.second)
        ]
        return tuple(dict.fromkeys(second if first == number else first for first, second in pairs))


def usual_year(on: date) -> int:
    """Give the year one plans for on a day."""
    return on.year + 1 if on.month >= _NEXT_YEAR_FROM else on.year


def regrowings(catalogue: Catalogue, *, with_closed: bool = False) -> RegrowingPlan:
    """Give the regrowings that are planned or under way, or all of them, with what would cross."""
    with catalogue.look() as connection:
        every = read_regrowings(connection, regrowing.REGROWING_STATES)
    rows = tuple(row for row in every if with_closed or row.line.state in OPEN_STATES)
    gardens = sorted({row.line.garden for row in every if row.line.garden}, key=str.casefold)
    return RegrowingPlan(rows, _crossings(every), tuple(gardens))


def _crossings(rows: tuple[Regrowing, ...]) -> tuple[GardenCrossing, ...]:
    """Hold the open regrowings that flower in one year against each other."""
    growing = [row for row in rows if row.line.state in OPEN_STATES]
    found: list[GardenCrossing] = []
    for year in sorted({row.flowers_in for row in growing}):
        found += crossings([_in_garden(row) for row in growing if row.flowers_in == year])
    return tuple(found)


def _in_garden(row: Regrowing) -> InGarden:
    return InGarden(row.line.garden, row.number, row.lot.line.variety, row.lot.reference)


def crossings_if(catalogue: Catalogue, typed: str, garden: str, year: int) -> tuple[GardenCrossing, ...]:
    """Say what would cross with a lot if it were sown in a garden in a year; writes nothing."""
    with catalogue.look() as connection:
        shown = view(listing.one_lot(connection, resolve_lot(connection, typed)), read_settings(connection))
        flowers_in = flowering_year(shown, year)
        rows = [row for row in read_regrowings(connection, OPEN_STATES) if row.flowers_in == flowers_in]
    planted = [_in_garden(row) for row in rows if row.number != shown.number]
    planted.append(InGarden(garden, shown.number, shown.line.variety, shown.reference))
    return tuple(each for each in crossings(planted) if shown.number in (each.first, each.second))


def regrowing_sums(
    catalogue: Catalogue, typed: str, *, plants: int | None = None, losses_percent: int | None = None
) -> RegrowingSums:
    """Reckon plants, seeds and isolation for a lot; writes nothing."""
    with catalogue.look() as connection:
        settings = read_settings(connection)
        lot_id = resolve_lot(connection, typed)
        shown = view(listing.one_lot(connection, lot_id), settings)
        holds = [mark.kind for mark in steps.holds_of(connection, lot_id) if mark.lifted_on is None]
    return sums_of(shown, settings, plants=plants, losses_percent=losses_percent, holds=holds)


def plan_regrowing(
    catalogue: Catalogue,
    typed: str,
    *,
    year: int,
    on: date,
    plants: int | None = None,
    losses_percent: int | None = None,
    garden: str = "",
    bed: str = "",
    isolation: str = "",
    notes: str = "",
) -> Regrowing:
    """Plan to regrow a lot in a year; the seeds to sow follow from its germination and the losses."""
    why = "; ".join(reason.short for reason in reasons_of(catalogue, typed, on=on))
    with catalogue.job(f"plan to regrow {typed}") as job:
        lot_id = resolve_lot(job.connection, typed)
        shown = view(listing.one_lot(job.connection, lot_id), job.settings)
        _refuse_second(job, shown)
        sums = sums_of(shown, job.settings, plants=plants, losses_percent=losses_percent)
        values = {
            "lot_id": lot_id,
            "why": why,
            "plants": sums.plants,
            "losses_percent": sums.losses_percent,
            "seeds": sums.sowing.seeds_to_be_sure,
            "planned_on": on,
            **_clean({"year": year, "garden": garden, "bed": bed, "isolation": isolation, "notes": notes}),
        }
        return _one(job, regrowing.add_regrowing(job, values))


def _refuse_second(job: Job, shown: LotView) -> None:
    if shown.line.stock == 0:
        raise BadInput(
            f"Lot {shown.number} has no seed left; it cannot be regrown. Regrow another lot of it."
        )
    for row in read_regrowings(job.connection, OPEN_STATES):
        if row.number == shown.number:
            raise BadInput(
                f"Lot {shown.number} is {row.line.state} to be regrown in {row.line.year} already. Change that plan "
                "instead."
            )


def _clean(values: Mapping[str, Any]) -> dict[str, Any]:
    cleaned: dict[str, Any] = {
        name: tidy(value) if isinstance(value, str) else value for name, value in values.items()
    }
    year = cleaned.get("year")
    if year is not None and not EARLIEST_YEAR <= year <= LATEST_YEAR:
        raise BadInput(f"A regrowing is of a year from {EARLIEST_YEAR} to {LATEST_YEAR}, not {year}.")
    return cleaned


def _one(job: Job, regrowing_id: int) -> Regrowing:
    return next(
        row for row in read_regrowings(job.connection, regrowing.REGROWING_STATES) if row.id == regrowing_id
    )


def _open(job: Job, regrowing_id: int, states: tuple[str, ...], what: str) -> Regrowing:
    line = regrowing.one_regrowing(job.connection, regrowing_id)
    row = _one(job, line.id)
    if line.state not in states:
        raise BadInput(f"Lot {row.number} cannot be {what}: its regrowing in {line.year} is {line.state}.")
    return row


def change_plan(catalogue: Catalogue, regrowing_id: int, changes: Mapping[str, Any]) -> Regrowing:
    """Change year, plants, losses_percent, garden, bed, isolation or notes of one that is not harvested yet."""
    allowed = {"year", "plants", "losses_percent", "garden", "bed", "isolation", "notes"}
    if set(changes) - allowed:
        raise BadInput(f"Of a regrowing, {', '.join(sorted(allowed))} can be changed.")
    with catalogue.job("change the plan of a regrowing") as job:
        row = _open(job, regrowing_id, OPEN_STATES, "planned anew")
        values = _clean(changes)
        if {"plants", "losses_percent"} & set(values):
            plants = values.get("plants", row.line.plants)
            losses = values.get("losses_percent", row.line.losses_percent)
            sums = sums_of(row.lot, job.settings, plants=plants, losses_percent=losses)
            values["seeds"] = sums.sowing.seeds_to_be_sure
        regrowing.change_regrowing(job, regrowing_id, values)
        return _one(job, regrowing_id)


def sow(
    catalogue: Catalogue, regrowing_id: int, *, on: date, seeds: int | None = None, mass_mg: int | None = None
) -> Regrowing:
    """Sow: the seed is drawn from stock, into the reserve if need be, for that is what the reserve is for."""
    with catalogue.job("sow for regrowing") as job:
        row = _open(job, regrowing_id, ("planned",), "sown")
        amount = in_lot_unit(row.lot, mass_mg=mass_mg, seeds=seeds)
        number = seeds if seeds is not None else _seeds_in(row.lot, amount)
        values = {"state": "sown", "sown_on": on, "seeds_sown": number}
        regrowing.change_regrowing(job, regrowing_id, values)
        where = f" in {row.where}" if row.where else ""
        ledger.move(job, row.lot.line.id, "sown", -amount, on=on, why=f"regrowing {row.line.year}{where}")
        recompute(job, [row.lot.line.id])
        return _one(job, regrowing_id)


def _seeds_in(shown: LotView, amount: int) -> int | None:
    if shown.line.unit == "seeds":
        return amount
    tsw_ug = shown.thousand_seed_weight_ug
    return None if tsw_ug is None else amount * 1_000_000 // tsw_ug


def select(
    catalogue: Catalogue, regrowing_id: int, *, on: date, plants_kept: int, notes: str | None = None
) -> Regrowing:
    """Record which plants were kept after those not true were taken out; may be done again."""
    if plants_kept < 1:
        raise BadInput("At least one plant is kept; give the regrowing up when there is none.")
    with catalogue.job("select plants of a regrowing") as job:
        row = _open(job, regrowing_id, ("sown", "selected"), "selected")
        if row.line.sown_on is not None and on < row.line.sown_on:
            raise BadInput(
                f"It was sown on {row.line.sown_on.isoformat()}; plants cannot be selected before."
            )
        values: dict[str, Any] = {"state": "selected", "selected_on": on, "plants_kept": plants_kept}
        if notes is not None:
            values["notes"] = tidy(notes)
        regrowing.change_regrowing(job, regrowing_id, values)
        return _one(job, regrowing_id)


@dataclass(frozen=True, slots=True)
class Harvest:
    """What comes home: in milligrams or seeds, None where it is still to be weighed; the rest goes on the new lot."""

    mass_mg: int | None = None
    seeds: int | None = None
    grower: str = ""
    place_grown: str = ""
    plants: int | None = None
    isolation: str = ""
    notes: str = ""


def harvest_as_planned(row: Regrowing) -> Harvest:
    """Give what is known of the harvest before it is weighed: place, plants kept, isolation, notes."""
    plants = row.line.plants_kept or row.line.plants
    return Harvest(
        grower=row.lot.line.grower or "",
        place_grown=row.line.garden or row.lot.line.place_grown or "",
        plants=plants,
        isolation=row.line.isolation,
        notes=row.line.notes,
    )


def harvest_words(row: Regrowing) -> str:
    """Say what a harvest becomes, when its seed is ripe where that is known, and what empty seeds are."""
    ripe = ripening(row.lot.line.crop_key)
    return " ".join(
        part
        for part in (
            f"It becomes a new lot of {row.lot.line.crop} “{row.lot.line.variety}” that was grown from {row.number}.",
            "Leave the weight empty when it is still to be cleaned and weighed.",
            "" if ripe is None else f"{row.lot.line.crop}: {ripe.words}",
            EMPTY_SEED,
        )
        if part
    )


def harvest(catalogue: Catalogue, regrowing_id: int, brought: Harvest, *, on: date) -> Regrowing:
    """Take in the harvest as a new lot of the same variety that remembers the lot it was grown from."""
    if brought.mass_mg is not None and brought.seeds is not None:
        raise BadInput("Say either grams or seeds of the harvest, not both.")
    if brought.plants is not None and brought.plants < 1:
        raise BadInput("Seed comes from at least one plant.")
    with catalogue.job("take in the harvest of a regrowing") as job:
        row = _open(job, regrowing_id, ("sown", "selected"), "harvested")
        if row.line.sown_on is not None and on < row.line.sown_on:
            raise BadInput(f"It was sown on {row.line.sown_on.isoformat()}; it cannot be harvested before.")
        new = _new_lot(job, row, brought, on)
        new_id, _ = add_lot(job, new, NumberGiver(job), why=f"regrown from {row.number}")
        add_parent(job, new_id, row.lot.line.id)
        refresh_find_text(job, [new_id])
        recompute(job, [new_id])
        regrowing.change_regrowing(
            job, regrowing_id, {"state": "harvested", "harvested_on": on, "new_lot_id": new_id}
        )
        return _one(job, regrowing_id)


def _new_lot(job: Job, row: Regrowing, brought: Harvest, on: date) -> NewLot:
    parent = row.lot.line
    crop_id = listing.crop_of(job.connection, parent.id)
    in_seeds = brought.seeds is not None
    return NewLot(
        crop_id=crop_id,
        variety_id=names.variety_id(job, crop_id, parent.variety),
        year=on.year,
        unit="seeds" if in_seeds else "mg",
        amount=brought.seeds if in_seeds else brought.mass_mg,
        received_on=on,
        place_id=names.place_id(job, brought.place_grown) if brought.place_grown.strip() else None,
        grower_id=names.person_id(job, brought.grower) if brought.grower.strip() else None,
        plants=brought.plants,
        isolation=tidy(brought.isolation),
        notes=tidy(brought.notes),
        # Plants grown out and compared do not make the seed of a lot of unknown identity known by themselves.
        identity=parent.identity if parent.identity == "unknown" else "claimed",
    )


def give_up(catalogue: Catalogue, regrowing_id: int, *, why: str) -> Regrowing:
    """Give a regrowing up, with the reason; seed that was sown is not brought back."""
    if not why.strip():
        raise BadInput("Say in a few words why the regrowing is given up.")
    with catalogue.job("give up a regrowing") as job:
        row = _open(job, regrowing_id, OPEN_STATES, "given up")
        notes = "; ".join(part for part in (row.line.notes, f"given up: {tidy(why)}") if part)
        regrowing.change_regrowing(job, regrowing_id, {"state": "given up", "notes": notes})
        return _one(job, regrowing_id)


def plan_on_paper(catalogue: Catalogue, *, on: date) -> bytes:
    """Give the PDF of everything planned and under way, garden by garden, with what would cross."""
    plan = regrowings(catalogue)
    if not plan.rows:
        raise BadInput("Nothing is planned to be regrown. Plan a lot first.")
    columns = (
        ListColumn("Garden, bed", 2.6), ListColumn("Lot", 2.2), ListColumn("Crop and variety", 3.6),
        ListColumn("Plants", 1.1), ListColumn("Sow", 1.1), ListColumn("Kept apart by", 2.6), ListColumn("Now", 1.5),
        ListColumn("Notes", 3.2),
    )  # fmt: skip
    cells = [
        (
            row.where or "no garden yet", row.number, row.lot.name, str(row.line.plants), str(row.line.seeds),
            row.line.isolation, f"{row.line.state} {row.line.year}", row.line.notes,
        )
        for row in plan.rows
    ]  # fmt: skip
    cells += [
        (each.garden, each.first, f"would cross with {each.second}", "", "", "", "TAKE CARE", each.words)
        for each in plan.crossings
    ]
    below = f"{catalogue.settings().library_name}, {on.isoformat()}. Isolation distances: as published, see the bench."
    return printed_list("Regrowing", below, columns, cells)
