"""Moving house: the whole catalogue is copied to another file or onto a server, and work goes on there."""

from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QLineEdit, QProgressBar, QWidget

from hilum.benches.moving import Copied, copy_whole
from hilum.window.widgets import form_row
from hilum.window.work import Task, WorkDay
from hilum.window.work_dialog import WorkDialog


class MoveHouseDialog(WorkDialog):
    """Asks for the place; the work runs beside the window and leaves the whole catalogue there, or nothing."""

    open_wanted = Signal(str)

    def __init__(self, work: WorkDay, parent: QWidget) -> None:
        words = (
            "Every lot, movement, test and line of the history is copied and compared, with the library's own label "
            "designs. The catalogue here stays as it is. A place on a server is an empty PostgreSQL database, such as "
            "postgresql://name@host/library; let whoever runs the server make it."
        )
        super().__init__(work, parent, "Move to another file or a server", words, "&Copy it there")
        self._task: Task | None = None
        self._where = QLineEdit()
        self._where.setPlaceholderText("a new file such as library.hilum, or a database address")
        self._open = QCheckBox("go on &working there")
        self._open.setChecked(True)
        self._bar = QProgressBar()
        self._bar.setAccessibleName("How far the copy is")
        self._bar.hide()
        form_row(self.form, "&Place", self._where)
        self.form.addRow("", self._open)
        self.form.addRow(self._bar)
        self.setMinimumWidth(680)
        self.finished.connect(self.on_closed)

    def on_go(self) -> None:
        """Copy it."""
        where = self._where.text().strip()
        if not where:
            self.notice.show_bad("Name the file or the database that the catalogue goes to.")
            return
        self._show_busy(True)
        copy = partial(copy_whole, clock=self.work.now)
        self._task = self.work.run(
            copy,
            self.work.catalogue,
            where,
            done=self.on_done,
            failed=self.on_failed,
            progress=self.on_moved_on,
        )

    def on_moved_on(self, reached: int, of: int) -> None:
        """Show how far it is."""
        self._bar.setRange(0, of)
        self._bar.setValue(reached)

    def on_done(self, copied: Copied) -> None:
        """Say what was copied, and go on there if that is wanted."""
        self._task = None
        self.accept()
        self.work.changes.tell(copied.words)
        if self._open.isChecked():
            self.open_wanted.emit(self._where.text().strip())

    def on_failed(self, words: str) -> None:
        """Say why nothing was made."""
        self._task = None
        self._show_busy(False)
        self.notice.show_bad(words)

    def on_closed(self) -> None:
        """Stop what is under way."""
        if self._task is not None:
            self._task.cancel()

    def _show_busy(self, is_busy: bool) -> None:
        self._bar.setRange(0, 0)
        self._bar.setVisible(is_busy)
        self.go.setEnabled(not is_busy)
