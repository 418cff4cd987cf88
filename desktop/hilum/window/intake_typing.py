"""The typing view of the intake bench: the grid, how its rows are read, and the button that takes them in."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QMenu, QPushButton, QSplitter, QVBoxLayout, QWidget

from hilum.benches import intake
from hilum.window.intake_grid import IntakeGrid
from hilum.window.intake_readings import (
    ASK,
    GOOD,
    MARKS,
    REFUSED,
    WAITING,
    GridReading,
    ReadingsList,
    RowReading,
    read_grid,
)
from hilum.window.preparing_cautions import CautionLine
from hilum.window.widgets import Heading, Quiet, Title, primary, row_of
from hilum.window.work import WorkDay

SUGGESTED = {"Crop", "Variety", "Grower", "Place grown"}
HELP = (
    "Type a lot in each row: Enter goes on to the next cell, Ctrl+Enter to the next row. Names are suggested as you "
    "type; ↓ takes one, a new name is kept as you write it. Weight: 38.5 g, 1,2 kg, 40 seeds."
)


class IntakeTyping(QWidget):
    """The grid with what each row was taken for; nothing is written before the button is pressed."""

    open_wanted = Signal()
    take_in_wanted = Signal(object, frozenset)

    def __init__(self, work: WorkDay, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._work = work
        self._reading = GridReading(None, ())
        self._busy = False
        self.grid = IntakeGrid(intake.GRID_COLUMNS, self.suggest)
        self.readings = ReadingsList("How the rows are read")
        self._open = QPushButton("&Open a list…")
        self._open.setToolTip("Read a CSV or XLSX file (you can also drop it here)")
        self._edit = QPushButton("&Edit")
        self._edit.setToolTip("What can be done with the cells, with its keys")
        menu = QMenu(self._edit)
        menu.addActions(list(self.grid.edit_actions))
        self._edit.setMenu(menu)
        self._summary = Quiet("")
        self._take_in = primary(QPushButton("&Take in"))
        self._lay_out()
        self._connect()
        self.show_reading(self._reading)

    def _lay_out(self) -> None:
        head = row_of(Title("Intake"), stretch=True)
        head.addWidget(self._edit)
        head.addWidget(self._open)
        lower = QWidget()
        below = QVBoxLayout(lower)
        below.setContentsMargins(0, 6, 0, 0)
        below.addWidget(Heading("How it is read"))
        below.addWidget(self.readings, 1)
        splitter = QSplitter(Qt.Orientation.Vertical)
        splitter.setChildrenCollapsible(False)
        splitter.addWidget(self.grid)
        splitter.addWidget(lower)
        splitter.setSizes([340, 190])
        foot = row_of(stretch=False)
        foot.addWidget(self._summary, 1)
        foot.addWidget(self._take_in)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(20, 14, 20, 14)
        layout.addLayout(head)
        layout.addWidget(Quiet(HELP))
        layout.addWidget(splitter, 1)
        layout.addLayout(foot)
        layout.addWidget(CautionLine("intake"))

    def _connect(self) -> None:
        self._open.clicked.connect(self.open_wanted)
        self._take_in.clicked.connect(self.on_take_in)
        self.grid.row_left.connect(self.read_again)
        self.grid.row_chosen.connect(self.on_row_chosen)
        self.grid.mend_wanted.connect(self.on_mend)
        self.grid.sheet_model.changed.connect(self.on_cells_changed)
        self.readings.ticks_changed.connect(self.show_summary)
        self.readings.row_wanted.connect(self.on_row_wanted)
        self.readings.mend_wanted.connect(self.on_mend_by_number)

    # Reading.

    def suggest(self, row: int, column: int, typed: str) -> tuple[str, ...]:
        """Give names for a cell; varieties are those of the row's crop."""
        heading = intake.GRID_COLUMNS[column]
        if heading not in SUGGESTED:
            return ()
        crop = self.grid.sheet_model.sheet.rows[row][0] if row < len(self.grid.sheet_model.sheet.rows) else ""
        return self._work.attempt(intake.suggest, self._work.catalogue, heading, typed, crop=crop) or ()

    def on_cells_changed(self) -> None:
        """Read again at once when several rows can have changed, or when the row in hand is complete."""
        row = (
            self.grid.sheet_model.sheet.rows[max(self.grid.currentIndex().row(), 0)]
            if self._has_row()
            else ()
        )
        if not row or all(row[:3]) or not any(row):
            self.read_again()
        else:
            self.show_summary()

    def _has_row(self) -> bool:
        return 0 <= self.grid.currentIndex().row() < len(self.grid.sheet_model.sheet.rows)

    def read_again(self) -> None:
        """Understand the grid anew."""
        cells = self.grid.sheet_model.sheet.rows
        reading = self._work.attempt(read_grid, self._work.catalogue, cells, self._work.today())
        if reading is not None:
            self.show_reading(reading)

    def show_reading(self, reading: GridReading) -> None:
        """Show what each row was taken for."""
        reading = GridReading(reading.plan, tuple(self._patient(row) for row in reading.rows))
        self._reading = reading
        self.readings.show_readings(reading.rows)
        self.grid.sheet_model.show_marks({r.row - 1: (MARKS[r.kind], r.words) for r in reading.rows})
        self.grid.show_mendable(frozenset(r.row - 1 for r in reading.rows if r.mend is not None))
        self.readings.show_row(self.grid.currentIndex().row() + 1)
        self.show_summary()

    def _patient(self, reading: RowReading) -> RowReading:
        """The row in hand is not told off for what is still to be typed."""
        place = reading.row - 1
        cells = (
            self.grid.sheet_model.sheet.rows[place] if place < len(self.grid.sheet_model.sheet.rows) else ()
        )
        if reading.kind == REFUSED and place == self.grid.currentIndex().row() and not all(cells[:3]):
            return RowReading(reading.row, WAITING, "Still being typed.", reading.mend)
        return reading

    def show_summary(self) -> None:
        """Say how many rows would become lots, and name that number on the button."""
        number = self._wanted()
        counted = {kind: sum(r.kind == kind for r in self._reading.rows) for kind in (GOOD, ASK, REFUSED)}
        words = [f"{counted[GOOD]} understood"] if self._reading.rows else ["Nothing typed yet."]
        words += [f"{counted[ASK]} to be asked about"] if counted[ASK] else []
        words += [f"{counted[REFUSED]} refused: they stay in the grid"] if counted[REFUSED] else []
        self._summary.setText("; ".join(words))
        self._take_in.setText("&Take in 1 lot" if number == 1 else f"&Take in {number} lots")
        self._take_in.setEnabled(bool(number) and not self._busy)

    def _wanted(self) -> int:
        return sum(r.kind == GOOD for r in self._reading.rows) + len(self.readings.ticked())

    # What the keeper does.

    def on_row_chosen(self, row: int) -> None:
        """Bring the reading of the row in hand into view."""
        self.readings.show_row(row + 1)

    def on_row_wanted(self, number: int) -> None:
        """Go to the row whose reading was pointed at."""
        self.grid.setCurrentIndex(
            self.grid.sheet_model.index(number - 1, max(self.grid.currentIndex().column(), 0))
        )

    def on_mend_by_number(self, number: int) -> None:
        """Take the suggestion over for a row named by its number."""
        self.on_mend(number - 1)

    def on_mend(self, place: int) -> None:
        """Write the suggestion into the cell it belongs to."""
        reading = self._reading_of(place + 1)
        if reading is None or reading.mend is None or reading.mend.column not in intake.GRID_COLUMNS:
            return
        column = intake.GRID_COLUMNS.index(reading.mend.column)
        if self.grid.sheet_model.sheet.write({(place, column): reading.mend.text}):
            self.grid.sheet_model.show_sheet()
            self.read_again()

    def _reading_of(self, number: int) -> RowReading | None:
        return next((reading for reading in self._reading.rows if reading.row == number), None)

    def on_take_in(self) -> None:
        """Read once more, so that what is written is what stands there now, and hand it on."""
        ticked = self.readings.ticked()
        self.read_again()
        if self._reading.plan is not None and self._wanted():
            self.take_in_wanted.emit(self._reading.plan, ticked & self.readings.ticked())

    def set_busy(self, busy: bool) -> None:
        """Hold everything still while lots are being written."""
        self._busy = busy
        self.grid.setEnabled(not busy)
        self._open.setEnabled(not busy)
        self.show_summary()

    def forget_rows(self, numbers: set[int]) -> None:
        """Take rows out that have become lots."""
        self.grid.sheet_model.sheet.forget(number - 1 for number in numbers)
        self.grid.sheet_model.show_sheet()
        self.grid.setCurrentIndex(self.grid.sheet_model.index(0, 0))
        self.read_again()
