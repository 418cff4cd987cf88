"""Amounts of seed: "38.5 g", "0,35 kg", "2 oz", "ca. 40 seeds", or a bare figure in a column's unit."""

import re
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from hilum.exchange.numerals import Marks, Numeral, read_numeral, western_digits
from hilum.exchange.trouble import ASKS_DECIMAL_MARK, ASKS_UNIT, Trouble
from hilum.exchange.units import MG_PER_UNIT, SEEDS, UNIT_OF_WORD, UNITS
from hilum.exchange.words import folded, listed, shown

MAX_MASS_MG = 1_000_000_000  # 1,000 kg: no seed library holds that of one lot (common practice, no source)
MAX_SEEDS = 1_000_000_000
_UNKNOWN = {"", "unknown", "not known", "not weighed", "n a", "na", "unbekannt", "desconocido", "inconnu"}
_ABOUT = (
    r"(?:ca|circa|c|about|approx|approximately|around|roughly|est|estimated|etwa|ungefähr|rund|environ|env|"
    r"aprox|aproximadamente|unos|unas)\b\.?|[~≈±]"
)
_SHAPE = re.compile(
    rf"(?P<about>{_ABOUT})?\s*(?P<sign>[-−–+])?\s*(?P<figure>[0-9.,][0-9.,'’ \u00a0\u202f\u2009]*)"
    rf"(?P<unit>[^\W\d_]+)?\.?\s*\(?(?P<about_after>{_ABOUT})?\)?",
    re.IGNORECASE,
)
_FRACTION = re.compile(r"[0-9]\s*[/⁄]\s*[0-9]|[¼-¾⅐-⅞]")
_RANGE = re.compile(r"[0-9]\s*(?:[-–—]|to|bis)\s*[0-9]")
_HINT = 'Write a figure and a unit, such as "12.5 g", "0.35 kg" or "40 seeds".'


@dataclass(frozen=True, slots=True)
class WrittenAmount:
    """A cell taken apart, before anything is known of the rest of the file; no unit when it is bare."""

    text: str
    figure: str
    unit: str | None
    is_estimate: bool = False
    is_typed: bool = False


@dataclass(frozen=True, slots=True)
class Amount:
    """An amount of seed in milligrams or seeds; None when it is not known."""

    amount: int | None
    unit: str
    is_estimate: bool = False
    said: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class UnitOfColumn:
    """The unit in which bare figures of a column are, if anything says so, and what does."""

    unit: str | None
    proof: str


def take_apart(text: str, typed: object = None) -> WrittenAmount | Trouble | None:
    """Split a cell into figure and unit; None when it says that nothing is known."""
    text = text.strip()
    if isinstance(typed, Decimal):
        if typed < 0:
            return _negative(text)
        return WrittenAmount(text, text, None, is_typed=True)
    if typed is not None:
        return Trouble(
            f"The cell holds the date {text}; a spreadsheet may have made it of a figure such as 1.2. {_HINT}"
        )
    if folded(text) in _UNKNOWN:
        return None
    if text.startswith("="):
        return Trouble(f"{shown(text)} is a spreadsheet formula, which is never calculated here. {_HINT}")
    plain = western_digits(text)
    if _FRACTION.search(plain):
        return Trouble(f"{shown(text)} is written as a fraction. Write it with decimals, such as 0.5.")
    found = _SHAPE.fullmatch(plain)
    if not found:
        if _RANGE.search(plain):
            return Trouble(
                f"{shown(text)} is a range. Weigh or count it, and write one figure with its unit."
            )
        return Trouble(f"{shown(text)} is not an amount. {_HINT}")
    if found["sign"] in {"-", "−", "–"}:
        return _negative(text)
    unit = None
    if found["unit"]:
        unit = unit_of(found["unit"])
        if unit is None:
            return Trouble(
                f"{shown(found['unit'])} is not a unit known here. Use {listed(list(UNITS), 'or')}."
            )
    about = bool(found["about"] or found["about_after"])
    return WrittenAmount(text, found["figure"].strip(), unit, about)


def unit_of(word: str) -> str | None:
    """Give the unit a word stands for, or None."""
    return UNIT_OF_WORD.get(folded(word))


def _negative(text: str) -> Trouble:
    return Trouble(
        f"{shown(text)} is less than nothing. Correct it, or leave the cell empty if it is not known."
    )


def unit_of_column(
    heading_unit: str | None, heading: str, cells: Iterable[WrittenAmount], default: str | None
) -> UnitOfColumn:
    """Find the unit of bare figures: the heading's, else the one every other cell is in, else the default.

    The cells prove a unit only when all that name one name the same, at least two do, and they are more
    than the bare ones.
    """
    if heading_unit:
        return UnitOfColumn(heading_unit, f"the heading {shown(heading)} says so")
    counts = Counter(cell.unit for cell in cells)
    bare = counts.pop(None, 0)
    if len(counts) == 1:
        [(unit, named)] = counts.items()
        if named >= 2 and named > bare:
            return UnitOfColumn(unit, f"all {named} figures that name a unit are in {unit}")
    if default:
        return UnitOfColumn(default, "chosen by you")
    if not counts:
        return UnitOfColumn(None, "neither the heading nor any figure names a unit")
    named_units = listed([f"{unit} ({count})" for unit, count in counts.items()])
    return UnitOfColumn(None, f"the heading names none, and the figures are in {named_units}")


