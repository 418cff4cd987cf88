"""Ripening: how long seed takes from the bloom, and why some of it is empty."""

from dataclasses import dataclass
from datetime import date, timedelta
from functools import cache

from hilum.seedlore.tables import table

# Common practice, no source.
EMPTY_SEED = (
    "Empty seeds come from flowers that were not pollinated: light, blown out with the chaff, no sign of age."
)


@dataclass(frozen=True, slots=True)
class Ripening:
    """Days from the bloom of a crop to its ripe seed, with the words to say so and their source."""

    crop: str
    days_from: int
    days_to: int
    words: str
    source: str

    def ripe(self, bloom_on: date) -> tuple[date, date]:
        """Give the first and the last day on which seed of flowers that opened on a day is ripe."""
        return bloom_on + timedelta(days=self.days_from), bloom_on + timedelta(days=self.days_to)


def ripening(crop_key: str) -> Ripening | None:
    """Give what is known of a crop's ripening.

    Parameters
    ----------
    crop_key : str
        As in the crop table.

    Returns
    -------
    Ripening or None
        None where nothing is known.

    Source
    ------
    Each row of `ripening.csv` names its own.

    Examples
    --------
    >>> ripening("lettuce").days_to
    24
    """
    return _known().get(crop_key)


@cache
def _known() -> dict[str, Ripening]:
    return {
        line.text("crop"): Ripening(
            line.text("crop"),
            line.whole("days_from"),
            line.whole("days_to"),
            line.text("words"),
            line.text("source"),
        )
        for line in table("ripening")
    }
