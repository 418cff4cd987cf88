"""The quick sum over a small grid against a slow one over a great grid, written another way."""

import math
from statistics import NormalDist

import numpy as np
import pytest

from hilum.seedlore.deviates import share_from_deviate
from hilum.seedlore.forecast_counts import count_table, log_rising
from hilum.seedlore.forecast_figures import figure
from hilum.seedlore.forecast_mixture import quick_share
from hilum.seedlore.forecast_outlook import (
    Outlook,
    loss_to_deviate,
    loss_to_share_of_start,
    outlook,
)
from hilum.seedlore.forecast_posterior import (
    Evidence,
    Fineness,
    LotPriors,
    Posterior,
    PriorShape,
    posterior,
    usual_shape,
)
from hilum.seedlore.gamma import log_gamma
from hilum.seedlore.tables import TableError, table

NORMAL = NormalDist()
CLUMPINGS = np.array([0.02, 0.1])
# Viability of the quick sum, in points: twice the greatest difference seen in these cases.
MIDDLE, END = 1.0, 3.0

CASES = {
    "no test": (1.6, 0.3, ()),
    "one test at the start": (1.2, 0.35, ((0.0, 86, 100, 0),)),
    "one late test": (1.8, 0.4, ((1.3, 150, 200, 0),)),
    "decline in four tests": (
        1.6,
        0.4,
        ((0.0, 97, 100, 0), (0.5, 92, 100, 0), (1.0, 160, 200, 1), (1.5, 60, 100, 0)),
    ),
    "no decline": (1.6, 0.5, ((0.0, 48, 50, 0), (1.5, 49, 50, 0), (3.0, 48, 50, 0))),
    "all of twenty": (1.0, 0.3, ((0.4, 20, 20, 0),)),
    "none of four hundred": (1.9, 0.45, ((2.0, 0, 400, 1),)),
    "one seed": (1.6, 0.4, ((0.5, 1, 1, 0),)),
}


class Witness:
    """A plain sum over 401 by 401 points, the beta-binomial by the mathematics of the standard library."""

    def __init__(self, start_mean: float, pace_sd: float, tests: tuple[tuple[float, int, int, int], ...]):
        shape, start_sd = usual_shape(), 0.55
        pace = np.linspace(-7 * pace_sd, 7 * pace_sd, 401)
        start = np.linspace(start_mean - 6.0, start_mean + 4.0, 401)
        poor = NormalDist(start_mean + shape.poor_shift, shape.poor_sd)
        sound = NormalDist(start_mean, start_sd)
        of_start = np.array(
            [(1 - shape.poor_share) * sound.pdf(one) + shape.poor_share * poor.pdf(one) for one in start]
        )
        freedom = shape.tail_freedom
        of_pace = (1.0 + (pace / pace_sd) ** 2 / freedom) ** (-(freedom + 1.0) / 2.0)
        weight = of_start[:, None] * of_pace
        self.start, self.life = start[:, None], 10.0 ** -pace[None, :]
        for loss, alive, sown, kind in tests:
            share = np.asarray(share_from_deviate(self.start - loss * self.life))
            weight = weight * self.chance(np.clip(share, 1e-12, 1 - 1e-12), alive, sown, CLUMPINGS[kind])
        self.weight = weight / weight.sum()

    @staticmethod
    def chance(share: np.ndarray, alive: int, sown: int, clumping: float) -> np.ndarray:
        """Multiply the factors of a beta-binomial chance one by one: the urn that grows by what is drawn."""
        strength, found = (1 - clumping) / clumping, np.ones_like(share)
        for drawn in range(alive):
            found *= (share * strength + drawn) / (strength + drawn)
        for drawn in range(sown - alive):
            found *= ((1 - share) * strength + drawn) / (strength + alive + drawn)
            found *= (alive + drawn + 1) / (drawn + 1)
        return found

    def quantile(self, loss: float, chance: float) -> float:
        """Give the viability below which the lot lies with a chance."""
        deviate = (self.start - loss * self.life).ravel()
        order = np.argsort(deviate)
        reached = np.searchsorted(np.cumsum(self.weight.ravel()[order]), chance)
        return 100.0 * NORMAL.cdf(float(deviate[order[reached]]))

    def below(self, loss: float, deviate: float) -> float:
        """Give the chance of lying below a deviate."""
        return float(self.weight[self.start - loss * self.life < deviate].sum())


