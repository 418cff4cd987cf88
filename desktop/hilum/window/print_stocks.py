"""The list of label stocks: A4, Letter and rolls, those that fit the design first, filtered by typing."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFocusEvent, QFont, QKeyEvent, QStandardItem, QStandardItemModel
from PySide6.QtWidgets import QComboBox, QCompleter, QWidget

from hilum.benches.printing import LabelDesign, LabelStock, fits

GROUPS = (
    ("own-", "Measured here"),
    ("a4-", "A4 sheets"),
    ("letter-", "US Letter sheets"),
    ("roll-", "Rolls"),
    ("fold-", "Packets folded from plain paper"),
    ("envelope-", "Envelopes"),
)


class StockBox(QComboBox):
    """A box of label stocks; typing a part of a name narrows the list."""

    stock_chosen = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._entries = QStandardItemModel(self)
        self._chosen = ""
        self.setModel(self._entries)
        self.setEditable(True)
        self.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
        self.setMaxVisibleItems(16)
        self.setAccessibleName("Label stock")
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.setMinimumContentsLength(12)
        self.view().setMinimumWidth(560)
        self.view().setTextElideMode(Qt.TextElideMode.ElideRight)
        completer = self._suggestions = QCompleter(self._entries, self)
        completer.setCompletionMode(QCompleter.CompletionMode.PopupCompletion)
        completer.setFilterMode(Qt.MatchFlag.MatchContains)
        completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        completer.setMaxVisibleItems(12)
        self.setCompleter(completer)
        self._connect()

    def _connect(self) -> None:
        self.activated.connect(self.on_activated)
        line = self.lineEdit()
        assert line is not None
        line.editingFinished.connect(self.on_left)

    def stock_name(self) -> str:
        """Give the name of the chosen stock."""
        return self._chosen

    def show_design(self, design: LabelDesign, wanted: str, stocks: tuple[LabelStock, ...]) -> None:
        """Offer the stocks a design fits, the others greyed with the reason; choose `wanted` if it fits."""
        fitting = {stock.name for stock in stocks if fits(design, stock)}
        self.blockSignals(True)
        self._entries.clear()
        for start, heading in GROUPS:
            group = [each for each in stocks if each.name.startswith(start) and each.name in fitting]
            if group:
                self._add_heading(heading)
            for stock in group:
                self._add_stock(stock, "")
        self._add_heading("Too small for this design")
        why = f"too small, {design.title} needs {design.smallest_words}"
        for stock in stocks:
            if stock.name not in fitting:
                self._add_stock(stock, why)
        self.blockSignals(False)
        first = next((stock.name for stock in stocks if stock.name in fitting), "")
        self.choose(wanted if wanted in fitting else first)

    def _add_heading(self, words: str) -> None:
        item = QStandardItem(words)
        font = QFont(self.font())
        font.setBold(True)
        item.setFont(font)
        item.setFlags(Qt.ItemFlag.NoItemFlags)
        self._entries.appendRow(item)

    def _add_stock(self, stock: LabelStock, why: str) -> None:
        words = f"{stock.title}, {stock.per_page} a sheet" if stock.kind in ("sheet", "fold") else stock.title
        item = QStandardItem(f"{stock.title}: {why}" if why else words)
        item.setData(stock.name, Qt.ItemDataRole.UserRole)
        item.setToolTip(why or stock.notes or words)
        if why:
            item.setFlags(Qt.ItemFlag.NoItemFlags)
        self._entries.appendRow(item)

    def choose(self, name: str) -> None:
        """Choose a stock by its name."""
        place = self.findData(name)
        if place >= 0:
            self.setCurrentIndex(place)
            line = self.lineEdit()
            assert line is not None
            # The name is read from its beginning.
            line.setCursorPosition(0)
            self._keep(name)

    def on_activated(self, place: int) -> None:
        """Keep the entry that was taken from the list."""
        name = self.itemData(place)
        item = self._entries.item(place)
        if name and item is not None and item.isEnabled():
            self.choose(name)
        else:
            self.choose(self._chosen)

    def on_left(self) -> None:
        """Take what was typed when only one stock is meant by it; else show the chosen one again."""
        self._suggestions.popup().hide()
        typed = self.currentText().strip().casefold()
        found = [
            self.itemData(place)
            for place in range(self.count())
            if self.itemData(place)
            and self._entries.item(place).isEnabled()
            and typed in self.itemText(place).casefold()
        ]
        exact = [
            self.itemData(p) for p in range(self.count()) if self.itemText(p).casefold() == typed and typed
        ]
        wanted = exact[0] if exact and exact[0] in found else found[0] if len(found) == 1 else self._chosen
        self.choose(wanted)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            # Confirms what was typed, and must not press the dialog's main button as well.
            self.on_left()
            event.accept()
        else:
            super().keyPressEvent(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        # An open list is no leaving; a list of suggestions left by the tabulator is.
        if event.reason() not in (Qt.FocusReason.PopupFocusReason, Qt.FocusReason.ActiveWindowFocusReason):
            self.on_left()

    def _keep(self, name: str) -> None:
        if name != self._chosen:
            self._chosen = name
            self.stock_chosen.emit(name)
