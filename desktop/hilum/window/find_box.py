"""The box on top: lots are found while one types, and a scanned number opens its lot at once."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLineEdit, QWidget

# What is not needed for the first paint is loaded when there is a catalogue to look in.
if TYPE_CHECKING:
    from hilum.window.find_offers import Found, Offers
    from hilum.window.work import WorkDay

# How long nobody types before it is looked up, in milliseconds: shorter than a pause, longer than a scanner's.
PAUSE_MS = 120


class FindBox(QLineEdit):
    """Finds lots by words in any order, or by their number typed or scanned."""

    lot_chosen = Signal(str)
    # Several lots fit; the words, for the catalogue bench to list them.
    words_entered = Signal(str)
    nothing_found = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("find")
        self.setPlaceholderText("Find or scan: words in any order, or a lot number (F3)")
        self.setAccessibleName("Find or scan")
        self.setClearButtonEnabled(True)
        self.setEnabled(False)
        self._work: WorkDay | None = None
        self._asked = 0
        self._offers: Offers | None = None
        self._pause = QTimer(self)
        self._pause.setSingleShot(True)
        self._pause.setInterval(PAUSE_MS)
        self._connect()

    def _connect(self) -> None:
        self.textEdited.connect(self.on_edited)
        self.returnPressed.connect(self.on_entered)
        self._pause.timeout.connect(self.on_pause)

    def take_up(self, work: "WorkDay | None") -> None:
        """Look in another catalogue from now on; None while there is none."""
        self._work = work
        self._asked += 1
        if work is not None and self._offers is None:
            from hilum.window.find_offers import Offers

            self._offers = Offers(self)
            self._offers.lot_picked.connect(self.on_lot_picked)
            self._offers.words_picked.connect(self.on_words_picked)
        self.clear()
        self.setEnabled(work is not None)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        from PySide6.QtCore import Qt

        is_open = self._offers is not None and self._offers.is_open()
        if event.key() == Qt.Key.Key_Escape and not is_open:
            self.clear()
        elif event.key() == Qt.Key.Key_Down and not is_open and self.text().strip():
            self.on_pause()
        else:
            super().keyPressEvent(event)

    def on_edited(self, text: str) -> None:
        """Wait for a pause in the typing."""
        if text.strip():
            self._pause.start()
        else:
            self._pause.stop()
            self._hide_offers()

    def on_pause(self) -> None:
        """Look for what has been typed so far."""
        typed = self.text().strip()
        if self._work is None or not typed:
            return
        from hilum.window.find_offers import count_all, look_for

        self._asked += 1
        asked, work = self._asked, self._work

        def show(found: "Found") -> None:
            # What was asked before something newer was typed is no longer wanted.
            if asked == self._asked and self.hasFocus():
                self._offer(found)
                if found.more:
                    work.run(count_all, work.catalogue, typed, work.today(), done=tell)

        def tell(total: int) -> None:
            if asked == self._asked and self._offers is not None:
                self._offers.show_total(typed, total)

        work.run(look_for, work.catalogue, typed, work.today(), done=show)

    def on_entered(self) -> None:
        """Open the lot, or say what is near."""
        typed = self.text().strip()
        self._pause.stop()
        if self._work is None or not typed:
            return
        from hilum.window.find_offers import look_up

        self._asked += 1
        self._hide_offers()
        self._work.run(look_up, self._work.catalogue, typed, self._work.today(), done=self.on_looked_up)

    def on_looked_up(self, found: "Found") -> None:
        """Lead to what was found."""
        if found.number:
            self.selectAll()
            self.lot_chosen.emit(found.number)
        elif found.lots and not found.words:
            self.selectAll()
            self.words_entered.emit(found.typed)
        else:
            self.selectAll()
            self.nothing_found.emit(found.words)
            self._offer(found)

    def on_lot_picked(self, number: str) -> None:
        """Open the lot picked from the list."""
        self.setText(number)
        self.selectAll()
        self.lot_chosen.emit(number)

    def on_words_picked(self, words: str) -> None:
        """Look for the name picked from the list."""
        self.setText(words)
        self.on_entered()

    def _offer(self, found: "Found") -> None:
        if self._offers is not None:
            self._offers.show_found(found)

    def _hide_offers(self) -> None:
        if self._offers is not None:
            self._offers.hide()
