"""What was done in the library, job by job, in this session and before it: taken back from here, whole."""

from PySide6.QtWidgets import QDialog, QDialogButtonBox, QPushButton, QVBoxLayout, QWidget

from hilum.benches.lots import take_back
from hilum.benches.past_work import PastLine, whole_history
from hilum.window import lot_tables
from hilum.window.lot_words import counted
from hilum.window.models import RowsTable
from hilum.window.questions import Questions
from hilum.window.widgets import Notice, Quiet, Title, row_of
from hilum.window.work import WorkDay

MOST_SHOWN = 200


def take_back_whole(
    work: WorkDay, questions: Questions, parent: QWidget, line: PastLine, *, notice: Notice | None = None
) -> None:
    """Take a job back beside the window, after a question where it touches more than one lot."""

    def done(what: str) -> None:
        words = f"Done once more: {what}." if line.takes_back else f"Taken back: {what}."
        if notice is not None:
            notice.show_good(words)
        work.changes.tell(words)

    def go() -> None:
        failed = None if notice is None else notice.show_bad
        work.run(take_back, work.catalogue, line.id, done=done, failed=failed)

    if line.lots > 1:
        words = (
            f"“{line.what}” concerns {counted(line.lots, 'lot')}. All of it goes back together, or nothing does. "
            "Lots that it made are withdrawn and keep their numbers; seed that it moved comes back by corrections."
        )
        questions.confirm(parent, "Take back a whole job", words, "Take it back", go)
    else:
        go()


class PastDialog(QDialog):
    """The newest jobs, and the button that takes one back."""

    def __init__(self, work: WorkDay, questions: Questions, parent: QWidget) -> None:
        super().__init__(parent)
        self._work, self._questions = work, questions
        self.setWindowTitle("What was done")
        self.notice = Notice()
        self.table = RowsTable(lot_tables.PAST, "What was done", "Nothing was done yet.", self)
        self._told = Quiet()
        self._back = QPushButton("&Take back")
        self._buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(22, 18, 22, 18)
        layout.setSpacing(12)
        layout.addWidget(Title("What was done"))
        layout.addWidget(
            Quiet(
                "The newest jobs of everyone, this session's and earlier ones. A whole intake is one job. To do again "
                "what was taken back, take its taking back back."
            )
        )
        layout.addWidget(self.notice)
        layout.addWidget(self.table, 1)
        layout.addWidget(self._told)
        bottom = row_of(self._back, stretch=True)
        bottom.addWidget(self._buttons)
        layout.addLayout(bottom)
        self.resize(900, 560)
        self._connect()
        self.refresh()

    def _connect(self) -> None:
        self._back.clicked.connect(self.on_back)
        self._buttons.rejected.connect(self.reject)
        self.table.choice_changed.connect(self.on_choice)
        self._work.changes.catalogue_changed.connect(self.refresh)

    def refresh(self) -> None:
        """Load the newest jobs."""
        self._work.run(_newest, self._work.catalogue, done=self.show_lines)

    def show_lines(self, lines: tuple[PastLine, ...]) -> None:
        """Show jobs."""
        self.table.set_rows(lines)
        self.table.fit_columns()
        self.on_choice()

    def on_choice(self) -> None:
        """Allow taking back one job that is in force."""
        chosen = self.table.chosen()
        self._back.setEnabled(len(chosen) == 1 and not chosen[0].taken_back)
        self._told.setText(told(chosen[0]) if len(chosen) == 1 else "")

    def on_back(self) -> None:
        """Take the chosen job back."""
        take_back_whole(self._work, self._questions, self, self.table.chosen()[0], notice=self.notice)


def told(line: PastLine) -> str:
    """Give all of a job's words, which a table cuts off."""
    return f"{line.what}: {line.words}"


def _newest(catalogue: object) -> tuple[PastLine, ...]:
    return whole_history(catalogue, limit=MOST_SHOWN)  # type: ignore[arg-type]
