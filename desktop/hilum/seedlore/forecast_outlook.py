"""What the belief about lots says of a day: the living share and its band, chances, and how much loss is left."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

from hilum.seedlore.deviates import deviate_from_share, share_from_deviate
from hilum.seedlore.forecast_counts import log_rising
from hilum.seedlore.forecast_mixture import (
    LineChance,
    MixtureChance,
    look_up,
    mixture_reach,
    search_chance,
    table_place,
)
from hilum.seedlore.forecast_posterior import Posterior
from hilum.seedlore.gamma import log_gamma
from hilum.seedlore.tables import rule

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from hilum.seedlore.arrays import Array

    Figures = NDArray[np.floating]
    Lots = slice | NDArray[np.intp]

_LOWEST_START = -6.0
_EDGE = 6.5  # deviates; what lies beyond is dead or perfect
_NO_LOSS, _LEAST_LEFT = 1e-3, 0.05
_START_STEP, _HIGHEST_START = 1.0 / 256.0, 12.0
_COUNT_NODES = 15  # more change the chance of a count by less than a hundredth of it
_SHARE_STEP, _SHARE_MOST = 1.0 / 128.0, 10.0


@cache
def _loss_by_start() -> "NDArray[np.float32]":
    """Give the loss that leads to 85 % of what was alive, over starts from minus six deviates in even steps."""
    import numpy as np

    starts = np.arange(_LOWEST_START, _HIGHEST_START + _START_STEP / 2, _START_STEP)
    share = rule("regrow_share_of_first_result").value
    left = np.asarray(deviate_from_share(share * np.asarray(share_from_deviate(starts.astype(np.float64)))))
    found: NDArray[np.float32] = (starts - left).astype(np.float32)
    return found


@cache
def _start_by_loss() -> "NDArray[np.float32]":
    """Give the start from which a loss leads to 85 % of what was alive, over losses from nought in even steps."""
    import numpy as np

    losses = _loss_by_start().astype(np.float64)
    starts = _LOWEST_START + _START_STEP * np.arange(len(losses))
    asked = _SHARE_STEP * np.arange(round(_SHARE_MOST / _SHARE_STEP) + 1)
    found: NDArray[np.float32] = np.interp(asked, losses, starts).astype(np.float32)
    return found


@dataclass(frozen=True, slots=True)
class Outlook:
    """The deviates of lots on one day, as a mixture of normal curves that runs on between nodes; see `Posterior`."""

    weight: "Figures"
    cells: "Figures"
    mean: "Figures"
    sd: "Figures"

    def chance_below(self, deviate: "Array") -> "Array":
        """Give the chance that each lot lies below a deviate."""
        import numpy as np

        place = table_place((deviate.astype(np.float32) - self.mean) / self.sd)
        return MixtureChance(self.cells).at(place)

    def quantile(self, chance: "float | Array") -> "Array":
        """Give the deviate below which each lot lies with a chance; beyond 0.05 and 0.95 only roughly."""
        return self.quantiles((chance,))[0]

    def quantiles(self, chances: "Sequence[float | Array]") -> "list[Array]":
        """Give the deviates of several chances, as `quantile`; what they share is reckoned once."""
        import numpy as np

        mean, sd = np.clip(self.mean, -_EDGE, _EDGE), np.minimum(self.sd, _EDGE)
        low, high = mixture_reach(self.weight, mean, sd)
        base = table_place(-self.mean / self.sd)
        slope = table_place(np.float32(1.0) / self.sd) - table_place(np.zeros_like(self.sd))

        def chance_of(lots: "Lots") -> "Callable[[Array], Array]":
            return LineChance(self.cells[:, lots], base[:, lots], slope[:, lots]).at

        first = chance_of(slice(None))(0.5 * (low.astype(np.float64) + high))
        return [search_chance(chance_of, low, high, chance, first) for chance in chances]


def outlook(
    belief: Posterior,
    loss_heard: "Array",
    loss_since: "Array",
    stray_sd: "Array",
) -> Outlook:
    """Carry the belief forward to a day.

    Parameters
    ----------
    belief : Posterior
    loss_heard : ndarray of float, shape (lots,)
        Loss until the last test, at the pace the crop is believed to age.
    loss_since : ndarray of float, shape (lots,)
        Loss from then to the day.
    stray_sd : ndarray of float, shape (lots,)
        How far the pace since then may stray from the pace until then, in powers of ten.

    Returns
    -------
    Outlook

    Source
    ------
    v = Ki - p / sigma; Ellis & Roberts 1980, Ann. Bot. 45, 13-30.

    Examples
    --------
    >>> import numpy as np
    >>> one = np.ones((2, 1))
    >>> found = outlook(Posterior(0 * one, 0.5 * one, one[:1], 1.6 * one, 0.5 * one), one[0], 0 * one[0], 0 * one[0])
    >>> round(float(found.mean[0, 0]), 2)
    0.6
    """
    import numpy as np

    life = 10.0**-belief.pace
    since = loss_since * life
    mean = belief.start_mean - loss_heard * life - since
    sd = np.sqrt(belief.start_sd**2 + (math.log(10.0) * stray_sd * since) ** 2)
    return Outlook(belief.weight, belief.cells, mean.astype(np.float32), sd.astype(np.float32))


def log_chance_of_counts(day: Outlook, alive: "Array", sown: "Array", clumping: "Array") -> "Array":
    """Give the logarithm of the chance that a test on a day shows so many living seeds.

    Parameters
    ----------
    day : Outlook
    alive, sown : ndarray of float, shape (lots,)
    clumping : ndarray of float, shape (lots,)
        Correlation of seeds within the test, as `log_rising` takes it.

    Returns
    -------
    ndarray of float, shape (lots,)
        Natural logarithm; at most 0.

    Source
    ------
    J. G. Skellam (1948), J. R. Stat. Soc. B 10, 257-261 (the beta-binomial distribution).

    Examples
    --------
    >>> import numpy as np
    >>> one = np.ones((2, 1))
    >>> sure = Outlook(0.5 * one, one[:1], 0 * one, 1e-3 * one)
    >>> found = log_chance_of_counts(sure, one[0], 2 * one[0], 0 * one[0])
    >>> round(float(np.exp(found[0])), 3)
    0.5
    """
    import numpy as np

    nodes, weights = np.polynomial.hermite_e.hermegauss(_COUNT_NODES)
    weights /= weights.sum()
    ways = log_gamma(sown + 1.0) - log_gamma(alive + 1.0) - log_gamma(sown - alive + 1.0)
    # The rising factors of the whole test, by which those of its classes are divided.
    strength = (1.0 - clumping) / np.maximum(clumping, 1e-9)
    whole = log_gamma(strength + sown) - log_gamma(strength) - sown * np.log(strength)
    ways -= np.where(clumping > 1e-9, whole, 0.0)
    chance = np.zeros_like(ways)
    for node, weight in zip(nodes, weights, strict=True):
        deviate = day.mean.astype(np.float64) + day.sd * node
        log = log_rising(np.asarray(share_from_deviate(deviate)), alive, clumping)
        log += log_rising(np.asarray(share_from_deviate(-deviate)), sown - alive, clumping)
        chance += weight * (day.weight * np.exp(log + ways)).sum(axis=0)
    found: Array = np.log(np.maximum(chance, 1e-300))
    return found


def loss_to_deviate(belief: Posterior, deviate: "Array", chance: float) -> "Array":
    """Give the loss (at the crop's pace) at which each lot has fallen below a deviate with a chance.

    Parameters
    ----------
    belief : Posterior
    deviate : ndarray of float, shape (lots,)
    chance : float
        0.05 to 0.95.

    Returns
    -------
    ndarray of float, shape (lots,)
        0.001 or less where it is there from the start; at most 1000.

    Source
    ------
    As `outlook`.

    Examples
    --------
    >>> import numpy as np
    >>> one = np.ones((2, 1))
    >>> found = loss_to_deviate(Posterior(0 * one, 0.5 * one, one[:1], 1.6 * one, 0.5 * one), 0 * one[0], 0.5)
    >>> round(float(found[0]), 2)
    1.6
    """
    import numpy as np

    base = table_place(((deviate - belief.start_mean) / belief.start_sd).astype(np.float32))
    slope = table_place(10.0**-belief.pace / belief.start_sd) - table_place(np.zeros_like(belief.pace))
    slope = slope.astype(np.float32)

    def chance_of(lots: "Lots") -> "Callable[[Array], Array]":
        line = LineChance(belief.cells[:, lots], base[:, lots], slope[:, lots])
        return lambda log_loss: line.at(10.0**log_loss)

    return _loss(chance_of, belief, belief.start_mean - deviate, chance)


def loss_to_share_of_start(belief: Posterior, chance: float) -> "Array":
    """Give the loss at which each lot has fallen to 85 % of what it started with, with a chance.

    Parameters
    ----------
    belief : Posterior
    chance : float
        0.05 to 0.95; 0.05 gives the lower credible limit.

    Returns
    -------
    ndarray of float, shape (lots,)

    Source
    ------
    FAO 2014, Genebank Standards, 4.3.3 (from memory); share: Kameswara Rao et al. 2006, Table 8.2.

    Examples
    --------
    >>> import numpy as np
    >>> one = np.ones((2, 1))
    >>> found = loss_to_share_of_start(Posterior(0 * one, 0.5 * one, one[:1], 2.0 * one, 0.01 * one), 0.5)
    >>> round(float(found[0]), 2)
    1.04
    """
    import numpy as np

    life = 10.0**-belief.pace

    def chance_of(lots: "Lots") -> "Callable[[Array], Array]":
        mixture, ours = MixtureChance(belief.cells[:, lots]), life[:, lots]
        mean, sd = belief.start_mean[:, lots], belief.start_sd[:, lots]

        def chance_at(log_loss: "Array") -> "Array":
            place = ours * (10.0**log_loss * (1.0 / _SHARE_STEP)).astype(np.float32)
            return mixture.at(table_place((look_up(_start_by_loss(), place) - mean) / sd))

        return chance_at

    starts = (belief.start_mean - _LOWEST_START) * np.float32(1.0 / _START_STEP)
    return _loss(chance_of, belief, look_up(_loss_by_start(), starts), chance)


def _loss(
    chance_of: "Callable[[Lots], Callable[[Array], Array]]",
    belief: Posterior,
    left: "Figures",
    chance: float,
) -> "Array":
    """Search the loss at which a chance is reached; `left` is what each node may lose until then, roughly."""
    import numpy as np

    kept = np.maximum(left, _LEAST_LEFT)
    sd = np.minimum(belief.start_sd / kept / math.log(10.0), 0.5)
    low, high = mixture_reach(belief.weight, belief.pace + np.log10(kept), sd)
    found: Array = 10.0 ** search_chance(chance_of, low, high, chance)
    is_there = chance_of(slice(None))(np.full(len(found), math.log10(_NO_LOSS))) >= chance
    return np.where(is_there, _NO_LOSS, found)
