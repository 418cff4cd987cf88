"""Choosing the lot to pack: scanned, typed or taken from suggestions, and the lots that wait behind it."""

import re

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QVBoxLayout, QWidget

from hilum.benches.lots import LotFilter, find_lots, lot_number
from hilum.benches.views import LotView
from hilum.errors import KeeperError
from hilum.window.lot_words import counted
from hilum.window.widgets import Quiet, SuggestLine
from hilum.window.work import WorkDay

MOST_SUGGESTED = 12
# Between the number and the name in a suggestion.
BETWEEN = " · "
# Three letters and the year of a lot number, as scanned or typed.
NUMBER_LIKE = re.compile(r"[A-Za-z]{3}[\s-]?\d{2}")


class LotChoice(QWidget):
    """A line for the lot, its name, and a queue that other benches have filled."""

    lot_chosen = Signal(str)
    trouble_met = Signal(str)

    def __init__(self, work: WorkDay, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._work = work
        self._number = ""
        self._waiting: tuple[str, ...] = ()
        self.line = SuggestLine(self.suggest)
        self.line.setPlaceholderText("Scan or type a lot number, or a name")
        label = QLabel("&Lot")
        label.setBuddy(self.line)
        self._name = QLabel()
        self._name.setProperty("look", "figure")
        self._name.setTextFormat(Qt.TextFormat.PlainText)
        self._name.setWordWrap(True)
        self._queue = Quiet("")
        self.next = QPushButton("Ne&xt lot (F8)")
        top = QHBoxLayout()
        top.addWidget(label)
        top.addWidget(self.line, 1)
        behind = QHBoxLayout()
        behind.addWidget(self._queue, 1)
        behind.addWidget(self.next)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(6)
        layout.addLayout(top)
        layout.addWidget(self._name)
        layout.addLayout(behind)
        self._connect()
        self._show_queue()
        self._name.hide()

    def _connect(self) -> None:
        self.line.returnPressed.connect(self.on_entered)
        self.line.picked.connect(self.on_picked)
        self.next.clicked.connect(self.take_next)

    @property
    def number(self) -> str:
        """The chosen lot; empty while none is."""
        return self._number

    @property
    def waiting(self) -> tuple[str, ...]:
        """The lots that wait behind it."""
        return self._waiting

    def suggest(self, text: str) -> tuple[str, ...]:
        """Give lots that fit what was typed."""
        wanted = LotFilter(words=text)
        page = self._work.attempt(
            find_lots, self._work.catalogue, wanted, on=self._work.today(), limit=MOST_SUGGESTED
        )
        return () if page is None else tuple(f"{lot.number}{BETWEEN}{lot.name}" for lot in page.lots)

    def on_picked(self, words: str) -> None:
        """Take the lot of a suggestion."""
        self.take(words.partition(BETWEEN)[0])

    def on_entered(self) -> None:
        """Take what was typed or scanned: a number, or a name that only one lot has."""
        typed = self.line.text().strip()
        if not typed:
            return
        if BETWEEN in typed:
            self.on_picked(typed)
            return
        # A number that is mistyped is refused with the nearest ones, however few lots are like it.
        found = () if NUMBER_LIKE.match(typed) else self.suggest(typed)
        self.take(found[0].partition(BETWEEN)[0] if len(found) == 1 else typed)

    def take(self, typed: str) -> None:
        """Choose a lot by its number as typed."""
        try:
            self._number = lot_number(self._work.catalogue, typed)
        except KeeperError as error:
            self._number = ""
            self._name.hide()
            self._close_suggestions()
            self.line.selectAll()
            self.trouble_met.emit(str(error))
            return
        self.line.setText(self._number)
        self._close_suggestions()
        self._waiting = tuple(each for each in self._waiting if each != self._number)
        self._show_queue()
        self.lot_chosen.emit(self._number)

    def _close_suggestions(self) -> None:
        completer = self.line.completer()
        popup = completer.popup() if completer is not None else None
        if popup is not None:
            popup.hide()

    def show_lot(self, lot: LotView) -> None:
        """Show the name of the chosen lot."""
        self._name.setText(lot.name)
        self._name.show()

    def queue(self, lots: tuple[str, ...]) -> None:
        """Let lots wait; the first comes up at once."""
        self._waiting = tuple(dict.fromkeys(lots))
        self.take_next()

    def take_next(self) -> None:
        """Go on to the next lot that waits."""
        if self._waiting:
            following, self._waiting = self._waiting[0], self._waiting[1:]
            self.take(following)

    def _show_queue(self) -> None:
        words = ""
        if self._waiting:
            stands = "waits" if len(self._waiting) == 1 else "wait"
            words = f"{counted(len(self._waiting), 'more lot')} {stands}; the next is {self._waiting[0]}."
        self._queue.setText(words)
        self._queue.setVisible(bool(words))
        self.next.setVisible(bool(words))
