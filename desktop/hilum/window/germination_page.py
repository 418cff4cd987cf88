"""The testing bench: what stands and what is due on the left, the work on one test on the right."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QHBoxLayout,
    QPushButton,
    QScrollArea,
    QSplitter,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from hilum.benches import lots, testing
from hilum.benches.results import GerminationResult
from hilum.benches.views import LotView
from hilum.window import germination_words
from hilum.window.germination_counts import CountPanel
from hilum.window.germination_record import RecordPanel
from hilum.window.germination_result import ResultPanel
from hilum.window.germination_start import StartPanel
from hilum.window.models import Column, RowsTable
from hilum.window.page import BenchPage
from hilum.window.questions import Questions
from hilum.window.widgets import Heading, Title
from hilum.window.work import WorkDay

MOST_DUE = 500


class GerminationPage(BenchPage):
    """Starts, counts, finishes and records germination tests."""

    title = "Testing"

    def __init__(self, work: WorkDay, questions: Questions, parent: QWidget | None = None) -> None:
        super().__init__(work, questions, parent)
        today = work.today()
        self.running = RowsTable(
            (
                Column("Lot", lambda test: test.lot),
                Column("Count", lambda test: germination_words.next_count(test, today), least_px=170,
                       tone=lambda test: germination_words.tone_of_count(test, today)),
                Column("Variety", lambda test: test.variety, least_px=120, spare=True),
            ),
            "Running tests", "No dishes stand.", key=lambda test: test.id,
        )  # fmt: skip
        self.due = RowsTable(
            (
                Column("Lot", lambda lot: lot.number),
                Column("Variety", lambda lot: lot.line.variety, least_px=110),
                Column("Why", lambda lot: lot.line.due_why, least_px=110, spare=True),
            ),
            "Lots due for a test", "No lot is due.", key=lambda lot: lot.number,
        )  # fmt: skip
        self.start, self.count = StartPanel(work), CountPanel(work)
        self.record, self.result = RecordPanel(work), ResultPanel()
        self._stack = QStackedWidget()
        self._start, self._record = QPushButton("&Start a test"), QPushButton("Record a &finished test")
        self._paper = QPushButton("Count sheet on &paper…")
        self._paper.setToolTip("For the tests chosen under “Running”, or for all of them")
        self._lay_out()
        self._connect()
        self.refresh()

    def _lay_out(self) -> None:
        left = QWidget()
        inside = QVBoxLayout(left)
        inside.setContentsMargins(0, 0, 8, 0)
        for widget in (Heading("Running"), self.running, Heading("Due"), self.due):
            inside.addWidget(widget)
        for panel in (self.start, self.count, self.record, self.result):
            area = QScrollArea()
            area.setWidgetResizable(True)
            area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
            area.setWidget(panel)
            panel.setContentsMargins(10, 0, 6, 0)
            self._stack.addWidget(area)
        splitter = QSplitter()
        splitter.setChildrenCollapsible(False)
        splitter.addWidget(left)
        splitter.addWidget(self._stack)
        splitter.setSizes([290, 640])
        splitter.setStretchFactor(1, 1)
        head = QHBoxLayout()
        head.addWidget(Title("Testing"), 1)
        head.addWidget(self._paper)
        head.addWidget(self._start)
        head.addWidget(self._record)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(16, 4, 16, 6)
        layout.addLayout(head)
        layout.addWidget(splitter, 1)

    def _connect(self) -> None:
        self._paper.clicked.connect(self.on_paper)
        self._start.clicked.connect(self.on_start_wanted)
        self._record.clicked.connect(self.on_record_wanted)
        self.running.choice_changed.connect(self.on_running_chosen)
        self.running.row_opened.connect(self.open_test)
        self.due.choice_changed.connect(self.on_due_chosen)
        self.due.row_opened.connect(self.on_due_opened)
        self.start.laid.connect(self.on_laid)
        self.count.counted.connect(self.on_counted)
        self.count.finished.connect(self.on_finished)
        self.count.tags_wanted.connect(self.on_tags)
        self.count.give_up_wanted.connect(self.on_give_up)
        self.record.finished.connect(self.on_finished)
        self.result.lot_wanted.connect(self.lot_wanted)

    # Showing.

    def refresh(self) -> None:
        tests = self.work.attempt(testing.running, self.work.catalogue)
        if tests is not None:
            self.running.set_rows(tests)
            self._paper.setEnabled(bool(tests))
        page = self.work.attempt(
            lots.find_lots,
            self.work.catalogue,
            lots.LotFilter(due=True),
            on=self.work.today(),
            sort="due",
            limit=MOST_DUE,
        )
        if page is not None:
            self.due.set_rows(page.lots)
        self.start.refresh()
        if self._shows(self.count) and self.count.test_id:
            self.count.show_day()

    def _shows(self, panel: QWidget) -> bool:
        area = self._stack.currentWidget()
        return isinstance(area, QScrollArea) and area.widget() is panel

    def _show(self, panel: QWidget) -> None:
        for place in range(self._stack.count()):
            area = self._stack.widget(place)
            if isinstance(area, QScrollArea) and area.widget() is panel:
                self._stack.setCurrentIndex(place)

    def focus_first(self) -> None:
        if self.running.rows() and not self._shows(self.start):
            self.running.setFocus()
        else:
            self.start.choice.line.setFocus()

    def start_with(self, lots: tuple[str, ...]) -> None:
        """Count the test of a lot that is under test; else begin its test, the others waiting behind it."""
        standing = {test.lot: test for test in self.running.rows()}
        if len(lots) == 1 and lots[0] in standing:
            self.open_test(standing[lots[0]])
            return
        self._show(self.start)
        self.start.take(tuple(number for number in lots if number not in standing))

    # What the keeper chooses.

    def on_start_wanted(self) -> None:
        """Bring up the panel that starts a test."""
        self._show(self.start)
        self.start.choice.line.setFocus()

    def on_record_wanted(self) -> None:
        """Bring up the panel for a finished test."""
        self._show(self.record)
        self.record.choice.line.setFocus()

    def on_running_chosen(self) -> None:
        """Open the test that was chosen; a choice that comes back with a reloaded list is nobody's wish."""
        chosen = self.running.chosen()
        if len(chosen) == 1 and self.running.hasFocus():
            self.open_test(chosen[0], take_focus=False)

    def open_test(self, test: testing.GerminationTestLine, *, take_focus: bool = True) -> None:
        """Show the count sheet of a test."""
        self._show(self.count)
        self.count.open(test.id)
        if take_focus:
            self.count.table.setFocus()

    def on_due_chosen(self) -> None:
        """Propose the test of a lot that is due."""
        chosen = self.due.chosen()
        if chosen and self.due.hasFocus():
            self._show(self.start)
            self.start.take(tuple(lot.number for lot in chosen))

    def on_due_opened(self, lot: LotView) -> None:
        """Enter on a lot that is due goes to its dishes."""
        self.start.dishes.setFocus()

    # What was done.

    def on_laid(self, test_id: int, words: str) -> None:
        """Say it, and offer the tags."""
        self.said.emit("good", words)
        self.work.changes.tell(words)
        self.questions.confirm(
            self,
            "Dish tags",
            f"{words} Print a tag for each dish?",
            "Print tags",
            lambda: self.on_tags(test_id),
        )

    def on_counted(self, words: str) -> None:
        """Say it, and show the sheet anew."""
        self.said.emit("good", words)
        self.work.changes.tell(words)

    def on_finished(self, result: GerminationResult) -> None:
        """Show how the test was judged."""
        self.result.show_result(result)
        self._show(self.result)
        words = f"{result.lot.number}: {result.test.normal_percent} %, {result.verdict}."
        self.said.emit("good", words)
        self.work.changes.tell(words)

    def on_tags(self, test_id: int) -> None:
        """Print the tags of a test's dishes."""
        from hilum.window.print_dialog import open_dish_dialog

        open_dish_dialog(self.work, self.questions, self, (test_id,))

    def on_paper(self) -> None:
        """Make a count sheet to take to the dishes."""
        from hilum.window.paper_dialog import open_count_paper

        wanted = self.running.chosen() or self.running.rows()
        if wanted:
            open_count_paper(self.work, self.questions, self, tuple(test.id for test in wanted))

    def on_give_up(self, test_id: int) -> None:
        """Ask why, then give the test up."""

        def with_reason(why: str) -> None:
            given_up = self.work.attempt(
                testing.abandon_test, self.work.catalogue, test_id, on=self.work.today(), why=why
            )
            if given_up is not None:
                self._show(self.start)
                words = f"The test of {given_up.lot} was given up: {why}."
                self.said.emit("warn", words)
                self.work.changes.tell(words)

        self.questions.ask_text(
            self, "Give the test up", "Why is it given up? The seed laid in it is spent.", with_reason
        )
