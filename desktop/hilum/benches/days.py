"""A day as a person writes it into one field."""

from datetime import date

from hilum.errors import BadInput
from hilum.exchange.dates import date_words, readings_of
from hilum.exchange.numerals import western_digits
from hilum.exchange.trouble import Trouble
from hilum.exchange.words import listed

_HOW = "Write year, month and day, as 2026-11-05."
# Only years of two digits are read by the day one has, and these are refused.
_ANY_DAY = date(2099, 12, 31)


def day_written(text: str) -> date:
    """Give the day that was typed: 2026-11-05, 20261105, 5 Nov 2026, 25.11.2026.

    Raises
    ------
    BadInput
        The text is no day, only a month or a year, a day that can be read in two ways, or its year has two digits:
        a field like this takes days to come as well, so nothing says which century is meant.
    """
    readings = readings_of(text, None, _ANY_DAY)
    if readings is None:
        raise BadInput(f"There is no date. {_HOW}")
    if isinstance(readings, Trouble):
        raise BadInput(f"“{text.strip()}” is not a date. {_HOW}")
    ways = [each for _, each in readings.by_order]
    if len(ways) > 1:
        both = listed([date_words(each) for each in ways], "or")
        raise BadInput(f"“{text.strip()}” can be read in two ways, {both}. {_HOW}")
    [only] = ways
    if only.precision != "day":
        raise BadInput(f"“{text.strip()}” says only the {only.precision}. {_HOW}")
    if str(only.on.year) not in western_digits(text):
        raise BadInput(f"“{text.strip()}” has no year of four digits. {_HOW}")
    return only.on
