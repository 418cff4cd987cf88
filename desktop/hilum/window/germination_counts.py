"""The count sheet of a running test: figures of one day, what was found before, the curve, and the end of the test."""

from collections.abc import Callable
from datetime import date
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from hilum.benches import testing
from hilum.errors import KeeperError
from hilum.window import germination_words
from hilum.window.count_table import Cells, CountRow, CountTable
from hilum.window.flow import FlowLayout
from hilum.window.germination_curve import GerminationCurve
from hilum.window.germination_groups import GroupPanel
from hilum.window.models import Column, RowsTable
from hilum.window.preparing_cautions import CautionLine
from hilum.window.questions import Questions
from hilum.window.widgets import DateEdit, Heading, Notice, Quiet, primary
from hilum.window.work import WorkDay


def _class_column(name: str) -> Column:
    def text(count: Any) -> str:
        return "" if count[2][name] is None else str(count[2][name])

    # Wide enough for the heading and no wider: all classes fit beside the lists of the page.
    return Column(name.capitalize(), text, right=True, least_px=23 + 9 * len(name))


EARLIER = (
    Column("Day", lambda count: count[0].isoformat(), least_px=96),
    Column("Dish", lambda count: str(count[1]), right=True, least_px=56),
    *(_class_column(name) for name in testing.CLASSES),
)


