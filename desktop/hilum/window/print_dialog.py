"""The printing dialog: labels for some lots, or tags for the dishes of some tests; made, proofed, then printed."""

from collections.abc import Callable, Mapping
from datetime import date
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QCloseEvent, QKeySequence
from PySide6.QtWidgets import (
    QDialog,
    QHBoxLayout,
    QProgressBar,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from hilum.benches import printing
from hilum.benches.keeping import Catalogue
from hilum.benches.printing import LabelJob, OrderedSheets
from hilum.errors import KeeperError
from hilum.window.design_table import open_design_table
from hilum.window.lot_words import counted
from hilum.window.paper_printing import Paper
from hilum.window.print_choices import PrintChoices, dish_designs, lot_designs
from hilum.window.print_sheets import SheetsPanel
from hilum.window.questions import Questions
from hilum.window.widgets import Heading, primary, row_of
from hilum.window.work import Task, WorkDay

FIRST_WORDS = (
    "Choose on the left, then press “Make pages”. Every code is read back before anything is printed."
)
CHANGED_WORDS = "Your choices have changed. Press “Make pages” again."
Maker = Callable[..., OrderedSheets]


def make_lot_pages(
    catalogue: Catalogue,
    lots: tuple[str, ...],
    on: date,
    job: LabelJob,
    copies_of: Mapping[str, int] | None,
    *,
    progress: Any,
    stop: Any,
) -> OrderedSheets:
    """Make label sheets for lots; a function of plain arguments, for the pool."""
    return printing.lot_labels(catalogue, lots, job, on=on, copies_of=copies_of, progress=progress, stop=stop)


def make_dish_pages(
    catalogue: Catalogue,
    test_ids: tuple[int, ...],
    _on: date,
    job: LabelJob,
    _copies_of: Mapping[str, int] | None,
    *,
    progress: Any,
    stop: Any,
) -> OrderedSheets:
    """Make tags for the dishes of some tests; a function of plain arguments, for the pool."""
    return printing.dish_labels(catalogue, test_ids, job, progress=progress, stop=stop)


def open_print_dialog(
    work: WorkDay,
    questions: Questions,
    parent: QWidget,
    lots: tuple[str, ...],
    design: str = "packet",
    *,
    paper: Paper | None = None,
) -> "PrintDialog":
    """Open the printing dialog for labels of some lots, beginning with a design."""
    choices = PrintChoices(work, lot_designs(), design)
    what = f"Labels for {lots[0]}" if len(lots) == 1 else f"Labels for {counted(len(lots), 'lot')}"
    dialog = PrintDialog(work, questions, parent, what, make_lot_pages, tuple(lots), choices, paper)
    choices.offer_lots(questions, tuple(lots))
    choices.set_labels(len(lots))
    dialog.open()
    return dialog


def open_dish_dialog(
    work: WorkDay,
    questions: Questions,
    parent: QWidget,
    test_ids: tuple[int, ...],
    *,
    paper: Paper | None = None,
) -> "PrintDialog":
    """Open the printing dialog for tags of the dishes of some running tests."""
    choices = PrintChoices(work, dish_designs(), "dish")
    what = f"Dish tags for {counted(len(test_ids), 'germination test')}"
    dialog = PrintDialog(work, questions, parent, what, make_dish_pages, tuple(test_ids), choices, paper)
    choices.set_labels(dishes_of(work, tuple(test_ids)))
    dialog.open()
    return dialog


def dishes_of(work: WorkDay, test_ids: tuple[int, ...]) -> int:
    """Count the dishes of some tests, for the drawn sheet."""
    from hilum.benches.testing import count_sheet

    sheets = [work.attempt(count_sheet, work.catalogue, test_id) for test_id in test_ids]
    return sum(len(sheet.dishes) for sheet in sheets if sheet is not None)


class PrintDialog(QDialog):
    """Choices on the left, the finished pages on the right."""

    def __init__(
        self,
        work: WorkDay,
        questions: Questions,
        parent: QWidget,
        what: str,
        maker: Maker,
        wanted: tuple[Any, ...],
        choices: PrintChoices,
        paper: Paper | None = None,
        *,
        again: int | None = None,
    ) -> None:
        """Open on what is to be printed; `again` is the print job whose labels are printed again."""
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle("Print labels")
        self._questions = questions
        self._work, self._what, self._maker, self._wanted = work, what, maker, wanted
        self._task: Task | None = None
        self._is_gone = False
        self._job: LabelJob | None = None
        self.choices = choices
        self.sheets = SheetsPanel(work, questions, paper or Paper(), again=again)
        self._make = primary(QPushButton("&Make pages"))
        self._make.setShortcut(QKeySequence("Ctrl+Return"))
        self._make.setToolTip("Make and proof the pages (Ctrl+Return)")
        self._make.setDefault(True)
        self._stop, self._close = QPushButton("Sto&p"), QPushButton("Clos&e")
        self._change = QPushButton("Chan&ge the design…")
        self._change.setAutoDefault(False)
        self._progress = QProgressBar()
        self._progress.setAccessibleName("Progress of making pages")
        self._lay_out()
        self._connect()
        self._show_making(False)
        self.sheets.show_nothing(FIRST_WORDS)
        self._fit_to_screen()
        self.choices.design.setFocus()

    def _lay_out(self) -> None:
        left = QVBoxLayout()
        left.setSpacing(8)
        left.addWidget(Heading(self._what))
        scroll = QScrollArea()
        scroll.setWidgetResizable(True)
        scroll.setWidget(self.choices)
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.choices.setMinimumHeight(520)
        left.addWidget(scroll, 1)
        left.addWidget(self._progress)
        left.addLayout(row_of(self._make, self._stop, self._change))
        side = QWidget()
        side.setLayout(left)
        left.setContentsMargins(0, 0, 0, 0)
        side.setFixedWidth(446)
        right = QVBoxLayout()
        right.setSpacing(8)
        right.addWidget(self.sheets, 1)
        self.sheets.buttons.addWidget(self._close)
        layout = QHBoxLayout(self)
        layout.setContentsMargins(18, 14, 18, 14)
        layout.setSpacing(18)
        layout.addWidget(side)
        layout.addLayout(right, 1)

    def _fit_to_screen(self) -> None:
        # As large as the window it belongs to, so that a page can be seen whole beside the choices.
        parent = self.parentWidget()
        window = parent.window() if parent is not None else self
        self.resize(max(1000, window.width() - 40), max(660, window.height() - 40))

    def _connect(self) -> None:
        self._make.clicked.connect(self.on_make_wanted)
        self._stop.clicked.connect(self.on_stop_wanted)
        self._close.clicked.connect(self.close)
        self._change.clicked.connect(self.on_change_wanted)
        self.choices.changed.connect(self.on_choice_changed)

    # Making.

    def on_make_wanted(self) -> None:
        """Make and proof the pages in the pool."""
        try:
            self._job = self.choices.job()
            self.choices.keep()
        except KeeperError as error:
            self.sheets.show_nothing(FIRST_WORDS)
            self.sheets.notice.show_bad(str(error))
            return
        self.sheets.show_nothing("Making pages and reading every code back…")
        self._show_making(True)
        self._task = self._work.run(
            self._maker, self._work.catalogue, self._wanted, self._work.today(), self._job, self.choices.copies_of,
            done=self.on_made, failed=self.on_failed, progress=self.on_moved_on,
        )  # fmt: skip

    def on_moved_on(self, reached: int, of: int) -> None:
        """Show how far it is."""
        if not self._is_gone:
            self._progress.setRange(0, of)
            self._progress.setValue(reached)

    def on_made(self, sheets: OrderedSheets) -> None:
        """Show the pages and what the proof found."""
        self._task = None
        if self._is_gone or self._job is None:
            return
        self._show_making(False)
        title = f"{self._what}, {self.choices.design_title()}"
        self.sheets.show_sheets(sheets, self._job.label_stock, self._job.dpi, title)
        self.sheets.send.setFocus()

    def on_failed(self, words: str) -> None:
        """Say why there are no pages; there is nothing to print."""
        was_stopped = self._task is not None and self._task.is_cancelled
        self._task = None
        if self._is_gone:
            return
        self._show_making(False)
        self.sheets.show_nothing(FIRST_WORDS)
        if was_stopped:
            self.sheets.notice.show_warn(words)
        else:
            self.sheets.notice.show_bad(words)

    def on_stop_wanted(self) -> None:
        """Stop making pages; none are kept."""
        if self._task is not None:
            self._task.cancel()

    def on_choice_changed(self) -> None:
        """Take away pages that were made by other choices."""
        if self.sheets.has_pages:
            self.sheets.show_nothing(CHANGED_WORDS)

    def on_change_wanted(self) -> None:
        """Lay the chosen design on the table; one that is saved there is chosen here."""
        stock = self.choices.stock.stock_name()
        table = open_design_table(self._work, self._questions, self, self.choices.design.currentData(), stock)
        table.design_saved.connect(self.choices.offer_design)

    def _show_making(self, is_making: bool) -> None:
        self._progress.setRange(0, 0)
        self._progress.setVisible(is_making)
        self._make.setVisible(not is_making)
        self._stop.setVisible(is_making)
        self._change.setVisible(not is_making)
        self.choices.setEnabled(not is_making)
        if is_making:
            self._stop.setFocus()

    # Closing.

    def done(self, result: int) -> None:
        self._let_go()
        super().done(result)

    def closeEvent(self, event: QCloseEvent) -> None:
        self._let_go()
        super().closeEvent(event)

    def _let_go(self) -> None:
        self._is_gone = True
        self.sheets.forget()
        if self._task is not None:
            self._task.cancel()


class SheetsDialog(QDialog):
    """Pages that are finished already, such as those of packets just filled: to look at, print or save."""

    def __init__(
        self, work: WorkDay, questions: Questions, parent: QWidget, what: str, paper: Paper | None = None
    ) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle("Print labels")
        # Whoever finished them wrote them into the print book in the same step.
        self.sheets = SheetsPanel(work, questions, paper or Paper(), is_booked=True)
        self._close = QPushButton("Clos&e")
        self.sheets.buttons.addWidget(self._close)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(18, 14, 18, 14)
        layout.setSpacing(8)
        layout.addWidget(Heading(what))
        layout.addWidget(self.sheets, 1)
        self._close.clicked.connect(self.close)
        window = parent.window()
        self.resize(max(760, window.width() * 7 // 10), max(620, window.height() - 40))

    def done(self, result: int) -> None:
        self.sheets.forget()
        super().done(result)
