"""A picture of a sum: lines, a band, bars and marks on two axes; the same figures as words and as a table."""

import math
from typing import NamedTuple

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from hilum.window.theme import theme

LEFT_PX, RIGHT_PX, TOP_PX, BOTTOM_PX = 56, 18, 32, 46
MAIN, OTHER, LIMIT = "main", "other", "limit"


class Line(NamedTuple):
    """One line of a picture; its name stands at its end where it is a limit."""

    name: str
    points: tuple[tuple[float, float], ...]
    look: str = MAIN
    dots: bool = False


class Mark(NamedTuple):
    """A dashed line across the picture at a figure of one axis, with its words."""

    at: float
    words: str
    upright: bool = False


class Plot(NamedTuple):
    """Everything a picture shows, and the rows of its table."""

    title: str
    x_name: str
    y_name: str
    x_most: float
    y_least: float
    y_most: float
    lines: tuple[Line, ...] = ()
    # x, lower and upper edge.
    band: tuple[tuple[float, float, float], ...] = ()
    bars: tuple[tuple[str, float], ...] = ()
    marks: tuple[Mark, ...] = ()
    headings: tuple[str, ...] = ()
    rows: tuple[tuple[str, ...], ...] = ()
    x_least: float = 0.0
    words: str = ""
    caption: str = ""


def ticks(least: float, most: float, wanted: int = 5) -> tuple[float, ...]:
    """Give round figures between two bounds."""
    room = most - least
    if room <= 0:
        return (least,)
    power = 10.0 ** math.floor(math.log10(room / wanted))
    step = next(factor * power for factor in (1, 2, 2.5, 5, 10) if room / (factor * power) <= wanted)
    first = math.ceil(least / step - 1e-9)
    return tuple(round(place * step, 10) for place in range(first, math.floor(most / step + 1e-9) + 1))


class SumPicture(QWidget):
    """Paints a plot in the colours of the theme."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._plot: Plot | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setMinimumWidth(260)

    def show_plot(self, plot: Plot | None) -> None:
        """Paint another picture; none hides it."""
        self._plot = plot
        self.setAccessibleName("" if plot is None else plot.title)
        self.setAccessibleDescription("" if plot is None else plot.words)
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(460, 280)

    def _at(self, plot: Plot, x: float, y: float) -> QPointF:
        width = max(1, self.width() - LEFT_PX - RIGHT_PX)
        height = max(1, self.height() - TOP_PX - BOTTOM_PX)
        across = (x - plot.x_least) / ((plot.x_most - plot.x_least) or 1)
        up = (y - plot.y_least) / ((plot.y_most - plot.y_least) or 1)
        return QPointF(LEFT_PX + width * across, TOP_PX + height * (1 - up))

    def paintEvent(self, _event: QPaintEvent) -> None:
        plot = self._plot
        if plot is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._paint_ground(painter, plot)
        self._paint_band(painter, plot)
        self._paint_bars(painter, plot)
        for line in plot.lines:
            self._paint_line(painter, plot, line)
        for mark in plot.marks:
            self._paint_mark(painter, plot, mark)
        painter.end()

    def _paint_ground(self, painter: QPainter, plot: Plot) -> None:
        for figure in ticks(plot.y_least, plot.y_most):
            left = self._at(plot, plot.x_least, figure)
            painter.setPen(QPen(QColor(theme().line), 1))
            painter.drawLine(left, self._at(plot, plot.x_most, figure))
            painter.setPen(QColor(theme().quiet))
            room = QRectF(0, left.y() - 10, LEFT_PX - 8, 20)
            painter.drawText(room, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, f"{figure:g}")
        painter.setPen(QColor(theme().quiet))
        if not plot.bars:
            for figure in ticks(plot.x_least, plot.x_most, 8):
                at = self._at(plot, figure, plot.y_least)
                room = QRectF(at.x() - 30, at.y() + 4, 60, 18)
                painter.drawText(room, Qt.AlignmentFlag.AlignHCenter, f"{figure:g}")
        painter.drawText(QRectF(6, 0, self.width() - 12, 20), Qt.AlignmentFlag.AlignLeft, plot.y_name)
        below = QRectF(LEFT_PX, self.height() - 21, self.width() - LEFT_PX - RIGHT_PX, 20)
        painter.drawText(below, Qt.AlignmentFlag.AlignRight, plot.x_name)

    def _paint_band(self, painter: QPainter, plot: Plot) -> None:
        if not plot.band:
            return
        upper = [self._at(plot, x, high) for x, _, high in plot.band]
        lower = [self._at(plot, x, low) for x, low, _ in reversed(plot.band)]
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(theme().chosen))
        painter.drawPolygon(QPolygonF([*upper, *lower]))

    def _paint_bars(self, painter: QPainter, plot: Plot) -> None:
        for place, (name, height) in enumerate(plot.bars):
            top, foot = self._at(plot, place + 0.2, height), self._at(plot, place + 0.8, plot.y_least)
            painter.setPen(QPen(QColor(theme().accent), 1.2))
            painter.setBrush(QColor(theme().chosen))
            painter.drawRect(QRectF(top, foot))
            painter.setPen(QColor(theme().ink))
            middle = (top.x() + foot.x()) / 2
            within = QRectF(middle - 40, foot.y() - 24, 80, 18)
            painter.drawText(within, Qt.AlignmentFlag.AlignHCenter, f"{height:.3g}")
            painter.setPen(QColor(theme().quiet))
            painter.drawText(QRectF(middle - 40, foot.y() + 4, 80, 18), Qt.AlignmentFlag.AlignHCenter, name)

    def _paint_line(self, painter: QPainter, plot: Plot, line: Line) -> None:
        looks = {MAIN: (theme().accent, 2.6), OTHER: (theme().edge, 1.2), LIMIT: (theme().coat, 1.8)}
        colour, width = looks[line.look]
        points = [self._at(plot, x, y) for x, y in line.points]
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(QColor(colour), width))
        painter.drawPolyline(QPolygonF(points))
        if line.dots:
            painter.setBrush(QColor(colour))
            for point in points:
                painter.drawEllipse(point, 3.6, 3.6)
        if line.look == LIMIT and points:
            at = points[-1]
            painter.setPen(QColor(theme().coat))
            above = at.y() - 22 if line.name.startswith("keep") else at.y() + 4
            room = QRectF(at.x() - 124, above, 124, 18)
            painter.drawText(room, Qt.AlignmentFlag.AlignRight, line.name)

    def _paint_mark(self, painter: QPainter, plot: Plot, mark: Mark) -> None:
        painter.setPen(QPen(QColor(theme().coat), 1.4, Qt.PenStyle.DashLine))
        if mark.upright:
            foot, top = self._at(plot, mark.at, plot.y_least), self._at(plot, mark.at, plot.y_most)
            painter.drawLine(foot, top)
            is_right = foot.x() > self.width() * 0.62
            room = QRectF(foot.x() - 206 if is_right else foot.x() + 6, top.y() + 2, 200, 18)
            side = Qt.AlignmentFlag.AlignRight if is_right else Qt.AlignmentFlag.AlignLeft
            painter.drawText(room, side, mark.words)
        else:
            left, right = (self._at(plot, x, mark.at) for x in (plot.x_least, plot.x_most))
            painter.drawLine(left, right)
            # At the right end, where lines that fall have left room.
            room = QRectF(right.x() - 204, right.y() - 21, 200, 18)
            painter.drawText(room, Qt.AlignmentFlag.AlignRight, mark.words)