def read_amount(written: WrittenAmount, marks: Marks, column: UnitOfColumn) -> Amount | Trouble:
    """Give the amount in milligrams or seeds, or why it cannot be known."""
    value = _value(written, marks)
    if isinstance(value, Trouble):
        return value
    unit = written.unit or column.unit
    if unit is None:
        return Trouble(
            f"{shown(written.text)} has no unit, and {column.proof}. Write the unit behind the figure.",
            asks=ASKS_UNIT,
        )
    if unit == SEEDS:
        amount = _count(value, written)
    else:
        amount = _mass_mg(value, unit, written)
    if isinstance(amount, Trouble):
        return amount
    said = _said(written, amount, unit, value, column)
    return Amount(amount, SEEDS if unit == SEEDS else "mg", written.is_estimate, said)


def _value(written: WrittenAmount, marks: Marks) -> Decimal | Trouble:
    if written.is_typed:
        return Decimal(written.figure)
    numeral = read_numeral(written.figure)
    if isinstance(numeral, Trouble):
        return numeral
    value = numeral.under(marks)
    if value is None:
        return _two_readings(written, numeral)
    return value


def _two_readings(written: WrittenAmount, numeral: Numeral) -> Trouble:
    unit = f" {written.unit}" if written.unit else ""
    mark = "dot" if numeral.unsure_mark == "." else "comma"
    assert numeral.as_decimal is not None
    assert numeral.as_grouped is not None
    decimal = plain(numeral.as_decimal)
    return Trouble(
        f"{shown(written.text)} can be read in two ways, {numeral.as_grouped}{unit} or {decimal}{unit}, and "
        f"nothing else in the file proves what the {mark} means. Write it as {numeral.as_grouped}{unit} or "
        f"{decimal}{unit}, or say which mark is the decimal mark.",
        asks=ASKS_DECIMAL_MARK,
    )


def _count(value: Decimal, written: WrittenAmount) -> int | Trouble:
    if value == 0:
        return _nothing(written)
    if value != value.to_integral_value():
        return Trouble(f"{shown(written.text)} is not a whole number of seeds. Correct it.")
    if value > MAX_SEEDS:
        return Trouble(f"{shown(written.text)} is more seeds than one lot can have. Correct it.")
    return int(value)


def _mass_mg(value: Decimal, unit: str, written: WrittenAmount) -> int | Trouble:
    exact = value * MG_PER_UNIT[unit]
    if exact > MAX_MASS_MG:
        return Trouble(f"{shown(written.text)} is more than 1,000 kg. Correct the figure or its unit.")
    mass_mg = int(exact.quantize(Decimal(1), ROUND_HALF_UP))
    if value == 0:
        return _nothing(written)
    if mass_mg == 0:
        return Trouble(f"{shown(written.text)} is less than a milligram. Count the seeds instead.")
    return mass_mg


def _nothing(written: WrittenAmount) -> Trouble:
    return Trouble(
        f"{shown(written.text)} says that there is no seed. Write nothing if the amount is not known."
    )


def plain(value: Decimal) -> str:
    """Give a figure without exponent and without noughts that say nothing."""
    text = format(value, "f")
    return text.rstrip("0").rstrip(".") if "." in text else text


def amount_words(amount: int, unit: str) -> str:
    """Give an amount in words: 56.699 g, 350 mg, 40 seeds."""
    if unit == SEEDS:
        return f"{amount} seed" if amount == 1 else f"{amount} seeds"
    if amount < 1000:
        return f"{amount} mg"
    return f"{plain(Decimal(amount) / 1000)} g"


def _said(
    written: WrittenAmount, amount: int, unit: str, value: Decimal, column: UnitOfColumn
) -> tuple[str, ...]:
    """What a keeper should see of how the cell was taken; nothing when it was taken as it stands."""
    words = amount_words(amount, unit)
    if written.is_estimate:
        words = f"about {words}"
    if written.unit is None:
        return (f"{shown(written.text)} taken as {words}: {column.proof}",)
    as_written = "".join(written.text.casefold().split())
    simplest: Sequence[str] = (f"{plain(value)}{unit}",) if unit not in {"oz", "lb"} else ()
    rounded = unit != SEEDS and value * MG_PER_UNIT[unit] != amount
    if as_written in simplest and not rounded:
        return ()
    return (f"{written.text} taken as {words}",)
