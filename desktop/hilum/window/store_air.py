"""The air of a store place: its readings as a curve, what a logger's file brought, and what went wrong."""

from collections.abc import Sequence
from datetime import date, timedelta
from itertools import pairwise
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLabel, QPushButton, QScrollArea, QVBoxLayout, QWidget

from hilum.benches.store_failures import FailureLine, failures_so_far
from hilum.benches.store_readings import (
    DATE_ORDERS,
    HOW_READINGS_COUNT,
    TEMPERATURE_UNITS,
    LoggerChoices,
    LoggerFile,
    ReadingLine,
    keep_logger,
    place_readings,
    read_logger,
)
from hilum.benches.store_view import PlaceHeld
from hilum.window.flow import FlowLayout
from hilum.window.models import Column, RowsTable
from hilum.window.questions import Questions
from hilum.window.reckoner_plot import MAIN, OTHER, Line, Mark, Plot, SumPicture
from hilum.window.store_dialogs import FailureDialog, ReadingDialog
from hilum.window.widgets import Heading, Quiet, choice_line, form_row, primary
from hilum.window.work import WorkDay
from hilum.window.work_dialog import WorkDialog

LOGGER_FILES = "Loggers' files (*.csv *.txt *.xlsx);;All files (*)"
# Days further apart than this are not joined by a line: nobody knows what was in between.
GAP_DAYS = 3
_SHOWN_REFUSED = 4


