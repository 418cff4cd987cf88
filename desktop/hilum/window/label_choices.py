"""What the season's labels are printed on: chosen in a dialog, said in one line beside the press that packs."""

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QVBoxLayout, QWidget

from hilum.benches.printing import LabelJob
from hilum.window.print_choices import PrintChoices, lot_designs
from hilum.window.widgets import Heading
from hilum.window.work import WorkDay


class LabelChoices(QObject):
    """Keeps the choices between two openings of the dialog."""

    chosen = Signal()

    def __init__(self, work: WorkDay) -> None:
        super().__init__()
        self._dialog: QDialog | None = None
        self._form = PrintChoices(work, lot_designs(), with_copies=False)

    def words(self) -> str:
        """Say design, label stock and first free label in one line."""
        form = self._form
        start = f", first free {form.start.value()}" if form.start.value() > 1 else ""
        return f"{form.design_title()} labels, {form.stock.currentText().strip()}{start}"

    def job(self) -> LabelJob:
        """Give the job as it is chosen; raises BadInput when the spoiled labels cannot be read."""
        return self._form.job()

    def keep(self) -> None:
        """Remember the choices; raises KeeperError when they cannot be written."""
        self._form.keep()

    def set_labels(self, labels: int) -> None:
        """Say how many labels there will be."""
        self._form.set_labels(labels)

    def move_on(self, labels: int) -> None:
        """Begin behind the labels just made."""
        self._form.move_on(labels)
        self.chosen.emit()

    def open_over(self, parent: QWidget) -> None:
        """Show the choices."""
        if self._dialog is None:
            self._dialog = QDialog(parent)
            self._dialog.setWindowTitle("Labels of the season's packets")
            buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
            buttons.rejected.connect(self._dialog.accept)
            layout = QVBoxLayout(self._dialog)
            layout.setContentsMargins(18, 14, 18, 14)
            layout.addWidget(Heading("Labels"))
            layout.addWidget(self._form, 1)
            layout.addWidget(buttons)
            self._dialog.resize(520, 640)
            self._dialog.finished.connect(self._on_closed)
        self._dialog.open()

    def _on_closed(self) -> None:
        self.chosen.emit()
