"""Dates: ISO, day first, month first, with month names in four languages, or only a month or a year.

A date of figures alone may be read in two ways. One cell with a part over 12 proves the order for its file;
where none does, or two disagree, such a date is refused with both readings.
"""

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal

from hilum.exchange.numerals import western_digits
from hilum.exchange.trouble import ASKS_DATE_ORDER, Trouble
from hilum.exchange.words import folded, listed, shown
from hilum.exchange.years import EARLIEST_YEAR, full_year

Precision = Literal["day", "month", "year"]
DAY_FIRST, MONTH_FIRST, YEAR_FIRST = "day first", "month first", "year first"
DATE_ORDERS = (DAY_FIRST, MONTH_FIRST, YEAR_FIRST)
_MONTHS = (
    "jan january januar janner enero ene janvier janv",
    "feb february februar febrero fevrier fevr fev",
    "mar march marz maerz mrz marzo mars",
    "apr april abril abr avril avr",
    "may mai mayo",
    "jun june juni junio juin",
    "jul july juli julio juil juillet",
    "aug august agosto ago aout",
    "sep sept september septiembre set setiembre septembre",
    "oct october okt oktober octubre octobre",
    "nov november noviembre novembre",
    "dec december dez dezember diciembre dic decembre",
)
_MONTH_OF_WORD = {word: number for number, words in enumerate(_MONTHS, 1) for word in words.split()}
_MONTH_SHORT = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sept", "Oct", "Nov", "Dec")
_UNKNOWN = {"unknown", "not known", "unbekannt", "desconocido", "desconocida", "inconnu", "inconnue"}
_TIME = re.compile(
    r"[T ]\s*[0-9]{1,2}:[0-9]{2}(?::[0-9]{2}(?:\.[0-9]+)?)?(?:\s*[AaPp][Mm])?(?:Z|[+-][0-9]{2}:?[0-9]{2})?"
)
_ISO = re.compile(r"([0-9]{4})[-/.]([0-9]{1,2})[-/.]([0-9]{1,2})")
_COMPACT = re.compile(r"((?:19|20)[0-9]{2})([0-9]{2})([0-9]{2})")
_FIGURES = re.compile(r"([0-9]{1,2})\s*([./ -])\s*([0-9]{1,2})\s*\2\s*([0-9]{4}|[0-9]{2})")
_MONTH_YEAR = re.compile(r"([0-9]{1,2})[./-]([0-9]{4})|([0-9]{4})[-/.]([0-9]{1,2})")
_ORDINAL = re.compile(r"(?<=[0-9])(?:st|nd|rd|th|er|º|ª)\b", re.IGNORECASE)
_LINKS = {"de", "del", "of", "the", "le", "den", "am", "el"}
_HINT = "Write it like 2025-10-04 (year, month, day)."


@dataclass(frozen=True, slots=True)
class PartialDate:
    """A date as far as it is known: the first day it can be, and how precise it is."""

    on: date
    precision: Precision = "day"


@dataclass(frozen=True, slots=True)
class DateReadings:
    """Every way one cell can be read, by order of day, month and year; one order "" when it is no matter."""

    written: str
    by_order: tuple[tuple[str, PartialDate], ...]

    @property
    def proves(self) -> str | None:
        """The order this cell proves by being readable in that order alone."""
        if len(self.by_order) == 1 and self.by_order[0][0]:
            return self.by_order[0][0]
        return None


@dataclass(frozen=True, slots=True)
class DateOrder:
    """The order of day and month in one file, None when not settled, and what proves it."""

    order: str | None
    proof: str
    is_contradicted: bool = False


def date_words(when: PartialDate) -> str:
    """Give a date in words, as far as it is known: 4 Oct 2025, Oct 2025, 2025."""
    month = _MONTH_SHORT[when.on.month - 1]
    words = {"year": f"{when.on.year}", "month": f"{month} {when.on.year}"}
    return words.get(when.precision, f"{when.on.day} {month} {when.on.year}")


def readings_of(text: str, typed: object, today: date) -> DateReadings | Trouble | None:
    """Give every reading of a cell; None when it says that no date is known."""
    text = text.strip()
    if isinstance(typed, date):
        return _only(text, PartialDate(typed))
    if not text or folded(text) in _UNKNOWN or text in {"?", "-", "–"}:
        return None
    plain = _TIME.sub("", western_digits(text)).strip()
    if isinstance(typed, Decimal) and not re.fullmatch("(?:19|20)[0-9]{2}", plain):
        return Trouble(f"{shown(text)} is a number, not a date. {_HINT}")
    if re.fullmatch("[0-9]{4}", plain):
        return _only(text, _partial(int(plain), 1, 1, "year"))
    if found := _ISO.fullmatch(plain) or _COMPACT.fullmatch(plain):
        return _only(text, _partial(int(found[1]), int(found[2]), int(found[3]), "day"))
    if found := _MONTH_YEAR.fullmatch(plain):
        month, year = (found[1], found[2]) if found[1] else (found[4], found[3])
        return _only(text, _partial(int(year), int(month), 1, "month"))
    if found := _FIGURES.fullmatch(plain):
        return _of_figures(text, found, today)
    return _only(text, _with_month_name(plain, today))


