"""The arithmetic of beliefs that are mixtures of normal curves: chances by table, and the search for one."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from hilum.seedlore.deviates import share_from_deviate

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from hilum.seedlore.arrays import Array

    Figures = NDArray[np.floating]
    Lots = slice | NDArray[np.intp]

_REACH, _STEP = 6.0, 1.0 / 512.0
# One side of any belief holds less than 5 % beyond this many standard deviations: Cantelli's inequality,
# 1 / (1 + k k) = 0.05.
_CANTELLI = 4.36
_END_HEIGHT = 6.0
# Steps of a search for all lots, then for those whose last step was longer than what counts as settled.
_STEPS_OF_ALL, _STEPS_FURTHER, _SETTLED = 4, 7, 2e-3
_LEVEL = 1.0  # a step of deviates, in steps of the table, that is too small to divide by


@cache
def _normal_table() -> "NDArray[np.float32]":
    import numpy as np

    nodes = -_REACH + _STEP * np.arange(round(2 * _REACH / _STEP) + 1)
    found: NDArray[np.float32] = np.asarray(share_from_deviate(nodes.astype(np.float64))).astype(np.float32)
    return found


@cache
def _area_table() -> "tuple[NDArray[np.float32], NDArray[np.float32]]":
    """Give the integral of the normal curve from far below up to each node, and its step to the next.

    The step behind the last node is that of a curve that is 1 there and beyond.
    """
    import numpy as np

    nodes = (_STEP * np.arange(round(2 * _REACH / _STEP) + 1) - _REACH).astype(np.float64)
    density = np.exp(-0.5 * nodes * nodes) / math.sqrt(2.0 * math.pi)
    area = nodes * np.asarray(share_from_deviate(nodes)) + density
    return area.astype(np.float32), np.append(np.diff(area), _STEP).astype(np.float32)


def look_up(table: "NDArray[np.float32]", place: "Figures") -> "NDArray[np.float32]":
    """Read a table between its nodes, on straight lines; beyond its ends it gives the ends.

    Parameters
    ----------
    table : ndarray of float32
    place : ndarray of float
        Counted in steps of the table from its beginning; float32 figures are used up.

    Returns
    -------
    ndarray of float32

    Source
    ------
    Not needed: no figure is reckoned that is not in the table.

    Examples
    --------
    >>> import numpy as np
    >>> float(look_up(np.array([0, 2, 6], np.float32), np.array([1.5]))[0])
    4.0
    """
    import numpy as np

    place = place.astype(np.float32, copy=False)
    np.clip(place, 0.0, np.float32(len(table) - 1.001), out=place)
    whole = np.floor(place)
    left = whole.astype(np.intp)
    place -= whole
    # Places are within the table by now; "clip" only spares numpy its own check, which costs more than the look.
    low: NDArray[np.float32] = table.take(left, mode="clip")
    left += 1
    high = table.take(left, mode="clip")
    high -= low
    high *= place
    low += high
    return low


def quick_share(deviates: "Figures") -> "NDArray[np.float32]":
    """Give the share alive at deviates, quickly: right to 2e-7, beyond six deviates cut off.

    Parameters
    ----------
    deviates : ndarray of float

    Returns
    -------
    ndarray of float32

    Source
    ------
    Read between the nodes of a table of `share_from_deviate`.

    Examples
    --------
    >>> import numpy as np
    >>> round(float(quick_share(np.zeros(1))[0]), 6)
    0.5
    """
    import numpy as np

    return look_up(_normal_table(), (deviates + _REACH) * np.float32(1.0 / _STEP))


def table_place(deviates: "Figures") -> "Figures":
    """Turn deviates into places of the table that `MixtureChance` reads.

    Parameters
    ----------
    deviates : ndarray of float

    Returns
    -------
    ndarray of float

    Source
    ------
    Not needed: a change of scale.

    Examples
    --------
    >>> import numpy as np
    >>> float(table_place(np.array([0.0]))[0])
    3072.0
    """
    import numpy as np

    found: Figures = (deviates + np.float32(_REACH)) * np.float32(1.0 / _STEP)
    return found


class MixtureChance:
    """Averages the normal curve over mixtures whose deviates run evenly from node to node.

    Between two nodes the mean of the curve is the step of its integral over the step of the deviate: so a
    few nodes serve even where the next one is many deviates off. A search asks the same mixtures again and
    again: the room for it is laid out once, since fetching it costs as much time as the sum.

    Parameters
    ----------
    cells : ndarray of float, shape (nodes - 1, lots)
        What lies between each node and the next; sums to 1 for each lot.

    Source
    ------
    The integral of the normal curve's integral is x Phi(x) + phi(x); by parts.

    Examples
    --------
    >>> import numpy as np
    >>> mixture = MixtureChance(np.ones((1, 1), np.float32))
    >>> round(float(mixture.at(table_place(np.array([[-1.0], [1.0]], np.float32)))[0]), 6)
    0.5
    """

    def __init__(self, cells: "Figures") -> None:
        import numpy as np

        shape = (cells.shape[0] + 1, cells.shape[1])
        self._cells = cells
        self._part, self._whole, self._area, self._slope = np.empty((4, *shape), np.float32)
        self._left = np.empty(shape, np.intp)
        self._step, self._size = np.empty((2, *cells.shape), np.float32)

    def at(self, place: "Figures") -> "Array":
        """Give the chance, shape (lots,), for the places of the nodes, shape (nodes, lots), by `table_place`."""
        import numpy as np

        areas, slopes = _area_table()
        part, whole, left, area, slope = self._part, self._whole, self._left, self._area, self._slope
        np.maximum(place, np.float32(0), out=part)
        # Beyond the table's end the curve is 1: the rest of the way counts in full from the last node on.
        np.minimum(part, np.float32(len(areas) - 1), out=whole)
        np.floor(whole, out=whole)
        np.copyto(left, whole, casting="unsafe")
        part -= whole
        areas.take(left, out=area, mode="clip")
        slopes.take(left, out=slope, mode="clip")
        part *= slope
        area += part
        step, size = self._step, self._size
        np.subtract(place[1:], place[:-1], out=step)
        is_level = np.abs(step, out=size) < _LEVEL
        np.copyto(step, np.float32(1), where=is_level)
        mean = np.subtract(area[1:], area[:-1], out=size)
        mean /= step
        np.copyto(mean, slope[:-1], where=is_level)
        found: Array = np.einsum("ij,ij->j", mean, self._cells).astype(np.float64)
        found *= 1.0 / _STEP
        return found


class LineChance:
    """A mixture whose places lie at base + slope x: gives its chance at any x.

    Parameters
    ----------
    cells : ndarray of float, shape (nodes - 1, lots)
        As `MixtureChance`.
    base, slope : ndarray of float, shape (nodes, lots)
        In places of the table, as `table_place`.

    Source
    ------
    As `MixtureChance`.

    Examples
    --------
    >>> import numpy as np
    >>> nodes = table_place(np.array([[-2.0], [0.0]], np.float32))
    >>> line = LineChance(np.ones((1, 1), np.float32), nodes, np.full((2, 1), 512, np.float32))
    >>> round(float(line.at(np.ones(1))[0]), 6)  # nodes one deviate below and one above the middle
    0.5
    """

    def __init__(self, cells: "Figures", base: "Figures", slope: "Figures") -> None:
        import numpy as np

        self._mixture = MixtureChance(cells)
        self._base, self._slope = base, slope
        self._place = np.empty(base.shape, np.float32)

    def at(self, x: "Array") -> "Array":
        """Give the chance of each lot at x, both of shape (lots,)."""
        import numpy as np

        np.multiply(self._slope, x.astype(np.float32), out=self._place)
        self._place += self._base
        return self._mixture.at(self._place)


def mixture_reach(weight: "Figures", mean: "Figures", sd: "Figures") -> "tuple[Array, Array]":
    """Give bounds between which every chance from 0.05 to 0.95 is reached.

    Parameters
    ----------
    weight, mean, sd : ndarray of float, shape (nodes, lots)
        Weights sum to 1 for each lot.

    Returns
    -------
    low, high : ndarray of float, shape (lots,)

    Source
    ------
    Cantelli's inequality: beyond k standard deviations on one side lies at most 1 / (1 + k k).

    Examples
    --------
    >>> import numpy as np
    >>> one = np.ones((1, 1))
    >>> [round(float(end[0]), 2) for end in mixture_reach(one, 0 * one, one)]
    [-4.36, 4.36]
    """
    import numpy as np

    middle = (weight * mean).sum(axis=0)
    reach = _CANTELLI * np.sqrt((weight * (sd * sd + (mean - middle) ** 2)).sum(axis=0))
    return middle - reach, middle + reach


@dataclass(slots=True)
class _Search:
    """Between which figures the answer of each lot lies, how far off the chance is at both, which moved last."""

    low: "Array"
    high: "Array"
    under: "Array"
    over: "Array"
    target: "Array"
    was_low: "NDArray[np.int8]"

    def halfway(self) -> "Array":
        return 0.5 * (self.low + self.high)

    def on_line(self) -> "Array":
        """Give where a straight line between both ends reaches the chance."""
        import numpy as np

        share = np.clip(-self.under / np.maximum(self.over - self.under, 1e-9), 0.0, 1.0)
        found: Array = self.low + share * (self.high - self.low)
        return found

    def learn(self, tried: "Array", chance: "Array") -> None:
        """Draw in one end of each lot; the end that stays put twice running counts half."""
        import numpy as np

        p = np.clip(chance, 1e-6, 1.0 - 1e-6)
        found = np.log(p / (1.0 - p)) - self.target
        is_low = found < 0
        side = np.where(is_low, 1, -1).astype(np.int8)
        fading = np.where(side == self.was_low, 0.5, 1.0)
        self.was_low = side
        self.low, self.high = np.where(is_low, tried, self.low), np.where(is_low, self.high, tried)
        self.under, self.over = (
            np.where(is_low, found, fading * self.under),
            np.where(is_low, fading * self.over, found),
        )

    def of(self, lots: "NDArray[np.intp]") -> "_Search":
        """Give the search of some of the lots."""
        return _Search(*(getattr(self, name)[lots] for name in _Search.__slots__))


def search_chance(
    chance_of: "Callable[[Lots], Callable[[Array], Array]]",
    low: "Array",
    high: "Array",
    chance: "float | Array",
    first: "Array | None" = None,
) -> "Array":
    """Find where a rising chance reaches a figure, for all lots at once.

    One step halves, the others go along straight lines through the logits of both ends. After a few steps
    for all, only the lots that have not settled go on: most are sure early, lots near death are not.

    Parameters
    ----------
    chance_of : callable
        Given which lots are meant (places, or a slice), gives a callable: their chances at figures of shape (lots,).
    low, high : ndarray of float, shape (lots,)
        Between which the figure is looked for.
    chance : float or ndarray, shape (lots,)
        Above 0 and below 1.
    first : ndarray of float, shape (lots,), or None
        The chance halfway between `low` and `high`, where that is known already.

    Returns
    -------
    ndarray of float, shape (lots,)

    Source
    ------
    The Illinois rule: M. Dowell and P. Jarratt (1971), BIT 11, 168-174 (from memory).

    Examples
    --------
    >>> import numpy as np
    >>> zero = np.zeros(1)
    >>> found = search_chance(lambda lots: lambda x: 1 / (1 + np.exp(-x)), zero - 9, zero + 9, 0.3)
    >>> bool(abs(found[0] - np.log(3 / 7)) < 1e-6)
    True
    """
    import numpy as np

    low, high = low.astype(np.float64), high.astype(np.float64)
    target = np.broadcast_to(np.log(chance / (1.0 - np.asarray(chance))), low.shape)
    # The heights of the ends need not be known: a guess is soon replaced by what is found nearer.
    ends = np.full_like(low, _END_HEIGHT)
    search = _Search(low, high, -ends, ends, target, np.zeros(low.shape, dtype=np.int8))
    chance_at = chance_of(slice(None))
    tried = search.halfway()
    search.learn(tried, chance_at(tried) if first is None else first)
    for _ in range(_STEPS_OF_ALL - 1):
        tried = search.on_line()
        search.learn(tried, chance_at(tried))
    found = search.on_line()
    unsettled = np.flatnonzero(np.abs(found - tried) > _SETTLED)
    if unsettled.size:
        rest, chance_at = search.of(unsettled), chance_of(unsettled)
        for _ in range(_STEPS_FURTHER):
            tried = rest.on_line()
            rest.learn(tried, chance_at(tried))
        found[unsettled] = rest.on_line()
    return found
