"""Sums: what a seed sum is made of, its inputs as they are typed, and what comes out of it."""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from hilum.errors import BadInput

NUMBER, WHOLE, NUMBERS, WHOLES = "number", "whole number", "numbers", "whole numbers"
TEXT, TALLY, YES_NO = "text", "tally", "yes or no"
KINDS = (NUMBER, WHOLE, NUMBERS, WHOLES, TEXT, TALLY, YES_NO)
_FIGURE = re.compile(r"[+-]?(?:[0-9]{1,12}\.?[0-9]{0,15}|\.[0-9]{1,15})(?:[eE][+-]?[0-9]{1,2})?")
_TALLY = re.compile(r"([0-9]{1,9})/([0-9]{1,9})")


class SumError(BadInput):
    """A sum that does not exist, or an input of one that cannot be."""


@dataclass(frozen=True, slots=True)
class SumInput:
    """One input of a sum: how it is typed, and between which limits it may lie.

    `above_low` and `below_high` say that the limit itself is out. An input that is not needed takes
    `default`, or is left out where that is None.
    """

    name: str
    words: str
    unit: str = ""
    kind: str = NUMBER
    low: float | None = None
    high: float | None = None
    above_low: bool = False
    below_high: bool = False
    needed: bool = True
    default: Any = None

    @property
    def limits(self) -> str:
        """The range in words, empty where there is none."""
        unit = f" {self.unit}" if self.unit else ""
        low = None if self.low is None else f"{'more than ' if self.above_low else ''}{self.low:.15g}"
        high = None if self.high is None else f"{'less than ' if self.below_high else ''}{self.high:.15g}"
        if low and high and not (self.above_low or self.below_high):
            return f"{low} to {high}{unit}"
        if low and high:
            first = low if self.above_low else f"{low} or more"
            return f"{first} and {high if self.below_high else f'at most {high}'}{unit}"
        if low:
            return f"{low}{unit}" if self.above_low else f"{low}{unit} or more"
        return f"{high}{unit} or less" if high else ""

    def read(self, text: str) -> Any:
        """Read what was typed; refuse it with the name of the input and its range."""
        typed = text.strip()
        if not typed:
            raise SumError(f"{self.name}= is empty. Give {self._wanted()}.")
        if self.kind == TEXT:
            return typed
        if self.kind == YES_NO:
            if typed.casefold() not in ("yes", "no"):
                raise SumError(f"{self.name}={typed}: say yes or no.")
            return typed.casefold() == "yes"
        if self.kind == TALLY:
            return self._tally(typed)
        if self.kind in (NUMBERS, WHOLES):
            return tuple(self._figure(part.strip()) for part in typed.split(","))
        return self._figure(typed)

    def _wanted(self) -> str:
        if self.kind == TALLY:
            return "germinated/sown, for instance 45/50"
        several = "one figure or several with commas between them, " if self.kind in (NUMBERS, WHOLES) else ""
        return f"{several}{self.words}{f', {self.limits}' if self.limits else ''}"

    def _tally(self, typed: str) -> tuple[int, int]:
        found = _TALLY.fullmatch(typed.replace(" ", ""))
        if not found:
            raise SumError(f"{self.name}={typed} is no tally. Write {self._wanted()}.")
        return int(found[1]), int(found[2])

    def _figure(self, typed: str) -> float | int:
        whole = self.kind in (WHOLE, WHOLES)
        if not _FIGURE.fullmatch(typed) or (whole and not typed.isdigit()):
            hint = " Decimals are written with a dot." if "," in typed else ""
            kind = "whole number" if whole else "number"
            raise SumError(f"{self.name}={typed} is no {kind}. Give {self._wanted()}.{hint}")
        figure = int(typed) if whole else float(typed)
        self.check(figure)
        return figure

    def check(self, figure: float) -> None:
        """Refuse a figure outside the limits, naming them."""
        low = self.low is not None and (figure < self.low or (self.above_low and figure == self.low))
        high = self.high is not None and (figure > self.high or (self.below_high and figure == self.high))
        if low or high:
            raise SumError(f"{self.name}={figure:g} is out of range. Give {self.words}: {self.limits}.")


@dataclass(frozen=True, slots=True)
class SumOutput:
    """One named figure that comes out of a sum beside its result."""

    name: str
    words: str
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a sum gives: the result, the named outputs, a sentence, and where it comes from."""

    result: Any
    outputs: Mapping[str, Any]
    words: str
    source: str
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Sum:
    """One seed sum: what it answers, what it needs, what it gives, and on whose word."""

    name: str
    title: str
    question: str
    inputs: tuple[SumInput, ...]
    function: Callable[[Mapping[str, Any]], Outcome]
    result: SumOutput
    outputs: tuple[SumOutput, ...]
    explanation: str
    source: str
    one_of: tuple[tuple[str, ...], ...] = field(default=())

    def input(self, name: str) -> SumInput:
        """Give one input by its name."""
        for one in self.inputs:
            if one.name == name:
                return one
        names = ", ".join(one.name for one in self.inputs)
        raise SumError(f"{self.name} takes no “{name}”. Its inputs are {names}.")

    @property
    def written(self) -> str:
        """How the sum is typed, with what may be left out in brackets."""
        parts: list[str] = []
        chosen = {name: group for group in self.one_of for name in group}
        for one in self.inputs:
            group = chosen.get(one.name)
            if group is None:
                parts.append(f"{one.name}=" if one.needed else f"[{one.name}=]")
            elif one.name == group[0]:
                parts.append("|".join(f"{name}=" for name in group))
        return " ".join([self.name, *parts])

    def reckon(self, given: Mapping[str, Any]) -> Outcome:
        """Reckon with figures that have been read: check what is missing, fill in what may be left out."""
        for name in given:
            self.input(name)
        grouped = {name for group in self.one_of for name in group}
        missing = [
            one for one in self.inputs if one.needed and one.name not in given and one.name not in grouped
        ]
        if missing:
            wanted = "; ".join(f"{one.name}= ({one.words})" for one in missing)
            raise SumError(f"{self.name} still needs {wanted}. It is written: {self.written}")
        for group in self.one_of:
            chosen = [name for name in group if name in given]
            if len(chosen) != 1:
                one_only = " or ".join(f"{name}=" for name in group)
                raise SumError(f"{self.name} needs {one_only}, one of them. It is written: {self.written}")
        return self.function({one.name: given.get(one.name, one.default) for one in self.inputs})

    def reckon_typed(self, typed: Mapping[str, str]) -> Outcome:
        """Reckon with what was typed."""
        return self.reckon({name: self.input(name).read(text) for name, text in typed.items()})
