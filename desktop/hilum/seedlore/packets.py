"""Packets: how many seeds are usual in one, filling by a measured spoon, and the check weight of ten packets."""

import math
from dataclasses import dataclass

from hilum.seedlore.tables import rule, table
from hilum.seedlore.weights import WeightError, mass_of

SPOONS_COUNTED = 5
PACKETS_CHECKED = 10
RIGHT, TOO_LITTLE, TOO_MUCH = "right", "too little", "too much"


def usual_packet_seeds(tsw_g: float | None) -> int:
    """Say how many seeds are usual in a packet of seed of some size.

    Parameters
    ----------
    tsw_g : float or None
        Thousand-seed weight in grams, more than 0; None where it is not known.

    Returns
    -------
    int

    Source
    ------
    Common practice, no source: enough for a household's row, fewer the larger the seed.

    Examples
    --------
    >>> usual_packet_seeds(2.6), usual_packet_seeds(400.0)
    (50, 12)
    """
    lines = table("packet_seeds")
    if tsw_g is None:
        return next(line.whole("seeds") for line in lines if line.optional_number("tsw_below_g") is None)
    for line in lines:
        below_g = line.optional_number("tsw_below_g")
        if below_g is not None and tsw_g < below_g:
            return line.whole("seeds")
    return lines[-2].whole("seeds")


@dataclass(frozen=True, slots=True)
class SpoonFill:
    """What goes into one packet by level spoons: `mass_mg` is reckoned, for the scale is too coarse for it."""

    spoons: int
    seeds_filled: int
    mass_mg: int


def spoon_fill(seeds: int, seeds_in_five: int, tsw_ug: int) -> SpoonFill:
    """Reckon how many level spoons hold a number of seeds, rounded up so that no packet is short.

    Parameters
    ----------
    seeds : int
        Seeds wanted in the packet, 1 or more.
    seeds_in_five : int
        Seeds counted in five level spoons together, 1 or more.
    tsw_ug : int
        Thousand-seed weight in micrograms, more than 0.

    Returns
    -------
    SpoonFill

    Raises
    ------
    WeightError
        A figure cannot be.

    Source
    ------
    Learn Seed Saving, Packaging: five spoons counted once. Rounding up: our own choice.

    Examples
    --------
    >>> spoon_fill(40, seeds_in_five=130, tsw_ug=100_000)
    SpoonFill(spoons=2, seeds_filled=52, mass_mg=6)
    """
    if seeds < 1 or seeds_in_five < 1:
        raise WeightError(
            f"{seeds} seeds by spoons of which five hold {seeds_in_five} cannot be. Give 1 or more of both."
        )
    spoons = -(-seeds * SPOONS_COUNTED // seeds_in_five)
    filled = spoons * seeds_in_five // SPOONS_COUNTED
    return SpoonFill(spoons, filled, mass_of(filled, tsw_ug))


@dataclass(frozen=True, slots=True)
class CheckOfTen:
    """What ten packets weighed against what they should: masses in milligrams, of the seed in all ten together."""

    found_mg: int
    wanted_mg: int
    tolerance_mg: int
    verdict: str
    words: str


def tolerance_of_ten(fill_mg: int, step_mg: int) -> int:
    """Say how far the seed of ten packets may be from ten fills.

    Parameters
    ----------
    fill_mg : int
        Of one packet, more than 0.
    step_mg : int
        The smallest step of the scale, 1 or more.

    Returns
    -------
    int
        Milligrams, rounded up.

    Raises
    ------
    WeightError
        A figure is not more than 0.

    Source
    ------
    Common practice, no source: a twentieth of the fill, and what ten fillings and two weighings on the scale may
    differ by chance (three of its steps).

    Examples
    --------
    >>> tolerance_of_ten(110, step_mg=10)
    85
    """
    if fill_mg < 1 or step_mg < 1:
        raise WeightError(f"A fill of {fill_mg} mg on steps of {step_mg} mg cannot be. Give more than 0.")
    share = rule("check_weight_share_percent").value / 100
    steps = rule("check_weight_scale_steps").value
    return math.ceil(round(share * PACKETS_CHECKED * fill_mg + steps * step_mg, 6))


def check_of_ten(fill_mg: int, empty_mg: int, filled_mg: int, step_mg: int) -> CheckOfTen:
    """Hold the weight of ten filled packets against what they should hold.

    Parameters
    ----------
    fill_mg : int
        Wanted in one packet, more than 0.
    empty_mg, filled_mg : int
        Ten packets together, empty and filled; the filled ones weigh more.
    step_mg : int
        The smallest step of the scale, 1 or more.

    Returns
    -------
    CheckOfTen
        `verdict` is one of `RIGHT`, `TOO_LITTLE`, `TOO_MUCH`.

    Raises
    ------
    WeightError
        A figure cannot be.

    Source
    ------
    Tolerance: as `tolerance_of_ten`.

    Examples
    --------
    >>> check_of_ten(110, empty_mg=21_500, filled_mg=22_620, step_mg=10).verdict
    'right'
    """
    if not 0 <= empty_mg < filled_mg:
        raise WeightError("Ten filled packets weigh more than ten empty ones. Weigh both again.")
    found, wanted = filled_mg - empty_mg, PACKETS_CHECKED * fill_mg
    tolerance = tolerance_of_ten(fill_mg, step_mg)
    off = found - wanted
    verdict = RIGHT if abs(off) <= tolerance else TOO_LITTLE if off < 0 else TOO_MUCH
    low, high = max(0, wanted - tolerance), wanted + tolerance
    words = f"Ten packets hold {_grams(found)}; {_grams(low)} to {_grams(high)} is right."
    if verdict != RIGHT:
        words += f" That is {100 * abs(off) / wanted:.0f} % {verdict}: empty them and fill again."
    return CheckOfTen(found, wanted, tolerance, verdict, words)


def _grams(mass_mg: int) -> str:
    return f"{mass_mg / 1000:.2f} g"
