"""Recall: where seed of a lot and of everything grown from it went."""

from pathlib import Path

from PySide6.QtWidgets import QLineEdit, QPushButton, QVBoxLayout, QWidget

from hilum.benches.recall import Recall, RecallRow, recall, recall_csv, recall_on_paper
from hilum.window.counter_tab import CounterTab
from hilum.window.lot_words import counted
from hilum.window.models import Column, RowsTable
from hilum.window.questions import Questions
from hilum.window.widgets import Quiet, form_row, primary, row_of
from hilum.window.work import WorkDay


class RecallTab(CounterTab):
    """A line for the lot, and every packet of it and of its descendants."""

    def __init__(self, work: WorkDay, questions: Questions, parent: QWidget | None = None) -> None:
        super().__init__(work, questions, parent)
        self._found: Recall | None = None
        self.lot = QLineEdit()
        self.lot.setPlaceholderText("Scan or type the number of the lot to recall")
        self.look = primary(QPushButton("&Look where it went"))
        self._words = Quiet(
            "Also lots that were grown, bulked or mixed from it are followed, and those made of them."
        )
        self.table = RowsTable(_COLUMNS, "Recall", "No seed of it is here, and none went out.", key=_key)
        self.paper = QPushButton("&Print the list…")
        self.csv = QPushButton("&Write as CSV…")
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 10, 0, 0)
        layout.setSpacing(10)
        top = row_of(stretch=False)
        form_row(top, "Lo&t", self.lot)
        top.addWidget(self.look)
        layout.addLayout(top)
        layout.addWidget(self._words)
        layout.addWidget(self.table, 1)
        layout.addLayout(row_of(self.paper, self.csv))
        self._connect()
        self._show(None)

    def _connect(self) -> None:
        self.lot.returnPressed.connect(self.on_look)
        self.look.clicked.connect(self.on_look)
        self.paper.clicked.connect(self.on_paper)
        self.csv.clicked.connect(self.on_csv)
        self.table.row_opened.connect(self.on_row_opened)

    def refresh(self) -> None:
        if self._found is not None:
            self.show_lot(self._found.lot)

    def focus_first(self) -> None:
        self.lot.setFocus()
        self.lot.selectAll()

    def show_lot(self, number: str) -> None:
        """Show where seed of one lot went."""
        self.lot.setText(number)
        self._show(self.work.attempt(recall, self.work.catalogue, number))

    def on_look(self) -> None:
        """Look where the typed lot went."""
        if self.lot.text().strip():
            self.show_lot(self.lot.text())

    def _show(self, found: Recall | None) -> None:
        self._found = found
        self.table.set_rows(found.rows if found is not None else ())
        self.table.setVisible(found is not None)
        for button in (self.paper, self.csv):
            button.setEnabled(found is not None and bool(found.rows))
        if found is not None:
            promised = f" Promised back by: {', '.join(found.promised_by)}." if found.promised_by else ""
            self._words.setText(
                f"{found.name}: {counted(len(found.lots), 'lot')}, {found.out_words}. "
                f"A hold on each lot bars what is on the shelf.{promised}"
            )

    def on_paper(self) -> None:
        """Print the recall."""
        found = self._found
        if found is not None:
            self.ask_pdf("Recall", lambda: recall_on_paper(found, on=self.work.today()))

    def on_csv(self) -> None:
        """Write the recall as CSV."""
        found = self._found
        if found is not None:

            def write(file: Path) -> int:
                return recall_csv(found, file)

            self.ask_csv("Recall", write)

    def on_row_opened(self, row: RecallRow) -> None:
        """Open the lot's page."""
        self.lot_wanted.emit(row.lot)


def _key(row: RecallRow) -> object:
    return row


def _lot(row: RecallRow) -> str:
    return row.lot


def _descent(row: RecallRow) -> str:
    return row.descent


def _packed(row: RecallRow) -> str:
    return row.packed_words


def _amount(row: RecallRow) -> str:
    return row.amount


def _amount_sort(row: RecallRow) -> tuple[int, str]:
    return row.packets, row.loose


def _out(row: RecallRow) -> str:
    return row.on_words


def _where(row: RecallRow) -> str:
    return row.where


def _to(row: RecallRow) -> str:
    return row.to


_COLUMNS = (
    Column("Lot", _lot, least_px=126),
    Column("Descent", _descent, least_px=120),
    Column("Packed on", _packed, least_px=104),
    Column("How much", _amount, _amount_sort, right=True, least_px=140),
    Column("Out on", _out, least_px=104),
    Column("Where", _where, least_px=120),
    Column("Given to", _to),
)
