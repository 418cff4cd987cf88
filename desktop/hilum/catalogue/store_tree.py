"""The tree of store places through time: in what each place lay, and how it was set, on any day."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from sqlalchemy import Connection, select

from hilum.catalogue.records import stay, store_place
from hilum.catalogue.store_records import place_past


@dataclass(frozen=True, slots=True)
class PlaceSpell:
    """A time in which a place lay in one other place and was set one way; the last day is not part of it."""

    from_on: date
    until_on: date
    parent_id: int | None
    temperature_c: float | None
    humidity_percent: float | None


@dataclass(frozen=True, slots=True)
class Chain:
    """A place and the places around it, nearest first, as they were from a day until the next change in any of them."""

    from_on: date
    until_on: date
    spells: tuple[tuple[int, PlaceSpell], ...]


class StoreTree:
    """Every place with its spells, without gap from the first day there is to the last."""

    def __init__(self, spells: dict[int, tuple[PlaceSpell, ...]]) -> None:
        self.spells = spells

    def at(self, place_id: int, day: date) -> PlaceSpell:
        """Give how a place was on a day."""
        return next(
            spell
            for spell in self.spells[place_id]
            if day < spell.until_on or spell is self.spells[place_id][-1]
        )

    def chain(self, place_id: int, day: date) -> Chain:
        """Give a place and those around it as they were on a day, and how long that lasted."""
        found: list[tuple[int, PlaceSpell]] = []
        seen: set[int] = set()
        current: int | None = place_id
        while current is not None and current not in seen:
            seen.add(current)
            spell = self.at(current, day)
            found.append((current, spell))
            current = spell.parent_id
        begins = max(spell.from_on for _, spell in found)
        ends = min(spell.until_on for _, spell in found)
        return Chain(begins, ends, tuple(found))

    def chains(self, place_id: int) -> Iterator[Chain]:
        """Give every chain of a place, one after the other, from the first day to the last."""
        day = date.min
        while True:
            found = self.chain(place_id, day)
            yield found
            if found.until_on == date.max:
                return
            day = found.until_on

    def temperature_c(self, place_id: int, day: date) -> float | None:
        """Give how cold a place was set on a day: its own figure, else that of the nearest place around it."""
        chain = self.chain(place_id, day)
        return next(
            (spell.temperature_c for _, spell in chain.spells if spell.temperature_c is not None), None
        )

    def inside(self, place_id: int, day: date) -> frozenset[int]:
        """Give a place and every place that lay in it on a day, at any depth."""
        parents = {each: self.at(each, day).parent_id for each in self.spells}
        found = {place_id}
        while more := {each for each, parent in parents.items() if parent in found} - found:
            found |= more
        return frozenset(found)

    def ever_inside(self, place_id: int) -> frozenset[int]:
        """Give a place and every place that has ever lain in it, at any depth."""
        found = {place_id}
        while (
            more := {
                each
                for each, spells in self.spells.items()
                if any(spell.parent_id in found for spell in spells)
            }
            - found
        ):
            found |= more
        return frozenset(found)

    def has_ring(self) -> bool:
        """Say whether on any day a place lay in itself."""
        days = {spell.from_on for spells in self.spells.values() for spell in spells}
        return any(self._ring_on(day) for day in days)

    def _ring_on(self, day: date) -> bool:
        sound: set[int | None] = {None}
        for each in self.spells:
            walked: list[int | None] = []
            current: int | None = each
            while current not in sound:
                if current in walked or current is None:
                    return True
                walked.append(current)
                current = self.at(current, day).parent_id
            sound.update(walked)
        return False


def read_store_tree(connection: Connection) -> StoreTree:
    """Read all places with what they were before."""
    past: dict[int, list[PlaceSpell]] = {}
    rows = connection.execute(select(place_past).order_by(place_past.c.store_place_id, place_past.c.until_on))
    for row in rows:
        before = past.setdefault(row.store_place_id, [])
        begins = before[-1].until_on if before else date.min
        before.append(
            PlaceSpell(begins, row.until_on, row.parent_id, row.temperature_c, row.humidity_percent)
        )
    spells = {}
    for row in connection.execute(select(store_place)):
        before = past.get(row.id, [])
        begins = before[-1].until_on if before else date.min
        now = PlaceSpell(begins, date.max, row.parent_id, row.temperature_c, row.humidity_percent)
        spells[row.id] = (*before, now)
    return StoreTree(spells)


def lots_ever_at(connection: Connection, place_ids: Iterable[int]) -> tuple[int, ...]:
    """Give the lots that lie or have lain in any of some places, or in a place that has lain in one of them."""
    tree = read_store_tree(connection)
    inside = sorted({inner for each in place_ids if each in tree.spells for inner in tree.ever_inside(each)})
    rows = connection.execute(select(stay.c.lot_id).where(stay.c.store_place_id.in_(inside)).distinct())
    return tuple(rows.scalars())
