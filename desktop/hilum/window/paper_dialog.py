"""Papers to work from: made at once, on A4 or Letter, looked at, printed or saved."""

from collections.abc import Callable
from datetime import date
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QCloseEvent
from PySide6.QtWidgets import QDialog, QLabel, QPushButton, QVBoxLayout, QWidget

from hilum.benches import papers
from hilum.benches.keeping import Catalogue
from hilum.benches.papers import rows_on, work_paper
from hilum.benches.printing import LabelSheets
from hilum.window.paper_printing import Paper
from hilum.window.print_memory import is_letter_country
from hilum.window.print_sheets import SheetsPanel
from hilum.window.questions import Questions
from hilum.window.widgets import Title, choice_line, row_of
from hilum.window.work import Task, WorkDay

PAGES = (("A4", "a4"), ("US Letter", "letter"))
DPI = 300


def make_lots_paper(
    catalogue: Catalogue, kind: str, wanted: tuple[Any, ...], page: str, on: date, *, progress: Any, stop: Any
) -> LabelSheets:
    """Make a paper for lots; a function of plain arguments, for the pool."""
    return papers.lots_paper(catalogue, kind, wanted, page, on=on, progress=progress, stop=stop)


def make_count_paper(
    catalogue: Catalogue,
    _kind: str,
    wanted: tuple[Any, ...],
    page: str,
    on: date,
    *,
    progress: Any,
    stop: Any,
) -> LabelSheets:
    """Make a count sheet for tests; a function of plain arguments, for the pool."""
    return papers.count_paper(catalogue, wanted, page, on=on, progress=progress, stop=stop)


def open_lots_paper(
    work: WorkDay,
    questions: Questions,
    parent: QWidget,
    kind: str,
    lots: tuple[str, ...],
    *,
    paper: Paper | None = None,
) -> "PaperDialog":
    """Open a picking list, a stocktake sheet or a tally sheet for some lots."""
    dialog = PaperDialog(work, questions, parent, kind, make_lots_paper, lots, paper)
    dialog.open()
    return dialog


def open_count_paper(
    work: WorkDay,
    questions: Questions,
    parent: QWidget,
    test_ids: tuple[int, ...],
    *,
    paper: Paper | None = None,
) -> "PaperDialog":
    """Open a count sheet for the dishes of some running tests."""
    dialog = PaperDialog(work, questions, parent, "count", make_count_paper, test_ids, paper)
    dialog.open()
    return dialog


class PaperDialog(QDialog):
    """One paper; another size of paper makes it anew."""

    def __init__(
        self,
        work: WorkDay,
        questions: Questions,
        parent: QWidget,
        kind: str,
        maker: Callable[..., LabelSheets],
        wanted: tuple[Any, ...],
        paper: Paper | None = None,
    ) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._work, self._kind, self._maker, self._wanted = work, work_paper(kind), maker, wanted
        self._task: Task | None = None
        self.setWindowTitle(self._kind.title)
        self.page = choice_line(PAGES, "")
        self.page.setCurrentIndex(1 if is_letter_country() else 0)
        self.sheets = SheetsPanel(work, questions, paper or Paper(), is_booked=True)
        self._close = QPushButton("Clos&e")
        label = QLabel("Pape&r")
        label.setBuddy(self.page)
        head = row_of(Title(self._kind.title), stretch=True)
        head.addWidget(label)
        head.addWidget(self.page)
        self.sheets.buttons.addWidget(self._close)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(18, 14, 18, 14)
        layout.setSpacing(8)
        layout.addLayout(head)
        layout.addWidget(self.sheets, 1)
        self._connect()
        window = parent.window()
        self.resize(max(760, window.width() * 7 // 10), max(620, window.height() - 40))
        self.make()

    def _connect(self) -> None:
        self.page.currentIndexChanged.connect(self.make)
        self._close.clicked.connect(self.close)

    def make(self) -> None:
        """Make the pages in the pool."""
        self._let_go()
        self.sheets.show_nothing("Making pages and reading every code back…")
        self._task = self._work.run(
            self._maker, self._work.catalogue, self._kind.name, self._wanted, self.page.currentData(),
            self._work.today(), done=self.on_made, failed=self.on_failed, progress=self.on_moved_on,
        )  # fmt: skip

    def on_moved_on(self, _reached: int, _of: int) -> None:
        """Let the work be one that can be stopped; it is short."""

    def on_made(self, sheets: LabelSheets) -> None:
        """Show the pages."""
        self._task = None
        stock = rows_on(self._kind, self.page.currentData())
        self.sheets.show_paper(sheets, stock, DPI, f"{self._kind.title}, {self._work.today().isoformat()}")
        self.sheets.send.setFocus()

    def on_failed(self, words: str) -> None:
        """Say why there are no pages."""
        stopped = self._task is not None and self._task.is_cancelled
        self._task = None
        if not stopped:
            self.sheets.show_nothing("")
            self.sheets.notice.show_bad(words)

    def _let_go(self) -> None:
        if self._task is not None:
            self._task.forget()
            self._task.cancel()
            self._task = None

    def done(self, result: int) -> None:
        self._let_go()
        self.sheets.forget()
        super().done(result)

    def closeEvent(self, event: QCloseEvent) -> None:
        self._let_go()
        self.sheets.forget()
        super().closeEvent(event)
