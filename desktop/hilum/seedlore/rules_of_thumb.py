"""Rules of thumb for storage, kept apart from the equation: use them only where there are no constants."""

from dataclasses import dataclass

from hilum.seedlore.arrays import check_between

LABEL = "rule of thumb"
SOURCE = (
    "Harrington's rules: Tamil Nadu Agricultural University, seed technology pages, Seed storage; rules 1 and 2 "
    "also IRRI Rice Knowledge Bank, Moisture content for safe storage"
)
_GENEROUS = "It promises too much for cold and for moist seed; use it only where there are no constants."


@dataclass(frozen=True, slots=True)
class ThumbRule:
    """The answer of a rule of thumb, which is always shown with these words."""

    value: float
    words: str
    source: str = SOURCE


def life_factor(from_moisture: float, from_c: float, to_moisture: float, to_c: float) -> ThumbRule:
    """Say how many times longer seed lives in one store than in another, by Harrington's two rules.

    One point of moisture less doubles life, and so do five degrees less.

    Parameters
    ----------
    from_moisture, to_moisture : float
        Percent of fresh weight, 5 to 14.
    from_c, to_c : float
        0 to 50 °C.

    Returns
    -------
    ThumbRule

    Raises
    ------
    RangeError
        A figure is outside the range of the rules.

    Source
    ------
    Harrington's rules 1 and 2: Tamil Nadu Agricultural University; IRRI Rice Knowledge Bank.

    Examples
    --------
    >>> life_factor(10, 20, 8, 10).value
    16.0
    """
    for moisture in (from_moisture, to_moisture):
        check_between(moisture, 5.0, 14.0, "A moisture", "%")
    for warmth in (from_c, to_c):
        check_between(warmth, 0.0, 50.0, "A storage temperature", "°C")
    times = float(2.0 ** ((from_moisture - to_moisture) + (from_c - to_c) / 5.0))
    return ThumbRule(times, f"{LABEL}: life changes by the factor {times:.3g}. {_GENEROUS}")


def hundred_rule(storage_c: float, humidity_percent: float) -> ThumbRule:
    """Say whether a store keeps to the rule of a hundred: humidity in percent plus warmth in °F.

    Of the hundred the warmth may make up fifty at most. The value is 1 where the rule is kept, else 0.

    Parameters
    ----------
    storage_c : float
        -20 to 50 °C.
    humidity_percent : float
        Relative humidity, 0 to 100.

    Returns
    -------
    ThumbRule

    Raises
    ------
    RangeError
        A figure is out of range.

    Source
    ------
    Harrington's rule 3: Tamil Nadu Agricultural University.

    Examples
    --------
    >>> hundred_rule(10, 50).value, hundred_rule(20, 50).value
    (1.0, 0.0)
    """
    check_between(storage_c, -20.0, 50.0, "A storage temperature", "°C")
    check_between(humidity_percent, 0.0, 100.0, "A relative humidity", "%")
    fahrenheit = storage_c * 9.0 / 5.0 + 32.0
    total = fahrenheit + humidity_percent
    kept = total <= 100.0 + 1e-9 and fahrenheit <= 50.0 + 1e-9
    word = "is kept" if kept else "is not kept"
    words = f"{LABEL}: {fahrenheit:.0f} °F and {humidity_percent:g} % make {total:.0f}; the hundred {word}. {_GENEROUS}"
    return ThumbRule(1.0 if kept else 0.0, words)
