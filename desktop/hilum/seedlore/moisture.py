"""Water in seed: moisture from weighings, the weight to dry down to, one basis and the other."""

import math

from hilum.errors import BadInput
from hilum.seedlore.dryness import (
    EVIDENCE_KINDS,
    DrynessError,
    DrynessEvidence,
    FreezeJudgement,
    freezing_allowed,
    freezing_limit_percent_wb,
)
from hilum.seedlore.tables import rule

__all__ = [
    "EVIDENCE_KINDS",
    "DrynessError",
    "DrynessEvidence",
    "FreezeJudgement",
    "MoistureError",
    "dry_basis_percent",
    "drying_loss_percent",
    "freezing_allowed",
    "freezing_limit_percent_wb",
    "mass_after_drying",
    "mean_moisture_percent_wb",
    "moisture_from_weight_percent_wb",
    "oven_moisture_percent_wb",
    "two_stage_moisture_percent_wb",
    "wet_basis_percent",
]


class MoistureError(BadInput):
    """Weights or moistures that cannot be."""


def oven_moisture_percent_wb(container_g: float, wet_g: float, dry_g: float) -> float:
    """Reckon the moisture of seed from its weight before and after the oven.

    Parameters
    ----------
    container_g : float
        The empty container with its lid, 0 when the seed was weighed alone.
    wet_g, dry_g : float
        Container and seed before and after drying, grams.

    Returns
    -------
    float
        Percent of the fresh weight.

    Raises
    ------
    MoistureError
        The weights do not fall in the order wet, dry, container.

    Source
    ------
    M = 100 (M2 - M3) / (M2 - M1): IRRI Rice Knowledge Bank; Center for Plant Conservation glossary.

    Examples
    --------
    >>> oven_moisture_percent_wb(container_g=250, wet_g=300, dry_g=280)
    40.0
    """
    if not 0 <= container_g < dry_g <= wet_g:
        raise MoistureError(
            f"Container {container_g:g} g, wet {wet_g:g} g and dry {dry_g:g} g cannot be: the container must "
            "weigh "
            "least and the wet seed most. Wet and dry include the container."
        )
    return 100 * (wet_g - dry_g) / (wet_g - container_g)


def two_stage_moisture_percent_wb(first_loss_percent: float, second_loss_percent: float) -> float:
    """Join the losses of pre-drying and oven into one moisture.

    Parameters
    ----------
    first_loss_percent, second_loss_percent : float
        Each in percent of the weight that went into that stage, 0 to under 100.

    Returns
    -------
    float
        Percent of the fresh weight.

    Raises
    ------
    MoistureError
        A loss is out of range.

    Source
    ------
    S1 + S2 - S1 S2 / 100, from memory: ISTA Rules chapter 9.

    Examples
    --------
    >>> round(two_stage_moisture_percent_wb(10, 8), 3)
    17.2
    """
    for loss in (first_loss_percent, second_loss_percent):
        _check_wet_basis(loss)
    return first_loss_percent + second_loss_percent - first_loss_percent * second_loss_percent / 100


def mean_moisture_percent_wb(first: float, second: float) -> float | None:
    """Give the mean of two replicates, or None when they differ so much that both must be repeated.

    Parameters
    ----------
    first, second : float
        Percent of the fresh weight.

    Returns
    -------
    float or None

    Raises
    ------
    MoistureError
        A moisture is out of range.

    Source
    ------
    Limit of 0.2 points from memory: ISTA Rules chapter 9.

    Examples
    --------
    >>> round(mean_moisture_percent_wb(8.1, 8.3), 1), mean_moisture_percent_wb(8.1, 8.4)
    (8.2, None)
    """
    for moisture in (first, second):
        _check_wet_basis(moisture)
    limit = rule("moisture_replicate_difference_points").value
    # 8.3 - 8.1 is a hair above 0.2 in binary fractions; a difference equal to the limit passes.
    return (first + second) / 2 if abs(first - second) <= limit + 1e-9 else None


def dry_basis_percent(moisture_percent_wb: float) -> float:
    """Turn moisture in percent of fresh weight into percent of dry weight.

    Parameters
    ----------
    moisture_percent_wb : float
        0 to under 100.

    Returns
    -------
    float

    Raises
    ------
    MoistureError
        Out of range.

    Source
    ------
    Cromarty, Ellis & Roberts 1982, The Design of Seed Storage Facilities for Genetic Conservation.

    Examples
    --------
    >>> round(dry_basis_percent(25), 5)
    33.33333
    """
    _check_wet_basis(moisture_percent_wb)
    return 100 * moisture_percent_wb / (100 - moisture_percent_wb)


