"""Recording a grow-out: whether the plants were what the lot's name says."""

from PySide6.QtWidgets import QLineEdit, QSpinBox, QWidget

from hilum.benches.lots import GROW_OUT_RESULTS, record_grow_out
from hilum.benches.views import LotView
from hilum.window.widgets import DateEdit, choice_line, form_row
from hilum.window.work import WorkDay
from hilum.window.work_dialog import WorkDialog


class GrowOutDialog(WorkDialog):
    """Asks what was seen, on how many plants."""

    def __init__(self, work: WorkDay, parent: QWidget, lot: LotView) -> None:
        words = (
            f"{lot.name}. Seen true and not true settle the lot's identity; a lot that was not true is unknown from "
            "then on and is not packed under its name."
        )
        super().__init__(work, parent, f"Record a grow-out of {lot.number}", words, "&Record")
        self._lot = lot
        self._result = choice_line(tuple((result, result) for result in GROW_OUT_RESULTS), "")
        self._plants, self._off_type = QSpinBox(), QSpinBox()
        for box in (self._plants, self._off_type):
            box.setRange(0, 100_000)
            box.setMaximumWidth(180)
        self._plants.setSpecialValueText("not counted")
        self._day = DateEdit(work.today())
        self._note = QLineEdit()
        self._note.setPlaceholderText("leaf, fruit, colour, season: by what it was judged")
        for label, editor in (
            ("The plants were", self._result),
            ("&Plants looked at", self._plants),
            ("&Off type among them", self._off_type),
            ("&Seen on", self._day),
            ("&Note", self._note),
        ):
            form_row(self.form, label, editor)

    def on_go(self) -> None:
        """Write the grow-out."""
        plants = self._plants.value() or None
        result = self._result.currentText()
        done = self.work.attempt(
            record_grow_out,
            self.work.catalogue,
            self._lot.number,
            result,
            on=self._day.day(),
            plants=plants,
            off_type=self._off_type.value() if plants is not None else None,
            note=self._note.text(),
        )
        if done is not None:
            self.accept()
            self.work.changes.tell(
                f"Lot {done.number}: grow-out recorded ({result}); identity {done.line.identity}."
            )
