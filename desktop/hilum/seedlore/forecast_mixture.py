"""The arithmetic of beliefs that are mixtures of normal curves: chances by table, and the search for one."""

import math
from collections.abc import Callable
from functools import cache
from typing import TYPE_CHECKING

from hilum.seedlore.deviates import share_from_deviate

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from hilum.seedlore.arrays import Array

    Figures = NDArray[np.floating]

_REACH, _STEP = 6.0, 1.0 / 512.0
# One side of any belief holds less than 5 % beyond this many standard deviations: Cantelli's inequality,
# 1 / (1 + k k) = 0.05.
_CANTELLI = 4.36
_END_HEIGHT = 6.0
_LEVEL = 1.0  # a step of deviates, in steps of the table, that is too small to divide by


@cache
def _normal_table() -> "NDArray[np.float32]":
    import numpy as np

    nodes = -_REACH + _STEP * np.arange(round(2 * _REACH / _STEP) + 1)
    found: NDArray[np.float32] = np.asarray(share_from_deviate(nodes.astype(np.float64))).astype(np.float32)
    return found


@cache
def _area_table() -> "NDArray[np.complex64]":
    """Give the integral of the normal curve from far below up to each node, and its step to the next."""
    import numpy as np

    nodes = (_STEP * np.arange(round(2 * _REACH / _STEP) + 1) - _REACH).astype(np.float64)
    density = np.exp(-0.5 * nodes * nodes) / math.sqrt(2.0 * math.pi)
    area = nodes * np.asarray(share_from_deviate(nodes)) + density
    found: NDArray[np.complex64] = (area + 1j * np.append(np.diff(area), _STEP)).astype(np.complex64)
    return found


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
    left = whole.astype(np.int32)
    place -= whole
    low: NDArray[np.float32] = table.take(left)
    left += 1
    high = table.take(left)
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
    """Turn deviates into places of the table that `mixture_chance` reads.

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


def mixture_chance(cells: "Figures", place: "Figures") -> "Array":
    """Average the normal curve over a mixture whose deviates run evenly from node to node.

    Between two nodes the mean of the curve is the step of its integral over the step of the deviate: so a
    few nodes serve even where the next one is many deviates off.

    Parameters
    ----------
    cells : ndarray of float, shape (nodes - 1, lots)
        What lies between each node and the next; sums to 1 for each lot.
    place : ndarray of float, shape (nodes, lots)
        The deviates at the nodes, by `table_place`.

    Returns
    -------
    ndarray of float, shape (lots,)
        0 to 1.

    Source
    ------
    The integral of the normal curve's integral is x Phi(x) + phi(x); by parts.

    Examples
    --------
    >>> import numpy as np
    >>> deviates = np.array([[-1.0], [1.0]], np.float32)
    >>> round(float(mixture_chance(np.ones((1, 1), np.float32), table_place(deviates))[0]), 6)
    0.5
    """
    import numpy as np

    table = _area_table()
    inside = np.clip(place, 0.0, np.float32(len(table) - 1))
    whole = np.floor(inside)  # taken off as a float: with whole numbers the sum would be done in doubles
    left = whole.astype(np.int32)
    # Value and step of the table stand in one complex number, so that one look gives both.
    both = table.take(left)
    area: Figures = both.real
    slope = both.imag
    inside -= whole
    inside *= slope
    area = np.add(area, inside, dtype=np.float32)
    # Beyond the table's end the curve is 1, so its integral grows as the deviate does.
    beyond = place - np.float32(len(table) - 1)
    np.maximum(beyond, 0.0, out=beyond)
    beyond *= np.float32(_STEP)
    area += beyond
    step = place[1:] - place[:-1]
    mean = area[1:] - area[:-1]
    is_level = np.abs(step) < _LEVEL
    step[is_level] = 1.0
    mean /= step
    np.copyto(mean, slope[:-1], where=is_level)
    found: Array = np.einsum("ij,ij->j", mean, cells).astype(np.float64)
    found *= 1.0 / _STEP
    return found


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


def search_chance(
    chance_at: "Callable[[Array], Array]",
    low: "Array",
    high: "Array",
    chance: "float | Array",
    effort: tuple[int, int],
) -> "Array":
    """Find where a rising chance reaches a figure, for all lots at once.

    First by halving, then by straight lines through the logits of both ends, where the end that stays put
    twice running counts half.

    Parameters
    ----------
    chance_at : callable
        Gives the chance of each lot at figures of shape (lots,).
    low, high : ndarray of float, shape (lots,)
        Between which the figure is looked for.
    chance : float or ndarray, shape (lots,)
        Above 0 and below 1.
    effort : pair of int
        Steps in all, and how many of them halve.

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
    >>> found = search_chance(lambda x: 1 / (1 + np.exp(-x)), zero - 9, zero + 9, 0.5, (6, 1))
    >>> bool(abs(found[0]) < 1e-6)
    True
    """
    import numpy as np

    target = np.log(chance / (1.0 - np.asarray(chance)))

    def height(x: "Array") -> "Array":
        p = np.clip(chance_at(x), 1e-6, 1.0 - 1e-6)
        found: Array = np.log(p / (1.0 - p)) - target
        return found

    low, high = low.astype(np.float64), high.astype(np.float64)
    # The heights of the ends need not be known: a guess is soon replaced by what is found nearer.
    under, over = np.full_like(low, -_END_HEIGHT), np.full_like(low, _END_HEIGHT)
    was_low = np.zeros(low.shape, dtype=np.int8)
    steps, halvings = effort
    for step in range(steps):
        if step < halvings:
            tried = 0.5 * (low + high)
        else:
            tried = np.clip(low - under * (high - low) / np.maximum(over - under, 1e-9), low, high)
        found = height(tried)
        is_low = found < 0
        side = np.where(is_low, 1, -1).astype(np.int8)
        again = side == was_low
        was_low = side
        low, high = np.where(is_low, tried, low), np.where(is_low, high, tried)
        under, over = (
            np.where(is_low, found, np.where(again, 0.5 * under, under)),
            np.where(is_low, np.where(again, 0.5 * over, over), found),
        )
    share = np.clip(-under / np.maximum(over - under, 1e-9), 0.0, 1.0)
    result: Array = low + share * (high - low)
    return result
