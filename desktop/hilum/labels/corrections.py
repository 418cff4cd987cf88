"""Corrections: what one printer does to a page, measured on its calibration page, and the way to undo it."""

from dataclasses import dataclass

from hilum.labels.errors import LabelError
from hilum.labels.geometry import Box
from hilum.labels.stocks import LabelStock

# Feeders are off by a few millimetres, never by more than these (the range of one maker's own setting is
# 4.2 mm; the rest is room for a mistyped tray; common practice, no source).
_MOST_OFFSET_MM, _MOST_SCALE, _MOST_SKEW = 10.0, 0.02, 0.02
# Beyond this the driver scales the page, and codes lose their whole dots: that is to be mended there.
SCALE_OF_A_DRIVER = 0.003
_CROSS_MM = 20.0


@dataclass(frozen=True, slots=True)
class Correction:
    """Where to draw so that ink lands where it is meant: offset, scale and skew of the printer undone.

    The printer moves every point by the offset, stretches the page by its scales from the top left corner,
    and turns it by the skew (millimetres down for each millimetre across). All zero and one: nothing to do.
    """

    right_mm: float = 0.0
    down_mm: float = 0.0
    scale_x: float = 1.0
    scale_y: float = 1.0
    skew: float = 0.0

    def __post_init__(self) -> None:
        for value, what in ((self.right_mm, "right"), (self.down_mm, "down")):
            if abs(value) > _MOST_OFFSET_MM:
                raise LabelError(
                    f"The print is {value:.1f} mm off to the {what}; up to {_MOST_OFFSET_MM:g} mm can be "
                    "corrected. Check the paper size and the tray in the printer's own settings."
                )
        for value in (self.scale_x, self.scale_y):
            if abs(value - 1) > _MOST_SCALE:
                raise LabelError(
                    f"The print is {100 * value:.1f} % of its true size; 98 to 102 % can be corrected. Print at "
                    "100 %, not “fit to page”, and measure again."
                )
        if abs(self.skew) > _MOST_SKEW:
            raise LabelError(
                f"The print is turned by {100 * abs(self.skew):.1f} mm in 100 mm; up to 2 mm can be corrected. "
                "Put the paper in straight and measure again."
            )

    @property
    def by_driver(self) -> bool:
        """Whether the page is scaled by more than a printer does by itself."""
        return max(abs(self.scale_x - 1), abs(self.scale_y - 1)) > SCALE_OF_A_DRIVER

    def printed(self, x_mm: float, y_mm: float) -> tuple[float, float]:
        """Tell where the printer puts a point of the page."""
        return (
            self.right_mm + self.scale_x * x_mm - self.skew * y_mm,
            self.down_mm + self.scale_y * y_mm + self.skew * x_mm,
        )

    def drawn(self, x_mm: float, y_mm: float) -> tuple[float, float]:
        """Tell where to draw a point so that the printer puts it where it is meant."""
        across, down = x_mm - self.right_mm, y_mm - self.down_mm
        whole = self.scale_x * self.scale_y + self.skew**2
        return (
            (self.scale_y * across + self.skew * down) / whole,
            (self.scale_x * down - self.skew * across) / whole,
        )

    def matrix(self) -> tuple[float, float, float, float, float, float]:
        """Give the same as `drawn` as x' = a x + b y + c, y' = d x + e y + f."""
        c, f = self.drawn(0, 0)
        ax, dx = self.drawn(1, 0)
        by, ey = self.drawn(0, 1)
        return ax - c, by - c, c, dx - f, ey - f, f

    def moved(self, box: Box) -> Box:
        """Give a box of unchanged size whose middle is drawn where it must be."""
        x_mm, y_mm = self.drawn(box.x_mm + box.width_mm / 2, box.y_mm + box.height_mm / 2)
        return Box(x_mm - box.width_mm / 2, y_mm - box.height_mm / 2, box.width_mm, box.height_mm)


@dataclass(frozen=True, slots=True)
class MeasuredCrosses:
    """Three crosses of the calibration page as measured: millimetres from the left and the top paper edge."""

    page_w_mm: float
    page_h_mm: float
    top_left: tuple[float, float]
    top_right: tuple[float, float]
    bottom_left: tuple[float, float]


def crosses(page_w_mm: float, page_h_mm: float) -> tuple[tuple[float, float], ...]:
    """Give where the four crosses are drawn: top left, top right, bottom left, bottom right."""
    near_mm = min(_CROSS_MM, page_w_mm / 4, page_h_mm / 4)
    xs, ys = (near_mm, page_w_mm - near_mm), (near_mm, page_h_mm - near_mm)
    return tuple((x, y) for y in ys for x in xs)


def crosses_on(stock: LabelStock) -> tuple[tuple[float, float], ...]:
    """Give where the crosses of a stock's calibration page are drawn."""
    return crosses(stock.page_w_mm, stock.page_h_mm)


def solve_calibration(measured: MeasuredCrosses) -> Correction:
    """Work out offset, scale and skew from three measured crosses; refuses what no printer does."""
    first, second, third, _ = crosses(measured.page_w_mm, measured.page_h_mm)
    across_mm, down_mm = second[0] - first[0], third[1] - first[1]
    (x1, y1), (x2, y2), (x3, y3) = measured.top_left, measured.top_right, measured.bottom_left
    for found, meant, which in ((x2 - x1, across_mm, "top"), (y3 - y1, down_mm, "left")):
        if found <= 0 or abs(found / meant - 1) > 0.1:
            raise LabelError(
                f"The two {which} crosses are {meant:.1f} mm apart on the page; {found:.1f} mm was measured. "
                "Measure each cross from the left and from the top edge of the paper, in millimetres."
            )
    turned_by = ((y2 - y1) / across_mm, -(x3 - x1) / down_mm)
    if abs(turned_by[0] - turned_by[1]) > _MOST_SKEW:
        raise LabelError(
            "The top crosses say that the page is turned one way, the left ones another. Measure all three again."
        )
    skew = sum(turned_by) / 2
    scale_x, scale_y = (x2 - x1) / across_mm, (y3 - y1) / down_mm
    # The offset is what is left of the three crosses in the mean, so that no one of them decides it.
    spread = [
        (x - scale_x * meant_x + skew * meant_y, y - scale_y * meant_y - skew * meant_x)
        for (x, y), (meant_x, meant_y) in (((x1, y1), first), ((x2, y2), second), ((x3, y3), third))
    ]
    right_mm, down_mm = (sum(each[axis] for each in spread) / 3 for axis in (0, 1))
    return Correction(right_mm, down_mm, scale_x, scale_y, skew)
