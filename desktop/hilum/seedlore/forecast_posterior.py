"""What is believed of each lot's start and pace of ageing once its tests have been heard.

Two figures are unknown for a lot: Ki, the deviate at which it started, and by how much its sigma differs
from what its crop and store promise (here "pace", in powers of ten; above 0 it lives longer). Their joint
belief is summed over a small grid that is placed for every lot where its belief lies: first each test is
taken for one measured deviate, which gives the place in closed form, then the counts themselves are asked.
"""

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from hilum.seedlore.deviates import deviate_from_share, share_from_deviate
from hilum.seedlore.forecast_counts import CountTable, log_rising
from hilum.seedlore.forecast_figures import figure

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from hilum.seedlore.arrays import Array

    Whole = NDArray[np.int64]
    Figures = NDArray[np.floating]
    Nodes = tuple[Figures, ...]

_PLACING_NODES, _PLACING_REACH = 21, 4.5


@dataclass(frozen=True, slots=True)
class PriorShape:
    """What holds for lots of every crop: failed lots among the sound, and how far a pace may stray."""

    poor_share: float
    poor_shift: float
    poor_sd: float
    tail_freedom: float


def usual_shape() -> PriorShape:
    """Give the shape the forecast uses.

    Returns
    -------
    PriorShape

    Source
    ------
    Our own choice, forecast_figures.csv.

    Examples
    --------
    >>> usual_shape().poor_share
    0.1
    """
    return PriorShape(
        figure("poor_share"), figure("poor_shift"), figure("poor_sd"), figure("rate_tail_freedom")
    )


@dataclass(frozen=True, slots=True)
class LotPriors:
    """The belief before any test, shape (lots,): start in deviates, pace in powers of ten of sigma."""

    start_mean: "Array"
    start_sd: "Array"
    pace_mean: "Array"
    pace_sd: "Array"
    shape: PriorShape


@dataclass(frozen=True, slots=True)
class Evidence:
    """What tests say, shape (lots, tests): the loss until each, living seeds, seeds sown (0: no test).

    `clumping_class` points into `clumpings`: how much more counts scatter than chance allows.
    """

    loss: "Array"
    alive: "Whole"
    sown: "Whole"
    clumping_class: "Whole"
    clumpings: "Array"


@dataclass(frozen=True, slots=True)
class Fineness:
    """How many nodes the grid has and how far it reaches, and whether counts are reckoned exactly or looked up.

    Paces reach to where the belief is e**pace_drop times smaller than where it is greatest, starts over
    `start_reach` standard deviations stretched by `stretch`.
    """

    pace_nodes: int = 15
    pace_drop: float = 5.0
    start_nodes: int = 8
    start_reach: float = 3.3
    stretch: float = 1.1
    exact: bool = False


USUAL_FINENESS = Fineness()


@dataclass(frozen=True, slots=True)
class Posterior:
    """The belief after the tests, shape (nodes, lots): for each pace its weight and the start that goes with it.

    First come the nodes for a sound lot, then those for a poor one. The belief runs on from node to node;
    `cells`, shape (nodes - 1, lots), is what lies between each two.
    """

    pace: "Figures"
    weight: "Figures"
    cells: "Figures"
    start_mean: "Figures"
    start_sd: "Figures"


def posterior(
    priors: LotPriors, evidence: Evidence, table: CountTable | None, fineness: Fineness = USUAL_FINENESS
) -> Posterior:
    """Join what is believed of lots with what their tests show.

    Parameters
    ----------
    priors : LotPriors
    evidence : Evidence
    table : CountTable or None
        Of all the counts in `evidence`; not needed when `fineness` is exact.
    fineness : Fineness

    Returns
    -------
    Posterior
        In the usual fineness the mean of viability is right to about 0.1 percent points.

    Source
    ------
    x ~ BetaBinomial(n, Phi(Ki - loss / 10**pace)): the model recommended by, among others, Hay, Mead & Bloomberg
    2014, Seed Sci. Res. 24, 165-186 (probit link); summing over a grid: common practice.

    Examples
    --------
    >>> import numpy as np
    >>> one = np.ones(1)
    >>> untested = Evidence(*(np.zeros((1, 0)),) * 4, clumpings=np.zeros(1))
    >>> believed = LotPriors(1.6 * one, 0.5 * one, 0 * one, 0.3 * one, PriorShape(0, 0, 1, math.inf))
    >>> found = posterior(believed, untested, None)
    >>> round(float((found.weight * found.start_mean).sum()), 3)
    1.6
    """
    import numpy as np

    def as_wanted(figures: "Figures") -> "Figures":
        return figures if fineness.exact else figures.astype(np.float32)

    pace, centre, width = (as_wanted(one) for one in _placed(priors, evidence, fineness))
    reach = np.linspace(-fineness.start_reach, fineness.start_reach, fineness.start_nodes)
    z = as_wanted(reach[:, None])
    start = centre[:, None, :] + width * z
    log = np.zeros_like(start)
    log += as_wanted(_log_pace((pace - priors.pace_mean) / priors.pace_sd, priors.shape))[:, None, :]
    _hear(log, start, 10.0**-pace, evidence, None if fineness.exact else table)
    parts = _log_starts(start, priors)
    weighed = [one + log for one in parts]
    top = np.max([one.max(axis=(0, 1)) for one in weighed], axis=0)
    sound, *poor = (_summed(np.exp(one - top), pace, centre, width, z) for one in weighed)
    return _joined(_run_on(sound), [_run_on(_thinned(one), finer=False) for one in poor])


