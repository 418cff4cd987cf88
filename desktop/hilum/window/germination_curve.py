"""The germination curve of a test: normal seedlings by day, dish by dish, and all dishes together."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import timedelta

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from hilum.benches.testing import CountSheet
from hilum.window.theme import theme

LEFT_PX, RIGHT_PX, TOP_PX, BOTTOM_PX = 58, 116, 12, 28
# Dishes are told apart by their dashes, not by colour.
DASHES = ((6.0, 3.0), (2.0, 3.0), (8.0, 3.0, 2.0, 3.0), (1.0, 2.0))


@dataclass(frozen=True, slots=True)
class CurveLine:
    """Percent of the seeds of one dish, or of all, that had come up by a number of days."""

    name: str
    points: tuple[tuple[int, float], ...]


def curve_lines(sheet: CountSheet) -> tuple[CurveLine, ...]:
    """Give the line of each dish and, last, of all dishes together; nothing while no seedling was counted."""
    # Each dish counts its days from its own laying: those of a later group began later.
    warm = {
        dish.number: dish.days.laid_on + timedelta(days=sheet.test.prechill_days) for dish in sheet.dishes
    }
    found: dict[int, list[tuple[int, int]]] = {dish.number: [] for dish in sheet.dishes}
    for on, number, classes in sheet.counts:
        if classes["normal"] is not None:
            found[number].append((max(0, (on - warm[number]).days), classes["normal"]))
    if not any(found.values()):
        return ()
    seeds = {dish.number: dish.seeds for dish in sheet.dishes}
    lines = [
        CurveLine(f"dish {number}", _summed(counts, seeds[number]))
        for number, counts in found.items()
        if counts
    ]
    together = CurveLine("all dishes", _together(found, seeds))
    return (*lines, together) if len(lines) > 1 else (together,)


def _together(
    found: Mapping[int, Sequence[tuple[int, int]]], seeds: Mapping[int, int]
) -> tuple[tuple[int, float], ...]:
    """Give the mean over the dishes counted so far, on every day by which each of them had been counted.

    Before that day it would sink by what is unknown.
    """
    counted = {number: counts for number, counts in found.items() if counts}
    sown = sum(seeds[number] for number in counted)
    points: dict[int, float] = {0: 0.0}
    for day in sorted({at for counts in counted.values() for at, _ in counts}):
        if all(any(at <= day for at, _ in counts) for counts in counted.values()):
            total = sum(number for counts in counted.values() for at, number in counts if at <= day)
            points[day] = 100 * total / sown
    return tuple(points.items())


def _summed(counts: Sequence[tuple[int, int]], seeds: int) -> tuple[tuple[int, float], ...]:
    points: dict[int, float] = {0: 0.0}
    total = 0
    for day, number in counts:
        total += number
        points[day] = 100 * total / seeds
    return tuple(points.items())


def spread(heights: Sequence[float], apart: float) -> tuple[float, ...]:
    """Move heights that lie too close to each other apart, those further down giving way."""
    placed: list[float] = []
    for height in sorted(heights):
        placed.append(max(height, placed[-1] + apart) if placed else height)
    order = sorted(range(len(heights)), key=lambda place: heights[place])
    given = dict(zip(order, placed, strict=True))
    return tuple(given[place] for place in range(len(heights)))


class GerminationCurve(QWidget):
    """Paints the lines of a count sheet; the same figures stand in its description for a screen reader."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._lines: tuple[CurveLine, ...] = ()
        self._days = 14
        self._standard: float | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("Germination curve")

    def show_sheet(self, sheet: CountSheet) -> None:
        """Paint another test."""
        self._lines = curve_lines(sheet)
        last = max((day for line in self._lines for day, _ in line.points), default=0)
        self._days = max(7, last, sheet.test.final_count_days or 0)
        self._standard = sheet.test.standard_percent
        words = "; ".join(
            f"{line.name}: " + ", ".join(f"day {day} {percent:.0f} %" for day, percent in line.points)
            for line in self._lines
        )
        self.setAccessibleDescription(words or "nothing counted yet")
        self.setVisible(bool(self._lines))
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(420, 190)

    def _point(self, day: float, percent: float) -> QPointF:
        room = QRectF(
            LEFT_PX,
            TOP_PX,
            max(1, self.width() - LEFT_PX - RIGHT_PX),
            max(1, self.height() - TOP_PX - BOTTOM_PX),
        )
        return QPointF(
            room.left() + room.width() * day / self._days, room.bottom() - room.height() * percent / 100
        )

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._paint_ground(painter)
        for line in self._lines:
            whole = line.name == "all dishes"
            pen = QPen(QColor(theme().accent if whole else theme().coat), 2.6 if whole else 1.3)
            if not whole:
                pen.setDashPattern(DASHES[self._lines.index(line) % len(DASHES)])
            painter.setPen(pen)
            points = [self._point(day, percent) for day, percent in line.points]
            painter.drawPolyline(QPolygonF(points))
            if whole:
                painter.setBrush(QColor(theme().accent))
                for point in points[1:]:
                    painter.drawEllipse(point, 3.5, 3.5)
        self._paint_names(painter)
        painter.end()

    def _paint_names(self, painter: QPainter) -> None:
        """Write the number of every dish at the end of its line."""
        ends = [self._point(*line.points[-1]) for line in self._lines]
        heights = spread([end.y() for end in ends], painter.fontMetrics().height() - 2)
        down = min(0.0, self.height() - BOTTOM_PX - max(heights, default=0.0))
        for line, end, height in zip(self._lines, ends, heights, strict=True):
            whole = line.name == "all dishes"
            painter.setPen(QColor(theme().accent if whole else theme().coat))
            words = f"{'all' if whole else line.name} {line.points[-1][1]:.0f} %"
            painter.drawText(QPointF(end.x() + 10, height + down + 5), words)

    def _paint_ground(self, painter: QPainter) -> None:
        for percent in (0, 25, 50, 75, 100):
            left = self._point(0, percent)
            painter.setPen(QPen(QColor(theme().line), 1))
            painter.drawLine(left, self._point(self._days, percent))
            painter.setPen(QColor(theme().quiet))
            painter.drawText(
                QRectF(0, left.y() - 9, LEFT_PX - 6, 18), Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter,
                f"{percent} %",
            )  # fmt: skip
        step = max(1, round(self._days / 7))
        for day in range(0, self._days + 1, step):
            at = self._point(day, 0)
            words = f"day {day}" if day == 0 else str(day)
            painter.drawText(QRectF(at.x() - 24, at.y() + 4, 48, 18), Qt.AlignmentFlag.AlignHCenter, words)
        if self._standard is not None:
            painter.setPen(QPen(QColor(theme().coat), 1.4, Qt.PenStyle.DashLine))
            painter.drawLine(self._point(0, self._standard), self._point(self._days, self._standard))
            at = self._point(0, self._standard)
            painter.drawText(QPointF(at.x() + 6, at.y() - 4), f"standard {self._standard:g} %")
