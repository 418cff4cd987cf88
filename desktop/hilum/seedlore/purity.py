"""Pure live seed: what of a bought or uncleaned weight is seed of the crop and will grow."""

from hilum.errors import BadInput


class PurityError(BadInput):
    """Percentages that cannot be."""


def pure_live_seed_percent(purity_percent: float, germination_percent: float) -> float:
    """Reckon the share of a weight that is pure seed and germinates.

    Parameters
    ----------
    purity_percent : float
        Pure seed by weight, 0 to 100.
    germination_percent : float
        Germination, with hard or dormant seed where that counts, 0 to 100.

    Returns
    -------
    float
        Percent of the weight.

    Raises
    ------
    PurityError
        A percentage is out of range.

    Source
    ------
    purity x germination / 100: Society for Range Management, glossary; University of Georgia, Pure Live Seed.

    Examples
    --------
    >>> pure_live_seed_percent(96, 91)
    87.36
    """
    for what, percent in (("purity", purity_percent), ("germination", germination_percent)):
        if not 0 <= percent <= 100:
            raise PurityError(f"A {what} of {percent:g} % is out of range. Give 0 to 100.")
    return purity_percent * germination_percent / 100


def mass_for_pure_live_seed(live_mass: float, live_percent: float) -> float:
    """Reckon the weight to take that holds a weight of pure live seed.

    Parameters
    ----------
    live_mass : float
        Wanted, in any unit, 0 or more.
    live_percent : float
        From `pure_live_seed_percent`, more than 0, at most 100.

    Returns
    -------
    float
        In the same unit.

    Raises
    ------
    PurityError
        A figure is out of range.

    Source
    ------
    EC3 Group, PLS vs. bulk seed.

    Examples
    --------
    >>> round(mass_for_pure_live_seed(3.0, 95.06), 2)
    3.16
    """
    if not 0 < live_percent <= 100 or live_mass < 0:
        raise PurityError(
            f"{live_mass:g} at {live_percent:g} % pure live seed cannot be. Give 0 or more, and a percentage above 0."
        )
    return 100 * live_mass / live_percent
