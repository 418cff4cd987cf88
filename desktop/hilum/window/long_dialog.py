"""A dialog whose work takes a while: a bar shows how far it is, and closing the dialog stops it."""

from collections.abc import Callable
from typing import Any

from PySide6.QtWidgets import QProgressBar, QWidget

from hilum.window.work import Task, WorkDay
from hilum.window.work_dialog import WorkDialog


class LongWorkDialog(WorkDialog):
    """Subclasses put `bar` below their fields, and call `begin` with a function that can be stopped."""

    def __init__(self, work: WorkDay, parent: QWidget, title: str, words: str, go: str, far: str) -> None:
        super().__init__(work, parent, title, words, go)
        self._task: Task | None = None
        self._done: Callable[[Any], None] | None = None
        self.bar = QProgressBar()
        self.bar.setAccessibleName(far)
        self.bar.hide()
        self.setMinimumWidth(680)
        self.finished.connect(self.on_closed)

    def begin(self, function: Callable[..., Any], *arguments: Any, done: Callable[[Any], None]) -> None:
        """Start the work; the dialog is closed before `done` hears what came of it."""
        self._done = done
        self._show_busy(True)
        self._task = self.work.run(
            function, *arguments, done=self.on_done, failed=self.on_failed, progress=self.on_moved_on
        )

    def on_moved_on(self, reached: int, of: int) -> None:
        """Show how far it is."""
        self.bar.setRange(0, of)
        self.bar.setValue(reached)

    def on_done(self, result: Any) -> None:
        """Close, and hand on what came of it."""
        self._task = None
        self.accept()
        if self._done is not None:
            self._done(result)

    def on_failed(self, words: str) -> None:
        """Say why nothing came of it."""
        self._task = None
        self._show_busy(False)
        self.notice.show_bad(words)

    def on_closed(self) -> None:
        """Stop what is under way."""
        if self._task is not None:
            self._task.cancel()

    def _show_busy(self, is_busy: bool) -> None:
        self.bar.setRange(0, 0)
        self.bar.setVisible(is_busy)
        self.go.setEnabled(not is_busy)
