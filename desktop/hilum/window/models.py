"""Tables of frozen rows: a model over a tuple, and the one table view that all pages use."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import (
    QAbstractTableModel,
    QItemSelection,
    QItemSelectionModel,
    QModelIndex,
    QPersistentModelIndex,
    Qt,
    Signal,
)
from PySide6.QtGui import (
    QColor,
    QGuiApplication,
    QKeyEvent,
    QKeySequence,
    QPainter,
    QPaintEvent,
    QResizeEvent,
    QShowEvent,
)
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QStyle, QTableView, QWidget

from hilum.window.spreadsheets import one_line
from hilum.window.theme import ROW_PX, theme

SORT_ROLE = Qt.ItemDataRole.UserRole + 1
Index = QModelIndex | QPersistentModelIndex
Order = Qt.SortOrder
# Widths of columns whose words are short or long.
LEAST_PX, MOST_PX = 64, 440


@dataclass(frozen=True, slots=True)
class Column:
    """One column: how a row is worded in it, and by what it is sorted."""

    heading: str
    text: Callable[[Any], str]
    sort: Callable[[Any], Any] | None = None
    right: bool = False
    tip: Callable[[Any], str] | None = None
    # Gives "good", "warn", "bad", "quiet" or "" for a row; the words must say it too.
    tone: Callable[[Any], str] | None = None
    # How narrow the column may become so that the others fit.
    least_px: int = 84
    # Whether the column may go away where there is no room for all.
    spare: bool = False

    def value(self, row: Any) -> Any:
        """Give what the row is sorted by in this column."""
        return self.sort(row) if self.sort is not None else self.text(row).casefold()


class RowsModel(QAbstractTableModel):
    """Shows a tuple of frozen rows; the tuple owns the truth."""

    def __init__(self, columns: Sequence[Column], parent: Any = None) -> None:
        super().__init__(parent)
        self._columns = tuple(columns)
        self._rows: tuple[Any, ...] = ()
        self._sorted: tuple[int, Order] | None = None

    @property
    def columns(self) -> tuple[Column, ...]:
        """The columns."""
        return self._columns

    @property
    def rows(self) -> tuple[Any, ...]:
        """The rows in the order shown."""
        return self._rows

    def set_rows(self, rows: Sequence[Any], *, as_they_come: bool = False) -> None:
        """Show other rows, sorted as before, or in the order in which they come."""
        self.beginResetModel()
        self._rows = tuple(rows)
        if self._sorted is not None and not as_they_come:
            self._rows = self._in_order(*self._sorted)
        self.endResetModel()

    def add_rows(self, rows: Sequence[Any]) -> None:
        """Show more rows behind those that are shown."""
        if rows:
            at = len(self._rows)
            self.beginInsertRows(QModelIndex(), at, at + len(rows) - 1)
            self._rows += tuple(rows)
            self.endInsertRows()

    def row_at(self, index: Index) -> Any:
        """Give the row behind a cell, or None where there is none."""
        return self._rows[index.row()] if index.isValid() and index.row() < len(self._rows) else None

    def rowCount(self, parent: Index | None = None) -> int:
        return 0 if parent is not None and parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index | None = None) -> int:
        return 0 if parent is not None and parent.isValid() else len(self._columns)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if not index.isValid():
            return None
        column, row = self._columns[index.column()], self._rows[index.row()]
        if role == Qt.ItemDataRole.DisplayRole:
            return column.text(row)
        if role == Qt.ItemDataRole.TextAlignmentRole and column.right:
            return Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        if role == Qt.ItemDataRole.ForegroundRole and column.tone is not None:
            name = column.tone(row)
            return QColor(getattr(theme(), name)) if name else None
        if role == Qt.ItemDataRole.ToolTipRole:
            return column.tip(row) if column.tip is not None else column.text(row)
        if role == SORT_ROLE:
            return column.value(row)
        return None

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> Any:
        if orientation != Qt.Orientation.Horizontal or section >= len(self._columns):
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return self._columns[section].heading
        if role == Qt.ItemDataRole.TextAlignmentRole:
            side = Qt.AlignmentFlag.AlignRight if self._columns[section].right else Qt.AlignmentFlag.AlignLeft
            return side | Qt.AlignmentFlag.AlignVCenter
        return None

    def sort(self, column: int, order: Order = Order.AscendingOrder) -> None:
        """Put the rows in order by a column; what is not known comes last either way round."""
        self.beginResetModel()
        if 0 <= column < len(self._columns):
            self._sorted = (column, order)
            self._rows = self._in_order(column, order)
        else:
            self._sorted = None
        self.endResetModel()

    def _in_order(self, column: int, order: Order) -> tuple[Any, ...]:
        value = self._columns[column].value
        known = [row for row in self._rows if value(row) is not None]
        unknown = [row for row in self._rows if value(row) is None]
        known.sort(key=value, reverse=order == Order.DescendingOrder)
        return (*known, *unknown)


def own_key(row: Any) -> Any:
    """Give what a row is known by when it comes anew: its number, else its id, else itself."""
    for name in ("number", "id"):
        if hasattr(row, name):
            return getattr(row, name)
    return row


class RowsTable(QTableView):
    """A table that sorts, copies, keeps its choice when it is filled anew, and says so when it is empty."""

    row_opened = Signal(object)
    choice_changed = Signal()

    def __init__(
        self,
        columns: Sequence[Column],
        name: str,
        empty_words: str,
        parent: QWidget | None = None,
        *,
        key: Callable[[Any], Any] = own_key,
    ) -> None:
        super().__init__(parent)
        self._key = key
        self._empty_words = empty_words
        self._filling = False
        self._natural: dict[int, int] = {}
        self._by_hand, self._sharing = False, False
        self.rows_model = self.make_model(columns)
        self.setModel(self.rows_model)
        self.setAccessibleName(name)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setAlternatingRowColors(True)
        self.setShowGrid(False)
        self.setWordWrap(False)
        self.setTabKeyNavigation(False)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        rows = self.verticalHeader()
        rows.hide()
        # Fixed heights: asking each row for its own takes a minute with many rows.
        rows.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        rows.setDefaultSectionSize(ROW_PX)
        heads = self.horizontalHeader()
        heads.setHighlightSections(False)
        heads.setStretchLastSection(True)
        # Rows looked at beyond those in view when a column is fitted; all of them would take too long.
        heads.setResizeContentsPrecision(12)
        heads.setSortIndicatorClearable(True)
        heads.setSortIndicator(-1, Order.AscendingOrder)
        self.setSortingEnabled(True)
        self._connect_signals()

    def make_model(self, columns: Sequence[Column]) -> RowsModel:
        """Give the model; a table that shows more than words makes its own."""
        return RowsModel(columns, self)

    def _connect_signals(self) -> None:
        self.doubleClicked.connect(self._on_double_clicked)
        self.horizontalHeader().sectionResized.connect(self._on_section_resized)
        self.rows_model.modelAboutToBeReset.connect(self._remember)
        self.rows_model.modelReset.connect(self._bring_back)
        self.selectionModel().selectionChanged.connect(self._on_selection_changed)
        self._remembered: tuple[set[Any], Any, int] = (set(), None, 0)

    # Filling and choosing.

    def set_rows(self, rows: Sequence[Any], *, as_they_come: bool = False) -> None:
        """Show other rows, sorted as before or as they come; those that were chosen stay chosen if still there."""
        before = self.rows_model.rowCount()
        self.rows_model.set_rows(rows, as_they_come=as_they_come)
        self.setAccessibleDescription("" if rows else self._empty_words)
        if (rows and not before) or not self._natural:
            self.fit_columns()

    def add_rows(self, rows: Sequence[Any]) -> None:
        """Show more rows behind those that are shown."""
        self.rows_model.add_rows(rows)

    def fit_columns(self) -> None:
        """Make each column as wide as what it shows; where there is no room for all, the widest give way."""
        self._natural = {
            column: max(LEAST_PX, min(self.sizeHintForColumn(column) + 14, MOST_PX), self._heading_px(column))
            for column in range(self.rows_model.columnCount())
        }
        self._share_width()

    def _heading_px(self, column: int) -> int:
        return self.horizontalHeader().sectionSizeHint(column) + 6

    def _words_px(self, column: int) -> int:
        """Give what a heading's words take; the sign of the sorted column finds room in their margin."""
        header = self.horizontalHeader()
        sign_px = header.style().pixelMetric(QStyle.PixelMetric.PM_HeaderMarkSize, None, header)
        return header.sectionSizeHint(column) - sign_px

    def _share_width(self) -> None:
        """Shrink the roomiest columns until the table fits its place; sideways scrolling hides what matters."""
        if self._by_hand or not self._natural or not self.isVisible():
            return
        room = self.viewport().width()
        least = self._least_widths(room)
        widths = self._with_room(least, room)
        over = sum(widths.values()) - room
        while over > 0:
            roomiest = max(widths, key=lambda column: widths[column] - least[column])
            spare = widths[roomiest] - least[roomiest]
            if spare <= 0:
                break
            step = min(over, 16, spare)
            widths[roomiest] -= step
            over -= step
        self._sharing = True
        for column, width in widths.items():
            self.setColumnWidth(column, width)
        self._sharing = False

    def _least_widths(self, room: int) -> dict[int, int]:
        # Cells may be cut, a heading not: it says what the column is.
        columns = self.rows_model.columns
        least = {c: min(self._natural[c], max(columns[c].least_px, self._words_px(c))) for c in self._natural}
        # The first column says which row it is: it is cut off last.
        least[0] = min(self._natural[0], room * 2 // 3)
        return least

    def _with_room(self, least: dict[int, int], room: int) -> dict[int, int]:
        """Give the columns that are shown with their full widths; those that may go make room, the last first."""
        shown = dict(self._natural)
        for column in reversed(self._natural):
            if self.rows_model.columns[column].spare and sum(least[each] for each in shown) > room:
                del shown[column]
        for column in self._natural:
            if self.isColumnHidden(column) != (column not in shown):
                self.setColumnHidden(column, column not in shown)
        return shown

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._share_width()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._share_width()

    def _on_section_resized(self) -> None:
        # A width set by hand is kept from then on.
        if (
            not self._sharing
            and self.isVisible()
            and QGuiApplication.mouseButtons() != Qt.MouseButton.NoButton
        ):
            self._by_hand = True

    def rows(self) -> tuple[Any, ...]:
        """Give all rows in the order shown."""
        return self.rows_model.rows

    def chosen(self) -> tuple[Any, ...]:
        """Give the chosen rows, from top to bottom."""
        places = sorted(index.row() for index in self.selectionModel().selectedRows())
        return tuple(self.rows_model.rows[place] for place in places)

    def choose(self, wanted: Callable[[Any], bool]) -> None:
        """Choose every row that is wanted, and put the cursor on the first."""
        self._select([place for place, row in enumerate(self.rows_model.rows) if wanted(row)])

    def _select(self, places: Sequence[int], current: int | None = None) -> None:
        model, last = self.rows_model, self.rows_model.columnCount() - 1
        selection = QItemSelection()
        for place in places:
            selection.select(model.index(place, 0), model.index(place, last))
        at = current if current is not None else (places[0] if places else None)
        if at is not None:
            self.selectionModel().setCurrentIndex(
                model.index(at, 0), QItemSelectionModel.SelectionFlag.NoUpdate
            )
        self.selectionModel().select(selection, QItemSelectionModel.SelectionFlag.ClearAndSelect)

    def _remember(self) -> None:
        current = self.rows_model.row_at(self.currentIndex())
        self._remembered = (
            {self._key(row) for row in self.chosen()},
            None if current is None else self._key(current),
            self.verticalScrollBar().value(),
        )

    def _bring_back(self) -> None:
        keys, current, scrolled = self._remembered
        places, at = [], None
        for place, row in enumerate(self.rows_model.rows):
            key = self._key(row)
            if key in keys:
                places.append(place)
            if current is not None and key == current:
                at = place
        self._filling = True
        self._select(places, at)
        self._filling = False
        self.verticalScrollBar().setValue(scrolled)
        # Said once whether or not the same rows are chosen: what is known of them may have changed.
        self.choice_changed.emit()

    def _on_selection_changed(self) -> None:
        if not self._filling:
            self.choice_changed.emit()

    # Keys and mouse.

    def _on_double_clicked(self, index: QModelIndex) -> None:
        self.row_opened.emit(self.rows_model.row_at(index))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.matches(QKeySequence.StandardKey.Copy):
            self.copy_chosen()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            row = self.rows_model.row_at(self.currentIndex())
            if row is not None:
                self.row_opened.emit(row)
        else:
            super().keyPressEvent(event)

    def copy_chosen(self) -> None:
        """Copy the chosen rows with their headings, for a spreadsheet; all rows when none is chosen."""
        columns = [c for c in range(self.rows_model.columnCount()) if not self.isColumnHidden(c)]
        shown = [self.rows_model.columns[c] for c in columns]
        lines = [[column.heading for column in shown]]
        lines += [[one_line(column.text(row)) for column in shown] for row in self.chosen() or self.rows()]
        QGuiApplication.clipboard().setText("\n".join("\t".join(line) for line in lines))

    # What is seen.

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if self.rows_model.rowCount() or not self._empty_words:
            return
        painter = QPainter(self.viewport())
        painter.setPen(QColor(theme().quiet))
        room = self.viewport().rect().adjusted(16, 12, -16, -12)
        painter.drawText(room, Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap, self._empty_words)
        painter.end()
