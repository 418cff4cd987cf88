"""Writing the pack for the next keeper: where it goes, with people's names or without, as a folder or one file."""

from functools import partial
from pathlib import Path

from PySide6.QtWidgets import QCheckBox, QLineEdit, QPushButton, QWidget

from hilum.benches.hand_over import HandedOver, hand_over
from hilum.window.long_dialog import LongWorkDialog
from hilum.window.questions import Questions
from hilum.window.widgets import form_row
from hilum.window.work import WorkDay


class HandOverDialog(LongWorkDialog):
    """Asks for the place; the work runs beside the window and leaves the whole pack or nothing."""

    def __init__(self, work: WorkDay, questions: Questions, parent: QWidget, folder: Path) -> None:
        words = (
            "A copy of the whole catalogue, its tables and printed lists, and a page that says how to go on: what is "
            "due in the next twelve months and what is scarce."
        )
        title = "A pack for the next keeper"
        super().__init__(work, parent, title, words, "&Write the pack", "How far the pack is")
        self._questions = questions
        self._place = QLineEdit(str(folder / f"for the next keeper {work.today().isoformat()}"))
        self._elsewhere = QPushButton("&Elsewhere…")
        self._as_file = QCheckBox("as one file (.zip), to be sent")
        self._people = QCheckBox("with the names of growers, donors and helpers")
        self._people.setToolTip("Only for someone who may have them: they are other people's own.")
        form_row(self.form, "&Place", self._place)
        self.form.addRow("", self._elsewhere)
        form_row(self.form, "&One file", self._as_file)
        form_row(self.form, "&Names", self._people)
        self.form.addRow(self.bar)
        self._elsewhere.clicked.connect(self.on_elsewhere)

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
        write = partial(hand_over, on=self.work.today(), with_people=self._people.isChecked())
        self.begin(write, self.work.catalogue, place, done=self.on_written)

    def on_written(self, done: HandedOver) -> None:
        """Say where the pack lies."""
        said = " ".join(("", *done.warnings))
        self.work.changes.tell(f"The pack for the next keeper lies in {done.place}.{said}")
