"""Store places and the moves of lots between them."""

from collections.abc import Mapping
from datetime import date
from typing import Any

from hilum.benches.preparing import judge_freezing
from hilum.benches.views import LotView, view
from hilum.catalogue import listing, steps
from hilum.catalogue.due import recompute
from hilum.catalogue.find import resolve_lot
from hilum.catalogue.folding import tidy
from hilum.catalogue.opening import Catalogue, Job
from hilum.catalogue.records import PLACE_KINDS
from hilum.catalogue.steps import StorePlaceLine
from hilum.errors import BadInput

__all__ = [
    "PLACE_KINDS",
    "StorePlaceLine",
    "add_store_place",
    "change_store_place",
    "move_lot",
    "store_places",
]
# A place colder than this freezes seed.
FREEZING_C = 0.0


def store_places(catalogue: Catalogue) -> tuple[StorePlaceLine, ...]:
    """Give every store place, sorted by its whole path."""
    with catalogue.look() as connection:
        return steps.store_places(connection)


def add_store_place(
    catalogue: Catalogue,
    *,
    name: str,
    kind: str,
    parent_id: int | None = None,
    temperature_c: float | None = None,
    humidity_percent: float | None = None,
    note: str = "",
) -> StorePlaceLine:
    """Make a room, freezer, fridge, shelf, box or slot; a colder or warmer figure than its parent's may be set."""
    if kind not in PLACE_KINDS:
        raise BadInput(f"A store place is one of: {', '.join(PLACE_KINDS)}.")
    name = tidy(name)
    if not name:
        raise BadInput("The store place has no name.")
    with catalogue.job(f"make store place {name}") as job:
        for line in steps.store_places(job.connection):
            if line.parent_id == parent_id and line.name.casefold() == name.casefold():
                raise BadInput(f"There is a store place “{line.path}” already.")
        new_id = steps.add_store_place(
            job,
            {
                "parent_id": parent_id,
                "kind": kind,
                "name": name,
                "temperature_c": temperature_c,
                "humidity_percent": humidity_percent,
                "note": note,
            },
        )
        return _place(job, new_id)


def change_store_place(
    catalogue: Catalogue, store_place_id: int, changes: Mapping[str, Any], *, on: date
) -> StorePlaceLine:
    """Change a place's name, temperature, humidity or note; cooling it below 0 °C asks after every lot in it."""
    with catalogue.job("change a store place") as job:
        _place(job, store_place_id)
        steps.change_store_place(job, store_place_id, changes)
        if "temperature_c" in changes:
            below = _with_inner(job, store_place_id)
            for lot_id in steps.lots_at(job.connection, below):
                _refuse_wet(job, lot_id, temperature_of(job, _place_of(job, lot_id)), on)
            recompute(job, steps.lots_at(job.connection, below))
        return _place(job, store_place_id)


def move_lot(
    catalogue: Catalogue,
    typed: str,
    store_place_id: int,
    *,
    on: date,
    container: str = "",
    airtight: bool | None = None,
) -> LotView:
    """Put a lot into a store place from a day on; a place below 0 °C takes only seed with evidence of dryness."""
    with catalogue.job(f"move lot {typed}") as job:
        lot_id = resolve_lot(job.connection, typed)
        _place(job, store_place_id)
        _refuse_wet(job, lot_id, temperature_of(job, store_place_id), on)
        steps.begin_stay(job, lot_id, store_place_id, on, container=container, airtight=airtight)
        recompute(job, [lot_id])
        return view(listing.one_lot(job.connection, lot_id), job.settings)


def temperature_of(job: Job, store_place_id: int) -> float | None:
    """Give a place's own temperature, or that of the nearest place around it that has one."""
    places = {line.id: line for line in steps.store_places(job.connection)}
    current: int | None = store_place_id
    while current is not None:
        if places[current].temperature_c is not None:
            return places[current].temperature_c
        current = places[current].parent_id
    return None


def _refuse_wet(job: Job, lot_id: int, temperature_c: float | None, on: date) -> None:
    if temperature_c is None or temperature_c >= FREEZING_C:
        return
    shown = view(listing.one_lot(job.connection, lot_id), job.settings)
    judgement = judge_freezing(shown, steps.steps_of(job.connection, lot_id), on)
    if not judgement.allowed:
        raise BadInput(
            f"Lot {shown.number} does not go into a place at {temperature_c:g} °C. {judgement.why}"
        )


def _place(job: Job, store_place_id: int) -> StorePlaceLine:
    for line in steps.store_places(job.connection):
        if line.id == store_place_id:
            return line
    raise BadInput("That store place is not in the catalogue.")


def _place_of(job: Job, lot_id: int) -> int:
    [place] = [
        stay.store_place_id for stay in steps.stays_of(job.connection, lot_id) if stay.until_on is None
    ]
    return place


def _with_inner(job: Job, store_place_id: int) -> tuple[int, ...]:
    lines = steps.store_places(job.connection)
    inside = {store_place_id}
    while True:
        more = {line.id for line in lines if line.parent_id in inside} - inside
        if not more:
            return tuple(inside)
        inside |= more
