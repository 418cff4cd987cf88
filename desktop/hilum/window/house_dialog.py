"""Moving house: the whole catalogue is copied to another file or onto a server, and work goes on there."""

from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QLineEdit, QWidget

from hilum.benches.moving import Copied, copy_whole
from hilum.window.long_dialog import LongWorkDialog
from hilum.window.widgets import form_row
from hilum.window.work import WorkDay


class MoveHouseDialog(LongWorkDialog):
    """Asks for the place; the work runs beside the window and leaves the whole catalogue there, or nothing."""

    open_wanted = Signal(str)

    def __init__(self, work: WorkDay, parent: QWidget) -> None:
        words = (
            "Every lot, movement, test and line of the history is copied and compared, with the library's own label "
            "designs. The catalogue here stays as it is. A place on a server is an empty PostgreSQL database, such as "
            "postgresql://name@host/library; let whoever runs the server make it."
        )
        title = "Move to another file or a server"
        super().__init__(work, parent, title, words, "&Copy it there", "How far the copy is")
        self._where = QLineEdit()
        self._where.setPlaceholderText("a new file such as library.hilum, or a database address")
        self._open = QCheckBox("go on &working there")
        self._open.setChecked(True)
        form_row(self.form, "&Place", self._where)
        self.form.addRow("", self._open)
        self.form.addRow(self.bar)

    def on_go(self) -> None:
        """Copy it."""
        where = self._where.text().strip()
        if not where:
            self.notice.show_bad("Name the file or the database that the catalogue goes to.")
            return
        self.begin(partial(copy_whole, clock=self.work.now), self.work.catalogue, where, done=self.on_copied)

    def on_copied(self, copied: Copied) -> None:
        """Say what was copied, and go on there if that is wanted."""
        self.work.changes.tell(copied.words)
        if self._open.isChecked():
            self.open_wanted.emit(self._where.text().strip())
