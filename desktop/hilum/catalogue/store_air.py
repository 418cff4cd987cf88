"""The air of store places through time, as the forecast hears it: how they were set, and what was read in them.

A month with readings counts as they say, up to the day of the newest one. A month without counts as the place is
set. Where readings cover most of a year, or the place has no figure of its own, it goes on as the last twelve
months of readings say. A place that knows neither takes the air of the place it lies in.
"""

from bisect import bisect_right
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from itertools import pairwise
from typing import Any, Literal

from sqlalchemy import Connection, select

from hilum.catalogue.store_records import reading
from hilum.catalogue.store_tree import Chain, PlaceSpell, StoreTree, read_store_tree
from hilum.seedlore.steady_warmth import steady_temperature_c

What = Literal["temperature", "humidity"]
# Our own choice: readings speak for the time after them once they cover ten of the last twelve months.
_YEAR_DAYS, _MONTHS_OF_A_YEAR = 365, 10
# A tenth of a degree or a percent is what such thermometers show; equal months are told as one.
_DECIMALS_C, _DECIMALS_PERCENT = 1, 0


@dataclass(frozen=True, slots=True)
class Air:
    """The air of a place from a day until another; `store` names where its figures come from.

    `since` is the day from which they have come from there without a break: a new month of readings is not a
    new store, a box that is put into another freezer is.
    """

    from_on: date
    until_on: date
    storage_c: float | None
    humidity_percent: float | None
    store: tuple[Any, ...]
    since: date


@dataclass(frozen=True, slots=True)
class _Figure:
    value: float | None
    source: tuple[Any, ...]


class _Level:
    """One place in one spell with the readings taken in it then."""

    def __init__(self, place_id: int, spell: PlaceSpell, rows: Iterable[Any], what: What) -> None:
        self.source = (place_id, spell.from_on)
        self.set_to = spell.temperature_c if what == "temperature" else spell.humidity_percent
        self._name = "ageing_c" if what == "temperature" else "humidity_percent"
        self._mean = _mean_warmth if what == "temperature" else _mean_damp
        self.days = {
            row.on_date: getattr(row, self._name)
            for row in rows
            if spell.from_on <= row.on_date < spell.until_on and getattr(row, self._name) is not None
        }
        self.last = max(self.days, default=None)
        by_month: dict[tuple[int, int], list[float]] = {}
        for day, value in self.days.items():
            by_month.setdefault((day.year, day.month), []).append(value)
        self._months = {month: self._mean(values) for month, values in by_month.items()}
        self.usual = self._usual()

    def _usual(self) -> float | None:
        if self.last is None:
            return None
        year = {day: value for day, value in self.days.items() if (self.last - day).days < _YEAR_DAYS}
        months = {(day.year, day.month) for day in year}
        if self.set_to is not None and len(months) < _MONTHS_OF_A_YEAR:
            return None
        return self._mean(list(year.values()))

    def in_month_of(self, begins: date) -> float | None:
        """Give what was read in the month of a day; None where nothing was, or where the newest lies before it."""
        if self.last is None or begins >= self.last:
            return None
        return self._months.get((begins.year, begins.month))

    def otherwise(self, begins: date) -> float | None:
        """Give what counts from a day on for a time without readings."""
        if self.last is not None and (self.set_to is None or begins >= self.last) and self.usual is not None:
            return self.usual
        return self.set_to


class StoreAir:
    """The air of every place, reckoned once for each place that is asked for."""

    def __init__(self, tree: StoreTree, rows: dict[int, list[Any]]) -> None:
        self._tree, self._rows = tree, rows
        self._levels: dict[tuple[int, date, What], _Level] = {}
        self._known: dict[int, tuple[Air, ...]] = {}

    def of(self, place_id: int) -> tuple[Air, ...]:
        """Give the air of a place, without gap from the first day there is to the last."""
        if place_id not in self._known:
            pieces = [air for chain in self._tree.chains(place_id) for air in self._in_chain(chain)]
            self._known[place_id] = tuple(_joined(pieces))
        return self._known[place_id]

    def during(self, place_id: int, begins: date, ends: date | None) -> Iterator[Air]:
        """Give the air of a place from a day until another, cut to these days; an endless time ends at date.max."""
        known = self.of(place_id)
        last = ends or date.max
        first = bisect_right([air.from_on for air in known], begins) - 1
        for air in known[first:]:
            if air.from_on >= last:
                return
            yield Air(
                max(air.from_on, begins), min(air.until_on, last), air.storage_c, air.humidity_percent, air.store,
                max(air.since, begins),
            )  # fmt: skip

    def _in_chain(self, chain: Chain) -> Iterator[Air]:
        warm = [self._level(place, spell, "temperature") for place, spell in chain.spells]
        damp = [self._level(place, spell, "humidity") for place, spell in chain.spells]
        cuts = {chain.from_on, chain.until_on}
        for level in (*warm, *damp):
            cuts |= {day for day in _month_cuts(level) if chain.from_on < day < chain.until_on}
        for begins, ends in pairwise(sorted(cuts)):
            warmth, moist = _nearest(warm, begins), _nearest(damp, begins)
            yield Air(begins, ends, warmth.value, moist.value, (warmth.source, moist.source), begins)

    def _level(self, place_id: int, spell: PlaceSpell, what: What) -> _Level:
        key = (place_id, spell.from_on, what)
        if key not in self._levels:
            self._levels[key] = _Level(place_id, spell, self._rows.get(place_id, ()), what)
        return self._levels[key]


def read_store_air(connection: Connection) -> StoreAir:
    """Read the tree of places and the daily readings of all of them."""
    rows: dict[int, list[Any]] = {}
    for row in connection.execute(select(reading).order_by(reading.c.on_date)):
        rows.setdefault(row.store_place_id, []).append(row)
    return StoreAir(read_store_tree(connection), rows)


def _month_cuts(level: _Level) -> set[date]:
    """Give the first days of months with readings and of the months after them; the newest ends on its last day."""
    cuts: set[date] = set()
    for year, month in {(day.year, day.month) for day in level.days}:
        cuts |= {date(year, month, 1), date(year + month // 12, month % 12 + 1, 1)}
    if level.last is not None:
        cuts = {day for day in cuts if day <= level.last} | {level.last}
    return cuts


def _nearest(levels: list[_Level], begins: date) -> _Figure:
    for level in levels:
        value = level.in_month_of(begins)
        if value is None:
            value = level.otherwise(begins)
        if value is not None:
            return _Figure(value, level.source)
    return _Figure(None, ())


def _joined(pieces: list[Air]) -> Iterator[Air]:
    """Tell neighbours with the same air as one, and say since when the air comes from the same store."""
    held: Air | None = None
    for piece in pieces:
        if held is None:
            held = piece
            continue
        since = held.since if piece.store == held.store else piece.from_on
        same = (piece.storage_c, piece.humidity_percent, piece.store) == (
            held.storage_c, held.humidity_percent, held.store,
        )  # fmt: skip
        if same:
            held = Air(held.from_on, piece.until_on, held.storage_c, held.humidity_percent, held.store, since)
        else:
            yield held
            held = Air(
                piece.from_on, piece.until_on, piece.storage_c, piece.humidity_percent, piece.store, since
            )
    if held is not None:
        yield held


def _mean_warmth(values: list[float]) -> float:
    return round(steady_temperature_c(values), _DECIMALS_C)


def _mean_damp(values: list[float]) -> float:
    return round(sum(values) / len(values), _DECIMALS_PERCENT)
