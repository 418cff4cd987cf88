"""The method of a test as it is laid: the published one, its changes, or the keeper's own where none is published."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QComboBox,
    QGridLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QSpinBox,
    QVBoxLayout,
    QWidget,
)

from hilum.benches.testing import Conditions, GerminationPlan
from hilum.window.widgets import Quiet

LONGEST_TEST_DAYS = 365


class MethodFields(QWidget):
    """Says how the lot is tested; the fields stand open where nothing is published or something is changed."""

    changed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.words = Quiet("")
        self.change = QPushButton("Chan&ge the method…")
        self.substrate, self.warmth = QComboBox(), QLineEdit()
        self.first, self.final = QSpinBox(), QSpinBox()
        self._changed_words = Quiet("")
        self._fields = QWidget()
        self.substrate.setEditable(True)
        self.warmth.setPlaceholderText("such as 20 °C")
        for box in (self.first, self.final):
            box.setRange(0, LONGEST_TEST_DAYS)
            box.setPrefix("day ")
            box.setSpecialValueText("none")
            box.setMaximumWidth(140)
        self._lay_out()
        self._connect()

    def _lay_out(self) -> None:
        form = QGridLayout(self._fields)
        form.setContentsMargins(0, 0, 0, 0)
        form.setColumnStretch(1, 1)
        form.setColumnStretch(3, 1)
        for place, (words, editor) in enumerate(
            (("S&ubstrate", self.substrate), ("&Temperature", self.warmth),
             ("&First count", self.first), ("F&inal count", self.final))
        ):  # fmt: skip
            label = QLabel(words)
            label.setBuddy(editor)
            form.addWidget(label, place // 2, 2 * (place % 2))
            form.addWidget(editor, place // 2, 2 * (place % 2) + 1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(6)
        for widget in (self.words, self._fields, self._changed_words):
            layout.addWidget(widget)

    def _connect(self) -> None:
        self.change.clicked.connect(self.on_change)
        self.substrate.editTextChanged.connect(self.changed)
        self.warmth.textChanged.connect(self.changed)
        self.first.valueChanged.connect(self.changed)
        self.final.valueChanged.connect(self.changed)

    def take(self, plan: GerminationPlan | None) -> None:
        """Begin with the method of another lot."""
        published = plan.method if plan is not None else None
        for editor in (self.substrate, self.warmth, self.first, self.final):
            editor.blockSignals(True)
        self.substrate.clear()
        if published is not None:
            self.substrate.addItems([entry.name for entry in published.substrates])
        conditions = plan.conditions if plan is not None else Conditions()
        self.substrate.setEditText(conditions.substrate)
        self.warmth.setText(conditions.temperature)
        self.first.setValue(conditions.first_count_days or 0)
        self.final.setValue(conditions.final_count_days or 0)
        for editor in (self.substrate, self.warmth, self.first, self.final):
            editor.blockSignals(False)
        self._fields.setVisible(plan is not None and published is None)
        self.change.setVisible(published is not None)

    def show_plan(self, plan: GerminationPlan | None) -> None:
        """Say what a layout that stands there would be done by."""
        if plan is None:
            self.words.setText("Scan or type a lot, or take one from the list of lots due.")
            self._changed_words.hide()
            return
        doubts = " ".join(plan.method.doubts) if plan.method else ""
        source = f". Source: {plan.method.source}. {doubts}" if plan.method else ""
        self.words.setText(f"Method: {plan.method_words}{source}")
        self._changed_words.setText(
            f"{plan.changed[:1].upper()}{plan.changed[1:]}. This is kept with the test."
        )
        self._changed_words.set_tone("warn")
        self._changed_words.setVisible(bool(plan.changed))

    def on_change(self) -> None:
        """Open the fields of a published method."""
        self._fields.show()
        self.change.hide()
        self.substrate.setFocus()

    def conditions(self, prechill_days: int) -> Conditions:
        """Give what stands in the fields."""
        return Conditions(
            self.substrate.currentText().strip(),
            self.warmth.text().strip(),
            self.first.value() or None,
            self.final.value() or None,
            prechill_days,
        )
