"""Finished label sheets: their pages, what the proof read, what to look at, and the ways onto paper."""

from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLabel, QProgressBar, QPushButton, QVBoxLayout, QWidget

from hilum.benches import print_book
from hilum.benches.calibrating import SIDES, Correction, correct, correction_for
from hilum.benches.keeping import Catalogue
from hilum.benches.label_orders import PrintOrder, back_of
from hilum.benches.printing import LabelSheets, LabelStock, LabelWarning, OrderedSheets, stock_named
from hilum.errors import KeeperError
from hilum.window.calibration_dialog import CalibrationDialog
from hilum.window.code_margins import MarginLine
from hilum.window.label_preview import LabelPreview
from hilum.window.lot_words import counted
from hilum.window.models import Column, RowsTable
from hilum.window.paper_printing import FULL_SIZE_WORDS, Paper, PaperJob, Printer
from hilum.window.print_files import file_name, write_whole
from hilum.window.print_memory import remember, remembered
from hilum.window.print_send import PrinterQuestion
from hilum.window.questions import Questions
from hilum.window.widgets import Notice, Quiet, row_of
from hilum.window.work import Task, WorkDay

PDF_FILTER = "PDF (*.pdf)"
NO_PRINTER = (
    "No printer is set up on this computer. Save the pages as a PDF and print them where there is one."
)


def proof_words(sheets: LabelSheets, dpi: int, what: str = "label") -> str:
    """Say what was made and what the proof found."""
    made = f"{counted(sheets.labels, what)} on {counted(sheets.pages, 'page')}"
    if not sheets.proof.codes:
        return f"{made}. They carry no codes."
    if sheets.proof.codes == 1:
        return f"{made}. 1 code, read back at {dpi} dpi."
    return f"{made}. {sheets.proof.codes} codes, all read back at {dpi} dpi."


def warning_key(warning: LabelWarning) -> tuple[str, str, str]:
    """Give what a warning is known by."""
    return warning.key, warning.box, warning.why


def label_of(warning: LabelWarning) -> str:
    """Give the label a warning is about."""
    return warning.key


def box_of(warning: LabelWarning) -> str:
    """Give the box of words a warning is about."""
    return warning.box.replace("_", " ")


def why_of(warning: LabelWarning) -> str:
    """Give what a warning says."""
    return warning.why


def send_to_paper(
    catalogue: Catalogue,
    paper: Paper,
    job: PaperJob,
    order: PrintOrder | None,
    corrections: tuple[Correction | None, Correction | None],
    printer: Printer,
    tray: str,
    *,
    progress: Any,
    stop: Any,
) -> str:
    """Print in the pool, corrected for the printer where it was calibrated; a function of plain arguments."""
    if any(corrections) and order is not None:
        sheets = correct(catalogue, order, *corrections, progress=progress, stop=stop)
        job = replace(job, pdf=sheets.pdf)
    return paper.send(job, printer, tray=tray, progress=progress, stop=stop)


def book_pages(catalogue: Catalogue, sheets: OrderedSheets, on: date, went_to: str, again: int | None) -> int:
    """Write pages that went out into the print book; a function of plain arguments, for the pool."""
    return print_book.book(catalogue, sheets, on=on, went_to=went_to, again=again)


