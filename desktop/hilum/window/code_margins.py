"""The margin left to the codes of a job: how much blur they survive, on white paper and on kraft."""

from PySide6.QtWidgets import QWidget

from hilum.benches.code_margins import CodeMargin, code_margins, margin_words
from hilum.benches.label_orders import PrintOrder
from hilum.window.widgets import Quiet
from hilum.window.work import WorkDay


def _asked_margins(
    work_catalogue: object, asked: int, order: PrintOrder
) -> tuple[int, tuple[CodeMargin, ...]]:
    return asked, code_margins(work_catalogue, order)  # type: ignore[arg-type]


class MarginLine(Quiet):
    """Says it in a line; worked out in the pool once the pages are there."""

    def __init__(self, work: WorkDay, parent: QWidget | None = None) -> None:
        super().__init__("", parent)
        self._work = work
        self._asked = 0
        self.setAccessibleName("Margin of the codes")
        self.hide()

    def show_nothing(self) -> None:
        """Say nothing; what is still worked out is not wanted any more."""
        self._asked += 1
        self.setText("")
        self.hide()

    def show_order(self, order: PrintOrder) -> None:
        """Work out the margin of a job's codes."""
        self.show_nothing()
        self._work.run(
            _asked_margins,
            self._work.catalogue,
            self._asked,
            order,
            done=self.on_found,
            failed=self.on_failed,
        )

    def on_found(self, found: tuple[int, tuple[CodeMargin, ...]]) -> None:
        """Show what was found, unless other pages are shown by now."""
        asked, margins = found
        if asked == self._asked and margins:
            self.setText(margin_words(margins))
            self.show()

    def on_failed(self, words: str) -> None:
        """Say why the margin is not known; the pages are proofed all the same."""
        self.setText(f"The margin of the codes could not be worked out: {words}")
        self.show()
