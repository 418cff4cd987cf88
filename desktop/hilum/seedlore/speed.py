"""How fast seed germinates: mean time, time to one half, rate indices, synchrony and uncertainty."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise

from hilum.seedlore.counts import CountError

SOURCE = (
    "mean time: Ellis & Roberts 1980, Labouriau 1983; T50: Coolbear et al. 1984, Farooq et al. 2005; velocity: "
    "Kotowski 1926; rate index: Throneberry & Smith 1955, Maguire 1962; synchrony: Primack 1985; uncertainty: "
    "Labouriau & Valadares 1976"
)


@dataclass(frozen=True, slots=True)
class GerminationSpeed:
    """The speed of one test; None stands where a figure does not exist, and `notes` say why.

    `t50_days` takes half of (germinated + 1) seeds (Coolbear et al. 1984), `t50_half_days` half of the
    germinated (Farooq et al. 2005), `t50_of_sown_days` half of the seeds sown. Rates are per day.
    """

    germinated: int
    sown: int
    percent: float
    first_day: float | None
    last_day: float | None
    peak_days: tuple[float, ...]
    mean_days: float | None
    variance: float | None
    standard_error: float | None
    mean_rate: float | None
    velocity: float | None
    t50_days: float | None
    t50_half_days: float | None
    t50_of_sown_days: float | None
    rate_index: float | None
    rate_index_percent: float | None
    synchrony: float | None
    uncertainty_bits: float | None
    notes: tuple[str, ...]
    source: str = SOURCE


def germination_speed(days: Sequence[float], counts: Sequence[int], sown: int) -> GerminationSpeed:
    """Reckon how fast a test germinated from the seeds newly germinated on each day of counting.

    Parameters
    ----------
    days : sequence of float
        Days from sowing, rising, more than 0.
    counts : sequence of int
        Seeds newly germinated since the count before, 0 or more, one for each day.
    sown : int
        Seeds sown, 1 or more.

    Returns
    -------
    GerminationSpeed

    Raises
    ------
    CountError
        Days that do not rise, counts below 0 or more seeds germinated than were sown.

    Notes
    -----
    Where a running total is exactly the half that is looked for, that day is the time to one half.

    Source
    ------
    Mean time: Ellis & Roberts 1980, Labouriau 1983; T50: P. Coolbear, A. Francis and D. Grierson (1984), J. Exp.
    Bot. 35, 1609-1617; M. Farooq et al. (2005); velocity: Kotowski 1926; rate index: Maguire 1962; synchrony:
    Primack 1985; uncertainty: Labouriau & Valadares 1976.

    Examples
    --------
    >>> found = germination_speed([3, 5, 7, 10], [4, 9, 3, 1], 20)
    >>> round(found.mean_days, 2), round(found.t50_days, 2)
    (5.18, 4.11)
    """
    _check(days, counts, sown)
    grown = sum(counts)
    if grown == 0:
        note = "Nothing germinated, so there is no time to speak of."
        nothing = (None,) * 12
        return GerminationSpeed(0, sown, 0.0, None, None, (), *nothing, notes=(note,))
    with_seed = [day for day, count in zip(days, counts, strict=True) if count]
    most = max(counts)
    mean = math.fsum(d * n for d, n in zip(days, counts, strict=True)) / grown
    spread = math.fsum(n * (d - mean) ** 2 for d, n in zip(days, counts, strict=True))
    variance = spread / (grown - 1) if grown > 1 else None
    index = math.fsum(n / d for d, n in zip(days, counts, strict=True))
    pairs = sum(n * (n - 1) for n in counts)
    shares = [n / grown for n in counts if n]
    notes = [] if grown > 1 else ["One seed germinated: spread and synchrony cannot be told."]
    half_plus = time_to(days, counts, (grown + 1) / 2)
    if half_plus is None:
        notes.append("Half had germinated before the first count: the time to one half cannot be told.")
    of_sown = time_to(days, counts, sown / 2)
    if 2 * grown < sown:
        notes.append("Half of the seeds sown was not reached.")
    return GerminationSpeed(
        germinated=grown,
        sown=sown,
        percent=100 * grown / sown,
        first_day=with_seed[0],
        last_day=with_seed[-1],
        peak_days=tuple(day for day, count in zip(days, counts, strict=True) if count == most),
        mean_days=mean,
        variance=variance,
        standard_error=None if variance is None else math.sqrt(variance / grown),
        mean_rate=1 / mean,
        velocity=100 / mean,
        t50_days=half_plus,
        t50_half_days=time_to(days, counts, grown / 2),
        t50_of_sown_days=of_sown,
        rate_index=index,
        rate_index_percent=100 * index / sown,
        synchrony=pairs / (grown * (grown - 1)) if grown > 1 else None,
        uncertainty_bits=-math.fsum(share * math.log2(share) for share in shares) + 0.0,
        notes=tuple(notes),
    )


def _check(days: Sequence[float], counts: Sequence[int], sown: int) -> None:
    if not days or len(days) != len(counts):
        raise CountError(
            f"{len(days)} days and {len(counts)} counts were given. Give one count for each day."
        )
    if days[0] <= 0 or any(later <= day for day, later in pairwise(days)):
        raise CountError("The days of counting must be above 0 and rise from one count to the next.")
    if min(counts) < 0:
        raise CountError(
            f"A count of {min(counts)} cannot be. Give the seeds newly germinated since the count before, not totals."
        )
    if sum(counts) > sown:
        raise CountError(
            f"{sum(counts)} seeds germinated, but only {sown} were sown. Give the seeds newly germinated at each "
            "count, not running totals."
        )


def time_to(days: Sequence[float], counts: Sequence[int], seeds: float) -> float | None:
    """Give the day on which a number of seeds had germinated, between two counts in a straight line.

    Parameters
    ----------
    days : sequence of float
        Days of counting, rising.
    counts : sequence of int
        Seeds newly germinated on each.
    seeds : float
        How many; need not be whole.

    Returns
    -------
    float or None
        The day itself where a running total is exactly that many; None where so many never germinated
        or more had done so before the first count.

    Source
    ------
    Interpolation: Coolbear et al. 1984. The day itself at a tie: our own choice.

    Examples
    --------
    >>> time_to([1, 2, 3], [2, 4, 4], 5)
    1.75
    """
    before_day, before = 0.0, -1
    for day, total in zip(days, accumulate(counts), strict=True):
        if total == seeds:
            return float(day)
        if total > seeds:
            if before < 0:
                return None
            return before_day + (seeds - before) * (day - before_day) / (total - before)
        before_day, before = day, total
    return None


def newly_germinated(totals: Sequence[int]) -> tuple[int, ...]:
    """Turn running totals into the seeds newly germinated at each count.

    Parameters
    ----------
    totals : sequence of int
        They never fall.

    Returns
    -------
    tuple of int

    Raises
    ------
    CountError
        A total is smaller than the one before.

    Source
    ------
    Not needed: differences.

    Examples
    --------
    >>> newly_germinated([0, 4, 21])
    (0, 4, 17)
    """
    found = tuple(now - before for before, now in zip([0, *totals], totals, strict=False))
    if any(one < 0 for one in found):
        raise CountError("Running totals cannot fall. Correct the counts.")
    return found