def quick(
    start_mean: float, pace_sd: float, tests: tuple[tuple[float, int, int, int], ...], fineness: Fineness
) -> Posterior:
    """Do the sum under test for one lot."""
    loss, alive, sown, kind = (np.array([[test[part] for test in tests]]) for part in range(4))
    if not tests:
        alive, sown, kind = (np.zeros((1, 0), dtype=np.int64) for _ in range(3))
        loss = np.zeros((1, 0))
    one = np.ones(1)
    priors = LotPriors(start_mean * one, 0.55 * one, 0 * one, pace_sd * one, usual_shape())
    counts = count_table(np.stack([alive, sown - alive]), np.stack([kind, kind]), CLUMPINGS)
    return posterior(priors, Evidence(loss, alive, sown, kind, CLUMPINGS), counts, fineness)


@pytest.mark.parametrize("name", CASES)
@pytest.mark.parametrize("further", [0.0, 0.5, 2.0])
def test_the_quick_sum_agrees_with_the_slow_one(name: str, further: float):
    """Middle, band and chance, at the last test and beyond it."""
    start_mean, pace_sd, tests = CASES[name]
    witness = Witness(start_mean, pace_sd, tests)
    heard = max((test[0] for test in tests), default=0.0)
    day = outlook(
        quick(start_mean, pace_sd, tests, Fineness()), np.array([heard]), np.array([further]), np.zeros(1)
    )
    for chance, allowed in ((0.05, END), (0.5, MIDDLE), (0.95, END)):
        found = 100.0 * float(quick_share(day.quantile(chance))[0])
        assert found == pytest.approx(witness.quantile(heard + further, chance), abs=allowed)
    bar = 0.8416  # 80 %
    assert float(day.chance_below(np.array([bar]))[0]) == pytest.approx(
        witness.below(heard + further, bar), abs=0.02
    )


# A lot found dead has its half-life behind it: what was lost until then is told by the prior alone, roughly.
@pytest.mark.parametrize("name", [name for name in CASES if name != "none of four hundred"])
def test_the_loss_that_is_left_agrees_with_the_slow_sum(name: str):
    """The loss to half alive and to 85 % of the start is where the slow sum reaches the chance."""
    start_mean, pace_sd, tests = CASES[name]
    witness, belief = Witness(start_mean, pace_sd, tests), quick(start_mean, pace_sd, tests, Fineness())
    to_half = float(loss_to_deviate(belief, np.zeros(1), 0.5)[0])
    assert witness.below(to_half, 0.0) == pytest.approx(0.5, abs=0.02)
    to_share = float(loss_to_share_of_start(belief, 0.05)[0])
    share = np.asarray(share_from_deviate(witness.start))
    left = np.asarray(share_from_deviate(witness.start - to_share * witness.life))
    assert float(witness.weight[left < 0.85 * share].sum()) == pytest.approx(0.05, abs=0.02)


def test_without_tests_the_belief_is_the_prior():
    """Nothing heard, nothing learnt: mean and spread of the start are those that were put in."""
    shape = PriorShape(0.0, 0.0, 1.0, math.inf)
    one, none = np.ones(1), np.zeros((1, 0), dtype=np.int64)
    priors = LotPriors(1.6 * one, 0.5 * one, 0.1 * one, 0.3 * one, shape)
    untested = Evidence(none.astype(float), none, none, none, CLUMPINGS)
    found = posterior(priors, untested, None, Fineness(61, 40.0, 41, 6.0, exact=True))
    assert float((found.weight * found.start_mean).sum()) == pytest.approx(1.6, abs=1e-9)
    assert float((found.weight * found.pace).sum()) == pytest.approx(0.1, abs=1e-9)
    assert float(found.start_sd[30, 0]) == pytest.approx(0.5, abs=1e-6)


