"""Small fields of the design table's sentences: millimetres, points, choices, a piece of words."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QDoubleSpinBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QSpinBox,
    QWidget,
)

from hilum.benches.design_changes import GRID_MM
from hilum.window.design_words import FACE_WORDS
from hilum.window.theme import CONTROL_PX

MOST_MM = 500.0


class Words(QLabel):
    """Words of the sentence between its fields."""

    def __init__(self, text: str) -> None:
        super().__init__(text)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setFixedHeight(CONTROL_PX)


def millimetres(name: str, most: float = MOST_MM, zero: str = "", least: float = 0.0) -> QDoubleSpinBox:
    """Make a field of millimetres; `zero` is what 0 means, where it is more than a number."""
    field = QDoubleSpinBox()
    field.setRange(least, most)
    field.setDecimals(1)
    field.setSingleStep(GRID_MM)
    field.setSuffix(" mm")
    if zero:
        field.setSpecialValueText(zero)
    # Told once it is typed whole, not letter by letter.
    field.setKeyboardTracking(False)
    field.setAccessibleName(name)
    field.setToolTip(name)
    field.setFixedSize(max(96, field.fontMetrics().horizontalAdvance(zero) + 48), CONTROL_PX)
    return field


def points(name: str) -> QDoubleSpinBox:
    """Make a field of type sizes."""
    field = QDoubleSpinBox()
    field.setRange(5, 60)
    field.setDecimals(1)
    field.setSingleStep(0.5)
    field.setSuffix(" pt")
    field.setKeyboardTracking(False)
    field.setAccessibleName(name)
    field.setToolTip(name)
    field.setFixedSize(92, CONTROL_PX)
    return field


def count(name: str, least: int, most: int) -> QSpinBox:
    """Make a field of a whole number."""
    field = QSpinBox()
    field.setRange(least, most)
    field.setKeyboardTracking(False)
    field.setAccessibleName(name)
    field.setToolTip(name)
    field.setFixedSize(64, CONTROL_PX)
    return field


def choice(name: str, entries: tuple[tuple[str, str], ...]) -> QComboBox:
    """Make a choice of words; each stands for a value."""
    field = QComboBox()
    for value, words in entries:
        field.addItem(words, value)
    field.setAccessibleName(name)
    field.setToolTip(name)
    field.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
    field.setFixedHeight(CONTROL_PX)
    return field


def tick(words: str) -> QCheckBox:
    """Make something that is so or not."""
    field = QCheckBox(words)
    field.setAccessibleName(words.rstrip(",;"))
    # As high as its neighbours in the sentence; the theme makes ticks lower.
    field.setStyleSheet(f"min-height: {CONTROL_PX}px;")
    return field


class Piece(QWidget):
    """One piece of a box's words and the face it is set in."""

    edited = Signal()

    def __init__(self, number: int) -> None:
        super().__init__()
        self.line = QLineEdit()
        self.line.setAccessibleName(f"Piece {number} of its words")
        self.line.setToolTip(
            "Words and {facts}; left out whole where a fact is not known. Empty it to take it away."
        )
        self.face = choice(f"Letters of piece {number}", tuple(FACE_WORDS.items()))
        layout = QHBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(2)
        self.line.setFixedHeight(CONTROL_PX)
        layout.addWidget(self.line)
        layout.addWidget(self.face)
        self.line.editingFinished.connect(self._on_left)
        self.face.activated.connect(self._on_face)
        self._shown = ("", "")

    def show_piece(self, template: str, face: str) -> None:
        """Show a piece."""
        self._shown = template, face
        if self.line.text() != template:
            self.line.setText(template)
            self.line.setCursorPosition(0)
        self.face.setCurrentIndex(self.face.findData(face))
        self.line.setFixedWidth(min(300, max(110, self.line.fontMetrics().horizontalAdvance(template) + 30)))

    def piece(self) -> tuple[str, str]:
        """Give what stands there: the words and their face."""
        return self.line.text(), self.face.currentData()

    def _on_left(self) -> None:
        if self.piece() != self._shown:
            self._shown = self.piece()
            self.edited.emit()

    def _on_face(self, _place: int) -> None:
        self._on_left()
