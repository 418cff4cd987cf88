"""The varieties: their other names, a corrected name, and the crop group of those where it was left open."""

from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from hilum.benches.reference import (
    MOST_GROWING_NOTES,
    VarietyLine,
    add_synonym,
    choose_group,
    crops,
    rename_variety,
    varieties,
    write_growing_notes,
)
from hilum.window.models import Column, RowsTable
from hilum.window.page import BenchPage
from hilum.window.questions import Questions
from hilum.window.widgets import Quiet, form_row, primary, row_of
from hilum.window.work import WorkDay
from hilum.window.work_dialog import WorkDialog

# A crop whose group is still open has a key that begins so.
OPEN_KEY = "open:"
COLUMNS = (
    Column("Variety", lambda line: line.name),
    Column("Crop", lambda line: line.crop, tone=lambda line: "warn" if is_open(line.crop_key) else ""),
    Column("Also called", lambda line: ", ".join(line.synonyms)),
    Column("Growing notes", lambda line: line.growing_notes, spare=True),
    Column("Lots", lambda line: f"{line.lots}", sort=lambda line: line.lots, right=True),
)


def is_open(crop_key: str) -> bool:
    """Say whether a crop's group is still to be chosen."""
    return crop_key.startswith(OPEN_KEY)


class GroupDialog(WorkDialog):
    """Asks which crop group a variety belongs to; those of its botanical name come first."""

    def __init__(self, work: WorkDay, parent: QWidget, variety: VarietyLine) -> None:
        words = "All lots of the variety move with it. Their lot numbers stay as they are."
        super().__init__(work, parent, f"Which crop is “{variety.name}”?", words, "&Choose")
        self._variety = variety
        self._group = QComboBox()
        botanical = variety.crop_key.removeprefix(OPEN_KEY).casefold()
        lines = [line for line in crops(work.catalogue) if not is_open(line.key)]
        lines.sort(key=lambda line: not line.botanical_name.casefold().startswith(botanical))
        for line in lines:
            self._group.addItem(f"{line.name} ({line.botanical_name})", line.key)
        self._group.setCurrentIndex(max(0, self._group.findData(variety.crop_key)))
        form_row(self.form, "Crop &group", self._group)

    def on_go(self) -> None:
        """Move the variety to its crop."""
        key, words = self._group.currentData(), self._group.currentText()
        if self.work.did(choose_group, self.work.catalogue, self._variety.id, key):
            self.accept()
            self.work.changes.tell(f"“{self._variety.name}” belongs to {words} now.")


class GrowingNotesDialog(WorkDialog):
    """Asks how a variety is grown, in the library's own words."""

    def __init__(self, work: WorkDay, parent: QWidget, variety: VarietyLine) -> None:
        words = (
            "Printed on the backs of packets and on counter cards of all its lots: when and where to sow, what it "
            "needs, when to leave it for seed."
        )
        super().__init__(work, parent, f"How “{variety.name}” is grown", words, "&Keep")
        self._variety = variety
        self._text = QPlainTextEdit(variety.growing_notes)
        self._text.setTabChangesFocus(True)
        self._text.setMinimumHeight(130)
        self._left = Quiet("")
        form_row(self.form, "&Notes", self._text)
        self.form.addRow("", self._left)
        self._text.textChanged.connect(self.on_typed)
        self.on_typed()

    def on_typed(self) -> None:
        """Say how much room is left."""
        left = MOST_GROWING_NOTES - len(" ".join(self._text.toPlainText().split()))
        self._left.setText(f"{left} characters left" if left >= 0 else f"{-left} characters too many")

    def on_go(self) -> None:
        """Keep the notes."""
        kept = self.work.attempt(
            write_growing_notes, self.work.catalogue, self._variety.id, self._text.toPlainText()
        )
        if kept is not None:
            self.accept()
            self.work.changes.tell(f"Growing notes of “{self._variety.name}” are kept.")


