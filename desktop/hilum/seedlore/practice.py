"""What keepers know from practice and no paper says: kept apart from published figures, and marked so."""

from dataclasses import dataclass
from functools import cache

from hilum.seedlore.tables import Line, table

ALL_CROPS = "all"


@dataclass(frozen=True, slots=True)
class PracticeFact:
    """One fact of practice: of a crop, or of all (`crop` is "all").

    `low` and `high` are None where no figure belongs to the fact; `high` also where one figure does.
    """

    crop: str
    about: str
    low: float | None
    high: float | None
    unit: str
    rest: str
    source: str

    @property
    def words(self) -> str:
        """The fact as a keeper reads it, with its figure and unit."""
        if self.low is None:
            return self.rest
        span = f"{self.low:g}" if self.high is None else f"{self.low:g} to {self.high:g}"
        return f"{span} {self.unit} {self.rest}"


def practice_facts(crop: str) -> tuple[PracticeFact, ...]:
    """Give what practice knows of a crop, its own facts first, then those of every crop.

    Parameters
    ----------
    crop : str
        The crop's key, for instance "lettuce".

    Returns
    -------
    tuple of PracticeFact

    Source
    ------
    Each fact names its own: common practice, no source.

    Examples
    --------
    >>> practice_facts("lettuce")[0].words
    '12 to 24 days from bloom to ripe seed: go over the plants more than once'
    >>> [one.about for one in practice_facts("leek")]
    ['empty seed']
    """
    own = tuple(one for one in _facts() if one.crop == crop and crop != ALL_CROPS)
    return own + tuple(one for one in _facts() if one.crop == ALL_CROPS)


@cache
def _facts() -> tuple[PracticeFact, ...]:
    return tuple(_read(line) for line in table("practice"))


def _read(line: Line) -> PracticeFact:
    low, high = line.optional_number("low"), line.optional_number("high")
    if low is None and high is not None:
        raise line.wrong("high stands without low")
    if low is not None and (low <= 0 or (high is not None and high < low)):
        raise line.wrong(f"{low:g} to {high} cannot be")
    return PracticeFact(
        line.text("crop"),
        line.text("about"),
        low,
        high,
        line.text("unit") if low is not None else "",
        line.text("words"),
        line.text("source"),
    )
