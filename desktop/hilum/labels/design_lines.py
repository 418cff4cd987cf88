"""Design lines: on which line of a design file each table and key stands, and which remarks stand beside them.

Only the plain forms of a design file are followed (a header or a key at the beginning of a line). A key that is
written otherwise has no line of its own; its table's line is given instead.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import TypeAlias

# ("layout", 1, "box", 2, "size_pt"): names and numbers from the outside in, numbers from 1.
Spot: TypeAlias = tuple[str | int, ...]
_HEADER = re.compile(r"^\s*\[(\[?)\s*([\w.-]+)\s*\]\]?\s*(#.*)?$")
_KEY = re.compile(r"^\s*([\w-]+)\s*=")


@dataclass(frozen=True, slots=True)
class DesignLines:
    """Where things stand in a file; empty for a design that lies in no file."""

    numbers: Mapping[Spot, int] = field(default_factory=lambda: MappingProxyType({}))
    # Whole lines above a spot, and the one behind it on its own line; all with their “#”.
    above: Mapping[Spot, tuple[str, ...]] = field(default_factory=lambda: MappingProxyType({}))
    behind: Mapping[Spot, str] = field(default_factory=lambda: MappingProxyType({}))

    def line(self, spot: Spot) -> int | None:
        """Give the line of a spot, or of the nearest thing around it."""
        for length in range(len(spot), 0, -1):
            if spot[:length] in self.numbers:
                return self.numbers[spot[:length]]
        return None


def design_lines(text: str) -> DesignLines:
    """Go through a design file line by line."""
    numbers: dict[Spot, int] = {}
    above: dict[Spot, tuple[str, ...]] = {}
    behind: dict[Spot, str] = {}
    table: Spot = ()
    counts: dict[Spot, int] = {}
    waiting: list[str] = []
    for number, line in enumerate(text.splitlines(), start=1):
        if line.strip().startswith("#"):
            waiting.append(line.strip())
            continue
        spot = _spot_of(line, table, counts)
        if spot is None:
            continue
        header = _HEADER.match(line)
        if header:
            table = spot
        numbers[spot] = number
        if waiting:
            above[spot] = tuple(waiting)
            waiting = []
        remark = header[3] if header else _remark(line)
        if remark:
            behind[spot] = remark
    if waiting:
        above[()] = tuple(waiting)
    return DesignLines(numbers, above, behind)


def _spot_of(line: str, table: Spot, counts: dict[Spot, int]) -> Spot | None:
    """Give what a line begins: a table, numbered within the table it lies in, or a key."""
    header = _HEADER.match(line)
    if not header:
        key = _KEY.match(line)
        return (*table, key[1]) if key else None
    spot: Spot = ()
    names = header[2].split(".")
    for place, name in enumerate(names):
        spot = (*spot, name)
        is_new = header[1] and place == len(names) - 1
        if is_new:
            counts[spot] = counts.get(spot, 0) + 1
        if is_new or spot in counts:
            spot = (*spot, counts[spot])
    return spot


def _remark(line: str) -> str:
    """Give what stands behind a value after a “#” that lies in no quotes."""
    quote = ""
    escaped = False
    for place, each in enumerate(line):
        if quote:
            if each == quote and not escaped:
                quote = ""
            escaped = quote == '"' and each == "\\" and not escaped
        elif each in "\"'":
            quote = each
        elif each == "#":
            return line[place:].rstrip()
    return ""
