"""The intake grid: a table to type lots into with the keys alone, as quick as a spreadsheet."""

from PySide6.QtCore import QEvent, QModelIndex, Qt, Signal
from PySide6.QtGui import QAction, QGuiApplication, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView, QWidget

from hilum.window.intake_cells import CellDelegate, SheetModel, Suggest
from hilum.window.intake_sheet import block_from_text, text_from_block

# Widths in pixels at the usual size of letters; the last column takes what is left.
WIDTHS = {"Crop": 130, "Variety": 160, "Year": 62, "Weight": 84, "Place grown": 150, "Grower": 120,
          "Received": 104, "Plants": 66, "Isolation": 110}  # fmt: skip
ROW_HEIGHT = 34


class IntakeGrid(QTableView):
    """Typing opens a cell, Enter and Tab go on to the next, a new row is always there at the end."""

    row_left = Signal()
    row_chosen = Signal(int)
    mend_wanted = Signal(int)
    pasted = Signal(int)

    def __init__(self, headings: tuple[str, ...], suggest: Suggest, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        # Qt sends events before the rest is made.
        self.edit_actions: tuple[QAction, ...] = ()
        self.edit_actions = self._actions()
        self.sheet_model = SheetModel(headings, self)
        self.setModel(self.sheet_model)
        self.cell_delegate = CellDelegate(suggest, self)
        self.setItemDelegate(self.cell_delegate)
        self.setAccessibleName("Lots to take in")
        triggers = QAbstractItemView.EditTrigger
        self.setEditTriggers(triggers.AnyKeyPressed | triggers.DoubleClicked)
        self.verticalHeader().setDefaultSectionSize(ROW_HEIGHT)
        self.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        self.verticalHeader().setMinimumWidth(52)
        self.horizontalHeader().setStretchLastSection(True)
        self.horizontalHeader().setDefaultAlignment(
            Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
        )
        for column, heading in enumerate(headings):
            if heading in WIDTHS:
                self.setColumnWidth(column, WIDTHS[heading])
        self._mendable: frozenset[int] = frozenset()
        self._connect()
        self.setCurrentIndex(self.sheet_model.index(0, 0))

    def _actions(self) -> tuple[QAction, ...]:
        wanted = (
            ("Copy the cell above", "Ctrl+D", self.copy_above),
            ("Copy", "Ctrl+C", self.copy_cells),
            ("Paste", "Ctrl+V", self.paste_cells),
            ("Clear the cells", "Del", self.clear_cells),
            ("Take out the row", "Ctrl+Del", self.remove_rows),
            ("Undo", "Ctrl+Z", self.undo),
            ("Redo", "Ctrl+Y", self.redo),
            ("Take over the suggestion, or change the cell", "F2", self.mend_or_edit),
        )
        made = []
        for words, keys, slot in wanted:
            action = QAction(words, self)
            action.setShortcut(QKeySequence(keys))
            action.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
            action.triggered.connect(slot)
            self.addAction(action)
            made.append(action)
        return tuple(made)

    def _connect(self) -> None:
        self.cell_delegate.left.connect(self.on_cell_left)
        self.selectionModel().currentRowChanged.connect(self.on_row_changed)

    # What the keys do.

    def event(self, event: QEvent) -> bool:
        """Keep the grid's own keys: the window has a use of its own for some, such as undo."""
        if (
            isinstance(event, QKeyEvent)
            and event.type() == QEvent.Type.ShortcutOverride
            and self._action_of(event)
        ):
            event.accept()
            return True
        return super().event(event)

    def _action_of(self, event: QKeyEvent) -> QAction | None:
        pressed = QKeySequence(event.keyCombination())
        return next((action for action in self.edit_actions if action.shortcut() == pressed), None)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        action = self._action_of(event)
        if action is not None:
            action.trigger()
            return
        control = bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.go_on(1 if control else 0, 0 if control else 1)
        elif event.key() == Qt.Key.Key_Backspace:
            self.clear_cells()
        else:
            super().keyPressEvent(event)

    def focusNextPrevChild(self, forward: bool) -> bool:
        """The tabulator goes from cell to cell, and out of the grid from its empty last row."""
        if forward and self.currentIndex().row() != self.sheet_model.rowCount() - 1:
            self.go_on(0, 1)
            return True
        if not forward and (self.currentIndex().row() > 0 or self.currentIndex().column() > 0):
            self.go_on(0, -1)
            return True
        self.setTabKeyNavigation(False)
        moved = super().focusNextPrevChild(forward)
        self.setTabKeyNavigation(True)
        return moved

    def on_cell_left(self, rows: int, columns: int) -> None:
        """Go on from a cell that was typed in."""
        self.setFocus()
        self.go_on(rows, columns)

    def go_on(self, rows: int, columns: int) -> None:
        """Go to another cell; beyond the end of a row the next one begins."""
        at = self.currentIndex()
        row, column = max(at.row(), 0) + rows, max(at.column(), 0) + columns
        if rows and not columns:
            column = 0 if rows > 0 else column
        width = self.sheet_model.columnCount()
        if column >= width:
            row, column = row + 1, 0
        elif column < 0:
            row, column = row - 1, width - 1
        if 0 <= row < self.sheet_model.rowCount():
            self.setCurrentIndex(self.sheet_model.index(row, column))

    def on_row_changed(self, now: QModelIndex, before: QModelIndex) -> None:
        """Say that a row was left and another chosen."""
        if before.isValid() and before.row() != now.row():
            self.row_left.emit()
        if now.isValid():
            self.row_chosen.emit(now.row())

    # What the actions do.

    def copy_above(self) -> None:
        """Give the chosen cells what stands above them."""
        if self.sheet_model.sheet.copy_above(self._chosen()):
            self.sheet_model.show_sheet()

    def copy_cells(self) -> None:
        """Put the chosen block on the clipboard."""
        cells = self._chosen()
        if cells:
            rows, columns = sorted({row for row, _ in cells}), sorted({column for _, column in cells})
            sheet = self.sheet_model.sheet.rows
            block = [[sheet[row][column] for column in range(columns[0], columns[-1] + 1)] for row in rows]
            QGuiApplication.clipboard().setText(text_from_block(block).rstrip("\n"))

    def paste_cells(self) -> None:
        """Paste a block from a spreadsheet, its corner at the current cell; a row of headings is left out."""
        block = block_from_text(QGuiApplication.clipboard().text())
        headings = {text.casefold() for text in self.sheet_model.headings}
        if len(block) > 1 and all(cell.casefold() in headings for cell in block[0] if cell) and any(block[0]):
            block = block[1:]
        at = self.currentIndex()
        if block and self.sheet_model.sheet.paste(max(at.row(), 0), max(at.column(), 0), block):
            self.sheet_model.show_sheet()
            self.pasted.emit(len(block))

    def clear_cells(self) -> None:
        """Empty the chosen cells."""
        if self.sheet_model.sheet.write(dict.fromkeys(self._chosen(), "")):
            self.sheet_model.show_sheet()

    def remove_rows(self) -> None:
        """Take the chosen rows out."""
        if self.sheet_model.sheet.remove({row for row, _ in self._chosen()}):
            self.sheet_model.show_sheet()

    def undo(self) -> None:
        """Take back the last change to the cells."""
        if self.sheet_model.sheet.undo():
            self.sheet_model.show_sheet()

    def redo(self) -> None:
        """Do again what was taken back."""
        if self.sheet_model.sheet.redo():
            self.sheet_model.show_sheet()

    def mend_or_edit(self) -> None:
        """Take over the suggestion for this row; where there is none, open the cell."""
        at = self.currentIndex()
        if at.row() in self._mendable:
            self.mend_wanted.emit(at.row())
        elif at.isValid():
            self.edit(at)

    def show_mendable(self, rows: frozenset[int]) -> None:
        """Remember for which rows a suggestion stands ready."""
        self._mendable = rows

    def _chosen(self) -> list[tuple[int, int]]:
        chosen = [(index.row(), index.column()) for index in self.selectionModel().selectedIndexes()]
        at = self.currentIndex()
        return sorted(chosen) or ([(at.row(), at.column())] if at.isValid() else [])
