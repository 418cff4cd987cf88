"""Crossing: how a crop is kept apart from others, and which two lots of one garden would cross."""

from dataclasses import dataclass

from hilum.errors import BadInput
from hilum.seedlore.crop_records import Crop, crop_name
from hilum.seedlore.tables import table

YES, RARELY, NO = "yes", "rarely", "no"
_ANSWERS = (YES, RARELY, NO)
_MATINGS = ("outcrossing", "mixed", "selfing")


class CrossingError(BadInput):
    """A question about crossing that cannot be answered."""


@dataclass(frozen=True, slots=True)
class IsolationWay:
    """One way other than distance to keep a crop true."""

    way: str
    words: str
    source: str


@dataclass(frozen=True, slots=True)
class Isolation:
    """How a crop is kept true: a distance, and what to do where there is no room for it."""

    crop: str
    distance_m_min: float | None
    distance_m_max: float | None
    ways: tuple[IsolationWay, ...]
    words: str
    source: str


@dataclass(frozen=True, slots=True)
class Crossing:
    """Whether two crops that flower together would cross: yes, rarely or no."""

    answer: str
    why: str
    source: str

    @property
    def would_cross(self) -> bool:
        """Whether the two must be kept apart: they cross, if only now and then."""
        return self.answer != NO


def isolation(of: Crop) -> Isolation:
    """Say how a crop is kept from crossing: by distance, by time, or under a cage.

    Parameters
    ----------
    of : Crop

    Returns
    -------
    Isolation
        Distances in metres, None where none is known.

    Source
    ------
    Distance: the crop's own sources. The other ways: common practice, no source.

    Examples
    --------
    >>> from hilum.seedlore.crop_records import crop
    >>> found = isolation(crop("lettuce"))
    >>> found.distance_m_min, found.distance_m_max, [one.way for one in found.ways]
    (4.0, 46.0, ['distance', 'cage', 'time'])
    """
    ways = tuple(
        IsolationWay(line.text("way"), line.text("words"), line.text("source"))
        for line in table("isolation_ways")
        if line.one_of("mating", _MATINGS) == of.mating and line.text("pollination") == of.pollination
    )
    low, high = of.isolation_m_min, of.isolation_m_max
    if low is None and high is None:
        distance = "No distance is known for this crop: keep it as far from others of its species as you can."
    elif low is None or high is None or low == high:
        distance = f"Keep {low if low is not None else high:g} m from others it crosses with."
    else:
        distance = (
            f"Keep {low:g} to {high:g} m from others it crosses with: less behind hedges and for seed of your own, "
            "more in the open and for seed that is handed on."
        )
    cited = "; ".join(one.citation for one in of.sources) or "from memory"
    return Isolation(of.key, low, high, ways, distance, cited)


def would_cross(first: Crop, second: Crop) -> Crossing:
    """Say whether two lots that flower in one garden at one time would cross.

    Parameters
    ----------
    first, second : Crop
        The same crop twice for two varieties of it.

    Returns
    -------
    Crossing

    Source
    ------
    Same species: how the species mates, from the crop's sources. Squash: T. W. Whitaker and G. N. Davis (1962),
    Cucurbits, from memory. Cabbages: N. U (1935), Japanese Journal of Botany 7, 389-452.

    Examples
    --------
    >>> from hilum.seedlore.crop_records import crop
    >>> would_cross(crop("cabbage"), crop("kale")).answer
    'yes'
    >>> would_cross(crop("squash-pepo"), crop("squash-maxima")).answer
    'no'
    """
    names = [crop_name(one) for one in (first, second)]
    if first.binomial == second.binomial:
        return _same_species(first, second, names)
    for line in table("crossing"):
        if {line.text("first"), line.text("second")} == {first.binomial, second.binomial}:
            answer = line.one_of("crosses", _ANSWERS)
            return Crossing(answer, f"{' and '.join(names)}: {line.text('why')}.", line.text("source"))
    if first.genus == second.genus:
        why = (
            f"{' and '.join(names)} are different species of {first.genus}, which mostly do not cross; whether these "
            "two do is not known here. Keep them apart if the seed matters."
        )
        return Crossing(RARELY, why, "common practice, no source")
    return Crossing(
        NO, f"{' and '.join(names)} are not of one genus and do not cross.", "common practice, no source"
    )


def _same_species(first: Crop, second: Crop, names: list[str]) -> Crossing:
    """Answer for two crops of one species: the one that crosses more decides."""
    mating = next((one for one in _MATINGS if one in (first.mating, second.mating)), None)
    together = names[0] if first is second else " and ".join(names)
    source = "; ".join(one.citation for one in first.sources) or "from memory"
    if mating is None:
        why = f"{together}: one species, of which it is not known how it mates. Take it that they cross."
        return Crossing(YES, why, source)
    if mating == "selfing":
        why = (
            f"{together}: one species, but a selfing one: they cross only where they stand close. A few metres keep "
            "most of it off, more in hot summers."
        )
        return Crossing(RARELY, why, source)
    how = "crosses freely" if mating == "outcrossing" else "sets seed alone and also crosses"
    return Crossing(YES, f"{together}: one species ({first.binomial}), which {how}.", source)


def crossing_pairs(crops: tuple[Crop, ...]) -> tuple[tuple[int, int, Crossing], ...]:
    """Find all pairs among the lots of a garden that must be kept apart.

    Parameters
    ----------
    crops : tuple of Crop
        One for each lot that will flower, 2 or more.

    Returns
    -------
    tuple of (first, second, Crossing)
        Places in `crops`, the surest crossing first.

    Raises
    ------
    CrossingError
        Fewer than two lots.

    Source
    ------
    As `would_cross`.

    Examples
    --------
    >>> from hilum.seedlore.crop_records import crop
    >>> found = crossing_pairs((crop("cabbage"), crop("leek"), crop("kale")))
    >>> [(one, other, pair.answer) for one, other, pair in found]
    [(0, 2, 'yes')]
    """
    if len(crops) < 2:
        raise CrossingError("Give two lots or more to see which of them would cross.")
    found = [
        (one, other, would_cross(crops[one], crops[other]))
        for one in range(len(crops))
        for other in range(one + 1, len(crops))
    ]
    return tuple(
        sorted((pair for pair in found if pair[2].would_cross), key=lambda pair: pair[2].answer != YES)
    )
