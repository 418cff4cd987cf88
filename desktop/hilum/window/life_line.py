"""A lot's life on one painted line: where it lay, how it tested, what was done to it, what came in and went out."""

from collections.abc import Sequence
from datetime import date, timedelta

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QHelpEvent, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from hilum.window.lot_events import STEPS, STOCK, STORE, TESTS, LifeEvent
from hilum.window.theme import theme

LANES = ((STORE, "Store"), (TESTS, "Tests"), (STEPS, "Work"), (STOCK, "Stock"))
LANE_PX, AXIS_PX, NAMES_PX, EDGE_PX = 44, 30, 64, 20
YEAR_PX = 46.0
MARK_PX = 6.0
# How near the pointer must come to a mark to be told of it.
NEAR_PX = 9.0


class LifeLine(QWidget):
    """Paints events on lanes over the years; the table of the same events stands beside it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._events: tuple[LifeEvent, ...] = ()
        self._first, self._last = date(2000, 1, 1), date(2000, 12, 31)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setMouseTracking(True)
        self.setAccessibleName("Life of the lot")

    def show_events(self, events: Sequence[LifeEvent], today: date) -> None:
        """Paint other events, from the first of them to today."""
        self._events = tuple(events)
        first = min((event.on for event in events), default=today)
        # A short life would otherwise be one point.
        self._first = min(first, today - timedelta(days=60))
        self._last = max(today, max((event.until or event.on for event in events), default=today))
        words = "; ".join(f"{event.on.isoformat()} {event.what}: {event.words}" for event in self._events)
        self.setAccessibleDescription(words[:2000])
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(640, LANE_PX * len(LANES) + AXIS_PX)

    # Geometry.

    def x_of(self, day: date) -> float:
        """Give the place of a day across the widget, in pixels."""
        room = max(1.0, self.width() - NAMES_PX - 2 * EDGE_PX)
        whole = max(1, (self._last - self._first).days)
        return NAMES_PX + EDGE_PX + room * (day - self._first).days / whole

    def _y_of(self, lane: str) -> float:
        place = next(place for place, (name, _) in enumerate(LANES) if name == lane)
        return LANE_PX * (place + 0.5)

    # Painting.

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        small = QFont(self.font())
        small.setPointSizeF(max(8.0, self.font().pointSizeF() - 1.5))
        painter.setFont(small)
        self._paint_years(painter)
        self._paint_lanes(painter)
        for lane, _ in LANES:
            self._paint_lane(painter, [event for event in self._events if event.lane == lane])
        painter.end()

    def _paint_years(self, painter: QPainter) -> None:
        bottom = LANE_PX * len(LANES)
        free_from = 0.0
        for year in range(self._first.year, self._last.year + 1):
            left = self.x_of(max(date(year, 1, 1), self._first))
            right = self.x_of(min(date(year, 12, 31), self._last))
            if (year - self._first.year) % 2 == 0:
                painter.fillRect(QRectF(left, 0, right - left, bottom), QColor(theme().band))
            if left >= free_from and right - left > YEAR_PX / 2:
                painter.setPen(QColor(theme().quiet))
                painter.drawText(QPointF(left + 3, bottom + 19), str(year))
                free_from = left + YEAR_PX
        today = self.x_of(self._last)
        painter.setPen(QPen(QColor(theme().accent), 1.4, Qt.PenStyle.DashLine))
        painter.drawLine(QPointF(today, 0), QPointF(today, bottom))

    def _paint_lanes(self, painter: QPainter) -> None:
        for lane, name in LANES:
            y = self._y_of(lane)
            painter.setPen(QPen(QColor(theme().line), 1))
            painter.drawLine(QPointF(NAMES_PX, y), QPointF(self.width() - 4, y))
            painter.setPen(QColor(theme().quiet))
            painter.drawText(QRectF(4, y - 12, NAMES_PX - 8, 24), Qt.AlignmentFlag.AlignVCenter, name)

    def _paint_lane(self, painter: QPainter, events: Sequence[LifeEvent]) -> None:
        metrics = QFontMetricsF(painter.font())
        free_from = 0.0
        for event in events:
            x, y = self.x_of(event.on), self._y_of(event.lane)
            colour = QColor(getattr(theme(), event.tone) if event.tone else theme().coat)
            if event.lane == STORE:
                self._paint_stay(painter, event, x, y)
                continue
            if event.until is not None:
                painter.setPen(QPen(colour, 3))
                painter.drawLine(QPointF(x, y), QPointF(self.x_of(event.until), y))
            painter.setPen(QPen(QColor(theme().sheet), 1))
            painter.setBrush(colour)
            _mark(painter, event, QPointF(x, y))
            # Words only where they do not run into those before them: the table and the tip have them all.
            width = metrics.horizontalAdvance(event.sign)
            left = min(max(x - width / 2, NAMES_PX), self.width() - width - 2)
            if left > free_from:
                painter.setPen(QColor(theme().ink))
                painter.drawText(QPointF(left, y - MARK_PX - 4), event.sign)
                free_from = left + width + 8

    def _paint_stay(self, painter: QPainter, event: LifeEvent, x: float, y: float) -> None:
        end = self.x_of(event.until or self._last)
        bar = QRectF(x, y - 10, max(4.0, end - x), 20)
        painter.setPen(QPen(QColor(theme().accent), 1))
        painter.setBrush(QColor(theme().chosen))
        painter.drawRoundedRect(bar, 4, 4)
        painter.setPen(QColor(theme().chosen_ink))
        words = QFontMetricsF(painter.font()).elidedText(
            event.sign, Qt.TextElideMode.ElideLeft, max(0.0, bar.width() - 10)
        )
        painter.drawText(bar.adjusted(5, 0, -5, 0), Qt.AlignmentFlag.AlignVCenter, words)

    # Telling.

    def event_at(self, place: QPointF) -> LifeEvent | None:
        """Give the event under a point, the nearest where several are."""
        best, nearest = None, NEAR_PX
        for event in self._events:
            if abs(place.y() - self._y_of(event.lane)) > LANE_PX / 2:
                continue
            left, right = self.x_of(event.on), self.x_of(event.until or event.on)
            if event.lane == STORE and event.until is None:
                right = self.x_of(self._last)
            away = max(left - place.x(), place.x() - right, 0.0)
            if away <= nearest:
                best, nearest = event, away
        return best

    def event(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.ToolTip and isinstance(event, QHelpEvent):
            found = self.event_at(QPointF(event.pos()))
            words = f"{found.on.isoformat()} {found.what}: {found.words}" if found else ""
            QToolTip.showText(event.globalPos(), words, self)
            return True
        return super().event(event)


def _mark(painter: QPainter, event: LifeEvent, at: QPointF) -> None:
    """Draw the mark of an event: its shape says what it is, so colour need not."""
    x, y, r = at.x(), at.y(), MARK_PX
    if event.lane == TESTS:
        painter.drawPolygon(
            QPolygonF([QPointF(x, y - r), QPointF(x + r, y), QPointF(x, y + r), QPointF(x - r, y)])
        )
    elif event.sign in ("received", "returned"):
        painter.drawPolygon(QPolygonF([QPointF(x - r, y - r), QPointF(x + r, y - r), QPointF(x, y + r)]))
    elif event.sign in ("packed", "packets"):
        painter.drawRect(QRectF(x - r, y - r, 2 * r, 2 * r))
    elif event.sign == "hold":
        painter.drawRect(QRectF(x - r / 2, y - r, r, 2 * r))
    else:
        painter.drawEllipse(at, r - 1, r - 1)
