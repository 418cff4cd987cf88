"""Regrowings that are planned or under way: sown, selected, harvested from here; what would cross is said on top."""

from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QAbstractItemView, QCheckBox, QPushButton, QVBoxLayout, QWidget

from hilum.benches import regrowing as bench
from hilum.benches.regrowing import OPEN_STATES, Regrowing, RegrowingPlan, crossing_words
from hilum.window import lot_words
from hilum.window.models import Column, RowsTable
from hilum.window.page import BenchPage
from hilum.window.print_files import write_whole
from hilum.window.questions import Questions
from hilum.window.regrowing_dialogs import PlanDialog
from hilum.window.regrowing_steps import HarvestDialog, SelectDialog, SowDialog
from hilum.window.widgets import Notice, Quiet, primary, row_of
from hilum.window.work import WorkDay
from hilum.window.work_dialog import WorkDialog


def state_words(row: Regrowing) -> str:
    """Give where a regrowing stands, with the day or the figure that belongs to it."""
    line = row.line
    if line.state == "sown":
        return f"sown {lot_words.day(line.sown_on)}"
    if line.state == "selected":
        return f"{lot_words.counted(line.plants_kept or 0, 'plant')} kept"
    if line.state == "harvested":
        return f"harvested as {row.new_lot}"
    return line.state


@dataclass(frozen=True, slots=True)
class PlanRow:
    """A regrowing with the lots it would cross with."""

    regrowing: Regrowing
    crosses: tuple[str, ...]

    @property
    def id(self) -> int:
        """The regrowing's own id."""
        return self.regrowing.id

    @property
    def number(self) -> str:
        """The number of the lot that is regrown."""
        return self.regrowing.number


def crosses_words(row: PlanRow) -> str:
    """Give the first of the lots a regrowing would cross with, and how many more."""
    more = len(row.crosses) - 1
    return f"{row.crosses[0]} and {more} more" if more > 0 else "".join(row.crosses)


COLUMNS = (
    Column("Lot", lambda row: row.number),
    Column("Crop and variety", lambda row: row.regrowing.lot.name, least_px=170),
    Column("Year", lambda row: str(row.regrowing.line.year), lambda row: row.regrowing.line.year, right=True,
           least_px=66),
    Column("Garden, bed", lambda row: row.regrowing.where or lot_words.NOT_KNOWN, least_px=120),
    Column("Crosses with", crosses_words, tip=lambda row: ", ".join(row.crosses),
           tone=lambda row: "bad" if row.crosses else "", least_px=150),
    Column("Plants", lambda row: f"{row.regrowing.line.plants:,}", lambda row: row.regrowing.line.plants, right=True,
           least_px=76),
    Column("Seeds", lambda row: f"{row.regrowing.line.seeds:,}", lambda row: row.regrowing.line.seeds, right=True,
           least_px=76, spare=True),
    Column("Now", lambda row: state_words(row.regrowing), lambda row: row.regrowing.line.state, least_px=126),
    Column("Kept apart by", lambda row: row.regrowing.line.isolation or lot_words.NOT_KNOWN, least_px=140,
           spare=True),
    Column("Notes", lambda row: row.regrowing.line.notes, spare=True),
)  # fmt: skip


def _regrowings(catalogue: Any, with_closed: bool) -> RegrowingPlan:
    return bench.regrowings(catalogue, with_closed=with_closed)


