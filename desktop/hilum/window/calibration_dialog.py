"""Calibrating a printer: print a page with crosses and rulers, type what the ruler says, check it, keep it."""

from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QComboBox,
    QDialog,
    QDoubleSpinBox,
    QGridLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from hilum.benches import calibrating
from hilum.benches.calibrating import BACK, FRONT, Correction, KeptCorrection, LabelStock, MeasuredCrosses
from hilum.errors import KeeperError
from hilum.window.paper_printing import FULL_SIZE_WORDS, Paper, PaperJob, Printer
from hilum.window.print_files import write_whole
from hilum.window.print_memory import remembered
from hilum.window.print_send import ANY_TRAY
from hilum.window.questions import Questions
from hilum.window.widgets import Heading, Notice, Quiet, Title, choice_line, form_row, primary, row_of
from hilum.window.work import WorkDay

PDF_FILTER = "PDF (*.pdf)"
NO_PRINTER = "No printer is set up on this computer. Save the page as a PDF and print it where there is one."
CROSSES = ("top left", "top right", "bottom left")
MEASURE_WORDS = (
    "Measure the middle of each cross from the left and from the top edge of the paper, as exactly as you can. "
    "The figures shown are where the crosses were meant to be. Of a back, turn the sheet over on its long edge first."
)
CHECK_WORDS = "On the page to check every cross must stand where its figures say, to half a millimetre."
# The office dots at which the page is handed to a printer.
DPI = 300


