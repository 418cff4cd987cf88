"""What it takes: the start, the dryness or the cold with which a lot keeps to a share alive for a time."""

from typing import TYPE_CHECKING

from hilum.seedlore.arrays import RangeError, as_array, check_between, like_given
from hilum.seedlore.constants import ViabilityConstants
from hilum.seedlore.deviates import deviate_from_percent
from hilum.seedlore.longevity import check_sigma
from hilum.seedlore.tables import rule

if TYPE_CHECKING:
    from hilum.seedlore.arrays import Amounts, Array


def ki_needed(percent: "Amounts", days: "Amounts", sigma: "Amounts") -> "Amounts":
    """Reckon the deviate a lot must begin with to have a share alive after a time.

    Parameters
    ----------
    percent : float or array
        Wanted at the end, above 0 and below 100.
    days : float or array
        0 or more.
    sigma : float or array
        Days, more than 0.

    Returns
    -------
    float or array
        As a percentage it is `percent_from_deviate` of this.

    Source
    ------
    Ki = v + p / sigma; R. H. Ellis and E. H. Roberts (1980), Ann. Bot. 45, 13-30.

    Examples
    --------
    >>> round(ki_needed(85, 500, 500.0), 4)
    2.0364
    """
    check_between(days, 0.0, 1e9, "A storage time", "days")
    check_sigma(sigma)
    found = as_array(deviate_from_percent(percent)) + as_array(days) / as_array(sigma)
    return like_given(as_array(found), percent, days, sigma)


def sigma_needed(ki: "Amounts", percent: "Amounts", days: "Amounts") -> "Amounts":
    """Reckon the sigma with which a lot would fall to a share in exactly a time.

    Parameters
    ----------
    ki : float or array
        Deviate of the lot at the start.
    percent : float or array
        At the end, above 0 and below what the lot began with.
    days : float or array
        More than 0.

    Returns
    -------
    float or array
        Days.

    Raises
    ------
    RangeError
        The lot would have to gain life, or the time is not above 0.

    Source
    ------
    sigma = p / (Ki - v); R. H. Ellis and E. H. Roberts (1980), Ann. Bot. 45, 13-30.

    Examples
    --------
    >>> round(sigma_needed(deviate_from_percent(98), 95, 3650), 1)
    8926.5
    """
    import numpy as np

    lost = as_array(ki) - as_array(deviate_from_percent(percent))
    if bool(np.any(~(lost > 0))):
        raise RangeError(
            "Stored seed only loses life: the share at the end must lie below that at the start."
        )
    if bool(np.any(~(as_array(days) > 0))):
        raise RangeError("The time in store must be more than 0 days.")
    return like_given(as_array(as_array(days) / lost), ki, percent, days)


def moisture_for(
    constants: ViabilityConstants, ki: "Amounts", percent: "Amounts", days: "Amounts", storage_c: "Amounts"
) -> "Amounts":
    """Reckon the moisture at which a lot falls to a share in exactly a time, at a temperature.

    Parameters
    ----------
    constants : ViabilityConstants
    ki, percent, days : float or array
        As in `sigma_needed`.
    storage_c : float or array
        °C; below -20 counts as -20.

    Returns
    -------
    float or array
        Percent of fresh weight. Check it with `storage_conditions`: outside its range it is no promise.

    Source
    ------
    R. H. Ellis and E. H. Roberts (1980), Ann. Bot. 45, 13-30, solved for m.

    Examples
    --------
    >>> rice = ViabilityConstants(8.242, 4.345, 0.0307, 0.000501)
    >>> round(moisture_for(rice, deviate_from_percent(98), 95, 3650, 5), 4)
    8.9009
    """
    import numpy as np

    warmth = np.maximum(as_array(storage_c), rule("longevity_c_lowest").value)
    wanted = np.log10(as_array(sigma_needed(ki, percent, days)))
    power = (constants.ke - constants.ch * warmth - constants.cq * warmth * warmth - wanted) / constants.cw
    return like_given(as_array(10.0**power), ki, percent, days, storage_c)


def storage_c_for(
    constants: ViabilityConstants,
    ki: "Amounts",
    percent: "Amounts",
    days: "Amounts",
    moisture_percent_wb: "Amounts",
) -> "Amounts":
    """Reckon the temperature at which a lot falls to a share in exactly a time, at a moisture.

    Parameters
    ----------
    constants : ViabilityConstants
    ki, percent, days : float or array
        As in `sigma_needed`.
    moisture_percent_wb : float or array
        Percent of fresh weight.

    Returns
    -------
    float or array
        °C, the warmer of the two roots. Below -20 °C it is no promise; not a number where no cold is
        enough.

    Source
    ------
    R. H. Ellis and E. H. Roberts (1980), Ann. Bot. 45, 13-30, solved for t.

    Examples
    --------
    >>> rice = ViabilityConstants(8.242, 4.345, 0.0307, 0.000501)
    >>> round(storage_c_for(rice, deviate_from_percent(98), 95, 3650, 8), 3)
    10.252
    """
    import numpy as np

    wanted = np.log10(as_array(sigma_needed(ki, percent, days)))
    dry: Array = constants.cw * np.log10(as_array(moisture_percent_wb)) - constants.ke + wanted
    if constants.cq == 0:
        found = -dry / constants.ch
    else:
        under = constants.ch**2 - 4 * constants.cq * dry
        root = np.sqrt(np.where(under < 0, np.nan, under))
        found = (root - constants.ch) / (2 * constants.cq)
    return like_given(as_array(found), ki, percent, days, moisture_percent_wb)


def ke_from_one_temperature(
    intercept: float, storage_c: float, ch: float | None = None, cq: float | None = None
) -> float:
    """Reckon KE from a study at one temperature, where log sigma = K - CW log m was found.

    Parameters
    ----------
    intercept : float
        K of that study.
    storage_c : float
        Its temperature, -20 to 90 °C.
    ch, cq : float or None
        Temperature terms; the universal pair unless given.

    Returns
    -------
    float

    Raises
    ------
    RangeError
        The temperature is out of range.

    Source
    ------
    KE = K + CH t + CQ t t; terms: J. B. Dickie et al. (1990), Ann. Bot. 65, 197-204.

    Examples
    --------
    >>> round(ke_from_one_temperature(36, 10), 4)
    36.3768
    """
    low, high = rule("longevity_c_lowest").value, rule("longevity_c_highest").value
    check_between(storage_c, low, high, "A storage temperature", "°C")
    linear = rule("universal_ch").value if ch is None else ch
    square = rule("universal_cq").value if cq is None else cq
    return intercept + linear * storage_c + square * storage_c**2
