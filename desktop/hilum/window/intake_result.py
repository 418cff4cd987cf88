"""What an intake did: the new lots with their numbers, what was left out and why, and what comes next."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHeaderView, QPushButton, QSplitter, QVBoxLayout, QWidget

from hilum.window.intake_readings import refusal_words
from hilum.window.models import Column, RowsTable
from hilum.window.widgets import Heading, Quiet, Title, primary, row_of


@dataclass(frozen=True, slots=True)
class TakenLine:
    """One new lot as the result shows it."""

    row: int
    number: str
    name: str
    stock: str
    remarks: str


class IntakeResult(QWidget):
    """Shows the new lots and offers their labels and the way to Preparing."""

    print_wanted = Signal(tuple)
    prepare_wanted = Signal(tuple)
    more_wanted = Signal()
    lot_wanted = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._title = Title("")
        self.lots = RowsTable(
            (Column("Lot", _lot), Column("Name", _name), Column("Stock", _stock), Column("Row", _row, _row_number),
             Column("Taken for", _remarks)),
            "Lots taken in", "Nothing was taken in.",
        )  # fmt: skip
        self.lots.horizontalHeader().setSectionResizeMode(1, QHeaderView.ResizeMode.Stretch)
        self._left_heading = Heading("Left out")
        self.left_out = RowsTable(
            (Column("Row", _row, _row_number, right=True), Column("Why", refusal_words)),
            "Rows left out", "Every row was taken in.", key=_row_number,
        )  # fmt: skip
        self._detail = Quiet("")
        self._print = QPushButton("Print bag and &jar labels…")
        self._prepare = primary(QPushButton("Go on to &Preparing"))
        self._more = QPushButton("Take in &more")
        self._lay_out()
        self._connect()

    def _lay_out(self) -> None:
        lower = QWidget()
        self._lower = lower
        below = QVBoxLayout(lower)
        below.setContentsMargins(0, 8, 0, 0)
        below.addWidget(self._left_heading)
        below.addWidget(self.left_out, 1)
        below.addWidget(self._detail)
        splitter = QSplitter(Qt.Orientation.Vertical)
        splitter.setChildrenCollapsible(False)
        splitter.addWidget(self.lots)
        splitter.addWidget(lower)
        splitter.setSizes([380, 200])
        layout = QVBoxLayout(self)
        layout.setContentsMargins(20, 14, 20, 14)
        layout.addWidget(self._title)
        layout.addWidget(
            Quiet("Labels and Preparing take the chosen lots, or all of them when none is chosen.")
        )
        layout.addWidget(splitter, 1)
        layout.addLayout(row_of(self._prepare, self._print, self._more))

    def _connect(self) -> None:
        self._print.clicked.connect(self.on_print)
        self._prepare.clicked.connect(self.on_prepare)
        self._more.clicked.connect(self.more_wanted)
        self.lots.row_opened.connect(self.on_lot_opened)
        self.left_out.choice_changed.connect(self.on_left_out_chosen)

    def show_taken(self, taken: Any, row_words: str, lots: Mapping[str, Any]) -> None:
        """Show what was taken in, with the lots as the catalogue now has them."""
        number = len(taken.accepted)
        self._title.setText("1 lot taken in" if number == 1 else f"{number} lots taken in")
        lines = []
        for accepted in taken.accepted:
            lot = lots.get(accepted.lot)
            name, stock = (lot.name, lot.stock_words) if lot else ("", "")
            lines.append(TakenLine(accepted.row, accepted.lot, name, stock, "; ".join(accepted.taken_for)))
        self.lots.set_rows(lines)
        self.left_out.set_rows(taken.refused)
        self._left_heading.setText(f"Left out ({len(taken.refused)})")
        self._lower.setVisible(bool(taken.refused))
        for button in (self._print, self._prepare):
            button.setEnabled(bool(number))

    def focus_first(self) -> None:
        """Put the cursor on what comes next."""
        (self._prepare if self._prepare.isEnabled() else self._more).setFocus()

    def _wanted(self) -> tuple[str, ...]:
        return tuple(line.number for line in self.lots.chosen() or self.lots.rows())

    def on_print(self) -> None:
        """Ask for labels of the chosen lots."""
        self.print_wanted.emit(self._wanted())

    def on_prepare(self) -> None:
        """Send the chosen lots to Preparing."""
        self.prepare_wanted.emit(self._wanted())

    def on_lot_opened(self, line: TakenLine) -> None:
        """Open a lot's own page."""
        self.lot_wanted.emit(line.number)

    def on_left_out_chosen(self) -> None:
        """Show the whole reason of the chosen row."""
        chosen = self.left_out.chosen()
        self._detail.setText(f"Row {chosen[0].row}: {refusal_words(chosen[0])}" if chosen else "")


def _lot(line: TakenLine) -> str:
    return line.number


def _name(line: TakenLine) -> str:
    return line.name


def _stock(line: TakenLine) -> str:
    return line.stock


def _row(line: Any) -> str:
    return str(line.row)


def _row_number(line: Any) -> int:
    return int(line.row)


def _remarks(line: TakenLine) -> str:
    return line.remarks
