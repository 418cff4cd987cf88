"""Store places, and the moves of lots, boxes and whole shelves between them, each with its day."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from hilum.benches.preparing import judge_freezing, proofs_of_dryness
from hilum.benches.views import LotView, view
from hilum.catalogue import listing, places, steps
from hilum.catalogue.due import recompute
from hilum.catalogue.find import resolve_lot
from hilum.catalogue.folding import tidy
from hilum.catalogue.opening import Catalogue, Job
from hilum.catalogue.places import BETWEEN, PastLine, StorePlaceLine
from hilum.catalogue.records import PLACE_KINDS
from hilum.catalogue.store_tree import StoreTree, lots_ever_at, read_store_tree
from hilum.errors import BadInput

__all__ = [
    "BETWEEN",
    "PLACE_KINDS",
    "PastLine",
    "PlaceChanged",
    "StorePlaceLine",
    "add_slots",
    "add_store_place",
    "change_store_place",
    "close_store_place",
    "move_lot",
    "move_lots",
    "move_place",
    "open_store_place",
    "place_history",
    "store_places",
]
# A place colder than this freezes seed.
FREEZING_C = 0.0
# Past this many lots a refusal is no longer read.
_NAMED = 5


@dataclass(frozen=True, slots=True)
class PlaceChanged:
    """A place as it is now, the lots that lie in it, and how many due dates moved with it."""

    place: StorePlaceLine
    lots: int
    due_changed: int


def store_places(catalogue: Catalogue, *, with_closed: bool = False) -> tuple[StorePlaceLine, ...]:
    """Give the store places in use, sorted by their whole paths; closed ones only where asked for."""
    with catalogue.look() as connection:
        lines = places.store_places(connection)
    return lines if with_closed else tuple(line for line in lines if line.closed_on is None)


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
        if parent_id is not None:
            refuse_closed(place_of_id(job, parent_id))
        _refuse_taken(job, name, parent_id, None)
        new_id = places.add_store_place(
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
        return place_of_id(job, new_id)


def add_slots(
    catalogue: Catalogue, store_place_id: int, rows: int, columns: int
) -> tuple[StorePlaceLine, ...]:
    """Divide a box or shelf into slots A1, A2, ... in rows by letter and columns by number."""
    if not (1 <= rows <= 26 and 1 <= columns <= 50):
        raise BadInput("A box is divided into 1 to 26 rows and 1 to 50 columns of slots.")
    with catalogue.job("divide a store place into slots") as job:
        refuse_closed(place_of_id(job, store_place_id))
        made = []
        for row in range(rows):
            for column in range(columns):
                name = f"{chr(ord('A') + row)}{column + 1}"
                _refuse_taken(job, name, store_place_id, None)
                values = {"parent_id": store_place_id, "kind": "slot", "name": name}
                made.append(places.add_store_place(job, values))
        lines = {line.id: line for line in places.store_places(job.connection)}
        return tuple(lines[each] for each in made)


def change_store_place(
    catalogue: Catalogue,
    store_place_id: int,
    changes: Mapping[str, Any],
    *,
    on: date,
    was_always_so: bool = False,
) -> PlaceChanged:
    """Change a place's name, temperature, humidity or note; cooling it below 0 °C asks after every lot in it.

    The temperature and the humidity hold from the day `on`; what was before stays in the history that the forecast
    reads. `was_always_so` says instead that the figure was noted wrongly, and holds for the time before as well.
    """
    allowed = {"name", "temperature_c", "humidity_percent", "note"}
    if unknown := set(changes) - allowed:
        raise BadInput(f"Of a store place, {', '.join(sorted(unknown))} cannot be changed here.")
    with catalogue.job("change a store place") as job:
        line = place_of_id(job, store_place_id)
        if "name" in changes:
            name = tidy(str(changes["name"]))
            if not name:
                raise BadInput("The store place has no name.")
            _refuse_taken(job, name, line.parent_id, store_place_id)
            changes = {**changes, "name": name}
        return _changed(job, store_place_id, changes, on, None if was_always_so else on)


def move_place(catalogue: Catalogue, store_place_id: int, parent_id: int | None, *, on: date) -> PlaceChanged:
    """Put a box, a shelf or any other place with all that is in it into another place, from a day on.

    The lots in it stay in it: their stays go on, and from that day the air of the new surroundings is theirs. A
    place below 0 °C takes only boxes whose every lot has evidence of dryness.
    """
    with catalogue.job("move a store place") as job:
        line = place_of_id(job, store_place_id)
        refuse_closed(line)
        if parent_id is not None:
            refuse_closed(place_of_id(job, parent_id))
        if parent_id == line.parent_id:
            raise BadInput(f"{line.name} already lies there. Choose another place.")
        _refuse_taken(job, line.name, parent_id, store_place_id)
        return _changed(job, store_place_id, {"parent_id": parent_id}, on, on)


def _changed(
    job: Job, store_place_id: int, changes: Mapping[str, Any], on: date, holds_from: date | None
) -> PlaceChanged:
    before = read_store_tree(job.connection)
    places.change_store_place(job, store_place_id, changes, on=holds_from)
    if not set(changes) & set(places.DATED):
        inside = before.inside(store_place_id, date.max)
        return PlaceChanged(place_of_id(job, store_place_id), len(places.lots_at(job.connection, inside)), 0)
    after = read_store_tree(job.connection)
    lying = places.places_of_lots(job.connection, after.inside(store_place_id, date.max))
    _refuse_wet_in(job, lying, before, after, on)
    moved = recompute(job, lots_ever_at(job.connection, [store_place_id]))
    return PlaceChanged(place_of_id(job, store_place_id), len(lying), moved)


def close_store_place(catalogue: Catalogue, store_place_id: int, *, on: date) -> StorePlaceLine:
    """Use a place no more, nor the places in it; refused while a lot lies there. What lay in it is still told."""
    with catalogue.job("close a store place") as job:
        line = place_of_id(job, store_place_id)
        refuse_closed(line)
        inside = sorted(read_store_tree(job.connection).inside(store_place_id, date.max))
        if lying := places.lots_at(job.connection, inside):
            raise BadInput(
                f"{counted_lots(len(lying))} in {line.path}. Move what lies there elsewhere, then close it."
            )
        for each in inside:
            if place_of_id(job, each).closed_on is None:
                places.change_store_place(job, each, {"closed_on": on}, on=None)
        return place_of_id(job, store_place_id)


def open_store_place(catalogue: Catalogue, store_place_id: int) -> StorePlaceLine:
    """Use a closed place again, with the places that it lies in and those that were closed with it."""
    with catalogue.job("use a store place again") as job:
        line = place_of_id(job, store_place_id)
        if line.closed_on is None:
            raise BadInput(f"{line.path} is in use.")
        _refuse_taken(job, line.name, line.parent_id, store_place_id)
        tree = read_store_tree(job.connection)
        inner = {
            each
            for each in tree.inside(store_place_id, date.max)
            if place_of_id(job, each).closed_on == line.closed_on
        }
        around = {each for each, _ in tree.chain(store_place_id, date.max).spells}
        for each in sorted(inner | around):
            places.change_store_place(job, each, {"closed_on": None}, on=None)
        return place_of_id(job, store_place_id)


def place_history(catalogue: Catalogue, store_place_id: int) -> tuple[PastLine, ...]:
    """Give what a place was before, oldest first: in what it lay, how it was set, and until when."""
    with catalogue.look() as connection:
        return places.past_of(connection, store_place_id)


def move_lot(
    catalogue: Catalogue,
    typed: str,
    store_place_id: int,
    *,
    on: date,
    container: str = "",
    airtight: bool | None = None,
) -> LotView:
    """Put a lot into a store place from a day on; a place below 0 °C takes only seed with evidence of dryness.

    Where no container is named the lot stays in the one it was in.
    """
    with catalogue.job(f"move lot {typed}") as job:
        return _moved(job, typed, store_place_id, on, container, airtight)


def move_lots(
    catalogue: Catalogue,
    typed: Sequence[str],
    store_place_id: int,
    *,
    on: date,
    container: str = "",
    airtight: bool | None = None,
) -> tuple[LotView, ...]:
    """Put several lots into a store place from a day on, all of them or none."""
    if not typed:
        raise BadInput("Type or scan the number of at least one lot.")
    with catalogue.job(f"move {len(typed)} lots") as job:
        return tuple(_moved(job, each, store_place_id, on, container, airtight) for each in typed)


def _moved(
    job: Job, typed: str, store_place_id: int, on: date, container: str, airtight: bool | None
) -> LotView:
    lot_id = resolve_lot(job.connection, typed)
    refuse_closed(place_of_id(job, store_place_id))
    tree = read_store_tree(job.connection)
    refuse_wet(job, tree, lot_id, store_place_id, on)
    carry_stay(job, lot_id, store_place_id, on, container, airtight)
    recompute(job, [lot_id])
    return view(listing.one_lot(job.connection, lot_id), job.settings)


def carry_stay(
    job: Job, lot_id: int, store_place_id: int, on: date, container: str = "", airtight: bool | None = None
) -> None:
    """Begin a stay elsewhere in the container the lot was in, unless another one is named."""
    open_stay = [each for each in steps.stays_of(job.connection, lot_id) if each.until_on is None]
    tare_mg = None
    if open_stay and (not container or container == open_stay[0].container):
        container, tare_mg = open_stay[0].container, open_stay[0].tare_mg
        airtight = open_stay[0].airtight if airtight is None else airtight
    steps.begin_stay(job, lot_id, store_place_id, on, container=container, airtight=airtight, tare_mg=tare_mg)


def refuse_wet(job: Job, tree: StoreTree, lot_id: int, store_place_id: int, on: date) -> None:
    """Refuse to freeze a lot by moving it, unless it has evidence of dryness or lies frozen already."""
    here = places.place_of_lot(job.connection, lot_id)
    if here is not None and _freezes(tree.temperature_c(here, on)):
        return
    cold = tree.temperature_c(store_place_id, on)
    if trouble := freezing_doubt(job, lot_id, cold, on):
        raise BadInput(trouble)


def _refuse_wet_in(job: Job, lying: Mapping[int, int], before: StoreTree, after: StoreTree, on: date) -> None:
    """Refuse a change by which lots that may be damp would freeze; those that lay frozen before are not asked."""
    found = []
    for lot_id, place_id in lying.items():
        cold = after.temperature_c(place_id, date.max)
        if _freezes(cold) and not _freezes(before.temperature_c(place_id, date.max)):
            trouble = freezing_doubt(job, lot_id, cold, on)
            if trouble:
                found.append(trouble)
    if found:
        more = len(found) - _NAMED
        raise BadInput(
            " ".join(found[:_NAMED]) + (f" And {more} more lots." if more > 0 else "") + " Nothing was moved."
        )


def _freezes(temperature_c: float | None) -> bool:
    return temperature_c is not None and temperature_c < FREEZING_C


def freezing_doubt(job: Job, lot_id: int, temperature_c: float | None, on: date) -> str:
    """Say why a lot should not lie as cold as this; empty where nothing speaks against it."""
    if not _freezes(temperature_c):
        return ""
    shown = view(listing.one_lot(job.connection, lot_id), job.settings)
    judgement = judge_freezing(shown, proofs_of_dryness(job.connection, lot_id), on)
    if judgement.allowed:
        return ""
    return f"Lot {shown.number} does not go into a place at {temperature_c:g} °C. {judgement.why}"


def _refuse_taken(job: Job, name: str, parent_id: int | None, own_id: int | None) -> None:
    for line in places.store_places(job.connection):
        if (
            line.closed_on is None
            and line.id != own_id
            and line.parent_id == parent_id
            and line.name.casefold() == name.casefold()
        ):
            raise BadInput(f"There is a store place “{line.path}” already. Give it another name.")


def refuse_closed(line: StorePlaceLine) -> None:
    """Refuse to use a place that was closed."""
    if line.closed_on is not None:
        raise BadInput(
            f"{line.path} was closed on {line.closed_on.isoformat()}. Choose another place, or use it again first."
        )


def counted_lots(count: int) -> str:
    """Say how many lots lie somewhere, with the verb."""
    return "One lot lies" if count == 1 else f"{count} lots lie"


def place_of_id(job: Job, store_place_id: int) -> StorePlaceLine:
    """Give one place, or say that it is not there."""
    for line in places.store_places(job.connection):
        if line.id == store_place_id:
            return line
    raise BadInput("That store place is not in the catalogue.")
