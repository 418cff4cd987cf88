"""Choosing lots for the season's list from a search or from those that are due."""

from datetime import date
from typing import Any

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QAbstractItemView, QCheckBox, QLineEdit, QSpinBox, QWidget

from hilum.benches.lots import FoundLots, LotFilter, find_lots
from hilum.benches.packing import MOST_PACKETS
from hilum.benches.season import USUAL_PACKETS, AddedLots, add_lots
from hilum.window import lot_words
from hilum.window.models import Column, RowsTable
from hilum.window.widgets import Quiet, form_row
from hilum.window.work import WorkDay
from hilum.window.work_dialog import WorkDialog

MOST_SHOWN = 500
PAUSE_MS = 150
COLUMNS = (
    Column("Lot", lambda lot: lot.number),
    Column("Crop and variety", lambda lot: lot.name, least_px=180),
    Column("Stock", lot_words.stock, lambda lot: lot.stock_mg, right=True),
    Column("Germination", lot_words.germination, lambda lot: lot.line.germination_percent),
)


def _find(catalogue: Any, wanted: LotFilter, on: date) -> FoundLots:
    return find_lots(catalogue, wanted, on=on, sort="crop", limit=MOST_SHOWN)


class SeasonPicker(WorkDialog):
    """Finds lots while one types; adds the chosen ones, or all that are shown when none is chosen."""

    def __init__(self, work: WorkDay, parent: QWidget, list_id: int, list_name: str) -> None:
        words = "Choose lots; with none chosen, all that are shown are put on the list."
        super().__init__(work, parent, f"Add lots to “{list_name}”", words, "&Add")
        self._list_id = list_id
        self.added: AddedLots | None = None
        self._words = QLineEdit()
        self._words.setPlaceholderText("words in any order; empty for all")
        self._due = QCheckBox("only those &due for a germination test")
        self._packets = QSpinBox()
        self._packets.setRange(1, MOST_PACKETS)
        self._packets.setValue(USUAL_PACKETS)
        self.table = RowsTable(COLUMNS, "Lots found", "No lot fits.")
        self.table.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self._counted = Quiet("")
        self._pause = QTimer(self)
        self._pause.setSingleShot(True)
        self._pause.setInterval(PAUSE_MS)
        form_row(self.form, "&Find", self._words)
        self.form.addRow("", self._due)
        self.form.addRow(self.table)
        self.form.addRow(self._counted)
        form_row(self.form, "&Packets of each", self._packets)
        self.table.setMinimumHeight(260)
        self.resize(780, 640)
        self._pause.timeout.connect(self.on_search)
        self._words.textChanged.connect(self.on_narrowed)
        self._words.returnPressed.connect(self.on_search)
        self._due.toggled.connect(self.on_search)
        self.table.choice_changed.connect(self.on_choice)
        self.on_search()

    def on_narrowed(self) -> None:
        """Wait for a pause in the typing."""
        self._pause.start()

    def on_search(self) -> None:
        """Look for lots."""
        wanted = LotFilter(words=self._words.text(), due=self._due.isChecked())
        self.work.run(_find, self.work.catalogue, wanted, self.work.today(), done=self.show_found)

    def show_found(self, page: FoundLots) -> None:
        """Show the lots that were found."""
        self.table.set_rows(page.lots)
        more = f"The first {len(page.lots):,} of " if page.total > len(page.lots) else ""
        self._counted.setText(f"{more}{lot_words.counted(page.total, 'lot')}.")
        self.on_choice()

    def on_choice(self) -> None:
        """Say how many lots would be added."""
        number = len(self.table.chosen() or self.table.rows())
        self.go.setText(f"&Add {lot_words.counted(number, 'lot')}")
        self.go.setEnabled(number > 0)

    def on_go(self) -> None:
        """Put them on the list."""
        numbers = [lot.number for lot in self.table.chosen() or self.table.rows()]
        self.added = self.work.attempt(
            add_lots, self.work.catalogue, self._list_id, numbers, packets=self._packets.value()
        )
        if self.added is not None:
            self.accept()

    def keyPressEvent(self, event: Any) -> None:
        # Enter in the line searches; it does not add everything that happens to be shown.
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self._words.hasFocus():
            return
        super().keyPressEvent(event)
