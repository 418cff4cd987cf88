"""What packing a lot takes: fill, draw, what is possible above the reserve, germination, and what to know first."""

from datetime import date

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QLabel, QVBoxLayout, QWidget

from hilum.benches.lots import shown_amount
from hilum.benches.packing import PackingPlan
from hilum.benches.views import LotView
from hilum.benches.wording import month_words
from hilum.window import lot_words
from hilum.window.widgets import Quiet

FIGURES = (
    ("fill", "In each packet"),
    ("drawn", "Drawn in all"),
    ("possible", "Possible above the reserve"),
    ("stock", "In stock"),
    ("germination", "Germination"),
    ("reserve", "Reserve"),
)


def age_words(tested_on: date, on: date) -> str:
    """Say how long ago a test was."""
    months = (on.year - tested_on.year) * 12 + on.month - tested_on.month - (on.day < tested_on.day)
    if months < 1:
        return "less than a month ago"
    if months < 24:
        return "1 month ago" if months == 1 else f"{months} months ago"
    return f"{months // 12} years ago"


def germination_words(lot: LotView, on: date) -> str:
    """Give the newest result, and how old it is."""
    line = lot.line
    if line.germination_percent is None:
        return "not tested"
    if line.tested_on is None:
        return f"{line.germination_percent} %"
    return f"{line.germination_percent} %, {month_words(line.tested_on)} ({age_words(line.tested_on, on)})"


class PackingFigures(QWidget):
    """Figures in two columns, and the warnings below them."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._figures: dict[str, QLabel] = {}
        grid = QGridLayout()
        grid.setHorizontalSpacing(18)
        grid.setVerticalSpacing(0)
        for place, (key, words) in enumerate(FIGURES):
            row, column = divmod(place, 2)
            figure = QLabel()
            figure.setTextFormat(Qt.TextFormat.PlainText)
            figure.setAccessibleName(words)
            figure.setWordWrap(True)
            if key in ("fill", "drawn"):
                figure.setProperty("look", "figure")
            grid.addWidget(Quiet(words), row * 2, column)
            grid.addWidget(figure, row * 2 + 1, column, Qt.AlignmentFlag.AlignTop)
            grid.setRowMinimumHeight(row * 2 + 1, 26)
            self._figures[key] = figure
        grid.setColumnStretch(0, 1)
        grid.setColumnStretch(1, 1)
        self._warnings = QVBoxLayout()
        self._warnings.setSpacing(4)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(8)
        layout.addLayout(grid)
        layout.addLayout(self._warnings)
        self.show_nothing()

    def show_nothing(self) -> None:
        """Show no figures."""
        for figure in self._figures.values():
            figure.setText(lot_words.NOT_KNOWN)
        self.show_warnings(())

    def show_lot(self, lot: LotView, on: date) -> None:
        """Show what is known of a lot whatever is packed from it."""
        reserve = lot_words.seeds(lot.reserve_seeds)
        self._say("stock", lot_words.stock(lot))
        self._say("reserve", reserve)
        self._say("germination", germination_words(lot, on))
        for key in ("fill", "drawn", "possible"):
            self._say(key, lot_words.NOT_KNOWN)
        self.show_warnings(())

    def show_plan(self, plan: PackingPlan, packets: int, on: date) -> None:
        """Show what some packets take."""
        self.show_lot(plan.lot, on)
        unit = plan.lot.line.unit
        self._say("fill", plan.fill_words)
        self._say("drawn", shown_amount(packets * plan.draw_per_packet, unit))
        possible = plan.possible_packets
        self._say("possible", "not known" if possible is None else lot_words.counted(possible, "packet"))
        self.show_warnings(plan.warnings)

    def show_warnings(self, warnings: tuple[str, ...]) -> None:
        """Show what to know before packing."""
        while (item := self._warnings.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        for words in warnings:
            label = QLabel(f"⚠ {words}")
            label.setTextFormat(Qt.TextFormat.PlainText)
            label.setWordWrap(True)
            label.setProperty("tone", "warn")
            self._warnings.addWidget(label)
            label.show()

    def _say(self, key: str, words: str) -> None:
        self._figures[key].setText(words)
