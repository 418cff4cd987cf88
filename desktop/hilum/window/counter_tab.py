"""What the tabs of the counter have in common."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from hilum.window.print_files import write_whole
from hilum.window.questions import Questions
from hilum.window.work import WorkDay

CSV_FILTER, PDF_FILTER = "Table (*.csv)", "PDF (*.pdf)"


class CounterTab(QWidget):
    """One tab: loads what it shows when it comes up, and writes lists to files that the keeper names."""

    said = Signal(str, str)
    lot_wanted = Signal(str)

    def __init__(self, work: WorkDay, questions: Questions, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.work, self.questions = work, questions

    def refresh(self) -> None:
        """Load anew what is shown."""

    def focus_first(self) -> None:
        """Put the cursor where the work begins."""
        self.setFocus()

    def ask_csv(self, what: str, write: Callable[[Path], Any]) -> None:
        """Ask where a table is to be kept, and write it there."""

        def keep(file: Path) -> None:
            rows = self.work.attempt(write, file)
            if rows is not None:
                self.said.emit("good", f"{what}: {rows} rows are kept in {file}.")

        self.questions.ask_save_file(self, what, self._start(what, "csv"), CSV_FILTER, keep)

    def ask_pdf(self, what: str, make: Callable[[], bytes]) -> None:
        """Ask where a printed list is to be kept, and write it there."""

        def keep(file: Path) -> None:
            pdf = self.work.attempt(make)
            if pdf is not None and self.work.did(write_whole, file, pdf):
                self.said.emit("good", f"{what} is kept in {file}. Print it at 100 %.")

        self.questions.ask_save_file(self, what, self._start(what, "pdf"), PDF_FILTER, keep)

    def _start(self, what: str, ending: str) -> str:
        return f"{what.lower().replace(' ', '-')}-{self.work.today().isoformat()}.{ending}"
