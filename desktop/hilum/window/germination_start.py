"""Starting a test: the published method, the dishes, what it costs in seed, and the dishes are laid."""

from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFormLayout, QPushButton, QSpinBox, QVBoxLayout, QWidget

from hilum.benches import testing
from hilum.benches.lots import lot_view
from hilum.errors import KeeperError
from hilum.window.packing_lot import LotChoice
from hilum.window.preparing_cautions import CautionLine
from hilum.window.widgets import DateEdit, GramsEdit, Heading, Notice, Quiet, form_row, primary, row_of
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
        self.method, self.source = Quiet(""), Quiet("")
        self.dishes, self.seeds, self.prechill = QSpinBox(), QSpinBox(), QSpinBox()
        for box, least, most in (
            (self.dishes, 1, MOST_DISHES),
            (self.seeds, 1, MOST_SEEDS),
            (self.prechill, 0, 60),
        ):
            box.setRange(least, most)
            box.setMaximumWidth(140)
        self.prechill.setSuffix(" days")
        self.dishes.setValue(4)
        self.seeds.setValue(25)
        self.day = DateEdit(work.today())
        self.grams = GramsEdit()
        self.grams.setPlaceholderText("grams, if weighed")
        self.days, self.warnings = Quiet(""), Notice(stays=True)
        self.notice = Notice()
        self.button = primary(QPushButton("&Lay the dishes"))
        self._plan: testing.GerminationPlan | None = None
        self._lay_out()
        self._connect()
        self.show_plan()

    def _lay_out(self) -> None:
        form = QFormLayout()
        form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        form_row(form, "&Dishes", self.dishes)
        form_row(form, "&Seeds in each", self.seeds)
        form_row(form, "Laid &on", self.day)
        form_row(form, "&Prechill", self.prechill)
        form_row(form, "Seed &weighed", self.grams)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        above: tuple[QWidget, ...] = (Heading("Start a test"), self.choice, self.method, self.source)
        below: tuple[QWidget, ...] = (self.days, self.warnings, self.notice)
        for widget in above:
            layout.addWidget(widget)
        layout.addLayout(form)
        for widget in below:
            layout.addWidget(widget)
        layout.addLayout(row_of(self.button))
        layout.addStretch(1)
        layout.addWidget(CautionLine("testing"))

    def _connect(self) -> None:
        self.choice.lot_chosen.connect(self.on_lot)
        self.choice.trouble_met.connect(self.notice.show_bad)
        self.dishes.valueChanged.connect(self.show_plan)
        self.seeds.valueChanged.connect(self.show_plan)
        self.day.day_changed.connect(self.show_plan)
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
        self.prechill.setValue(0)
        self.show_plan()

    def _ask(self, dishes: tuple[int, ...] | None) -> testing.GerminationPlan | None:
        if not self.choice.number:
            return None
        try:
            return testing.plan_test(
                self.work.catalogue, self.choice.number, on=self.day.day(), dishes=dishes
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
            self.source.setText("")
            self.days.setText("")
            self.warnings.clear()
            return
        self.method.setText(f"Method: {plan.method_words}")
        doubts = " ".join(plan.method.doubts) if plan.method else ""
        self.source.setText(f"Source: {plan.method.source}. {doubts}" if plan.method else "")
        days = ", ".join(day.isoformat() for day in plan.counting_days)
        total = sum(plan.dishes)
        self.days.setText(
            f"{total} seeds in all. " + (f"Counting days: {days}." if days else "Choose counting days.")
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
        return testing.start_test(
            self.work.catalogue,
            self.choice.number,
            on=self.day.day(),
            dishes=(self.seeds.value(),) * self.dishes.value(),
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
