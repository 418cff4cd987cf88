"""Intake bench: seed at the door, typed row by row or read from a list, understood before it is taken in."""

from pathlib import Path
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QAction, QDragEnterEvent, QDropEvent, QKeySequence
from PySide6.QtWidgets import QStackedLayout, QWidget

from hilum.benches import intake
from hilum.benches.keeping import Catalogue
from hilum.window.intake_result import IntakeResult
from hilum.window.intake_review import IntakeReview
from hilum.window.intake_typing import IntakeTyping
from hilum.window.page import BenchPage
from hilum.window.questions import Questions
from hilum.window.work import WorkDay

FILTERS = "Seed lists (*.csv *.tsv *.txt *.xlsx *.xlsm);;All files (*)"


def take_in_rows(catalogue: Catalogue, plan: intake.IntakePlan, anyway: frozenset[int]) -> Any:
    """Take in the rows of a plan; a function of plain arguments, for the pool."""
    return intake.take_in(catalogue, plan, anyway=anyway)


class IntakePage(BenchPage):
    """Shows the grid, or a list that was opened, or what has just been taken in."""

    title = "Intake"

    def __init__(self, work: WorkDay, questions: Questions, parent: QWidget | None = None) -> None:
        super().__init__(work, questions, parent)
        self.setAcceptDrops(True)
        self.typing = IntakeTyping(work)
        self.review = IntakeReview(work)
        self.result = IntakeResult()
        self._stack = QStackedLayout(self)
        for view in (self.typing, self.review, self.result):
            self._stack.addWidget(view)
        self._open = QAction("&Open a list…", self)
        self._open.setShortcut(QKeySequence("Ctrl+L"))
        self._open.setShortcutContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        self._take_in = QAction("&Take in what is understood", self)
        self._take_in.setShortcut(QKeySequence("Ctrl+T"))
        self._take_in.setShortcutContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
        self.addActions([self._open, self._take_in, *self.typing.grid.edit_actions])
        self._connect()

    def _connect(self) -> None:
        self._open.triggered.connect(self.ask_for_list)
        self._take_in.triggered.connect(self.on_take_in)
        self.typing.open_wanted.connect(self.ask_for_list)
        self.typing.take_in_wanted.connect(self.on_typed_rows)
        self.review.take_in_wanted.connect(self.on_read_rows)
        self.review.closed.connect(self.show_typing)
        self.result.print_wanted.connect(self.on_print_wanted)
        self.result.prepare_wanted.connect(self.on_prepare_wanted)
        self.result.more_wanted.connect(self.show_typing)
        self.result.lot_wanted.connect(self.lot_wanted)

    def refresh(self) -> None:
        self.typing.read_again()
        if self._stack.currentWidget() is self.review:
            self.review.read_again()

    def focus_first(self) -> None:
        if self._stack.currentWidget() is self.typing:
            self.typing.grid.setFocus()
        else:
            self._stack.currentWidget().setFocus()

    def show_typing(self) -> None:
        """Go back to the grid."""
        self._stack.setCurrentWidget(self.typing)
        self.typing.grid.setFocus()

    # A list from a file.

    def ask_for_list(self) -> None:
        """Ask which list to open."""
        self.questions.ask_open_file(self, "Open a list", FILTERS, self.open_list)

    def open_list(self, file: Path) -> None:
        """Read a list and show how it was understood; nothing is written."""
        self.review.open_file(file)
        self._stack.setCurrentWidget(self.review)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if _dropped_file(event) is not None:
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        file = _dropped_file(event)
        if file is not None:
            event.setDropAction(Qt.DropAction.CopyAction)
            event.accept()
            self.open_list(file)

    # Taking in.

    def on_take_in(self) -> None:
        """Take in from whichever view is shown."""
        view = self._stack.currentWidget()
        if view is self.typing:
            self.typing.on_take_in()
        elif view is self.review:
            self.review.on_take_in()

    def on_typed_rows(self, plan: intake.IntakePlan, anyway: frozenset[int]) -> None:
        """Take in what was typed; refused rows stay in the grid."""
        self.typing.set_busy(True)
        self.work.run(take_in_rows, self.work.catalogue, plan, anyway,
                      done=self.on_typed_taken, failed=self.on_failed)  # fmt: skip

    def on_typed_taken(self, taken: Any) -> None:
        """Empty the grid of what has become a lot."""
        self.typing.set_busy(False)
        self.typing.forget_rows({accepted.row for accepted in taken.accepted})
        self._show_taken(taken, "row of the grid")

    def on_read_rows(self, plan: intake.IntakePlan, anyway: frozenset[int]) -> None:
        """Take in what was read from a file."""
        self.review.set_busy(True)
        self.work.run(take_in_rows, self.work.catalogue, plan, anyway,
                      done=self.on_read_taken, failed=self.on_failed)  # fmt: skip

    def on_read_taken(self, taken: Any) -> None:
        """Show what became of the list."""
        self.review.set_busy(False)
        self._show_taken(taken, "row of the list")

    def on_failed(self, words: str) -> None:
        """Say why nothing was taken in."""
        self.typing.set_busy(False)
        self.review.set_busy(False)
        self.said.emit("bad", words)

    def _show_taken(self, taken: Any, row_words: str) -> None:
        number = len(taken.accepted)
        self.result.show_taken(
            taken, row_words, self.work.attempt(_names_of, self.work.catalogue, taken) or {}
        )
        self._stack.setCurrentWidget(self.result)
        self.result.focus_first()
        words = "1 lot was taken in." if number == 1 else f"{number} lots were taken in."
        self.said.emit("good" if number else "warn", words if number else "Nothing was taken in.")
        if number:
            self.work.changes.tell(words)

    # What comes after.

    def on_print_wanted(self, lots: tuple[str, ...]) -> None:
        """Offer labels for the bags and jars of the new lots."""
        from hilum.window.print_dialog import open_print_dialog

        open_print_dialog(self.work, self.questions, self, lots)

    def on_prepare_wanted(self, lots: tuple[str, ...]) -> None:
        """Go on to cleaning and drying."""
        self.send_lots.emit("Preparing", lots)


def _names_of(catalogue: Catalogue, taken: Any) -> dict[str, Any]:
    from hilum.benches.lots import LotFilter, find_lots

    numbers = tuple(accepted.lot for accepted in taken.accepted)
    if not numbers:
        return {}
    page = find_lots(catalogue, LotFilter(numbers=numbers), on=catalogue.now().date())
    return {lot.number: lot for lot in page.lots}


def _dropped_file(event: QDropEvent) -> Path | None:
    urls = event.mimeData().urls() if event.mimeData().hasUrls() else []
    files = [Path(url.toLocalFile()) for url in urls if url.isLocalFile()]
    return files[0] if len(files) == 1 else None
