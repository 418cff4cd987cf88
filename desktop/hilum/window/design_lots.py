"""The three lots on the design table, side by side, each with what the engine says of it underneath."""

from collections.abc import Sequence
from typing import NamedTuple

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QPixmap
from PySide6.QtWidgets import QHBoxLayout, QLabel, QScrollArea, QSizePolicy, QVBoxLayout, QWidget

from hilum.benches.design_table import Chosen, PagePicture, TriedLabel
from hilum.window.design_label import MARGIN_PX, Anchors, LabelOnTable
from hilum.window.design_words import KIND_WORDS, findings
from hilum.window.label_preview import picture_of
from hilum.window.notice import Quiet, polish

_MOST_WORDS = 6


class Laid(NamedTuple):
    """One lot's label as it came back from the pool: what it was chosen for, the trial, its picture."""

    chosen: Chosen
    tried: TriedLabel
    picture: PagePicture | None


class LotOnTable(QWidget):
    """One lot: what it was chosen for, its label, the words about it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.label = LabelOnTable()
        self._heading = QLabel()
        self._heading.setTextFormat(Qt.TextFormat.PlainText)
        self._said = Quiet("")
        self._said.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._said.setAlignment(Qt.AlignmentFlag.AlignTop)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(2)
        heading = QHBoxLayout()
        heading.setContentsMargins(MARGIN_PX, 0, 0, 0)
        heading.addWidget(self._heading)
        layout.addLayout(heading)
        layout.addWidget(self.label)
        words = QHBoxLayout()
        words.setContentsMargins(MARGIN_PX, 0, MARGIN_PX, 0)
        words.addWidget(self._said)
        layout.addLayout(words)
        layout.addStretch(1)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Preferred)

    def show_lot(self, laid: Laid, px_per_mm: float, ratio: float, anchors: Anchors) -> None:
        """Show a lot's label and the words about it."""
        pixmap = QPixmap()
        if laid.picture is not None:
            pixmap = QPixmap.fromImage(picture_of(laid.picture))
            pixmap.setDevicePixelRatio(ratio)
        self.label.show_label(laid.tried, pixmap, px_per_mm, anchors)
        self._heading.setText(f"{laid.tried.key}: {KIND_WORDS[laid.chosen.kind]}")
        found = findings(laid.tried)
        lines = [words for _, words in found[:_MOST_WORDS]]
        if len(found) > _MOST_WORDS:
            lines.append(f"and {len(found) - _MOST_WORDS} more")
        tone = "bad" if any(kind == "bad" for kind, _ in found) else "warn" if found else "good"
        signs = {"bad": "✕", "warn": "!", "good": "✓"}
        self._said.setText("\n".join(f"{signs[tone]} {words}" for words in lines) or "✓ All of it fits.")
        self._said.setProperty("tone", tone)
        polish(self._said)
        self.setFixedWidth(max(self.label.width(), self._heading.sizeHint().width() + 2 * MARGIN_PX))


class LotsOnTable(QScrollArea):
    """The table's top: three labels lying side by side."""

    picked = Signal(str)
    moved = Signal(str, float, float, object)
    sized = Signal(str, float, float, object)
    stepped = Signal(str, int, int, object)
    passed = Signal(str, int)
    taken_off = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("cloth")
        self.setWidgetResizable(True)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setAccessibleName("The table with three labels")
        self.lots = tuple(LotOnTable() for _ in range(3))
        self._waiting = Quiet("")
        self._waiting.setAlignment(Qt.AlignmentFlag.AlignCenter)
        inside = self._inside = QWidget()
        inside.setObjectName("cloth")
        layout = QHBoxLayout(inside)
        layout.setContentsMargins(12, 8, 12, 8)
        layout.setSpacing(10)
        layout.addStretch(1)
        layout.addWidget(self._waiting)
        for lot in self.lots:
            layout.addWidget(lot)
            lot.hide()
        layout.addStretch(1)
        self.setWidget(inside)
        self._connect()

    def _connect(self) -> None:
        for lot in self.lots:
            label = lot.label
            label.picked.connect(self.picked)
            label.moved.connect(self._on_moved)
            label.sized.connect(self._on_sized)
            label.stepped.connect(self._on_stepped)
            label.passed.connect(self.passed)
            label.taken_off.connect(self.taken_off)

    def _tried(self) -> TriedLabel | None:
        label = self.sender()
        return label.tried if isinstance(label, LabelOnTable) else None

    def _on_moved(self, name: str, right_mm: float, down_mm: float) -> None:
        self.moved.emit(name, right_mm, down_mm, self._tried())

    def _on_sized(self, name: str, wider_mm: float, taller_mm: float) -> None:
        self.sized.emit(name, wider_mm, taller_mm, self._tried())

    def _on_stepped(self, name: str, right: int, down: int) -> None:
        self.stepped.emit(name, right, down, self._tried())

    def show_waiting(self, words: str) -> None:
        """Show words in the place of labels."""
        for lot in self.lots:
            lot.hide()
        self._waiting.setText(words)
        self._waiting.show()

    def show_lots(self, laid: Sequence[Laid], px_per_mm: float, ratio: float, anchors: Anchors) -> None:
        """Lay the labels on the table."""
        self._waiting.hide()
        for place, lot in enumerate(self.lots):
            lot.setVisible(place < len(laid))
            if place < len(laid):
                lot.show_lot(laid[place], px_per_mm, ratio, anchors)

    def pick(self, name: str) -> None:
        """Mark the same thing on all labels, and bring it into view."""
        for lot in self.lots:
            lot.label.pick(name)
            rect = lot.label.ground_rect(name)
            if rect is not None and lot.label.hasFocus():
                at = lot.label.mapTo(self._inside, rect.toRect().center())
                self.ensureVisible(at.x(), at.y(), 40, 20)
