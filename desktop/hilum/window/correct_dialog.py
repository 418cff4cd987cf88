"""Putting a slip in the ledger right: the line stays, with its opposite and the right figure below it."""

from PySide6.QtWidgets import QLineEdit, QSpinBox, QWidget

from hilum.benches.lots import correct_movement
from hilum.window.lot_tables import LedgerRow
from hilum.window.widgets import DateEdit, GramsEdit, choice_line, form_row
from hilum.window.work import WorkDay
from hilum.window.work_dialog import WorkDialog

FIGURE_WRONG, NOT_AT_ALL = "the figure is wrong", "it should not be there at all"


class CorrectDialog(WorkDialog):
    """Asks what was wrong with one line: its figure, or all of it; and why."""

    def __init__(self, work: WorkDay, parent: QWidget, number: str, row: LedgerRow, unit: str) -> None:
        words = (
            f"{row.day}, {row.kind}: {row.amount}. Nothing is rubbed out: the line stays, and its opposite is "
            "written below it with the reason."
        )
        super().__init__(work, parent, f"Correct a line of {number}", words, "&Correct")
        self._row, self._counted = row, unit == "seeds"
        self._what = choice_line(((FIGURE_WRONG, True), (NOT_AT_ALL, False)), "")
        self._grams = GramsEdit()
        self._seeds = QSpinBox()
        self._seeds.setRange(0, 10_000_000)
        self._seeds.setSpecialValueText("not counted")
        self._seeds.setMaximumWidth(180)
        self._day = DateEdit(work.today())
        self._why = QLineEdit()
        self._why.setPlaceholderText("in a few words: what was wrong")
        self._right: QWidget = self._seeds if self._counted else self._grams
        form_row(self.form, "What was &wrong", self._what)
        form_row(self.form, "&Right figure", self._right)
        form_row(self.form, "&Found on", self._day)
        form_row(self.form, "Wh&y", self._why)
        self._what.currentIndexChanged.connect(self.on_what)
        self._grams.trouble_changed.connect(self.on_grams_trouble)

    def on_what(self) -> None:
        """Ask for the right figure only where there is one."""
        self._right.setEnabled(bool(self._what.currentData()))

    def on_grams_trouble(self, words: str) -> None:
        """Say what is wrong with the weight."""
        if words:
            self.notice.show_bad(words)
        else:
            self.notice.clear()

    def on_go(self) -> None:
        """Write the correction."""
        right_mg, right_seeds = self._figures()
        if self._what.currentData() and right_mg is None and right_seeds is None:
            trouble = "" if self._counted else self._grams.trouble()
            self.notice.show_bad(trouble or f"Write the right figure, or choose “{NOT_AT_ALL}”.")
            self._right.setFocus()
            return
        done = self.work.attempt(
            correct_movement,
            self.work.catalogue,
            self._row.id,
            on=self._day.day(),
            why=self._why.text().strip(),
            right_mg=right_mg,
            right_seeds=right_seeds,
        )
        if done is not None:
            self.accept()
            self.work.changes.tell(
                f"Lot {done.number}: a line of the ledger was corrected, {done.stock_words} now."
            )

    def _figures(self) -> tuple[int | None, int | None]:
        if not self._what.currentData():
            return None, None
        return (None, self._seeds.value() or None) if self._counted else (self._grams.mass_mg(), None)
