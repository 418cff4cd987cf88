"""The first germination test of a lot: whether two hundred seeds are enough."""

from collections.abc import Sequence
from dataclasses import dataclass

from hilum.seedlore.counts import CountError
from hilum.seedlore.tables import rule


@dataclass(frozen=True, slots=True)
class FirstTest:
    """Whether the first test of a lot is finished, the germination it gives, and a sentence."""

    finished: bool
    percent: float
    words: str
    source: str


def first_test(first_percents: Sequence[float], second_percents: Sequence[float] = ()) -> FirstTest:
    """Say whether two replicates of 100 seeds suffice, or 200 seeds more have to be tested.

    Parameters
    ----------
    first_percents, second_percents : sequence of float
        Germination of each replicate of 100 seeds, 0 to 100; the second test may be wanting.

    Returns
    -------
    FirstTest
        Above 90 % the first test stands; else the mean of both.

    Raises
    ------
    CountError
        No replicate, or a percentage out of range.

    Source
    ------
    J. Hanson (1985), Procedures for Handling Seeds in Genebanks, section V.

    Examples
    --------
    >>> first_test([95, 92]).finished, first_test([88, 86]).finished, first_test([88, 86], [90, 84]).percent
    (True, False, 87.0)
    """
    for percent in (*first_percents, *second_percents):
        if not 0 <= percent <= 100:
            raise CountError(f"A germination of {percent:g} % is out of range. Give 0 to 100.")
    if not first_percents:
        raise CountError("Give the germination of each replicate of the first test.")
    bar = rule("first_test_enough_percent")
    mean = sum(first_percents) / len(first_percents)
    if mean > bar.value:
        return FirstTest(
            True, mean, f"{mean:g} % is above {bar.value:g} %: the first test is enough.", bar.source
        )
    if not second_percents:
        words = f"{mean:g} % is not above {bar.value:g} %: test 200 seeds more and take the mean of both."
        return FirstTest(False, mean, words, bar.source)
    both = (mean + sum(second_percents) / len(second_percents)) / 2
    return FirstTest(True, both, f"The mean of both tests is {both:g} %.", bar.source)
