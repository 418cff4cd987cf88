"""The window itself: rail, find box, the page at work, the status line; pages are loaded when first shown."""

from collections.abc import Callable
from importlib import import_module
from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer, Signal
from PySide6.QtGui import QCloseEvent, QPaintEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QMainWindow, QStackedWidget, QVBoxLayout, QWidget

from hilum.window.find_box import FindBox
from hilum.window.menus import Menus
from hilum.window.rail import BENCHES, Rail
from hilum.window.status_line import StatusLine

# What is not needed for the first paint is loaded with the first page.
if TYPE_CHECKING:
    from hilum.benches.glance import Glance
    from hilum.window.glance_page import GlancePage
    from hilum.window.notice import Notice
    from hilum.window.page import BenchPage
    from hilum.window.questions import Questions
    from hilum.window.work import WorkDay

FIRST_BENCH, CATALOGUE = "Day sheet", "Catalogue"


class MainWindow(QMainWindow):
    """Holds the pages together. It opens without a catalogue and takes up a working day when there is one."""

    # Once, when the window can be seen: the time to load what is slow.
    first_painted = Signal()
    # A bench has come to the front; its title.
    page_shown = Signal(str)

    def __init__(self, questions: "Questions | None" = None) -> None:
        super().__init__()
        self._questions = questions
        self.work: WorkDay | None = None
        # Asked before closing; the window stays when it says no.
        self.may_close: Callable[[], bool] | None = None
        self._was_painted = False
        self._benches = {bench.title: bench for bench in BENCHES}
        self._pages: dict[str, BenchPage] = {}
        self.setWindowTitle("Hilum")
        self.rail = Rail(tuple(self._benches.values()))
        self.find_box = FindBox()
        self._notice: Notice | None = None
        self.status = StatusLine()
        self.menus = Menus(self.menuBar(), tuple(self._benches.values()), self)
        self._waiting = QLabel("Opening the catalogue…")
        self._waiting.setProperty("look", "quiet")
        self._waiting.setWordWrap(True)
        self._stack = QStackedWidget()
        self._stack.addWidget(self._waiting)
        self._glance: GlancePage | None = None
        self._lay_out()
        self._connect()

    def _lay_out(self) -> None:
        work = self._column = QVBoxLayout()
        work.setContentsMargins(16, 12, 16, 8)
        work.setSpacing(10)
        work.addWidget(self.find_box)
        work.addWidget(self._stack, 1)
        middle = QWidget()
        across = QHBoxLayout(middle)
        across.setContentsMargins(0, 0, 0, 0)
        across.setSpacing(0)
        across.addWidget(self.rail)
        across.addLayout(work, 1)
        self.setCentralWidget(middle)
        self.setStatusBar(self.status)
        self.setMinimumSize(900, 600)
        self.resize(1200, 780)

    def _connect(self) -> None:
        # Ways to a bench.
        self.rail.bench_wanted.connect(self.show_bench)
        self.menus.bench_wanted.connect(self.show_bench)
        # Finding.
        self.menus.find_wanted.connect(self.on_find)
        self.find_box.lot_chosen.connect(self.open_lot)
        self.find_box.words_entered.connect(self.on_words_entered)
        self.find_box.nothing_found.connect(self.on_trouble)
        # Leaving.
        self.menus.leave_wanted.connect(self.close)

    @property
    def questions(self) -> "Questions":
        """The one object that asks."""
        if self._questions is None:
            from hilum.window.questions import Questions

            self._questions = Questions()
        return self._questions

    @property
    def notice(self) -> "Notice":
        """The bar above the page."""
        if self._notice is None:
            from hilum.window.notice import Notice

            self._notice = Notice()
            # Under the find box.
            self._column.insertWidget(1, self._notice)
        return self._notice

    # The working day.

    def take_up(self, work: "WorkDay") -> None:
        """Begin the working day on an open catalogue: the day sheet comes up."""
        self.let_go()
        self.work = work
        work.trouble.connect(self.on_trouble)
        work.changes.catalogue_changed.connect(self.on_catalogue_changed)
        self.find_box.take_up(work)
        self.rail.set_open(True)
        self.menus.set_open(True)
        show_glance = getattr(self.page(FIRST_BENCH), "show_glance", None)
        if self._glance is not None and show_glance is not None:
            show_glance(self._glance.seen)
        self.show_bench(FIRST_BENCH)
        self._drop_glance()

    def let_go(self) -> None:
        """End the working day: pages of a catalogue that is closed are no longer shown."""
        for page in self._pages.values():
            self._stack.removeWidget(page)
            page.deleteLater()
        self._pages.clear()
        if self.work is not None:
            self.work.trouble.disconnect(self.on_trouble)
            self.work.changes.catalogue_changed.disconnect(self.on_catalogue_changed)
        self.work = None
        self.find_box.take_up(None)
        self.rail.set_open(False)
        self.menus.set_open(False)
        self.menus.show_page(None)
        self.notice.clear()
        self._stack.setCurrentWidget(self._waiting)

    def wait_with(self, words: str) -> None:
        """Say what is being waited for while no page is shown."""
        self._waiting.setText(words)
        self._drop_glance()
        if self.work is None:
            self._stack.setCurrentWidget(self._waiting)

    def show_glance(self, seen: "Glance") -> None:
        """Show the lots due while the catalogue is being opened."""
        from hilum.window.glance_page import GlancePage

        self._drop_glance()
        self._glance = GlancePage(seen)
        self._stack.addWidget(self._glance)
        self._stack.setCurrentWidget(self._glance)

    def _drop_glance(self) -> None:
        if self._glance is not None:
            self._stack.removeWidget(self._glance)
            self._glance.deleteLater()
            self._glance = None

    # Pages.

    def page(self, title: str) -> "BenchPage | None":
        """Give the page of a bench, made when it is first asked for; None while no catalogue is open."""
        if self.work is None or title not in self._benches:
            return None
        if title not in self._pages:
            bench = self._benches[title]
            kind = getattr(import_module(f"hilum.window.{bench.module}"), bench.page)
            page: BenchPage = kind(self.work, self.questions, self)
            self._connect_page(page)
            self._pages[title] = page
            self._stack.addWidget(page)
        return self._pages[title]

    def _connect_page(self, page: "BenchPage") -> None:
        page.lot_wanted.connect(self.open_lot)
        page.said.connect(self.say)
        page.send_lots.connect(self.send_lots)

    def current_page(self) -> "BenchPage | None":
        """Give the page that is shown, if one is."""
        shown = self._stack.currentWidget()
        return next((page for page in self._pages.values() if page is shown), None)

    def show_bench(self, title: str) -> None:
        """Bring a bench to the front, with what the catalogue holds now."""
        page = self.page(title)
        if page is None:
            return
        if page is not self.current_page():
            self.notice.clear()
        self._stack.setCurrentWidget(page)
        self.rail.show_bench(title)
        self.menus.show_page(page)
        self.setWindowTitle(f"{title} – Hilum")
        page.refresh()
        page.focus_first()
        self.page_shown.emit(title)

    def open_lot(self, number: str) -> None:
        """Show one lot's own page at the catalogue bench."""
        self.show_bench(CATALOGUE)
        page = self.page(CATALOGUE)
        if page is not None:
            page.start_with((number,))

    def send_lots(self, title: str, lots: tuple[str, ...]) -> None:
        """Take lots to another bench and begin the work there."""
        self.show_bench(title)
        page = self.page(title)
        if page is not None:
            page.start_with(lots)

    # What is heard.

    def say(self, kind: str, words: str) -> None:
        """Say something above the page, and in the status line."""
        self.notice.show_words(kind, words)
        self.status.say(words)

    def on_trouble(self, words: str) -> None:
        """Say what was not done."""
        self.notice.show_bad(words)

    def on_catalogue_changed(self, what: str) -> None:
        """Let the page that is shown load anew."""
        self.status.say(what)
        self.status.hide_person(self.work is not None and self.work.catalogue.hides_people)
        if self.notice.kind == "bad":
            # What was refused has been put right, or something else was done.
            self.notice.clear()
        page = self.current_page()
        if page is not None:
            page.refresh()

    def on_find(self) -> None:
        """Put the cursor into the find box."""
        self.find_box.setFocus()
        self.find_box.selectAll()

    def on_words_entered(self, words: str) -> None:
        """List at the catalogue bench what the find box has found more than one of."""
        self.show_bench(CATALOGUE)
        list_words = getattr(self.page(CATALOGUE), "list_words", None)
        if list_words is not None:
            list_words(words)

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if not self._was_painted:
            self._was_painted = True
            QTimer.singleShot(0, self.rail.draw_anew)
            QTimer.singleShot(0, self.first_painted.emit)

    def closeEvent(self, event: QCloseEvent) -> None:
        if self.may_close is not None and not self.may_close():
            event.ignore()
            return
        event.accept()
