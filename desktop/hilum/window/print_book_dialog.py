"""The print book: what was printed, by date or by lot, and any label of it printed again."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QHBoxLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from hilum.benches import print_book
from hilum.benches.keeping import Catalogue
from hilum.benches.print_book import PrintBookLine, PrintedLabel
from hilum.benches.printing import LabelJob, OrderedSheets, design
from hilum.errors import KeeperError
from hilum.window.lot_words import counted
from hilum.window.models import Column, RowsTable
from hilum.window.paper_printing import Paper
from hilum.window.print_choices import PrintChoices
from hilum.window.print_dialog import PrintDialog
from hilum.window.questions import Questions
from hilum.window.widgets import Heading, Notice, Quiet, Title, primary, row_of
from hilum.window.work import WorkDay

JOBS = (
    Column("When", lambda line: f"{line.job.at:%Y-%m-%d %H:%M}", sort=lambda line: line.job.id),
    Column("What", lambda line: line.job.title, least_px=150),
    Column("Design", lambda line: line.design, spare=True),
    Column("Label stock", lambda line: line.stock, spare=True),
    Column(
        "Labels",
        lambda line: f"{line.job.labels:,}",
        sort=lambda line: line.job.labels,
        right=True,
        least_px=70,
    ),
    Column("Went to", lambda line: line.job.went_to or "not known", least_px=100),
    Column("Who", lambda line: line.who or "not noted", least_px=70),
)


def _since(label: PrintedLabel) -> str:
    return "; ".join(label.changed) if label.changed else "as printed"


def _tone(label: PrintedLabel) -> str:
    return "warn" if label.changed else "quiet"


LABELS = (
    Column("Label", lambda label: label.key, least_px=130),
    Column("Crop", lambda label: label.crop, spare=True),
    Column("Variety", lambda label: label.variety, least_px=110),
    Column("Year", lambda label: label.year, least_px=60),
    Column(
        "Copies", lambda label: f"{label.copies:,}", sort=lambda label: label.copies, right=True, least_px=70
    ),
    Column("The lot since then", _since, tone=_tone, least_px=150),
)


def make_again(
    catalogue: Catalogue,
    wanted: tuple[int, tuple[int, ...]],
    _on: date,
    job: LabelJob,
    _copies_of: Mapping[str, int] | None,
    *,
    progress: Any,
    stop: Any,
) -> OrderedSheets:
    """Make pages of a print job again; a function of plain arguments, for the pool."""
    number, places = wanted
    # Copies of single labels are asked for; those of a whole job are as they were.
    copies = job.copies if places else None
    return print_book.print_again(
        catalogue, number, places, replace(job, copies=1), copies=copies, progress=progress, stop=stop
    )


class PrintBookDialog(QDialog):
    """Jobs above, the labels of the chosen one below."""

    def __init__(
        self,
        work: WorkDay,
        questions: Questions,
        parent: QWidget,
        lot: str = "",
        paper: Paper | None = None,
    ) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle("Print book")
        self._work, self._questions, self._paper = work, questions, paper
        self.lot = QLineEdit(lot)
        self.lot.setPlaceholderText("every lot; type or scan a lot number")
        self.lot.setClearButtonEnabled(True)
        self.jobs = RowsTable(JOBS, "Print jobs", "Nothing was printed yet.")
        self.jobs.setSelectionMode(RowsTable.SelectionMode.SingleSelection)
        self.labels = RowsTable(LABELS, "Labels of the job", "Choose a job above.")
        self._what, self._hash = Heading("Labels"), Quiet("")
        self.again = primary(QPushButton("Print &all of it again…"))
        self.some = QPushButton("Print the &chosen labels again…")
        self._close = QPushButton("Clos&e")
        for button in (self.again, self.some, self._close):
            # Return in the line above looks for the lot and does nothing else.
            button.setAutoDefault(False)
        self.notice = Notice()
        self._lay_out()
        self._connect()
        window = parent.window()
        self.resize(max(960, window.width() - 60), max(640, window.height() - 60))
        self.refresh()

    def _lay_out(self) -> None:
        find = QHBoxLayout()
        label = QLabel("&Lot")
        label.setBuddy(self.lot)
        find.addWidget(label)
        find.addWidget(self.lot, 1)
        find.addStretch(2)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(22, 18, 22, 18)
        layout.setSpacing(8)
        layout.addWidget(Title("Print book"))
        layout.addWidget(
            Quiet(
                "Every job that went to a printer or into a file. What is printed again says what it said then."
            )
        )
        layout.addWidget(self.notice)
        layout.addLayout(find)
        layout.addWidget(self.jobs, 3)
        layout.addWidget(self._what)
        layout.addWidget(self.labels, 2)
        layout.addWidget(self._hash)
        buttons = row_of(self.again, self.some)
        buttons.addWidget(self._close)
        layout.addLayout(buttons)

    def _connect(self) -> None:
        self.lot.editingFinished.connect(self.refresh)
        self.lot.textChanged.connect(self.on_lot_typed)
        self.jobs.choice_changed.connect(self.on_job)
        self.jobs.row_opened.connect(self.on_again)
        self.labels.choice_changed.connect(self.on_labels)
        self.labels.row_opened.connect(self.on_some)
        self.again.clicked.connect(self.on_again)
        self.some.clicked.connect(self.on_some)
        self._close.clicked.connect(self.reject)
        self._work.changes.catalogue_changed.connect(self.on_catalogue_changed)

    def on_catalogue_changed(self) -> None:
        """Load the list anew while it is looked at."""
        if self.isVisible():
            self.refresh()

    def on_lot_typed(self, text: str) -> None:
        """Show every job again when the line is emptied; a number is looked for when it is whole."""
        if not text:
            self.refresh()

    def refresh(self) -> None:
        """Load the list anew."""
        try:
            found = print_book.printed_jobs(self._work.catalogue, lot=self.lot.text())
        except KeeperError as error:
            self.notice.show_bad(str(error))
            return
        self.notice.clear()
        self.jobs.set_rows(found)
        if found and not self.jobs.chosen():
            newest = found[0].id
            self.jobs.choose(lambda line: line.id == newest)
        self.on_job()

    def job(self) -> PrintBookLine | None:
        """Give the chosen job."""
        chosen: tuple[PrintBookLine, ...] = self.jobs.chosen()
        return chosen[0] if chosen else None

    def on_job(self) -> None:
        """Show the labels of the chosen job, those of the lot looked for chosen already."""
        line = self.job()
        rows = (
            ()
            if line is None
            else self._work.attempt(print_book.printed_labels, self._work.catalogue, line.id) or ()
        )
        self.labels.set_rows(rows)
        changed = sum(bool(row.changed) for row in rows)
        words = "Labels" if line is None else f"Labels of print job {line.id}"
        self._what.setText(words + (f": {counted(changed, 'lot')} changed since" if changed else ""))
        self._hash.setText(
            "" if line is None else f"{counted(line.job.pages, 'page')}, SHA-256 {line.job.sha256}"
        )
        wanted = self.lot.text().strip().upper()
        if wanted:
            self.labels.choose(lambda row: row.key.startswith(wanted))
        self.again.setEnabled(line is not None)
        self.on_labels()

    def on_labels(self) -> None:
        """Allow printing some labels again when some are chosen."""
        self.some.setEnabled(bool(self.labels.chosen()))

    def on_again(self) -> None:
        """Open the print dialog for the whole job, in its own way."""
        line = self.job()
        if line is not None:
            self._open(line, ())

    def on_some(self) -> None:
        """Open the print dialog for the chosen labels."""
        line, places = self.job(), tuple(row.place for row in self.labels.chosen())
        if line is not None and places:
            self._open(line, places)

    def _open(self, line: PrintBookLine, places: tuple[int, ...]) -> None:
        try:
            begin, chosen = print_book.reprint_job(line.job), design(line.job.design)
        except KeeperError as error:
            self.notice.show_bad(f"It cannot be printed again: {error}")
            return
        choices = PrintChoices(self._work, (chosen,), chosen.name, with_copies=bool(places), begin=begin)
        if places:
            choices.start_new_sheet()
        what = (
            f"{counted(len(places), 'label')} of print job {line.id}, again"
            if places
            else f"Print job {line.id}, again"
        )
        dialog = PrintDialog(
            self._work,
            self._questions,
            self,
            what,
            make_again,
            (line.id, places),
            choices,
            self._paper,
            again=line.id,
        )
        choices.set_labels(len(places) if places else line.job.labels)
        dialog.open()
