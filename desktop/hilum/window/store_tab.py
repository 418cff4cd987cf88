"""The store places: rooms, freezers, shelves, boxes and slots as a tree; places are made and changed, lots moved in."""

from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QComboBox,
    QLineEdit,
    QPushButton,
    QTreeWidget,
    QTreeWidgetItem,
    QVBoxLayout,
    QWidget,
)

from hilum.benches.papers import lots_at_place
from hilum.benches.store import (
    PLACE_KINDS,
    StorePlaceLine,
    add_store_place,
    change_store_place,
    store_places,
)
from hilum.window.lot_actions import PaperMenu
from hilum.window.lot_words import NOT_KNOWN
from hilum.window.move_dialog import MoveDialog
from hilum.window.page import BenchPage
from hilum.window.questions import Questions
from hilum.window.widgets import Quiet, choice_line, form_row, primary, row_of
from hilum.window.work import WorkDay
from hilum.window.work_dialog import WorkDialog

ID_ROLE = Qt.ItemDataRole.UserRole + 1


def figure_of(text: str, what: str) -> float | None:
    """Read a temperature or humidity as typed, with point or comma; None for nothing."""
    from hilum.errors import BadInput

    bare = text.strip().replace(",", ".").replace("\u2212", "-").rstrip("°C% ").strip()
    if not bare:
        return None
    try:
        return float(bare)
    except ValueError as error:
        raise BadInput(f"{what} “{text.strip()}” is no figure. Write for example 4, -18 or 12.5.") from error


class PlaceDialog(WorkDialog):
    """Asks what a store place is called, where it lies, how cold and how dry it is."""

    def __init__(
        self, work: WorkDay, parent: QWidget, places: tuple[StorePlaceLine, ...], place: StorePlaceLine | None,
        within: int | None,
    ) -> None:  # fmt: skip
        title = f"Change “{place.name}”" if place else "A new store place"
        words = (
            "A place without a temperature takes that of the place it lies in. A place below 0 °C takes only seed "
            "with evidence of dryness: cooling a place asks after every lot in it."
        )
        super().__init__(work, parent, title, words, "&Keep" if place else "&Make it")
        self._place = place
        self._name = QLineEdit(place.name if place else "")
        self._kind = choice_line(tuple((kind, kind) for kind in PLACE_KINDS), "")
        self._within = QComboBox()
        self._within.addItem("nothing: it stands by itself", None)
        for line in places:
            self._within.addItem(line.path, line.id)
        self._within.setCurrentIndex(max(0, self._within.findData(within)))
        self._cold = QLineEdit(_text(place.temperature_c if place else None))
        self._cold.setPlaceholderText("°C, for example 4 or -18")
        self._dry = QLineEdit(_text(place.humidity_percent if place else None))
        self._dry.setPlaceholderText("% relative humidity")
        self._note = QLineEdit(place.note if place else "")
        form_row(self.form, "&Name", self._name)
        if place is None:
            form_row(self.form, "&Kind", self._kind)
            form_row(self.form, "Lies &in", self._within)
        form_row(self.form, "&Temperature", self._cold)
        form_row(self.form, "&Humidity", self._dry)
        form_row(self.form, "N&ote", self._note)

    def on_go(self) -> None:
        """Make or change the place."""
        cold = self.work.attempt(_read, self._cold.text(), "The temperature")
        dry = self.work.attempt(_read, self._dry.text(), "The humidity")
        if cold is None or dry is None:
            return
        values: dict[str, Any] = {
            "name": self._name.text().strip(),
            "temperature_c": cold[0],
            "humidity_percent": dry[0],
            "note": self._note.text().strip(),
        }
        catalogue = self.work.catalogue
        if self._place is None:
            done = self.work.attempt(
                add_store_place,
                catalogue,
                kind=self._kind.currentText(),
                parent_id=self._within.currentData(),
                **values,
            )
        else:
            if not values["name"]:
                self.notice.show_bad("The store place has no name.")
                return
            changes = {name: value for name, value in values.items() if value != getattr(self._place, name)}
            changed = self.work.attempt(
                change_store_place, catalogue, self._place.id, changes, on=self.work.today()
            )
            done = changed.place if changed is not None else None
        if done is not None:
            self.accept()
            self.work.changes.tell(f"Store place {done.path}.")


def _read(text: str, what: str) -> tuple[float | None]:
    # In a tuple, so that "nothing was typed" can be told from "it was refused".
    return (figure_of(text, what),)


def _text(figure: float | None) -> str:
    return "" if figure is None else f"{figure:g}"


