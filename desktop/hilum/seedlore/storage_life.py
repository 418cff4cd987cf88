"""Usual storage life: what handbooks print for a kind in ordinary keeping, for want of anything better."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from hilum.seedlore.tables import Line, table

# What a printed figure means: a usual life, a careful figure a seedsman stands by, the most that was seen.
_MEANINGS = {
    "greatest age for satisfactory germination, conservative": "careful",
    "maximum useful life": "most",
}
LEAST_SPREAD = 0.3  # of the natural logarithm; three lists that copy one another are no proof of three


@dataclass(frozen=True, slots=True)
class PrintedLife:
    """One printed figure of how long seed of a kind keeps."""

    kind: str
    years_low: float
    years_high: float
    measure: str
    conditions: str
    source: str
    read: str

    @property
    def meaning(self) -> str:
        """What the figure says: a usual life, a careful one, or the most."""
        return _MEANINGS.get(self.measure, "usual")


@dataclass(frozen=True, slots=True)
class UsualLife:
    """What the printed figures say together: a middle, and how far they scatter, as a wide prior.

    `log_spread` is the standard deviation of the natural logarithm of the years, never below 0.3.
    """

    years: float
    log_spread: float
    years_low: float
    years_high: float
    figures: tuple[PrintedLife, ...]
    words: str


@cache
def _lives() -> dict[str, tuple[PrintedLife, ...]]:
    found: dict[str, list[PrintedLife]] = {}
    for line in table("storage_life"):
        if line.text("crops") == "none":
            continue
        for crop in line.pieces("crops"):
            found.setdefault(crop, []).append(_read(line))
    return {crop: tuple(lives) for crop, lives in found.items()}


def _read(line: Line) -> PrintedLife:
    low, high = line.number("years_low"), line.number("years_high")
    if not 0 < low <= high:
        raise line.wrong(f"{low:g} to {high:g} years cannot be")
    return PrintedLife(
        line.text("kind"),
        low,
        high,
        line.text("measure"),
        line.text("conditions"),
        line.text("source"),
        line.text("read"),
    )


def printed_lives(crop: str) -> tuple[PrintedLife, ...]:
    """Give every printed figure of the storage life of a crop.

    Parameters
    ----------
    crop : str
        The crop's key, for instance "leek".

    Returns
    -------
    tuple of PrintedLife
        Empty where none is known.

    Source
    ------
    Each figure names its own.

    Examples
    --------
    >>> len(printed_lives("parsnip"))
    8
    """
    return _lives().get(crop, ())


def usual_life(crop: str) -> UsualLife | None:
    """Join the printed figures of a crop's storage life into a wide guess.

    The middle is the geometric mean of the middles; the spread is that of their logarithms, widened
    by the ranges that are printed, and never less than 0.3: the lists copy one another.

    Parameters
    ----------
    crop : str
        The crop's key.

    Returns
    -------
    UsualLife or None
        None where nothing is printed. Figures that mean the most ever seen are left out.

    Source
    ------
    Each figure names its own; joining them is our own choice.

    Examples
    --------
    >>> round(usual_life("parsnip").years, 1), round(usual_life("cucumber").years, 1)
    (1.0, 5.0)
    """
    figures = tuple(one for one in printed_lives(crop) if one.meaning != "most")
    if not figures:
        return None
    middles = [(math.log(one.years_low) + math.log(one.years_high)) / 2 for one in figures]
    within = [(math.log(one.years_high) - math.log(one.years_low)) / 4 for one in figures]
    mean = sum(middles) / len(middles)
    spread = max(LEAST_SPREAD, math.sqrt(_variance(middles) + sum(w * w for w in within) / len(within)))
    low, high = min(one.years_low for one in figures), max(one.years_high for one in figures)
    span = f"{low:g}" if low == high else f"{low:g} to {high:g}"
    said = "one printed figure" if len(figures) == 1 else f"{len(figures)} printed figures"
    words = f"usually {span} years in ordinary keeping, by {said}"
    return UsualLife(math.exp(mean), spread, low, high, figures, words)


def _variance(logs: Sequence[float]) -> float:
    if len(logs) < 2:
        return 0.0
    mean = sum(logs) / len(logs)
    return sum((one - mean) ** 2 for one in logs) / (len(logs) - 1)


@dataclass(frozen=True, slots=True)
class OilContent:
    """Oil in percent of a seed's dry weight, and where the figure is from."""

    percent_db: float
    source: str


def oil_content(genus_and_species: str) -> OilContent | None:
    """Give the usual oil content of a species' seed.

    Parameters
    ----------
    genus_and_species : str
        For instance "Lactuca sativa".

    Returns
    -------
    OilContent or None
        None where it is not known.

    Source
    ------
    Each figure names its own; a figure from memory says so.

    Examples
    --------
    >>> oil_content("Lactuca sativa").percent_db
    35.0
    """
    for line in table("oil_content"):
        if line.text("species") == genus_and_species:
            return OilContent(line.number("oil_percent_db"), line.text("source"))
    return None
