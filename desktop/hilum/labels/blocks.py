"""Blocks: squares of a label that are not words: a picture, or a gauge of sowing depth at true scale.

A block stands against one side and one edge of the label, and words flow round it.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TypeAlias

from hilum.labels.art import Art, Note, Stroke, line
from hilum.labels.design_tables import DesignTable
from hilum.labels.errors import DesignError
from hilum.labels.geometry import Box
from hilum.labels.pictures import PictureFile, read_picture

_DEPTH = re.compile(r"(\d+(?:[.,]\d+)?) ?mm")


@dataclass(frozen=True, slots=True)
class PictureBlock:
    """A picture in a corner of the label."""

    side: str
    edge: str
    width_mm: float
    height_mm: float
    picture: PictureFile
    fields: tuple[str, ...] = ()

    def needs(self, fields: Mapping[str, str]) -> float | None:
        """Give the height it takes; None where it is not drawn."""
        del fields
        return self.height_mm

    def art(self, place: Box, fields: Mapping[str, str]) -> tuple[Art, ...]:
        """Draw it in its place, in its own proportions."""
        del fields
        return self.picture.drawn_in(place)


@dataclass(frozen=True, slots=True)
class GaugeBlock:
    """A gauge of the sowing depth: hold it against the soil; one millimetre on it is one millimetre."""

    side: str
    edge: str
    width_mm: float
    height_mm: float
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
Block: TypeAlias = PictureBlock | GaugeBlock


def _seed(x_mm: float, y_mm: float) -> Stroke:
    points = ((-1.3, 0), (-0.7, -0.6), (0.5, -0.7), (1.2, -0.2), (1.2, 0.2), (0.5, 0.7), (-0.7, 0.6))
    return Stroke(tuple((x_mm + x, y_mm + y) for x, y in points), 0, is_closed=True, fill=0.0)


def blocks_of(table: DesignTable, folder: Path) -> tuple[Block, ...]:
    """Read the pictures and the gauge of one layout."""
    found: list[Block] = []
    for each in table.tables("picture") if table.has("picture") else []:
        side, edge, width_mm, height_mm = _place(each)
        name = each.text("file")
        if Path(name).name != name:
            raise DesignError(f"{each.where}: file is “{name}”; allowed: a file beside the design.")
        each.done()
        found.append(PictureBlock(side, edge, width_mm, height_mm, read_picture(folder / name)))
    if table.has("gauge"):
        inner = DesignTable(f"{table.where}, gauge", table.take("gauge"))
        found.append(GaugeBlock(*_place(inner)))
        inner.done()
    # Asked for, so that a design without them is not told of an unknown key.
    table.take("picture"), table.take("gauge")
    return tuple(found)


def _place(table: DesignTable) -> tuple[str, str, float, float]:
    return (
        table.choice("side", ("left", "right")),
        table.choice("edge", ("top", "bottom")),
        table.number("width_mm", 3, 200),
        table.number("height_mm", 3, 200),
    )


def placed_block(block: Block, area: Box, height_mm: float) -> Box:
    """Give a block's place in the printable area, at the height it needs."""
    x_mm = area.x_mm if block.side == "left" else area.right_mm - block.width_mm
    y_mm = area.y_mm if block.edge == "top" else area.bottom_mm - height_mm
    return Box(x_mm, y_mm, block.width_mm, height_mm)