class CalibrationDialog(QDialog):
    """Three steps down one page; what is kept is undone in every later job of that printer, tray and paper."""

    def __init__(
        self,
        work: WorkDay,
        questions: Questions,
        parent: QWidget,
        paper: Paper | None = None,
        *,
        begin_with: tuple[str, str] = ("", ""),
        stock: LabelStock | None = None,
    ) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle("Calibrate a printer")
        self._work, self._questions, self._paper = work, questions, paper or Paper()
        self._begin_with = begin_with
        self._stocks = [calibrating.plain_page("a4"), calibrating.plain_page("letter")]
        sizes = [(each.page_w_mm, each.page_h_mm) for each in self._stocks]
        if stock is not None and (stock.page_w_mm, stock.page_h_mm) not in sizes:
            self._stocks.append(stock)
        self.printers, self.trays, self.papers = QComboBox(), QComboBox(), QComboBox()
        self.sides = choice_line((("the front", FRONT), ("the back", BACK)), "")
        for each in self._stocks:
            self.papers.addItem(f"{each.title}, {each.page_w_mm:g} × {each.page_h_mm:g} mm", each)
        if stock is not None:
            size = (stock.page_w_mm, stock.page_h_mm)
            self.papers.setCurrentIndex([*sizes, size].index(size))
        self.figures = {name: (_figure(), _figure()) for name in CROSSES}
        self.send, self.save = QPushButton("&Print the page"), QPushButton("&Save it as PDF…")
        self.check, self.keep = QPushButton("Print a page to c&heck"), primary(QPushButton("&Keep"))
        self.forget, self.close_button = QPushButton("&Forget what is kept"), QPushButton("C&lose")
        self._known, self._found = QLabel(), QLabel()
        for label in (self._known, self._found):
            label.setWordWrap(True)
        self.notice = Notice()
        self._lay_out()
        self._connect()
        self._show_usual()
        self.resize(780, 690)
        self._work.run(self._paper.printers, done=self.on_printers, failed=self.notice.show_bad)

    def _lay_out(self) -> None:
        inside = QVBoxLayout()
        inside.setSpacing(8)
        inside.addWidget(Heading("1  Print the page with crosses"))
        form = QGridLayout()
        form_row(form, "P&rinter", self.printers)
        form_row(form, "P&aper", self.papers)
        tray = QLabel("&Tray")
        tray.setBuddy(self.trays)
        form.addWidget(tray, 1, 2)
        form.addWidget(self.trays, 1, 3)
        side = QLabel("Si&de")
        side.setBuddy(self.sides)
        form.addWidget(side, 2, 2)
        form.addWidget(self.sides, 2, 3)
        form.setColumnStretch(1, 3)
        form.setColumnStretch(3, 2)
        inside.addLayout(form)
        inside.addWidget(self._known)
        inside.addWidget(Quiet(f"Put plain paper into the tray. {FULL_SIZE_WORDS}"))
        inside.addLayout(row_of(self.send, self.save))
        inside.addWidget(Heading("2  Type what the ruler says"))
        inside.addWidget(Quiet(MEASURE_WORDS))
        table = QGridLayout()
        table.addWidget(QLabel("from the left edge"), 0, 1)
        table.addWidget(QLabel("from the top edge"), 0, 2)
        for row, (name, boxes) in enumerate(self.figures.items(), start=1):
            table.addWidget(QLabel(f"Cross {name}"), row, 0)
            for column, (box, way) in enumerate(zip(boxes, ("left", "top"), strict=True), start=1):
                box.setAccessibleName(f"Cross {name}, from the {way} edge")
                table.addWidget(box, row, column)
        table.setColumnStretch(3, 1)
        inside.addLayout(table)
        inside.addWidget(self._found)
        inside.addWidget(Heading("3  Check it, then keep it"))
        inside.addWidget(Quiet(CHECK_WORDS))
        inside.addStretch(1)
        holder = QWidget()
        holder.setLayout(inside)
        scroll = QScrollArea()
        scroll.setWidgetResizable(True)
        scroll.setWidget(holder)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(22, 18, 22, 18)
        layout.addWidget(Title("Calibrate a printer"))
        layout.addWidget(self.notice)
        layout.addWidget(scroll, 1)
        foot = row_of(self.check, self.keep)
        foot.addWidget(self.forget)
        foot.addWidget(self.close_button)
        layout.addLayout(foot)

    def _connect(self) -> None:
        self.printers.currentIndexChanged.connect(self.on_printer)
        self.trays.currentIndexChanged.connect(self.show_known)
        self.papers.currentIndexChanged.connect(self.on_paper)
        self.sides.currentIndexChanged.connect(self.on_paper)
        for boxes in self.figures.values():
            for box in boxes:
                box.valueChanged.connect(self.on_typed)
        self.send.clicked.connect(self.on_send)
        self.save.clicked.connect(self.on_save)
        self.check.clicked.connect(self.on_check)
        self.keep.clicked.connect(self.on_keep)
        self.forget.clicked.connect(self.on_forget)
        self.close_button.clicked.connect(self.reject)

    # What is chosen.

    def stock(self) -> LabelStock:
        """Give the paper."""
        found: LabelStock = self.papers.currentData()
        return found

    def printer(self) -> Printer | None:
        """Give the printer, if there is one."""
        found: Printer | None = self.printers.currentData()
        return found

    def on_printers(self, printers: tuple[Printer, ...]) -> None:
        """Offer the printers there are."""
        self.printers.blockSignals(True)
        for printer in printers:
            self.printers.addItem(printer.name, printer)
        wanted = self._begin_with[0] or remembered().printer
        self.printers.setCurrentIndex(max(0, self.printers.findText(wanted)))
        self.printers.blockSignals(False)
        if not printers:
            self.notice.show_warn(NO_PRINTER)
        self.on_printer()

    def on_printer(self) -> None:
        """Offer the trays of the chosen printer."""
        printer = self.printer()
        self.trays.blockSignals(True)
        self.trays.clear()
        self.trays.addItem(ANY_TRAY, "")
        for tray in printer.trays if printer is not None else ():
            self.trays.addItem(tray, tray)
        self.trays.setCurrentIndex(max(0, self.trays.findData(self._begin_with[1])))
        self.trays.blockSignals(False)
        self.show_known()

    def on_paper(self) -> None:
        """Show where the crosses of this paper are meant to be."""
        self._show_usual()
        self.show_known()

    def _show_usual(self) -> None:
        for boxes, meant in zip(self.figures.values(), calibrating.crosses_on(self.stock()), strict=False):
            for box, value in zip(boxes, meant, strict=True):
                box.blockSignals(True)
                box.setValue(value)
                box.blockSignals(False)
        self.on_typed()

    def _kept(self) -> KeptCorrection | None:
        printer, stock = self.printer(), self.stock()
        if printer is None:
            return None
        return calibrating.correction_for(
            self._work.catalogue.settings(), printer.name, self.trays.currentData() or "", stock.page_w_mm,
            stock.page_h_mm, self.sides.currentData(),
        )  # fmt: skip

    def show_known(self) -> None:
        """Say what is kept for this printer, tray and paper."""
        kept, there = self._kept(), self.printer() is not None
        if kept is None:
            self._known.setText("Not calibrated for this paper yet." if there else "")
        else:
            words = calibrating.correction_words(kept.correction)
            self._known.setText(f"Calibrated on {kept.measured_on}: {words}")
        self.forget.setEnabled(kept is not None)
        self.send.setEnabled(there)
        self.on_typed()

    # What is measured.

    def measured(self) -> MeasuredCrosses:
        """Give what was typed."""
        stock = self.stock()
        points = [(across.value(), down.value()) for across, down in self.figures.values()]
        return MeasuredCrosses(stock.page_w_mm, stock.page_h_mm, *points)

    def _solved(self) -> Correction | None:
        try:
            return calibrating.solve_calibration(self.measured())
        except KeeperError:
            # Said in words by `on_typed`, which runs at every change.
            return None

    def on_typed(self) -> None:
        """Say what the figures mean, or why they cannot be."""
        try:
            found = calibrating.solve_calibration(self.measured())
            self._found.setText(calibrating.correction_words(found))
            can = True
        except KeeperError as error:
            self._found.setText(str(error))
            can = False
        self.keep.setEnabled(can and self.printer() is not None)
        self.check.setEnabled(can and self.printer() is not None)

    # Onto paper.

    def _job(self, correction: Correction | None = None) -> PaperJob:
        stock = self.stock()
        side = self.sides.currentData()
        pdf = calibrating.calibration_pdf(stock, correction, side=side)
        title = f"Calibration, {stock.title}"
        return PaperJob(
            pdf, title, stock.page_w_mm, stock.page_h_mm, DPI, is_two_sided=side == BACK,
            feed_edge=stock.feed_edge or "top",
        )  # fmt: skip

    def on_send(self) -> None:
        """Print the page as the printer prints it."""
        self._send(self._job())

    def on_check(self) -> None:
        """Print the page with the correction that was just measured."""
        correction = self._solved()
        if correction is not None:
            self._send(self._job(correction))

    def _send(self, job: PaperJob) -> None:
        printer = self.printer()
        if printer is None:
            return
        tray = self.trays.currentData() or ""
        self.notice.clear()
        self._work.run(
            _send_page,
            self._paper,
            job,
            printer,
            tray,
            done=self.notice.show_good,
            failed=self.notice.show_bad,
        )

    def on_save(self) -> None:
        """Ask where the page goes."""
        start = Path(remembered().folder) / "calibration.pdf"
        self._questions.ask_save_file(self, "Save the calibration page", start, PDF_FILTER, self.save_to)

    def save_to(self, file: Path) -> None:
        """Write the page."""
        try:
            write_whole(file, self._job().pdf)
        except KeeperError as error:
            self.notice.show_bad(str(error))
            return
        self.notice.show_good(f"Saved as {file}. {FULL_SIZE_WORDS}")

    # Keeping.

    def on_keep(self) -> None:
        """Keep the correction for every later job of this printer, tray and paper."""
        printer = self.printer()
        if printer is None:
            return
        try:
            kept = calibrating.keep_correction(
                self._work.catalogue, printer.name, self.trays.currentData() or "", self.measured(),
                on=self._work.today(), side=self.sides.currentData(),
            )  # fmt: skip
        except KeeperError as error:
            self.notice.show_bad(str(error))
            return
        where = f"{kept.printer}, {kept.tray}" if kept.tray else kept.printer
        self.notice.show_good(f"Kept for {where}, paper of {kept.page_w_mm:g} × {kept.page_h_mm:g} mm.")
        self.show_known()

    def on_forget(self) -> None:
        """Send later pages as they are again."""
        kept = self._kept()
        if kept is not None:
            calibrating.forget_correction(self._work.catalogue, kept)
            self.notice.show_good(f"Forgotten for {kept.printer}.")
            self.show_known()


def _send_page(paper: Paper, job: PaperJob, printer: Printer, tray: str) -> str:
    return paper.send(job, printer, tray=tray)


def _figure() -> QDoubleSpinBox:
    box = QDoubleSpinBox()
    box.setRange(0, 600)
    box.setDecimals(2)
    box.setSingleStep(0.1)
    box.setSuffix(" mm")
    box.setMinimumWidth(130)
    return box
