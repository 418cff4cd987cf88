"""How far the dishes of one germination test may differ before it has to be made again."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from statistics import NormalDist

from hilum.seedlore.counts import CountError
from hilum.seedlore.rounding import rounded_half_up
from hilum.seedlore.tables import Line, rule, table

_HUNDRED = 100
_PUBLISHED_REPLICATES = (2, 4)


@dataclass(frozen=True, slots=True)
class PublishedLimit:
    """The largest range the regulation allows at one mean, and what is odd about its row."""

    percent: int
    doubt: str | None
    source: str


@dataclass(frozen=True, slots=True)
class Tolerance:
    """How far the dishes differ and how far they may.

    `within` is None where there is nothing to compare. `rule` says in words what was compared
    with what.
    """

    range_percent: float | None
    mean_percent: float
    allowed_percent: float | None
    within: bool | None
    replicates: int
    rule: str
    source: str


@cache
def _printed_rows() -> dict[int, Line]:
    return {line.whole("mean_percent_high"): line for line in table("germination_tolerance_replicates")}


def published_limit(mean_percent: int, replicates: int) -> PublishedLimit | None:
    """Look up the largest range allowed between replicates of 100 seeds.

    The low column of the table mirrors the high one (high + low = 101). Two rows print a low mean
    twice and leave its neighbour out; the mirror decides there and the answer says so.

    Parameters
    ----------
    mean_percent : int
        Mean of all replicates, rounded to a whole percent, 0 to 100.
    replicates : int
        How many replicates of 100 seeds.

    Returns
    -------
    PublishedLimit or None
        None where the table prints nothing: other numbers of replicates, means of 0, 1 and 100, and
        two replicates at 98 and 99 (2 and 3).

    Source
    ------
    7 CFR 201.55(a) table (as amended 65 FR 1707, Jan. 11, 2000; 2015 annual edition)

    Examples
    --------
    >>> published_limit(91, 4).percent, published_limit(10, 2).percent, published_limit(100, 4)
    (11, 9, None)
    """
    if replicates not in _PUBLISHED_REPLICATES:
        return None
    rows = _printed_rows()
    mirrored = mean_percent not in rows
    line = rows.get(101 - mean_percent if mirrored else mean_percent)
    percent = line.optional_whole(f"max_range_{replicates}_replicates") if line else None
    if line is None or percent is None:
        return None
    return PublishedLimit(percent, _doubt(line, mirrored, replicates), line.text("source"))


def _doubt(line: Line, mirrored: bool, replicates: int) -> str | None:
    """Say what is odd about a printed figure, when the oddity touches the figure that is used."""
    note = line.optional_text("note")
    if note is None:
        return None
    if note.startswith("low column"):
        return note if mirrored else None
    return note.partition(";")[0] if replicates == 4 else None


def joined_hundreds(germinated: Sequence[int], seeds: Sequence[int]) -> tuple[int, ...] | None:
    """Join neighbouring dishes to replicates of 100 seeds.

    Parameters
    ----------
    germinated : sequence of int
        Normal seedlings in each dish.
    seeds : sequence of int
        Seeds sown in each dish.

    Returns
    -------
    tuple of int or None
        Germinated of each hundred; None where the dishes do not make whole hundreds.

    Source
    ------
    activestudy.info on the ISTA Rules: sub-replicates of 50 or 25 are joined with their neighbours.

    Examples
    --------
    >>> joined_hundreds([40, 45, 50, 38], [50, 50, 50, 50])
    (85, 88)
    >>> joined_hundreds([20, 21, 22], [25, 25, 25]) is None
    True
    """
    hundreds: list[int] = []
    sown = grown = 0
    for one, of in zip(germinated, seeds, strict=True):
        sown, grown = sown + of, grown + one
        if sown > _HUNDRED:
            return None
        if sown == _HUNDRED:
            hundreds.append(grown)
            sown = grown = 0
    return None if sown else tuple(hundreds)


@cache
def range_point(replicates: int, probability: float) -> float:
    """Give a point of the studentized range with infinite degrees of freedom.

    The chance that the range of k standard normal values stays below w is
    k times the integral of f(z) [F(z) - F(z - w)]^(k-1) dz; Simpson's rule over -8 to 8 gives it,
    halving finds w.

    Parameters
    ----------
    replicates : int
        k, 2 or more.
    probability : float
        Strictly between 0 and 1.

    Returns
    -------
    float
        Right to within 0.0001.

    Source
    ------
    Formula: H. A. David and H. N. Nagaraja (2003), Order Statistics, 3rd ed., from memory.

    Examples
    --------
    >>> round(range_point(4, 0.975), 3), round(range_point(2, 0.975), 3)
    (3.984, 3.17)
    """
    normal = NormalDist()
    steps, edge = 320, 8.0
    width = 2 * edge / steps
    grid = [
        (-edge + i * width, (1 if i in (0, steps) else 4 if i % 2 else 2) * width / 3)
        for i in range(steps + 1)
    ]
    weighted = [(z, weight * replicates * normal.pdf(z), normal.cdf(z)) for z, weight in grid]

    def chance(w: float) -> float:
        return sum(weight * (below - normal.cdf(z - w)) ** (replicates - 1) for z, weight, below in weighted)

    low, high = 0.0, 20.0
    while high - low > 1e-6:
        middle = (low + high) / 2
        low, high = (middle, high) if chance(middle) < probability else (low, middle)
    return (low + high) / 2


def replicate_tolerance(germinated: Sequence[int], seeds_per_replicate: int | Sequence[int]) -> Tolerance:
    """Compare the range between the dishes of a test with the largest that is allowed.

    Two or four hundreds, also when joined from smaller neighbouring dishes, are read in the
    regulation's table. For every other number and size, and where the table prints nothing, the
    same theory is reckoned: point of the studentized range x sqrt(p (100 - p) / n).

    Parameters
    ----------
    germinated : sequence of int
        Normal seedlings in each dish.
    seeds_per_replicate : int or sequence of int
        Seeds sown in a dish (one number for all, or one for each).

    Returns
    -------
    Tolerance
        A range equal to the limit still passes. One dish has nothing to compare: `within` is None.

    Raises
    ------
    CountError
        No dish, or counts that do not fit the seeds.

    Source
    ------
    7 CFR 201.55(a); theory: range of k results with binomial spread, agrees with the table within 1
    (our own reckoning).

    Examples
    --------
    >>> found = replicate_tolerance([93, 89, 96, 84], 100)
    >>> found.range_percent, found.allowed_percent, found.within
    (12.0, 11.0, False)
    >>> replicate_tolerance([22, 19], 25).within
    True
    """
    seeds = (
        [seeds_per_replicate] * len(germinated)
        if isinstance(seeds_per_replicate, int)
        else list(seeds_per_replicate)
    )
    if not seeds or len(seeds) != len(germinated):
        raise CountError(
            f"{len(germinated)} counts and {len(seeds)} dishes were given. Give one count for each dish."
        )
    for dish, (one, of) in enumerate(zip(germinated, seeds, strict=True), start=1):
        if not 0 <= one <= of or of < 1:
            raise CountError(
                f"Dish {dish}: {one} of {of} seeds cannot have germinated. Correct one of the two counts."
            )
    hundreds = joined_hundreds(germinated, seeds)
    if hundreds is not None and len(hundreds) in _PUBLISHED_REPLICATES:
        was_joined = len(hundreds) != len(seeds)
        limit = published_limit(rounded_half_up(Fraction(sum(hundreds), len(hundreds))), len(hundreds))
        if limit is not None:
            return _by_table(hundreds, limit, was_joined)
        return _by_theory(
            hundreds, [_HUNDRED] * len(hundreds), "the regulation prints no limit for this mean; "
        )
    return _by_theory(germinated, seeds, "")


def _by_table(hundreds: Sequence[int], limit: PublishedLimit, was_joined: bool) -> Tolerance:
    spread = max(hundreds) - min(hundreds)
    mean = Fraction(sum(hundreds), len(hundreds))
    joined = ", joined from smaller dishes" if was_joined else ""
    doubt = f"; doubtful: {limit.doubt}" if limit.doubt else ""
    words = (
        f"{len(hundreds)} replicates of 100 seeds{joined}: range {spread}, at most {limit.percent} allowed "
        "at a mean "
        f"of {rounded_half_up(mean)} %{doubt}"
    )
    return Tolerance(
        float(spread),
        float(mean),
        float(limit.percent),
        spread <= limit.percent,
        len(hundreds),
        words,
        limit.source,
    )


def _by_theory(germinated: Sequence[int], seeds: Sequence[int], because: str) -> Tolerance:
    """Reckon the limit from the binomial spread of a dish; unequal dishes count with their harmonic mean."""
    mean = 100 * sum(germinated) / sum(seeds)
    if len(seeds) == 1:
        return Tolerance(
            None, mean, None, None, 1, "one replicate only: there is nothing to compare it with", "none"
        )
    percents = [Fraction(100 * one, of) for one, of in zip(germinated, seeds, strict=True)]
    spread = max(percents) - min(percents)
    size = len(seeds) / sum(1 / of for of in seeds)
    point = range_point(len(seeds), rule("tolerance_probability").value)
    allowed = point * math.sqrt(mean * (100 - mean) / size)
    even = "" if len(set(seeds)) == 1 else " on average (unequal dishes)"
    words = (
        f"{because}{len(seeds)} replicates of {size:.3g} seeds{even}: range {float(spread):.3g}, at most "
        f"{allowed:.3g} "
        f"allowed at a mean of {mean:.3g} % by the theory behind the regulation's table"
    )
    within = float(spread) <= allowed + 1e-9  # equal passes, whatever the last binary digit says
    return Tolerance(
        float(spread), mean, allowed, within, len(seeds), words, rule("tolerance_probability").source
    )
