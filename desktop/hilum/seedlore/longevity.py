"""Longevity: how stored seed loses its life, by the improved viability equation, in every direction.

v = Ki - p / sigma and log sigma = KE - CW log m - CH t - CQ t t: v is the share alive as a normal
deviate, p the storage in days, m the moisture in percent of fresh weight, t the temperature in °C,
logarithms to base 10. Ki belongs to the lot, sigma to the kind of seed and its store.
"""

from typing import TYPE_CHECKING

from hilum.seedlore.arrays import RangeError, as_array, check_between, like_given
from hilum.seedlore.conditions import Conditions
from hilum.seedlore.constants import ViabilityConstants
from hilum.seedlore.deviates import deviate_from_percent, percent_from_deviate, share_from_deviate
from hilum.seedlore.tables import rule

if TYPE_CHECKING:
    from hilum.seedlore.arrays import Amounts

DAYS_A_YEAR = 365.0  # as the published examples count


def log_sigma(
    ke: "Amounts",
    cw: "Amounts",
    ch: "Amounts",
    cq: "Amounts",
    moisture_percent_wb: "Amounts",
    storage_c: "Amounts",
) -> "Amounts":
    """Give the common logarithm of sigma in days, the bare equation without a look at its range.

    Parameters
    ----------
    ke, cw, ch, cq : float or array
        Species constants.
    moisture_percent_wb : float or array
        Percent of fresh weight, more than 0.
    storage_c : float or array
        °C.

    Returns
    -------
    float or array
        All arguments broadcast against each other.

    Source
    ------
    R. H. Ellis and E. H. Roberts (1980), Ann. Bot. 45, 13-30.

    Examples
    --------
    >>> round(log_sigma(8.242, 4.345, 0.0307, 0.000501, 10.0, 5.0), 4)
    3.731
    """
    import numpy as np

    warmth = as_array(storage_c)
    found = ke - cw * np.log10(as_array(moisture_percent_wb)) - ch * warmth - cq * warmth * warmth
    return like_given(as_array(found), ke, cw, ch, cq, moisture_percent_wb, storage_c)


def sigma_days(constants: ViabilityConstants, conditions: Conditions) -> "Amounts":
    """Reckon sigma, the days in which a lot loses one deviate in a store.

    Parameters
    ----------
    constants : ViabilityConstants
        One published set.
    conditions : Conditions
        From `storage_conditions`, which checks the range.

    Returns
    -------
    float or array
        Days.

    Source
    ------
    R. H. Ellis and E. H. Roberts (1980), Ann. Bot. 45, 13-30.

    Examples
    --------
    >>> from hilum.seedlore.conditions import storage_conditions
    >>> rice = ViabilityConstants(8.242, 4.345, 0.0307, 0.000501)
    >>> round(sigma_days(rice, storage_conditions(10.0, 5.0)), 3)
    5382.388
    """
    moisture, warmth = conditions.moisture_percent_wb, conditions.storage_c
    found = 10.0 ** as_array(
        log_sigma(constants.ke, constants.cw, constants.ch, constants.cq, moisture, warmth)
    )
    return like_given(as_array(found), moisture, warmth)


def viability_percent(ki: "Amounts", days: "Amounts", sigma: "Amounts") -> "Amounts":
    """Reckon the share alive after a time in store.

    Parameters
    ----------
    ki : float or array
        Deviate of the lot at the start (`deviate_from_percent`).
    days : float or array
        0 or more.
    sigma : float or array
        Days, more than 0.

    Returns
    -------
    float or array
        Percent, 0 to 100.

    Raises
    ------
    RangeError
        A time below 0, or sigma not above 0.

    Source
    ------
    R. H. Ellis and E. H. Roberts (1980), Ann. Bot. 45, 13-30.

    Examples
    --------
    >>> round(viability_percent(deviate_from_percent(98), 365, 5382.388), 4)
    97.648
    """
    check_between(days, 0.0, 1e9, "A storage time", "days")
    check_sigma(sigma)
    left = as_array(ki) - as_array(days) / as_array(sigma)
    return like_given(as_array(percent_from_deviate(left)), ki, days, sigma)


def days_until(ki: "Amounts", percent: "Amounts", sigma: "Amounts") -> "Amounts":
    """Reckon the days until a share is alive; below 0 when the lot was never that good.

    Parameters
    ----------
    ki : float or array
        Deviate of the lot at the start.
    percent : float or array
        The share that is asked for, above 0 and below 100.
    sigma : float or array
        Days, more than 0.

    Returns
    -------
    float or array
        Days.

    Raises
    ------
    RangeError
        The share is not above 0 and below 100.

    Source
    ------
    p = sigma (Ki - v); R. H. Ellis and E. H. Roberts (1980), Ann. Bot. 45, 13-30.

    Examples
    --------
    >>> round(days_until(deviate_from_percent(98), 95, 5382.388), 2)
    2200.83
    """
    check_sigma(sigma)
    found = as_array(sigma) * (as_array(ki) - as_array(deviate_from_percent(percent)))
    return like_given(found, ki, percent, sigma)