def _only(text: str, when: PartialDate | None) -> DateReadings | Trouble:
    if when is None:
        return Trouble(f"{shown(text)} is not a date. {_HINT}")
    return DateReadings(text, (("", when),))


def _partial(year: int, month: int, day: int, precision: Precision) -> PartialDate | None:
    try:
        return PartialDate(date(year, month, day), precision)
    except ValueError:
        return None


def _of_figures(text: str, found: re.Match[str], today: date) -> DateReadings | Trouble:
    first, mark, second, last = found.groups()
    a, b = int(first), int(second)
    year = int(last) if len(last) == 4 else full_year(int(last), today)
    tries = [(DAY_FIRST, year, b, a), (MONTH_FIRST, year, a, b)]
    # None of our four languages puts dots behind a short year that comes first.
    if len(last) == 2 and len(first) == 2 and mark in "-/":
        tries.append((YEAR_FIRST, full_year(a, today), b, int(last)))
    by_order: list[tuple[str, PartialDate]] = []
    for order, its_year, month, day in tries:
        when = _partial(its_year, month, day, "day") if its_year else None
        if when is not None:
            by_order.append((order, when))
    if not by_order:
        return Trouble(f"{shown(text)} is not a date. {_HINT}")
    if len({when for _, when in by_order}) == 1 and len(by_order) > 1:
        return DateReadings(text, (("", by_order[0][1]),))
    return DateReadings(text, tuple(by_order))


def _with_month_name(text: str, today: date) -> PartialDate | None:
    """Read "4 Oct 2025", "Oct 4, 2025", "4 de octubre de 2025", "Oct 2025"."""
    words = re.findall(r"[^\W\d_]+|['’]?[0-9]+", unicodedata.normalize("NFC", _ORDINAL.sub("", text)))
    months = [_MONTH_OF_WORD.get(folded(word)) for word in words if not word[-1].isdigit()]
    known = [month for month in months if month]
    strange = [
        word
        for word in words
        if not word[-1].isdigit() and folded(word) not in _MONTH_OF_WORD and folded(word) not in _LINKS
    ]
    figures = [word for word in words if word[-1].isdigit()]
    if len(figures) == 2 and len(figures[0]) == 4:
        figures.reverse()  # the year stood first
    if len(known) != 1 or strange or not 1 <= len(figures) <= 2:
        return None
    year = _year_of(figures[-1], today, alone=len(figures) == 1)
    if year is None or not text[-1:].isdigit():
        return None
    if len(figures) == 1:
        return _partial(year, known[0], 1, "month")
    return _partial(year, known[0], int(figures[0]), "day") if figures[0].isdigit() else None


def _year_of(figure: str, today: date, *, alone: bool) -> int | None:
    """Two digits behind a month alone could be its day; with an apostrophe they are a year."""
    digits = figure.lstrip("'’")
    if len(digits) == 4:
        return int(digits)
    if len(digits) == 2 and (not alone or digits != figure):
        return full_year(int(digits), today)
    return None


def order_of(cells: Iterable[tuple[str, DateReadings]], chosen: str | None = None) -> DateOrder:
    """Find the order of a file from its date cells, given as (where it stands, readings)."""
    if chosen is not None:
        return DateOrder(chosen, "chosen by you")
    found: dict[str, str] = {}
    unsure = False
    for where, cell in cells:
        unsure = unsure or len(cell.by_order) > 1
        if cell.proves:
            found.setdefault(cell.proves, f"{where}: {shown(cell.written)}")
    if len(found) == 1:
        [(order, where)] = found.items()
        return DateOrder(order, f"{where} can be read in no other way")
    if found:
        proofs = listed([f"{order} ({where})" for order, where in found.items()])
        return DateOrder(None, f"the file is not of one mind: {proofs}", is_contradicted=True)
    if unsure:
        return DateOrder(None, "no date in the file has a day over 12 to prove the order")
    return DateOrder(None, "every date in the file can be read in one way only")


def read_date(readings: DateReadings, order: DateOrder, today: date) -> PartialDate | Trouble:
    """Settle one cell by the order of its file and refuse what cannot have happened."""
    by_order = dict(readings.by_order)
    if len(by_order) > 1:
        when = by_order.get(order.order) if order.order else None
    else:
        [when] = by_order.values()
    if when is None:
        ways = listed([date_words(each) for each in by_order.values()], "or")
        return Trouble(
            f"{shown(readings.written)} can be read in two ways, {ways}, and {order.proof}. "
            f"{_HINT} Or say whether the day or the month comes first.",
            asks=ASKS_DATE_ORDER,
        )
    if when.on > today:
        return Trouble(f"{shown(readings.written)} is in the future ({date_words(when)}). Correct the date.")
    if when.on.year < EARLIEST_YEAR:
        return Trouble(f"{shown(readings.written)} is before {EARLIEST_YEAR}. Correct the date.")
    return when
