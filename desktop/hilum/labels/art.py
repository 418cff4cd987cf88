"""Art: what is drawn beside words and codes: lines, filled shapes, pictures, small notes. Decided, not yet drawn."""

from dataclasses import dataclass, replace
from typing import TypeAlias

from hilum.labels.geometry import Box

Point: TypeAlias = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Stroke:
    """Straight lines from point to point, in millimetres from a top left corner; filled if `fill` is a grey."""

    points: tuple[Point, ...]
    width_mm: float = 0.12
    grey: float = 0.0
    dash_mm: tuple[float, ...] = ()
    is_closed: bool = False
    # 0 is black, 1 is white; None leaves it open.
    fill: float | None = None

    def moved(self, right_mm: float, down_mm: float) -> "Stroke":
        """Give the same lines in another place."""
        return replace(self, points=tuple((x + right_mm, y + down_mm) for x, y in self.points))


@dataclass(frozen=True, slots=True)
class Note:
    """A few words at a point: left end of the baseline, or their middle."""

    at: Point
    text: str
    size_pt: float = 6.0
    grey: float = 0.0
    is_centred: bool = False
    face: str = "regular"

    def moved(self, right_mm: float, down_mm: float) -> "Note":
        """Give the same words in another place."""
        return replace(self, at=(self.at[0] + right_mm, self.at[1] + down_mm))


@dataclass(frozen=True, slots=True)
class Picture:
    """A grey picture in a box: one byte a pixel, rows from the top."""

    box: Box
    name: str
    width: int
    height: int
    pixels: bytes

    def moved(self, right_mm: float, down_mm: float) -> "Picture":
        """Give the same picture in another place."""
        return replace(self, box=self.box.moved(right_mm, down_mm))


Art: TypeAlias = Stroke | Note | Picture


def line(
    x1_mm: float, y1_mm: float, x2_mm: float, y2_mm: float, width_mm: float = 0.12, grey: float = 0.0
) -> Stroke:
    """Give one straight line."""
    return Stroke(((x1_mm, y1_mm), (x2_mm, y2_mm)), width_mm, grey)


def outline(box: Box, width_mm: float = 0.12, grey: float = 0.0, fill: float | None = None) -> Stroke:
    """Give the four sides of a box."""
    corners = (
        (box.x_mm, box.y_mm), (box.right_mm, box.y_mm), (box.right_mm, box.bottom_mm), (box.x_mm, box.bottom_mm),
    )  # fmt: skip
    return Stroke(corners, width_mm, grey, is_closed=True, fill=fill)


# A line every half millimetre is drawn by any office printer, and by a 203 dpi head as one of four dots.
_TINT_STEP_MM = 0.5


def tinted(box: Box, share: float) -> tuple[Stroke, ...]:
    """Give a tint as upright hairlines: grey is dithered into dots by a black-only printer, lines are not.

    The lines are filled shapes: drawn as strokes a small picture of the page would make each as wide as a dot.
    """
    width_mm = share * _TINT_STEP_MM
    lefts = (
        box.x_mm + (n + 0.5) * _TINT_STEP_MM - width_mm / 2 for n in range(int(box.width_mm / _TINT_STEP_MM))
    )
    return tuple(outline(Box(left_mm, box.y_mm, width_mm, box.height_mm), 0, fill=0.0) for left_mm in lefts)
