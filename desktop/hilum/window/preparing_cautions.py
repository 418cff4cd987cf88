"""Cautions where the work is done: one quiet line each, its source on demand."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QLabel, QSizePolicy, QToolButton, QVBoxLayout, QWidget

from hilum.benches.reference import work_cautions
from hilum.window.widgets import Quiet


class CautionLine(QWidget):
    """The cautions for one kind of work; a small button shows where each comes from."""

    def __init__(self, work: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._cautions = work_cautions(work)
        self._sign = QLabel("⚠")
        self._sign.setAccessibleName("Caution")
        self._words = Quiet("")
        self._sources = QToolButton()
        self._sources.setText("Sources")
        self._sources.setAutoRaise(True)
        self._sources.setCheckable(True)
        self._sources.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self._sources.setToolTip("Show where these cautions come from")
        layout = QHBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self._sign, 0, Qt.AlignmentFlag.AlignTop)
        words = QVBoxLayout()
        words.addWidget(self._words)
        layout.addLayout(words, 1)
        layout.addWidget(self._sources, 0, Qt.AlignmentFlag.AlignTop)
        self._connect()
        self.show_sources(False)
        if not self._cautions:
            # Never setVisible(True) here: a widget that has no parent yet would come up as a window of its own.
            self.hide()

    def _connect(self) -> None:
        self._sources.toggled.connect(self.show_sources)

    def show_sources(self, wanted: bool) -> None:
        """Show the cautions with or without where they come from."""
        if wanted:
            self._words.setText("\n".join(f"{each.words} ({each.source})" for each in self._cautions))
        else:
            self._words.setText(" ".join(each.words for each in self._cautions))
        self._words.setToolTip("\n".join(f"{each.words} Source: {each.source}" for each in self._cautions))
