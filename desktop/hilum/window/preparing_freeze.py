"""Freezing against insects: the guard says beforehand whether the seed bears it."""

from datetime import timedelta
from typing import Any

from PySide6.QtWidgets import QCheckBox, QDoubleSpinBox, QLabel

from hilum.benches import preparing
from hilum.window.preparing_forms import StepForm
from hilum.window.widgets import DateEdit, Quiet, form_row, row_of

# Small jars cool within hours: a cautious default, common practice, no source.
USUAL_DAYS = 7
USUAL_C = -18.0


class FreezeForm(StepForm):
    """From, until and temperature; refused without evidence of dryness unless it is a fact of the past."""

    step, words, action, caution = "frozen", "Freeze", "&Record freezing", "freezing"

    def build(self) -> None:
        """Make the fields."""
        self.until = DateEdit(self.work.today() + timedelta(days=USUAL_DAYS))
        self.open_end = QCheckBox("Not taken &out yet")
        self.temperature = QDoubleSpinBox()
        self.temperature.setRange(-80, 20)
        self.temperature.setDecimals(0)
        self.temperature.setValue(USUAL_C)
        self.temperature.setSuffix(" °C")
        self.temperature.setMaximumWidth(140)
        self.past = QCheckBox("It was &already done: write it down as it was")
        self.verdict = QLabel("")
        self.verdict.setWordWrap(True)
        self.source = Quiet("")
        self.form.addRow(self.verdict)
        self.form.addRow(self.source)
        label = QLabel("&Until")
        label.setBuddy(self.until)
        self.form.addRow(label, row_of(self.until, self.open_end))
        form_row(self.form, "&Temperature", self.temperature)
        form_row(self.form, "&Note", self.note)
        self.form.addRow("", self.past)
        self.open_end.toggled.connect(self.until.setDisabled)
        self.past.toggled.connect(self.show_state)

    def show_state(self) -> None:
        """Ask the guard for this lot on this day."""
        if self.lot is None:
            self.verdict.setText("")
            return
        judged = self.attempt(self._judge)
        if judged is None:
            self.verdict.setText("")
            return
        mark = "✓ May be frozen." if judged.allowed else "✕ Not to be frozen yet."
        self.verdict.setText(f"{mark} {judged.why}")
        self.verdict.setProperty("tone", "good" if judged.allowed else "bad")
        self.verdict.style().unpolish(self.verdict)
        self.verdict.style().polish(self.verdict)
        self.source.setText(f"Source: {judged.source}" if judged.source else "")
        self.button.setEnabled(judged.allowed or self.past.isChecked())
        if not self.until.trouble() and self.until.day() < self.on:
            self.until.set_day(self.on + timedelta(days=USUAL_DAYS))

    def _judge(self) -> Any:
        return preparing.may_freeze(self.work.catalogue, self.lot.number, on=self.on)

    def clear_fields(self) -> None:
        super().clear_fields()
        self.past.setChecked(False)
        self.open_end.setChecked(False)
        on = self.work.today() if self._day.trouble() else self.on
        self.until.set_day(on + timedelta(days=USUAL_DAYS))

    def record(self) -> Any:
        """Hand the dates to the bench."""
        return preparing.freeze(
            self.work.catalogue,
            self.lot.number,
            on=self.on,
            until=None if self.open_end.isChecked() else self.until.day(),
            temperature_c=self.temperature.value(),
            already_done=self.past.isChecked(),
            note=self.note.text().strip(),
        )
