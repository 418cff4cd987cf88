"""The sentence about a box of words: read aloud it says how the box is, and every figure in it can be typed over."""

from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtGui import QAction
from PySide6.QtWidgets import (
    QComboBox,
    QDoubleSpinBox,
    QLineEdit,
    QMenu,
    QPushButton,
    QSpinBox,
    QVBoxLayout,
    QWidget,
)

from hilum.benches.design_changes import TextBox
from hilum.window.design_fields import Piece, Words, choice, count, millimetres, points, tick
from hilum.window.design_words import PIECES, facts
from hilum.window.flow import FlowLayout
from hilum.window.theme import CONTROL_PX

MOST_PIECES = 8


class BoxSentence(QWidget):
    """One box of words in a few sentences."""

    # What is to be changed, and what that is called.
    changed = Signal(dict, str)
    retyped = Signal(list)
    renamed = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._box: TextBox | None = None
        self._pieces = [Piece(number) for number in range(1, MOST_PIECES + 1)]
        self._more = QPushButton("and…")
        self._more.setToolTip("Let it say one more thing")
        self._more.setAccessibleName("One more piece")
        self._menu = QMenu(self)
        self._more.setMenu(self._menu)
        self._between = QLineEdit()
        self._between.setFixedSize(60, CONTROL_PX)
        self._between.setAccessibleName("Between its pieces")
        self._between.setToolTip("What stands between its pieces, spaces too")
        self._name = QLineEdit()
        self._name.setFixedSize(120, CONTROL_PX)
        self._name.setAccessibleName("Name of the box")
        self._name.setToolTip("What warnings call it")
        self._smallest, self._largest = points("Smallest letters"), points("Largest letters")
        self._lines = count("Lines at most", 1, 20)
        self._align = choice(
            "Side of its words", (("left", "left"), ("centre", "middle"), ("right", "right"))
        )
        self._stack = choice("Edge it keeps to", (("top", "top"), ("bottom", "bottom")))
        self._from_edge = millimetres("Least distance from its edge")
        self._gap = millimetres("Room above it", 50)
        self._left = millimetres("Distance from the left")
        self._width = millimetres("Width", zero="all there is")
        self._height = millimetres("Height", zero="as its words")
        self._rule, self._frame = tick("a line above,"), tick("a frame,")
        self._tint = count("Grey behind it, in percent", 0, 50)
        self._tint.setSuffix(" %")
        self._tint.setFixedWidth(84)
        self._more.setFixedHeight(CONTROL_PX)
        self._keep = tick("never shortened;")
        self._when = choice(
            "When it is there", (("", "always"), ("with", "only with"), ("without", "only without"))
        )
        self._field = choice("The fact it depends on", facts())
        self._lay_out()
        self._connect()

    def _lay_out(self) -> None:
        flow = FlowLayout(
            Words("It says"), *self._pieces, self._more, Words("with"), self._between,
            Words("between, and is called"), self._name, Words(". Letters from"), self._smallest, Words("to"),
            self._largest, Words("on up to"), self._lines, Words("lines, on the"), self._align,
            Words(". It has"), self._rule, self._frame, Words("grey behind"), self._tint, Words(","), self._keep,
            Words("it keeps to the"), self._stack, Words("at least"), self._from_edge, Words("away,"), self._gap,
            Words("from its neighbour,"), self._left, Words("from the left, is"), self._width, Words("wide and"),
            self._height, Words("high; it is there"), self._when, self._field, spacing=5,
        )  # fmt: skip
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addLayout(flow)

    def _connect(self) -> None:
        for piece in self._pieces:
            piece.edited.connect(self._on_pieces)
        self._between.editingFinished.connect(self._on_between)
        self._name.editingFinished.connect(self._on_name)
        self._menu.aboutToShow.connect(self._fill_menu)
        self._smallest.valueChanged.connect(self._on_sizes)
        self._largest.valueChanged.connect(self._on_sizes)
        for field, key, words in self._figures():
            field.setProperty("key", key)
            field.setProperty("words", words)
            field.valueChanged.connect(self._on_figure)
        for box, key, words in ((self._align, "align", "side"), (self._stack, "stack", "edge")):
            box.setProperty("key", key)
            box.setProperty("words", words)
            box.activated.connect(self._on_choice)
        ticks = (
            (self._rule, "rule", "line"),
            (self._frame, "frame", "frame"),
            (self._keep, "keep", "keeping"),
        )
        for mark, key, words in ticks:
            mark.setProperty("key", key)
            mark.setProperty("words", words)
            mark.clicked.connect(self._on_tick)
        self._tint.valueChanged.connect(self._on_tint)
        self._when.activated.connect(self._on_when)
        self._field.activated.connect(self._on_when)

    def _figures(self) -> tuple[tuple[QDoubleSpinBox | QSpinBox, str, str], ...]:
        return (
            (self._lines, "most_lines", "lines"), (self._from_edge, "from_edge_mm", "distance from its edge"),
            (self._gap, "gap_mm", "room above"), (self._left, "left_mm", "distance from the left"),
            (self._width, "width_mm", "width"), (self._height, "height_mm", "height"),
        )  # fmt: skip

    # What is shown.

    def show_box(self, box: TextBox) -> None:
        """Show a box as it is."""
        self._box = box
        for place, piece in enumerate(self._pieces):
            piece.setVisible(place < len(box.parts))
            if place < len(box.parts):
                piece.show_piece(box.parts[place].template, box.parts[place].face)
            else:
                piece.show_piece("", "regular")
        self._more.setVisible(len(box.parts) < MOST_PIECES)
        _show_text(self._between, box.between)
        _show_text(self._name, box.name)
        _show_number(self._smallest, box.smallest_pt)
        _show_number(self._largest, box.largest_pt)
        _show_number(self._tint, round(100 * box.tint))
        for field, key, _ in self._figures():
            _show_number(field, getattr(box, key))
        self._align.setCurrentIndex(self._align.findData(box.align))
        self._stack.setCurrentIndex(self._stack.findData(box.stack))
        self._rule.setChecked(box.rule)
        self._frame.setChecked(box.frame)
        self._keep.setChecked(box.keep)
        asked = "with" if box.only_with else "without" if box.only_without else ""
        self._when.setCurrentIndex(self._when.findData(asked))
        self._field.setVisible(bool(asked))
        if asked:
            self._field.setCurrentIndex(max(0, self._field.findData(box.only_with or box.only_without)))

    # What is changed.

    def _on_pieces(self) -> None:
        shown = len(self._box.parts) if self._box else 0
        self.retyped.emit([piece.piece() for piece in self._pieces[:shown]])

    def _fill_menu(self) -> None:
        self._menu.clear()
        for name, words in facts():
            self._menu.addAction(words, self._on_more).setData(name)
        self._menu.addSeparator()
        self._menu.addAction("words of your own", self._on_more).setData("")

    def _on_more(self) -> None:
        action = self.sender()
        if self._box is None or not isinstance(action, QAction):
            return
        name = action.data()
        piece = PIECES.get(name, f"{{{name}}}") if name else "your words"
        face = "botanical" if name == "botanical" else self._box.parts[-1].face
        place = len(self._box.parts)
        self.retyped.emit([*((part.template, part.face) for part in self._box.parts), (piece, face)])
        if place < MOST_PIECES:
            self._pieces[place].line.setFocus()
            self._pieces[place].line.selectAll()

    def _on_between(self) -> None:
        if self._box is not None and self._between.text() != self._box.between:
            self.changed.emit({"between": self._between.text()}, "what stands between")

    def _on_name(self) -> None:
        if self._box is not None and self._name.text().strip() != self._box.name:
            self.renamed.emit(self._name.text())

    def _on_sizes(self, _value: float) -> None:
        low, high = self._smallest.value(), self._largest.value()
        if low > high:
            # The one that was typed leads.
            low, high = (low, low) if self.sender() is self._smallest else (high, high)
        self.changed.emit({"smallest_pt": low, "largest_pt": high}, "letters")

    def _on_figure(self, value: float) -> None:
        field = self.sender()
        self._tell(field, value)

    def _on_choice(self, _place: int) -> None:
        field = self.sender()
        if isinstance(field, QComboBox):
            self._tell(field, field.currentData())

    def _on_tick(self, is_ticked: bool) -> None:
        self._tell(self.sender(), is_ticked)

    def _tell(self, field: Any, value: object) -> None:
        changes = {field.property("key"): value}
        if "stack" in changes:
            changes["from_edge_mm"] = 0.0
        self.changed.emit(changes, field.property("words"))

    def _on_tint(self, percent: int) -> None:
        self.changed.emit({"tint": percent / 100}, "grey")

    def _on_when(self, _place: int) -> None:
        asked, field = self._when.currentData(), self._field.currentData()
        self.changed.emit(
            {
                "only_with": field if asked == "with" else "",
                "only_without": field if asked == "without" else "",
            },
            "condition",
        )


def _show_number(field: QDoubleSpinBox | QSpinBox, value: float) -> None:
    field.blockSignals(True)
    field.setValue(value)  # type: ignore[arg-type]
    field.blockSignals(False)


def _show_text(field: QLineEdit, text: str) -> None:
    if field.text() != text:
        field.setText(text)
