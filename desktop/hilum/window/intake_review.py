"""The review of a list from a file: how it was understood and what each row would become."""

from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHeaderView, QLabel, QPushButton, QSplitter, QTabWidget, QVBoxLayout, QWidget

from hilum.benches import intake
from hilum.window.intake_facts import FactsPanel
from hilum.window.intake_list import ListReading, ListRequest, accepting, read_list, settling_crop
from hilum.window.intake_readings import ASK, ReadingsList, readings_of, refusal_words
from hilum.window.models import Column, RowsTable
from hilum.window.preparing_cautions import CautionLine
from hilum.window.widgets import Notice, Quiet, SuggestLine, Title, primary, row_of
from hilum.window.work import WorkDay

LOTS, ASKED, REFUSED, SKIPPED = range(4)


class IntakeReview(QWidget):
    """Shows a list that was opened; each change of an assumption reads it anew at once."""

    take_in_wanted = Signal(object, frozenset)
    closed = Signal()

    def __init__(self, work: WorkDay, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._work = work
        self._reading: ListReading | None = None
        self._asked: ListRequest | None = None
        self._busy = False
        self._language = "en_gb"
        self._title = Title("")
        self._notice = Notice()
        self.facts = FactsPanel()
        self.lots = RowsTable(
            (Column("Row", _row_of_plan, _number_of_plan, right=True), Column("Will become", self._becomes),
             Column("Taken for", _taken_for)),
            "Rows that will become lots", "No row of this list is understood yet.", key=_number_of_plan,
        )  # fmt: skip
        self.asked = ReadingsList("Rows to be asked about")
        self.refused = RowsTable(
            (Column("Row", _row_of, _number_of, right=True), Column("Column", _column_of), Column("Why", _why_of),
             Column("Suggestion", _suggestion_of)),
            "Refused rows", "No row was refused.", key=_number_of,
        )  # fmt: skip
        self.skipped = RowsTable(
            (Column("Row", _row_of, _number_of, right=True), Column("Why", _why_of)),
            "Skipped rows", "No row was skipped.", key=_number_of,
        )  # fmt: skip
        for table, wide in ((self.lots, 1), (self.refused, 2)):
            table.horizontalHeader().setSectionResizeMode(wide, QHeaderView.ResizeMode.Stretch)
        self._detail = Quiet("")
        self._accept = QPushButton("Accept s&uggestion")
        self._meant = SuggestLine(self.suggest_crop)
        self._meant_label = QLabel("&Crop meant")
        self._meant_label.setBuddy(self._meant)
        self._use = QPushButton("Use &for this name")
        self._close = QPushButton("&Put the list away")
        self._take_in = primary(QPushButton("&Take in"))
        self._lay_out()
        self._connect()

    def _lay_out(self) -> None:
        self._tabs = QTabWidget()
        refused = QWidget()
        within = QVBoxLayout(refused)
        within.setContentsMargins(0, 0, 0, 0)
        within.addWidget(self.refused, 1)
        within.addLayout(row_of(self._accept, self._meant_label, self._meant, self._use))
        for view in (self.lots, self.asked, refused, self.skipped):
            self._tabs.addTab(view, "")
        right = QWidget()
        beside = QVBoxLayout(right)
        beside.setContentsMargins(8, 0, 0, 0)
        beside.addWidget(self._tabs, 1)
        beside.addWidget(self._detail)
        splitter = QSplitter(Qt.Orientation.Horizontal)
        splitter.setChildrenCollapsible(False)
        splitter.addWidget(self.facts)
        splitter.addWidget(right)
        splitter.setSizes([300, 640])
        splitter.setStretchFactor(1, 1)
        foot = row_of(self._close)
        foot.addWidget(self._take_in)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(20, 14, 20, 14)
        layout.addWidget(self._title)
        layout.addWidget(self._notice)
        layout.addWidget(splitter, 1)
        layout.addLayout(foot)
        layout.addWidget(CautionLine("intake"))

    def _connect(self) -> None:
        self.facts.request_changed.connect(self.read)
        self.asked.ticks_changed.connect(self.show_numbers)
        self.refused.choice_changed.connect(self.on_refused_chosen)
        self.refused.row_opened.connect(self.on_accept)
        self.lots.choice_changed.connect(self.on_lot_chosen)
        self._tabs.currentChanged.connect(self.on_tab_changed)
        self._accept.clicked.connect(self.on_accept)
        self._use.clicked.connect(self.on_crop_meant)
        self._meant.returnPressed.connect(self.on_crop_meant)
        self._close.clicked.connect(self.closed)
        self._take_in.clicked.connect(self.on_take_in)

    # Reading.

    def open_file(self, file: Path) -> None:
        """Begin with a file."""
        self._reading = None
        self.read(ListRequest(file))

    def read_again(self) -> None:
        """Read the list once more against the catalogue as it is now."""
        if self._reading is not None:
            self.read(self._reading.request)

    def read(self, request: ListRequest) -> None:
        """Read a list in the pool; only the newest request is shown."""
        self._asked = request
        self._title.setText(f"Reading {request.file.name}…")
        self._take_in.setEnabled(False)
        self._work.run(read_list, self._work.catalogue, request, self._work.today(),
                       done=self.on_read, failed=self.on_failed)  # fmt: skip

    def on_read(self, reading: ListReading) -> None:
        """Show a list that was read, unless another reading was asked for meanwhile."""
        if reading.request is self._asked:
            self.show_reading(reading)

    def on_failed(self, words: str) -> None:
        """Say why a file cannot be read; what was shown before stays."""
        self._notice.show_bad(words)
        if self._reading is None:
            self._title.setText("The list cannot be read")
        else:
            self.show_reading(self._reading)
            self._notice.show_bad(words)

    def show_reading(self, reading: ListReading) -> None:
        """Show how a list was understood and its rows in four groups."""
        self._reading = reading
        self._language = self._work.catalogue.settings().language
        self._title.setText(reading.request.file.name)
        if reading.trouble:
            self._notice.show_bad(reading.trouble)
        else:
            self._notice.clear()
        self.facts.show_reading(reading)
        plan = reading.plan
        rows = plan.rows if plan else ()
        self.lots.set_rows([row for row in rows if row.status == intake.NEW])
        said = readings_of(plan, self._language) if plan else ()
        self.asked.show_readings([each for each in said if each.kind == ASK])
        self.refused.set_rows(plan.refused if plan else ())
        self.skipped.set_rows(plan.reading.skipped if plan else ())
        self.show_numbers()
        self.on_refused_chosen()

    def show_numbers(self) -> None:
        """Name the number of rows of each group, and how many lots the button would make."""
        asked = self.asked.count()
        counts = (len(self.lots.rows()), asked, len(self.refused.rows()), len(self.skipped.rows()))
        names = ("Will become lots", "Asked", "Refused", "Skipped")
        for place, (name, count) in enumerate(zip(names, counts, strict=True)):
            self._tabs.setTabText(place, f"{name} ({count})")
        number = counts[0] + len(self.asked.ticked())
        self._take_in.setText("&Take in 1 lot" if number == 1 else f"&Take in {number} lots")
        plan = self._reading.plan if self._reading else None
        self._take_in.setEnabled(bool(number) and plan is not None and not self._busy)

    def _becomes(self, row: intake.PlannedRow) -> str:
        return intake.row_words(row.read, self._language)

    # What the keeper does.

    def on_tab_changed(self, place: int) -> None:
        """Show the words of what is chosen in the group that came up."""
        if place == LOTS:
            self.on_lot_chosen()
        elif place == REFUSED:
            self.on_refused_chosen()
        else:
            self._detail.setText("")

    def on_lot_chosen(self) -> None:
        """Show the chosen row whole."""
        if self._tabs.currentIndex() == LOTS:
            chosen = self.lots.chosen()
            remarks = "; ".join(chosen[0].read.taken_for) if chosen else ""
            self._detail.setText(
                f"Row {chosen[0].read.row}: {self._becomes(chosen[0])}. {remarks}" if chosen else ""
            )

    def on_refused_chosen(self) -> None:
        """Show why the chosen row is refused, whole, and whether there is a suggestion to accept."""
        chosen = self.refused.chosen()
        self._accept.setEnabled(any(refusal.suggestion for refusal in chosen))
        asks = any(problem.asks == "crop" for refusal in chosen for problem in refusal.problems)
        for widget in (self._meant, self._meant_label, self._use):
            widget.setEnabled(asks)
        if self._tabs.currentIndex() == REFUSED:
            self._detail.setText(f"Row {chosen[0].row}: {refusal_words(chosen[0])}" if chosen else "")

    def on_accept(self) -> None:
        """Take the suggestions for the chosen rows over and read the list with them."""
        chosen = tuple(refusal for refusal in self.refused.chosen() if refusal.suggestion)
        if self._reading is not None and chosen:
            self.read(accepting(self._work.catalogue, self._reading, chosen))

    def suggest_crop(self, typed: str) -> tuple[str, ...]:
        """Give crops to choose from for a name that was not understood."""
        return self._work.attempt(intake.suggest, self._work.catalogue, "Crop", typed) or ()

    def on_crop_meant(self) -> None:
        """Settle which crop the name in the chosen rows means, for the whole list."""
        if self._reading is None:
            return
        name = self._meant.text().strip()
        key = intake.crop_key_of(self._work.catalogue, name)
        if key is None:
            self._notice.show_bad(
                f"“{name}” is no crop here. Choose one of the names offered while you type."
            )
            return
        self._meant.clear()
        self.read(settling_crop(self._reading, self.refused.chosen(), key))

    def on_take_in(self) -> None:
        """Hand the understood rows on."""
        if self._reading is not None and self._reading.plan is not None:
            self.take_in_wanted.emit(self._reading.plan, self.asked.ticked())

    def set_busy(self, busy: bool) -> None:
        """Hold everything still while lots are being written."""
        self._busy = busy
        self.facts.setEnabled(not busy)
        self._tabs.setEnabled(not busy)
        self._close.setEnabled(not busy)
        self.show_numbers()


def _number_of(row: object) -> int:
    return int(row.row)  # type: ignore[attr-defined]


def _row_of(row: object) -> str:
    return str(_number_of(row))


def _number_of_plan(row: intake.PlannedRow) -> int:
    return row.read.row


def _row_of_plan(row: intake.PlannedRow) -> str:
    return str(row.read.row)


def _taken_for(row: intake.PlannedRow) -> str:
    return "; ".join(row.read.taken_for)


def _column_of(row: intake.Refusal) -> str:
    return row.column


def _why_of(row: intake.Refusal) -> str:
    return row.why


def _suggestion_of(row: intake.Refusal) -> str:
    return row.suggestion or ""
