"""Safety copies: what there is, from when and how many lots, and the way back to one of them."""

from pathlib import Path

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from hilum.benches.keeping import KeptCopy, kept_copies
from hilum.window.models import Column, RowsTable
from hilum.window.questions import Questions
from hilum.window.work import WorkDay
from hilum.window.work_dialog import WorkDialog

NONE_YET = "No safety copy lies beside this catalogue yet. One is made each time the window is closed."


class SafetyCopiesDialog(WorkDialog):
    """Lists the copies beside the catalogue; the chosen one is put in its place after a question."""

    # The copy and the catalogue whose place it takes.
    restore_wanted = Signal(Path, Path)

    def __init__(self, work: WorkDay, questions: Questions, parent: QWidget) -> None:
        words = (
            "Each copy was opened and checked when it was made. The catalogue that is there now is kept beside it "
            "under another name; nothing is lost. Names of people that were erased since stay erased."
        )
        super().__init__(work, parent, "Bring back a safety copy", words, "&Bring it back…")
        self._questions = questions
        self.table = RowsTable(_COLUMNS, "Safety copies", NONE_YET)
        self.table.setMinimumHeight(240)
        self.form.addRow(self.table)
        self.resize(760, 520)
        self.table.choice_changed.connect(self.on_choice)
        self.on_choice()
        work.run(kept_copies, work.catalogue, done=self.show_copies, failed=self.notice.show_warn)

    def show_copies(self, copies: tuple[KeptCopy, ...]) -> None:
        """Show what there is, the newest chosen."""
        self.table.set_rows(copies)
        if copies:
            self.table.choose(lambda copy: copy == copies[0])

    def on_choice(self) -> None:
        """Allow bringing back where one is chosen that can be read."""
        chosen = self.table.chosen()
        self.go.setEnabled(len(chosen) == 1 and not chosen[0].trouble)

    def on_go(self) -> None:
        """Ask, then hand the copy on; the catalogue is closed before it takes its place."""
        [copy], where = self.table.chosen(), self.work.catalogue.file
        if where is None:
            return

        def go() -> None:
            self.accept()
            self.restore_wanted.emit(copy.file, where)

        words = (
            f"The catalogue goes back to {copy.words}. What was done since then is only in the file that is kept "
            f"beside it."
        )
        self._questions.confirm(self, "Bring back a safety copy", words, "&Bring it back", go)


def _name(copy: KeptCopy) -> str:
    return copy.file.name


def _made(copy: KeptCopy) -> str:
    return f"{copy.made_at:%Y-%m-%d %H:%M}"


def _lots(copy: KeptCopy) -> str:
    return copy.trouble or f"{copy.lots:,}"


def _lots_order(copy: KeptCopy) -> int | None:
    return copy.lots


def _tone(copy: KeptCopy) -> str:
    return "bad" if copy.trouble else ""


def _size(copy: KeptCopy) -> str:
    return f"{copy.size_bytes / 1_000_000:.1f} MB"


def _size_order(copy: KeptCopy) -> int:
    return copy.size_bytes


_COLUMNS = (
    Column("Copy", _name, least_px=240),
    Column("Made", _made, least_px=130),
    Column("Lots", _lots, _lots_order, right=True, tone=_tone, least_px=70),
    Column("Size", _size, _size_order, right=True, least_px=80),
)