def test_a_test_at_the_start_is_weighed_like_a_normal_measurement():
    """Limit: very many seeds without clumping leave nothing of the prior's start."""
    shape = PriorShape(0.0, 0.0, 1.0, math.inf)
    one = np.ones(1)
    priors = LotPriors(1.6 * one, 0.5 * one, 0 * one, 0.3 * one, shape)
    evidence = Evidence(
        np.zeros((1, 1)), np.array([[70_000]]), np.array([[100_000]]), np.zeros((1, 1), int), np.zeros(1)
    )
    found = posterior(priors, evidence, None, Fineness(31, 5.0, 31, exact=True))
    assert float((found.weight * found.start_mean).sum()) == pytest.approx(NORMAL.inv_cdf(0.7), abs=1e-3)


def test_the_quick_normal_curve_keeps_its_promise():
    """Right to 3e-7 against the complementary error function of the standard library."""
    deviates = np.linspace(-6.0, 6.0, 20_001)
    exact = np.array([0.5 * math.erfc(-one / math.sqrt(2.0)) for one in deviates])
    assert float(np.abs(quick_share(deviates) - exact).max()) < 3e-7


def test_log_gamma_agrees_with_the_standard_library():
    """From a hundredth to ten thousand."""
    amounts = np.geomspace(0.01, 10_000, 5_001)
    exact = np.array([math.lgamma(one) for one in amounts])
    assert np.abs(log_gamma(amounts) - exact).max() < 1e-9


@pytest.mark.parametrize("clumping", [0.0, 0.02, 0.3])
def test_the_chances_of_all_counts_add_to_one(clumping: float):
    """A beta-binomial chance over 0 to 40 seeds."""
    alive = np.arange(41.0)
    strength = (1 - clumping) / max(clumping, 1e-9)
    log = log_rising(np.full(41, 0.8), alive, np.full(41, clumping))
    log += log_rising(np.full(41, 0.2), 40 - alive, np.full(41, clumping))
    log += [math.log(math.comb(40, int(one))) for one in alive]
    if clumping:
        log -= sum(math.log((strength + drawn) / strength) for drawn in range(40))
    assert float(np.exp(log).sum()) == pytest.approx(1.0, abs=1e-9)


def test_a_band_of_two_lumps_is_found():
    """Dead or alive with even odds: the middle lies between, the ends within either lump."""
    weight = np.array([[0.25], [0.25], [0.25], [0.25]])
    cells = np.array([[0.5], [0.0], [0.5]])
    day = Outlook(weight, cells, np.array([[-3.0], [-3.0], [2.0], [2.0]]), np.full((4, 1), 0.2))
    assert -3.6 < float(day.quantile(0.05)[0]) < -2.5
    assert -2.9 < float(day.quantile(0.5)[0]) < 1.9
    assert 1.5 < float(day.quantile(0.95)[0]) < 2.6


def test_the_usual_grid_gives_the_mean_of_a_full_sum():
    """Three tests over four years: mean and spread of viability in eight years, as a full sum gives them.

    The full sum (55.34365832 and 14.98763511 percent) was done with forty digits; the quick one takes the
    start at each pace for a normal curve, which is worth a fiftieth of a point.
    """
    none = PriorShape(0.0, 0.0, 1.0, math.inf)
    priors = LotPriors(np.array([2.0]), np.array([0.5]), np.array([3.3]), np.array([0.25]), none)
    evidence = Evidence(
        np.array([[0.0, 730.0, 1461.0]]),
        np.array([[48, 45, 41]]),
        np.array([[50, 50, 50]]),
        np.zeros((1, 3), dtype=int),
        np.zeros(1),
    )
    belief = posterior(priors, evidence, None, Fineness(101, 40.0, 61, 6.0, exact=True))
    day = outlook(belief, np.array([2922.0]), np.zeros(1), np.zeros(1))
    nodes, weights = np.polynomial.hermite_e.hermegauss(30)
    share = np.asarray(share_from_deviate((day.mean + day.sd * nodes).astype(float)))
    weight = day.weight * weights / weights.sum()
    mean = float((weight * share).sum())
    assert 100 * mean == pytest.approx(55.34365832, abs=0.02)
    assert 100 * math.sqrt(float((weight * share**2).sum()) - mean**2) == pytest.approx(14.98763511, abs=0.02)


def test_every_figure_of_the_forecast_says_where_it_is_from():
    """No figure without a source; one that is asked for and is not there is a damaged table."""
    assert all(line.text("source") for line in table("forecast_figures"))
    with pytest.raises(TableError, match="there is no figure 'luck'"):
        figure("luck")
