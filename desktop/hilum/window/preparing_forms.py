"""Forms of the preparing bench: what they have in common, and the three that end with a weight."""

from collections.abc import Callable
from datetime import date
from typing import Any, TypeVar

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QComboBox, QFormLayout, QLineEdit, QPushButton, QVBoxLayout, QWidget

from hilum.benches import preparing
from hilum.errors import BadInput, KeeperError
from hilum.window.questions import Questions
from hilum.window.widgets import DateEdit, GramsEdit, Notice, Quiet, form_row, primary, row_of
from hilum.window.work import WorkDay

Result = TypeVar("Result")
# What each kind of evidence is, for those who read it for the first time.
EVIDENCE_WORDS = {
    "moisture reading": "Percent of fresh weight, from a meter or an oven.",
    "jar humidity": "Relative humidity in percent in the closed jar, once it has settled.",
    "constant weight": "Two weighings a day apart show the same. The air's humidity in percent may be added.",
    "snap test": "A seed snaps or shatters; it does not bend or dent.",
}
# A line wider than this is hard to follow with the eye.
WIDEST = 560
NEEDS_FIGURE = ("moisture reading", "jar humidity")


def figure_of(text: str, what: str) -> float | None:
    """Give a small figure typed with a point or a comma; None for nothing."""
    text = text.strip().removesuffix("%").strip()
    if not text:
        return None
    try:
        return float(text.replace(",", "."))
    except ValueError:
        raise BadInput(f"“{text}” is no figure for {what}. Write it like 7.5 or 7,5.") from None


class StepForm(QWidget):
    """One step for the lot in hand: its fields, its button, its cautions, and how it went."""

    step = ""
    words = ""
    action = ""
    caution = ""

    # What was done, in words, with anything to take care of.
    recorded = Signal(str, tuple)

    def __init__(
        self, work: WorkDay, questions: Questions, day: DateEdit, parent: QWidget | None = None
    ) -> None:
        super().__init__(parent)
        self.work, self.questions = work, questions
        self.lot: Any = None
        self._day = day
        self.notice = Notice()
        self.form = QFormLayout()
        self.form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        self.note = QLineEdit()
        self.note.setMaximumWidth(WIDEST)
        self.button = primary(QPushButton(self.action))
        self.buttons = row_of(self.button)
        self.build()
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 8, 0, 0)
        layout.addLayout(self.form)
        self.build_below(layout)
        layout.addLayout(self.buttons)
        layout.addWidget(self.notice)
        layout.addStretch(1)
        self.button.clicked.connect(self.on_record)

    def build(self) -> None:
        """Make the fields."""

    def build_below(self, layout: QVBoxLayout) -> None:
        """Add what stands between the fields and the button."""

    @property
    def on(self) -> date:
        """The day the step was done; raises `BadInput` while the page's field holds no day."""
        return self._day.day()

    def show_lot(self, lot: Any) -> None:
        """Take another lot, or the same on another day; what was typed for the same lot stays."""
        other = self.lot is None or lot is None or self.lot.number != lot.number
        self.lot = lot
        self.button.setEnabled(lot is not None)
        if other:
            self.notice.clear()
            self.clear_fields()
        self.show_state()

    def show_state(self) -> None:
        """Show what depends on the lot and the day."""

    def clear_fields(self) -> None:
        """Empty the fields."""
        for field in (*self.findChildren(GramsEdit), self.note):
            field.clear()

    def attempt(self, function: Callable[..., Result], *arguments: Any, **more: Any) -> Result | None:
        """Ask the bench; what the keeper can mend is said below the button."""
        try:
            return function(*arguments, **more)
        except KeeperError as error:
            self.notice.show_bad(str(error))
            return None

    def on_record(self) -> None:
        """Record the step."""
        if self.lot is None:
            return
        done = self.attempt(self.record)
        if done is not None:
            self.clear_fields()
            self.notice.clear()
            self.recorded.emit(done.words, done.warnings)

    def record(self) -> Any:
        """Hand what was typed to the bench."""
        raise NotImplementedError

    def weight(self, field: GramsEdit, what: str) -> int:
        """Give a weight that has to be there."""
        if field.trouble():
            raise BadInput(field.trouble())
        mass_mg = field.mass_mg()
        if mass_mg is None:
            field.setFocus()
            raise BadInput(f"Write what the scale shows {what}, in grams.")
        return mass_mg


