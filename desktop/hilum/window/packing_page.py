"""Packing bench: one lot at a time, or a list of lots for the whole season."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QTabWidget, QVBoxLayout, QWidget

from hilum.window.packing_one import OneLotTab
from hilum.window.page import BenchPage
from hilum.window.questions import Questions
from hilum.window.season_tab import SeasonTab
from hilum.window.work import WorkDay


class PackingPage(BenchPage):
    """Holds the two ways to pack; one lot sent here comes up alone, several go on the season's list."""

    title = "Packing"

    def __init__(self, work: WorkDay, questions: Questions, parent: QWidget | None = None) -> None:
        super().__init__(work, questions, parent)
        self.one = OneLotTab(work, questions)
        self.season = SeasonTab(work, questions)
        self._tabs = QTabWidget()
        self._tabs.setDocumentMode(True)
        self._tabs.setAccessibleName("Ways to pack")
        self._tabs.addTab(self.one, "One lot")
        self._tabs.addTab(self.season, "The season's list")
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self._tabs)
        self._pack = QAction("&Pack and make labels", self)
        self._pack.setShortcut(QKeySequence("Ctrl+Return"))
        self._pack.setShortcutContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        self.addAction(self._pack)
        self._connect()

    def _connect(self) -> None:
        for tab in (self.one, self.season):
            tab.lot_wanted.connect(self.lot_wanted)
            tab.said.connect(self.said)
            tab.send_lots.connect(self.send_lots)
        self._tabs.currentChanged.connect(self.on_tab)
        self._pack.triggered.connect(self.on_pack_wanted)

    def tab(self) -> OneLotTab | SeasonTab:
        """Give the tab in front."""
        return self.season if self._tabs.currentWidget() is self.season else self.one

    def refresh(self) -> None:
        self.tab().refresh()

    def focus_first(self) -> None:
        self.tab().focus_first()

    def start_with(self, lots: tuple[str, ...]) -> None:
        """Bring up the one lot that another bench has sent, or put several on the season's list."""
        if not lots:
            return
        tab = self.one if len(lots) == 1 else self.season
        self._tabs.setCurrentWidget(tab)
        tab.start_with(lots)

    def on_tab(self, _place: int) -> None:
        """Load what is shown now."""
        self.refresh()
        self.focus_first()

    def on_pack_wanted(self) -> None:
        """Pack what the tab in front is ready for."""
        self.tab().on_pack_wanted()
