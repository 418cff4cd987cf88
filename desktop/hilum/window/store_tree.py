"""The tree of store places: what lies in each, how cold and dry it is; lots and places are dropped onto it."""

from collections.abc import Sequence

from PySide6.QtCore import QMimeData, Qt, Signal
from PySide6.QtGui import QColor, QDragEnterEvent, QDragMoveEvent, QDropEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTreeWidget, QTreeWidgetItem, QWidget

from hilum.benches.store import BETWEEN
from hilum.benches.store_view import PlaceHeld
from hilum.window.lot_words import NOT_KNOWN
from hilum.window.store_lots import numbers_in
from hilum.window.theme import theme

PLACE_MIME = "application/x-hilum-place"
_ID = Qt.ItemDataRole.UserRole + 1
_LEAST_PX = 240


class PlaceTree(QTreeWidget):
    """Places in the order of their paths; the one under the cursor stays chosen when they come anew."""

    place_chosen = Signal()
    # Lots dropped onto a place: their numbers, the place's id.
    lots_dropped = Signal(tuple, int)
    # A place dropped onto another one, or beside all places: both ids, the second 0 for none.
    place_dropped = Signal(int, int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._held: dict[int, PlaceHeld] = {}
        self.setAccessibleName("Store places")
        self.setHeaderLabels(["Place", "Lots", "°C"])
        for column in (1, 2):
            self.headerItem().setTextAlignment(
                column, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
            )
        self.setIndentation(16)
        self.setAlternatingRowColors(True)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setDragEnabled(True)
        self.setAcceptDrops(True)
        self.setDropIndicatorShown(True)
        self.header().setStretchLastSection(False)
        self.header().setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        for column in (1, 2):
            self.header().setSectionResizeMode(column, QHeaderView.ResizeMode.ResizeToContents)
        self.setMinimumWidth(_LEAST_PX)
        self.itemSelectionChanged.connect(self.place_chosen)

    def set_places(self, held: Sequence[PlaceHeld]) -> None:
        """Show places anew; the first one is chosen where none was."""
        before = self.chosen()
        closed_up = {place_id for place_id, item in self._items().items() if not item.isExpanded()}
        self.blockSignals(True)
        self.clear()
        self._held = {each.place.id: each for each in held}
        items: dict[int | None, QTreeWidgetItem] = {}
        for each in sorted(held, key=lambda one: one.place.path.count(BETWEEN)):
            item = QTreeWidgetItem(_cells(each))
            item.setData(0, _ID, each.place.id)
            item.setToolTip(0, _tip(each))
            for column in (1, 2):
                item.setTextAlignment(column, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
            if each.place.closed_on is not None:
                item.setForeground(0, QColor(theme().quiet))
            items[each.place.id] = item
            above = items.get(each.place.parent_id)
            if above is None:
                self.addTopLevelItem(item)
            else:
                above.addChild(item)
        for place_id, item in items.items():
            # Slots are better looked at on the map.
            is_divided = any(
                one.place.parent_id == place_id and one.place.kind == "slot" for one in self._held.values()
            )
            item.setExpanded(place_id not in closed_up and not is_divided)
        wanted = items.get(before.place.id if before else None) or self.topLevelItem(0)
        if wanted is not None:
            self.setCurrentItem(wanted)
        self.blockSignals(False)
        self.place_chosen.emit()

    def _items(self) -> dict[int, QTreeWidgetItem]:
        found: dict[int, QTreeWidgetItem] = {}
        waiting = [self.topLevelItem(place) for place in range(self.topLevelItemCount())]
        while waiting:
            item = waiting.pop()
            if item is not None:
                found[item.data(0, _ID)] = item
                waiting += [item.child(place) for place in range(item.childCount())]
        return found

    def chosen(self) -> PlaceHeld | None:
        """Give the place under the cursor."""
        items = self.selectedItems()
        return self._held.get(items[0].data(0, _ID)) if items else None

    def choose(self, place_id: int) -> None:
        """Put the cursor on a place and show it."""
        item = self._items().get(place_id)
        if item is not None:
            self.setCurrentItem(item)
            self.scrollToItem(item)

    # Dragging.

    def mimeTypes(self) -> list[str]:
        return [PLACE_MIME]

    def mimeData(self, items: Sequence[QTreeWidgetItem]) -> QMimeData:
        carried = QMimeData()
        carried.setData(PLACE_MIME, str(items[0].data(0, _ID)).encode())
        return carried

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        self._judge(event)

    def dragMoveEvent(self, event: QDragMoveEvent) -> None:
        super().dragMoveEvent(event)
        self._judge(event)

    def _judge(self, event: QDropEvent) -> None:
        carried = event.mimeData()
        onto = self.itemAt(event.position().toPoint())
        if carried.hasFormat(PLACE_MIME) or (numbers_in(carried) and onto is not None):
            event.acceptProposedAction()
        else:
            event.ignore()

    def dropEvent(self, event: QDropEvent) -> None:
        carried = event.mimeData()
        item = self.itemAt(event.position().toPoint())
        goal = 0 if item is None else int(item.data(0, _ID))
        numbers = numbers_in(carried)
        # The catalogue moves it, and the tree comes anew; nothing is moved by the view itself.
        event.setDropAction(Qt.DropAction.IgnoreAction)
        event.accept()
        if numbers and goal:
            self.lots_dropped.emit(numbers, goal)
        elif carried.hasFormat(PLACE_MIME):
            dragged = int(carried.data(PLACE_MIME).toStdString())
            if dragged != goal:
                self.place_dropped.emit(dragged, goal)


def _cells(each: PlaceHeld) -> list[str]:
    name = each.place.name if each.place.closed_on is None else f"{each.place.name} (closed)"
    cold = NOT_KNOWN if each.temperature_c is None else f"{each.temperature_c:g}"
    return [name, f"{each.lots_within:,}", cold]


def _tip(each: PlaceHeld) -> str:
    words = [f"{each.place.path}, a {each.place.kind}"]
    if each.since is not None:
        words.append(f"as it is since {each.since.isoformat()}")
    if each.place.note:
        words.append(each.place.note)
    return "; ".join(words)