def _thinned(nodes: "Nodes") -> "Nodes":
    """Leave out every other pace and give its weight to its neighbours, for the rarer of two beliefs."""
    import numpy as np

    pace, each, mean, sd = (one[::2] for one in nodes)
    whole = nodes[1].sum(axis=0)
    return pace, each * (whole / np.maximum(each.sum(axis=0), 1e-30)), mean, sd


def _summed(weight: "Figures", pace: "Figures", centre: "Figures", width: "Figures", z: "Figures") -> "Nodes":
    """Sum over the starts of each pace: pace, weight, and mean and standard deviation of the start."""
    import numpy as np

    each = weight.sum(axis=1)
    safe = np.maximum(each, 1e-30)
    mean = (weight * z).sum(axis=1) / safe
    square = (weight * (z * z)).sum(axis=1) / safe
    sd = np.sqrt(np.maximum(square - mean * mean, 1e-6))
    return pace, each, centre + width * mean, width * sd


def _run_on(nodes: "Nodes", finer: bool = True) -> Posterior:
    """Turn nodes into a belief that runs on between them: more nodes, weights between, all drawn in a little.

    Weights that run straight from node to node add a sixth of the squared step to the variance of pace;
    drawing in takes that off again. `weight` sums to the weight of all the nodes, not to one.
    """
    import numpy as np

    pace, each, mean, sd = nodes
    whole = each.sum(axis=0)
    if finer:
        log = _refined(np.log(np.maximum(each / np.maximum(each.max(axis=0), 1e-30), 1e-12)))
        pace, each, mean = _refined(pace), np.exp(log), _refined(mean)
        # The cubic may dip below nought where weights end.
        sd = np.maximum(_refined(sd), 1e-3 * sd.max(axis=0))
    weight = np.maximum(each, 1e-30)
    weight = weight / weight.sum(axis=0)
    cells = 0.5 * (weight[1:] + weight[:-1])
    cells *= whole / cells.sum(axis=0)
    middle = (weight * pace).sum(axis=0)
    variance = (weight * (pace - middle) ** 2).sum(axis=0)
    step = pace[1] - pace[0]
    share = np.sqrt(np.maximum(1.0 - step * step / (6.0 * np.maximum(variance, 1e-12)), 0.25))
    start = (weight * mean).sum(axis=0)
    return Posterior(
        middle + share * (pace - middle),
        weight * whole,
        cells,
        start + share * (mean - start),
        sd,
    )


def _joined(sound: Posterior, poor: list[Posterior]) -> Posterior:
    """Put the belief of a sound and a poor lot side by side, nothing lying between, and make one of all weights."""
    import numpy as np

    parts = [sound, *poor]
    whole = sum((part.weight.sum(axis=0) for part in parts), np.zeros_like(sound.weight[0]))
    nothing = np.zeros_like(sound.cells[:1])
    cells = [piece for part in parts for piece in (part.cells / whole, nothing)][:-1]
    return Posterior(
        np.concatenate([part.pace for part in parts]),
        np.concatenate([part.weight for part in parts]) / whole,
        np.concatenate(cells),
        np.concatenate([part.start_mean for part in parts]),
        np.concatenate([part.start_sd for part in parts]),
    )


def _refined(nodes: "Figures") -> "Figures":
    """Put a node halfway between each two, on the cubic through the four about it: cheaper than asking the counts."""
    import numpy as np

    found = np.empty((2 * len(nodes) - 1, nodes.shape[1]), dtype=nodes.dtype)
    found[::2] = nodes
    found[1::2] = 0.5 * (nodes[1:] + nodes[:-1])
    found[3:-3:2] += (nodes[1:-2] + nodes[2:-1] - nodes[:-3] - nodes[3:]) / 16
    return found


