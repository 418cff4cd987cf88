"""Counts from a swap day away from home: a table of lot numbers and packets taken, typed or pasted back."""

from PySide6.QtGui import QGuiApplication, QKeyEvent, QKeySequence
from PySide6.QtWidgets import (
    QCheckBox,
    QFormLayout,
    QHeaderView,
    QLineEdit,
    QPushButton,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from hilum.benches.counts import CountsTaken, take_counts
from hilum.window.counter_event import EventChoice
from hilum.window.counter_tab import CounterTab
from hilum.window.lot_words import counted
from hilum.window.questions import Questions
from hilum.window.theme import ROW_PX
from hilum.window.widgets import Quiet, form_row, primary, row_of
from hilum.window.work import WorkDay

LOT, PACKETS, OUTCOME = 0, 1, 2
FIRST_ROWS = 30


class CountsTable(QTableWidget):
    """Rows of lot number and packets; what a spreadsheet has copied can be pasted into it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(FIRST_ROWS, 3, parent)
        self.setHorizontalHeaderLabels(["Lot", "Packets taken", "What became of it"])
        self.setAccessibleName("Counts")
        self.verticalHeader().setDefaultSectionSize(ROW_PX)
        heads = self.horizontalHeader()
        heads.resizeSection(LOT, 190)
        heads.resizeSection(PACKETS, 150)
        heads.setSectionResizeMode(OUTCOME, QHeaderView.ResizeMode.Stretch)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.matches(QKeySequence.StandardKey.Paste):
            self.paste(QGuiApplication.clipboard().text())
        else:
            super().keyPressEvent(event)

    def paste(self, text: str) -> None:
        """Put rows of a spreadsheet in from the cursor downwards."""
        start = max(0, self.currentRow())
        for place, line in enumerate(text.splitlines()):
            if start + place >= self.rowCount():
                self.insertRow(self.rowCount())
            for column, words in enumerate(line.split("\t")[:2]):
                self.setItem(start + place, column, QTableWidgetItem(words.strip()))

    def rows(self) -> list[tuple[str, str]]:
        """Give what stands in the rows."""
        return [(self._words(row, LOT), self._words(row, PACKETS)) for row in range(self.rowCount())]

    def _words(self, row: int, column: int) -> str:
        item = self.item(row, column)
        return item.text() if item is not None else ""

    def show_outcome(self, done: CountsTaken) -> None:
        """Empty the rows that were taken, and say beside the others why they were not."""
        for taken in done.taken:
            for column, words in (
                (LOT, ""),
                (PACKETS, ""),
                (OUTCOME, f"taken: {taken.packets} of {taken.lot}"),
            ):
                self.setItem(taken.row - 1, column, QTableWidgetItem(words))
        for refused in done.refused:
            item = QTableWidgetItem(f"not taken: {refused.why}")
            item.setToolTip(refused.why)
            self.setItem(refused.row - 1, OUTCOME, item)
            # The reason is read whole; only a few rows want more than one line.
            self.resizeRowToContents(refused.row - 1)


class CountsTab(CounterTab):
    """The event, the table, and one button that takes every good row or says of each why not."""

    def __init__(self, work: WorkDay, questions: Questions, parent: QWidget | None = None) -> None:
        super().__init__(work, questions, parent)
        self.event_choice = EventChoice(work)
        self.table = CountsTable()
        self.again = QCheckBox("These are &further packets of lots that were counted at this event already")
        self.why = QLineEdit()
        self.why.setPlaceholderText("only asked for last packets and the reserve")
        self.take = primary(QPushButton("Take the &counts"))
        form = QFormLayout()
        form_row(form, "&Reason", self.why)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 10, 0, 0)
        layout.setSpacing(10)
        layout.addWidget(
            Quiet(
                "Take a printed take-away list along (What went out) and tick the boxes; type or paste here what is "
                "missing afterwards. Rows that cannot be right stay here with the reason."
            )
        )
        layout.addWidget(self.event_choice)
        layout.addWidget(self.table, 1)
        layout.addWidget(self.again)
        layout.addLayout(form)
        layout.addLayout(row_of(self.take))
        self.take.clicked.connect(self.on_take)

    def refresh(self) -> None:
        self.event_choice.refresh()

    def focus_first(self) -> None:
        (self.table if self.event_choice.name.currentText() else self.event_choice.name).setFocus()

    def on_take(self) -> None:
        """Take the counts as one job."""
        # What is still being typed into a cell counts too.
        self.table.setCurrentCell(-1, -1)
        done = self.work.attempt(
            take_counts, self.work.catalogue, self.table.rows(), self.event_choice.occasion(),
            on=self.work.today(), again=self.again.isChecked(), why=self.why.text(),
        )  # fmt: skip
        if done is None:
            return
        self.table.show_outcome(done)
        self.again.setChecked(False)
        packets = sum(row.packets for row in done.taken)
        words = f"Taken: {counted(packets, 'packet')} of {counted(len(done.taken), 'row')}."
        if done.taken:
            self.work.changes.tell(words)
        if done.refused:
            self.said.emit("warn", f"{words} {counted(len(done.refused), 'row')} not taken: see beside each.")
        else:
            self.said.emit("good", words)
