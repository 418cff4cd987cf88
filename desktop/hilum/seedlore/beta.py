"""The beta distribution: how likely a share is below a bar, and the share at a chance."""

import math
from functools import cache

from hilum.seedlore.arrays import RangeError

_TINY = 1e-300
_TERMS = 20_000
_CLOSE_ENOUGH = 4e-16


def chance_below(share: float, a: float, b: float) -> float:
    """Give the chance that a beta variable is below a share (the regularised incomplete beta function).

    Parameters
    ----------
    share : float
        0 to 1.
    a, b : float
        Both more than 0.

    Returns
    -------
    float
        0 to 1, right to about 12 figures.

    Raises
    ------
    RangeError
        A figure is out of range.

    Source
    ------
    Continued fraction 8.17.22 of the NIST Digital Library of Mathematical Functions, summed by Lentz's method.

    Examples
    --------
    >>> round(chance_below(0.5, 2, 2), 12)
    0.5
    """
    if not (0 <= share <= 1 and a > 0 and b > 0):
        raise RangeError(f"A share of {share:g} with {a:g} and {b:g} is out of range.")
    if share in (0, 1):
        return float(share)
    if share > (a + 1) / (a + b + 2):  # there the fraction converges slowly; the mirror is quick
        return 1.0 - chance_below(1.0 - share, b, a)
    log_front = (
        math.lgamma(a + b) - math.lgamma(a) - math.lgamma(b) + a * math.log(share) + b * math.log1p(-share)
    )
    return min(1.0, math.exp(log_front) * _fraction(share, a, b) / a)


def _fraction(x: float, a: float, b: float) -> float:
    """Sum the continued fraction."""
    upper, lower = 1.0, 1.0 - (a + b) * x / (a + 1)
    lower = 1.0 / (lower if abs(lower) > _TINY else _TINY)
    total = lower
    for m in range(1, _TERMS):
        even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m))
        odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1))
        for term in (even, odd):
            lower = 1.0 + term * lower
            lower = 1.0 / (lower if abs(lower) > _TINY else _TINY)
            upper = 1.0 + term / (upper if abs(upper) > _TINY else _TINY)
            step = lower * upper
            total *= step
        if abs(step - 1.0) < _CLOSE_ENOUGH:
            return total
    return total


@cache
def share_at(chance: float, a: float, b: float) -> float:
    """Give the share that a beta variable stays below with a chance, the reverse of `chance_below`.

    Parameters
    ----------
    chance : float
        0 to 1.
    a, b : float
        Both more than 0.

    Returns
    -------
    float
        0 to 1.

    Raises
    ------
    RangeError
        A figure is out of range.

    Source
    ------
    Halving of `chance_below`, which only rises.

    Examples
    --------
    >>> round(share_at(0.95, 1, 1), 10)
    0.95
    """
    if not 0 <= chance <= 1:
        raise RangeError(f"A chance of {chance:g} is out of range. Give 0 to 1.")
    if chance in (0, 1):
        return float(chance)
    low, high = 0.0, 1.0
    for _ in range(200):
        middle = (low + high) / 2
        if middle in (low, high):
            break
        low, high = (middle, high) if chance_below(middle, a, b) < chance else (low, middle)
    return (low + high) / 2
