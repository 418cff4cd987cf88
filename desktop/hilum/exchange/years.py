"""Years of harvest: four digits, or two where only one century can be meant."""

import re
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from hilum.exchange.numerals import western_digits
from hilum.exchange.trouble import Trouble
from hilum.exchange.words import folded, shown

EARLIEST_YEAR = 1900
_OLDEST_SHORT_YEAR = 50  # years back; an older one must be written out
_UNKNOWN = {"unknown", "not known", "unbekannt", "desconocido", "desconocida", "inconnu", "inconnue"}
_SEASON = re.compile(r"((?:19|20)?[0-9]{2})\s*[/–-]\s*((?:19|20)?[0-9]{2})")
_SHORT = re.compile(r"['’‘`´]?([0-9]{2})")
_ANY_YEAR = re.compile(r"(?<![0-9])(?:19|20)[0-9]{2}(?![0-9])")
_HINT = 'Write the year of harvest with four digits, or "unknown".'


@dataclass(frozen=True, slots=True)
class Year:
    """A year of harvest, None when the grower does not know it."""

    year: int | None
    said: tuple[str, ...] = ()


def read_year(text: str, typed: object, today: date) -> Year | Trouble:
    """Read a year of harvest, or say why it cannot be one."""
    text = text.strip()
    if isinstance(typed, date):
        return Trouble(f"The cell holds the date {text}, not a year. {_HINT}")
    if isinstance(typed, Decimal) and typed != typed.to_integral_value():
        return Trouble(f"{shown(text)} is not a year. {_HINT}")
    if not text:
        return Trouble(f"No year of harvest. {_HINT}")
    if folded(text) in _UNKNOWN or text in {"?", "??", "????"}:
        return Year(None, (f"year {shown(text)} taken as not known",))
    plain = western_digits(text)
    if re.fullmatch("[0-9]{4}", plain):
        return _checked(int(plain), text, today)
    if short := _SHORT.fullmatch(plain):
        year = full_year(int(short[1]), today)
        if year is None:
            return Trouble(f"{shown(text)} could be {EARLIEST_YEAR + int(short[1])}, long ago. {_HINT}")
        return Year(year, (f"{text} taken as {year}",))
    if season := _SEASON.fullmatch(plain):
        return Trouble(
            f"{shown(text)} names two years. Write the one in which the seed was harvested "
            f"({season[1]} or {season[2]})."
        )
    found = set(_ANY_YEAR.findall(plain))
    suggestion = found.pop() if len(found) == 1 else None
    if suggestion is not None and not EARLIEST_YEAR <= int(suggestion) <= today.year:
        suggestion = None
    return Trouble(f"{shown(text)} is not a year. {_HINT}", suggestion)


def full_year(two_digits: int, today: date) -> int | None:
    """Give the latest year, not in the future, that ends in these digits; None when that is long ago."""
    year = today.year - (today.year - two_digits) % 100
    return year if today.year - year <= _OLDEST_SHORT_YEAR else None


def _checked(year: int, text: str, today: date) -> Year | Trouble:
    if year > today.year:
        return Trouble(f"{shown(text)} is in the future. {_HINT}")
    if year < EARLIEST_YEAR:
        return Trouble(f"{shown(text)} is before {EARLIEST_YEAR}. {_HINT}")
    return Year(year)
