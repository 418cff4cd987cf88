"""Regrowing bench: which lots need new seed, and those that are planned, sown, selected, harvested."""

from PySide6.QtWidgets import QTabWidget, QVBoxLayout, QWidget

from hilum.window.page import BenchPage
from hilum.window.preparing_cautions import CautionLine
from hilum.window.questions import Questions
from hilum.window.regrowing_need_tab import NeedTab
from hilum.window.regrowing_plan_tab import PlanTab
from hilum.window.work import WorkDay


class RegrowingPage(BenchPage):
    """Holds the two tabs; a lot sent here is planned at once."""

    title = "Regrowing"

    def __init__(self, work: WorkDay, questions: Questions, parent: QWidget | None = None) -> None:
        super().__init__(work, questions, parent)
        self.need = NeedTab(work, questions)
        self.plan = PlanTab(work, questions)
        self._tabs = QTabWidget()
        self._tabs.setDocumentMode(True)
        self._tabs.setAccessibleName("Parts of regrowing")
        self._tabs.addTab(self.need, "Should be regrown")
        self._tabs.addTab(self.plan, "Planned and growing")
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(6)
        layout.addWidget(self._tabs, 1)
        layout.addWidget(CautionLine("regrowing"))
        self._connect()

    def _connect(self) -> None:
        for tab in (self.need, self.plan):
            tab.lot_wanted.connect(self.lot_wanted)
            tab.said.connect(self.said)
            tab.send_lots.connect(self.send_lots)
        self._tabs.currentChanged.connect(self.on_tab)

    def tab(self) -> NeedTab | PlanTab:
        """Give the tab in front."""
        return self.plan if self._tabs.currentWidget() is self.plan else self.need

    def refresh(self) -> None:
        self.tab().refresh()

    def focus_first(self) -> None:
        self.tab().focus_first()

    def start_with(self, lots: tuple[str, ...]) -> None:
        """Plan the lot that another bench has sent; one that is planned already comes up under its plan."""
        if not lots:
            return
        is_planned = self.plan.find(lots[0])
        self._tabs.setCurrentWidget(self.plan if is_planned else self.need)
        self.tab().start_with(lots)

    def on_tab(self, _place: int) -> None:
        """Load what is shown now."""
        self.refresh()
        self.focus_first()
