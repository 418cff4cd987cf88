"""Figures as they are typed after an option: grams, seeds, days, lists; each refusal says how it is written."""

import re
from argparse import ArgumentTypeError
from datetime import date
from decimal import Decimal
from functools import partial

# Far beyond any seed library, and well within what a database can hold.
LARGEST_NUMBER = 1_000_000_000
LARGEST_GRAMS = 1_000_000
_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
_GRAMS = re.compile(r"[0-9]*\.?[0-9]+|[0-9]+\.")
_WHOLE = re.compile(r"[0-9]{1,12}")
_FRACTION = re.compile(r"-?(?:[0-9]{1,6}\.?[0-9]{0,6}|\.[0-9]{1,6})")


def words(text: str) -> str:
    """Take text as it is; refuse bytes that are no text in this system's encoding."""
    try:
        text.encode("utf-8")
    except UnicodeEncodeError:
        raise ArgumentTypeError("it holds bytes that are no text in this terminal's encoding") from None
    return text


def listed(text: str) -> tuple[str, ...]:
    """Take names separated by commas."""
    return tuple(part.strip() for part in words(text).split(",") if part.strip())


def day(text: str) -> date:
    """Take a day written year-month-day."""
    if not _DAY.fullmatch(text):
        raise ArgumentTypeError(f"{text!r} is no day; write it as 2026-12-05")
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise ArgumentTypeError(f"there is no day {text}") from None


def whole(text: str, *, least: int = 0) -> int:
    """Take a whole number."""
    if not _WHOLE.fullmatch(text):
        raise ArgumentTypeError(f"{text!r} is no whole number of {least} or more; write digits only")
    number = int(text)
    if not least <= number <= LARGEST_NUMBER:
        raise ArgumentTypeError(f"{text} is not between {least} and {LARGEST_NUMBER:,}")
    return number


positive = partial(whole, least=1)


def wholes(text: str) -> tuple[int, ...]:
    """Take whole numbers separated by commas."""
    return tuple(whole(part.strip()) for part in text.split(","))


def positives(text: str) -> tuple[int, ...]:
    """Take whole numbers from 1 up, separated by commas."""
    return tuple(positive(part.strip()) for part in text.split(","))


def milligrams(text: str) -> int:
    """Take grams with a dot before the decimals, as the whole number of milligrams they are."""
    if "," in text:
        raise ArgumentTypeError(
            f"{text!r} has a comma; grams are written with a dot before the decimals, for example 38.5"
        )
    if not _GRAMS.fullmatch(text):
        raise ArgumentTypeError(f"{text!r} is no weight in grams; write digits with a dot, for example 38.5")
    mass_mg = Decimal(text) * 1000
    if mass_mg != mass_mg.to_integral_value():
        raise ArgumentTypeError(f"{text} g is finer than a milligram; give at most three decimals")
    if not 0 < mass_mg <= LARGEST_GRAMS * 1000:
        raise ArgumentTypeError(f"{text} g is not between 0.001 g and {LARGEST_GRAMS:,} g")
    return int(mass_mg)


def milligrams_each(text: str) -> tuple[int, ...]:
    """Take several weights in grams separated by commas, each with a dot before its decimals."""
    return tuple(milligrams(part.strip()) for part in text.split(","))


def fraction(text: str) -> float:
    """Take a number with a dot before its decimals, such as a temperature or a percentage."""
    if "," in text:
        raise ArgumentTypeError(f"{text!r} has a comma; write a dot before the decimals, for example 6.5")
    if not _FRACTION.fullmatch(text):
        raise ArgumentTypeError(f"{text!r} is no number; write digits with a dot, for example 6.5")
    return float(text)


def pair(text: str) -> tuple[str, str]:
    """Take two words joined by an equals sign."""
    left, mark, right = words(text).rpartition("=")
    if not mark or not left.strip() or not right.strip():
        raise ArgumentTypeError(f"{text!r} is not of the form WRITTEN=MEANT")
    return left.strip(), right.strip()