def half_life_days(ki: "Amounts", sigma: "Amounts") -> "Amounts":
    """Reckon the days until half of the seed is alive.

    Parameters
    ----------
    ki : float or array
        Deviate of the lot at the start.
    sigma : float or array
        Days, more than 0.

    Returns
    -------
    float or array
        Days; below 0 when less than half was alive at the start.

    Source
    ------
    Ki sigma; R. H. Ellis and E. H. Roberts (1980), Ann. Bot. 45, 13-30.

    Examples
    --------
    >>> half_life_days(2.0, 500.0)
    1000.0
    """
    check_sigma(sigma)
    return like_given(as_array(sigma) * as_array(ki), ki, sigma)


def days_to_standard(ki: "Amounts", standard_percent: "Amounts", sigma: "Amounts") -> "Amounts":
    """Reckon the days until a lot falls to a standard, which is a fixed percentage.

    Parameters
    ----------
    ki : float or array
        Deviate of the lot at the start.
    standard_percent : float or array
        Above 0 and below 100.
    sigma : float or array
        Days, more than 0.

    Returns
    -------
    float or array
        Days, 0 for a lot that is below the standard from the start.

    Source
    ------
    As `days_until`.

    Examples
    --------
    >>> days_to_standard(0.5, 85, 500.0)
    0.0
    """
    import numpy as np

    found = np.maximum(as_array(days_until(ki, standard_percent, sigma)), 0.0)
    return like_given(as_array(found), ki, standard_percent, sigma)


def days_to_share_of_initial(ki: "Amounts", sigma: "Amounts", share: float | None = None) -> "Amounts":
    """Reckon the days until a lot has fallen to a share of what it began with, 85 % unless said otherwise.

    Not the same as the days to a standard of 85 %: a lot that began with 94 % is asked for 79.9.

    Parameters
    ----------
    ki : float or array
        Deviate of the lot at the start.
    sigma : float or array
        Days, more than 0.
    share : float or None
        Above 0 and below 1.

    Returns
    -------
    float or array
        Days.

    Raises
    ------
    RangeError
        The share is out of range.

    Source
    ------
    Share: Kameswara Rao et al. 2006, Manual of Seed Handling in Genebanks, Table 8.2.

    Examples
    --------
    >>> round(days_to_share_of_initial(deviate_from_percent(94), 500.0), 1)
    358.4
    """
    part = rule("regrow_share_of_first_result").value if share is None else share
    if not 0 < part < 1:
        raise RangeError(f"A share of {part:g} is out of range. Give more than 0 and less than 1 (0.85).")
    target = 100.0 * part * as_array(share_from_deviate(ki))
    return like_given(as_array(days_until(as_array(ki), target, as_array(sigma))), ki, sigma)


def sigma_at_other_c(
    sigma: "Amounts", from_c: "Amounts", to_c: "Amounts", ch: float | None = None, cq: float | None = None
) -> "Amounts":
    """Carry a sigma measured at one temperature over to another, at the same moisture.

    Parameters
    ----------
    sigma : float or array
        Days, more than 0.
    from_c, to_c : float or array
        -20 to 90 °C.
    ch, cq : float or None
        Temperature terms; the universal pair unless given.

    Returns
    -------
    float or array
        Days.

    Source
    ------
    J. B. Dickie, R. H. Ellis, H. L. Kraak, K. Ryder and P. B. Tompsett (1990), Ann. Bot. 65, 197-204.

    Examples
    --------
    >>> round(sigma_at_other_c(250, 60, 45), 2)
    4408.49
    """
    check_sigma(sigma)
    low, high = rule("longevity_c_lowest").value, rule("longevity_c_highest").value
    for one in (from_c, to_c):
        check_between(one, low, high, "A storage temperature", "°C")
    linear = rule("universal_ch").value if ch is None else ch
    square = rule("universal_cq").value if cq is None else cq
    first, other = as_array(from_c), as_array(to_c)
    power = linear * (first - other) + square * (first * first - other * other)
    return like_given(as_array(as_array(sigma) * 10.0**power), sigma, from_c, to_c)


def check_sigma(sigma: "Amounts") -> None:
    """Refuse a sigma that is not more than 0.

    Parameters
    ----------
    sigma : float or array
        Days.

    Returns
    -------
    None

    Raises
    ------
    RangeError
        It is 0 or below, or no number.

    Source
    ------
    A standard deviation; R. H. Ellis and E. H. Roberts (1980), Ann. Bot. 45, 13-30.

    Examples
    --------
    >>> check_sigma(500.0)
    """
    import numpy as np

    read = as_array(sigma)
    if bool(np.any(~(read > 0))):
        raise RangeError(f"A sigma of {float(np.min(read)):g} days cannot be. Give more than 0.")
