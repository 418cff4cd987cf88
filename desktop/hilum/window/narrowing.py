"""What a list of lots is narrowed by: words, crop, state, year, place, the three marks, or a saved search."""

from PySide6.QtCore import QTimer, Signal
from PySide6.QtGui import QIntValidator
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from hilum.benches.lots import LotFilter
from hilum.benches.reference import CropLine, NameLine
from hilum.benches.searches import SavedSearch
from hilum.window.flow import FlowLayout

PAUSE_MS = 150
STATES = ("to be weighed", "in hand", "stored", "under test", "held", "empty", "withdrawn")
NO_SEARCH = "none chosen"


class Narrowing(QWidget):
    """Rows of fields; says so, after a pause in the typing, when the list is to be loaded anew."""

    narrowed = Signal()
    words_entered = Signal()
    search_chosen = Signal(str)
    save_wanted = Signal()
    remove_wanted = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._numbers: tuple[str, ...] = ()
        self._words, self._year = QLineEdit(), QLineEdit()
        self._words.setPlaceholderText("words in any order")
        self._words.setClearButtonEnabled(True)
        self._year.setPlaceholderText("any")
        self._year.setValidator(QIntValidator(1800, 2200, self))
        self._year.setMaximumWidth(84)
        self._crop, self._place, self._state = QComboBox(), QComboBox(), QComboBox()
        for box, every in (
            (self._crop, "every crop"),
            (self._place, "every place"),
            (self._state, "every state"),
        ):
            box.addItem(every, "")
            box.setMinimumWidth(150)
            box.setMaximumWidth(240)
        for state in STATES:
            self._state.addItem(state, state)
        self._due, self._low, self._below = QCheckBox("d&ue"), QCheckBox("l&ow"), QCheckBox("belo&w standard")
        self._due.setToolTip("Only lots that are due for a germination test")
        self._low.setToolTip("Only lots with little seed above the reserve")
        self._below.setToolTip("Only lots whose germination is below the standard")
        self._all = QPushButton("Show &all")
        self._saved = QComboBox()
        self._saved.addItem(NO_SEARCH, "")
        self._saved.setMinimumWidth(180)
        self._saved.setMaximumWidth(300)
        self._save, self._remove = QPushButton("Sa&ve this search…"), QPushButton("&Remove it")
        self._pause = QTimer(self)
        self._pause.setSingleShot(True)
        self._pause.setInterval(PAUSE_MS)
        self._lay_out()
        self._connect()
        self._allow()

    def _lay_out(self) -> None:
        first = QHBoxLayout()
        first.setSpacing(8)
        for words, editor, stretch in (
            ("&Narrow by", self._words, 1),
            ("&Crop", self._crop, 0),
            ("&State", self._state, 0),
        ):
            first.addWidget(_label(words, editor))
            first.addWidget(editor, stretch)
        more = FlowLayout(
            _pair("&Year", self._year),
            _pair("Place &grown", self._place),
            _together(QLabel("Only"), self._due, self._low, self._below, spacing=14),
            self._all,
            _together(_label("Saved searc&h", self._saved), self._saved, self._save, self._remove),
            spacing=14,
        )
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addLayout(first)
        layout.addLayout(more)

    def _connect(self) -> None:
        self._words.textChanged.connect(self.on_narrowed)
        self._words.returnPressed.connect(self.on_words_entered)
        self._year.textChanged.connect(self.on_narrowed)
        for box in (self._crop, self._place, self._state):
            box.currentIndexChanged.connect(self.on_narrowed)
        for mark in (self._due, self._low, self._below):
            mark.toggled.connect(self.on_narrowed)
        self._all.clicked.connect(self.on_all)
        self._pause.timeout.connect(self.narrowed)
        self._saved.activated.connect(self.on_search_chosen)
        self._save.clicked.connect(self.save_wanted)
        self._remove.clicked.connect(self.on_remove)

    # What is wanted.

    def wanted(self) -> LotFilter:
        """Give what the list is narrowed to."""
        year = self._year.text().strip()
        return LotFilter(
            words=self._words.text(),
            crop=self._crop.currentData() or "",
            year=int(year) if len(year) == 4 and year.isdigit() else None,
            place=self._place.currentData() or "",
            state=self._state.currentData() or "",
            due=self._due.isChecked(),
            low=self._low.isChecked(),
            below=self._below.isChecked(),
            numbers=self._numbers,
        )

    def show_wanted(self, wanted: LotFilter) -> None:
        """Show what the list is to be narrowed to, without saying that it changed."""
        self._numbers = wanted.numbers
        self._words.setText(wanted.words)
        self._year.setText("" if wanted.year is None else str(wanted.year))
        for box, value in (
            (self._crop, wanted.crop),
            (self._place, wanted.place),
            (self._state, wanted.state),
        ):
            if value and box.findData(value) < 0:
                # A search may name a crop that has no lot just now.
                box.addItem(value, value)
            box.setCurrentIndex(max(0, box.findData(value)))
        for mark, on in ((self._due, wanted.due), (self._low, wanted.low), (self._below, wanted.below)):
            mark.setChecked(on)
        self._pause.stop()
        self._allow()

    def focus_words(self) -> None:
        """Put the cursor where words are typed."""
        self._words.setFocus()

    # What can be chosen.

    def show_crops(self, lines: tuple[CropLine, ...]) -> None:
        """Offer the crops that have lots."""
        _offer(self._crop, [(line.name, line.key) for line in lines])

    def show_places(self, lines: tuple[NameLine, ...]) -> None:
        """Offer the places where lots were grown."""
        _offer(self._place, [(line.name, line.name) for line in lines])

    def offers_place(self, name: str) -> bool:
        """Say whether a place can be chosen already."""
        return self._place.findData(name) >= 0

    def show_searches(self, searches: tuple[SavedSearch, ...], chosen: str | None = None) -> None:
        """Offer the saved searches; `chosen` is shown as the one in force, none with empty text."""
        _offer(self._saved, [(search.name, search.name) for search in searches])
        if chosen is not None:
            self._saved.setCurrentIndex(max(0, self._saved.findData(chosen)))
        self._allow()

    # What the keeper does.

    def on_narrowed(self) -> None:
        """Wait for a pause in the typing."""
        self._pause.start()
        self._allow()

    def on_words_entered(self) -> None:
        """Go on at once."""
        self._pause.stop()
        self.words_entered.emit()

    def on_all(self) -> None:
        """Show every lot again."""
        self._saved.setCurrentIndex(0)
        self.show_wanted(LotFilter())
        self.narrowed.emit()

    def on_search_chosen(self) -> None:
        """Tell which saved search is to be looked through; choosing none shows every lot."""
        name = self._saved.currentData() or ""
        if name:
            self.search_chosen.emit(name)
        else:
            self.on_all()
        self._allow()

    def on_remove(self) -> None:
        """Tell that the chosen search is no longer wanted."""
        self.remove_wanted.emit(self._saved.currentData())

    def _allow(self) -> None:
        wanted = self.wanted()
        self._save.setEnabled(wanted != LotFilter() and not wanted.numbers)
        self._remove.setEnabled(bool(self._saved.currentData()))


def _label(words: str, editor: QWidget) -> QLabel:
    label = QLabel(words)
    label.setBuddy(editor)
    return label


def _pair(words: str, editor: QWidget) -> QWidget:
    return _together(_label(words, editor), editor)


def _together(*widgets: QWidget, spacing: int = 8) -> QWidget:
    """Keep widgets side by side where the row is broken."""
    held = QWidget()
    row = QHBoxLayout(held)
    row.setContentsMargins(0, 0, 0, 0)
    row.setSpacing(spacing)
    for widget in widgets:
        row.addWidget(widget)
    return held


def _offer(box: QComboBox, entries: list[tuple[str, str]]) -> None:
    """Put other entries below the first, which stands for all; what was chosen stays chosen where it is there."""
    if [data for _, data in entries] == [box.itemData(at) for at in range(1, box.count())]:
        return
    chosen = box.currentData()
    box.blockSignals(True)
    while box.count() > 1:
        box.removeItem(1)
    for words, data in entries:
        box.addItem(words, data)
    box.setCurrentIndex(max(0, box.findData(chosen)))
    box.blockSignals(False)
