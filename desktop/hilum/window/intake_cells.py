"""Cells of the intake grid as Qt shows them: the model over the sheet, and the editor that suggests names."""

from collections.abc import Callable, Mapping

from PySide6.QtCore import (
    QAbstractItemModel,
    QAbstractTableModel,
    QEvent,
    QModelIndex,
    QObject,
    QPoint,
    Qt,
    Signal,
)
from PySide6.QtGui import QHideEvent, QKeyEvent
from PySide6.QtWidgets import (
    QAbstractItemDelegate,
    QFrame,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from hilum.window.intake_sheet import Sheet

Suggest = Callable[[int, int, str], tuple[str, ...]]
MOST_SHOWN = 8
NOWHERE = QModelIndex()


class SheetModel(QAbstractTableModel):
    """The sheet as a table; the sheet owns the truth, the marks beside the rows come from its last reading."""

    changed = Signal()

    def __init__(self, headings: tuple[str, ...], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.headings = headings
        self.sheet = Sheet(len(headings))
        self._shown = len(self.sheet.rows)
        self._marks: dict[int, tuple[str, str]] = {}

    def rowCount(self, parent: QModelIndex = NOWHERE) -> int:
        return 0 if parent.isValid() else self._shown

    def columnCount(self, parent: QModelIndex = NOWHERE) -> int:
        return 0 if parent.isValid() else len(self.headings)

    def data(self, index: QModelIndex, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        if not index.isValid() or index.row() >= len(self.sheet.rows):
            return None
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.EditRole):
            return self.sheet.rows[index.row()][index.column()]
        if role == Qt.ItemDataRole.ToolTipRole:
            return self._marks.get(index.row(), ("", ""))[1] or None
        return None

    def setData(self, index: QModelIndex, value: object, role: int = Qt.ItemDataRole.EditRole) -> bool:
        if role != Qt.ItemDataRole.EditRole:
            return False
        text = " ".join(str(value or "").split())
        if self.sheet.write({(index.row(), index.column()): text}):
            self.show_sheet()
        return True

    def flags(self, index: QModelIndex) -> Qt.ItemFlag:
        if not index.isValid():
            return Qt.ItemFlag.NoItemFlags
        return super().flags(index) | Qt.ItemFlag.ItemIsEditable

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        if orientation == Qt.Orientation.Horizontal:
            return self.headings[section] if role == Qt.ItemDataRole.DisplayRole else None
        mark, words = self._marks.get(section, ("", ""))
        if role == Qt.ItemDataRole.DisplayRole:
            return f"{section + 1} {mark}".rstrip()
        if role in (Qt.ItemDataRole.ToolTipRole, Qt.ItemDataRole.AccessibleTextRole):
            return f"Row {section + 1}: {words}" if words else f"Row {section + 1}"
        return None

    def show_sheet(self) -> None:
        """Tell the views what the sheet has become."""
        wanted = len(self.sheet.rows)
        if wanted > self._shown:
            self.beginInsertRows(NOWHERE, self._shown, wanted - 1)
            self._shown = wanted
            self.endInsertRows()
        elif wanted < self._shown:
            self.beginRemoveRows(NOWHERE, wanted, self._shown - 1)
            self._shown = wanted
            self.endRemoveRows()
        self.dataChanged.emit(self.index(0, 0), self.index(wanted - 1, len(self.headings) - 1))
        self.changed.emit()

    def show_marks(self, marks: Mapping[int, tuple[str, str]]) -> None:
        """Set a mark beside each row, with its words."""
        self._marks = dict(marks)
        self.headerDataChanged.emit(Qt.Orientation.Vertical, 0, max(self._shown - 1, 0))


class CellEditor(QLineEdit):
    """A cell being typed in; near names stand below it, the arrow keys choose one, typing on makes a new one."""

    def __init__(self, parent: QWidget, suggest: Callable[[str], tuple[str, ...]]) -> None:
        super().__init__(parent)
        self._suggest = suggest
        self.names = QListWidget(parent.window())
        self.names.setObjectName("suggestions")
        self.names.setAccessibleName("Suggestions")
        self.names.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.names.setFrameShape(QFrame.Shape.Box)
        self.names.hide()
        self.setFrame(False)
        self.textEdited.connect(self.on_typed)
        self.names.itemPressed.connect(self.on_picked)
        self.destroyed.connect(self.names.deleteLater)

    def on_typed(self, text: str) -> None:
        """Show the names that fit what stands in the cell."""
        found = self._suggest(text.strip()) if text.strip() else ()
        found = tuple(name for name in found if name != text.strip())[:MOST_SHOWN]
        self.names.clear()
        self.names.addItems(found)
        self.names.setVisible(bool(found))
        if found:
            height = self.names.sizeHintForRow(0) * len(found) + 2 * self.names.frameWidth() + 2
            width = max(self.width(), self.names.sizeHintForColumn(0) + 24)
            window = self.window()
            at = self.mapTo(window, QPoint(0, self.height()))
            if at.y() + height > window.height():
                at = self.mapTo(window, QPoint(0, -height))
            self.names.setGeometry(min(at.x(), max(0, window.width() - width)), at.y(), width, height)
            self.names.raise_()

    def on_picked(self, item: QListWidgetItem) -> None:
        """Take the name that was clicked."""
        self.setText(item.text())
        self.names.hide()

    def take_chosen(self) -> None:
        """Take the name the arrow keys stand on, if they stand on one."""
        item = self.names.currentItem()
        if self.names.isVisible() and item is not None and self.names.currentRow() >= 0:
            self.setText(item.text())
        self.names.hide()

    def moves(self, event: QKeyEvent) -> bool:
        """Let the arrow keys walk through the names and Escape put them away; says whether it did."""
        if not self.names.isVisible():
            return False
        if event.key() == Qt.Key.Key_Escape:
            self.names.hide()
            return True
        step = {Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1}.get(Qt.Key(event.key()))
        if step is None:
            return False
        self.names.setCurrentRow(min(max(self.names.currentRow() + step, -1), self.names.count() - 1))
        return True

    def hideEvent(self, event: QHideEvent) -> None:
        self.names.hide()
        super().hideEvent(event)


class CellDelegate(QStyledItemDelegate):
    """Makes the editor of a cell and says which key closes it."""

    left = Signal(int, int)  # rows and columns to go on by

    def __init__(self, suggest: Suggest, parent: QObject) -> None:
        super().__init__(parent)
        self._suggest = suggest

    def createEditor(self, parent: QWidget, option: QStyleOptionViewItem, index: QModelIndex) -> QWidget:
        def suggest_here(text: str) -> tuple[str, ...]:
            return self._suggest(index.row(), index.column(), text)

        editor = CellEditor(parent, suggest_here)
        heading = index.model().headerData(index.column(), Qt.Orientation.Horizontal)
        editor.setAccessibleName(f"{heading}, row {index.row() + 1}")
        return editor

    def setEditorData(self, editor: QWidget, index: QModelIndex) -> None:
        if isinstance(editor, QLineEdit):
            editor.setText(str(index.data(Qt.ItemDataRole.EditRole) or ""))

    def setModelData(self, editor: QWidget, model: QAbstractItemModel, index: QModelIndex) -> None:
        if isinstance(editor, QLineEdit):
            model.setData(index, editor.text())

    def eventFilter(self, editor: QObject, event: QEvent) -> bool:
        if not isinstance(editor, CellEditor) or event.type() != QEvent.Type.KeyPress:
            return super().eventFilter(editor, event)
        assert isinstance(event, QKeyEvent)
        if editor.moves(event):
            return True
        step = _step_of(event)
        if step is None:
            return super().eventFilter(editor, event)
        editor.take_chosen()
        self.commitData.emit(editor)
        self.closeEditor.emit(editor, QAbstractItemDelegate.EndEditHint.NoHint)
        self.left.emit(*step)
        return True


def _step_of(event: QKeyEvent) -> tuple[int, int] | None:
    """Say where a key goes on to from a cell that was being typed in, in rows and columns."""
    if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
        return (1, 0) if event.modifiers() & Qt.KeyboardModifier.ControlModifier else (0, 1)
    return {
        Qt.Key.Key_Tab: (0, 1),
        Qt.Key.Key_Backtab: (0, -1),
        Qt.Key.Key_Down: (1, 0),
        Qt.Key.Key_Up: (-1, 0),
    }.get(Qt.Key(event.key()))
