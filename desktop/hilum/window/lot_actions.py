"""What is done with chosen lots from a list or from a lot's page: labels and holds."""

from collections.abc import Callable

from PySide6.QtGui import QAction
from PySide6.QtWidgets import QLineEdit, QMenu, QWidget

from hilum.benches.lots import HOLD_KINDS, hold_lot
from hilum.window.lot_words import counted
from hilum.window.questions import Questions
from hilum.window.widgets import choice_line, form_row
from hilum.window.work import WorkDay
from hilum.window.work_dialog import WorkDialog

LOT_PAPERS = (
    ("&Picking list…", "picking"),
    ("&Stocktake sheet…", "stocktake"),
    ("Swap-day &tally sheet…", "tally"),
)


def print_labels(work: WorkDay, questions: Questions, parent: QWidget, lots: tuple[str, ...]) -> None:
    """Open the print dialog for some lots."""
    from hilum.window.print_dialog import open_print_dialog

    open_print_dialog(work, questions, parent, lots)


def open_print_book(work: WorkDay, questions: Questions, parent: QWidget, lot: str = "") -> None:
    """Open the print book, at what was printed of a lot where one is given."""
    from hilum.window.print_book_dialog import PrintBookDialog

    PrintBookDialog(work, questions, parent, lot).open()


class PaperMenu(QMenu):
    """Which paper to work from is made for some lots; asked anew each time which lots they are."""

    def __init__(
        self, work: WorkDay, questions: Questions, parent: QWidget, lots: Callable[[], tuple[str, ...]]
    ) -> None:
        super().__init__(parent)
        self._work, self._questions, self._page, self._lots = work, questions, parent, lots
        for words, kind in LOT_PAPERS:
            action = self.addAction(words)
            action.setData(kind)
        self.triggered.connect(self.on_chosen)

    def on_chosen(self, action: QAction) -> None:
        """Open the dialog with the paper."""
        from hilum.window.paper_dialog import open_lots_paper

        lots = self._lots()
        if lots:
            open_lots_paper(self._work, self._questions, self._page, action.data(), lots)


class HoldDialog(WorkDialog):
    """Asks why lots are put on hold: the kind, and what was seen."""

    def __init__(self, work: WorkDay, parent: QWidget, lots: tuple[str, ...]) -> None:
        self._lots = lots
        self._which = lots[0] if len(lots) == 1 else counted(len(lots), "lot")
        words = "A lot on hold is not packed and not handed out until somebody lifts the hold with a reason."
        super().__init__(work, parent, f"Put {self._which} on hold", words, "&Put on hold")
        self._kind = choice_line(tuple((kind, kind) for kind in HOLD_KINDS), "")
        self._note = QLineEdit()
        self._note.setPlaceholderText("what was seen, and where")
        form_row(self.form, "&Because of", self._kind)
        form_row(self.form, "&Note", self._note)

    def on_go(self) -> None:
        """Write the holds."""
        kind, note = self._kind.currentText(), self._note.text().strip()
        for number in self._lots:
            done = self.work.attempt(
                hold_lot, self.work.catalogue, number, kind, on=self.work.today(), note=note
            )
            if done is None:
                return
        self.accept()
        self.work.changes.tell(f"{self._which} put on hold: {kind}.")
