"""Pictures: PNG as grey pixels, and the plain part of SVG (shapes and paths, no styles of text) as filled lines."""

import itertools
import re
from dataclasses import dataclass, replace
from functools import cache
from math import cos, pi, sin
from pathlib import Path
from xml.etree import ElementTree

from hilum.labels.art import Art, Picture, Point, Stroke
from hilum.labels.errors import DesignError
from hilum.labels.geometry import Box

_MOST_BYTES, _MOST_PIXELS, _CURVE_STEPS = 400_000, 1_200, 12
_NUMBER = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?")
_COMMAND = re.compile(r"([MmLlHhVvCcQqZz])([^A-Za-z]*)")
_GREYS = {"black": 0.0, "white": 1.0, "gray": 0.5, "grey": 0.5}


@dataclass(frozen=True, slots=True)
class PictureFile:
    """A picture read: its size in its own units, and what is in it."""

    width: float
    height: float
    strokes: tuple[Stroke, ...]
    pixels: Picture | None

    def drawn_in(self, place: Box) -> tuple[Art, ...]:
        """Fit the picture into a box, in its own proportions, in the middle."""
        scale = min(place.width_mm / self.width, place.height_mm / self.height)
        left_mm = place.x_mm + (place.width_mm - scale * self.width) / 2
        top_mm = place.y_mm + (place.height_mm - scale * self.height) / 2
        if self.pixels:
            return (replace(self.pixels, box=Box(left_mm, top_mm, scale * self.width, scale * self.height)),)
        return tuple(
            replace(
                each,
                points=tuple((left_mm + scale * x, top_mm + scale * y) for x, y in each.points),
                width_mm=scale * each.width_mm,
            )
            for each in self.strokes
        )


@cache
def read_picture(path: Path) -> PictureFile:
    """Read a picture that a design names."""
    if not path.is_file():
        raise DesignError(f"{path.name}: this picture is not there; put it beside the design.")
    if path.stat().st_size > _MOST_BYTES:
        raise DesignError(
            f"{path.name}: this picture is larger than {_MOST_BYTES // 1000} kB; make it smaller."
        )
    if path.suffix.lower() == ".png":
        return _png(path)
    if path.suffix.lower() == ".svg":
        return _svg(path)
    raise DesignError(f"{path.name}: a picture can be PNG or SVG.")


def _png(path: Path) -> PictureFile:
    from PIL import Image, UnidentifiedImageError

    try:
        with Image.open(path, formats=["PNG"]) as opened:
            if max(opened.size) > _MOST_PIXELS:
                raise DesignError(f"{path.name}: more than {_MOST_PIXELS} pixels a side; make it smaller.")
            ground = Image.new("RGBA", opened.size, "white")
            ground.alpha_composite(opened.convert("RGBA"))
            grey = ground.convert("L")
    except (UnidentifiedImageError, OSError) as fault:
        raise DesignError(f"{path.name}: this is no PNG picture ({fault}).") from fault
    picture = Picture(Box(0, 0, 1, 1), path.as_posix(), grey.width, grey.height, grey.tobytes())
    return PictureFile(grey.width, grey.height, (), picture)


def _svg(path: Path) -> PictureFile:
    text = path.read_text(encoding="utf-8", errors="replace")
    if "<!DOCTYPE" in text or "<!ENTITY" in text:
        raise DesignError(f"{path.name}: save this picture as plain SVG, without a document type.")
    try:
        root = ElementTree.fromstring(text)
        view = _numbers(root.get("viewBox", ""))
        if len(view) != 4:
            view = [0, 0, *_numbers(f"{root.get('width', '')} {root.get('height', '')}")]
        left, top, width, height = view
        strokes = [
            replace(each, points=tuple((x - left, y - top) for x, y in each.points))
            for each in _shapes(root, "black", "none", 1.0)
        ]
    except (ElementTree.ParseError, ValueError, IndexError) as fault:
        raise DesignError(f"{path.name}: this SVG picture cannot be read ({fault}).") from fault
    if not strokes:
        raise DesignError(
            f"{path.name}: nothing in this picture can be drawn; use paths, lines and plain shapes."
        )
    return PictureFile(width, height, tuple(strokes), None)


def _numbers(text: str) -> list[float]:
    return [float(each) for each in _NUMBER.findall(text)]


