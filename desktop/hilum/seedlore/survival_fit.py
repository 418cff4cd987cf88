"""A survival curve fitted to several tests of one lot: its start, its sigma, and how sure they are."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import NormalDist
from typing import TYPE_CHECKING

from hilum.seedlore.counts import CountError
from hilum.seedlore.deviates import deviate_from_share, share_from_deviate
from hilum.seedlore.tables import rule

if TYPE_CHECKING:
    from hilum.seedlore.arrays import Array

_MOST_TURNS = 200
_CLOSE_ENOUGH = 1e-12
_TOO_FLAT = 1e14
_NO_CURVE = (
    "These tests give no curve: all seed died from one to the next, or they hardly differ, or are too small."
)


@dataclass(frozen=True, slots=True)
class SurvivalFit:
    """A fitted curve, in the unit of time of the tests.

    `sigma` is None where the tests show no decline: that is no proof of endless life. The half-life
    and its limits are None where they cannot be bounded yet.
    """

    ki: float
    slope: float
    ki_se: float
    slope_se: float
    covariance: float
    deviance: float
    degrees_of_freedom: int
    control_share: float

    @property
    def sigma(self) -> float | None:
        """The time in which the lot loses one deviate."""
        return -1 / self.slope if self.slope < 0 else None

    @property
    def half_life(self) -> float | None:
        """The time until half of what can germinate is alive."""
        return -self.ki / self.slope if self.slope < 0 else None

    @property
    def half_life_se(self) -> float | None:
        """The standard error of the half-life, by the delta method."""
        if self.slope >= 0:
            return None
        a, b = self.ki, self.slope
        variance = self.ki_se**2 / b**2 + a * a * self.slope_se**2 / b**4 - 2 * a * self.covariance / b**3
        return math.sqrt(variance)

    def half_life_limits(self, confidence: float = 0.95) -> tuple[float, float] | None:
        """Give the fiducial limits of the half-life (Fieller), or None where it cannot be bounded yet."""
        z = NormalDist().inv_cdf((1 + confidence) / 2)
        square = self.slope**2 - z * z * self.slope_se**2
        if self.slope >= 0 or square <= 0:
            return None
        middle = self.ki * self.slope - z * z * self.covariance
        root = math.sqrt(max(0.0, middle**2 - square * (self.ki**2 - z * z * self.ki_se**2)))
        return (-middle - root) / square, (-middle + root) / square


def fit_survival(
    times: Sequence[float], germinated: Sequence[int], sown: Sequence[int], control_share: float = 1.0
) -> SurvivalFit:
    """Fit a survival curve to several tests by maximum likelihood.

    Parameters
    ----------
    times : sequence of float
        Time in store at each test, in one unit, at least two different.
    germinated, sown : sequence of int
        Of each test.
    control_share : float
        Share of the lot that could germinate at all, more than 0, at most 1: empty seed taken off.

    Returns
    -------
    SurvivalFit

    Raises
    ------
    CountError
        Fewer than two times, counts that cannot be, or tests that all came out at 0 or all at their most:
        those have no curve of their own.

    Notes
    -----
    Binomial counts, share = control x Phi(a + b t), solved by scoring. A straight line through
    percentages turned into deviates is biased and is not offered.

    Source
    ------
    F. R. Hay, A. Mead and M. Bloomberg (2014), Seed Sci. Res. 24, 165-186; control share: A. Mead and D. Gray (1999),
    Seed Sci. Res. 9, 63-73; limits: E. C. Fieller (1954), from memory.

    Examples
    --------
    >>> fit = fit_survival([0, 2, 4], [48, 40, 22], [50, 50, 50])
    >>> round(fit.ki, 2), round(fit.sigma, 2)
    (1.78, 2.08)
    """
    import numpy as np

    _check(times, germinated, sown, control_share)
    t, n = np.asarray(times, dtype=np.float64), np.asarray(sown, dtype=np.float64)
    share = np.asarray(germinated, dtype=np.float64) / n
    quarter = rule("end_correction_seeds").value / n
    start = np.clip(share / control_share, quarter, 1 - quarter)
    eta = np.asarray(deviate_from_share(start))
    design = np.stack([np.ones_like(t), t], axis=1)
    found: Array = np.zeros(2)
    for turn in range(_MOST_TURNS):
        chance, rise = _chance(eta, control_share)
        weight = n * rise * rise / (chance * (1 - chance))
        wanted = eta + (share - chance) / rise
        information = design.T @ (weight[:, None] * design)
        if np.linalg.cond(information) > _TOO_FLAT:
            raise CountError(_NO_CURVE)
        step = np.asarray(np.linalg.solve(information, design.T @ (weight * wanted)), dtype=np.float64)
        # Half a step where a whole one would throw the curve out of the figures.
        after: Array = step if turn == 0 or np.all(np.abs(design @ step) < 30) else (found + step) / 2
        moved, found = float(np.max(np.abs(after - found))), after
        eta = design @ found
        if turn > 1 and moved <= _CLOSE_ENOUGH * max(1.0, float(np.max(np.abs(found)))):
            break
    else:
        raise CountError(_NO_CURVE)
    spread = np.linalg.inv(information)
    return SurvivalFit(
        float(found[0]), float(found[1]), math.sqrt(spread[0, 0]), math.sqrt(spread[1, 1]), float(spread[0, 1]),
        _deviance(share, n, _chance(eta, control_share)[0]), len(t) - 2, control_share,
    )  # fmt: skip


def _chance(eta: "Array", control_share: float) -> tuple["Array", "Array"]:
    """Give the chance to germinate and how it rises with the deviate, kept off the very ends."""
    import numpy as np

    alive = np.asarray(share_from_deviate(np.clip(eta, -8.0, 8.0)))
    chance = np.clip(control_share * alive, 1e-15, 1 - 1e-15)
    rise = np.maximum(
        control_share * np.exp(-0.5 * np.clip(eta, -8.0, 8.0) ** 2) / math.sqrt(2 * math.pi), 1e-12
    )
    return chance, rise


def _deviance(share: "Array", sown: "Array", chance: "Array") -> float:
    """Give twice the distance in log likelihood from the curve to the counts themselves."""
    import numpy as np

    with np.errstate(divide="ignore", invalid="ignore"):
        alive = np.where(share > 0, share * np.log(share / chance), 0.0)
        dead = np.where(share < 1, (1 - share) * np.log((1 - share) / (1 - chance)), 0.0)
    return float(2 * np.sum(sown * (alive + dead)))


def _check(
    times: Sequence[float], germinated: Sequence[int], sown: Sequence[int], control_share: float
) -> None:
    if len(set(times)) < 2 or not len(times) == len(germinated) == len(sown):
        raise CountError(
            "Give tests at two different times at least, each with its germinated and sown seeds."
        )
    for one, of in zip(germinated, sown, strict=True):
        if of < 1 or not 0 <= one <= of:
            raise CountError(f"{one} of {of} seeds cannot have germinated. Correct one of the two counts.")
    if not 0 < control_share <= 1:
        raise CountError(
            f"A control share of {control_share:g} is out of range. Give more than 0, at most 1."
        )
    if sum(germinated) == 0 or list(germinated) == list(sown):
        raise CountError("All tests came out at one end: they show no curve. Go by the forecast instead.")
