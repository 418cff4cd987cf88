"""How many labels of each lot: typed, taken from the packets that were filled, or read from a list."""

from collections.abc import Callable, Mapping
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QHeaderView,
    QPushButton,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from hilum.benches.label_copies import copies_as_packed, copies_from_list
from hilum.benches.lots import lot_view
from hilum.errors import KeeperError
from hilum.window.lot_words import counted
from hilum.window.questions import Questions
from hilum.window.widgets import Notice, Quiet, Title, primary, row_of
from hilum.window.work import WorkDay

LIST_FILTER = "Lists (*.csv *.xlsx);;All files (*)"
LOT, NAME, LABELS = range(3)


class CopiesDialog(QDialog):
    """A line a lot; its number of labels can be typed over."""

    def __init__(
        self,
        work: WorkDay,
        questions: Questions,
        parent: QWidget,
        lots: tuple[str, ...],
        copies_of: Mapping[str, int],
        on_chosen: Callable[[dict[str, int]], None],
    ) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle("Labels of each lot")
        self._work, self._questions, self._lots, self._on_chosen = work, questions, lots, on_chosen
        self.table = QTableWidget(len(lots), 3)
        self.table.setHorizontalHeaderLabels(["Lot", "Crop and variety", "Labels"])
        self.table.setAccessibleName("Labels of each lot")
        self.table.verticalHeader().hide()
        self.table.horizontalHeader().setSectionResizeMode(NAME, QHeaderView.ResizeMode.Stretch)
        self.packed, self.from_list = QPushButton("As many as &packets"), QPushButton("From a &list…")
        self.packed.setToolTip("As many labels as packets in the newest batch of each lot")
        self.from_list.setToolTip("A CSV or XLSX list with a column “lot” and a column “labels”")
        self._total = Quiet("")
        self.notice = Notice()
        self._buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Cancel)
        primary(self._buttons.addButton("&Take these numbers", QDialogButtonBox.ButtonRole.AcceptRole))
        layout = QVBoxLayout(self)
        layout.setContentsMargins(22, 18, 22, 18)
        layout.addWidget(Title("Labels of each lot"))
        layout.addWidget(self.notice)
        layout.addLayout(row_of(self.packed, self.from_list))
        layout.addWidget(self.table, 1)
        layout.addWidget(self._total)
        layout.addWidget(self._buttons)
        self._fill(copies_of)
        self._connect()
        self.resize(640, 560)
        self.table.setFocus()

    def _fill(self, copies_of: Mapping[str, int]) -> None:
        for row, number in enumerate(self._lots):
            shown = self._work.attempt(lot_view, self._work.catalogue, number)
            for column, words in ((LOT, number), (NAME, "" if shown is None else shown.name)):
                item = QTableWidgetItem(words)
                item.setFlags(Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable)
                self.table.setItem(row, column, item)
            self.table.setItem(row, LABELS, QTableWidgetItem(str(copies_of.get(number, 1))))
        self.table.resizeColumnToContents(LOT)
        self.table.setCurrentCell(0, LABELS)
        self.on_changed()

    def _connect(self) -> None:
        self.packed.clicked.connect(self.on_packed)
        self.from_list.clicked.connect(self.on_list_wanted)
        self.table.itemChanged.connect(self.on_changed)
        self._buttons.accepted.connect(self.on_accepted)
        self._buttons.rejected.connect(self.reject)

    def copies(self) -> dict[str, int]:
        """Give the numbers as they stand; raises ValueError naming the lot whose number cannot be."""
        found = {}
        for row, number in enumerate(self._lots):
            item = self.table.item(row, LABELS)
            text = "" if item is None else item.text().strip()
            if text and not text.isdecimal():
                raise ValueError(
                    f"“{text}” is no number of labels for {number}. Give a whole number, 0 for none."
                )
            found[number] = int(text or 0)
        return found

    def on_changed(self) -> None:
        """Say how many labels there are in all."""
        try:
            self._total.setText(f"{counted(sum(self.copies().values()), 'label')} in all")
        except ValueError as error:
            self._total.setText(str(error))

    def on_packed(self) -> None:
        """Put in the packets of the newest batch of each lot."""
        found = self._work.attempt(copies_as_packed, self._work.catalogue, self._lots)
        if found is not None:
            self._put_in(found)
            never = [number for number, packets in found.items() if not packets]
            if never:
                self.notice.show_warn(
                    f"Never packed, so no label: {', '.join(never[:6])}{'…' if never[6:] else ''}."
                )

    def on_list_wanted(self) -> None:
        """Ask for the list."""
        self._questions.ask_open_file(self, "A list of lots and labels", LIST_FILTER, self.read_list)

    def read_list(self, file: Path) -> None:
        """Put in what a list says; lots that are not chosen here are named."""
        try:
            found = copies_from_list(self._work.catalogue, file)
        except KeeperError as error:
            self.notice.show_bad(str(error))
            return
        self._put_in({number: found.get(number, 0) for number in self._lots})
        others = [number for number in found if number not in self._lots]
        if others:
            self.notice.show_warn(
                f"In the list but not chosen here: {', '.join(others[:6])}{'…' if others[6:] else ''}."
            )

    def _put_in(self, found: Mapping[str, int]) -> None:
        self.notice.clear()
        for row, number in enumerate(self._lots):
            item = self.table.item(row, LABELS)
            if item is not None:
                item.setText(str(found.get(number, 0)))

    def on_accepted(self) -> None:
        """Hand the numbers on."""
        try:
            found = self.copies()
        except ValueError as error:
            self.notice.show_bad(str(error))
            return
        if not any(found.values()):
            self.notice.show_bad("No lot has a label. Give at least one.")
            return
        self.accept()
        self._on_chosen(found)
