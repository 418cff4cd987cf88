"""Store: what lies where, as a tree, as a list and as a map of one box or shelf."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from hilum.benches.views import LotView, view
from hilum.catalogue import places
from hilum.catalogue.lots import lines_of
from hilum.catalogue.opening import Catalogue
from hilum.catalogue.places import StorePlaceLine
from hilum.catalogue.settings import read_settings
from hilum.catalogue.store_tree import read_store_tree

# More lots than this are not read in one list; the Catalogue finds them page by page.
MOST_LOTS = 5_000
# Cells side by side where places and lots have no slots to tell where they stand.
FREE_COLUMNS = 6
# In this many years a lot's tint on the map goes from fresh to old. Own choice, no source.
OLD_YEARS = 10
_SLOT = re.compile(r"([A-Z]{1,2})([0-9]{1,3})")


@dataclass(frozen=True, slots=True)
class PlaceHeld:
    """One store place, how many lots lie in it and in all places within it, and how cold and dry it is there."""

    place: StorePlaceLine
    lots_here: int
    lots_within: int
    # As set here, or by the nearest place around it.
    temperature_c: float | None
    humidity_percent: float | None
    since: date | None


@dataclass(frozen=True, slots=True)
class StoredLot:
    """One lot where it lies."""

    lot: LotView
    place: StorePlaceLine
    since: date
    container: str
    airtight: bool | None
    # Where in the place that was asked for; empty where it lies in that place itself.
    within: str

    @property
    def number(self) -> str:
        """The lot number."""
        return self.lot.number


@dataclass(frozen=True, slots=True)
class MapCell:
    """One cell of a map: a place within, or a lot that lies loose; where it stands, from 0."""

    row: int
    column: int
    place: StorePlaceLine | None
    lots: tuple[StoredLot, ...]

    def age_years(self, today: date) -> int | None:
        """Give the age of the oldest seed in it by its year of harvest; None where nothing tells."""
        years = [each.lot.line.year for each in self.lots if each.lot.line.year is not None]
        return max(0, today.year - min(years)) if years else None


@dataclass(frozen=True, slots=True)
class PlaceMap:
    """What stands in one place, as a grid of cells; `in_slots` where rows and columns are those of its slots."""

    place: StorePlaceLine
    rows: int
    columns: int
    in_slots: bool
    cells: tuple[MapCell, ...]


def store_held(catalogue: Catalogue, *, with_closed: bool = False) -> tuple[PlaceHeld, ...]:
    """Give every place in use with what lies in it, sorted by whole path."""
    with catalogue.look() as connection:
        lines = places.store_places(connection)
        by_place = places.lots_by_place(connection)
        tree = read_store_tree(connection)
    shown = [line for line in lines if with_closed or line.closed_on is None]
    return tuple(
        PlaceHeld(
            line,
            by_place.get(line.id, 0),
            sum(by_place.get(each, 0) for each in tree.inside(line.id, date.max)),
            tree.temperature_c(line.id, date.max),
            _humidity(lines, line),
            None if len(tree.spells[line.id]) == 1 else tree.spells[line.id][-1].from_on,
        )
        for line in shown
    )


def _humidity(lines: Sequence[StorePlaceLine], line: StorePlaceLine) -> float | None:
    known = {each.id: each for each in lines}
    found: StorePlaceLine | None = line
    while found is not None and found.humidity_percent is None:
        found = known.get(found.parent_id or 0)
    return None if found is None else found.humidity_percent


def lots_in_place(catalogue: Catalogue, store_place_id: int) -> tuple[StoredLot, ...]:
    """Give the lots that lie in a place and in all places within it, sorted by place, then number."""
    with catalogue.look() as connection:
        settings = read_settings(connection)
        known = {line.id: line for line in places.store_places(connection)}
        inside = read_store_tree(connection).inside(store_place_id, date.max)
        stays = places.open_stays(connection, inside, MOST_LOTS)
        lines = {line.id: line for line in lines_of(connection, [each.lot_id for each in stays])}
    found = [
        StoredLot(
            view(lines[each.lot_id], settings), known[each.store_place_id], each.from_on, each.container,
            each.airtight,
            known[each.store_place_id].path.removeprefix(known[store_place_id].path).removeprefix(places.BETWEEN),
        )
        for each in stays
    ]  # fmt: skip
    return tuple(sorted(found, key=lambda each: (_slot_order(each.place), each.number)))


def _slot_order(line: StorePlaceLine) -> tuple[str, int, str]:
    """Sort A2 before A10."""
    met = _SLOT.fullmatch(line.name)
    before = line.path.removesuffix(line.name)
    return (before + met[1], int(met[2]), "") if met else (line.path.casefold(), 0, line.path)


def place_map(catalogue: Catalogue, store_place_id: int) -> PlaceMap:
    """Give what stands in a place side by side: its slots where it is divided, else its places and loose lots."""
    found = lots_in_place(catalogue, store_place_id)
    with catalogue.look() as connection:
        known = {line.id: line for line in places.store_places(connection)}
    inner = sorted(
        (line for line in known.values() if line.parent_id == store_place_id and line.closed_on is None),
        key=_slot_order,
    )
    held: dict[int, list[StoredLot]] = {line.id: [] for line in inner}
    loose: list[StoredLot] = []
    for each in found:
        child = _child_of(known, each.place, store_place_id)
        if child in held:
            held[child].append(each)
        else:
            loose.append(each)
    return _laid_out(known[store_place_id], inner, held, loose)


def _child_of(known: Mapping[int, StorePlaceLine], line: StorePlaceLine, top_id: int) -> int:
    """Give the place directly within a place that another one lies in; 0 where it lies in none."""
    while line.parent_id not in (None, top_id):
        line = known[line.parent_id or 0]
    return line.id if line.parent_id == top_id else 0


def _laid_out(
    place: StorePlaceLine,
    inner: Sequence[StorePlaceLine],
    held: Mapping[int, Sequence[StoredLot]],
    loose: Sequence[StoredLot],
) -> PlaceMap:
    slots = {line.id: _SLOT.fullmatch(line.name) for line in inner if line.kind == "slot"}
    in_slots = bool(inner) and all(slots.get(line.id) for line in inner)
    cells: list[MapCell] = []
    if in_slots:
        letters = sorted({met[1] for met in slots.values() if met}, key=lambda text: (len(text), text))
        for line in inner:
            met = slots[line.id]
            if met:
                cells.append(MapCell(letters.index(met[1]), int(met[2]) - 1, line, tuple(held[line.id])))
        columns, rows = max(cell.column for cell in cells) + 1, len(letters)
    else:
        columns, rows = max(1, min(FREE_COLUMNS, max(len(inner), len(loose)))), 0
        for number, line in enumerate(inner):
            cells.append(MapCell(number // columns, number % columns, line, tuple(held[line.id])))
        rows = -(-len(inner) // columns)
    cells += [
        MapCell(rows + number // columns, number % columns, None, (each,))
        for number, each in enumerate(loose)
    ]
    return PlaceMap(place, rows + -(-len(loose) // columns), columns, in_slots, tuple(cells))
