"""Counts of one day, dish by class: figures are typed straight into the cells, an empty cell is not looked at."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt, Signal
from PySide6.QtGui import QColor, QGuiApplication, QKeyEvent, QKeySequence, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView, QWidget

from hilum.benches.testing import CLASSES
from hilum.errors import BadInput
from hilum.window.theme import ROW_PX, theme

Index = QModelIndex | QPersistentModelIndex
Cells = dict[tuple[int, str], int]
HEADINGS = ("Dish", "Seeds", *(name.capitalize() for name in CLASSES), "Left")
FIRST_CLASS, LEFT = 2, 2 + len(CLASSES)
# No dish holds more than five digits of seeds.
MOST_DIGITS = 5
MOST_ROWS_SEEN = 8
MEANINGS = {
    "normal": "Can grow on into a plant. Only these are the germination percentage.",
    "abnormal": "Sprouted, but damaged so that it cannot grow on.",
    "hard": "Still hard at the end: no water went into it.",
    "fresh": "Took up water and is firm, but has not sprouted: perhaps dormant.",
    "dead": "Soft, decayed or mouldy, and not sprouted.",
}


@dataclass(frozen=True, slots=True)
class CountRow:
    """One dish as the sheet shows it: its seeds, and how many of them no other day has classed."""

    number: int
    seeds: int
    open_seeds: int


class CountModel(QAbstractTableModel):
    """Holds the dishes and what was typed; a cell that is not in `cells` was not looked at."""

    typed = Signal()

    def __init__(self, *, own_seeds: bool, parent: Any = None) -> None:
        """`own_seeds` lets the seeds of each dish be typed too."""
        super().__init__(parent)
        self._own_seeds = own_seeds
        self.dishes: tuple[CountRow, ...] = ()
        self.cells: Cells = {}

    def set_dishes(self, dishes: Sequence[CountRow], cells: Mapping[tuple[int, str], int]) -> None:
        """Show other dishes with what is known of them."""
        self.beginResetModel()
        self.dishes = tuple(dishes)
        numbers = {row.number for row in dishes}
        self.cells = {key: figure for key, figure in cells.items() if key[0] in numbers}
        self.endResetModel()
        self.typed.emit()

    def left(self, row: CountRow) -> int:
        """Give the seeds of a dish that no class has taken."""
        return row.open_seeds - sum(self.cells.get((row.number, name), 0) for name in CLASSES)

    def can_type(self, index: Index) -> bool:
        """Say whether figures are typed into a cell."""
        return FIRST_CLASS <= index.column() < LEFT or (self._own_seeds and index.column() == 1)

    def figure(self, index: Index) -> int | None:
        """Give the figure in a cell, None for none."""
        row = self.dishes[index.row()]
        if index.column() == 1:
            return row.seeds or None
        return self.cells.get((row.number, CLASSES[index.column() - FIRST_CLASS]))

    def put(self, index: Index, figure: int | None) -> None:
        """Put a figure into a cell, or empty it."""
        row = self.dishes[index.row()]
        if index.column() == 1:
            changed = replace(row, seeds=figure or 0, open_seeds=figure or 0)
            self.dishes = tuple(changed if each is row else each for each in self.dishes)
        elif figure is None:
            self.cells.pop((row.number, CLASSES[index.column() - FIRST_CLASS]), None)
        else:
            self.cells[row.number, CLASSES[index.column() - FIRST_CLASS]] = figure
        self.dataChanged.emit(self.index(index.row(), 0), self.index(index.row(), LEFT))
        self.typed.emit()

    def rowCount(self, parent: Index | None = None) -> int:
        return 0 if parent is not None and parent.isValid() else len(self.dishes)

    def columnCount(self, parent: Index | None = None) -> int:
        return 0 if parent is not None and parent.isValid() else len(HEADINGS)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if not index.isValid():
            return None
        row, column = self.dishes[index.row()], index.column()
        if role == Qt.ItemDataRole.DisplayRole:
            return self._text(row, column)
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        if role == Qt.ItemDataRole.ForegroundRole:
            if column == LEFT:
                return QColor(theme().bad if self.left(row) < 0 else theme().quiet)
            return None if self.can_type(index) else QColor(theme().quiet)
        if role == Qt.ItemDataRole.ToolTipRole and FIRST_CLASS <= column < LEFT:
            return MEANINGS[CLASSES[column - FIRST_CLASS]]
        if role == Qt.ItemDataRole.AccessibleTextRole:
            text = self._text(row, column) or "not looked at"
            return f"dish {row.number}, {HEADINGS[column].lower()}: {text}"
        return None

    def _text(self, row: CountRow, column: int) -> str:
        if column == 0:
            return str(row.number)
        if column == 1:
            return str(row.seeds) if row.seeds else ""
        if column == LEFT:
            left = self.left(row)
            return str(left) if left >= 0 else f"{-left} too many"
        figure = self.cells.get((row.number, CLASSES[column - FIRST_CLASS]))
        return "" if figure is None else str(figure)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        if orientation != Qt.Orientation.Horizontal:
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return HEADINGS[section]
        if role == Qt.ItemDataRole.ToolTipRole and FIRST_CLASS <= section < LEFT:
            return MEANINGS[CLASSES[section - FIRST_CLASS]]
        if role == Qt.ItemDataRole.ToolTipRole and section == LEFT:
            return "Seeds left in the dish, which no class has taken"
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        return None


class CountTable(QTableView):
    """Digits go straight into the cell; Enter and the tabulator move on, the arrows move about."""

    # Something was typed, pasted or taken away.
    typed = Signal()
    # Enter or the tabulator in the last cell.
    passed_end = Signal()

    def __init__(self, name: str, parent: QWidget | None = None, *, own_seeds: bool = False) -> None:
        super().__init__(parent)
        self._fresh = True
        self.counts = CountModel(own_seeds=own_seeds, parent=self)
        self.setModel(self.counts)
        self.setAccessibleName(name)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectItems)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setTabKeyNavigation(False)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.verticalHeader().hide()
        self.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.verticalHeader().setDefaultSectionSize(ROW_PX)
        heads = self.horizontalHeader()
        heads.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        heads.setMinimumSectionSize(36)
        heads.setHighlightSections(False)
        self._connect()

    def _connect(self) -> None:
        self.counts.typed.connect(self.typed)
        self.selectionModel().currentChanged.connect(self.on_moved)

    def on_moved(self) -> None:
        """The next digit begins a new figure."""
        self._fresh = True

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._share_width()

    def _share_width(self) -> None:
        """Give every column its heading, and what room is left to the classes, all alike."""
        heads = self.horizontalHeader()
        hints = [heads.sectionSizeHint(column) for column in range(len(HEADINGS))]
        over = self.viewport().width() - sum(hints)
        share = over // len(CLASSES) if over >= 0 else over // len(HEADINGS)
        for column, hint in enumerate(hints):
            grows = over < 0 or FIRST_CLASS <= column < LEFT
            self.setColumnWidth(column, hint + share if grows else hint)

    # Dishes and figures.

    def set_dishes(self, dishes: Sequence[CountRow], cells: Mapping[tuple[int, str], int]) -> None:
        """Show dishes with figures that are known; the cursor stands on the first cell."""
        self.counts.set_dishes(dishes, cells)
        rows = max(1, min(len(dishes), MOST_ROWS_SEEN))
        self.setFixedHeight(self.horizontalHeader().sizeHint().height() + rows * ROW_PX + 6)
        self.go_to_start()

    def go_to_start(self) -> None:
        """Put the cursor into the first class of the first dish."""
        if self.counts.dishes:
            self.setCurrentIndex(self.counts.index(0, FIRST_CLASS))

    def cells(self) -> Cells:
        """Give what was typed: dish and class to figure; what nobody looked at is not in it."""
        return dict(self.counts.cells)

    def by_dish(self) -> dict[int, dict[str, int | None]]:
        """Give a figure or None for every class of every dish."""
        return {
            row.number: {name: self.counts.cells.get((row.number, name)) for name in CLASSES}
            for row in self.counts.dishes
        }

    # Keys.

    def keyPressEvent(self, event: QKeyEvent) -> None:
        here, key = self.currentIndex(), event.key()
        control = bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
        if event.matches(QKeySequence.StandardKey.Copy):
            self.copy_all()
        elif event.matches(QKeySequence.StandardKey.Paste):
            self.paste()
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and not control:
            self._move_on(1)
        elif here.isValid() and self.counts.can_type(here) and self._typed_into(here, event):
            return
        else:
            super().keyPressEvent(event)

    def event(self, event: Any) -> bool:
        # The tabulator never reaches keyPressEvent of a view by itself.
        if (
            isinstance(event, QKeyEvent)
            and event.type() == QKeyEvent.Type.KeyPress
            and self.currentIndex().isValid()
        ):
            if event.key() == Qt.Key.Key_Tab and self._move_on(1, leave=True):
                return True
            if event.key() == Qt.Key.Key_Backtab and self._move_on(-1, leave=True):
                return True
        return super().event(event)

    def _typed_into(self, here: Index, event: QKeyEvent) -> bool:
        figure, text = self.counts.figure(here), event.text()
        if text.isascii() and text.isdigit():
            digits = text if self._fresh or figure is None else f"{figure}{text}"
            if len(digits) <= MOST_DIGITS:
                self.counts.put(here, int(digits))
                self._fresh = False
            return True
        if event.key() == Qt.Key.Key_Backspace:
            digits = "" if figure is None else str(figure)[:-1]
            self.counts.put(here, int(digits) if digits else None)
            self._fresh = False
            return True
        if event.key() == Qt.Key.Key_Delete:
            self.counts.put(here, None)
            self._fresh = True
            return True
        return False

    def _move_on(self, by: int, *, leave: bool = False) -> bool:
        """Go to the next cell of a class; past the last one `passed_end` tells, unless leaving is meant."""
        places = [
            index
            for row in range(self.counts.rowCount())
            for column in range(FIRST_CLASS, LEFT)
            for index in (self.counts.index(row, column),)
        ]
        here = self.currentIndex()
        at = next((place for place, index in enumerate(places) if index == here), -1) + by
        if 0 <= at < len(places):
            self.setCurrentIndex(places[at])
            return True
        if not leave:
            self.passed_end.emit()
        return False

    # Spreadsheets.

    def copy_all(self) -> None:
        """Copy the sheet with its headings, for a spreadsheet."""
        model = self.counts
        lines = ["\t".join(HEADINGS)]
        for row in range(model.rowCount()):
            lines.append("\t".join(model.index(row, c).data() or "" for c in range(model.columnCount())))
        QGuiApplication.clipboard().setText("\n".join(lines))

    def paste(self) -> None:
        """Paste figures from a spreadsheet, from the cell with the cursor on; what is no figure is left out."""
        here = self.currentIndex()
        if not here.isValid():
            return
        for down, line in enumerate(QGuiApplication.clipboard().text().splitlines()):
            for across, text in enumerate(line.split("\t")):
                index = self.counts.index(here.row() + down, here.column() + across)
                if index.isValid() and self.counts.can_type(index):
                    digits = text.strip()
                    if not digits or (digits.isascii() and digits.isdigit() and len(digits) <= MOST_DIGITS):
                        self.counts.put(index, int(digits) if digits else None)


def counts_by_class(table: CountTable) -> dict[str, list[int]]:
    """Give every class that was counted with one figure a dish; a class counted in some dishes only is refused."""
    found: dict[str, list[int]] = {}
    rows = table.by_dish()
    for name in CLASSES:
        figures = [classes[name] for classes in rows.values()]
        known = [figure for figure in figures if figure is not None]
        if known and len(known) < len(figures):
            missing = next(number for number, classes in rows.items() if classes[name] is None)
            raise BadInput(
                f"The {name} seeds of dish {missing} are missing. Give a figure for every dish (0 where there was "
                "none), or leave the whole class empty when nobody looked."
            )
        if known:
            found[name] = known
    return found
