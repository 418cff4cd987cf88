"""Catalogue: lots, crops, varieties, growers and places grown; a lot's own page lies on top of its list."""

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QStackedWidget, QTabWidget, QVBoxLayout, QWidget

from hilum.window.crops_tab import CropsTab
from hilum.window.lot_page import LotPage
from hilum.window.lots_tab import LotsTab
from hilum.window.names_tab import GrowersTab, PlacesTab
from hilum.window.page import BenchPage
from hilum.window.questions import Questions
from hilum.window.varieties_tab import VarietiesTab
from hilum.window.work import WorkDay


class CataloguePage(BenchPage):
    """The tabs of what the library holds, and the page of one lot over them."""

    title = "Catalogue"

    def __init__(self, work: WorkDay, questions: Questions, parent: QWidget | None = None) -> None:
        super().__init__(work, questions, parent)
        self.lots = LotsTab(work, questions)
        self.crops = CropsTab(work, questions)
        self.varieties = VarietiesTab(work, questions)
        self.growers = GrowersTab(work, questions)
        self.places = PlacesTab(work, questions)
        self.lot_page = LotPage(work, questions)
        self._tabs = QTabWidget()
        self._tabs.setDocumentMode(True)
        self._tabs.setAccessibleName("Parts of the catalogue")
        for tab, words in (
            (self.lots, "Lots"),
            (self.crops, "Crops"),
            (self.varieties, "Varieties"),
            (self.growers, "Growers"),
            (self.places, "Places grown"),
        ):
            self._tabs.addTab(tab, words)
        self._stack = QStackedWidget()
        self._stack.addWidget(self._tabs)
        self._stack.addWidget(self.lot_page)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self._stack)
        self._back = self._action("&Back to the list", "Alt+Left", self.on_back)
        self._labels = self._action("Print &labels…", "Ctrl+P", self.on_print_labels)
        self._connect()

    def _action(self, words: str, key: str, slot: Callable[..., object]) -> QAction:
        action = QAction(words, self)
        action.setShortcut(QKeySequence(key))
        action.setShortcutContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        action.triggered.connect(slot)
        self.addAction(action)
        return action

    def _connect(self) -> None:
        for part in (
            self.lots,
            self.crops,
            self.varieties,
            self.growers,
            self.places,
            self.lot_page,
        ):
            part.lot_wanted.connect(self.open_lot)
            part.said.connect(self.said)
            part.send_lots.connect(self.send_lots)
        for tab in (self.crops, self.varieties, self.growers, self.places):
            tab.words_wanted.connect(self.list_words)
        self.lot_page.back_wanted.connect(self.on_back)
        self._tabs.currentChanged.connect(self.on_tab)

    def refresh(self) -> None:
        """Load anew the part that is shown."""
        part = self._shown()
        if part is not None:
            part.refresh()

    def _shown(self) -> BenchPage | None:
        shown = self._stack.currentWidget()
        part = self._tabs.currentWidget() if shown is self._tabs else shown
        return part if isinstance(part, BenchPage) else None

    def focus_first(self) -> None:
        """Put the cursor where the shown part begins."""
        part = self._shown()
        if part is not None:
            part.focus_first()

    def start_with(self, lots: tuple[str, ...]) -> None:
        """Open the lot that was sent, or list those that were."""
        if len(lots) == 1:
            self.open_lot(lots[0])
        elif lots:
            self._stack.setCurrentWidget(self._tabs)
            self._tabs.setCurrentWidget(self.lots)
            self.lots.list_numbers(lots)

    def open_lot(self, number: str) -> None:
        """Show one lot's own page."""
        self._stack.setCurrentWidget(self.lot_page)
        self.lot_page.open(number)
        self.lot_page.focus_first()

    def list_words(self, words: str) -> None:
        """List the lots that fit some words."""
        self._stack.setCurrentWidget(self._tabs)
        self._tabs.setCurrentWidget(self.lots)
        self.lots.list_words(words)

    def on_back(self) -> None:
        """Return from a lot to its list."""
        self._stack.setCurrentWidget(self._tabs)
        self.refresh()
        self.focus_first()

    def on_tab(self, _place: int) -> None:
        """Load the part that was brought up."""
        self.refresh()

    def on_print_labels(self) -> None:
        """Print labels for the lot shown, or for the lots chosen in the list."""
        if self._stack.currentWidget() is self.lot_page:
            self.lot_page.on_print_labels()
        else:
            self.lots.on_print_labels()