class CleanForm(StepForm):
    """Cleaning, by the weight after it."""

    step, words, action, caution = "cleaned", "Clean", "&Record cleaning", "cleaning"

    def build(self) -> None:
        """Make the fields."""
        self.after = GramsEdit()
        form_row(self.form, "Grams &after cleaning", self.after)
        form_row(self.form, "&Note", self.note)

    def record(self) -> Any:
        """Hand the weight to the bench."""
        mass_mg = self.weight(self.after, "after cleaning")
        return preparing.clean(
            self.work.catalogue, self.lot.number, on=self.on, mass_mg=mass_mg, note=self.note.text().strip()
        )


class WeighForm(StepForm):
    """A weighing of the whole lot."""

    step, words, action, caution = "weighed", "Weigh", "&Record weighing", ""

    def build(self) -> None:
        """Make the fields."""
        self.grams = GramsEdit()
        form_row(self.form, "&Grams on the scale", self.grams)
        form_row(self.form, "&Note", self.note)

    def record(self) -> Any:
        """Hand the weight to the bench."""
        mass_mg = self.weight(self.grams, "for the whole lot")
        return preparing.weigh(
            self.work.catalogue, self.lot.number, on=self.on, mass_mg=mass_mg, note=self.note.text().strip()
        )


class DryForm(StepForm):
    """Drying, with its evidence."""

    step, words, action, caution = "dried", "Dry", "&Record drying", "drying"

    def build(self) -> None:
        """Make the fields."""
        self.evidence = QComboBox()
        self.evidence.addItems(preparing.EVIDENCE_KINDS)
        self.evidence.setMaximumWidth(WIDEST)
        self.figure = QLineEdit()
        self.figure.setMaximumWidth(180)
        self.figure.setPlaceholderText("percent")
        self.grams = GramsEdit()
        self.grams.setPlaceholderText("grams, if weighed")
        self.meaning = Quiet("")
        self.failed = QCheckBox("The seed did not &pass")
        self.sealed = QCheckBox("Sealed airtight &straight away: the evidence does not grow old")
        self.meaning.setWordWrap(False)
        form_row(self.form, "&Evidence of dryness", self.evidence)
        self.form.addRow("", self.meaning)
        form_row(self.form, "&Figure in %", self.figure)
        self.form.addRow("", self.failed)
        form_row(self.form, "Grams &after drying", self.grams)
        self.form.addRow("", self.sealed)
        form_row(self.form, "&Note", self.note)
        self.evidence.currentTextChanged.connect(self.on_evidence)
        self.on_evidence(self.evidence.currentText())

    def on_evidence(self, kind: str) -> None:
        """Say what the kind of evidence means, and whether it has a figure."""
        self.meaning.setText(EVIDENCE_WORDS.get(kind, ""))
        self.figure.setEnabled(kind != "snap test")
        self.figure.setPlaceholderText("percent" if kind in NEEDS_FIGURE else "percent, if known")
        if kind == "snap test":
            self.figure.clear()
        self.failed.setVisible(kind not in NEEDS_FIGURE)
        if kind in NEEDS_FIGURE:
            self.failed.setChecked(False)

    def clear_fields(self) -> None:
        super().clear_fields()
        self.figure.clear()
        self.failed.setChecked(False)
        self.sealed.setChecked(False)

    def record(self) -> Any:
        """Hand the evidence to the bench."""
        if self.grams.trouble():
            raise BadInput(self.grams.trouble())
        return preparing.dry(
            self.work.catalogue,
            self.lot.number,
            on=self.on,
            evidence=self.evidence.currentText(),
            value=figure_of(self.figure.text(), "the evidence"),
            passed=not self.failed.isChecked(),
            sealed=self.sealed.isChecked(),
            mass_mg=self.grams.mass_mg(),
            note=self.note.text().strip(),
        )
