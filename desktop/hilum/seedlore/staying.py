"""Storage in several conditions one after the other, and in warmth that rises and falls."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from hilum.seedlore.arrays import RangeError, as_array, check_between, like_given
from hilum.seedlore.conditions import Conditions, storage_conditions
from hilum.seedlore.constants import ViabilityConstants
from hilum.seedlore.longevity import sigma_days

if TYPE_CHECKING:
    from hilum.seedlore.arrays import Amounts

_SHARES_MUST_ADD_TO_ONE = 1e-9


@dataclass(frozen=True, slots=True)
class StayInStore:
    """A time spent in one condition."""

    days: "Amounts"
    conditions: Conditions


def deviates_lost(constants: ViabilityConstants, stays: Sequence[StayInStore]) -> "Amounts":
    """Reckon the deviates a lot has lost in several stays: the sum of days over sigma, in any order.

    Parameters
    ----------
    constants : ViabilityConstants
    stays : sequence of StayInStore
        Days 0 or more; none at all loses nothing.

    Returns
    -------
    float or array
        To be taken from Ki: `percent_from_deviate(ki - lost)` is what is alive.

    Raises
    ------
    RangeError
        A time below 0.

    Source
    ------
    Follows from v = Ki - p / sigma, R. H. Ellis and E. H. Roberts (1980), Ann. Bot. 45, 13-30, if seed keeps no
    memory of the order.

    Examples
    --------
    >>> lettuce = ViabilityConstants(6.895, 4.2, 0.0329, 0.000478)
    >>> cool, warm = storage_conditions(6.0, 5.0), storage_conditions(8.0, 20.0)
    >>> round(deviates_lost(lettuce, [StayInStore(730, cool), StayInStore(180, warm)]), 3)
    1.264
    """
    lost = as_array(0.0)
    given: list[Amounts] = []
    for stay in stays:
        check_between(stay.days, 0.0, 1e9, "A stay", "days")
        lost = as_array(lost + as_array(stay.days) / as_array(sigma_days(constants, stay.conditions)))
        given += [stay.days, stay.conditions.moisture_percent_wb, stay.conditions.storage_c]
    return like_given(lost, *given)


def mean_sigma_days(
    constants: ViabilityConstants, conditions: Sequence[Conditions], shares: Sequence[float]
) -> "Amounts":
    """Reckon the sigma of a store whose conditions change: what is averaged is 1 / sigma, never the warmth.

    Parameters
    ----------
    constants : ViabilityConstants
    conditions : sequence of Conditions
    shares : sequence of float
        Share of the time in each; they add to 1.

    Returns
    -------
    float or array
        Days.

    Raises
    ------
    RangeError
        The shares do not add to 1, or there is not one for each condition.

    Source
    ------
    As `deviates_lost`.

    Examples
    --------
    >>> lettuce = ViabilityConstants(6.895, 4.2, 0.0329, 0.000478)
    >>> both = [storage_conditions(7.0, 10.0), storage_conditions(7.0, 30.0)]
    >>> round(mean_sigma_days(lettuce, both, [0.5, 0.5]), 2)
    155.43
    """
    if len(shares) != len(conditions) or min(shares, default=-1) < 0:
        raise RangeError("Give one share of the time, 0 or more, for each of the conditions.")
    if abs(sum(shares) - 1) > _SHARES_MUST_ADD_TO_ONE:
        raise RangeError(f"The shares of the time add to {sum(shares):g}. They must add to 1.")
    stays = [StayInStore(share, one) for share, one in zip(shares, conditions, strict=True)]
    return 1.0 / deviates_lost(constants, stays)


def swinging_sigma_days(
    constants: ViabilityConstants,
    moisture_percent_wb: float,
    mean_c: float,
    swing_c: float,
    *,
    lower_limit_percent_wb: float | None = None,
) -> float:
    """Reckon the sigma of a store whose warmth swings evenly round a mean, as a shelf's does over the year.

    Parameters
    ----------
    constants : ViabilityConstants
    moisture_percent_wb : float
        Percent of fresh weight, as in `storage_conditions`.
    mean_c, swing_c : float
        The mean and half the difference between warmest and coldest; both ends within -20 to 90 °C.
    lower_limit_percent_wb : float or None
        As in `storage_conditions`.

    Returns
    -------
    float
        Days.

    Raises
    ------
    RangeError
        The swing is below 0, or conditions out of range.

    Notes
    -----
    The mean of 1 / sigma over a whole sine wave, by points spread evenly over it, which for a smooth
    wave is exact to the last figures.

    Source
    ------
    As `deviates_lost`.

    Examples
    --------
    >>> lettuce = ViabilityConstants(6.895, 4.2, 0.0329, 0.000478)
    >>> round(swinging_sigma_days(lettuce, 7.0, 15.0, 10.0), 2)
    395.65
    """
    import numpy as np

    if swing_c < 0:
        raise RangeError(f"A swing of {swing_c:g} °C is out of range. Give 0 or more.")
    points = 256
    warmth = mean_c + swing_c * np.sin(2 * np.pi * np.arange(points) / points)
    moisture = np.full(points, moisture_percent_wb)
    at = storage_conditions(moisture, warmth, lower_limit_percent_wb=lower_limit_percent_wb)
    return float(1.0 / np.mean(1.0 / as_array(sigma_days(constants, at))))