class PlanTab(BenchPage):
    """The table of regrowings, a notice of crossings, and one button for each step."""

    title = "Planned and growing"

    def __init__(self, work: WorkDay, questions: Questions, parent: QWidget | None = None) -> None:
        super().__init__(work, questions, parent)
        self._asked = 0
        self._wanted = ""
        self._plan: RegrowingPlan | None = None
        self.dialog: WorkDialog | None = None
        self.crossings = Notice(stays=True)
        self._counted = Quiet("")
        self.closed = QCheckBox("&with those that are done")
        self.table = RowsTable(
            COLUMNS, "Regrowings", "Nothing is planned. Plan a lot under “Should be regrown”.",
            key=lambda row: row.id,
        )  # fmt: skip
        self.table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.sow, self.select = QPushButton("&Sow…"), QPushButton("Selec&t…")
        self.harvest, self.change = QPushButton("&Harvest…"), QPushButton("&Change…")
        self.give_up, self.paper = QPushButton("Give &up…"), QPushButton("&Print the plan…")
        for button in (self.sow, self.select, self.harvest):
            primary(button)
        self._lay_out()
        self._connect()
        self.on_choice()

    def _lay_out(self) -> None:
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 10, 0, 0)
        layout.setSpacing(8)
        layout.addWidget(self.crossings)
        top = row_of(self._counted, stretch=False)
        top.setStretch(0, 1)
        top.addWidget(self.closed)
        layout.addLayout(top)
        layout.addWidget(self.table, 1)
        foot = row_of(self.sow, self.select, self.harvest, self.change, self.give_up)
        foot.addWidget(self.paper)
        layout.addLayout(foot)

    def _connect(self) -> None:
        self.closed.toggled.connect(self.refresh)
        self.table.choice_changed.connect(self.on_choice)
        self.table.row_opened.connect(self.on_row_opened)
        self.sow.clicked.connect(self.on_sow)
        self.select.clicked.connect(self.on_select)
        self.harvest.clicked.connect(self.on_harvest)
        self.change.clicked.connect(self.on_change)
        self.give_up.clicked.connect(self.on_give_up)
        self.paper.clicked.connect(self.on_paper)

    def focus_first(self) -> None:
        self.table.setFocus(Qt.FocusReason.OtherFocusReason)

    # The list.

    def refresh(self) -> None:
        """Load the regrowings anew."""
        self._asked += 1
        asked = self._asked

        def show(plan: RegrowingPlan) -> None:
            if asked == self._asked:
                self.show_plan(plan)

        self.work.run(_regrowings, self.work.catalogue, self.closed.isChecked(), done=show)

    def show_plan(self, plan: RegrowingPlan) -> None:
        """Show the regrowings and what would cross."""
        self._plan = plan
        self.table.set_rows([PlanRow(row, plan.crosses_with(row.number)) for row in plan.rows])
        open_rows = [row for row in plan.rows if row.line.state in OPEN_STATES]
        self._counted.setText(
            f"{lot_words.counted(len(open_rows), 'lot')} planned or growing, "
            f"{lot_words.counted(sum(row.line.plants for row in open_rows), 'plant')} in all."
        )
        self._show_crossings(plan)
        if self._wanted:
            self.table.choose(lambda row: row.number == self._wanted)
            self._wanted = ""
        elif plan.rows and not self.table.chosen():
            self.table.selectRow(0)
        self.on_choice()

    def _show_crossings(self, plan: RegrowingPlan) -> None:
        words = crossing_words(plan.crossings)
        if not words:
            self.crossings.clear()
            return
        sure = any(each.is_sure for each in plan.crossings)
        self.crossings.show_words("bad" if sure else "warn", "\n".join(words))

    def find(self, number: str) -> bool:
        """Say whether a lot is planned or under way."""
        plan = self.work.attempt(bench.regrowings, self.work.catalogue)
        return plan is not None and any(row.number == number for row in plan.rows)

    def start_with(self, lots: tuple[str, ...]) -> None:
        """Put the cursor on a lot."""
        self._wanted = lots[0]
        self.refresh()

    def _chosen(self) -> Regrowing | None:
        chosen = self.table.chosen()
        return chosen[0].regrowing if chosen else None

    def on_choice(self) -> None:
        """Allow the steps that come next."""
        row = self._chosen()
        state = row.line.state if row is not None else ""
        self.sow.setEnabled(state == "planned")
        self.select.setEnabled(state in ("sown", "selected"))
        self.harvest.setEnabled(state in ("sown", "selected"))
        self.change.setEnabled(state in OPEN_STATES)
        self.give_up.setEnabled(state in OPEN_STATES)
        self.paper.setEnabled(self._plan is not None and bool(self._plan.rows))

    # Steps.

    def on_row_opened(self, row: PlanRow) -> None:
        """Open the new lot of what is harvested, else the lot that is regrown."""
        self.lot_wanted.emit(row.regrowing.new_lot or row.number)

    def _ask(self, dialog: WorkDialog) -> None:
        self.dialog = dialog
        dialog.accepted.connect(self.on_done)
        dialog.open()

    def on_sow(self) -> None:
        """Ask how much is sown."""
        row = self._chosen()
        if row is not None:
            self._ask(SowDialog(self.work, self, row))

    def on_select(self) -> None:
        """Ask which plants were kept."""
        row = self._chosen()
        if row is not None:
            self._ask(SelectDialog(self.work, self, row))

    def on_harvest(self) -> None:
        """Take in the harvest."""
        row = self._chosen()
        if row is not None:
            self._ask(HarvestDialog(self.work, self, row))

    def on_change(self) -> None:
        """Change the plan."""
        row = self._chosen()
        if row is not None:
            self._ask(PlanDialog(self.work, self, row.number, row))

    def on_done(self) -> None:
        """Say what was done, and show it."""
        done: Regrowing | None = getattr(self.dialog, "planned", None)
        if done is None:
            return
        words = f"{done.number}: {state_words(done)}."
        if done.new_lot:
            words = (
                f"The harvest of {done.number} is lot {done.new_lot}; it remembers what it was grown from. "
                "It waits on the day sheet to be prepared."
            )
        self.said.emit("good", words)
        self._tell(words)

    def _tell(self, words: str) -> None:
        self.work.changes.tell(words)
        self.refresh()

    def on_give_up(self) -> None:
        """Ask why a regrowing is given up."""
        if self._chosen() is not None:
            words = "Why is it given up? Seed that was sown is not brought back."
            self.questions.ask_text(self, "Give up the regrowing", words, self._give_up)

    def _give_up(self, why: str) -> None:
        row = self._chosen()
        if row is not None and self.work.did(bench.give_up, self.work.catalogue, row.id, why=why):
            self.said.emit("good", f"The regrowing of {row.number} is given up. Ctrl+Z takes that back.")
            self._tell("Regrowing given up.")

    def on_paper(self) -> None:
        """Ask where the plan on paper is kept."""
        day: date = self.work.today()
        self.questions.ask_save_file(
            self, "Print the plan", f"regrowing-{day.isoformat()}.pdf", "PDF (*.pdf)", self.keep_paper
        )

    def keep_paper(self, file: Path) -> None:
        """Write the plan to a file."""
        pdf = self.work.attempt(bench.plan_on_paper, self.work.catalogue, on=self.work.today())
        if pdf is not None and self.work.did(write_whole, file, pdf):
            self.said.emit("good", f"The plan is kept in {file}. Print it at 100 %.")