class StoreTab(BenchPage):
    """The tree of places, and what is done with the one under the cursor."""

    title = "Store places"

    def __init__(self, work: WorkDay, questions: Questions, parent: QWidget | None = None) -> None:
        super().__init__(work, questions, parent)
        self._places: dict[int, StorePlaceLine] = {}
        self.tree = QTreeWidget()
        self.tree.setAccessibleName("Store places")
        self.tree.setHeaderLabels(["Place", "Kind", "Temperature", "Humidity", "Note"])
        self.tree.setAlternatingRowColors(True)
        self.tree.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self._meaning = Quiet()
        self._add, self._change = primary(QPushButton("&Add a place…")), QPushButton("&Change it…")
        self._move = QPushButton("&Move lots here…")
        self._papers = QPushButton("On pa&per")
        self._papers.setToolTip("Lists of the lots in this place and in all that lies in it")
        self._papers.setMenu(PaperMenu(work, questions, self, self._lots_here))
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 10, 0, 0)
        layout.addWidget(self._meaning)
        layout.addWidget(self.tree, 1)
        layout.addLayout(row_of(self._add, self._change, self._move, self._papers))
        self._connect()
        self.on_choice()

    def _connect(self) -> None:
        self.tree.itemSelectionChanged.connect(self.on_choice)
        self.tree.itemActivated.connect(self.on_change)
        self._add.clicked.connect(self.on_add)
        self._change.clicked.connect(self.on_change)
        self._move.clicked.connect(self.on_move)

    def focus_first(self) -> None:
        """Put the cursor into the tree."""
        self.tree.setFocus()

    def refresh(self) -> None:
        """Load the places anew; the one under the cursor stays chosen."""
        chosen = self.chosen()
        lines = self.work.attempt(store_places, self.work.catalogue) or ()
        self._places = {line.id: line for line in lines}
        self.tree.clear()
        items: dict[int | None, QTreeWidgetItem] = {}
        # Sorted by path, so a place comes after the one it lies in.
        for line in sorted(lines, key=lambda line: line.path.count(" / ")):
            item = QTreeWidgetItem(_cells(line))
            item.setData(0, ID_ROLE, line.id)
            items[line.id] = item
            above = items.get(line.parent_id)
            if above is None:
                self.tree.addTopLevelItem(item)
            else:
                above.addChild(item)
        self.tree.expandAll()
        for column in range(self.tree.columnCount() - 1):
            self.tree.resizeColumnToContents(column)
            self.tree.setColumnWidth(column, self.tree.columnWidth(column) + 20)
        if chosen is not None and chosen.id in items:
            self.tree.setCurrentItem(items[chosen.id])
        self._meaning.setText(
            "Where the lots lie. The colder and drier, the longer seed keeps."
            if lines
            else "No store place has been made yet. Begin with the room or the freezer, then what stands in it."
        )
        self.on_choice()

    def chosen(self) -> StorePlaceLine | None:
        """Give the place under the cursor."""
        items = self.tree.selectedItems()
        return self._places.get(items[0].data(0, ID_ROLE)) if items else None

    def on_choice(self) -> None:
        """Allow what can be done with the chosen place."""
        for button in (self._change, self._move, self._papers):
            button.setEnabled(self.chosen() is not None)

    def _lots_here(self) -> tuple[str, ...]:
        chosen = self.chosen()
        if chosen is None:
            return ()
        lots = self.work.attempt(lots_at_place, self.work.catalogue, chosen.id) or ()
        if not lots:
            self.said.emit("warn", f"No lot lies in {chosen.path}.")
        return lots

    def on_add(self) -> None:
        """Ask for a new place, within the chosen one unless told otherwise."""
        chosen = self.chosen()
        within = chosen.id if chosen else None
        PlaceDialog(self.work, self, tuple(self._places.values()), None, within).open()

    def on_change(self) -> None:
        """Ask what is to be changed of the chosen place."""
        chosen = self.chosen()
        if chosen is not None:
            PlaceDialog(self.work, self, tuple(self._places.values()), chosen, chosen.parent_id).open()

    def on_move(self) -> None:
        """Ask which lots go into the chosen place."""
        chosen = self.chosen()
        if chosen is not None:
            MoveDialog(self.work, self, (), chosen.id).open()


def _cells(line: StorePlaceLine) -> list[str]:
    cold = NOT_KNOWN if line.temperature_c is None else f"{line.temperature_c:g} °C"
    dry = NOT_KNOWN if line.humidity_percent is None else f"{line.humidity_percent:g} %"
    return [line.name, line.kind, cold, dry, line.note]
