"""Store bench: the tree of places; what lies in the chosen one, its map, its air, and counting it."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import (
    QCheckBox,
    QMenu,
    QPushButton,
    QScrollArea,
    QSplitter,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from hilum.benches.store import StorePlaceLine, close_store_place, move_lots, move_place, open_store_place
from hilum.benches.store_view import MapCell, PlaceHeld, lots_in_place, place_map, store_held
from hilum.window.flow import FlowLayout
from hilum.window.lot_actions import PaperMenu
from hilum.window.lot_words import counted
from hilum.window.move_dialog import MoveDialog
from hilum.window.page import BenchPage
from hilum.window.questions import Questions
from hilum.window.store_air import AirTab
from hilum.window.store_count import StocktakeTab
from hilum.window.store_dialogs import MovePlaceDialog, PlaceDialog, SlotsDialog
from hilum.window.store_lots import StoredTable
from hilum.window.store_map import MapView
from hilum.window.store_tree import PlaceTree
from hilum.window.widgets import Quiet, Title, primary
from hilum.window.work import WorkDay

CLOSE, USE_AGAIN = "C&lose it…", "&Use it again"
NO_PLACE = "No store place has been made yet. Begin with the room or the freezer, then what stands in it."


class StorePage(BenchPage):
    """Places on the left; of the chosen one, on the right, lots, map, air and stocktake."""

    title = "Store"

    def __init__(self, work: WorkDay, questions: Questions, parent: QWidget | None = None) -> None:
        super().__init__(work, questions, parent)
        self._held: tuple[PlaceHeld, ...] = ()
        self.tree = PlaceTree()
        self.closed = QCheckBox("S&how closed places")
        self.add = primary(QPushButton("&Add a place…"))
        self.this_place = QPushButton("&This place")
        menu = QMenu(self.this_place)
        self.change, self.move_all = menu.addAction("&Change it…"), menu.addAction("Mo&ve it with all in it…")
        self.divide, self.close_it = menu.addAction("&Divide it into slots…"), menu.addAction(CLOSE)
        self.this_place.setMenu(menu)
        self._name, self._words = Title(""), Quiet("")
        self.lots, self.map = StoredTable(), MapView()
        self.air, self.count = AirTab(work, questions), StocktakeTab(work, questions)
        self.move_lots = primary(QPushButton("&Move lots here…"))
        self.move_away = QPushButton("Move the chosen &elsewhere…")
        self.papers = QPushButton("On pa&per")
        self.papers.setToolTip("Lists of the lots in this place and in all that lies in it")
        self.papers.setMenu(PaperMenu(work, questions, self, self._lots_here))
        self.tabs = QTabWidget()
        self._lay_out()
        self._connect()

    def _lay_out(self) -> None:
        left, right = QWidget(), QWidget()
        places = QVBoxLayout(left)
        places.setContentsMargins(0, 0, 8, 0)
        places.addWidget(self.tree, 1)
        places.addWidget(self.closed)
        places.addLayout(FlowLayout(self.add, self.this_place, spacing=6))
        inside = QWidget()
        lying = QVBoxLayout(inside)
        lying.setContentsMargins(0, 8, 0, 0)
        lying.addWidget(self.lots, 1)
        lying.addLayout(FlowLayout(self.move_lots, self.move_away, self.papers))
        area = QScrollArea()
        area.setWidgetResizable(True)
        area.setFrameShape(QScrollArea.Shape.NoFrame)
        area.setWidget(self.map)
        self.tabs.setAccessibleName("Of this place")
        self.tabs.tabBar().setExpanding(False)
        for words, widget in (("Lots", inside), ("Map", area), ("Air", self.air), ("Stocktake", self.count)):
            self.tabs.addTab(widget, words)
        column = QVBoxLayout(right)
        column.setContentsMargins(8, 0, 0, 0)
        column.addWidget(self._name)
        column.addWidget(self._words)
        column.addWidget(self.tabs, 1)
        split = QSplitter(Qt.Orientation.Horizontal)
        split.setChildrenCollapsible(False)
        split.addWidget(left)
        split.addWidget(right)
        split.setStretchFactor(0, 2)
        split.setStretchFactor(1, 5)
        split.setSizes([270, 700])
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(split)

    def _connect(self) -> None:
        self.tree.place_chosen.connect(self.on_place)
        self.tree.itemActivated.connect(self.on_change)
        self.tree.lots_dropped.connect(self.on_lots_dropped)
        self.tree.place_dropped.connect(self.on_place_dropped)
        self.closed.toggled.connect(self.refresh)
        self.add.clicked.connect(self.on_add)
        self.change.triggered.connect(self.on_change)
        self.move_all.triggered.connect(self.on_move_all)
        self.divide.triggered.connect(self.on_divide)
        self.close_it.triggered.connect(self.on_close)
        self.move_lots.clicked.connect(self.on_move_lots)
        self.move_away.clicked.connect(self.on_move_away)
        self.lots.row_opened.connect(self.on_row_opened)
        self.lots.choice_changed.connect(self.on_choice)
        self.map.opened.connect(self.on_cell_opened)
        self.map.lots_dropped.connect(self.on_lots_dropped)
        self.tabs.currentChanged.connect(self.on_tab)
        for key, tab in (("Ctrl+M", 1), ("Ctrl+T", 3)):
            action = QAction(("&Map of this place", "&Stocktake of this place")[tab == 3], self)
            action.setShortcut(QKeySequence(key))
            action.setShortcutContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            action.setData(tab)
            action.triggered.connect(self.on_tab_wanted)
            self.addAction(action)

    # What is shown.

    def focus_first(self) -> None:
        """Put the cursor into the tree, or where the counting goes on."""
        if self.tabs.currentWidget() is self.count:
            self.count.focus_first()
        else:
            self.tree.setFocus()

    def refresh(self) -> None:
        """Load the places anew; the one under the cursor stays chosen."""
        held = self.work.attempt(store_held, self.work.catalogue, with_closed=self.closed.isChecked())
        self._held = held or ()
        self.tree.set_places(self._held)

    def on_place(self) -> None:
        """Show what is known of the place under the cursor."""
        chosen = self.tree.chosen()
        in_use = chosen is not None and chosen.place.closed_on is None
        self.this_place.setEnabled(chosen is not None)
        self.move_lots.setEnabled(in_use)
        for action in (self.change, self.move_all, self.divide):
            action.setEnabled(in_use)
        self.close_it.setText(CLOSE if chosen is None or in_use else USE_AGAIN)
        self.tabs.setVisible(chosen is not None)
        self._name.setText("The store" if chosen is None else chosen.place.path)
        self._words.setText(NO_PLACE if chosen is None else self._said(chosen))
        self.on_tab()

    def _said(self, chosen: PlaceHeld) -> str:
        place = chosen.place
        cold = "" if chosen.temperature_c is None else f", {chosen.temperature_c:g} °C"
        dry = "" if chosen.humidity_percent is None else f", {chosen.humidity_percent:g} % humidity"
        since = "" if chosen.since is None else f", so since {chosen.since.isoformat()}"
        note = f". {place.note}" if place.note else ""
        closed = "" if place.closed_on is None else f", closed on {place.closed_on.isoformat()}"
        return f"{place.kind}{cold}{dry}{since}{closed}; {counted(chosen.lots_within, 'lot')} in it{note}"

    def on_tab(self) -> None:
        """Load what the tab in front shows of the chosen place."""
        chosen, front = self.tree.chosen(), self.tabs.currentIndex()
        place_id = None if chosen is None else chosen.place.id
        if front == 0:
            rows = () if place_id is None else self.work.attempt(lots_in_place, self.work.catalogue, place_id)
            self.lots.set_rows(rows or ())
            self.on_choice()
        elif front == 1:
            shown = None if place_id is None else self.work.attempt(place_map, self.work.catalogue, place_id)
            self.map.show_map(shown, self.work.today())
        elif front == 2:
            self.air.show_place(chosen)
        else:
            self.count.show_place(chosen, self._within(chosen))

    def _within(self, chosen: PlaceHeld | None) -> tuple[PlaceHeld, ...]:
        if chosen is None:
            return ()
        inside = f"{chosen.place.path} / "
        return tuple(each for each in self._held if each.place.path.startswith(inside))

    def on_tab_wanted(self) -> None:
        """Bring a tab to the front by its key."""
        action = self.sender()
        if isinstance(action, QAction):
            self.tabs.setCurrentIndex(action.data())
            self.focus_first()

    def on_choice(self) -> None:
        """Allow what can be done with the chosen lots."""
        self.move_away.setEnabled(bool(self.lots.chosen()))

    def _lots_here(self) -> tuple[str, ...]:
        lots = tuple(row.number for row in self.lots.rows())
        chosen = self.tree.chosen()
        if not lots and chosen is not None:
            self.said.emit("warn", f"No lot lies in {chosen.place.path}.")
        return lots

    def on_row_opened(self, row: object) -> None:
        """Open the lot's page."""
        self.lot_wanted.emit(getattr(row, "number", ""))

    def on_cell_opened(self, cell: MapCell) -> None:
        """Go into a box or shelf, or open the page of the one lot that stands there."""
        if cell.place is not None and (cell.place.kind != "slot" or len(cell.lots) > 1):
            self.tree.choose(cell.place.id)
        elif len(cell.lots) == 1:
            self.lot_wanted.emit(cell.lots[0].number)

    # What is done.

    def _lines(self) -> tuple[StorePlaceLine, ...]:
        return tuple(each.place for each in self._held if each.place.closed_on is None)

    def on_add(self) -> None:
        """Ask for a new place, within the chosen one unless told otherwise."""
        chosen = self.tree.chosen()
        within = chosen.place.id if chosen and chosen.place.kind != "slot" else None
        PlaceDialog(self.work, self, self._lines(), None, within).open()

    def on_change(self) -> None:
        """Ask what is to be changed of the chosen place."""
        chosen = self.tree.chosen()
        if chosen is not None and chosen.place.closed_on is None:
            PlaceDialog(self.work, self, self._lines(), chosen.place, chosen.place.parent_id).open()

    def on_move_all(self) -> None:
        """Ask where the chosen place goes with all in it."""
        chosen = self.tree.chosen()
        if chosen is not None:
            MovePlaceDialog(self.work, self, self._lines(), chosen.place).open()

    def on_divide(self) -> None:
        """Ask into how many slots the chosen place is divided."""
        chosen = self.tree.chosen()
        if chosen is not None:
            SlotsDialog(self.work, self, chosen.place).open()

    def on_close(self) -> None:
        """Close the chosen place after asking, or use it again."""
        chosen = self.tree.chosen()
        if chosen is None:
            return
        place = chosen.place

        def close() -> None:
            done = self.work.attempt(close_store_place, self.work.catalogue, place.id, on=self.work.today())
            if done is not None:
                self.work.changes.tell(f"{done.path} is closed.")

        if place.closed_on is None:
            words = (
                f"{place.path} will be offered no more; what lay in it is still told. Nothing may lie in it."
            )
            self.questions.confirm(self, "Close a place", words, "&Close it", close)
            return
        opened = self.work.attempt(open_store_place, self.work.catalogue, place.id)
        if opened is not None:
            self.work.changes.tell(f"{opened.path} is in use again.")

    def on_move_lots(self) -> None:
        """Ask which lots go into the chosen place."""
        chosen = self.tree.chosen()
        if chosen is not None:
            MoveDialog(self.work, self, (), chosen.place.id).open()

    def on_move_away(self) -> None:
        """Ask where the chosen lots go."""
        MoveDialog(self.work, self, tuple(row.number for row in self.lots.chosen())).open()

    def on_lots_dropped(self, numbers: tuple[str, ...], place_id: int) -> None:
        """Move dragged lots, today."""
        moved = self.work.attempt(move_lots, self.work.catalogue, numbers, place_id, on=self.work.today())
        if moved is not None:
            self.work.changes.tell(f"{counted(len(moved), 'lot')} moved to {self._path_of(place_id)}.")

    def on_place_dropped(self, dragged: int, goal: int) -> None:
        """Move a dragged box or shelf with all in it, today."""
        done = self.work.attempt(move_place, self.work.catalogue, dragged, goal or None, on=self.work.today())
        if done is not None:
            self.work.changes.tell(f"{done.place.path}: moved with {counted(done.lots, 'lot')}.")

    def _path_of(self, place_id: int) -> str:
        return next((each.place.path for each in self._held if each.place.id == place_id), "the place")
