"""The one door to the reference tables: reads them, checks them, and says where one is wrong."""

import csv
import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from hilum.errors import ResourceError
from hilum.resources import resource

NONE = "none"  # an explicit "there is none", as opposed to a cell that was forgotten


class TableError(ResourceError):
    """A reference table holds something it must not; the message names file and line."""


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a reference table, with the place it was read from."""

    file: str
    row: int
    cells: Mapping[str, str]

    def wrong(self, why: str) -> TableError:
        """Make the error for this line; the caller raises it."""
        return TableError(
            f"{self.file}, line {self.row}: {why}. The program's own tables are damaged: install Hilum again."
        )

    def optional_text(self, column: str) -> str | None:
        """Give the text of a cell, or None where it is empty."""
        if column not in self.cells:
            raise self.wrong(f"the column {column!r} is missing")
        return self.cells[column].strip() or None

    def text(self, column: str) -> str:
        """Give the text of a cell that must not be empty."""
        found = self.optional_text(column)
        if found is None:
            raise self.wrong(f"{column} is empty")
        return found

    def optional_number(self, column: str) -> float | None:
        """Give the number in a cell (decimal point), or None where it is empty."""
        found = self.optional_text(column)
        if found is None:
            return None
        try:
            read = float(found)
        except ValueError:
            read = math.nan
        if not math.isfinite(read):
            raise self.wrong(f"{column} is {found!r}, which is no number")
        return read

    def number(self, column: str) -> float:
        """Give the number in a cell that must not be empty."""
        found = self.optional_number(column)
        if found is None:
            raise self.wrong(f"{column} is empty")
        return found

    def optional_whole(self, column: str) -> int | None:
        """Give the whole number in a cell, or None where it is empty."""
        found = self.optional_number(column)
        if found is None:
            return None
        if found != int(found):
            raise self.wrong(f"{column} is {found}, which is no whole number")
        return int(found)

    def whole(self, column: str) -> int:
        """Give the whole number in a cell that must not be empty."""
        found = self.optional_whole(column)
        if found is None:
            raise self.wrong(f"{column} is empty")
        return found

    def one_of(self, column: str, allowed: tuple[str, ...]) -> str:
        """Give the word in a cell that allows only a few words."""
        found = self.text(column)
        if found not in allowed:
            raise self.wrong(f"{column} is {found!r}; allowed are {', '.join(allowed)}")
        return found

    def is_yes(self, column: str) -> bool:
        """Tell whether a cell that must say yes or no says yes."""
        return self.one_of(column, ("yes", "no")) == "yes"

    def pieces(self, column: str, separator: str = ";") -> tuple[str, ...]:
        """Give the pieces of a cell that holds several texts; an empty cell gives none."""
        found = self.optional_text(column) or ""
        return tuple(piece.strip() for piece in found.split(separator) if piece.strip())

    def link(self, column: str) -> str | None:
        """Give the name a cell links to; the word "none" says that there is none."""
        found = self.text(column)
        return None if found == NONE else found


def read_lines(path: Path) -> tuple[Line, ...]:
    """Read a comma-separated table with headings, checking that every line fits under them.

    Parameters
    ----------
    path : Path
        A file in UTF-8.

    Returns
    -------
    tuple of Line

    Raises
    ------
    TableError
        A heading stands twice, a line has too many or too few cells, or there is no line at all.

    Source
    ------
    RFC 4180, for the form of the file.

    Examples
    --------
    >>> from hilum.resources import resource
    >>> read_lines(resource("seedlore", "germination_substrata.csv"))[0].text("code")
    'B'
    """
    lines: list[Line] = []
    with path.open(encoding="utf-8", newline="") as file:
        reader = csv.reader(file)
        header = next(reader, [])
        if not header or len(set(header)) != len(header):
            raise TableError(
                f"{path.name}, line 1: the headings are missing or stand twice. Install Hilum again."
            )
        for cells in reader:
            line = Line(path.name, reader.line_num, dict(zip(header, cells, strict=False)))
            if len(cells) != len(header):
                raise line.wrong(f"{len(cells)} cells stand under {len(header)} headings")
            lines.append(line)
    if not lines:
        raise TableError(f"{path.name}: the table is empty. Install Hilum again.")
    return tuple(lines)


@cache
def table(name: str) -> tuple[Line, ...]:
    """Give the lines of one reference table of this room, read once.

    Parameters
    ----------
    name : str
        File name without ".csv", for instance "crops".

    Returns
    -------
    tuple of Line

    Raises
    ------
    ResourceError
        The file is missing.
    TableError
        The file is damaged.

    Source
    ------
    Each table names its own, beside every value.

    Examples
    --------
    >>> len(table("crops"))
    166
    """
    return read_lines(resource("seedlore", f"{name}.csv"))


@dataclass(frozen=True, slots=True)
class Rule:
    """One figure of a procedure (a limit, a count), with where it comes from."""

    key: str
    value: float
    unit: str
    source: str


@cache
def _rules() -> dict[str, Rule]:
    found: dict[str, Rule] = {}
    for line in table("rules"):
        rule = Rule(line.text("key"), line.number("value"), line.text("unit"), line.text("source"))
        if rule.key in found:
            raise line.wrong(f"{rule.key} stands there twice")
        found[rule.key] = rule
    return found


def rule(key: str) -> Rule:
    """Give one figure of a procedure by its key.

    Parameters
    ----------
    key : str
        For instance "freezing_moisture_percent_wb".

    Returns
    -------
    Rule
        The figure with its unit and its source.

    Raises
    ------
    TableError
        There is no such figure.

    Source
    ------
    Stands in the rule itself.

    Examples
    --------
    >>> rule("thousand_seed_weight_cv_percent").value
    4.0
    """
    try:
        return _rules()[key]
    except KeyError:
        raise TableError(f"rules.csv: there is no figure {key!r}. Install Hilum again.") from None
