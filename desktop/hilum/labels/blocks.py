"""Blocks: parts of a label that are not words: a picture, a gauge of sowing depth or of spacing at true scale.

A block stands against one side and one edge of the label, and words flow round it.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from math import ceil
from pathlib import Path
from typing import ClassVar, TypeAlias

from hilum.labels.art import Art, Note, Stroke, line
from hilum.labels.design_tables import DesignTable
from hilum.labels.geometry import Box
from hilum.labels.pictures import PictureFile, read_picture

_DEPTH = re.compile(r"(\d+(?:[.,]\d+)?) ?mm")


@dataclass(frozen=True, slots=True)
class PictureBlock:
    """A picture in a corner of the label."""

    kind: ClassVar[str] = "picture"
    side: str
    edge: str
    width_mm: float
    height_mm: float
    from_side_mm: float
    from_edge_mm: float
    # Its name beside the design.
    file: str
    picture: PictureFile
    fields: tuple[str, ...] = ()

    def needs(self, fields: Mapping[str, str]) -> float | None:
        """Give the height it takes; None where it is not drawn."""
        del fields
        return self.height_mm

    def why_not(self, fields: Mapping[str, str]) -> str:
        """A picture is always drawn."""
        del fields
        return ""

    def art(self, place: Box, fields: Mapping[str, str]) -> tuple[Art, ...]:
        """Draw it in its place, in its own proportions."""
        del fields
        return self.picture.drawn_in(place)


@dataclass(frozen=True, slots=True)
class GaugeBlock:
    """A gauge of the sowing depth: hold it against the soil; one millimetre on it is one millimetre."""

    kind: ClassVar[str] = "gauge"
    side: str
    edge: str
    width_mm: float
    height_mm: float
    from_side_mm: float = 0.0
    from_edge_mm: float = 0.0
    fields: tuple[str, ...] = ("sow_mm",)

    def depth_mm(self, fields: Mapping[str, str]) -> float | None:
        """Read the depth from its own field, or from the words that say how deep to sow."""
        own = fields.get("sow_mm", "").strip().replace(",", ".")
        found = _DEPTH.search(f"{own} mm" if own else fields.get("sow", ""))
        return float(found[1].replace(",", ".")) if found else None

    def needs(self, fields: Mapping[str, str]) -> float | None:
        """Give the height it takes; None without a depth, or with one that is longer than the gauge."""
        depth_mm = self.depth_mm(fields)
        fits = depth_mm is not None and 0 < depth_mm <= self.height_mm - _ABOVE_MM - _BELOW_MM
        return _ABOVE_MM + (depth_mm or 0.0) + _BELOW_MM if fits else None

    def why_not(self, fields: Mapping[str, str]) -> str:
        """Say why a label whose sowing depth is told has no gauge."""
        if not fields.get("sow") or self.needs(fields) is not None:
            return ""
        return "the sowing depth is longer than the gauge here, or is no figure in mm"

    def art(self, place: Box, fields: Mapping[str, str]) -> tuple[Art, ...]:
        """Draw soil line, ticks each millimetre down to just below the seed, and the seed at its depth."""
        depth_mm = self.depth_mm(fields) or 0.0
        soil_mm, axis_mm = place.y_mm + _ABOVE_MM, place.x_mm + 0.5
        found: list[Art] = [line(place.x_mm, soil_mm, place.right_mm - 2, soil_mm, 0.35)]
        found.append(Note((place.x_mm, soil_mm - 0.7), "soil", 5))
        for each in range(int(depth_mm) + 2):
            tick_mm = 2.6 if each % 10 == 0 else 1.9 if each % 5 == 0 else 1.2
            found.append(line(axis_mm, soil_mm + each, axis_mm + tick_mm, soil_mm + each, 0.15))
        found.append(line(axis_mm, soil_mm, axis_mm, soil_mm + int(depth_mm) + 1, 0.15))
        found.append(_seed(axis_mm + 4.2, soil_mm + depth_mm))
        found.append(Note((axis_mm + 5.8, soil_mm + depth_mm + 0.8), f"{depth_mm:g} mm", 6))
        return tuple(found)


_ABOVE_MM, _BELOW_MM = 3.2, 1.6


@dataclass(frozen=True, slots=True)
class SpacingBlock:
    """A gauge of the distance between plants, lying; a long distance is a whole number of its lengths."""

    kind: ClassVar[str] = "spacing"
    side: str
    edge: str
    width_mm: float
    height_mm: float
    from_side_mm: float = 0.0
    from_edge_mm: float = 0.0
    fields: tuple[str, ...] = ("spacing_mm",)

    def spacing_mm(self, fields: Mapping[str, str]) -> float | None:
        """Read the distance from its field."""
        found = _DEPTH.search(f"{fields.get('spacing_mm', '').strip()} mm")
        return float(found[1].replace(",", ".")) if found else None

    def lengths(self, spacing_mm: float) -> int:
        """Give how often the gauge is laid end to end to make the distance: as seldom as its width allows."""
        return max(1, ceil(spacing_mm / (self.width_mm - 2 * _SEED_MM) - 1e-9))

    def needs(self, fields: Mapping[str, str]) -> float | None:
        """Give the height it takes; None without a distance, or with one of too many lengths."""
        spacing_mm = self.spacing_mm(fields)
        fits = spacing_mm is not None and spacing_mm >= _LEAST_SPACING_MM
        fits = (
            fits and self.lengths(spacing_mm or 0.0) <= _MOST_LENGTHS and self.height_mm >= _SPACING_HIGH_MM
        )
        return _SPACING_HIGH_MM if fits else None

    def why_not(self, fields: Mapping[str, str]) -> str:
        """Say why a label whose spacing is told has no gauge."""
        if not fields.get("spacing_mm") or self.needs(fields) is not None:
            return ""
        return f"the spacing is no figure in mm, or more than {_MOST_LENGTHS} lengths of the gauge here"

    def art(self, place: Box, fields: Mapping[str, str]) -> tuple[Art, ...]:
        """Draw two plants, the line between them with a tick each centimetre, and what the distance is."""
        spacing_mm = self.spacing_mm(fields) or 0.0
        count = self.lengths(spacing_mm)
        length_mm = spacing_mm / count
        start_mm = place.x_mm + (place.width_mm - length_mm) / 2
        line_mm = place.y_mm + 2.0
        found: list[Art] = [line(start_mm, line_mm, start_mm + length_mm, line_mm, 0.2)]
        for each in range(1, ceil(length_mm / 10 - 1e-9)):
            tick_mm = start_mm + 10 * each
            found.append(line(tick_mm, line_mm - 0.6, tick_mm, line_mm + 0.6, 0.12))
        for end_mm in (start_mm, start_mm + length_mm):
            found.append(line(end_mm, line_mm - 1.6, end_mm, line_mm + 1.6, 0.35))
        words = f"{spacing_mm:g} mm apart" if count == 1 else f"{count} times this: {spacing_mm:g} mm apart"
        found.append(Note((place.x_mm + place.width_mm / 2, line_mm + 3.7), words, 6, is_centred=True))
        return tuple(found)


# Room at each end for the mark of a plant; the least distance that can be told from a mark; the most lengths
# anyone lays end to end.
_SEED_MM, _LEAST_SPACING_MM, _MOST_LENGTHS, _SPACING_HIGH_MM = 0.5, 5.0, 20, 6.4
Block: TypeAlias = PictureBlock | GaugeBlock | SpacingBlock


def _seed(x_mm: float, y_mm: float) -> Stroke:
    points = ((-1.3, 0), (-0.7, -0.6), (0.5, -0.7), (1.2, -0.2), (1.2, 0.2), (0.5, 0.7), (-0.7, 0.6))
    return Stroke(tuple((x_mm + x, y_mm + y) for x, y in points), 0, is_closed=True, fill=0.0)


def blocks_of(table: DesignTable, folder: Path) -> tuple[Block, ...]:
    """Read the pictures and the gauges of one layout."""
    found: list[Block] = []
    for each in table.tables("picture") if table.has("picture") else []:
        place = _place(each)
        name = each.text("file")
        if Path(name).name != name:
            raise each.wrong("file", f"file is “{name}”; allowed: a file beside the design.")
        each.done()
        found.append(PictureBlock(*place, name, read_picture(folder / name)))
    if table.has("gauge"):
        inner = table.table("gauge")
        found.append(GaugeBlock(*_place(inner)))
        inner.done()
    if table.has("spacing"):
        inner = table.table("spacing")
        found.append(SpacingBlock(*_place(inner, LEAST_SPACING_W_MM)))
        inner.done()
    # Asked for, so that a design without them is not told of an unknown key.
    table.take("picture"), table.take("gauge"), table.take("spacing")
    return tuple(found)


# The words under the gauge of spacing need this.
LEAST_SPACING_W_MM = 30.0


def _place(table: DesignTable, least_mm: float = 3) -> tuple[str, str, float, float, float, float]:
    return (
        table.choice("side", ("left", "right")),
        table.choice("edge", ("top", "bottom")),
        table.number("width_mm", least_mm, 200),
        table.number("height_mm", 3, 200),
        table.number("from_side_mm", 0, 500, 0),
        table.number("from_edge_mm", 0, 500, 0),
    )


def placed_block(block: Block, area: Box, height_mm: float) -> Box:
    """Give a block's place in the printable area, at the height it needs."""
    x_mm = (
        area.x_mm + block.from_side_mm
        if block.side == "left"
        else area.right_mm - block.width_mm - block.from_side_mm
    )
    y_mm = (
        area.y_mm + block.from_edge_mm
        if block.edge == "top"
        else area.bottom_mm - height_mm - block.from_edge_mm
    )
    return Box(x_mm, y_mm, block.width_mm, height_mm)
