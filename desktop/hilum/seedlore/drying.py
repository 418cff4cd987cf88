"""A drying plan: the weight to stop at, the water to lose, the desiccant that takes it up, the steps on the way."""

import math
from dataclasses import dataclass

from hilum.errors import BadInput
from hilum.seedlore.moisture import mass_after_drying
from hilum.seedlore.tables import Rule, rule

_HINTS = (
    "Weigh seed and bag together in the same bag every time, and take the weight of the empty bag off.",
    "Stir the seed once a day.",
)


class DryingError(BadInput):
    """A drying plan that cannot be."""


@dataclass(frozen=True, slots=True)
class DryingStage:
    """One weighing on the way: at this weight the seed has come down to this moisture."""

    moisture_percent_wb: float
    mass_g: float


@dataclass(frozen=True, slots=True)
class DryingPlan:
    """How to dry a lot from one moisture to another.

    `stop_at_g` is the target weight rounded down to what the scale shows. The desiccants are grams of
    dry, freshly baked beads or gel.
    """

    from_percent_wb: float
    to_percent_wb: float
    mass_g: float
    target_g: float
    stop_at_g: float
    water_g: float
    loss_percent: float
    beads_g: float
    silica_gel_g: float
    stages: tuple[DryingStage, ...]
    notes: tuple[str, ...]
    source: str


def desiccant_g(water_g: float, capacity_percent: float) -> float:
    """Reckon the dry desiccant that takes up an amount of water.

    Parameters
    ----------
    water_g : float
        Grams, 0 or more.
    capacity_percent : float
        What the desiccant takes up, in percent of its own dry weight, more than 0 and at most 100.

    Returns
    -------
    float
        Grams.

    Raises
    ------
    DryingError
        A figure is out of range.

    Source
    ------
    Follows from the capacity: 20 to 25 % for drying beads, UC Davis Horticulture Innovation Lab 2011.

    Examples
    --------
    >>> desiccant_g(5.0, 20.0)
    25.0
    """
    if not (water_g >= 0 and math.isfinite(water_g)):
        raise DryingError(f"{water_g:g} g of water cannot be taken up. Give 0 or more.")
    if not 0 < capacity_percent <= 100:
        raise DryingError(
            f"A capacity of {capacity_percent:g} % is out of range. Give more than 0, at most 100 %."
        )
    return 100 * water_g / capacity_percent


def drying_plan(
    mass_g: float,
    from_percent_wb: float,
    to_percent_wb: float,
    *,
    step_g: float = 0.01,
    oily: bool | None = None,
) -> DryingPlan:
    """Plan the drying of a lot.

    Parameters
    ----------
    mass_g : float
        Weight now, more than 0.
    from_percent_wb, to_percent_wb : float
        Moisture now and wanted, percent of fresh weight, 0 to under 100; the second not above the first.
    step_g : float
        The smallest step of the scale, more than 0.
    oily : bool or None
        Whether the seed is rich in oil, where known; it only changes the notes.

    Returns
    -------
    DryingPlan

    Raises
    ------
    DryingError
        The seed would have to take up water, or the step of the scale is none.
    MoistureError
        A weight or moisture is out of range.

    Source
    ------
    Weight: IRRI Rice Knowledge Bank, Moisture content calculations. Beads: UC Davis Horticulture Innovation Lab
    2011. Weight of silica gel equal to that of the seed: from memory.

    Examples
    --------
    >>> plan = drying_plan(100, 12, 6)
    >>> plan.stop_at_g, round(plan.water_g, 2), round(plan.beads_g, 1), plan.silica_gel_g
    (93.61, 6.38, 31.9, 100.0)
    """
    if to_percent_wb > from_percent_wb:
        raise DryingError(
            f"From {from_percent_wb:g} to {to_percent_wb:g} % is wetting, not drying. Give a lower moisture to come to."
        )
    if not step_g > 0:
        raise DryingError(f"A scale with steps of {step_g:g} g cannot be. Give more than 0.")
    target = mass_after_drying(mass_g, from_percent_wb, to_percent_wb)
    # Seed that is to stay as it is loses nothing; a rounding of the last digit would have it take water up.
    water = max(0.0, mass_g - target)
    beads, gel = rule("drying_beads_capacity_percent"), rule("silica_gel_share_of_seed")
    return DryingPlan(
        from_percent_wb=from_percent_wb,
        to_percent_wb=to_percent_wb,
        mass_g=mass_g,
        target_g=target,
        # A hair is added first: 0.94 must not become 0.93 by its last binary digit.
        stop_at_g=round(math.floor(target / step_g + 1e-9) * step_g, 9),
        water_g=water,
        loss_percent=100 * water / mass_g,
        beads_g=desiccant_g(water, beads.value),
        silica_gel_g=max(gel.value * mass_g, desiccant_g(water, rule("silica_gel_capacity_percent").value))
        if water
        else 0.0,
        stages=_stages(mass_g, from_percent_wb, to_percent_wb),
        notes=_notes(from_percent_wb, to_percent_wb, oily, beads),
        source=f"weight: IRRI Rice Knowledge Bank, Moisture content calculations; beads: {beads.source}; "
        f"silica gel: {gel.source}",
    )


def _stages(mass_g: float, from_percent_wb: float, to_percent_wb: float) -> tuple[DryingStage, ...]:
    """Give the weight at each whole point of moisture on the way, the last being the goal."""
    points = range(math.ceil(from_percent_wb) - 1, math.floor(to_percent_wb), -1)
    wanted = [float(point) for point in points if to_percent_wb < point < from_percent_wb]
    return tuple(
        DryingStage(point, mass_after_drying(mass_g, from_percent_wb, point))
        for point in [*wanted, to_percent_wb]
    )


def _notes(from_percent_wb: float, to_percent_wb: float, oily: bool | None, beads: Rule) -> tuple[str, ...]:
    """Say what to mind with these moistures."""
    notes = list(_HINTS)
    if from_percent_wb > rule("drying_air_first_percent_wb").value:
        notes.append(
            f"Seed at {from_percent_wb:g} % is wet: dry it thin in moving air first, never warmer than 35 °C, "
            "and use desiccant for the last points only."
        )
    lowest = rule("drying_brittle_percent_wb").value
    if to_percent_wb < lowest and not oily:
        notes.append(
            f"Below about {lowest:g} % large seed of the bean family may turn hard or crack, and starchy seed gains "
            "little."
        )
    notes.append(
        f"Beads are reckoned to take up {beads.value:g} % of their weight; bake desiccant dry before use and keep it "
        "apart from the seed with paper or cloth. Some humidity indicators are poisonous: see their label."
    )
    return tuple(notes)
