"""Growers and places grown: who and where the lots came from, with the way to their lots."""

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from hilum.benches.reference import NameLine, growers, places
from hilum.window.models import Column, RowsTable
from hilum.window.page import BenchPage
from hilum.window.questions import Questions
from hilum.window.widgets import Quiet, primary, row_of
from hilum.window.work import WorkDay

COLUMNS = (
    Column("Name", lambda line: line.name),
    Column("Lots", lambda line: f"{line.lots}", sort=lambda line: line.lots, right=True),
    Column("Note", lambda line: line.note),
)


class NamesTab(BenchPage):
    """A list of names with the number of their lots; names are made at Intake, on the spot."""

    words_wanted = Signal(str)
    meaning = ""
    load: Callable[..., tuple[NameLine, ...]]

    def __init__(self, work: WorkDay, questions: Questions, parent: QWidget | None = None) -> None:
        super().__init__(work, questions, parent)
        self._lines: tuple[NameLine, ...] = ()
        self._words = QLineEdit()
        self._words.setPlaceholderText("part of a name")
        self._words.setClearButtonEnabled(True)
        self.table = RowsTable(COLUMNS, self.title, "No name fits.")
        self._show_lots = primary(QPushButton("Sho&w their lots"))
        narrow = QHBoxLayout()
        label = QLabel("&Narrow by")
        label.setBuddy(self._words)
        narrow.addWidget(label)
        narrow.addWidget(self._words, 1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 10, 0, 0)
        layout.addLayout(narrow)
        layout.addWidget(Quiet(self.meaning))
        layout.addWidget(self.table, 1)
        layout.addLayout(row_of(self._show_lots))
        self._connect()
        self.on_choice()

    def _connect(self) -> None:
        self._words.textChanged.connect(self.on_narrowed)
        self.table.choice_changed.connect(self.on_choice)
        self.table.row_opened.connect(self.on_row_opened)
        self._show_lots.clicked.connect(self.on_show_lots)

    def focus_first(self) -> None:
        """Put the cursor where the list is narrowed."""
        self._words.setFocus()

    def refresh(self) -> None:
        """Load the names anew."""
        self._lines = self.work.attempt(type(self).load, self.work.catalogue) or ()
        self.on_narrowed()

    def on_narrowed(self) -> None:
        """Show the names that hold what was typed."""
        wanted = self._words.text().casefold()
        self.table.set_rows([line for line in self._lines if wanted in line.name.casefold()])

    def on_choice(self) -> None:
        """Allow what can be done with the chosen name."""
        self._show_lots.setEnabled(len(self.table.chosen()) == 1)

    def on_show_lots(self) -> None:
        """List the lots of the chosen name."""
        self.words_wanted.emit(self.table.chosen()[0].name)

    def on_row_opened(self, line: Any) -> None:
        """List the lots of the name that was opened."""
        self.words_wanted.emit(line.name)


class GrowersTab(NamesTab):
    """Those who grew or gave the lots."""

    title = "Growers"
    meaning = "Names of people are personal data: keep only those you need, and show them to nobody else."
    load = staticmethod(growers)


class PlacesTab(NamesTab):
    """Where the lots were grown."""

    title = "Places grown"
    meaning = "A lot says where it was grown; a new place is made when it is first named at Intake."
    load = staticmethod(places)