def _hear(
    log: "Figures", start: "Figures", life: "Figures", evidence: Evidence, table: CountTable | None
) -> None:
    """Add the logarithm of the chance of every count to what is believed at each node."""
    import numpy as np

    for k in range(evidence.loss.shape[1]):
        alive, dead = evidence.alive[:, k], evidence.sown[:, k] - evidence.alive[:, k]
        kind = evidence.clumping_class[:, k]
        now = start - (evidence.loss[:, k].astype(life.dtype) * life)[:, None, :]
        if table is None:
            clumping = evidence.clumpings[kind]
            log += log_rising(np.asarray(share_from_deviate(now)), alive.astype(np.float64), clumping)
            log += log_rising(np.asarray(share_from_deviate(-now)), dead.astype(np.float64), clumping)
        else:
            table.add(log, table.rows(alive, kind), now)
            np.negative(now, out=now)
            table.add(log, table.rows(dead, kind), now)


def _placed(priors: LotPriors, evidence: Evidence, fineness: Fineness) -> "tuple[Array, Array, Array]":
    """Say where the nodes of each lot go: its paces, and for each the middle and width of its starts."""
    import numpy as np

    deviate, information = _rough(evidence)
    middle, spread = _start_moments(priors)
    precision = 1.0 / spread**2 + information.sum(axis=1)

    def fit(pace: "Array") -> "tuple[Array, Array]":
        life = np.exp(-math.log(10.0) * pace)
        pull, square = np.zeros_like(life), np.zeros_like(life)
        for k in range(evidence.loss.shape[1]):
            left = evidence.loss[:, k] * life
            left += deviate[:, k] - middle
            heavy = information[:, k] * left
            pull += heavy
            square += heavy * left
        shift = pull / precision
        return shift, square - pull * shift

    z = np.linspace(-_PLACING_REACH, _PLACING_REACH, _PLACING_NODES)[:, None]
    tried = priors.pace_mean + priors.pace_sd * z
    _, misfit = fit(tried)
    log = _log_pace(z, priors.shape) - 0.5 * misfit
    # From where the belief begins to where it ends, a step of the trial grid more on either side.
    matters = log > log.max(axis=0) - fineness.pace_drop
    step = 2.0 * _PLACING_REACH / (_PLACING_NODES - 1)
    first = z[np.argmax(matters, axis=0), 0] - step
    last = z[_PLACING_NODES - 1 - np.argmax(matters[::-1], axis=0), 0] + step
    share = np.linspace(0.0, 1.0, fineness.pace_nodes)[:, None]
    pace = priors.pace_mean + priors.pace_sd * (first + share * (last - first))
    shift, _ = fit(pace)
    return pace, middle + shift, fineness.stretch / np.sqrt(precision)


def _rough(evidence: Evidence) -> "tuple[Array, Array]":
    """Take each test for one measured deviate, with the information it carries."""
    import numpy as np

    sown = evidence.sown.astype(np.float64)
    share = (evidence.alive + 0.5) / (sown + 1.0)
    deviate = np.asarray(deviate_from_share(share))
    density = np.exp(-0.5 * deviate**2) / math.sqrt(2.0 * math.pi)
    swell = 1.0 + np.maximum(sown - 1.0, 0.0) * evidence.clumpings[evidence.clumping_class.astype(np.int64)]
    information: Array = sown * density**2 / (share * (1.0 - share)) / swell
    return deviate, information


def _start_moments(priors: LotPriors) -> "tuple[Array, Array]":
    """Give mean and standard deviation of the start, sound and poor lots together."""
    import numpy as np

    poor, shift = priors.shape.poor_share, priors.shape.poor_shift
    variance = (1 - poor) * priors.start_sd**2 + poor * priors.shape.poor_sd**2 + poor * (1 - poor) * shift**2
    return priors.start_mean + poor * shift, np.sqrt(variance)


def _log_pace(z: "Figures", shape: PriorShape) -> "Figures":
    import numpy as np

    if math.isinf(shape.tail_freedom):
        normal: Figures = -0.5 * z * z
        return normal
    student: Figures = -0.5 * (shape.tail_freedom + 1.0) * np.log1p(z * z / shape.tail_freedom)
    return student


def _log_starts(start: "Figures", priors: LotPriors) -> "list[Figures]":
    """Give the logarithm of the prior of each start: of a sound lot, and of a poor one where there are any."""
    import numpy as np

    shape = priors.shape
    mean, sd = priors.start_mean.astype(start.dtype), priors.start_sd.astype(start.dtype)
    z = (start - mean) / sd
    sound: Figures = -0.5 * z * z
    if shape.poor_share == 0.0:
        return [sound]
    z = (start - (mean + shape.poor_shift)) / shape.poor_sd
    ratio = sd * (shape.poor_share / (1.0 - shape.poor_share) / shape.poor_sd)
    poor: Figures = -0.5 * z * z + np.log(ratio)
    return [sound, poor]
