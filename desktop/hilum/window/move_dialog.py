"""Moving lots to a store place: numbers typed or scanned, the place, the container, the day."""

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QComboBox, QLineEdit, QWidget

from hilum.benches.store import move_lot, store_places
from hilum.window.lot_words import counted
from hilum.window.widgets import DateEdit, choice_line, form_row
from hilum.window.work import WorkDay
from hilum.window.work_dialog import WorkDialog

CONTAINERS = ("jar", "foil bag", "paper bag", "tin", "box")
AIRTIGHT: tuple[tuple[str, bool | None], ...] = (("not known", None), ("yes", True), ("no", False))


class ScanLine(QLineEdit):
    """A line for several numbers: the Enter that ends a scan makes room for the next one."""

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            # Kept from the dialog, whose main button it would press.
            self.setText(f"{self.text().rstrip()} ")
            event.accept()
        else:
            super().keyPressEvent(event)


class MoveDialog(WorkDialog):
    """Puts lots into a place, one after the other; the first one refused stops the move and is named."""

    def __init__(
        self, work: WorkDay, parent: QWidget, lots: tuple[str, ...], place_id: int | None = None
    ) -> None:
        words = "A place below 0 °C takes only seed with evidence of dryness. Seed frozen wet dies."
        super().__init__(work, parent, "Move to a store place", words, "&Move")
        self._lots = ScanLine(" ".join(lots))
        self._lots.setPlaceholderText("lot numbers, typed or scanned one after the other")
        self._place = QComboBox()
        for line in store_places(work.catalogue):
            cold = "" if line.temperature_c is None else f" ({line.temperature_c:g} °C)"
            self._place.addItem(f"{line.path}{cold}", line.id)
        if place_id is not None:
            self._place.setCurrentIndex(max(0, self._place.findData(place_id)))
        self._container = QComboBox()
        self._container.setEditable(True)
        self._container.addItems(["", *CONTAINERS])
        self._airtight = choice_line(AIRTIGHT, "")
        self._day = DateEdit(work.today())
        form_row(self.form, "&Lots", self._lots)
        form_row(self.form, "&Place", self._place)
        form_row(self.form, "&Container", self._container)
        form_row(self.form, "Is it &airtight?", self._airtight)
        form_row(self.form, "&On", self._day)
        if not self._place.count():
            self.go.setEnabled(False)
            self.notice.show_warn("There is no store place yet. Make one at the Store first.")

    def on_go(self) -> None:
        """Move the lots; those still in the field were not moved."""
        numbers = self._lots.text().split()
        if not numbers:
            self.notice.show_bad("Type or scan the number of at least one lot.")
            return
        day = self.work.attempt(self._day.day)
        if day is None:
            return
        moved = []
        for number in numbers:
            done = self.work.attempt(
                move_lot,
                self.work.catalogue,
                number,
                self._place.currentData(),
                on=day,
                container=self._container.currentText().strip(),
                airtight=self._airtight.currentData(),
            )
            if done is None:
                break
            moved.append(done.number)
        rest = numbers[len(moved) :]
        self._lots.setText(" ".join(rest))
        words = f"{counted(len(moved), 'lot')} moved to {self._place.currentText()}."
        if not rest:
            self.accept()
            self.work.changes.tell(words)
        elif moved:
            trouble = self.notice.words()
            self.work.changes.tell(words)
            self.notice.show_bad(f"{words} Not moved: {', '.join(rest)}. {trouble}")
