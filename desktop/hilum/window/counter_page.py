"""Counter bench: packets out, promises and returns back, and who got what; nobody's name in the visitors' view."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QCheckBox, QTabWidget, QVBoxLayout, QWidget

from hilum.window.counter_counts import CountsTab
from hilum.window.counter_out import WentOutTab
from hilum.window.counter_people import PeopleTab
from hilum.window.counter_recall import RecallTab
from hilum.window.counter_returns import ReturnsTab
from hilum.window.counter_scan import HandOutTab
from hilum.window.counter_tab import CounterTab
from hilum.window.page import BenchPage
from hilum.window.questions import Questions
from hilum.window.work import WorkDay


class CounterPage(BenchPage):
    """One tab for each thing done at the counter; the scan line comes first and has the cursor."""

    title = "Counter"

    def __init__(self, work: WorkDay, questions: Questions, parent: QWidget | None = None) -> None:
        super().__init__(work, questions, parent)
        self.hand_out = HandOutTab(work, questions)
        self.returns = ReturnsTab(work, questions)
        self.recall = RecallTab(work, questions)
        self.tabs = QTabWidget()
        self.tabs.setAccessibleName("Work at the counter")
        self.tabs.tabBar().setExpanding(False)
        for title, tab in (
            ("Hand out", self.hand_out),
            ("Returns", self.returns),
            ("What went out", WentOutTab(work, questions)),
            ("Counts", CountsTab(work, questions)),
            ("Recall", self.recall),
            ("People", PeopleTab(work, questions)),
        ):
            tab.said.connect(self.said)
            tab.lot_wanted.connect(self.lot_wanted)
            self.tabs.addTab(tab, title)
        self.visitors = QCheckBox("&Visitors' view")
        self.visitors.setToolTip(
            "Hides every person's name in the whole window, for a screen that others see"
        )
        self.visitors.setChecked(work.catalogue.hides_people)
        self.tabs.setCornerWidget(self.visitors, Qt.Corner.TopRightCorner)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self.tabs)
        self._undo = QAction("&Take back the last scan", self)
        self._undo.setShortcuts([QKeySequence("F9"), QKeySequence("Ctrl+Backspace")])
        self._undo.setShortcutContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        self.addAction(self._undo)
        self._connect()

    def _connect(self) -> None:
        self._undo.triggered.connect(self.hand_out.on_undo)
        self.tabs.currentChanged.connect(self.on_tab_changed)
        self.visitors.toggled.connect(self.on_visitors_toggled)

    def tab(self) -> CounterTab:
        """Give the tab at the front."""
        shown = self.tabs.currentWidget()
        assert isinstance(shown, CounterTab)
        return shown

    def refresh(self) -> None:
        self.tab().refresh()

    def focus_first(self) -> None:
        self.tab().focus_first()

    def start_with(self, lots: tuple[str, ...]) -> None:
        """Show the promises of some lots that are waited for, or where seed of a lot went."""
        self.returns.refresh()
        if self.returns.choose(lots):
            self.tabs.setCurrentWidget(self.returns)
            return
        self.tabs.setCurrentWidget(self.recall)
        if lots:
            self.recall.show_lot(lots[0])

    def on_tab_changed(self) -> None:
        """Show what the catalogue holds now, with the cursor where the work begins."""
        self.refresh()
        self.focus_first()

    def on_visitors_toggled(self, hides: bool) -> None:
        """Hide or show people in the whole window."""
        self.work.catalogue.hides_people = hides
        self.work.changes.tell("Visitors' view: people are hidden." if hides else "People are shown again.")
        self.focus_first()
