"""The testing bench: what stands and what is due on the left, the work on one test on the right."""

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QKeySequence
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
from hilum.window import germination_words, lot_words
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
                Column("Lot", lambda row: row.test.lot),
                Column("Count", lambda row: germination_words.next_count(row, today), least_px=178,
                       sort=lambda row: row.next_count_on,
                       tone=lambda row: germination_words.tone_of_count(row, today)),
                Column("Normal", lambda row: f"{row.normal} of {row.test.seeds}", sort=lambda row: row.normal,
                       tip=lambda row: f"{row.normal} normal, {row.left} left in the dishes", least_px=104, spare=True),
                Column("Variety", lambda row: row.test.variety, least_px=110, spare=True),
            ),
            "Running tests", "No dishes stand.", key=lambda row: row.test.id,
        )  # fmt: skip
        self.due = RowsTable(
            (
                Column("Lot", lambda lot: lot.number),
                Column("Why", lambda lot: germination_words.short_reason(lot.line.due_why), least_px=150,
                       tip=lambda lot: f"{lot.name}: {lot.line.due_why}"),
                Column("Name", lambda lot: lot.name, least_px=150, spare=True),
                Column("Since", lambda lot: lot_words.day(lot.line.due_on), least_px=110,
                       sort=lambda lot: lot.line.due_on, spare=True),
            ),
            "Lots due for a test", "No lot is due.", key=lambda lot: lot.number,
        )  # fmt: skip
        self.start, self.count = StartPanel(work), CountPanel(work, questions)
        self.record, self.result = RecordPanel(work), ResultPanel()
        # Tests laid one after the other whose tags are offered together.
        self._without_tags: tuple[int, ...] = ()
        self._stack = QStackedWidget()
        self._start, self._record = QPushButton("St&art a test"), QPushButton("Re&cord a finished test")
        self._paper = QPushButton("Count sheet on &paper…")
        self._paper.setToolTip("For the tests chosen under “Running”, or for all of them")
        self._lay_out()
        self._connect()
        self._make_actions()
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
            panel.setContentsMargins(6, 0, 2, 0)
            self._stack.addWidget(area)
        splitter = QSplitter()
        splitter.setChildrenCollapsible(False)
        splitter.addWidget(left)
        splitter.addWidget(self._stack)
        splitter.setSizes([350, 550])
        splitter.setStretchFactor(0, 2)
        splitter.setStretchFactor(1, 3)
        head = QHBoxLayout()
        head.addWidget(Title("Testing"), 1)
        head.addWidget(self._paper)
        head.addWidget(self._start)
        head.addWidget(self._record)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 4, 0, 0)
        layout.addLayout(head)
        layout.addWidget(splitter, 1)

    def _connect(self) -> None:
        self._paper.clicked.connect(self.on_paper)
        self._start.clicked.connect(self.on_start_wanted)
        self._record.clicked.connect(self.on_record_wanted)
        self.running.choice_changed.connect(self.on_running_chosen)
        self.running.row_opened.connect(self.on_running_opened)
        self.due.choice_changed.connect(self.on_due_chosen)
        self.due.row_opened.connect(self.on_due_opened)
        self.start.laid.connect(self.on_laid)
        self.count.group_laid.connect(self.on_group_laid)
        self.count.counted.connect(self.on_counted)
        self.count.finished.connect(self.on_finished)
        self.count.tags_wanted.connect(self.on_tags)
        self.count.give_up_wanted.connect(self.on_give_up)
        self.record.finished.connect(self.on_finished)
        self.result.lot_wanted.connect(self.lot_wanted)

    def _make_actions(self) -> None:
        self._action("&Lay the dishes, write the count, or record the test", "Ctrl+Return", self.on_go)
        self._action("&Next lot that waits", "F8", self.on_next)
        self._action("&Start a test", "Ctrl+T", self.on_start_wanted)
        self._action("&Record a finished test", "Ctrl+R", self.on_record_wanted)
        self._action("&Finish the test", "Ctrl+Shift+Return", self.count.finish.click)
        self._action("&Dish tags…", "Ctrl+P", self.count.tags.click)

    def _action(self, words: str, keys: str, slot: Callable[[], None]) -> None:
        action = QAction(words, self)
        action.setShortcut(QKeySequence(keys))
        action.setShortcutContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        action.triggered.connect(slot)
        self.addAction(action)

    def on_go(self) -> None:
        """Do the main thing of the panel that is shown."""
        for panel, button in (
            (self.start, self.start.button), (self.count, self.count.write), (self.record, self.record.button)
        ):  # fmt: skip
            if self._shows(panel):
                button.click()
                return

    def on_next(self) -> None:
        """Go on to the next lot that waits for its dishes."""
        if self.start.choice.waiting:
            self._show(self.start)
            self.start.choice.take_next()

    # Showing.

    def refresh(self) -> None:
        tests = self.work.attempt(testing.standing_tests, self.work.catalogue)
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
        standing = {row.test.lot: row.test for row in self.running.rows()}
        to_start = tuple(number for number in lots if number not in standing)
        if to_start:
            self._show(self.start)
            self.start.take(to_start)
        elif lots:
            # Several dishes to count: the first sheet opens, the others are chosen in the list.
            self.running.choose(lambda row: row.test.lot in lots)
            self.open_test(standing[lots[0]])

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
            self.open_test(chosen[0].test, take_focus=False)

    def on_running_opened(self, row: testing.StandingTest) -> None:
        """Enter on a test goes to its count sheet."""
        self.open_test(row.test)

    def open_test(self, test: testing.GerminationTestLine, *, take_focus: bool = True) -> None:
        """Show the count sheet of a test."""
        self._show(self.count)
        area = self._stack.currentWidget()
        if self.count.test_id != test.id and isinstance(area, QScrollArea):
            area.verticalScrollBar().setValue(0)
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
        """Say it, and offer the tags: of one lot at once, of a queue when its last lot is laid."""
        self.said.emit("good", words)
        self._without_tags = (*self._without_tags, test_id)
        if self.start.choice.waiting:
            self.work.changes.tell(words)
            return
        laid, self._without_tags = self._without_tags, ()
        self.work.changes.tell(words)
        many = "" if len(laid) == 1 else f"The dishes of {len(laid)} lots are laid. "
        self.questions.confirm(
            self,
            "Dish tags",
            f"{many or words + ' '}Print a tag for each dish?",
            "Print tags",
            lambda: self._print_tags(laid),
        )

    def on_group_laid(self, test_id: int, words: str) -> None:
        """Say it, and offer the tags again: the new dishes have numbers of their own."""
        self.said.emit("good", words)
        self.work.changes.tell(words)
        self.questions.confirm(
            self,
            "Dish tags",
            f"{words} Print the tags of this test?",
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
        """Print the tags of a test's dishes; of all the tests that are chosen where it is one of several."""
        chosen = tuple(row.test.id for row in self.running.chosen())
        self._print_tags(chosen if len(chosen) > 1 and test_id in chosen else (test_id,))

    def _print_tags(self, test_ids: tuple[int, ...]) -> None:
        from hilum.window.print_dialog import open_dish_dialog

        open_dish_dialog(self.work, self.questions, self, test_ids)

    def on_paper(self) -> None:
        """Make a count sheet to take to the dishes."""
        from hilum.window.paper_dialog import open_count_paper

        wanted = self.running.chosen() or self.running.rows()
        if wanted:
            open_count_paper(self.work, self.questions, self, tuple(row.test.id for row in wanted))

    def on_give_up(self, test_id: int) -> None:
        """Ask why, then give the test up."""

        def with_reason(why: str) -> None:
            given_up = self.work.attempt(
                testing.abandon_test, self.work.catalogue, test_id, on=self.work.today(), why=why
            )
            if given_up is not None:
                self.count.forget()
                self._show(self.start)
                words = f"The test of {given_up.lot} was given up: {why}."
                self.said.emit("warn", words)
                self.work.changes.tell(words)

        self.questions.ask_text(
            self, "Give the test up", "Why is it given up? The seed laid in it is spent.", with_reason
        )
