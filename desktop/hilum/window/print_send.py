"""Asks which printer and tray takes the labels, and says how they must be printed."""

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QDialog, QDialogButtonBox, QLabel, QPushButton, QVBoxLayout, QWidget

from hilum.benches.calibrating import SIDES, correction_for, correction_words
from hilum.window.paper_printing import FULL_SIZE_WORDS, PaperJob, Printer
from hilum.window.widgets import form_row, primary
from hilum.window.work import WorkDay

ANY_TRAY = "the printer's own choice"
TWO_SIDED_WORDS = "Printed on both sides, turned over on the long edge."
UNMEASURED_WORDS = (
    "This printer was not calibrated for this paper yet. Print one sheet on plain paper first and hold it against the "
    "labels; if it is off, calibrate."
)


class PrinterQuestion(QDialog):
    """Lets the keeper choose a printer and its tray; hands them on when “Print” is pressed."""

    def __init__(
        self,
        work: WorkDay,
        parent: QWidget,
        printers: tuple[Printer, ...],
        usual: tuple[str, str],
        job: PaperJob,
        what: str,
        on_printer: Callable[[Printer, str], None],
        on_calibrate: Callable[[Printer, str], None],
    ) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle("Print labels")
        self._work, self._job = work, job
        self._on_printer, self._on_calibrate = on_printer, on_calibrate
        self.printers, self.trays = QComboBox(), QComboBox()
        for printer in printers:
            self.printers.addItem(printer.name, printer)
        self.printers.setCurrentIndex(max(0, self.printers.findText(usual[0])))
        self.printers.setMinimumWidth(340)
        self._usual_tray = usual[1]
        buttons = QDialogButtonBox()
        self._print = primary(buttons.addButton("&Print", QDialogButtonBox.ButtonRole.AcceptRole))
        buttons.addButton(QDialogButtonBox.StandardButton.Cancel)
        self._calibrate = QPushButton("&Calibrate…")
        buttons.addButton(self._calibrate, QDialogButtonBox.ButtonRole.ActionRole)
        self._buttons = buttons
        self._measured = _wrapped("")
        layout = QVBoxLayout(self)
        layout.setContentsMargins(20, 16, 20, 16)
        layout.setSpacing(10)
        layout.addWidget(_wrapped(what))
        form_row(layout, "P&rinter", self.printers)
        self._tray_label = form_row(layout, "&Tray", self.trays)
        layout.addWidget(self._measured)
        if job.is_two_sided:
            layout.addWidget(_wrapped(TWO_SIDED_WORDS))
        layout.addWidget(_wrapped(FULL_SIZE_WORDS))
        layout.addWidget(buttons)
        self._connect()
        self.on_chosen()
        self._print.setDefault(True)
        self.printers.setFocus()

    def _connect(self) -> None:
        self._buttons.accepted.connect(self.on_accepted)
        self._buttons.rejected.connect(self.reject)
        self._calibrate.clicked.connect(self.on_calibrate)
        self.printers.currentIndexChanged.connect(self.on_chosen)
        self.trays.currentIndexChanged.connect(self.on_tray)

    def tray(self) -> str:
        """Give the chosen tray; empty is the printer's own choice."""
        return self.trays.currentData() or ""

    def on_chosen(self) -> None:
        """Offer the trays of the chosen printer."""
        printer: Printer = self.printers.currentData()
        self.trays.blockSignals(True)
        self.trays.clear()
        self.trays.addItem(ANY_TRAY, "")
        for tray in printer.trays:
            self.trays.addItem(tray, tray)
        self.trays.setCurrentIndex(max(0, self.trays.findData(self._usual_tray)))
        self.trays.blockSignals(False)
        for widget in (self.trays, self._tray_label):
            widget.setVisible(bool(printer.trays))
        self.on_tray()

    def on_tray(self) -> None:
        """Say what is known of this printer and tray."""
        printer: Printer = self.printers.currentData()
        sides = SIDES if self._job.is_two_sided else SIDES[:1]
        said = []
        for side in sides:
            kept = correction_for(
                self._work.catalogue.settings(), printer.name, self.tray(), self._job.page_w_mm,
                self._job.page_h_mm, side,
            )  # fmt: skip
            of_side = f"The {side}: " if len(sides) > 1 else ""
            if kept is None:
                said.append(f"{of_side}{UNMEASURED_WORDS}")
            else:
                words = correction_words(kept.correction)
                said.append(
                    f"{of_side}Calibrated on {kept.measured_on}: {words} The pages are corrected for it."
                )
        self._measured.setText("\n".join(said))
        self.adjustSize()

    def on_accepted(self) -> None:
        """Close and hand the chosen printer and tray on."""
        printer, tray = self.printers.currentData(), self.tray()
        self.accept()
        self._on_printer(printer, tray)

    def on_calibrate(self) -> None:
        """Close and go to the calibration of this printer and tray."""
        printer, tray = self.printers.currentData(), self.tray()
        self.reject()
        self._on_calibrate(printer, tray)


def _wrapped(words: str) -> QLabel:
    label = QLabel(words)
    label.setWordWrap(True)
    label.setMinimumWidth(420)
    return label
