"""Asks which printer takes the labels, and says how they must be printed."""

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QDialog, QDialogButtonBox, QLabel, QVBoxLayout, QWidget

from hilum.window.paper_printing import FULL_SIZE_WORDS, Printer
from hilum.window.widgets import form_row, primary


class PrinterQuestion(QDialog):
    """Lets the keeper choose a printer; hands it on when “Print” is pressed."""

    def __init__(
        self,
        parent: QWidget,
        printers: tuple[Printer, ...],
        usual: str,
        what: str,
        on_printer: Callable[[Printer], None],
    ) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle("Print labels")
        self._on_printer = on_printer
        self.printers = QComboBox()
        for printer in printers:
            self.printers.addItem(printer.name, printer)
        self.printers.setCurrentIndex(max(0, self.printers.findText(usual)))
        self.printers.setMinimumWidth(340)
        buttons = QDialogButtonBox()
        self._print = primary(buttons.addButton("&Print", QDialogButtonBox.ButtonRole.AcceptRole))
        buttons.addButton(QDialogButtonBox.StandardButton.Cancel)
        self._buttons = buttons
        layout = QVBoxLayout(self)
        layout.setContentsMargins(20, 16, 20, 16)
        layout.setSpacing(10)
        layout.addWidget(_wrapped(what))
        form_row(layout, "P&rinter", self.printers)
        layout.addWidget(_wrapped(FULL_SIZE_WORDS))
        layout.addWidget(buttons)
        self._connect()
        self._print.setDefault(True)
        self.printers.setFocus()

    def _connect(self) -> None:
        self._buttons.accepted.connect(self.on_accepted)
        self._buttons.rejected.connect(self.reject)

    def on_accepted(self) -> None:
        """Close and hand the chosen printer on."""
        printer = self.printers.currentData()
        self.accept()
        self._on_printer(printer)


def _wrapped(words: str) -> QLabel:
    label = QLabel(words)
    label.setWordWrap(True)
    label.setMinimumWidth(420)
    return label
