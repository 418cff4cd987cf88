"""Two tests compared: whether they differ by more than chance makes."""

import math
from dataclasses import dataclass

from hilum.seedlore.counts import CountError
from hilum.seedlore.germination import wilson_interval
from hilum.seedlore.intervals import check_counts
from hilum.seedlore.tables import rule

SOURCE = (
    "exact test: R. A. Fisher (1935), The Design of Experiments; interval: R. G. Newcombe (1998), Stat. Med. 17, "
    "873-890, method 10"
)
_A_HAIR = 1e-7  # two tables of equal chance must not be told apart by their last binary digit


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two tests side by side; the difference is the second less the first, in percentage points."""

    first_percent: float
    second_percent: float
    difference_points: float
    interval_points: tuple[float, float]
    confidence: float
    chance: float
    real: bool
    words: str
    source: str = SOURCE


def exact_chance(first: int, first_sown: int, second: int, second_sown: int) -> float:
    """Give the chance that two tests of one and the same lot differ at least as much as these.

    Parameters
    ----------
    first, second : int
        Seeds that germinated in each.
    first_sown, second_sown : int
        Seeds sown in each, 1 to 1,000,000.

    Returns
    -------
    float
        0 to 1; all tables with these margins that are no likelier than the one found are added up.

    Raises
    ------
    CountError
        Counts that cannot belong to a test.

    Source
    ------
    R. A. Fisher (1935), The Design of Experiments.

    Examples
    --------
    >>> round(exact_chance(3, 4, 1, 4), 4)
    0.4857
    """
    for one, of in ((first, first_sown), (second, second_sown)):
        check_counts(one, of, 0.9)
        if of > 1_000_000:
            raise CountError(f"A test of {of} seeds is out of range. Give at most 1,000,000.")
    grown, sown = first + second, first_sown + second_sown
    lowest, highest = max(0, grown - second_sown), min(grown, first_sown)

    def log_ways(of: int, one: int) -> float:
        return math.lgamma(of + 1) - math.lgamma(one + 1) - math.lgamma(of - one + 1)

    whole = log_ways(sown, grown)

    def log_chance(one: int) -> float:
        return log_ways(first_sown, one) + log_ways(second_sown, grown - one) - whole

    found = log_chance(first)
    likely = (log_chance(one) for one in range(lowest, highest + 1))
    return min(1.0, math.fsum(math.exp(one) for one in likely if one <= found + _A_HAIR))


def compare(
    first: int, first_sown: int, second: int, second_sown: int, confidence: float = 0.90
) -> Comparison:
    """Compare two germination tests and say in plain words whether the difference is real.

    Parameters
    ----------
    first, second : int
        Seeds that germinated in each.
    first_sown, second_sown : int
        Seeds sown in each, 1 or more.
    confidence : float
        Strictly between 0 and 1; the difference counts as real when chance would make it more rarely
        than one less this.

    Returns
    -------
    Comparison

    Raises
    ------
    CountError
        Counts that cannot belong to a test, or a confidence out of range.

    Source
    ------
    R. A. Fisher (1935); interval of the difference from two score intervals: R. G. Newcombe (1998), Stat. Med.
    17, 873-890, method 10.

    Examples
    --------
    >>> found = compare(48, 80, 56, 70, 0.95)
    >>> [round(bound, 2) for bound in found.interval_points], found.real
    ([5.24, 33.39], True)
    """
    check_counts(first, first_sown, confidence)
    check_counts(second, second_sown, confidence)
    low1, high1 = wilson_interval(first, first_sown, confidence)
    low2, high2 = wilson_interval(second, second_sown, confidence)
    one, other = 100 * first / first_sown, 100 * second / second_sown
    difference = other - one
    low = difference - math.hypot(other - low2, high1 - one)
    high = difference + math.hypot(high2 - other, one - low1)
    chance = exact_chance(first, first_sown, second, second_sown)
    real = chance < 1 - confidence
    return Comparison(
        one, other, difference, (low, high), confidence, chance, real,
        _words(difference, (low, high), chance, real, min(first_sown, second_sown)),
    )  # fmt: skip


def _words(difference: float, interval: tuple[float, float], chance: float, real: bool, fewest: int) -> str:
    """Say it as one keeper says it to another."""
    made = "less than once" if chance < 0.01 else f"about {100 * chance:.0f} times"
    said = f"The second test is {abs(difference):.0f} points {'better' if difference > 0 else 'poorer'} than the first"
    if difference == 0:
        said = "Both tests show the same"
    low, high = (f"{bound:+.0f}".replace("-", "\u2212") for bound in interval)
    between = f"the true difference lies between {low} and {high} points"
    if real:
        return f"{said}. Chance alone makes such a difference {made} in a hundred, so it is real; {between}."
    few = int(rule("few_seeds_in_test").value)
    more = f" With only {fewest} seeds in a test, much stays hidden." if fewest < few else ""
    if interval[0] > 0 or interval[1] < 0:
        more = f" The span leaves out nought, the exact chance is not small enough: this is the border.{more}"
    return f"{said}. Chance alone makes as much {made} in a hundred, so it need not be real; {between}.{more}"
