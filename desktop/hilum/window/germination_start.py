"""Starting a test: the published method, the dishes, what it costs in seed, and the dishes are laid."""

from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QGridLayout,
    QLabel,
    QPushButton,
    QSpinBox,
    QVBoxLayout,
    QWidget,
)

from hilum.benches import testing
from hilum.benches.lots import lot_view
from hilum.errors import KeeperError
from hilum.window.germination_method import MethodFields
from hilum.window.lot_words import counted
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
        self.due, self.method = Quiet(""), MethodFields()
        self.in_groups = QCheckBox("Sow in &groups: stop as soon as the answer is clear")
        self.bar = QComboBox()
        self._bar_label = QLabel("&Bar")
        self._bar_label.setBuddy(self.bar)
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
        self.days, self.group_words, self.warnings = Quiet(""), Quiet(""), Notice(stays=True)
        self.notice = Notice()
        self.button = primary(QPushButton("La&y the dishes"))
        self._plan: testing.GerminationPlan | None = None
        self._lay_out()
        self._connect()
        self._take_lot(None)

    def _lay_out(self) -> None:
        form = QGridLayout()
        form.setHorizontalSpacing(10)
        form.setVerticalSpacing(6)
        form.setColumnStretch(1, 1)
        form.setColumnStretch(3, 1)
        for place, (words, editor) in enumerate(
            (("&Dishes", self.dishes), ("&Seeds in each", self.seeds), ("Laid &on", self.day),
             ("&Prechill", self.prechill), ("Seed &weighed", self.grams))
        ):  # fmt: skip
            label = QLabel(words)
            label.setBuddy(editor)
            form.addWidget(label, place // 2, 2 * (place % 2))
            form.addWidget(editor, place // 2, 2 * (place % 2) + 1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        above: tuple[QWidget, ...] = (self.choice, self.due, self.method)
        for widget in above:
            layout.addWidget(widget)
        layout.addLayout(form)
        layout.addWidget(self.in_groups)
        layout.addLayout(row_of(self._bar_label, self.bar))
        below: tuple[QWidget, ...] = (self.group_words, self.days, self.warnings, self.notice)
        for widget in below:
            layout.addWidget(widget)
        layout.addLayout(row_of(self.button, self.method.change))
        layout.addStretch(1)
        layout.addWidget(CautionLine("testing"))

    def _connect(self) -> None:
        self.choice.lot_chosen.connect(self.on_lot)
        self.choice.trouble_met.connect(self.notice.show_bad)
        for box in (self.dishes, self.seeds, self.prechill):
            box.valueChanged.connect(self.show_plan)
        self.day.day_changed.connect(self.show_plan)
        self.method.changed.connect(self.show_plan)
        self.in_groups.toggled.connect(self.on_groups)
        self.bar.currentIndexChanged.connect(self.show_plan)
        self.button.clicked.connect(self.on_lay)

    def take(self, lots: tuple[str, ...]) -> None:
        """Begin with some lots that another bench has sent."""
        self.choice.queue(lots)

    def on_lot(self, number: str) -> None:
        """Propose a layout for another lot."""
        self.notice.clear()
        self.grams.clear()
        plan = self._ask(None)
        if plan is not None:
            self.choice.show_lot(plan.lot)
            self._take_lot(plan)

    def _take_lot(self, plan: testing.GerminationPlan | None) -> None:
        self._set(self.prechill, 0)
        self.method.take(plan)
        self.in_groups.blockSignals(True)
        self.in_groups.setChecked(False)
        self.in_groups.blockSignals(False)
        self.in_groups.setVisible(plan is not None and bool(plan.bars))
        self.bar.blockSignals(True)
        self.bar.clear()
        for bar in plan.bars if plan is not None else ():
            self.bar.addItem(bar.words[:1].upper() + bar.words[1:], bar)
        self.bar.blockSignals(False)
        self._show_layout(plan)

    def _show_layout(self, plan: testing.GerminationPlan | None) -> None:
        if plan is not None:
            self._set(self.dishes, len(plan.dishes))
            self._set(self.seeds, plan.dishes[0])
        self.show_plan()

    def _set(self, box: QSpinBox, value: int) -> None:
        box.blockSignals(True)
        box.setValue(value)
        box.blockSignals(False)

    def on_groups(self) -> None:
        """Propose one group, or the usual layout again."""
        self._show_layout(self._ask(None))

    def _ask(self, dishes: tuple[int, ...] | None) -> testing.GerminationPlan | None:
        if not self.choice.number:
            return None
        asked = None if dishes is None else self.method.conditions(self.prechill.value())
        try:
            return testing.plan_test(
                self.work.catalogue,
                self.choice.number,
                on=self.day.day(),
                dishes=dishes,
                asked=asked,
                in_groups=self.in_groups.isChecked(),
            )
        except KeeperError as error:
            self.notice.show_bad(str(error))
            return None

    def show_plan(self) -> None:
        """Show what the layout that stands there would mean."""
        plan = self._plan = self._ask((self.seeds.value(),) * self.dishes.value())
        self.button.setEnabled(plan is not None and plan.running_test is None)
        self._show_groups(plan)
        if plan is None:
            self.days.setText("")
            if not self.choice.number:
                self.method.show_plan(None)
                self.due.setText("")
            self.warnings.clear()
            return
        self.notice.clear()
        self.method.show_plan(plan)
        line = plan.lot.line
        due = f"Test due {line.due_on.isoformat()}: {line.due_why}. " if line.due_on is not None else ""
        self.due.setText(f"{due}Stock {plan.lot.stock_words}.")
        days = ", ".join(day.isoformat() for day in plan.counting_days)
        in_all = "in this group" if self.in_groups.isChecked() else "in all"
        self.days.setText(
            f"{sum(plan.dishes)} seeds {in_all}. "
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

    def _show_groups(self, plan: testing.GerminationPlan | None) -> None:
        bar = self.bar.currentData() if plan is not None and self.in_groups.isChecked() else None
        self._bar_label.setVisible(bar is not None)
        self.bar.setVisible(bar is not None)
        words = ""
        if plan is not None and bar is not None:
            try:
                words = testing.expected_words(bar, sum(plan.dishes), plan.lot.line.germination_percent)
            except KeeperError as error:
                words = str(error)
                self.button.setEnabled(False)
        self.group_words.setText(words)
        self.group_words.setVisible(bool(words))

    def on_lay(self) -> None:
        """Lay the dishes: the seed is drawn from stock now."""
        test = self._attempt(self._start)
        if test is None:
            return
        number, waiting = self.choice.number, self.choice.waiting
        dishes = counted(self.dishes.value(), "dish", "dishes")
        words = f"{number}: {counted(test.seeds, 'seed')} laid in {dishes} and drawn from stock."
        self.laid.emit(test.id, words)
        if waiting:
            self.choice.take_next()
        else:
            self.show_plan()

    def _start(self) -> testing.GerminationTestLine:
        if self.grams.trouble():
            raise KeeperError(self.grams.trouble())
        asked = self.method.conditions(self.prechill.value())
        bar = self.bar.currentData() if self.in_groups.isChecked() else None
        return testing.start_test(
            self.work.catalogue,
            self.choice.number,
            on=self.day.day(),
            dishes=(self.seeds.value(),) * self.dishes.value(),
            substrate=asked.substrate,
            temperature=asked.temperature,
            first_count_days=asked.first_count_days,
            final_count_days=asked.final_count_days,
            prechill_days=asked.prechill_days,
            mass_mg=self.grams.mass_mg(),
            bar=None if bar is None else bar.key,
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
