"""One heading of the day sheet: what waits, how many of them, and the buttons that begin the work."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QPushButton, QVBoxLayout, QWidget

from hilum.window.models import Column, RowsTable
from hilum.window.theme import ROW_PX
from hilum.window.widgets import Heading, Quiet, primary, row_of

# Rows seen without scrolling; more would push the other headings off the screen.
MOST_ROWS_SEEN = 7


@dataclass(frozen=True, slots=True)
class Way:
    """What can be begun with the chosen rows: words on the button, the bench it leads to ("" opens the lot)."""

    words: str
    bench: str = ""


@dataclass(frozen=True, slots=True)
class Part:
    """What a heading of the day sheet shows: its words, its columns, its ways into the work."""

    title: str
    meaning: str
    columns: tuple[Column, ...]
    ways: tuple[Way, ...]
    number: Callable[[Any], str]


class DaySection(QFrame):
    """A card with a heading and its count, a table, and buttons; opening a row is the first button."""

    work_wanted = Signal(str, tuple)
    lot_wanted = Signal(str)

    def __init__(self, part: Part, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("card")
        self._part = part
        self._is_built = False
        self._buttons: list[QPushButton] = []
        self.hide()

    def _build(self) -> None:
        """Make what the heading shows; done when there is something to show, for most headings are empty."""
        part = self._part
        self._is_built = True
        self._heading, self._meaning = Heading(part.title), Quiet(part.meaning)
        self.table = RowsTable(part.columns, part.title, "", self, key=part.number)
        self._buttons = [QPushButton(way.words) for way in part.ways]
        if self._buttons:
            primary(self._buttons[0])
        layout = QVBoxLayout(self)
        layout.setContentsMargins(16, 12, 16, 14)
        layout.addWidget(self._heading)
        layout.addWidget(self._meaning)
        layout.addWidget(self.table)
        layout.addLayout(row_of(*self._buttons))
        self._connect()

    def _connect(self) -> None:
        self.table.row_opened.connect(self.on_row_opened)
        for button in self._buttons:
            button.clicked.connect(self.on_clicked)

    def show_rows(self, rows: Sequence[Any], total: int | None = None) -> None:
        """Show what waits; a heading without anything under it goes away."""
        if not rows and not self._is_built:
            return
        if not self._is_built:
            self._build()
        count = len(rows) if total is None else total
        self._heading.setText(f"{self._part.title} ({count:,})")
        shown = f" The first {len(rows):,} are shown." if count > len(rows) else ""
        self._meaning.setText(self._part.meaning + shown)
        self._meaning.setVisible(bool(self._meaning.text()))
        self.table.set_rows(rows)
        seen = max(1, min(len(rows), MOST_ROWS_SEEN))
        self.table.setFixedHeight(self.table.horizontalHeader().sizeHint().height() + seen * ROW_PX + 8)
        self.setVisible(bool(rows))

    def wait(self) -> None:
        """Take the buttons away until the work behind them can begin."""
        for button in self._buttons:
            button.setEnabled(False)

    def _wanted(self) -> tuple[str, ...]:
        """Give the lots the work is for: the chosen ones, else all of them."""
        rows = self.table.chosen() or self.table.rows()
        return tuple(dict.fromkeys(self._part.number(row) for row in rows))

    def on_clicked(self) -> None:
        """Begin the work of a button with the chosen rows."""
        self._go(self._part.ways[self._buttons.index(self.sender())], self._wanted())  # type: ignore[arg-type]

    def on_row_opened(self, row: Any) -> None:
        """Begin the section's own work with one row."""
        self._go(self._part.ways[0], (self._part.number(row),))

    def _go(self, way: Way, lots: tuple[str, ...]) -> None:
        if way.bench:
            self.work_wanted.emit(way.bench, lots)
        elif lots:
            self.lot_wanted.emit(lots[0])
