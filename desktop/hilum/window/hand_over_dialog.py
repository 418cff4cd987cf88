"""Writing the pack for the next keeper: where it goes, with people's names or without, as a folder or one file."""

from functools import partial
from pathlib import Path

from PySide6.QtWidgets import QCheckBox, QLineEdit, QProgressBar, QPushButton, QWidget

from hilum.benches.hand_over import HandedOver, hand_over
from hilum.window.questions import Questions
from hilum.window.widgets import form_row
from hilum.window.work import Task, WorkDay
from hilum.window.work_dialog import WorkDialog


class HandOverDialog(WorkDialog):
    """Asks for the place; the work runs beside the window and leaves the whole pack or nothing."""

    def __init__(self, work: WorkDay, questions: Questions, parent: QWidget, folder: Path) -> None:
        words = (
            "A copy of the whole catalogue, its tables and printed lists, and a page that says how to go on: what is "
            "due in the next twelve months and what is scarce."
        )
        super().__init__(work, parent, "A pack for the next keeper", words, "&Write the pack")
        self._questions = questions
        self._task: Task | None = None
        self._place = QLineEdit(str(folder / f"for the next keeper {work.today().isoformat()}"))
        self._elsewhere = QPushButton("&Elsewhere…")
        self._as_file = QCheckBox("as one file (.zip), to be sent")
        self._people = QCheckBox("with the names of growers, donors and helpers")
        self._people.setToolTip("Only for someone who may have them: they are other people's own.")
        self._bar = QProgressBar()
        self._bar.setAccessibleName("How far the pack is")
        self._bar.hide()
        form_row(self.form, "&Place", self._place)
        self.form.addRow("", self._elsewhere)
        form_row(self.form, "&One file", self._as_file)
        form_row(self.form, "&Names", self._people)
        self.form.addRow(self._bar)
        self.setMinimumWidth(680)
        self._elsewhere.clicked.connect(self.on_elsewhere)
        self.finished.connect(self.on_closed)

    def on_elsewhere(self) -> None:
        """Ask for another place."""
        start = Path(self._place.text())
        self._questions.ask_save_file(self, "Where the pack goes", start, "All files (*)", self._take_place)

    def _take_place(self, place: Path) -> None:
        self._place.setText(str(place))

    def on_go(self) -> None:
        """Write the pack."""
        text = self._place.text().strip()
        if not text:
            self.notice.show_bad("Name the folder that is to be made.")
            return
        place = Path(text).expanduser().absolute()
        if self._as_file.isChecked() and place.suffix.lower() != ".zip":
            place = place.with_name(f"{place.name}.zip")
        self._show_busy(True)
        write = partial(hand_over, on=self.work.today(), with_people=self._people.isChecked())
        self._task = self.work.run(
            write,
            self.work.catalogue,
            place,
            done=self.on_done,
            failed=self.on_failed,
            progress=self.on_moved_on,
        )

    def on_moved_on(self, reached: int, of: int) -> None:
        """Show how far it is."""
        self._bar.setRange(0, of)
        self._bar.setValue(reached)

    def on_done(self, done: HandedOver) -> None:
        """Say where the pack lies, and close."""
        self._task = None
        self.accept()
        said = " ".join(("", *done.warnings))
        self.work.changes.tell(f"The pack for the next keeper lies in {done.place}.{said}")

    def on_failed(self, words: str) -> None:
        """Say why there is no pack."""
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
