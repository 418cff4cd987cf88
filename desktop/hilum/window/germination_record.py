"""Writing down a test that is over: made here without the count sheet, or made by somebody else."""

from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFormLayout, QLineEdit, QPushButton, QSpinBox, QVBoxLayout, QWidget

from hilum.benches import testing
from hilum.errors import KeeperError
from hilum.window.count_table import CountRow, CountTable, counts_by_class
from hilum.window.packing_lot import LotChoice
from hilum.window.widgets import DateEdit, Heading, Notice, Quiet, form_row, primary, row_of
from hilum.window.work import WorkDay


class RecordPanel(QWidget):
    """Takes a finished test in one go."""

    finished = Signal(object)

    def __init__(self, work: WorkDay, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.work = work
        self.choice = LotChoice(work)
        self.day = DateEdit(work.today())
        self.dishes, self.seeds = QSpinBox(), QSpinBox()
        self.dishes.setRange(1, 16)
        self.seeds.setRange(1, 1000)
        self.dishes.setValue(4)
        self.seeds.setValue(100)
        for box in (self.dishes, self.seeds):
            box.setMaximumWidth(140)
        self.whose = QLineEdit()
        self.whose.setPlaceholderText("leave empty for a test made here")
        self.how = QLineEdit("home test")
        self.how.setToolTip("What a label says of how the figure was found: home test, or the rules followed")
        self.table = CountTable("Figures of the finished test", own_seeds=True)
        self.notice = Notice()
        self.button = primary(QPushButton("&Record the test"))
        form = QFormLayout()
        form_row(form, "&Ended on", self.day)
        form_row(form, "&Dishes", self.dishes)
        form_row(form, "&Seeds in each", self.seeds)
        form_row(form, "&Made elsewhere by", self.whose)
        form_row(form, "Tested &how", self.how)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(Heading("Record a finished test"))
        layout.addWidget(self.choice)
        layout.addLayout(form)
        layout.addWidget(
            Quiet("A test made here draws its seed from stock; one from elsewhere draws nothing.")
        )
        for widget in (self.table, self.notice):
            layout.addWidget(widget)
        layout.addLayout(row_of(self.button))
        layout.addStretch(1)
        self._connect()
        self.show_dishes()

    def _connect(self) -> None:
        self.dishes.valueChanged.connect(self.show_dishes)
        self.seeds.valueChanged.connect(self.show_seeds)
        self.choice.trouble_met.connect(self.notice.show_bad)
        self.choice.lot_chosen.connect(self.on_lot)
        self.table.passed_end.connect(self.button.setFocus)
        self.button.clicked.connect(self.on_record)

    def on_lot(self, number: str) -> None:
        """Show the name of the chosen lot."""
        from hilum.benches.lots import lot_view

        self.notice.clear()
        self.choice.show_lot(lot_view(self.work.catalogue, number))

    def show_dishes(self) -> None:
        """Give the table as many rows as there are dishes; what was typed stays."""
        kept = {row.number: row for row in self.table.counts.dishes}
        seeds = self.seeds.value()
        rows = [
            kept.get(number, CountRow(number, seeds, seeds)) for number in range(1, self.dishes.value() + 1)
        ]
        self.table.set_dishes(rows, self.table.cells())

    def show_seeds(self) -> None:
        """Put the same number of seeds into every dish; a dish with another number is typed over in the table."""
        seeds = self.seeds.value()
        rows = [CountRow(row.number, seeds, seeds) for row in self.table.counts.dishes]
        self.table.set_dishes(rows, self.table.cells())

    def on_record(self) -> None:
        """Write the test whole."""
        try:
            result = self._record()
        except KeeperError as error:
            self.notice.show_bad(str(error))
            return
        self.notice.clear()
        self.table.set_dishes(self.table.counts.dishes, {})
        self.finished.emit(result)

    def _record(self) -> Any:
        if not self.choice.number:
            raise KeeperError("Scan or type the lot that was tested.")
        return testing.record_test(
            self.work.catalogue,
            self.choice.number,
            on=self.day.day(),
            seeds=[row.seeds for row in self.table.counts.dishes],
            counts=counts_by_class(self.table),
            origin=self.whose.text().strip() or "here",
            rules=self.how.text().strip() or "home test",
        )