class AirTab(QWidget):
    """Readings and failures of the chosen place."""

    def __init__(self, work: WorkDay, questions: Questions, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.work, self.questions = work, questions
        self._held: PlaceHeld | None = None
        self._words = Quiet(HOW_READINGS_COUNT)
        self._warm, self._damp = SumPicture(), SumPicture()
        self._failures = RowsTable(_FAILURES, "Failures", "Nothing went wrong here, as far as anybody wrote.")
        self._failures.setMinimumHeight(110)
        self.note = QPushButton("&Note a reading…")
        self.take = primary(QPushButton("Take in a &logger's file…"))
        self.wrong = QPushButton("Something went &wrong…")
        inner = QWidget()
        column = QVBoxLayout(inner)
        column.setContentsMargins(0, 8, 8, 0)
        column.addWidget(self._words)
        column.addWidget(self._warm)
        column.addWidget(self._damp)
        column.addWidget(Heading("What went wrong here"))
        column.addWidget(self._failures)
        area = QScrollArea()
        area.setWidgetResizable(True)
        area.setFrameShape(QScrollArea.Shape.NoFrame)
        area.setWidget(inner)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(area, 1)
        layout.addLayout(FlowLayout(self.take, self.note, self.wrong))
        self.note.clicked.connect(self.on_note)
        self.take.clicked.connect(self.on_take)
        self.wrong.clicked.connect(self.on_wrong)

    def show_place(self, held: PlaceHeld | None) -> None:
        """Show the readings of another place."""
        self._held = held
        for button in (self.note, self.take, self.wrong):
            button.setEnabled(held is not None and held.place.closed_on is None)
        days: tuple[ReadingLine, ...] = ()
        failures: tuple[FailureLine, ...] = ()
        if held is not None:
            days = self.work.attempt(place_readings, self.work.catalogue, held.place.id) or ()
            every = self.work.attempt(failures_so_far, self.work.catalogue) or ()
            failures = tuple(each for each in every if each.store_place_id == held.place.id)
        self._failures.set_rows(failures)
        set_c = held.temperature_c if held else None
        self._show(self._warm, temperature_plot(days, set_c))
        self._show(self._damp, humidity_plot(days, held.humidity_percent if held else None))
        self._words.setText(
            HOW_READINGS_COUNT if days else f"No readings have been taken here yet. {HOW_READINGS_COUNT}"
        )

    def _show(self, picture: SumPicture, plot: Plot | None) -> None:
        picture.show_plot(plot)
        picture.setVisible(plot is not None)

    def on_note(self) -> None:
        """Ask for a reading."""
        if self._held is not None:
            ReadingDialog(self.work, self, self._held.place).open()

    def on_wrong(self) -> None:
        """Ask what went wrong."""
        if self._held is not None:
            FailureDialog(self.work, self, self._held.place).open()

    def on_take(self) -> None:
        """Ask for a logger's file and show how it is read."""
        self.questions.ask_open_file(self, "A logger's file", LOGGER_FILES, self.on_file)

    def on_file(self, file: Path) -> None:
        """Read a logger's file beside the window, and show what it was taken for."""
        held = self._held
        if held is None:
            return

        def show(read: LoggerFile) -> None:
            LoggerDialog(self.work, self, held, file, read).open()

        def read(path: Path) -> LoggerFile:
            return read_logger(path, today=today)

        today = self.work.today()
        self.work.run(read, file, done=show)


class LoggerDialog(WorkDialog):
    """Shows what a logger's file was taken for, lets it be read otherwise, and takes it in."""

    def __init__(self, work: WorkDay, parent: QWidget, held: PlaceHeld, file: Path, read: LoggerFile) -> None:
        words = f"For {held.place.path}. Look whether the file was read as it was meant."
        super().__init__(work, parent, f"Readings of {read.name}", words, "&Take them in")
        self._held, self._file, self._read = held, file, read
        self._order = choice_line((_AS_READ, *((each, each) for each in DATE_ORDERS)), "")
        self._mark = choice_line((_AS_READ, ("dot", "."), ("comma", ",")), "")
        self._unit = choice_line((_AS_READ, *((each, each) for each in TEMPERATURE_UNITS)), "")
        self._how = QLabel()
        self._how.setTextFormat(Qt.TextFormat.PlainText)
        self._how.setWordWrap(True)
        self.form.addRow(self._how)
        form_row(self.form, "&Order of dates", self._order)
        form_row(self.form, "&Decimal mark", self._mark)
        form_row(self.form, "&Unit", self._unit)
        for box in (self._order, self._mark, self._unit):
            box.currentIndexChanged.connect(self.on_choice)
        self._show()

    def on_choice(self) -> None:
        """Read the file anew as the keeper says it is meant."""
        choices = LoggerChoices(
            date_order=self._order.currentData(),
            decimal_mark=self._mark.currentData(),
            unit=self._unit.currentData(),
        )
        read = self.work.attempt(read_logger, self._file, today=self.work.today(), choices=choices)
        if read is not None:
            self._read = read
            self._show()

    def _show(self) -> None:
        read = self._read
        lines = [f"{each.what}: {each.value} ({each.proof})" for each in read.taken_for]
        lines.append(f"{read.rows:,} rows, {len(read.days):,} days")
        if read.days:
            lines[-1] += f", {read.days[0].on} to {read.days[-1].on}"
            lowest = min((each.lowest_c for each in read.days if each.lowest_c is not None), default=None)
            highest = max((each.highest_c for each in read.days if each.highest_c is not None), default=None)
            if lowest is not None and highest is not None:
                lines.append(f"{lowest:.1f} to {highest:.1f} °C")
        self._how.setText("\n".join(lines))
        self.go.setEnabled(bool(read.days))
        self.notice.clear()
        if read.refused:
            told = [f"Row {each.row}: {each.why}" for each in read.refused[:_SHOWN_REFUSED]]
            more = len(read.refused) - len(told)
            if more > 0:
                told.append(f"And {more:,} more.")
            self.notice.show_warn(f"{len(read.refused):,} rows are not taken. {' '.join(told)}")

    def on_go(self) -> None:
        """Write the days."""
        kept = self.work.attempt(keep_logger, self.work.catalogue, self._held.place.id, self._read)
        if kept is not None:
            self.accept()
            self.work.changes.tell(kept.words)


_AS_READ = ("as the file shows", None)


def temperature_plot(days: Sequence[ReadingLine], set_c: float | None) -> Plot | None:
    """Picture the days of a place: mean, the band from lowest to highest, and how the place is set."""
    told = [each for each in reversed(days) if each.temperature_c is not None]
    if not told:
        return None
    points = [(each, each.temperature_c or 0.0) for each in told]
    lows = [each.lowest_c if each.lowest_c is not None else value for each, value in points]
    highs = [each.highest_c if each.highest_c is not None else value for each, value in points]
    edges = [*lows, *highs, *([] if set_c is None else [set_c])]
    first = told[0].on
    return _plot(
        "Temperature by day", "°C", [(each.on, value) for each, value in points], (min(edges), max(edges)),
        () if set_c is None else (Mark(set_c, f"set to {set_c:g} °C"),),
        band=tuple(
            (float((each.on - first).days), low, high)
            for each, low, high in zip(told, lows, highs, strict=True)
        ) if len(told) > 1 and _is_whole(told) else (),
        edges=((OTHER, lows), (OTHER, highs)),
    )  # fmt: skip


def humidity_plot(days: Sequence[ReadingLine], set_percent: float | None) -> Plot | None:
    """Picture the relative humidity of a place by day."""
    told = [(each.on, each.humidity_percent) for each in reversed(days) if each.humidity_percent is not None]
    if not told:
        return None
    marks = () if set_percent is None else (Mark(set_percent, f"set to {set_percent:g} %"),)
    return _plot("Humidity by day", "% relative humidity", told, (0.0, 100.0), marks)


def _is_whole(days: Sequence[ReadingLine]) -> bool:
    return all((after.on - before.on).days <= GAP_DAYS for before, after in pairwise(days))


def _plot(
    title: str, y_name: str, points: Sequence[tuple[date, float]], bounds: tuple[float, float],
    marks: tuple[Mark, ...], *, band: tuple[tuple[float, float, float], ...] = (),
    edges: Sequence[tuple[str, Sequence[float]]] = (),
) -> Plot:  # fmt: skip
    first, last = points[0][0], points[-1][0]
    span = max(1, (last - first).days)
    room = max(1.0, (bounds[1] - bounds[0]) * 0.12)
    lines = [Line("", part, MAIN, dots=len(points) < 40) for part in _parts(points, first)]
    if not band:
        for look, values in edges:
            both = [(day, value) for (day, _), value in zip(points, values, strict=True)]
            lines += [Line("", part, look) for part in _parts(both, first)]
    values = [value for _, value in points]
    words = f"{len(points)} days from {first} to {last}, {min(values):.1f} to {max(values):.1f} {y_name}"
    is_percent = bounds == (0.0, 100.0)
    return Plot(
        title, f"days since {first.isoformat()}", f"{title}, {y_name}", float(span),
        bounds[0] if is_percent else bounds[0] - room, bounds[1] if is_percent else bounds[1] + room,
        tuple(lines), band=band, marks=marks, words=words,
    )  # fmt: skip


def _parts(points: Sequence[tuple[date, float]], first: date) -> list[tuple[tuple[float, float], ...]]:
    """Break a line where days are missing."""
    parts: list[list[tuple[float, float]]] = []
    before: date | None = None
    for day, value in points:
        if before is None or day - before > timedelta(days=GAP_DAYS):
            parts.append([])
        parts[-1].append((float((day - first).days), value))
        before = day
    return [tuple(part) for part in parts]


def _kind(row: FailureLine) -> str:
    return row.kind


def _from(row: FailureLine) -> str:
    return row.from_on.isoformat()


def _until(row: FailureLine) -> str:
    return row.until_on.isoformat()


def _how_warm(row: FailureLine) -> str:
    return "" if row.temperature_c is None else f"{row.temperature_c:g} °C"


def _lots(row: FailureLine) -> str:
    return str(len(row.lots))


def _lots_order(row: FailureLine) -> int:
    return len(row.lots)


def _note(row: FailureLine) -> str:
    return row.note


_FAILURES = (
    Column("What", _kind, least_px=96),
    Column("From", _from, least_px=92),
    Column("Until", _until, least_px=92),
    Column("How warm", _how_warm, right=True, least_px=80),
    Column("Lots", _lots, _lots_order, right=True, least_px=54),
    Column("Note", _note),
)
