"""People: whose names are kept, those over the time, what is held about one, and erasing on request."""

from functools import partial

from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from hilum.benches.people import PeopleKept, PersonLine, erase, export_person, people_kept
from hilum.window.counter_tab import CounterTab
from hilum.window.flow import FlowLayout
from hilum.window.lot_words import counted
from hilum.window.models import Column, RowsTable
from hilum.window.questions import Questions
from hilum.window.widgets import Quiet
from hilum.window.work import WorkDay

STAYS = (
    "The ledger keeps its ids and stays right. Safety copies made before still hold the names until they are "
    "rotated out; whoever restores one has them erased again. Notes typed elsewhere are not looked through."
)
STILL_IN_FILE = (
    "Traces of them are left in unused parts of the file, for another window or program has it open. Close that and "
    "erase any name again."
)


class PeopleTab(CounterTab):
    """A table of people with what still needs their names."""

    def __init__(self, work: WorkDay, questions: Questions, parent: QWidget | None = None) -> None:
        super().__init__(work, questions, parent)
        self._kept = PeopleKept((), (), 0)
        self._words = Quiet("")
        self.table = RowsTable(self._columns(), "People", "Nobody's name is kept.")
        self.choose_over = QPushButton("Choose those over the &time")
        self.export = QPushButton("&What is held, as CSV…")
        self.erase = QPushButton("&Erase the chosen names…")
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 10, 0, 0)
        layout.setSpacing(10)
        layout.addWidget(self._words)
        layout.addWidget(self.table, 1)
        layout.addLayout(FlowLayout(self.choose_over, self.export, self.erase))
        self._connect()

    def _columns(self) -> tuple[Column, ...]:
        return (
            Column("Name", _name),
            Column("Last dealings", _last),
            Column("Name still needed for", _needed),
            Column("Kept", self._time_words, tone=self._time_tone),
        )

    def _time_words(self, row: PersonLine) -> str:
        return "over the time" if row in self._kept.over_time else ""

    def _time_tone(self, row: PersonLine) -> str:
        return "warn" if row in self._kept.over_time else ""

    def _connect(self) -> None:
        self.table.choice_changed.connect(self.on_choice_changed)
        self.choose_over.clicked.connect(self.on_choose_over)
        self.export.clicked.connect(self.on_export)
        self.erase.clicked.connect(self.on_erase)

    def refresh(self) -> None:
        kept = self.work.attempt(people_kept, self.work.catalogue, on=self.work.today())
        if kept is None:
            return
        self._kept = kept
        hides = self.work.catalogue.hides_people
        self.table.set_rows(() if hides else kept.people)
        months = f"{kept.months} months" if kept.months else "no limit is set"
        over = len(kept.over_time)
        said = "nobody is over the time" if not over else f"{counted(over, 'name')} over the time"
        self._words.setText(
            "The visitors' view hides people."
            if hides
            else f"Names are kept after the last dealings: {months} (Library, settings). Of "
            f"{counted(len(kept.people), 'name')}, {said}."
        )
        self.choose_over.setEnabled(bool(over) and not hides)
        self.on_choice_changed()

    def focus_first(self) -> None:
        self.table.setFocus()

    def on_choice_changed(self) -> None:
        """Allow what can be done with the chosen people."""
        chosen = self.table.chosen()
        self.export.setEnabled(len(chosen) == 1)
        self.erase.setEnabled(bool(chosen))

    def on_choose_over(self) -> None:
        """Choose everybody over the time, to be looked at before anything is erased."""
        over = set(self._kept.over_time)
        self.table.choose(lambda row: row in over)
        self.table.setFocus()

    def on_export(self) -> None:
        """Write all that is held about one person."""
        [row] = self.table.chosen()
        self.ask_csv("Held about a person", partial(export_person, self.work.catalogue, row.id))

    def on_erase(self) -> None:
        """Ask before the chosen names are erased."""
        chosen = self.table.chosen()
        listed = ", ".join(row.name for row in chosen[:12]) + (" …" if len(chosen) > 12 else "")
        needed = sum(row.is_needed for row in chosen)
        warn = f" {counted(needed, 'name')} of them still needed." if needed else ""
        self.questions.confirm(
            self, "Erase names", f"Erase {counted(len(chosen), 'name')}: {listed}.{warn}\n\n{STAYS}",
            "Erase", partial(self.erase_people, tuple(row.id for row in chosen)),
        )  # fmt: skip

    def erase_people(self, ids: tuple[int, ...]) -> None:
        """Erase some people's names."""
        gone = self.work.attempt(erase, self.work.catalogue, ids, on=self.work.today())
        if gone is not None:
            words = f"Erased: {counted(gone.names, 'name')}."
            self.work.changes.tell(words)
            self.refresh()
            if gone.file_is_clean:
                self.said.emit("good", words)
            else:
                self.said.emit("warn", f"{words} {STILL_IN_FILE}")


def _name(row: PersonLine) -> str:
    return row.name


def _last(row: PersonLine) -> str:
    return "" if row.last_on is None else row.last_on.isoformat()


def _needed(row: PersonLine) -> str:
    parts = [
        "work at the bench" if row.at_bench else "",
        counted(row.lots_in_hand, "lot") + " in hand" if row.lots_in_hand else "",
        counted(row.promises_open, "promised return") if row.promises_open else "",
    ]
    return ", ".join(part for part in parts if part)
