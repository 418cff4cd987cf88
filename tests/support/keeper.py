"""A person at the window: finds things by the words on the screen, uses only keys and mouse."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any, TypeVar

from PySide6.QtCore import QModelIndex, QPoint, Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QApplication,
    QComboBox,
    QGroupBox,
    QLabel,
    QLineEdit,
    QListView,
    QPlainTextEdit,
    QTabBar,
    QTableView,
    QTextEdit,
    QTreeView,
    QWidget,
)

from tests.support.screen import grab

Kind = TypeVar("Kind", bound=QWidget)
LEFT = Qt.MouseButton.LeftButton
# Milliseconds a person would wait before saying that nothing happens.
PATIENCE_MS = 5_000


def bare(text: str) -> str:
    """Give the words of a caption without its access-key mark and its closing colon."""
    return text.replace("&&", "\0").replace("&", "").replace("\0", "&").strip().removesuffix(":").strip()


class Keeper:
    """Does what a keeper does at one window or page; every miss says what is on the screen instead."""

    def __init__(self, qtbot: Any, page: QWidget) -> None:
        self._bot, self._page = qtbot, page
        qtbot.addWidget(page)
        with qtbot.waitExposed(page):
            page.show()
        page.activateWindow()

    # What is in front of the keeper.

    def _front(self) -> QWidget:
        """Give the open dialog if there is one: what lies behind it cannot be reached."""
        return QApplication.activePopupWidget() or QApplication.activeModalWidget() or self._page

    def _shown(self, kind: type[Kind]) -> list[Kind]:
        front = self._front()
        found = [widget for widget in front.findChildren(kind) if widget.isVisible()]
        return [front, *found] if isinstance(front, kind) else found

    def _one(self, kind: type[Kind], words: str, captions: list[tuple[Kind, str]]) -> Kind:
        found = [widget for widget, caption in captions if bare(caption) == words]
        here = sorted({bare(caption) for _, caption in captions} - {""})
        assert len(found) == 1, f"{len(found)} of {kind.__name__} {words!r} on the screen; there are {here}"
        return found[0]

    def field(self, label: str) -> QWidget:
        """Give the field a visible label belongs to, or the one that calls itself so to a screen reader."""
        captions: list[tuple[QWidget, str]] = []
        for text in self._shown(QLabel):
            # A label without buddy is only words; a hidden buddy cannot be typed into.
            buddy = text.buddy()
            if buddy is not None and buddy.isVisible():
                captions.append((buddy, text.text()))
        labelled = {id(widget) for widget, _ in captions}
        for widget in self._shown(QWidget):
            if widget.accessibleName() and id(widget) not in labelled:
                captions.append((widget, widget.accessibleName()))
        return self._one(QWidget, label, captions)

    # What the keeper does.

    def types(self, label: str, text: str) -> None:
        """Replace what stands in a labelled field, and leave it with the tabulator."""
        field = self.field(label)
        assert field.isEnabled(), f"{label!r} is greyed out"
        self._bot.mouseClick(field, LEFT)
        self._bot.keyClick(field, Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier)
        self._bot.keyClick(field, Qt.Key.Key_Delete)
        self._bot.keyClicks(field, text)
        self._bot.keyClick(field, Qt.Key.Key_Tab)

    def presses(self, words: str) -> None:
        """Press the button with these words."""
        button = self._one(
            QAbstractButton,
            words,
            [(b, b.text() or b.accessibleName()) for b in self._shown(QAbstractButton)],
        )
        assert button.isEnabled(), f"{words!r} is greyed out"
        # A check box answers only where its mark and words are, not across its whole width.
        self._bot.mouseClick(button, LEFT, pos=QPoint(min(12, button.width() // 2), button.height() // 2))

    def can_press(self, words: str) -> bool:
        """Say whether the button with these words is not greyed out."""
        captions = [(b, b.text() or b.accessibleName()) for b in self._shown(QAbstractButton)]
        return self._one(QAbstractButton, words, captions).isEnabled()

    def chooses(self, label: str, words: str) -> None:
        """Open a labelled combo box, or go to a labelled list, and take the entry with these words."""
        field = self.field(label)
        assert field.isEnabled(), f"{label!r} is greyed out"
        if isinstance(field, QComboBox):
            field.setFocus()
            field.showPopup()
            view = field.view()
            view.setCurrentIndex(self._entry(view, words))
            self._bot.keyClick(view, Qt.Key.Key_Return)
            assert not view.isVisible(), f"the list of {label!r} stays open"
        else:
            assert isinstance(field, QAbstractItemView), f"{label!r} is no list to choose from"
            self._click(field, self._entry(field, words))

    def picks(self, words: str, *, twice: bool = False) -> None:
        """Click the entry with exactly these words in whichever table or list shows it."""
        found = []
        for view in self._shown(QAbstractItemView):
            found += [(view, index) for index in _cells(view) if _words(index) == words]
        assert len(found) == 1, f"{len(found)} entries {words!r} in the tables on the screen"
        view, index = found[0]
        self._click(view, index)
        if twice:
            self._bot.mouseDClick(view.viewport(), LEFT, pos=view.visualRect(index).center())

    def _entry(self, view: QAbstractItemView, words: str) -> QModelIndex:
        entries = list(_cells(view))
        found = [index for index in entries if _words(index) == words]
        assert found, f"no entry {words!r}; there are {[_words(index) for index in entries[:40]]}"
        return found[0]

    def _click(self, view: QAbstractItemView, index: QModelIndex) -> None:
        view.scrollTo(index)
        self._bot.mouseClick(view.viewport(), LEFT, pos=view.visualRect(index).center())

    def keys(self, *sequences: str) -> None:
        """Press key combinations such as "Ctrl+F", "F2" or "Return", one after the other."""
        for sequence in sequences:
            combination = QKeySequence(sequence)
            assert combination.count() == 1, f"{sequence!r} is not one key combination"
            pressed = combination[0]
            self._bot.keyClick(self._focus(), pressed.key(), pressed.keyboardModifiers())

    def writes(self, text: str) -> None:
        """Type text wherever the cursor stands."""
        self._bot.keyClicks(self._focus(), text)

    def scans(self, code: str) -> None:
        """Let the hand scanner type a code and its closing Return, wherever the cursor stands."""
        self.writes(code)
        self.keys("Return")

    def _focus(self) -> QWidget:
        return QApplication.focusWidget() or self._front()

    # What the keeper sees.

    def words(self) -> list[str]:
        """Give every text on the screen: captions, buttons, fields, cells in view."""
        texts = [bare(widget.text()) for widget in self._shown(QLabel)]
        texts += [bare(widget.text()) for widget in self._shown(QAbstractButton)]
        texts += [bare(widget.title()) for widget in self._shown(QGroupBox)]
        texts += [widget.text() or widget.placeholderText() for widget in self._shown(QLineEdit)]
        texts += [widget.currentText() for widget in self._shown(QComboBox)]
        texts += [widget.toPlainText() for widget in self._shown(QPlainTextEdit)]
        texts += [widget.toPlainText() for widget in self._shown(QTextEdit)]
        for bar in self._shown(QTabBar):
            texts += [bare(bar.tabText(place)) for place in range(bar.count())]
        for view in self._shown(QAbstractItemView):
            texts += [_words(index) for index in _cells_in_view(view)]
        return [text for text in texts if text]

    def sees(self, words: str) -> bool:
        """Say whether these words stand somewhere on the screen, alone or within a longer text."""
        return any(words in text for text in self.words())

    def waits_to_see(self, words: str, patience_ms: int = PATIENCE_MS) -> None:
        """Wait until these words appear; say what is there instead when they do not."""

        def are_there() -> None:
            assert self.sees(words), f"{words!r} is not among {self.words()}"

        self._bot.waitUntil(are_there, timeout=patience_ms)

    def reads(self, label: str) -> str:
        """Give what stands in a labelled field."""
        field = self.field(label)
        if isinstance(field, QComboBox):
            return field.currentText()
        if isinstance(field, QPlainTextEdit | QTextEdit):
            return field.toPlainText()
        # Spin boxes, date fields and plain lines all call it so.
        return str(field.text())  # type: ignore[attr-defined]

    def takes_picture(self, path: Path) -> Path:
        """Save a picture of the window as it stands."""
        return grab(self._page.window(), path)


def _cells(view: QAbstractItemView, rows: range | None = None) -> Iterator[QModelIndex]:
    """Give the cells a view shows or would show by scrolling, row by row, open branches included."""
    model = view.model()
    if model is None:
        return
    root = view.rootIndex()
    waiting = [model.index(row, 0, root) for row in (rows or range(model.rowCount(root)))]
    # A list shows one column, and its model may not even tell how many it has.
    columns = [view.modelColumn()] if isinstance(view, QListView) else range(model.columnCount(root))
    while waiting:
        first = waiting.pop(0)
        cells = [first.siblingAtColumn(column) for column in columns]
        yield from (index for index in cells if not view.isIndexHidden(index))
        if isinstance(view, QTreeView) and view.isExpanded(first):
            waiting[:0] = [model.index(row, 0, first) for row in range(model.rowCount(first))]


def _cells_in_view(view: QAbstractItemView) -> Iterator[QModelIndex]:
    """Give the cells that are on the screen just now."""
    frame = view.viewport().rect()
    rows = None
    if isinstance(view, QTableView) and view.model() is not None:
        # A large table would take minutes to walk through.
        last = view.rowAt(frame.bottom())
        rows = range(max(view.rowAt(0), 0), (view.model().rowCount() if last < 0 else last + 1))
    return (index for index in _cells(view, rows) if view.visualRect(index).intersects(frame))


def _words(index: QModelIndex) -> str:
    shown = index.data(Qt.ItemDataRole.DisplayRole)
    return "" if shown is None else str(shown)
