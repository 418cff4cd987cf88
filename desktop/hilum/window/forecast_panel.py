"""The forecast of one lot: germination now and by year with its band, and the one sentence why."""

from datetime import date

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QGridLayout, QSizePolicy, QVBoxLayout, QWidget

from hilum.benches.forecasting import Forecast, lot_forecast
from hilum.benches.keeping import Catalogue
from hilum.window.lot_figures import FigureBox
from hilum.window.theme import theme
from hilum.window.widgets import Quiet
from hilum.window.work import WorkDay

LEFT_PX, RIGHT_PX, TOP_PX, BOTTOM_PX = 58, 22, 12, 30
YEARS = 10
LOOKING = "Looking ahead…"
NEVER_PRINTED = "A forecast is for deciding when to test and what to regrow; it is never printed on a packet."


def forecast_of(catalogue: Catalogue, number: str, on: date) -> Forecast:
    """Ask the bench for one lot's forecast."""
    return lot_forecast(catalogue, number, on=on, years=YEARS)[1]


class SurvivalCurve(QWidget):
    """Paints germination by year with its 90 % band, and where the standard lies."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._found: Forecast | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName("Germination by year")

    def show_forecast(self, found: Forecast) -> None:
        """Paint another forecast."""
        self._found = found
        self.setAccessibleDescription(
            "; ".join(
                f"{point.on.year}: {point.percent:.0f} %, {point.low:.0f} to {point.high:.0f} %"
                for point in found.curve
            )
        )
        self.setVisible(len(found.curve) > 1)
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(560, 220)

    def _point(self, on: date, percent: float) -> QPointF:
        assert self._found is not None
        first, last = self._found.curve[0].on, self._found.curve[-1].on
        share = (on - first).days / max(1, (last - first).days)
        width = max(1, self.width() - LEFT_PX - RIGHT_PX)
        height = max(1, self.height() - TOP_PX - BOTTOM_PX)
        return QPointF(LEFT_PX + width * share, TOP_PX + height * (1 - percent / 100))

    def paintEvent(self, _event: QPaintEvent) -> None:
        if self._found is None or len(self._found.curve) < 2:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        curve = self._found.curve
        self._paint_axes(painter)
        upper = [self._point(point.on, point.high) for point in curve]
        lower = [self._point(point.on, point.low) for point in reversed(curve)]
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(QColor(theme().chosen))
        painter.drawPolygon(QPolygonF([*upper, *lower]))
        painter.setPen(QPen(QColor(theme().accent), 2.4))
        painter.drawPolyline(QPolygonF([self._point(point.on, point.percent) for point in curve]))
        self._paint_standard(painter)
        painter.end()

    def _paint_axes(self, painter: QPainter) -> None:
        assert self._found is not None
        curve = self._found.curve
        for percent in (0, 25, 50, 75, 100):
            left, right = self._point(curve[0].on, percent), self._point(curve[-1].on, percent)
            painter.setPen(QPen(QColor(theme().line), 1))
            painter.drawLine(left, right)
            painter.setPen(QColor(theme().quiet))
            box = QRectF(0, left.y() - 9, LEFT_PX - 6, 18)
            painter.drawText(box, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, f"{percent} %")
        for point in curve[:: max(1, len(curve) // 6)]:
            at = self._point(point.on, 0)
            painter.drawText(
                QRectF(at.x() - 30, at.y() + 6, 60, 18), Qt.AlignmentFlag.AlignHCenter, str(point.on.year)
            )

    def _paint_standard(self, painter: QPainter) -> None:
        assert self._found is not None
        if self._found.standard_percent is None:
            return
        left = self._point(self._found.curve[0].on, self._found.standard_percent)
        painter.setPen(QPen(QColor(theme().coat), 1.4, Qt.PenStyle.DashLine))
        painter.drawLine(left, self._point(self._found.curve[-1].on, self._found.standard_percent))
        words = f"standard {self._found.standard_percent:g} %"
        painter.drawText(
            QPointF(self.width() - RIGHT_PX - painter.fontMetrics().horizontalAdvance(words), left.y() - 5),
            words,
        )


class ForecastPanel(QWidget):
    """The figures, the curve and the reason; worked out beside the window when it is first looked at."""

    def __init__(self, work: WorkDay, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.work = work
        self._wanted = ""
        self._boxes = {
            name: FigureBox(name) for name in ("Germination now", "Below standard", "Half-life", "Test next")
        }
        self.curve = SurvivalCurve()
        self.why = Quiet("")
        figures = QGridLayout()
        for column, box in enumerate(self._boxes.values()):
            figures.addWidget(box, 0, column)
            figures.setColumnStretch(column, 1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addLayout(figures)
        for widget in (self.curve, self.why, Quiet(NEVER_PRINTED)):
            layout.addWidget(widget)
        layout.addStretch(1)
        self.curve.hide()

    def show_lot(self, number: str) -> None:
        """Work out the forecast of another lot."""
        self._wanted = number
        self.why.setText(LOOKING)
        self.work.run(
            forecast_of,
            self.work.catalogue,
            number,
            self.work.today(),
            done=self.show_forecast,
            failed=self.why.setText,
        )

    def show_forecast(self, found: Forecast) -> None:
        """Show what is forecast, or why there is no forecast."""
        self.why.setText(found.why)
        self.curve.show_forecast(found)
        for box in self._boxes.values():
            box.setVisible(not found.is_refused)
        if found.now_percent is None or found.interval_90 is None:
            return
        low, high = found.interval_90
        self._boxes["Germination now"].show_figure(
            f"{found.now_percent:.0f} %", f"90 % band {low:.0f} to {high:.0f} %"
        )
        chance = found.below_standard_chance
        if chance is None:
            self._boxes["Below standard"].show_figure("no standard", "set one for the crop")
        else:
            tone = "bad" if chance > 0.5 else "warn" if chance > 0.25 else ""
            words = f"chance of less than {found.standard_percent:g} %"
            self._boxes["Below standard"].show_figure(f"{100 * chance:.0f} %", words, tone)
        half = found.half_life_years
        years = "not known" if half is None else "over 100 years" if half > 100 else f"{half:.0f} years"
        self._boxes["Half-life"].show_figure(years, "until half of it is alive, as it lies now")
        next_on = found.test_next_on
        if next_on is None:
            self._boxes["Test next"].show_figure("no more", "the lot is nearly dead")
        else:
            self._boxes["Test next"].show_figure(next_on.isoformat(), "by the forecast")
