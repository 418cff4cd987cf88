"""Starting a test: the published method, the dishes, what it costs in seed, and the dishes are laid."""

from datetime import date, timedelta
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QLabel, QLineEdit, QPushButton, QSpinBox, QVBoxLayout, QWidget

from hilum.benches import testing
from hilum.benches.lots import lot_view
from hilum.errors import KeeperError
from hilum.window.packing_lot import LotChoice
from hilum.window.preparing_cautions import CautionLine
from hilum.window.widgets import DateEdit, GramsEdit, Notice, Quiet, primary, row_of
from hilum.window.work import WorkDay

MOST_DISHES, MOST_SEEDS = 16, 1000


class StartPanel(QWidget):
    """Lays the dishes of one lot after another."""

    # The dishes of a test were laid: its id and what to say.
    laid = Signal(int, str)

    def __init__(self, work: WorkDay, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.work = work
        self.choice = LotChoice(work)
        self.due, self.method = Quiet(""), Quiet("")
        self.dishes, self.seeds, self.prechill = QSpinBox(), QSpinBox(), QSpinBox()
        # For a crop without a published method: the keeper's own conditions.
        self.substrate, self.warmth = QLineEdit(), QLineEdit()
        self.first, self.final = QSpinBox(), QSpinBox()
        self._own: list[QWidget] = []
        for box, least, most in (
            (self.dishes, 1, MOST_DISHES),
            (self.seeds, 1, MOST_SEEDS),
            (self.prechill, 0, 60),
            (self.first, 0, 365),
            (self.final, 0, 365),
        ):
            box.setRange(least, most)
            box.setMaximumWidth(140)
        self.prechill.setSuffix(" days")
        for box in (self.first, self.final):
            box.setPrefix("day ")
            box.setSpecialValueText("none")
        self.substrate.setPlaceholderText("such as wet paper, sand")
        self.warmth.setPlaceholderText("such as 20 °C")
        self.dishes.setValue(4)
        self.seeds.setValue(25)
        self.day = DateEdit(work.today())
        self.grams = GramsEdit()
        self.grams.setPlaceholderText("grams, if weighed")
        self.days, self.warnings = Quiet(""), Notice(stays=True)
        self.notice = Notice()
        self.button = primary(QPushButton("La&y the dishes"))
        self._plan: testing.GerminationPlan | None = None
        self._lay_out()
        self._connect()
        self.show_plan()

    def _lay_out(self) -> None:
        form = QGridLayout()
        form.setHorizontalSpacing(10)
        form.setVerticalSpacing(6)
        form.setColumnStretch(1, 1)
        form.setColumnStretch(3, 1)
        for place, (words, editor, is_own) in enumerate(
            (
                ("&Dishes", self.dishes, False), ("&Seeds in each", self.seeds, False),
                ("Laid &on", self.day, False), ("&Prechill", self.prechill, False),
                ("Seed &weighed", self.grams, False), ("", None, False),
                ("S&ubstrate", self.substrate, True), ("&Temperature", self.warmth, True),
                ("&First count", self.first, True), ("F&inal count", self.final, True),
            )
        ):  # fmt: skip
            if editor is None:
                continue
            label = QLabel(words)
            label.setBuddy(editor)
            form.addWidget(label, place // 2, 2 * (place % 2))
            form.addWidget(editor, place // 2, 2 * (place % 2) + 1)
            if is_own:
                self._own += [label, editor]
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        above: tuple[QWidget, ...] = (self.choice, self.due, self.method)
        below: tuple[QWidget, ...] = (self.days, self.warnings, self.notice)
        for widget in above:
            layout.addWidget(widget)
        layout.addLayout(form)
        for widget in below:
            layout.addWidget(widget)
        layout.addLayout(row_of(self.button))
        layout.addStretch(1)
        layout.addWidget(CautionLine("testing"))

    def _show_own(self, wanted: bool) -> None:
        for widget in self._own:
            widget.setVisible(wanted)

    def _warm_from(self) -> date:
        """Give the day from which counting days run: prechilling comes before them."""
        return self.day.day() + timedelta(days=self.prechill.value())

    def _counting_days(self, plan: testing.GerminationPlan) -> tuple[date, ...]:
        if plan.method is not None:
            return plan.counting_days
        own = (self.first.value(), self.final.value())
        return tuple(self._warm_from() + timedelta(days=number) for number in own if number)

    def _connect(self) -> None:
        self.choice.lot_chosen.connect(self.on_lot)
        self.choice.trouble_met.connect(self.notice.show_bad)
        self.dishes.valueChanged.connect(self.show_plan)
        self.seeds.valueChanged.connect(self.show_plan)
        self.day.day_changed.connect(self.show_plan)
        for box in (self.prechill, self.first, self.final):
            box.valueChanged.connect(self.show_plan)
        self.button.clicked.connect(self.on_lay)

    def take(self, lots: tuple[str, ...]) -> None:
        """Begin with some lots that another bench has sent."""
        self.choice.queue(lots)

    def on_lot(self, number: str) -> None:
        """Propose a layout for another lot."""
        self.notice.clear()
        self.grams.clear()
        plan = self._ask(None)
        if plan is None:
            return
        self.choice.show_lot(plan.lot)
        for box, value in ((self.dishes, len(plan.dishes)), (self.seeds, plan.dishes[0])):
            box.blockSignals(True)
            box.setValue(value)
            box.blockSignals(False)
        for own in (self.prechill, self.first, self.final):
            own.blockSignals(True)
            own.setValue(0)
            own.blockSignals(False)
        self.substrate.clear()
        self.warmth.clear()
        self.show_plan()

    def _ask(self, dishes: tuple[int, ...] | None) -> testing.GerminationPlan | None:
        if not self.choice.number:
            return None
        try:
            return testing.plan_test(
                self.work.catalogue, self.choice.number, on=self._warm_from(), dishes=dishes
            )
        except KeeperError as error:
            self.notice.show_bad(str(error))
            return None

    def show_plan(self) -> None:
        """Show what the layout that stands there would mean."""
        self._plan = self._ask((self.seeds.value(),) * self.dishes.value())
        plan = self._plan
        self.button.setEnabled(plan is not None and plan.running_test is None)
        if plan is None:
            self.method.setText("Scan or type a lot, or take one from the list of lots due.")
            self.due.setText("")
            self.days.setText("")
            self._show_own(False)
            self.warnings.clear()
            return
        doubts = " ".join(plan.method.doubts) if plan.method else ""
        source = f". Source: {plan.method.source}. {doubts}" if plan.method else ""
        self.method.setText(f"Method: {plan.method_words}{source}")
        line = plan.lot.line
        due = f"Test due {line.due_on.isoformat()}: {line.due_why}. " if line.due_on is not None else ""
        self.due.setText(f"{due}Stock {plan.lot.stock_words}.")
        self._show_own(plan.method is None)
        days = ", ".join(day.isoformat() for day in self._counting_days(plan))
        self.days.setText(
            f"{sum(plan.dishes)} seeds in all. "
            + (f"Counting days: {days}." if days else "Choose counting days.")
        )
        words = list(plan.warnings)
        if plan.running_test is not None:
            words.insert(
                0, f"Lot {plan.lot.number} is under test already: finish or give up that test first."
            )
        if words:
            self.warnings.show_warn(" ".join(words))
        else:
            self.warnings.clear()

    def on_lay(self) -> None:
        """Lay the dishes: the seed is drawn from stock now."""
        test = self._attempt(self._start)
        if test is None:
            return
        number, waiting = self.choice.number, self.choice.waiting
        self.laid.emit(
            test.id,
            f"{number}: {test.seeds} seeds laid in {self.dishes.value()} dishes and drawn from stock.",
        )
        if waiting:
            self.choice.take_next()
        else:
            self.show_plan()

    def _start(self) -> testing.GerminationTestLine:
        if self.grams.trouble():
            raise KeeperError(self.grams.trouble())
        # The days shown are the days written: they may have been shifted past a day on which the library is closed.
        plan = self._plan or self._ask(None)
        days = self._counting_days(plan) if plan is not None else ()
        if days and list(days) != sorted(set(days)):
            raise KeeperError("The final count comes after the first one. Correct one of the two days.")
        final = days[-1] if days else None
        first = days[0] if len(days) > 1 else None
        return testing.start_test(
            self.work.catalogue,
            self.choice.number,
            on=self.day.day(),
            dishes=(self.seeds.value(),) * self.dishes.value(),
            substrate=self.substrate.text().strip(),
            temperature=self.warmth.text().strip(),
            first_count_days=None if first is None else (first - self._warm_from()).days,
            final_count_days=None if final is None else (final - self._warm_from()).days,
            prechill_days=self.prechill.value(),
            mass_mg=self.grams.mass_mg(),
        )

    def _attempt(self, function: Any) -> Any:
        try:
            return function()
        except KeeperError as error:
            self.notice.show_bad(str(error))
            return None

    def refresh(self) -> None:
        """Bring the plan up to date after the catalogue has changed."""
        if self.choice.number:
            shown = self._attempt(lambda: lot_view(self.work.catalogue, self.choice.number))
            if shown is not None:
                self.choice.show_lot(shown)
        self.show_plan()
