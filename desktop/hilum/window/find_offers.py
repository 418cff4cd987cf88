"""What is offered under the find box: lots that fit, near numbers and names; and the looking itself."""

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QModelIndex, QObject, Qt, Signal
from PySide6.QtGui import QStandardItem, QStandardItemModel
from PySide6.QtWidgets import QCompleter, QLineEdit

from hilum.errors import KeeperError

if TYPE_CHECKING:
    from hilum.benches.keeping import Catalogue
    from hilum.benches.views import LotView

NUMBER_ROLE = Qt.ItemDataRole.UserRole + 1
WORDS_ROLE = Qt.ItemDataRole.UserRole + 2
MOST_OFFERED = 12


@dataclass(frozen=True, slots=True)
class Found:
    """What some words or a number led to: one lot, several (`more` than are listed), near ones, or near names."""

    typed: str
    number: str = ""
    lots: "tuple[LotView, ...]" = ()
    more: bool = False
    near_names: tuple[str, ...] = ()
    words: str = ""


def look_for(catalogue: "Catalogue", typed: str, on: date) -> Found:
    """Give the newest lots that fit what has been typed so far; how many there are in all takes longer."""
    from hilum.benches.lots import LotFilter, page_of_lots

    page = page_of_lots(catalogue, LotFilter(words=typed), on=on, limit=MOST_OFFERED)
    return Found(typed, lots=page.lots, more=page.end is not None, near_names=page.did_you_mean)


def count_all(catalogue: "Catalogue", typed: str, on: date) -> int:
    """Give how many lots fit what has been typed."""
    from hilum.benches.lots import LotFilter, count_lots

    return count_lots(catalogue, LotFilter(words=typed), on=on)


def look_up(catalogue: "Catalogue", typed: str, on: date) -> Found:
    """Give what is meant by what was entered: the lot of that number, else lots by words, else the nearest."""
    from hilum.benches.lots import LotFilter, find_lots, lot_number, nearest_lots

    try:
        return Found(typed, number=lot_number(catalogue, typed))
    except KeeperError as error:
        trouble = str(error)
    found = look_for(catalogue, typed, on)
    if len(found.lots) == 1:
        return Found(typed, number=found.lots[0].number)
    if found.lots:
        return found
    near = nearest_lots(catalogue, typed)
    if near:
        lots = find_lots(catalogue, LotFilter(numbers=near), on=on).lots
        return Found(typed, lots=lots, words=trouble)
    if found.near_names:
        names = ", ".join(f"“{name}”" for name in found.near_names)
        words = f"No lot is found by “{typed}”. Perhaps {names}?"
        return Found(typed, near_names=found.near_names, words=words)
    return Found(typed, words=f"No lot is found by “{typed}”. {trouble}")


class Offers(QObject):
    """The list under the find box."""

    lot_picked = Signal(str)
    words_picked = Signal(str)

    def __init__(self, line: QLineEdit) -> None:
        super().__init__(line)
        self._items = QStandardItemModel(self)
        self._more: QStandardItem | None = None
        self._completer = QCompleter(self._items, self)
        self._completer.setCompletionMode(QCompleter.CompletionMode.UnfilteredPopupCompletion)
        self._completer.setMaxVisibleItems(MOST_OFFERED)
        self._completer.setWidget(line)
        popup = self._completer.popup()
        if popup is not None:
            popup.setObjectName("suggestions")
            popup.setAccessibleName("Lots found")
        self._completer.activated[QModelIndex].connect(self.on_picked)  # type: ignore[index]

    def is_open(self) -> bool:
        """Say whether the list is on the screen."""
        popup = self._completer.popup()
        return popup is not None and popup.isVisible()

    def hide(self) -> None:
        """Close the list."""
        popup = self._completer.popup()
        if popup is not None:
            popup.hide()

    def show_found(self, found: Found) -> None:
        """Offer what was found; nothing found closes the list."""
        self._more = None
        self._items.clear()
        for lot in found.lots:
            self._items.appendRow(_item(_lot_words(lot), lot.number, ""))
        if found.more:
            self._more = _item(f"… all lots with “{found.typed}”: press Enter", "", found.typed)
            self._items.appendRow(self._more)
        for name in found.near_names:
            self._items.appendRow(_item(f"Did you mean “{name}”?", "", name))
        if self._items.rowCount():
            self._completer.complete()
        else:
            self.hide()

    def show_total(self, typed: str, total: int) -> None:
        """Say how many lots there are in all, once they are counted."""
        if self._more is not None and self._more.data(WORDS_ROLE) == typed:
            self._more.setText(f"… all {total:,} lots with “{typed}”: press Enter")

    def on_picked(self, index: QModelIndex) -> None:
        """Tell which lot or which words were picked."""
        number, words = index.data(NUMBER_ROLE), index.data(WORDS_ROLE)
        if number:
            self.lot_picked.emit(number)
        elif words:
            self.words_picked.emit(words)


def _item(words: str, number: str, search: str) -> QStandardItem:
    item = QStandardItem(words)
    item.setData(number, NUMBER_ROLE)
    item.setData(search, WORDS_ROLE)
    item.setEditable(False)
    return item


def _lot_words(lot: Any) -> str:
    where = f", {lot.line.place_grown}" if lot.line.place_grown else ""
    return f"{lot.number}   {lot.name}{where}   {lot.stock_words}"
