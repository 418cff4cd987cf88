"""Packing one lot: the stock, the batch, the labels and their PDF by one press, or not at all."""

from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QProgressBar,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from hilum.benches.folders import data_folder
from hilum.benches.packing import Packed
from hilum.errors import KeeperError
from hilum.window.lot_words import counted
from hilum.window.packing_form import PackingForm, packets_words
from hilum.window.packing_today import PackedToday
from hilum.window.packing_work import PackedLine, PackingOrder, pack_and_keep, packed_on
from hilum.window.page import BenchPage
from hilum.window.paper_printing import Paper
from hilum.window.print_choices import PrintChoices, lot_designs
from hilum.window.print_dialog import SheetsDialog
from hilum.window.print_files import file_name, free_name
from hilum.window.print_memory import remember, remembered
from hilum.window.print_sheets import PDF_FILTER
from hilum.window.questions import Questions
from hilum.window.widgets import Heading, Quiet, card, primary, row_of
from hilum.window.work import Task, WorkDay

CHOOSE_WORDS = "Choose a lot first."
BEFORE_WORDS = "This draws the seed from stock and makes the labels together, or does nothing."


class OneLotTab(BenchPage):
    """Shows the lot and its packets on the left, the labels on the right, what was packed today below."""

    title = "One lot"

    def __init__(self, work: WorkDay, questions: Questions, parent: QWidget | None = None) -> None:
        super().__init__(work, questions, parent)
        self.paper = Paper()
        self._task: Task | None = None
        self._order: PackingOrder | None = None
        self._chosen_file: Path | None = None
        self.form = PackingForm(work)
        self.choices = PrintChoices(work, lot_designs(), with_copies=False)
        self.today = PackedToday()
        self._total = Quiet("")
        self.pack = primary(QPushButton("&Pack and make labels"))
        self.pack.setToolTip("Ctrl+Return")
        self.stop = QPushButton("&Stop")
        self._file = QLabel()
        self._file.setTextFormat(Qt.TextFormat.PlainText)
        self._file.setAccessibleName("File that keeps the pages")
        self.other_file = QPushButton("&Keep elsewhere…")
        self._state = Quiet("")
        self._progress = QProgressBar()
        self._progress.setAccessibleName("Progress of packing")
        self._lay_out()
        self._connect()
        self._show_busy(False)
        self.on_form_changed()

    def _lay_out(self) -> None:
        left = QVBoxLayout()
        left.addWidget(self.form)
        right = QVBoxLayout()
        right.addWidget(Heading("Labels"))
        right.addWidget(self.choices, 1)
        sides = QHBoxLayout()
        sides.setSpacing(12)
        sides.addWidget(card(left), 1)
        sides.addWidget(card(right), 1)
        below = QVBoxLayout()
        heading = row_of(Heading("Packed today"), stretch=False)
        heading.addWidget(self._total, 1)
        below.addLayout(heading)
        self.today.setMinimumHeight(150)
        below.addWidget(self.today)
        inside = QWidget()
        whole = QVBoxLayout(inside)
        whole.setContentsMargins(0, 0, 8, 0)
        whole.setSpacing(12)
        whole.addLayout(sides, 1)
        whole.addLayout(below)
        scroll = QScrollArea()
        scroll.setWidgetResizable(True)
        scroll.setWidget(inside)
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 10, 0, 0)
        layout.setSpacing(8)
        layout.addWidget(scroll, 1)
        layout.addWidget(self._progress)
        foot = row_of(self.pack, self.stop, stretch=False)
        foot.addWidget(self._state, 1)
        foot.addWidget(self.other_file)
        layout.addLayout(foot)
        layout.addWidget(self._file)

    def _connect(self) -> None:
        self.pack.clicked.connect(self.on_pack_wanted)
        self.stop.clicked.connect(self.on_stop_wanted)
        self.other_file.clicked.connect(self.on_other_file_wanted)
        self.form.changed.connect(self.on_form_changed)
        self.choices.changed.connect(self.on_form_changed)
        self.today.row_opened.connect(self.on_row_opened)

    # What the window asks.

    def refresh(self) -> None:
        if self._task is None:
            self.form.show_lot(self.form.choice.number)
        self._load_today()

    def focus_first(self) -> None:
        self.form.choice.line.setFocus()
        self.form.choice.line.selectAll()

    def start_with(self, lots: tuple[str, ...]) -> None:
        """Bring up a lot that another bench has sent."""
        self.form.choice.take(lots[0])

    # What stands below the form.

    def on_form_changed(self) -> None:
        """Say what would be done, and allow it or not."""
        packets = self.form.packets.value()
        self.choices.set_labels(packets)
        ready = self.form.can_pack and self._task is None
        self.pack.setEnabled(ready)
        self.other_file.setEnabled(ready)
        if self.form.lot is None:
            self._state.setText(CHOOSE_WORDS)
        elif not self.form.can_pack:
            self._state.setText("Nothing can be packed: see above.")
        else:
            self._state.setText(BEFORE_WORDS)
        self._file.setText(f"Pages are kept in {self._wanted_file()}" if ready else "")

    def _wanted_file(self) -> Path:
        if self._chosen_file is not None:
            return self._chosen_file
        folder = Path(remembered().folder) if remembered().folder else data_folder() / "labels"
        number = self.form.lot.number if self.form.lot is not None else "lot"
        words = f"{self.work.today().isoformat()} {number} {self.form.packets.value()} packets"
        return free_name(folder / f"{file_name(words)}.pdf")

    def on_other_file_wanted(self) -> None:
        """Ask where the pages of this packing are to be kept."""
        self.questions.ask_save_file(self, "Keep the labels", self._wanted_file(), PDF_FILTER, self.keep_in)

    def keep_in(self, file: Path) -> None:
        """Keep the pages of this packing in a file that was chosen, and the next ones in its folder."""
        self._chosen_file = file
        memory = remembered()
        memory.folder = str(file.parent)
        self.work.attempt(remember, memory)
        self.on_form_changed()

    # Packing.

    def on_pack_wanted(self) -> None:
        """Pack in the pool: everything, or nothing."""
        lot = self.form.lot
        if lot is None or self._task is not None or not self.form.can_pack:
            return
        try:
            job = self.choices.job()
            self._keep_choices()
        except KeeperError as error:
            self.said.emit("bad", f"Nothing was packed. {error}")
            return
        self._order = PackingOrder(
            lot.number, self.form.packets.value(), self.form.seeds.value(), self.form.viable.isChecked(), job,
            self.work.today(), self._wanted_file(),
        )  # fmt: skip
        self._task = self.work.run(
            pack_and_keep, self.work.catalogue, self._order,
            done=self.on_packed, failed=self.on_failed, progress=self.on_moved_on,
        )  # fmt: skip
        self._show_busy(True)

    def _keep_choices(self) -> None:
        self.choices.keep()
        memory = remembered()
        memory.packets, memory.seeds = self.form.packets.value(), self.form.seeds.value()
        remember(memory)

    def on_moved_on(self, reached: int, of: int) -> None:
        """Show how far the labels are."""
        self._progress.setRange(0, of)
        self._progress.setValue(reached)

    def on_stop_wanted(self) -> None:
        """Stop; nothing is packed then."""
        if self._task is not None:
            self._task.cancel()

    def on_packed(self, packed: Packed) -> None:
        """Show what was packed and its pages."""
        order, self._task, self._chosen_file = self._order, None, None
        assert order is not None
        self._show_busy(False)
        words = packets_words(packed.lot.number, packed.packets, packed.seeds_per_packet)
        self.work.changes.tell(f"packed {words}")
        self.refresh()
        self.said.emit("good", f"Packed {words}. The pages are kept in {order.file}.")
        dialog = SheetsDialog(self.work, self.questions, self, words, self.paper)
        title = f"{words}, {self.choices.design_title()}"
        dialog.sheets.show_sheets(packed.sheets, order.job.label_stock, order.job.dpi, title)
        self.choices.move_on(packed.packets)
        dialog.finished.connect(self.on_pages_closed)
        dialog.open()
        dialog.sheets.send.setFocus()

    def on_pages_closed(self) -> None:
        """Go on to the line for a lot."""
        self.focus_first()

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
        self.form.setEnabled(not is_busy)
        self.choices.setEnabled(not is_busy)
        if is_busy:
            self.other_file.setEnabled(False)
            self.stop.setFocus()
        else:
            self.on_form_changed()

    # Packed today.

    def _load_today(self) -> None:
        self.work.run(packed_on, self.work.catalogue, self.work.today(), done=self.on_today_loaded)

    def on_today_loaded(self, lines: tuple[PackedLine, ...]) -> None:
        """Show what was packed today."""
        self.today.set_rows(lines)
        packets = counted(sum(line.packets for line in lines), "packet")
        self._total.setText(f"{packets} in {counted(len(lines), 'batch', 'batches')}" if lines else "")

    def on_row_opened(self, line: PackedLine) -> None:
        """Open the page of a lot that was packed."""
        self.lot_wanted.emit(line.lot)
