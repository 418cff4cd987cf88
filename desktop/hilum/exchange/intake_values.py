"""What an intake table was understood to say: rows, refusals, and the proof of every assumption."""

from dataclasses import dataclass
from datetime import date

from hilum.exchange.columns import ColumnReading
from hilum.exchange.dates import Precision


@dataclass(frozen=True, slots=True)
class ReadRow:
    """One row understood; `taken_for` says in sentences what was not taken exactly as it stands.

    `crop_key` is None when the botanical name leaves the crop group open: then `open_group` is that name
    and `open_crops` holds the keys of the crops it may be. `amount` is None when it is not known.
    """

    row: int
    crop_key: str | None
    crop_written: str
    taken_for: tuple[str, ...]
    variety: str
    year: int | None
    place_grown: str | None
    grower: str | None
    donor: str | None
    received_on: date
    received_precision: Precision
    amount: int | None
    unit: str
    amount_is_estimate: bool
    plants: int | None
    isolation: str | None
    notes: str | None
    cells: tuple[str, ...]
    open_group: str | None = None
    open_crops: tuple[str, ...] = ()

    @property
    def came_from(self) -> str | None:
        """Give the person or garden the seed came from: the grower, else whoever gave it."""
        return self.grower or self.donor


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong in a row; `asks` names the choice that would settle it, if one would.

    `options` are the likeliest answers, best first; for a crop they are keys, as `Choices.crops` takes them.
    """

    column: str
    why: str
    suggestion: str | None = None
    asks: str | None = None
    options: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Refusal:
    """One row that was not understood: `column` as headed in the file, `why` with all its problems."""

    row: int
    column: str
    why: str
    suggestion: str | None
    problems: tuple[Problem, ...] = ()


@dataclass(frozen=True, slots=True)
class Skipped:
    """One row that says nothing: empty, the header again, or a title."""

    row: int
    why: str


@dataclass(frozen=True, slots=True)
class Fact:
    """One thing taken to hold for the whole file, with what proves it."""

    about: str
    taken: str
    proof: str


@dataclass(frozen=True, slots=True)
class IntakeReading:
    """A whole table as it was understood; nothing has been written anywhere."""

    understood: tuple[ReadRow, ...]
    refused: tuple[Refusal, ...]
    skipped: tuple[Skipped, ...]
    columns: tuple[ColumnReading, ...]
    facts: tuple[Fact, ...]

    def fact(self, about: str) -> Fact:
        """Give the fact about one thing, such as "decimal mark" or "date order"."""
        return next(fact for fact in self.facts if fact.about == about)

    @property
    def asks(self) -> tuple[str, ...]:
        """Name the choices that would settle at least one refused row."""
        asked = {problem.asks for refusal in self.refused for problem in refusal.problems if problem.asks}
        return tuple(sorted(asked))
