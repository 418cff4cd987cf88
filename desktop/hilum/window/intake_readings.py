"""How rows of a list were understood, one line each, with what can be done about them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent
from PySide6.QtWidgets import QListWidget, QListWidgetItem, QWidget

from hilum.benches import intake
from hilum.benches.keeping import Catalogue
from hilum.window.theme import theme

GOOD, ASK, REFUSED, WAITING = "good", "ask", "refused", "waiting"
MARKS = {GOOD: "✓", ASK: "?", REFUSED: "✕", WAITING: "…"}
TONES = {GOOD: "good", ASK: "warn", REFUSED: "bad", WAITING: "quiet"}
# No row can become a lot without these.
NEEDED = ("Crop", "Variety", "Year")
ROW_ROLE = Qt.ItemDataRole.UserRole


@dataclass(frozen=True, slots=True)
class Mend:
    """What would mend one refused cell: the heading of its column and what to write there."""

    column: str
    text: str


@dataclass(frozen=True, slots=True)
class RowReading:
    """One row in words: good, to be asked about, refused, or still being typed."""

    row: int
    kind: str
    words: str
    mend: Mend | None = None


@dataclass(frozen=True, slots=True)
class GridReading:
    """The whole grid as it was understood; no plan while no row can be one yet."""

    plan: intake.IntakePlan | None
    rows: tuple[RowReading, ...]


def read_grid(catalogue: Catalogue, cells: Sequence[Sequence[str]], today: date) -> GridReading:
    """Understand the rows of the grid as a file would be."""
    told = [place for place, row in enumerate(cells) if any(cell.strip() for cell in row)]
    if not told:
        return GridReading(None, ())
    wanting = [
        name
        for name in NEEDED
        if not any(cells[place][intake.GRID_COLUMNS.index(name)].strip() for place in told)
    ]
    if wanting:
        words = f"Still to come: {', '.join(name.lower() for name in wanting)}."
        return GridReading(None, tuple(RowReading(place + 1, WAITING, words) for place in told))
    plan = intake.plan_rows(catalogue, cells, today=today)
    return GridReading(plan, readings_of(plan, catalogue.settings().language))


def readings_of(plan: intake.IntakePlan, language: str) -> tuple[RowReading, ...]:
    """Put every understood, asked and refused row of a plan into one line each, in the order of the rows."""
    found = [
        RowReading(planned.read.row, GOOD, _with_remarks(planned, language))
        for planned in plan.rows
        if planned.status == intake.NEW
    ]
    found += [
        RowReading(planned.read.row, ASK, f"{intake.row_words(planned.read, language)}. {planned.words}")
        for planned in plan.rows
        if planned.status == intake.ASK
    ]
    found += [
        RowReading(refusal.row, REFUSED, refusal_words(refusal), mend_of(refusal)) for refusal in plan.refused
    ]
    return tuple(sorted(found, key=lambda reading: reading.row))


def _with_remarks(planned: intake.PlannedRow, language: str) -> str:
    words = intake.row_words(planned.read, language)
    return f"{words} ({'; '.join(planned.read.taken_for)})" if planned.read.taken_for else words


def refusal_words(refusal: intake.Refusal) -> str:
    """Say in which column something is wrong, and what."""
    return f"{refusal.column}: {refusal.why}" if refusal.column else refusal.why


def mend_of(refusal: intake.Refusal) -> Mend | None:
    """Give the first suggestion of a refused row with the column it belongs into."""
    for problem in refusal.problems:
        if problem.suggestion:
            return Mend(problem.column, problem.suggestion)
    return None


class ReadingsList(QListWidget):
    """The rows in words. A row to be asked about is ticked to take it in anyway; Enter takes a suggestion over."""

    ticks_changed = Signal()
    row_wanted = Signal(int)
    mend_wanted = Signal(int)

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setWordWrap(True)
        self.setResizeMode(QListWidget.ResizeMode.Adjust)
        self.setVerticalScrollMode(QListWidget.ScrollMode.ScrollPerPixel)
        self.setSpacing(1)
        self._readings: tuple[RowReading, ...] = ()
        self._ticked: set[int] = set()
        self._connect()

    def _connect(self) -> None:
        self.itemChanged.connect(self.on_item_changed)
        self.itemClicked.connect(self.on_item_clicked)

    def show_readings(self, readings: Sequence[RowReading], labels: Mapping[int, str] | None = None) -> None:
        """Show other rows; ticks stay on rows that are still to be asked about."""
        self._readings = tuple(readings)
        self._ticked &= {reading.row for reading in readings if reading.kind == ASK}
        at = self.currentRow()
        self.blockSignals(True)
        self.clear()
        for reading in self._readings:
            self.addItem(self._item(reading))
        if 0 <= at < self.count():
            self.setCurrentRow(at)
        self.blockSignals(False)
        self.ticks_changed.emit()

    def _item(self, reading: RowReading) -> QListWidgetItem:
        words = f"{reading.row}  {MARKS[reading.kind]}  {reading.words}"
        if reading.mend is not None:
            words += f"  →  F2 writes “{reading.mend.text}”."
        if reading.kind == ASK:
            words += "  Tick to take it in anyway."
        item = QListWidgetItem(words)
        item.setForeground(
            QColor(getattr(theme(), TONES[reading.kind]) if reading.kind != GOOD else theme().ink)
        )
        item.setData(ROW_ROLE, reading.row)
        if reading.kind == ASK:
            item.setFlags(item.flags() | Qt.ItemFlag.ItemIsUserCheckable)
            ticked = reading.row in self._ticked
            item.setCheckState(Qt.CheckState.Checked if ticked else Qt.CheckState.Unchecked)
        return item

    def ticked(self) -> frozenset[int]:
        """Give the rows to take in though they were asked about."""
        return frozenset(self._ticked)

    def show_row(self, row: int) -> None:
        """Bring the line of a row into view."""
        for place, reading in enumerate(self._readings):
            if reading.row == row:
                self.blockSignals(True)
                self.setCurrentRow(place)
                self.blockSignals(False)
                self.scrollToItem(self.item(place))

    def on_item_changed(self, item: QListWidgetItem) -> None:
        """Remember a tick."""
        row = int(item.data(ROW_ROLE))
        if item.checkState() == Qt.CheckState.Checked:
            self._ticked.add(row)
        else:
            self._ticked.discard(row)
        self.ticks_changed.emit()

    def on_item_clicked(self, item: QListWidgetItem) -> None:
        """Say which row was pointed at."""
        self.row_wanted.emit(int(item.data(ROW_ROLE)))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        item = self.currentItem()
        if item is not None and event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_F2):
            self.mend_wanted.emit(int(item.data(ROW_ROLE)))
        else:
            super().keyPressEvent(event)