def _grey(colour: str) -> float | None:
    colour = colour.strip().lower()
    if colour in ("none", "transparent"):
        return None
    if re.fullmatch("#[0-9a-f]{3}", colour):
        colour = "#" + "".join(2 * each for each in colour[1:])
    if re.fullmatch("#[0-9a-f]{6}", colour):
        red, green, blue = (int(colour[n : n + 2], 16) / 255 for n in (1, 3, 5))
        return round(0.299 * red + 0.587 * green + 0.114 * blue, 3)
    return _GREYS.get(colour, 0.0)


def _shapes(node: ElementTree.Element, fill: str, stroke: str, width: float) -> list[Stroke]:
    """Walk groups and shapes; fill, stroke and its width are inherited, transforms are refused."""
    if node.get("transform"):
        raise ValueError("a transform is in it; apply it and save again")
    fill, stroke = node.get("fill", fill), node.get("stroke", stroke)
    width = (_numbers(node.get("stroke-width", "")) or [width])[0]
    found: list[Stroke] = []
    for points, closed in _outlines(node):
        if len(points) > 1:
            inside, edge = _grey(fill), _grey(stroke)
            if inside is not None or edge is not None:
                thick = width if edge is not None else 0.0
                found.append(Stroke(tuple(points), thick, edge or 0.0, (), closed, inside))
    for child in node:
        found += _shapes(child, fill, stroke, width)
    return found


def _outlines(node: ElementTree.Element) -> list[tuple[list[Point], bool]]:
    kind = node.tag.rsplit("}", 1)[-1]

    def number(name: str) -> float:
        return (_numbers(node.get(name, "")) or [0.0])[0]

    if kind == "rect":
        x, y, w, h = (number(name) for name in ("x", "y", "width", "height"))
        return [([(x, y), (x + w, y), (x + w, y + h), (x, y + h)], True)]
    if kind in ("circle", "ellipse"):
        rx, ry = (number("r"),) * 2 if kind == "circle" else (number("rx"), number("ry"))
        turns = [2 * pi * n / 48 for n in range(48)]
        return [([(number("cx") + rx * cos(t), number("cy") + ry * sin(t)) for t in turns], True)]
    if kind == "line":
        return [([(number("x1"), number("y1")), (number("x2"), number("y2"))], False)]
    if kind in ("polyline", "polygon"):
        flat = _numbers(node.get("points", ""))
        return [(list(zip(flat[::2], flat[1::2], strict=True)), kind == "polygon")]
    return _path(node.get("d", "")) if kind == "path" else []


def _path(text: str) -> list[tuple[list[Point], bool]]:
    """Follow a path; curves become short lines, arcs and smooth curves are refused."""
    if re.search("[AaSsTt]", text):
        raise ValueError("a path in it has arcs or smooth curves; turn them into plain curves and save again")
    outlines: list[tuple[list[Point], bool]] = []
    here: Point = (0.0, 0.0)
    for command, rest in _COMMAND.findall(text):
        values, relative = _numbers(rest), command.islower()
        step = {"m": 2, "l": 2, "h": 1, "v": 1, "c": 6, "q": 4}.get(command.lower(), 0)
        if command in "Zz":
            outlines[-1] = outlines[-1][0], True
            here = outlines[-1][0][0]
            continue
        for start in range(0, len(values), step):
            base = here if relative else (0.0, 0.0)
            some = values[start : start + step]
            if command in "Hh":
                goals = [(base[0] + some[0], here[1])]
            elif command in "Vv":
                goals = [(here[0], base[1] + some[0])]
            else:
                goals = [(base[0] + x, base[1] + y) for x, y in zip(some[::2], some[1::2], strict=True)]
            if command in "Mm" and start == 0:
                outlines.append((goals, False))
            else:
                if outlines[-1][1]:
                    outlines.append(([here], False))
                outlines[-1][0].extend(goals if len(goals) == 1 else _curve([here, *goals]))
            here = goals[-1]
    return outlines


def _curve(controls: list[Point]) -> list[Point]:
    """Give points along a Bézier curve (de Casteljau)."""
    found = []
    for step in range(1, _CURVE_STEPS + 1):
        t, points = step / _CURVE_STEPS, controls
        while len(points) > 1:
            points = [
                ((1 - t) * x1 + t * x2, (1 - t) * y1 + t * y2)
                for (x1, y1), (x2, y2) in itertools.pairwise(points)
            ]
        found.append(points[0])
    return found