def wet_basis_percent(moisture_percent_db: float) -> float:
    """Turn moisture in percent of dry weight into percent of fresh weight.

    Parameters
    ----------
    moisture_percent_db : float
        0 or more; above 100 there is more water than dry matter, which very wet seed can hold.

    Returns
    -------
    float

    Raises
    ------
    MoistureError
        Below 0.

    Source
    ------
    Cromarty, Ellis & Roberts 1982, The Design of Seed Storage Facilities for Genetic Conservation.

    Examples
    --------
    >>> round(wet_basis_percent(30), 5)
    23.07692
    """
    if not (moisture_percent_db >= 0 and math.isfinite(moisture_percent_db)):
        raise MoistureError(
            f"A moisture of {moisture_percent_db:g} % of dry weight cannot be. Give 0 or more."
        )
    return 100 * moisture_percent_db / (100 + moisture_percent_db)


def mass_after_drying(mass: float, from_percent_wb: float, to_percent_wb: float) -> float:
    """Reckon what seed will weigh when it has come from one moisture to another.

    Parameters
    ----------
    mass : float
        Now, in any unit of weight; more than 0.
    from_percent_wb, to_percent_wb : float
        Moisture now and then, percent of fresh weight, 0 to under 100. A higher one then is wetting,
        and the mass grows.

    Returns
    -------
    float
        In the same unit.

    Raises
    ------
    MoistureError
        A figure is out of range.

    Source
    ------
    W2 = W1 (100 - M1) / (100 - M2): IRRI Rice Knowledge Bank, Moisture content calculations.

    Examples
    --------
    >>> round(mass_after_drying(1000, 25, 14))
    872
    """
    if not (mass > 0 and math.isfinite(mass)):
        raise MoistureError(f"A weight of {mass:g} cannot be. Give more than 0.")
    _check_wet_basis(from_percent_wb)
    _check_wet_basis(to_percent_wb)
    return mass * (100 - from_percent_wb) / (100 - to_percent_wb)


def moisture_from_weight_percent_wb(first_mass: float, first_percent_wb: float, mass: float) -> float:
    """Reckon the present moisture of seed from its weight alone, its first weight and moisture being known.

    Parameters
    ----------
    first_mass, mass : float
        Then and now, in one unit of weight; more than 0.
    first_percent_wb : float
        Moisture then, percent of fresh weight, 0 to under 100.

    Returns
    -------
    float
        Percent of the present weight.

    Raises
    ------
    MoistureError
        The seed weighs less than its own dry matter, or a figure is out of range.

    Source
    ------
    M2 = 100 - W1 (100 - M1) / W2, from the formula of `mass_after_drying`.

    Examples
    --------
    >>> round(moisture_from_weight_percent_wb(1000, 25, 872), 1)
    14.0
    """
    dry = mass_after_drying(first_mass, first_percent_wb, 0)
    if not (mass >= dry and math.isfinite(mass)):
        raise MoistureError(
            f"{mass:g} is less than the {dry:g} that the seed weighs without any water. Check both weighings."
        )
    return 100 - 100 * dry / mass


def drying_loss_percent(from_percent_wb: float, to_percent_wb: float) -> float:
    """Reckon the loss of weight in drying, in percent of the weight before.

    Parameters
    ----------
    from_percent_wb, to_percent_wb : float
        Moisture before and after, percent of fresh weight, 0 to under 100.

    Returns
    -------
    float
        Below 0 when the seed grows wetter.

    Raises
    ------
    MoistureError
        A figure is out of range.

    Source
    ------
    100 (M1 - M2) / (100 - M2): Pioneer agronomy note, Moisture shrink.

    Examples
    --------
    >>> round(drying_loss_percent(25.5, 15.5), 2)
    11.83
    """
    return 100 - mass_after_drying(100, from_percent_wb, to_percent_wb)


def _check_wet_basis(moisture_percent_wb: float) -> None:
    if not 0 <= moisture_percent_wb < 100:
        raise MoistureError(
            f"A moisture of {moisture_percent_wb:g} % of fresh weight cannot be. Give 0 or more and less "
            "than 100."
        )
