"""A germination percentage with its interval against the bar it is held to, on one painted scale."""

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from hilum.window.theme import theme

EDGE_PX, BAR_PX, TOP_PX = 22, 18, 26


class IntervalBar(QWidget):
    """Paints 0 to 100 %: the interval as a band, the figure as a mark in it, the standard as a line across."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._percent, self._low, self._high = 0.0, 0.0, 0.0
        self._standard: float | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("Germination against the standard")

    def show_interval(self, percent: float, low: float, high: float, standard: float | None) -> None:
        """Show another result."""
        self._percent, self._low, self._high, self._standard = percent, low, high, standard
        against = "no standard" if standard is None else f"standard {standard:g} %"
        self.setAccessibleDescription(f"{percent:g} %, interval {low:.0f} to {high:.0f} %, {against}")
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(420, TOP_PX + BAR_PX + 30)

    def _x(self, percent: float) -> float:
        return EDGE_PX + (self.width() - 2 * EDGE_PX) * percent / 100

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        small = QFont(self.font())
        small.setPointSizeF(max(8.0, self.font().pointSizeF() - 1.5))
        painter.setFont(small)
        t = theme()
        painter.setPen(QPen(QColor(t.line), 1))
        painter.setBrush(QColor(t.paper))
        painter.drawRoundedRect(QRectF(self._x(0), TOP_PX, self._x(100) - self._x(0), BAR_PX), 4, 4)
        painter.setBrush(QColor(t.chosen))
        painter.setPen(QPen(QColor(t.accent), 1))
        band = QRectF(self._x(self._low), TOP_PX, max(2.0, self._x(self._high) - self._x(self._low)), BAR_PX)
        painter.drawRoundedRect(band, 4, 4)
        x = self._x(self._percent)
        painter.setPen(QPen(QColor(t.accent), 4))
        painter.drawLine(QPointF(x, TOP_PX + 2), QPointF(x, TOP_PX + BAR_PX - 2))
        painter.setPen(QColor(t.quiet))
        for percent in (0, 25, 50, 75, 100):
            place = QRectF(self._x(percent) - 30, TOP_PX + BAR_PX + 6, 60, 20)
            painter.drawText(place, Qt.AlignmentFlag.AlignCenter, f"{percent} %")
        if self._standard is not None:
            self._paint_standard(painter, self._standard)
        painter.end()

    def _paint_standard(self, painter: QPainter, standard: float) -> None:
        x = self._x(standard)
        painter.setPen(QPen(QColor(theme().coat), 2, Qt.PenStyle.DashLine))
        painter.drawLine(QPointF(x, TOP_PX - 4), QPointF(x, TOP_PX + BAR_PX + 4))
        left = min(max(0.0, x - 70), max(0.0, self.width() - 140.0))
        painter.drawText(
            QRectF(left, 0, 140, TOP_PX - 5), Qt.AlignmentFlag.AlignCenter, f"standard {standard:g} %"
        )
