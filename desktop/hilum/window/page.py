"""What every bench page has in common."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from hilum.window.questions import Questions
from hilum.window.work import WorkDay


class BenchPage(QWidget):
    """One page of the window. It shows what a bench gives and asks the bench to do what the keeper wants.

    The window around it shows `work.trouble` in its own bar above the page, and what the page itself says by
    `said`; a page needs a notice of its own only for what belongs to one form. The window listens to
    `work.changes` and calls `refresh` on the page that is shown. Actions given to the page by `addAction` stand
    in the window's menu for the page, with their shortcuts.
    """

    title = ""

    # A lot's own page is wanted; the lot number.
    lot_wanted = Signal(str)
    # Something to tell: kind ("good", "warn", "bad") and words.
    said = Signal(str, str)
    # Lots to be worked on at another bench: its title and the lot numbers.
    send_lots = Signal(str, tuple)

    def __init__(self, work: WorkDay, questions: Questions, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.work = work
        self.questions = questions

    def refresh(self) -> None:
        """Load anew what is shown: called when the page comes up and whenever the catalogue has changed."""

    def focus_first(self) -> None:
        """Put the cursor where the work begins."""
        self.setFocus()

    def start_with(self, lots: tuple[str, ...]) -> None:
        """Begin the work of this bench with some lots that another bench has sent."""