class SheetsPanel(QWidget):
    """Shows label sheets that were made and proofed, and prints or saves them."""

    printed = Signal(str)

    def __init__(
        self,
        work: WorkDay,
        questions: Questions,
        paper: Paper,
        parent: QWidget | None = None,
        *,
        is_booked: bool = False,
        again: int | None = None,
    ) -> None:
        """Show pages; `is_booked` says that they stand in the print book already, `again` of which job they are."""
        super().__init__(parent)
        self._work, self._questions, self._paper = work, questions, paper
        self._is_booked, self._again = is_booked, again
        self._job: PaperJob | None = None
        self._sheets: OrderedSheets | None = None
        self._stock_name, self._to, self._plain_words = "", "", ""
        self._task: Task | None = None
        self._is_gone = False
        self.preview = LabelPreview(work)
        self._proof = QLabel()
        self._proof.setWordWrap(True)
        self._proof.setAccessibleName("Proof")
        self.warnings = RowsTable(
            (Column("Label", label_of), Column("Box", box_of), Column("Look at", why_of)),
            "Warnings",
            "",
            key=warning_key,
        )
        self.warnings.setMaximumHeight(132)
        # The whole of the chosen warning, which may be longer than its cell.
        self._whole = Quiet("")
        self._whole.hide()
        self.notice = Notice()
        self.margins = MarginLine(work)
        self._progress = QProgressBar()
        self._progress.setAccessibleName("Progress of printing")
        self.save, self.send = QPushButton("&Save as PDF…"), QPushButton("&Print…")
        self.stop = QPushButton("Stop printin&g")
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(8)
        layout.addWidget(self.preview, 1)
        layout.addWidget(self._proof)
        layout.addWidget(self.margins)
        layout.addWidget(self.warnings)
        layout.addWidget(self._whole)
        layout.addWidget(self.notice)
        layout.addWidget(self._progress)
        layout.addWidget(Quiet(FULL_SIZE_WORDS))
        self.buttons = row_of(self.send, self.save, self.stop)
        layout.addLayout(self.buttons)
        self._connect()
        self.show_nothing("")

    def _connect(self) -> None:
        self.warnings.choice_changed.connect(self.on_warning)
        self.save.clicked.connect(self.on_save_wanted)
        self.send.clicked.connect(self.on_print_wanted)
        self.stop.clicked.connect(self.on_stop_wanted)

    @property
    def has_pages(self) -> bool:
        """Whether there is something to print."""
        return self._job is not None

    def show_nothing(self, words: str) -> None:
        """Offer nothing to print, and say why in the place of the pages."""
        self._job, self._sheets = None, None
        self.margins.show_nothing()
        self.preview.show_nothing(words)
        self._proof.setText("")
        self._proof.hide()
        self.warnings.set_rows(())
        self.warnings.hide()
        self.notice.clear()
        self._show_sending(False)

    def show_sheets(self, sheets: OrderedSheets, stock_name: str, dpi: int, title: str) -> None:
        """Show finished sheets and offer them for printing."""
        stock = stock_named(self._work.catalogue.settings(), stock_name)
        is_two_sided = stock.kind == "sheet" and bool(back_of(sheets.order.job))
        self._sheets, self._stock_name = sheets, stock_name
        job = PaperJob(
            sheets.pdf, title, stock.page_w_mm, stock.page_h_mm, dpi, is_two_sided, stock.feed_edge or "top"
        )
        self._show_pages(sheets, job)
        self.margins.show_order(sheets.order)

    def _show_pages(self, sheets: LabelSheets, job: PaperJob, what: str = "label") -> None:
        self._job = job
        self.preview.show_pages(sheets.pdf, sheets.pages, job.page_w_mm, job.page_h_mm)
        self._proof.setText("✓ " + proof_words(sheets, job.dpi, what))
        self._proof.show()
        self.warnings.set_rows(sheets.warnings)
        self.warnings.setVisible(bool(sheets.warnings))
        self.notice.clear()
        self._show_sending(False)

    def show_paper(self, sheets: LabelSheets, stock: LabelStock, dpi: int, title: str) -> None:
        """Show pages that are no labels: they do not go into the print book and need no correction."""
        self._show_pages(sheets, PaperJob(sheets.pdf, title, stock.page_w_mm, stock.page_h_mm, dpi), "row")
        self._sheets, self._plain_words = None, f"plain paper ({stock.page_w_mm:g} × {stock.page_h_mm:g} mm)"

    def on_warning(self) -> None:
        """Show the chosen warning whole."""
        words = "\n".join(f"{each.key}: {each.why}" for each in self.warnings.chosen()[:1])
        self._whole.setText(words)
        self._whole.setVisible(bool(words))

    def forget(self) -> None:
        """Stop what is under way; called when the dialog around it closes."""
        self._is_gone = True
        self.preview.forget()
        self.margins.show_nothing()
        if self._task is not None:
            self._task.cancel()

    # A file.

    def on_save_wanted(self) -> None:
        """Ask where the PDF goes."""
        if self._job is not None:
            start = Path(remembered().folder) / f"{file_name(self._job.title)}.pdf"
            self._questions.ask_save_file(self, "Save the labels", start, PDF_FILTER, self.save_to)

    def save_to(self, file: Path) -> None:
        """Write the PDF and remember its folder."""
        if self._job is None:
            return
        try:
            write_whole(file, self._job.pdf)
            memory = remembered()
            memory.folder = str(file.parent)
            remember(memory)
        except KeeperError as error:
            self.notice.show_bad(str(error))
            return
        self.notice.show_good(f"Saved as {file}. {FULL_SIZE_WORDS}")
        self._write_book(f"file {file.name}")

    def _write_book(self, went_to: str) -> None:
        """Let the print book know, unless it does."""
        if self._sheets is not None and not self._is_booked:
            self._work.run(
                book_pages, self._work.catalogue, self._sheets, self._work.today(), went_to, self._again,
                done=self.on_booked,
            )  # fmt: skip

    def on_booked(self, number: int) -> None:
        """Let the pages that show print jobs load anew."""
        self._work.changes.tell(f"Print job {number} is in the print book.")

    # Paper.

    def on_print_wanted(self) -> None:
        """Look which printers there are."""
        if self._job is not None:
            self.send.setEnabled(False)
            self._work.run(self._paper.printers, done=self.on_printers, failed=self.on_failed)

    def on_printers(self, printers: tuple[Printer, ...]) -> None:
        """Ask which printer, or say that there is none."""
        if self._is_gone or self._job is None:
            return
        self._show_sending(False)
        if not printers:
            self.notice.show_warn(NO_PRINTER)
            self.save.setFocus()
            return
        what = f"{self._job.title}. Put in {self.paper_words()}."
        usual = (remembered().printer, remembered().tray)
        PrinterQuestion(
            self._work, self, printers, usual, self._job, what, self.print_on, self.on_calibrate_wanted
        ).open()

    def on_calibrate_wanted(self, printer: Printer, tray: str) -> None:
        """Calibrate a printer before these pages go to it."""
        stock = stock_named(self._work.catalogue.settings(), self._stock_name) if self._stock_name else None
        CalibrationDialog(
            self._work, self._questions, self, self._paper, begin_with=(printer.name, tray), stock=stock
        ).open()

    def paper_words(self) -> str:
        """Say which paper the job is for."""
        assert self._job is not None
        if self._sheets is None:
            return self._plain_words
        size = f"{self._job.page_w_mm:g} × {self._job.page_h_mm:g} mm"
        named = {"A4": "A4 sheets", "Letter": "US Letter sheets"}.get(self._job.media)
        stock = stock_named(self._work.catalogue.settings(), self._stock_name)
        if stock.kind == "fold":
            return f"plain {named} ({size})"
        if stock.kind == "envelope":
            return f"envelopes of {size}; {stock.notes}"
        what = "the roll with labels" if stock.kind == "roll" else "sheets"
        return f"{named} ({size})" if named else f"{what} of {size}"

    def print_on(self, printer: Printer, tray: str) -> None:
        """Hand the pages to a printer."""
        if self._job is None:
            return
        self._to = f"{printer.name}, {tray}" if tray else printer.name
        size = self._job.page_w_mm, self._job.page_h_mm
        settings = self._work.catalogue.settings()
        kept = [correction_for(settings, printer.name, tray, *size, side) for side in SIDES]
        memory = remembered()
        memory.printer, memory.tray = printer.name, tray
        try:
            remember(memory)
        except KeeperError as error:
            # The labels can be printed all the same.
            self.notice.show_warn(str(error))
        self._show_sending(True)
        order = None if self._sheets is None else self._sheets.order
        front, back = (None if each is None else each.correction for each in kept)
        corrections = front, back if self._job.is_two_sided else None
        self._task = self._work.run(
            send_to_paper, self._work.catalogue, self._paper, self._job, order, corrections, printer, tray,
            done=self.on_printed, failed=self.on_failed, progress=self.on_moved_on,
        )  # fmt: skip

    def on_moved_on(self, reached: int, of: int) -> None:
        """Show how many pages have gone to the printer."""
        if not self._is_gone:
            self._progress.setRange(0, of)
            self._progress.setValue(reached)

    def on_stop_wanted(self) -> None:
        """Stop printing."""
        if self._task is not None:
            self._task.cancel()

    def on_printed(self, words: str) -> None:
        """Say that the pages are on their way."""
        self._task = None
        if not self._is_gone:
            self._show_sending(False)
            self.notice.show_good(words)
            self._write_book(self._to)
            self.printed.emit(words)

    def on_failed(self, words: str) -> None:
        """Say why nothing was printed."""
        self._task = None
        if not self._is_gone:
            self._show_sending(False)
            self.notice.show_bad(words)

    def _show_sending(self, is_sending: bool) -> None:
        self._progress.setRange(0, 0)
        self._progress.setVisible(is_sending)
        self.stop.setVisible(is_sending)
        self.save.setEnabled(self.has_pages and not is_sending)
        self.send.setEnabled(self.has_pages and not is_sending)
