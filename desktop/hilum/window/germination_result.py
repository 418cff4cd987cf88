"""The result of a test, as it is read from a step away: the figure, its interval, the verdict, what comes next."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from hilum.benches.results import GerminationResult
from hilum.window import germination_words
from hilum.window.germination_bar import IntervalBar
from hilum.window.widgets import Heading, Notice, Quiet, Title, row_of


class ResultPanel(QWidget):
    """Shows one finished test."""

    lot_wanted = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.name, self.verdict = Heading(""), Title("")
        self.why, self.figure, self.classes, self.tolerance, self.next = (Quiet("") for _ in range(5))
        self.bar = IntervalBar()
        self.name.setWordWrap(True)
        self.warnings = Notice(stays=True)
        self.open_lot = QPushButton("&Open the lot")
        self._number = ""
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        for widget in (self.name, self.verdict, self.why, self.figure, self.bar, self.classes, self.tolerance,
                       self.next, self.warnings):  # fmt: skip
            layout.addWidget(widget)
        layout.addLayout(row_of(self.open_lot))
        layout.addStretch(1)
        self.open_lot.clicked.connect(self.on_open)

    def show_result(self, result: GerminationResult) -> None:
        """Show another result."""
        test, line = result.test, result.lot.line
        self._number = line.number
        low, high = result.interval_90
        self.name.setText(f"{line.number}  {result.lot.name}")
        self.verdict.setText(germination_words.verdict_words(result))
        tone = {"keep": "good", "regrow": "bad", "retest": "warn"}.get(result.verdict, "")
        self.verdict.set_tone(tone)
        self.why.setText(result.verdict_why[:1].upper() + result.verdict_why[1:])
        self.figure.setText(
            f"Germination {test.normal_percent} % of {test.seeds} seeds; the true figure lies between {low:.0f} and "
            f"{high:.0f} % in nine cases of ten."
        )
        standard = None if result.lot.standard is None else result.lot.standard.percent
        self.bar.show_interval(float(test.normal_percent or 0), low, high, standard)
        self.classes.setText(f"Classes: {germination_words.classes_words(test)}.")
        self.tolerance.setText(germination_words.tolerance_words(test))
        next_words = "No next test" if line.due_on is None else f"Next test due {line.due_on.isoformat()}"
        self.next.setText(f"{next_words}: {line.due_why}.")
        if result.warnings:
            self.warnings.show_warn(" ".join(result.warnings))
        else:
            self.warnings.clear()

    def on_open(self) -> None:
        """Go to the lot's own page."""
        self.lot_wanted.emit(self._number)
