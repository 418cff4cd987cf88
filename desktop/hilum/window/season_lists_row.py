"""Above the season's list: which list, and lots put on it by scan, by name, or from a search."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QPushButton, QWidget

from hilum.benches.lots import LotFilter, find_lots
from hilum.benches.season import add_lots, make_list, rename_list, season_lists, usual_name
from hilum.window.packing_lot import BETWEEN, MOST_SUGGESTED, NUMBER_LIKE
from hilum.window.questions import Questions
from hilum.window.season_picker import SeasonPicker
from hilum.window.widgets import SuggestLine
from hilum.window.work import WorkDay


class SeasonListsRow(QWidget):
    """Chooses, begins and renames lists; `add` begins one named for the season where there is none."""

    list_chosen = Signal()
    # What was put on the list: AddedLots.
    lots_added = Signal(object)
    said = Signal(str, str)

    def __init__(self, work: WorkDay, questions: Questions, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._work, self._questions = work, questions
        self._wanted: int | None = None
        self.lists = QComboBox()
        self.lists.setMinimumWidth(190)
        self.new, self.rename = QPushButton("Ne&w list…"), QPushButton("&Rename…")
        self.line = SuggestLine(self.suggest)
        self.line.setPlaceholderText("Scan or type a lot to add")
        self.search = QPushButton("&Add lots…")
        layout = QHBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(8)
        for words, field in (("&List", self.lists), ("L&ot", self.line)):
            label = QLabel(words)
            label.setBuddy(field)
            layout.addWidget(label)
            layout.addWidget(field, 1 if field is self.line else 0)
            if field is self.lists:
                layout.addWidget(self.new)
                layout.addWidget(self.rename)
        layout.addWidget(self.search)
        self._connect()

    def _connect(self) -> None:
        self.lists.activated.connect(self.on_list)
        self.new.clicked.connect(self.on_new)
        self.rename.clicked.connect(self.on_rename)
        self.line.returnPressed.connect(self.on_entered)
        self.line.picked.connect(self.on_picked)
        self.search.clicked.connect(self.on_find)

    # Lists.

    def load(self) -> None:
        """Offer the lists there are; the one that was chosen stays, else the newest comes up."""
        found = self._work.attempt(season_lists, self._work.catalogue) or ()
        ids = [each.id for each in found]
        if self._wanted not in ids:
            self._wanted = ids[0] if ids else None
        self.lists.clear()
        for each in found:
            self.lists.addItem(each.name, each.id)
        if not ids:
            self.lists.addItem("no list yet", None)
        self.lists.setCurrentIndex(max(0, self.lists.findData(self._wanted)))
        self.lists.setEnabled(bool(ids))
        self.rename.setEnabled(bool(ids))

    def list_id(self) -> int | None:
        """Give the list in front; None while there is none."""
        return self._wanted

    def on_list(self, _place: int) -> None:
        """Bring up another list."""
        self._wanted = self.lists.currentData()
        self.list_chosen.emit()

    def on_new(self) -> None:
        """Ask for the name of a new list."""
        name = usual_name(self._work.today())
        words = "Name of the list, such as a season or a swap day."
        self._questions.ask_text(self, "A new list", words, self.begin, name)

    def begin(self, name: str) -> None:
        """Begin a list and bring it up."""
        made = self._work.attempt(make_list, self._work.catalogue, name, on=self._work.today())
        if made is not None:
            self._wanted = made.id
            self.list_chosen.emit()

    def _list_to_add_to(self) -> int | None:
        """Give the list in front, begun now where there is none yet."""
        self.load()
        if self._wanted is None:
            self.begin(usual_name(self._work.today()))
        return self._wanted

    def on_rename(self) -> None:
        """Ask for another name of the list."""
        self._questions.ask_text(
            self, "Rename the list", "Its new name.", self._rename, self.lists.currentText()
        )

    def _rename(self, name: str) -> None:
        if self._wanted is not None and self._work.did(rename_list, self._work.catalogue, self._wanted, name):
            self._work.changes.tell(f"List renamed to {name}.")
            self.list_chosen.emit()

    # Lots.

    def suggest(self, text: str) -> tuple[str, ...]:
        """Give lots that fit what was typed."""
        page = self._work.attempt(
            find_lots,
            self._work.catalogue,
            LotFilter(words=text),
            on=self._work.today(),
            limit=MOST_SUGGESTED,
        )
        return () if page is None else tuple(f"{lot.number}{BETWEEN}{lot.name}" for lot in page.lots)

    def on_picked(self, words: str) -> None:
        """Add the lot of a suggestion."""
        self.add((words.partition(BETWEEN)[0],))

    def on_entered(self) -> None:
        """Add what was typed or scanned: a number, or a name that only one lot has."""
        typed = self.line.text().strip()
        if not typed:
            return
        found = () if NUMBER_LIKE.match(typed) else self.suggest(typed)
        self.add(((found[0] if len(found) == 1 else typed).partition(BETWEEN)[0],))

    def add(self, typed: tuple[str, ...]) -> None:
        """Put lots on the list, all or none; where there is no list yet one is begun."""
        list_id = self._list_to_add_to()
        if list_id is None:
            return
        completer = self.line.completer()
        if completer is not None and completer.popup() is not None:
            completer.popup().hide()
        done = self._work.attempt(add_lots, self._work.catalogue, list_id, typed)
        if done is None:
            self.line.selectAll()
            return
        self.line.clear()
        self.lots_added.emit(done)

    def on_find(self) -> None:
        """Look for lots to add."""
        list_id = self._list_to_add_to()
        if list_id is None:
            return
        self.load()
        self._picker = SeasonPicker(self._work, self, list_id, self.lists.currentText())
        self._picker.accepted.connect(self.on_picker_done)
        self._picker.open()

    def on_picker_done(self) -> None:
        """Show what was added."""
        if self._picker.added is not None:
            self.lots_added.emit(self._picker.added)