class VarietiesTab(BenchPage):
    """A list of varieties and what is put right in their names."""

    title = "Varieties"
    words_wanted = Signal(str)

    def __init__(self, work: WorkDay, questions: Questions, parent: QWidget | None = None) -> None:
        super().__init__(work, questions, parent)
        self._words = QLineEdit()
        self._words.setPlaceholderText("part of a name or another name")
        self._words.setClearButtonEnabled(True)
        self.table = RowsTable(COLUMNS, "Varieties", "No variety fits.")
        self._show_lots = primary(QPushButton("Show its &lots"))
        self._synonym, self._rename = QPushButton("Add &another name…"), QPushButton("&Correct the name…")
        self._group = QPushButton("Choose the crop &group…")
        self._growing = QPushButton("Gro&wing notes…")
        narrow = QHBoxLayout()
        label = QLabel("&Narrow by")
        label.setBuddy(self._words)
        narrow.addWidget(label)
        narrow.addWidget(self._words, 1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 10, 0, 0)
        layout.addLayout(narrow)
        layout.addWidget(self.table, 1)
        layout.addLayout(row_of(self._show_lots, self._growing, self._synonym, self._rename, self._group))
        self._connect()
        self.on_choice()

    def _connect(self) -> None:
        self._words.textChanged.connect(self.refresh)
        self.table.choice_changed.connect(self.on_choice)
        self.table.row_opened.connect(self.on_row_opened)
        self._show_lots.clicked.connect(self.on_show_lots)
        self._synonym.clicked.connect(self.on_synonym)
        self._rename.clicked.connect(self.on_rename)
        self._group.clicked.connect(self.on_group)
        self._growing.clicked.connect(self.on_growing)

    def focus_first(self) -> None:
        """Put the cursor where the list is narrowed."""
        self._words.setFocus()

    def refresh(self) -> None:
        """Load the varieties that fit what was typed."""
        lines = self.work.attempt(varieties, self.work.catalogue, words=self._words.text())
        self.table.set_rows(lines or ())

    def on_choice(self) -> None:
        """Allow what can be done with the chosen variety."""
        one = len(self.table.chosen()) == 1
        for button in (self._show_lots, self._growing, self._synonym, self._rename, self._group):
            button.setEnabled(one)

    def chosen(self) -> VarietyLine:
        """Give the chosen variety."""
        line: VarietyLine = self.table.chosen()[0]
        return line

    def on_row_opened(self, line: Any) -> None:
        """List the lots of the variety that was opened."""
        self.words_wanted.emit(f"{line.name} {line.crop}")

    def on_show_lots(self) -> None:
        """List the lots of the chosen variety."""
        self.on_row_opened(self.chosen())

    def on_synonym(self) -> None:
        """Ask for another name."""
        line = self.chosen()
        words = f"Another name under which “{line.name}” should be found:"
        self.questions.ask_text(self, "Another name", words, self._add_synonym)

    def _add_synonym(self, name: str) -> None:
        line = self.chosen()
        if self.work.did(add_synonym, self.work.catalogue, line.id, name):
            self.said.emit("good", f"“{line.name}” is found as “{name}” too.")
            self.work.changes.tell(f"“{name}” is another name of “{line.name}”.")

    def on_rename(self) -> None:
        """Ask for the right name."""
        line = self.chosen()
        words = f"The right name of “{line.name}”. The old one stays as another name."
        self.questions.ask_text(self, "Correct the name", words, self._rename_to, line.name)

    def _rename_to(self, name: str) -> None:
        line = self.chosen()
        if self.work.did(rename_variety, self.work.catalogue, line.id, name):
            self.said.emit("good", f"“{line.name}” is called “{name}” now.")
            self.work.changes.tell(f"“{line.name}” renamed to “{name}”.")

    def on_growing(self) -> None:
        """Ask how the chosen variety is grown."""
        GrowingNotesDialog(self.work, self, self.chosen()).open()

    def on_group(self) -> None:
        """Ask for the crop group."""
        GroupDialog(self.work, self, self.chosen()).open()