class CountPanel(QWidget):
    """Counts one test."""

    # A count was written: what to say.
    counted = Signal(str)
    # The test is over; its result.
    finished = Signal(object)
    # Another group was laid: the test's id and what to say.
    group_laid = Signal(int, str)
    tags_wanted = Signal(int)
    give_up_wanted = Signal(int)

    def __init__(self, work: WorkDay, questions: Questions, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.work, self.questions = work, questions
        self.test_id = 0
        self._has_counts, self._left = False, 0
        # What was typed and not written yet, by test and day: it outlives a look at another test, day or bench.
        self._drafts: dict[tuple[int, date], Cells] = {}
        self._shown: tuple[int, date] | None = None
        self._written: Cells = {}
        self.name, self.state = Heading(""), Quiet("")
        self.name.setWordWrap(True)
        self.day = DateEdit(work.today())
        self.table = CountTable("Counts of the day")
        self.write = primary(QPushButton("&Write the count"))
        self.finish = QPushButton("&Finish the test")
        self.tags = QPushButton("Dish &tags…")
        self.give_up = QPushButton("Gi&ve it up…")
        self.pending = Quiet("")
        self.notice = Notice()
        self.groups = GroupPanel()
        self.curve = GerminationCurve()
        self.earlier = RowsTable(
            EARLIER, "Earlier counts", "Nothing has been counted yet.", key=lambda count: count[:2]
        )
        self._lay_out()
        self._connect()

    def _lay_out(self) -> None:
        label = QLabel("Count&ed on")
        label.setBuddy(self.day)
        head = QHBoxLayout()
        head.addWidget(self.name, 1)
        for widget in (label, self.day):
            head.addWidget(widget)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addLayout(head)
        layout.addWidget(self.state)
        layout.addWidget(
            Quiet("Seeds newly found that day and taken out; an empty cell is a class nobody looked at.")
        )
        layout.addWidget(self.table)
        layout.addWidget(self.pending)
        layout.addWidget(self.notice)
        layout.addLayout(FlowLayout(self.write, self.finish, self.tags, self.give_up))
        layout.addWidget(self.groups)
        layout.addWidget(self.curve)
        layout.addWidget(self.earlier, 1)
        layout.addWidget(CautionLine("testing"))

    def _connect(self) -> None:
        self.write.clicked.connect(self.on_write)
        self.finish.clicked.connect(self.on_finish)
        self.tags.clicked.connect(self.on_tags)
        self.give_up.clicked.connect(self.on_give_up)
        self.groups.group_wanted.connect(self.on_group)
        self.day.day_changed.connect(self.show_day)
        self.table.typed.connect(self.on_typed)
        self.table.passed_end.connect(self.write.setFocus)

    def open(self, test_id: int) -> None:
        """Show another test; figures typed for one test never stand under another, and wait for its return."""
        if test_id != self.test_id:
            self.notice.clear()
            self.test_id = test_id
            self.day.set_day(self.work.today())
        self.show_day()

    def show_day(self) -> None:
        """Show what the chosen day has, and what the other days found."""
        sheet = (
            self._attempt(testing.count_sheet, self.work.catalogue, self.test_id) if self.test_id else None
        )
        day = self._attempt(self.day.day) if sheet is not None else None
        if sheet is None or day is None:
            return
        test = sheet.test
        self.name.setText(f"{test.lot}  {test.crop} “{test.variety}”")
        method = ", ".join(words for words in (test.substrate, test.temperature) if words)
        when = germination_words.next_count(sheet.standing, self.work.today())
        self.state.setText(
            f"Laid {test.started_on.isoformat()}{f' ({method})' if method else ''}; {when}. "
            f"{germination_words.counted_words(sheet)}."
        )
        of_day = {number: classes for on, number, classes in sheet.counts if on == day}
        self._written = {
            (number, name): figure
            for number, classes in of_day.items()
            for name, figure in classes.items()
            if figure is not None
        }
        rows = [
            CountRow(
                dish.number,
                dish.seeds,
                dish.left + sum(of_day.get(dish.number, {}).get(name) or 0 for name in testing.CLASSES),
            )
            for dish in sheet.dishes
        ]
        here, was = self.table.currentIndex(), self._shown
        cursor = (here.row(), here.column())
        self._shown = (self.test_id, day)
        self.table.set_dishes(rows, self._drafts.get(self._shown, self._written))
        if was == self._shown:
            self.table.setCurrentIndex(self.table.counts.index(*cursor))
        self.earlier.set_rows([count for count in sheet.counts if count[0] != day])
        self.curve.show_sheet(sheet)
        self.groups.show_standing(sheet.standing.groups)
        self._left = sheet.standing.left
        self._has_counts = bool(sheet.counts)
        self.on_typed()

    def on_typed(self) -> None:
        """A count can be written once a figure stands there, and a test finished once anything was counted."""
        cells = self.table.cells()
        if self._shown is not None:
            if cells == self._written:
                self._drafts.pop(self._shown, None)
            else:
                self._drafts[self._shown] = cells
        others = [day.isoformat() for _, day in self._other_drafts()]
        here = ["this day"] if self._shown in self._drafts else []
        self.pending.setText(
            f"Not written yet: {', '.join([*here, *sorted(others)])}." if here or others else ""
        )
        self.pending.setVisible(bool(self.pending.text()))
        self.write.setEnabled(bool(cells) or bool(self._written))
        self.finish.setEnabled(self._has_counts or bool(cells))

    def _other_drafts(self) -> list[tuple[int, date]]:
        """Give the other days of this test for which figures were typed and not written."""
        return [key for key in self._drafts if key[0] == self.test_id and key != self._shown]

    def on_write(self) -> None:
        """Write the figures of the day."""
        day = self._attempt(self.day.day)
        if day is not None and self._write(day) is not None:
            self._drafts.pop((self.test_id, day), None)
            self._shown = None
            self.counted.emit(f"The count of {day.isoformat()} was written.")
            self.show_day()

    def _write(self, day: date) -> Any:
        counts = {
            number: classes
            for number, classes in self.table.by_dish().items()
            # A dish that was counted that day and is empty now was counted by mistake.
            if any(figure is not None for figure in classes.values())
            or any(dish == number for dish, _ in self._written)
        }
        return self._attempt(testing.enter_counts, self.work.catalogue, self.test_id, on=day, counts=counts)

    def on_finish(self) -> None:
        """Write what was typed, then judge the test."""
        day = self._attempt(self.day.day)
        if day is None:
            return
        others = self._other_drafts()
        if others:
            days = ", ".join(sorted(other.isoformat() for _, other in others))
            self.notice.show_bad(
                f"Figures typed for {days} are not written yet. Go to that day and write or empty them."
            )
            return
        if self.table.cells() != self._written:
            sheet = self._write(day)
            if sheet is None:
                return
            self._left = sheet.standing.left
            self._drafts.pop((self.test_id, day), None)
            self.show_day()
        if self._left <= 0:
            self._finish()
            return
        seeds = "1 seed is" if self._left == 1 else f"{self._left} seeds are"
        self.questions.confirm(
            self,
            "Finish the test",
            f"{seeds} not classed yet. Not classed is never called dead, but it counts against the germination: look "
            "through the dishes once more, or finish as it is.",
            "Finish as it is",
            self._finish,
        )

    def _finish(self) -> None:
        day = self._attempt(self.day.day)
        if day is None:
            return
        result = self._attempt(testing.finish_test, self.work.catalogue, self.test_id, on=day)
        if result is not None:
            self.forget()
            self.finished.emit(result)

    def on_group(self) -> None:
        """Lay another group: its seed is drawn from stock now."""
        if self.groups.grams.trouble():
            self.notice.show_bad(self.groups.grams.trouble())
            return
        laid = self._attempt(
            testing.lay_group,
            self.work.catalogue,
            self.test_id,
            on=self.work.today(),
            mass_mg=self.groups.grams.mass_mg(),
        )
        if laid is None:
            return
        test, warnings = laid
        self.groups.grams.clear()
        said = " ".join(
            (f"{test.lot}: another group of {test.group_seeds} seeds laid and drawn from stock.", *warnings)
        )
        self.group_laid.emit(test.id, said)

    def forget(self) -> None:
        """Let go of the test: it is over."""
        self._drafts = {key: cells for key, cells in self._drafts.items() if key[0] != self.test_id}
        self.test_id, self._shown = 0, None

    def on_tags(self) -> None:
        """Print the tags of the dishes."""
        self.tags_wanted.emit(self.test_id)

    def on_give_up(self) -> None:
        """Give the test up."""
        self.give_up_wanted.emit(self.test_id)

    def _attempt(self, function: Callable[..., Any], *arguments: Any, **more: Any) -> Any:
        try:
            found = function(*arguments, **more)
        except KeeperError as error:
            self.notice.show_bad(str(error))
            return None
        self.notice.clear()
        return found
