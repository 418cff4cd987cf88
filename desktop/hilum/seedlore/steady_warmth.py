"""Readings of a changing temperature, put into the one steady temperature that ages seed as much."""

import math
from collections.abc import Iterable
from typing import TYPE_CHECKING

from hilum.seedlore.tables import rule

if TYPE_CHECKING:
    from hilum.seedlore.arrays import Array


def steady_temperature_c(temperatures_c: "Iterable[float] | Array") -> float:
    """Give the steady temperature at which seed ages as much as at readings of equal duration.

    Ageing grows faster than temperature does, so this lies above the mean when the readings spread. It does not
    depend on the seed's moisture.

    Parameters
    ----------
    temperatures_c : iterable or ndarray of float
        °C, at least one, each for the same length of time. Below -20 °C counts as -20 °C, as in the forecast.

    Returns
    -------
    float
        °C.

    Source
    ------
    Losses add as days over sigma: Ellis & Roberts 1980, Ann. Bot. 45, 13-30, with the universal temperature terms of
    Dickie, Ellis, Kraak, Ryder & Tompsett 1990, Ann. Bot. 65, 197-204; for crops with terms of their own it is near.

    Examples
    --------
    >>> round(steady_temperature_c([5.0, 5.0]), 6)
    5.0
    >>> round(steady_temperature_c([0.0, 30.0]), 1)
    25.2
    """
    import numpy as np

    linear, square = rule("universal_ch").value, rule("universal_cq").value
    warmth = np.maximum(np.asarray(temperatures_c, dtype=np.float64), rule("longevity_c_lowest").value)
    exponents = linear * warmth + square * warmth * warmth
    pace = math.log10(float(np.mean(10.0**exponents)))
    # The larger root of square t t + linear t = pace: ageing grows with t above -linear / (2 square), -34 °C.
    return (-linear + math.sqrt(linear * linear + 4.0 * square * pace)) / (2.0 * square)
