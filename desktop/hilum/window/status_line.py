"""The line at the bottom: where the catalogue lies, who is at the bench, what was last done."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLabel, QPushButton, QStatusBar, QWidget

# Milliseconds that a message stays.
STAYS_MS = 12_000


class StatusLine(QStatusBar):
    """Shows the catalogue's place and who works; the name is a button to change it."""

    who_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setSizeGripEnabled(False)
        self._person: str | None = None
        self._where = QLabel()
        self._where.setProperty("look", "quiet")
        self._where.setMinimumWidth(200)
        self._who = QPushButton()
        self._who.setFlat(True)
        self._who.setToolTip("Say who is at the bench (Ctrl+B)")
        self.addWidget(self._where, 1)
        self.addPermanentWidget(self._who)
        self._connect()
        self.show_place("", "")
        self.show_person(None)

    def _connect(self) -> None:
        self._who.clicked.connect(self.who_wanted)

    def show_place(self, where: str, words: str) -> None:
        """Show where the catalogue lies; `words` may say more of the place."""
        self._where.setText(where or "No catalogue is open")
        self._where.setToolTip(words or where)
        self._who.setVisible(bool(where))

    def show_person(self, name: str | None) -> None:
        """Show who is at the bench."""
        self._person = name
        self.hide_person(False)

    def hide_person(self, hides: bool) -> None:
        """Hide who is at the bench in the visitors' view, or show it again."""
        name = "hidden" if hides and self._person else self._person or "nobody named"
        self._who.setText(f"At the bench: {name}")

    def say(self, words: str) -> None:
        """Show a message for a while."""
        self.showMessage(words, STAYS_MS)
