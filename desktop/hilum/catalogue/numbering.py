"""Lot numbers: crop code, two-digit year, running number and a check character."""

import re

from hilum.errors import BadInput

# ISO/IEC 7064:2003, pure system MOD 37-2: digits, letters, and * which only a check can be.
_ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*"
LONGEST_NUMBER = 16
YEAR_UNKNOWN = "XX"


class NoSuchLot(BadInput):
    """No lot has that number; the nearest real ones are in the words."""


def check_character(text: str) -> str:
    """Give the ISO/IEC 7064 MOD 37-2 check character of letters and digits; hyphens and spaces do not count."""
    total = 0
    for ch in _bare(text):
        value = _ALPHABET.find(ch)
        if value < 0 or ch == "*":
            raise BadInput(f"A check character is made from letters A-Z and digits only, not from {ch!r}.")
        total = (total + value) * 2 % 37
    return _ALPHABET[(1 - total) % 37]


def is_well_formed(text: str) -> bool:
    """Say whether the last character is the check character of those before it."""
    bare = _bare(text)
    return (
        len(bare) > 1
        and all(ch in _ALPHABET for ch in bare)
        and "*" not in bare[:-1]
        and check_character(bare[:-1]) == bare[-1]
    )


def compose(crop_code: str, year: int | None, serial: int) -> str | None:
    """Give the lot number for a serial, or None for a serial that is skipped.

    Skipped are those whose check would be `*`, which keyboards and searches take for something else, and those
    whose check would be I or O, which are read as 1 and 0 on a jar.
    """
    body = f"{beginning(crop_code, year)}{serial:03d}"
    check = check_character(body)
    if check in "*IO":
        return None
    number = f"{body}-{check}"
    if len(number) > LONGEST_NUMBER:
        raise BadInput(f"The lot number {number} would be longer than {LONGEST_NUMBER} characters.")
    return number


def beginning(crop_code: str, year: int | None) -> str:
    """Give what the lot numbers of a crop and year begin with; two centuries share it, so they share the count."""
    return f"{crop_code}-{YEAR_UNKNOWN if year is None else f'{year % 100:02d}'}-"


def serial_of(number: str) -> int:
    """Give the running number inside a lot number made by `compose`."""
    return int(number.split("-")[2])


def as_typed(text: str) -> str:
    """Give what was typed or scanned as bare upper-case letters and digits, for comparing with `bare_number`.

    Keyboard scanners with a foreign layout turn the hyphen into other marks, so none of them counts. A code that
    holds a web address or the words of its label has the number at its end, after a stroke.
    """
    last = _bare(text.rsplit("/", 1)[-1])
    return last if looks_like_number(last) else _bare(text)


def composed(bare: str) -> str:
    """Give a bare number with its hyphens, as `compose` writes it and as it is stored."""
    return "-".join((bare[:3], bare[3:5], bare[5:-1], bare[-1:]))


def looks_like_number(text: str) -> bool:
    """Say whether typed text has the shape of a lot number, right or mistyped."""
    return re.fullmatch(r"[A-Z0-9]{3}([0-9]{2}|XX)[A-Z0-9]{3,7}", _bare(text)) is not None


def _bare(text: str) -> str:
    return re.sub(r"[^A-Z0-9*]", "", text.upper())
