"""Packing the season's list: lots with their figures, ticked, packed by one press into one proofed PDF."""

from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QProgressBar, QPushButton, QSplitter, QVBoxLayout, QWidget

from hilum.benches.folders import data_folder
from hilum.benches.season import PlannedRow, SeasonPlan, season_plan
from hilum.benches.season_packing import SeasonPacked
from hilum.errors import KeeperError
from hilum.window.label_choices import LabelChoices
from hilum.window.lot_words import counted
from hilum.window.packing_work import SeasonOrder, pack_season_and_keep
from hilum.window.page import BenchPage
from hilum.window.paper_printing import Paper
from hilum.window.print_dialog import SheetsDialog
from hilum.window.print_files import file_name, free_name
from hilum.window.print_memory import remembered
from hilum.window.questions import Questions
from hilum.window.season_edits import SeasonEdits
from hilum.window.season_lists_row import SeasonListsRow
from hilum.window.season_row_panel import RowPanel
from hilum.window.season_table import SeasonTable
from hilum.window.widgets import Quiet, primary
from hilum.window.work import Task, WorkDay


class SeasonTab(BenchPage):
    """The list on top, its table, the lot under the cursor below, and the one press that packs what is ticked."""

    title = "The season's list"

    def __init__(self, work: WorkDay, questions: Questions, parent: QWidget | None = None) -> None:
        super().__init__(work, questions, parent)
        self.paper = Paper()
        self.plan: SeasonPlan | None = None
        self._task: Task | None = None
        self._order: SeasonOrder | None = None
        self._asked = 0
        self.top = SeasonListsRow(work, questions)
        self.table = SeasonTable()
        self.panel = RowPanel()
        self.choices = LabelChoices(work)
        self.pack = primary(QPushButton("&Pack"))
        self.pack.setToolTip("Ctrl+Return")
        self.stop = QPushButton("Sto&p")
        self.paper_list = QPushButton("Print the fillin&g list…")
        self.labels = QPushButton("&Labels…")
        self._state = Quiet("")
        self._progress = QProgressBar()
        self._progress.setAccessibleName("Progress of packing")
        self.edits = SeasonEdits(self)
        self._lay_out()
        self._connect()
        self._show_busy(False)

    def _lay_out(self) -> None:
        split = QSplitter(Qt.Orientation.Vertical)
        split.addWidget(self.table)
        split.addWidget(self.panel)
        split.setStretchFactor(0, 1)
        split.setStretchFactor(1, 0)
        split.setChildrenCollapsible(False)
        self.table.setMinimumHeight(140)
        self.panel.setMinimumHeight(178)
        split.setSizes([400, 190])
        foot = QHBoxLayout()
        foot.setSpacing(8)
        for widget in (self.pack, self.stop):
            foot.addWidget(widget)
        foot.addWidget(self._state, 1)
        for widget in (self.labels, self.paper_list):
            foot.addWidget(widget)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 10, 0, 0)
        layout.setSpacing(8)
        layout.addWidget(self.top)
        layout.addWidget(split, 1)
        layout.addWidget(self._progress)
        layout.addLayout(foot)

    def _connect(self) -> None:
        self.top.list_chosen.connect(self.refresh)
        self.top.lots_added.connect(self.edits.on_added)
        self.top.said.connect(self.said)
        self.table.figure_typed.connect(self.edits.on_figure)
        self.table.pasted.connect(self.edits.on_pasted)
        self.table.remove_wanted.connect(self.edits.on_remove)
        self.table.germination_wanted.connect(self.edits.on_germination_key)
        self.table.row_opened.connect(self.on_row_opened)
        self.table.selectionModel().currentRowChanged.connect(self.on_row)
        self.table.season.ticked_changed.connect(self.show_state)
        self.table.rows_model.modelReset.connect(self.on_row)
        self.panel.germination_chosen.connect(self.edits.on_germination)
        self.panel.usual_wanted.connect(self.edits.on_usual)
        self.panel.lot_opened.connect(self.on_open)
        self.panel.ten_weighed.connect(self.edits.on_ten)
        self.panel.spoon_counted.connect(self.edits.on_spoon)
        self.labels.clicked.connect(self.on_labels)
        self.choices.chosen.connect(self.show_state)
        self.paper_list.clicked.connect(self.on_paper_list)
        self.pack.clicked.connect(self.on_pack_wanted)
        self.stop.clicked.connect(self.on_stop_wanted)

    # What is shown.

    def refresh(self) -> None:
        """Load the list anew."""
        self.top.load()
        list_id = self.top.list_id()
        if list_id is None:
            self.show_plan(None)
            return
        self._asked += 1
        asked = self._asked

        def show(plan: SeasonPlan) -> None:
            if asked == self._asked:
                self.show_plan(plan)

        self.work.run(_planned, self.work.catalogue, list_id, self.work.today(), done=show)

    def show_plan(self, plan: SeasonPlan | None) -> None:
        """Show a list with what its rows take."""
        self.plan = plan
        self.table.set_rows(plan.rows if plan is not None else ())
        self.table.fit_columns()
        if self.edits.go_to and plan is not None:
            self.table.go_to(self.edits.go_to)
            self.edits.go_to = ""
        self.show_state()

    def focus_first(self) -> None:
        self.top.line.setFocus()

    def start_with(self, lots: tuple[str, ...]) -> None:
        """Put lots that another bench has sent on the list."""
        self.top.add(lots)

    def on_row(self, *_: object) -> None:
        """Show the lot under the cursor below."""
        self.panel.show_row(self.table.current(), self.work.today())

    def show_state(self) -> None:
        """Say what the press would do."""
        rows = self.table.ticked()
        packets = sum(row.left for row in rows)
        self.choices.set_labels(packets)
        barred = sum(1 for row in self.table.rows() if row.left and row.bar)
        self.pack.setText(f"&Pack {counted(packets, 'packet')}" if rows else "&Pack")
        self.pack.setEnabled(bool(rows) and self._task is None)
        self.paper_list.setEnabled(any(row.left for row in self.table.rows()))
        words = []
        if rows:
            words.append(f"{counted(len(rows), 'lot')}, on {self.choices.words()}.")
        elif self.table.rows():
            words.append("Nothing is ticked.")
        if barred:
            words.append(f"{counted(barred, 'lot')} cannot be packed: see “Look at”.")
        self._state.setText(" ".join(words))

    def on_row_opened(self, row: PlannedRow) -> None:
        """Open the page of a lot."""
        self.lot_wanted.emit(row.number)

    def on_open(self) -> None:
        """Open the page of the lot under the cursor."""
        row = self.table.current()
        if row is not None:
            self.lot_wanted.emit(row.number)

    # Packing.

    def on_labels(self) -> None:
        """Show what the labels are printed on, and let it be changed."""
        self.choices.open_over(self)

    def on_paper_list(self) -> None:
        """Ask where the list to fill by is kept."""
        name = "season" if self.plan is None else self.plan.list.name
        start = f"{file_name(f'to fill {name}')}.pdf"
        self.questions.ask_save_file(
            self, "Print the filling list", start, "PDF (*.pdf)", self.edits.keep_paper
        )

    def on_pack_wanted(self) -> None:
        """Pack every ticked row in the pool: everything, or nothing."""
        self.table.keep_typed()
        rows = self.table.ticked()
        if self.plan is None or not rows or self._task is not None:
            return
        try:
            job = self.choices.job()
            self.choices.keep()
        except KeeperError as error:
            self.said.emit("bad", f"Nothing was packed. {error}")
            return
        self._order = SeasonOrder(
            self.plan.list.id, tuple(row.id for row in rows), job, self.work.today(), self._wanted_file()
        )
        self._task = self.work.run(
            pack_season_and_keep, self.work.catalogue, self._order,
            done=self.on_packed, failed=self.on_failed, progress=self.on_moved_on,
        )  # fmt: skip
        self._show_busy(True)

    def _wanted_file(self) -> Path:
        assert self.plan is not None
        folder = Path(remembered().folder) if remembered().folder else data_folder() / "labels"
        return free_name(
            folder / f"{file_name(f'{self.work.today().isoformat()} {self.plan.list.name}')}.pdf"
        )

    def on_moved_on(self, reached: int, of: int) -> None:
        """Show how far the labels are."""
        self._progress.setRange(0, of)
        self._progress.setValue(reached)

    def on_stop_wanted(self) -> None:
        """Stop; nothing is packed then."""
        if self._task is not None:
            self._task.cancel()

    def on_packed(self, packed: SeasonPacked) -> None:
        """Show what was packed and its pages."""
        order, self._task = self._order, None
        assert order is not None
        self._show_busy(False)
        words = f"{counted(packed.packets, 'packet')} from {counted(len(packed.rows), 'lot')}"
        self.work.changes.tell(f"packed {words}")
        self.refresh()
        self.said.emit(
            "good", f"Packed {words}. Ctrl+Z takes all of it back. The pages are kept in {order.file}."
        )
        dialog = SheetsDialog(self.work, self.questions, self, words, self.paper)
        dialog.sheets.show_sheets(packed.sheets, order.job.label_stock, order.job.dpi, f"{words}")
        self.choices.move_on(packed.packets)
        dialog.finished.connect(self.on_pages_closed)
        dialog.open()
        dialog.sheets.send.setFocus()

    def on_pages_closed(self) -> None:
        """Go back to the table."""
        self.table.setFocus()

    def on_failed(self, words: str) -> None:
        """Say why nothing was packed."""
        was_stopped = self._task is not None and self._task.is_cancelled
        self._task = None
        self._show_busy(False)
        self.refresh()
        nothing = "" if "othing was packed" in words else " Nothing was packed."
        self.said.emit("warn" if was_stopped else "bad", words + nothing)

    def _show_busy(self, is_busy: bool) -> None:
        self._progress.setRange(0, 0)
        self._progress.setVisible(is_busy)
        self.stop.setVisible(is_busy)
        self.pack.setVisible(not is_busy)
        for widget in (self.top, self.table, self.panel, self.labels, self.paper_list):
            widget.setEnabled(not is_busy)
        if is_busy:
            self.stop.setFocus()
        else:
            self.on_row()
            self.show_state()


def _planned(catalogue: object, list_id: int, on: object) -> SeasonPlan:
    return season_plan(catalogue, list_id, on=on)  # type: ignore[arg-type]
