"""Populations: plants that keep a variety whole, seeds to sow for them, and what few plants cost."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from hilum.errors import BadInput
from hilum.seedlore.beta import chance_below
from hilum.seedlore.tables import rule

ALLELE_SOURCE = (
    "1 - (1 - f)^copies; D. R. Marshall and A. H. D. Brown 1975, in Crop Genetic Resources for Today and Tomorrow "
    "(59 gametes for 5 % and 95 %)"
)
_MOST_SEEDS = 10_000_000
_TOO_MANY = f"More than {_MOST_SEEDS:,} seeds would be needed. Check germination and losses."


class PopulationError(BadInput):
    """Plants, seeds or chances that cannot be."""


@dataclass(frozen=True, slots=True)
class PlantsForAllele:
    """How many plants keep a form of a gene with a chance.

    `plants` counts one copy a plant, as in selfing crops, which is the careful figure; a plant of a
    crop that crosses freely carries two.
    """

    plants: int
    plants_crossing: int
    frequency: float
    chance: float
    source: str = ALLELE_SOURCE


def plants_for_allele(frequency: float, chance: float) -> PlantsForAllele:
    """Reckon the plants to grow so that a form of a gene that is not frequent is kept.

    Parameters
    ----------
    frequency : float
        Of the form in the variety, a fraction, more than 0 and less than 1.
    chance : float
        Of having it among the plants at least once, a fraction, more than 0 and less than 1.

    Returns
    -------
    PlantsForAllele

    Raises
    ------
    PopulationError
        A figure is out of range.

    Source
    ------
    D. R. Marshall and A. H. D. Brown (1975), Optimum sampling strategies in genetic conservation, in Crop Genetic
    Resources for Today and Tomorrow, from memory.

    Examples
    --------
    >>> found = plants_for_allele(0.05, 0.95)
    >>> found.plants, found.plants_crossing
    (59, 30)
    """
    for what, share in (("frequency", frequency), ("chance", chance)):
        if not 0 < share < 1:
            raise PopulationError(
                f"A {what} of {share:g} is out of range. Give a fraction above 0 and below 1 (0.05 for 5 %)."
            )
    copies = math.ceil(round(math.log1p(-chance) / math.log1p(-frequency), 9))
    return PlantsForAllele(max(1, copies), max(1, -(-copies // 2)), frequency, chance)


def chance_of_keeping(frequency: float, plants: int, *, selfing: bool) -> float:
    """Reckon the chance that a form of a gene is among a number of plants.

    Parameters
    ----------
    frequency : float
        A fraction, 0 to 1.
    plants : int
        0 or more.
    selfing : bool
        Plants of a selfing crop carry one copy, others two.

    Returns
    -------
    float
        0 to 1.

    Raises
    ------
    PopulationError
        A figure is out of range.

    Source
    ------
    As `plants_for_allele`.

    Examples
    --------
    >>> round(chance_of_keeping(0.05, 30, selfing=False), 3)
    0.954
    """
    if not 0 <= frequency <= 1 or plants < 0:
        raise PopulationError(
            f"A frequency of {frequency:g} among {plants} plants is out of range. Give a fraction from 0 to 1 and 0 or "
            "more plants."
        )
    return float(1 - (1 - frequency) ** (plants if selfing else 2 * plants))


@dataclass(frozen=True, slots=True)
class SeedsToSow:
    """Seeds to sow for a number of plants: on average, and to have them nearly surely."""

    seeds: int
    seeds_to_be_sure: int
    share_that_grows: float
    sureness: float
    source: str = "plants / (germination x share not lost); to be sure: binomial chances"


def seeds_to_sow(plants: int, germination_percent: float, losses_percent: float = 0.0) -> SeedsToSow:
    """Reckon the seeds to sow for a number of grown plants.

    Parameters
    ----------
    plants : int
        1 to 100,000.
    germination_percent : float
        More than 0, at most 100.
    losses_percent : float
        Of the seedlings, lost before they are plants; 0 to under 100.

    Returns
    -------
    SeedsToSow
        `seeds` gives the plants on average, `seeds_to_be_sure` in 95 of 100 sowings.

    Raises
    ------
    PopulationError
        A figure is out of range.

    Source
    ------
    Follows from the shares; sureness by the binomial distribution.

    Examples
    --------
    >>> found = seeds_to_sow(20, germination_percent=80, losses_percent=25)
    >>> found.seeds, found.seeds_to_be_sure
    (34, 42)
    """
    if not 1 <= plants <= 100_000:
        raise PopulationError(f"{plants} plants are out of range. Give 1 to 100,000.")
    if not 0 < germination_percent <= 100:
        raise PopulationError(
            f"A germination of {germination_percent:g} % is out of range. Give more than 0, at most 100 %."
        )
    if not 0 <= losses_percent < 100:
        raise PopulationError(f"Losses of {losses_percent:g} % are out of range. Give 0 to under 100 %.")
    share = germination_percent / 100 * (1 - losses_percent / 100)
    if plants > share * _MOST_SEEDS:
        raise PopulationError(_TOO_MANY)
    seeds = math.ceil(round(plants / share, 6))
    sure = rule("seeds_to_sow_sureness").value
    if share >= 1:
        return SeedsToSow(seeds, seeds, share, sure)

    def is_enough(sown: int) -> bool:
        # At least k of n grow with a chance that the beta distribution gives.
        return chance_below(share, plants, sown - plants + 1) >= sure

    low, high = max(seeds, plants) - 1, max(seeds, plants)
    while not is_enough(high):
        low, high = high, 2 * high
        if high > _MOST_SEEDS:
            raise PopulationError(_TOO_MANY)
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if is_enough(middle) else (middle, high)
    return SeedsToSow(seeds, high, share, sure)


def effective_size(plants_by_generation: Sequence[float]) -> float:
    """Reckon the effective size of a variety over its generations: the harmonic mean, ruled by the fewest plants.

    Parameters
    ----------
    plants_by_generation : sequence of float
        Seed parents in each generation, each more than 0; effective numbers where known.

    Returns
    -------
    float
        Plants.

    Raises
    ------
    PopulationError
        No generation, or one without plants.

    Source
    ------
    S. Wright (1938), Science 87, 430-431.

    Examples
    --------
    >>> round(effective_size([100, 100, 3, 100]), 1)
    11.0
    """
    if not plants_by_generation or min(plants_by_generation) <= 0:
        raise PopulationError(
            "Give the seed parents of each generation, at least one generation and each above 0."
        )
    return len(plants_by_generation) / math.fsum(1 / one for one in plants_by_generation)


def effective_parents(contributions: Sequence[float]) -> float:
    """Reckon how many equal seed parents unequal ones are worth.

    Parameters
    ----------
    contributions : sequence of float
        Seed taken from each plant, in any unit, 0 or more and not all 0.

    Returns
    -------
    float
        Plants; as many as there are when all give alike.

    Raises
    ------
    PopulationError
        A contribution below 0, or nothing at all.

    Source
    ------
    (sum x)^2 / sum x^2, from the chance that two seeds have the same parent; J. F. Crow and M. Kimura (1970), An
    Introduction to Population Genetics Theory, from memory.

    Examples
    --------
    >>> round(effective_parents([10, 10, 10, 10]), 1), round(effective_parents([37, 1, 1, 1]), 2)
    (4.0, 1.17)
    """
    if not contributions or min(contributions) < 0 or sum(contributions) <= 0:
        raise PopulationError(
            "Give the seed taken from each plant: 0 or more, and more than 0 from one at least."
        )
    return float(sum(contributions)) ** 2 / math.fsum(one * one for one in contributions)


def diversity_kept(plants_by_generation: Sequence[float]) -> float:
    """Reckon the share of a crossing variety's diversity that is left after generations of few plants.

    Parameters
    ----------
    plants_by_generation : sequence of float
        Effective seed parents in each generation, each 0.5 or more.

    Returns
    -------
    float
        0 to 1.

    Raises
    ------
    PopulationError
        A generation with less than half a plant.

    Source
    ------
    S. Wright (1931), Genetics 16, 97-159: each generation loses 1 / (2 N).

    Examples
    --------
    >>> round(diversity_kept([20, 3]), 3)
    0.812
    """
    if any(one < 0.5 for one in plants_by_generation):
        raise PopulationError("Give the effective seed parents of each generation, each 0.5 or more.")
    return math.prod(1 - 1 / (2 * one) for one in plants_by_generation)
