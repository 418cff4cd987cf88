"""Small widgets that every page uses, so that the same thing looks and works the same everywhere."""

from collections.abc import Callable
from typing import TypeVar

from PySide6.QtCore import QStringListModel, Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QCompleter,
    QFormLayout,
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLayout,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from hilum.window.day_edit import DateEdit
from hilum.window.grams import GramsEdit, grams_text, mass_mg_of
from hilum.window.notice import Figure, Heading, Notice, Quiet, Title, polish

__all__ = [
    "DateEdit", "Figure", "GramsEdit", "Heading", "Notice", "Quiet", "SuggestLine", "Title", "card",
    "choice_line", "form_row", "grams_text", "mass_mg_of", "polish", "primary", "row_of",
]  # fmt: skip

Button = TypeVar("Button", bound=QPushButton)


def form_row(layout: QLayout, words: str, editor: QWidget) -> QLabel:
    """Add a labelled field to a form, grid or box; the label's & key leads to the field."""
    label = QLabel(words)
    label.setBuddy(editor)
    # The last letter of a label as wide as its column would be cut by the width of its own edge.
    label.setContentsMargins(0, 0, 3, 0)
    if isinstance(layout, QFormLayout):
        layout.addRow(label, editor)
    elif isinstance(layout, QGridLayout):
        row = layout.rowCount()
        layout.addWidget(label, row, 0)
        layout.addWidget(editor, row, 1)
    else:
        layout.addWidget(label)
        layout.addWidget(editor)
    return label


def primary(button: Button) -> Button:
    """Give a button the look of the page's main action."""
    button.setProperty("look", "primary")
    return button


def row_of(*widgets: QWidget, stretch: bool = True) -> QHBoxLayout:
    """Put widgets side by side, pushed to the left unless told otherwise."""
    layout = QHBoxLayout()
    layout.setContentsMargins(0, 0, 0, 0)
    layout.setSpacing(8)
    for widget in widgets:
        layout.addWidget(widget)
    if stretch:
        layout.addStretch(1)
    return layout


def card(layout: QLayout) -> QFrame:
    """Put a layout on a sheet of its own."""
    frame = QFrame()
    frame.setObjectName("card")
    if isinstance(layout, QVBoxLayout | QHBoxLayout | QGridLayout | QFormLayout):
        layout.setContentsMargins(16, 12, 16, 14)
    frame.setLayout(layout)
    return frame


def choice_line(entries: tuple[tuple[str, object], ...], name: str) -> QComboBox:
    """Make a combo box of words, each with what it stands for."""
    box = QComboBox()
    box.setAccessibleName(name)
    for words, value in entries:
        box.addItem(words, value)
    return box


class SuggestLine(QLineEdit):
    """A line that suggests names while one types; anything else may be typed as well."""

    picked = Signal(str)

    def __init__(self, suggest: Callable[[str], tuple[str, ...]], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._suggest = suggest
        self._names = QStringListModel(self)
        completer = QCompleter(self._names, self)
        # The names come already chosen and in order; the completer only shows them.
        completer.setCompletionMode(QCompleter.CompletionMode.UnfilteredPopupCompletion)
        completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        completer.setMaxVisibleItems(10)
        popup = completer.popup()
        if popup is not None:
            popup.setObjectName("suggestions")
        self.setCompleter(completer)
        self._connect(completer)

    def _connect(self, completer: QCompleter) -> None:
        self.textEdited.connect(self.on_edited)
        completer.activated.connect(self.picked)

    def on_edited(self, text: str) -> None:
        """Look for names that fit what was typed."""
        self._names.setStringList(list(self._suggest(text)) if text.strip() else [])
