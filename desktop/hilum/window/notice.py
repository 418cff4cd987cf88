"""Words in the looks of the theme, and the bar that says how something went."""

from typing import ClassVar

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QAccessible, QAccessibleEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QSizePolicy, QToolButton, QWidget


def polish(widget: QWidget) -> None:
    """Let the theme look again at a widget whose properties have changed."""
    widget.style().unpolish(widget)
    widget.style().polish(widget)
    widget.update()


class _Words(QLabel):
    """A label in one of the looks of the theme."""

    look = ""

    def __init__(self, text: str = "", parent: QWidget | None = None) -> None:
        super().__init__(text, parent)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setProperty("look", self.look)

    def set_tone(self, tone: str) -> None:
        """Colour the words "good", "warn" or "bad"; they must say it too."""
        self.setProperty("tone", tone)
        polish(self)


class Title(_Words):
    """The name of a page."""

    look = "title"


class Heading(_Words):
    """A heading within a page."""

    look = "heading"


class Figure(_Words):
    """A figure to be read from a step away."""

    look = "figure"


class Quiet(_Words):
    """Secondary words; they wrap."""

    look = "quiet"

    def __init__(self, text: str = "", parent: QWidget | None = None) -> None:
        super().__init__(text, parent)
        self.setWordWrap(True)
        # A wrapping label asks for a width of its own choice unless it is told to take what there is.
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.setMinimumWidth(120)


class Notice(QFrame):
    """A bar within the page that says how something went; a sign and words, never colour alone."""

    SIGNS: ClassVar[dict[str, str]] = {"good": "✓", "warn": "!", "bad": "✕", "next": "→"}
    NAMES: ClassVar[dict[str, str]] = {"good": "Done", "warn": "Take care", "bad": "Not done", "next": "Next"}

    cleared = Signal()

    def __init__(self, parent: QWidget | None = None, *, stays: bool = False) -> None:
        """`stays` is for what must be seen as long as it holds: it has no button to close it."""
        super().__init__(parent)
        self.setObjectName("notice")
        self.kind = ""
        self._sign, self._words = Figure(), QLabel()
        self._words.setWordWrap(True)
        self._words.setTextFormat(Qt.TextFormat.PlainText)
        self._words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._words.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        self._close = QToolButton()
        self._close.setText("×")
        self._close.setAutoRaise(True)
        self._close.setAccessibleName("Close this notice")
        self._close.setToolTip("Close this notice")
        layout = QHBoxLayout(self)
        layout.setContentsMargins(12, 8, 8, 8)
        layout.addWidget(self._sign, 0, Qt.AlignmentFlag.AlignTop)
        layout.addWidget(self._words, 1)
        layout.addWidget(self._close, 0, Qt.AlignmentFlag.AlignTop)
        self._close.setVisible(not stays)
        self._connect()
        self.hide()

    def _connect(self) -> None:
        self._close.clicked.connect(self.clear)

    def words(self) -> str:
        """Give what the bar says; empty when it is closed."""
        return self._words.text() if self.kind else ""

    def show_good(self, words: str) -> None:
        """Say that something was done."""
        self.show_words("good", words)

    def show_warn(self, words: str) -> None:
        """Say what to take care of."""
        self.show_words("warn", words)

    def show_bad(self, words: str) -> None:
        """Say what was not done, and why."""
        self.show_words("bad", words)

    def show_words(self, kind: str, words: str) -> None:
        """Say something of one of the kinds in `SIGNS`: “next” says what to do where nothing was done yet."""
        self.kind = kind
        self.setProperty("kind", kind)
        self._sign.setText(self.SIGNS[kind])
        self._sign.set_tone(kind)
        self._sign.setAccessibleName(self.NAMES[kind])
        self._words.setText(words)
        self.setAccessibleName(f"{self.NAMES[kind]}: {words}")
        polish(self)
        self.show()
        QAccessible.updateAccessibility(QAccessibleEvent(self, QAccessible.Event.Alert))

    def clear(self) -> None:
        """Close the bar."""
        self.kind = ""
        self.hide()
        self.cleared.emit()
