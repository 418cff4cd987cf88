"""The card under the table: what is picked, the sentences about it, what can be laid on and taken off."""

from PySide6.QtCore import Signal
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QComboBox, QFrame, QHBoxLayout, QMenu, QPushButton, QVBoxLayout, QWidget

from hilum.benches.design_changes import OnTable
from hilum.benches.design_table import CODE
from hilum.window.design_corner_sentence import CornerSentence
from hilum.window.design_sentence import BoxSentence
from hilum.window.design_words import PIECES, called, facts
from hilum.window.widgets import form_row


class Picked(QFrame):
    """Says how the picked thing is, and lets every part of that be typed over."""

    name_picked = Signal(str)
    box_changed = Signal(dict, str)
    box_retyped = Signal(list)
    box_renamed = Signal(str)
    corner_changed = Signal(dict, str)
    taken_off = Signal(str)
    # The field it shows (empty for words alone), and its pieces.
    words_wanted = Signal(str, list)
    gauge_wanted = Signal(str)
    code_wanted = Signal()
    picture_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("card")
        self._on: OnTable | None = None
        self.names = QComboBox()
        self.names.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self._lay_on, self._take_off = QPushButton("Lay &on…"), QPushButton("Take o&ff")
        self._take_off.setAutoDefault(False)
        self._lay_on.setAutoDefault(False)
        self._menu = QMenu(self)
        self._lay_on.setMenu(self._menu)
        self.box, self.corner = BoxSentence(), CornerSentence()
        # Whoever owns the card may add to its head.
        head = self.head = QHBoxLayout()
        head.setSpacing(8)
        form_row(head, "&Picked", self.names)
        head.addWidget(self._take_off)
        head.addWidget(self._lay_on)
        head.addStretch(1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(14, 8, 14, 10)
        layout.setSpacing(4)
        layout.addLayout(head)
        layout.addWidget(self.box)
        layout.addWidget(self.corner)
        self._connect()

    def _connect(self) -> None:
        self.names.activated.connect(self._on_name)
        self._take_off.clicked.connect(self._on_take_off)
        self._menu.aboutToShow.connect(self._fill_menu)
        self.box.changed.connect(self.box_changed)
        self.box.retyped.connect(self.box_retyped)
        self.box.renamed.connect(self.box_renamed)
        self.corner.changed.connect(self.corner_changed)

    def show_picked(self, on: OnTable, name: str) -> None:
        """Show what is picked."""
        self._on = on
        entries = [self.names.itemData(place) for place in range(self.names.count())]
        if entries != list(on.names):
            self.names.clear()
            for each in on.names:
                self.names.addItem(called(each), each)
        self.names.setCurrentIndex(self.names.findData(name))
        is_corner = name == CODE or on.block(name) is not None
        self.box.setVisible(not is_corner)
        self.corner.setVisible(is_corner)
        if is_corner:
            self.corner.show_corner(on, name)
        else:
            self.box.show_box(on.box(name))

    def _on_name(self, _place: int) -> None:
        self.name_picked.emit(self.names.currentData())

    def _on_take_off(self) -> None:
        self.taken_off.emit(self.names.currentData())

    def _fill_menu(self) -> None:
        """Offer what is not on the label yet first of all."""
        self._menu.clear()
        on = self._on
        if on is None:
            return
        self._menu.addAction("words of your own", self._on_words).setData("")
        shown = {field for box in on.layout.boxes for field in box.fields}
        for name, words in facts():
            if name not in shown:
                self._menu.addAction(words, self._on_words).setData(name)
        self._menu.addSeparator()
        self._menu.addAction("a picture…", self.picture_wanted.emit)
        there = {block.kind for block in on.layout.blocks}
        for kind in ("gauge", "spacing"):
            if kind not in there:
                self._menu.addAction(called(kind), self._on_gauge).setData(kind)
        if on.layout.code is None:
            self._menu.addAction("the code", self.code_wanted.emit)

    def _on_words(self) -> None:
        action = self.sender()
        if isinstance(action, QAction):
            name = action.data()
            piece = PIECES.get(name, f"{{{name}}}") if name else "Your words"
            face = "botanical" if name == "botanical" else "bold" if name == "caution" else "regular"
            self.words_wanted.emit(name, [(piece, face)])

    def _on_gauge(self) -> None:
        action = self.sender()
        if isinstance(action, QAction):
            self.gauge_wanted.emit(action.data())
