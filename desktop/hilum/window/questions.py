"""The one object that asks the keeper: yes or no, a few words, a file. Nothing here waits for the answer."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QFileDialog,
    QLabel,
    QLineEdit,
    QMessageBox,
    QVBoxLayout,
    QWidget,
)


class Questions:
    """Asks with dialogs that are opened and left to themselves; the answer comes by the function given."""

    def confirm(self, parent: QWidget, title: str, words: str, yes: str, on_yes: Callable[[], None]) -> None:
        """Ask before something that is not easily undone; `yes` is what stands on the button."""
        box = _message(parent, QMessageBox.Icon.Question, title, words)
        go = box.addButton(yes, QMessageBox.ButtonRole.AcceptRole)
        stay = box.addButton(QMessageBox.StandardButton.Cancel)
        box.setDefaultButton(stay)
        go.clicked.connect(on_yes)
        box.open()

    def ask_text(
        self, parent: QWidget, title: str, words: str, on_text: Callable[[str], None], start: str = ""
    ) -> None:
        """Ask for a few words, such as a reason or a name; nothing happens without them."""
        TextQuestion(parent, title, words, on_text, start).open()

    def ask_open_file(
        self, parent: QWidget, title: str, filters: str, on_file: Callable[[Path], None]
    ) -> None:
        """Ask for a file that exists; `filters` as Qt has them: "Lists (*.csv *.xlsx);;All files (*)"."""
        dialog = _file_dialog(parent, title, filters, on_file)
        dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        dialog.open()

    def ask_save_file(
        self, parent: QWidget, title: str, start: str | Path, filters: str, on_file: Callable[[Path], None]
    ) -> None:
        """Ask where to write a file, beginning at `start`; overwriting is asked for by the dialog."""
        dialog = _file_dialog(parent, title, filters, on_file)
        dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
        begin = Path(start)
        if begin.parent != Path():
            dialog.setDirectory(str(begin.parent))
        dialog.selectFile(begin.name)
        if begin.suffix:
            dialog.setDefaultSuffix(begin.suffix.lstrip("."))
        dialog.open()

    def tell(self, parent: QWidget, title: str, words: str) -> None:
        """Say something that must be read before going on."""
        box = _message(parent, QMessageBox.Icon.Information, title, words)
        box.addButton(QMessageBox.StandardButton.Ok)
        box.open()


class TextQuestion(QDialog):
    """Asks for one line of words."""

    def __init__(
        self, parent: QWidget, title: str, words: str, on_text: Callable[[str], None], start: str
    ) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(title)
        self._on_text = on_text
        self._label = QLabel(words)
        self._label.setWordWrap(True)
        self._line = QLineEdit(start)
        self._line.setMinimumWidth(420)
        self._label.setBuddy(self._line)
        self._line.selectAll()
        self._buttons = QDialogButtonBox(
            QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel
        )
        layout = QVBoxLayout(self)
        layout.setSpacing(12)
        for widget in (self._label, self._line, self._buttons):
            layout.addWidget(widget)
        self._connect()
        self.on_edited(start)

    def _connect(self) -> None:
        self._line.textChanged.connect(self.on_edited)
        self._buttons.accepted.connect(self.on_accepted)
        self._buttons.rejected.connect(self.reject)

    def on_edited(self, text: str) -> None:
        """Let the answer be given only when there is one."""
        self._buttons.button(QDialogButtonBox.StandardButton.Ok).setEnabled(bool(text.strip()))

    def on_accepted(self) -> None:
        """Close and hand the words on."""
        words = self._line.text().strip()
        self.accept()
        self._on_text(words)


def _message(parent: QWidget, icon: QMessageBox.Icon, title: str, words: str) -> QMessageBox:
    box = QMessageBox(parent)
    box.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    box.setIcon(icon)
    box.setWindowTitle(title)
    box.setTextFormat(Qt.TextFormat.PlainText)
    box.setText(words)
    return box


def _file_dialog(parent: QWidget, title: str, filters: str, on_file: Callable[[Path], None]) -> QFileDialog:
    dialog = QFileDialog(parent, title)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    dialog.setNameFilter(filters)

    def hand_on(name: str) -> None:
        on_file(Path(name))

    dialog.fileSelected.connect(hand_on)
    return dialog
