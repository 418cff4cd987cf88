"""What keepers know from practice and no paper says: kept apart from published figures, and marked so."""

from dataclasses import dataclass
from functools import cache

from hilum.seedlore.tables import Line, table


@dataclass(frozen=True, slots=True)
class PracticeFact:
    """One fact of practice of a crop: a figure with its unit, and what it is of; `high` is None for one figure."""

    crop: str
    about: str
    low: float
    high: float | None
    unit: str
    rest: str
    source: str

    @property
    def words(self) -> str:
        """The fact as a keeper reads it, with its figure and unit."""
        span = f"{self.low:g}" if self.high is None else f"{self.low:g} to {self.high:g}"
        return f"{span} {self.unit} {self.rest}"


def practice_facts(crop: str) -> tuple[PracticeFact, ...]:
    """Give what practice knows of a crop; how it ripens stands in `ripening`.

    Parameters
    ----------
    crop : str
        The crop's key, for instance "lettuce".

    Returns
    -------
    tuple of PracticeFact
        Empty where nothing is known.

    Source
    ------
    Each fact names its own: common practice, no source.

    Examples
    --------
    >>> practice_facts("lettuce")[0].words
    '10 to 15 g of clean seed from one good plant'
    """
    return tuple(one for one in _facts() if one.crop == crop)


@cache
def _facts() -> tuple[PracticeFact, ...]:
    return tuple(_read(line) for line in table("practice"))


def _read(line: Line) -> PracticeFact:
    low, high = line.number("low"), line.optional_number("high")
    if low <= 0 or (high is not None and high < low):
        raise line.wrong(f"{low:g} to {high} cannot be")
    return PracticeFact(
        line.text("crop"),
        line.text("about"),
        low,
        high,
        line.text("unit"),
        line.text("words"),
        line.text("source"),
    )
