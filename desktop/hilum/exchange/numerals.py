"""Numerals: figures with decimal or grouping marks, read only where they can be read in one way.

A mark (dot or comma) followed by exactly three digits may group thousands or begin decimals: a factor of a
thousand lies between the two. What the same file does with the *same* mark elsewhere can prove it; what it
does with the other mark cannot.
"""

import re
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from hilum.exchange.trouble import Trouble
from hilum.exchange.words import shown

Role = Literal["decimal", "grouping"]
DOT, COMMA = ".", ","
_MARK_WORDS = {DOT: "dot", COMMA: "comma"}
_MAX_CHARACTERS = 24
# White space and apostrophes that group thousands in print; never a decimal mark anywhere.
_SPACE = "[ \u00a0\u202f\u2009'’]"
_SPACED = re.compile(f"[0-9]{{1,3}}(?:{_SPACE}[0-9]{{3}})+(?:[.,][0-9]+)?")
_SHAPE = re.compile(r"[0-9]*(?:[.,][0-9]+)*")
_ARABIC = str.maketrans({"٫": ".", "٬": "’"})  # U+066B decimal, U+066C thousands separator


@dataclass(frozen=True, slots=True)
class Numeral:
    """A figure and its readings: one value, or two (`as_decimal`, `as_grouped`) when `unsure_mark` is set."""

    as_decimal: Decimal | None
    as_grouped: Decimal | None
    unsure_mark: str | None = None
    proves: tuple[tuple[str, Role], ...] = ()

    def under(self, marks: "Marks") -> Decimal | None:
        """Give the value, or None when nothing settles how the mark is meant."""
        if self.unsure_mark is None:
            return self.as_decimal if self.as_decimal is not None else self.as_grouped
        role = marks.role(self.unsure_mark)
        return {"decimal": self.as_decimal, "grouping": self.as_grouped, None: None}[role]


@dataclass(frozen=True, slots=True)
class Marks:
    """What the dot and the comma mean in one file, and what proves it."""

    dot: Role | None = None
    comma: Role | None = None
    value: str = "not settled"
    proof: str = "no figure in the file proves what a dot or a comma means"

    def role(self, mark: str) -> Role | None:
        """Give what that mark is in this file, or None when the file does not prove it."""
        return self.dot if mark == DOT else self.comma


def western_digits(text: str) -> str:
    """Give a text with the decimal digits of every script as 0-9 (and Arabic marks as ours)."""
    if text.isascii():
        return text
    return "".join(
        str(unicodedata.decimal(char)) if char.isdecimal() else char for char in text.translate(_ARABIC)
    )


def read_numeral(written: str) -> Numeral | Trouble:
    """Read a figure without sign or unit, such as 38.5, 0,35, 1.234,5 or 1 200."""
    text = western_digits(written.strip())
    if _SPACED.fullmatch(text):
        text = re.sub(_SPACE, "", text)
    if len(text) > _MAX_CHARACTERS:
        return Trouble(f"{shown(written)} has too many digits for an amount. Correct it.")
    if not text or not _SHAPE.fullmatch(text):
        return Trouble(f"{shown(written)} is not a figure. Write it like 38.5.")
    parts = re.split("[.,]", text)
    marks = re.findall("[.,]", text)
    if len(parts[0]) > 1 and parts[0].startswith("0"):
        return Trouble(
            f"{shown(written)} begins with a nought: is a decimal mark missing? Write it like 0.35."
        )
    if not marks:
        return Numeral(Decimal(text), None)
    if len(set(marks)) == 2:
        return _two_marks(written, parts, marks)
    [mark] = set(marks)
    if len(marks) > 1:
        return _grouped_only(written, parts, mark)
    return _one_mark(parts[0], parts[1], mark)


def _one_mark(left: str, right: str, mark: str) -> Numeral:
    as_decimal = Decimal(f"{left or '0'}.{right}")
    # "0.350", ".350" and "1234.567" cannot be groups of thousands.
    if len(right) != 3 or left in {"", "0"} or len(left) > 3:
        return Numeral(as_decimal, None, proves=((mark, "decimal"),))
    return Numeral(as_decimal, Decimal(left + right), unsure_mark=mark)


def _grouped_only(written: str, parts: list[str], mark: str) -> Numeral | Trouble:
    if not _are_groups(parts):
        return Trouble(f"{shown(written)} has more than one {_MARK_WORDS[mark]}. Write the figure like 38.5.")
    return Numeral(None, Decimal("".join(parts)), proves=((mark, "grouping"),))


def _two_marks(written: str, parts: list[str], marks: list[str]) -> Numeral | Trouble:
    """The last mark, once, is the decimal mark; the other one groups: 1.234,5 or 1,234.5."""
    if marks.count(marks[-1]) > 1 or not _are_groups(parts[:-1]):
        return Trouble(f"{shown(written)} mixes dots and commas. Write the figure like 1234.5.")
    value = Decimal(f"{''.join(parts[:-1])}.{parts[-1]}")
    return Numeral(value, None, proves=((marks[0], "grouping"), (marks[-1], "decimal")))


def _are_groups(parts: list[str]) -> bool:
    head, *rest = parts
    return 1 <= len(head) <= 3 and head != "0" and all(len(part) == 3 for part in rest)


def marks_of(figures: Iterable[tuple[str, str]], chosen_decimal_mark: str | None = None) -> Marks:
    """Find what the marks mean from all figures of a file, given as (where it stands, figure)."""
    found: dict[tuple[str, Role], str] = {}
    for where, written in figures:
        numeral = read_numeral(written)
        if isinstance(numeral, Numeral):
            for proven in numeral.proves:
                found.setdefault(proven, f"{where}: {shown(written)}")
    if chosen_decimal_mark is not None:
        dot: Role | None = "decimal" if chosen_decimal_mark == DOT else "grouping"
        comma: Role | None = "decimal" if chosen_decimal_mark == COMMA else "grouping"
        return Marks(dot, comma, _MARK_WORDS[chosen_decimal_mark], "chosen by you")
    dot, comma = _settle(found, DOT), _settle(found, COMMA)
    if dot == comma == "decimal":
        # Two hands wrote this file: neither mark is safe before three digits.
        proof = f"both are used: {found[DOT, 'decimal']}; {found[COMMA, 'decimal']}"
        return Marks(value="dot and comma, by cell", proof=proof)
    if not found:
        return Marks()
    decimal = [_MARK_WORDS[mark] for mark, role in ((DOT, dot), (COMMA, comma)) if role == "decimal"]
    proof = "; ".join(
        f"{_MARK_WORDS[mark]} is a {role} mark ({where})" for (mark, role), where in found.items()
    )
    return Marks(dot, comma, decimal[0] if decimal else "not settled", proof)


def _settle(found: dict[tuple[str, Role], str], mark: str) -> Role | None:
    as_decimal, as_grouping = (mark, "decimal") in found, (mark, "grouping") in found
    if as_decimal == as_grouping:
        return None
    return "decimal" if as_decimal else "grouping"
