"""Two plain rivals of the forecast, both given the same scatter of counts: a figure for a test held back."""

from typing import TYPE_CHECKING

import numpy as np

from hilum.seedlore.constants import constants_of
from hilum.seedlore.crop_records import Crop
from hilum.seedlore.deviates import deviate_from_percent, share_from_deviate
from hilum.seedlore.forecast_counts import log_rising
from hilum.seedlore.forecast_figures import figure
from hilum.seedlore.gamma import log_gamma
from hilum.seedlore.longevity import log_sigma

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

# A plain forecast of 0 or 100 % would be punished without end for one seed; it is spared that.
_SURE = 0.005
_NODES = 400


def log_chance(share: "Array", alive: "Array", sown: "Array") -> "Array":
    """Give the logarithm of the chance of a count at a share alive, scattered as the forecast believes."""
    clumping = np.full_like(share, figure("clumping"))
    strength = (1.0 - clumping) / clumping
    ways = log_gamma(sown + 1.0) - log_gamma(alive + 1.0) - log_gamma(sown - alive + 1.0)
    whole = log_gamma(strength + sown) - log_gamma(strength) - sown * np.log(strength)
    rising = log_rising(share, alive, clumping) + log_rising(1.0 - share, sown - alive, clumping)
    return ways - whole + rising


def carried_forward(before: "Array", sown_before: "Array", alive: "Array", sown: "Array") -> "Array":
    """Score "as it was at the test before": a beta curve about that test, half a seed added on each side."""
    swell = 1.0 + (sown_before - 1.0) * figure("clumping")
    first, second = 0.5 + before / swell, 0.5 + (sown_before - before) / swell
    share = (np.arange(_NODES) + 0.5)[:, None] / _NODES
    log = (first - 1.0) * np.log(share) + (second - 1.0) * np.log(1.0 - share)
    weight = np.exp(log - log.max(axis=0))
    weight /= weight.sum(axis=0)
    here = np.broadcast_to(share, weight.shape)
    chance = np.exp(log_chance(here, np.broadcast_to(alive, here.shape), np.broadcast_to(sown, here.shape)))
    return np.asarray(np.log((weight * chance).sum(axis=0)))


def bare_sigma_days(crop: Crop, moisture_percent_wb: "Array", storage_c: "Array") -> "Array":
    """Give sigma by the published constants alone: the mean of the logarithms of the species' sound sets."""
    sets = constants_of(crop.constants_species or "")
    logs = np.array(
        [log_sigma(one.ke, one.cw, one.ch, one.cq, moisture_percent_wb, storage_c) for one in sets]
    )
    return np.asarray(10.0 ** logs.mean(axis=0))


def bare_equation(
    before: "Array", sown_before: "Array", days: "Array", sigma: "Array", alive: "Array", sown: "Array"
) -> "Array":
    """Score the equation alone, started from the test before."""
    start = np.asarray(deviate_from_percent(100.0 * before / sown_before, sown_before))
    share = np.asarray(share_from_deviate(start - days / sigma))
    return log_chance(np.clip(share, _SURE, 1.0 - _SURE), alive, sown)
