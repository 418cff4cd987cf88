"""The sentence about a code, a picture or a gauge: its corner, its distances, its size."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QDoubleSpinBox, QVBoxLayout, QWidget

from hilum.benches.design_changes import OnTable
from hilum.benches.design_table import CODE
from hilum.window.design_fields import Words, choice, millimetres
from hilum.window.design_words import called
from hilum.window.flow import FlowLayout

PAYLOADS = (
    ("lot", "the lot number"),
    ("address", "the library's web address and the lot number"),
    ("words", "crop, variety, year, place and lot number in words"),
)


class CornerSentence(QWidget):
    """Where something stands that is no box of words, and how large it is."""

    # What is to be changed, and what that is called.
    changed = Signal(dict, str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._what = Words("")
        self._edge = choice("Edge it stands at", (("top", "top"), ("bottom", "bottom")))
        self._side = choice("Side it stands at", (("left", "left"), ("right", "right")))
        self._from_edge = millimetres("Distance from its edge")
        self._from_side = millimetres("Distance from its side")
        self._width, self._height = millimetres("Width", 200, least=3), millimetres("Height", 200, least=3)
        self._room = millimetres("Most room of the code", 200, least=12.5)
        self._payload = choice("What the code says", PAYLOADS)
        self._of_code = (
            Words("and takes a square of at most"),
            self._room,
            Words("The code says"),
            self._payload,
        )
        self._of_block = (Words("and is"), self._width, Words("wide and"), self._height, Words("high."))
        flow = FlowLayout(self._what, Words("stands at the"), self._edge, self._side, Words("corner,"),
                          self._from_edge, Words("from the edge and"), self._from_side, Words("from the side,"),
                          *self._of_code, *self._of_block, spacing=5)  # fmt: skip
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addLayout(flow)
        self._connect()

    def _connect(self) -> None:
        for field, key, words in (
            (self._from_edge, "from_edge_mm", "distance from its edge"), (self._width, "width_mm", "width"),
            (self._from_side, "from_side_mm", "distance from its side"), (self._height, "height_mm", "height"),
            (self._room, "room_mm", "size"),
        ):  # fmt: skip
            field.setProperty("key", key)
            field.setProperty("words", words)
            field.valueChanged.connect(self._on_figure)
        choices = (
            (self._edge, "edge", "corner"),
            (self._side, "side", "corner"),
            (self._payload, "payload", "words"),
        )
        for box, key, words in choices:
            box.setProperty("key", key)
            box.setProperty("words", words)
            box.activated.connect(self._on_choice)

    def show_corner(self, on: OnTable, name: str) -> None:
        """Show a code, a picture or a gauge as it is."""
        each = on.layout.code if name == CODE else on.block(name)
        assert each is not None
        file = getattr(each, "file", "")
        self._what.setText(f"{called(name).capitalize()}{f' {file}' if file else ''}")
        for widget in self._of_code:
            widget.setVisible(name == CODE)
        for widget in self._of_block:
            widget.setVisible(name != CODE)
        self._edge.setCurrentIndex(self._edge.findData(each.edge))
        self._side.setCurrentIndex(self._side.findData(each.side))
        shown = [(self._from_edge, each.from_edge_mm), (self._from_side, each.from_side_mm)]
        if name == CODE and on.layout.code:
            shown.append((self._room, on.layout.code.room_mm))
            self._payload.setCurrentIndex(self._payload.findData(on.design.payload))
        block = on.block(name)
        if block is not None:
            shown += [(self._width, block.width_mm), (self._height, block.height_mm)]
        for field, value in shown:
            field.blockSignals(True)
            field.setValue(value)
            field.blockSignals(False)

    def _on_figure(self, value: float) -> None:
        field = self.sender()
        if isinstance(field, QDoubleSpinBox):
            self.changed.emit({field.property("key"): value}, field.property("words"))

    def _on_choice(self, _place: int) -> None:
        field = self.sender()
        if isinstance(field, QComboBox):
            self.changed.emit({field.property("key"): field.currentData()}, field.property("words"))
