"""Choosing the event at which packets go out: one that was there before, or a new one by its name."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QSpinBox, QWidget

from hilum.benches import counter
from hilum.benches.counter import EVENT_KINDS, EventLine, Occasion
from hilum.window.widgets import choice_line
from hilum.window.work import WorkDay

_KINDS = tuple((kind, kind) for kind in EVENT_KINDS)


class EventChoice(QWidget):
    """A line for the event's name with those of before, its kind, and its season."""

    settled = Signal()

    def __init__(self, work: WorkDay, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._work = work
        self._known: tuple[EventLine, ...] = ()
        self.name = QComboBox()
        self.name.setEditable(True)
        self.name.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
        self.name.lineEdit().setPlaceholderText("at the counter, or the name of a swap day")
        self.kind = choice_line(_KINDS, "Kind of event")
        self.kind.setCurrentIndex(EVENT_KINDS.index("counter"))
        self.season = QSpinBox()
        self.season.setRange(1900, 2200)
        self.season.setValue(work.today().year)
        layout = QHBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(8)
        for words, field in (("&Event", self.name), ("Kin&d", self.kind), ("Seaso&n", self.season)):
            label = QLabel(words)
            label.setBuddy(field)
            layout.addWidget(label)
            layout.addWidget(field, 1 if field is self.name else 0)
        self._connect()

    def _connect(self) -> None:
        self.name.activated.connect(self.on_picked)
        self.name.lineEdit().editingFinished.connect(self.on_named)
        self.name.lineEdit().returnPressed.connect(self.settled)

    def refresh(self) -> None:
        """Offer the events of the catalogue; what stands in the line stays."""
        known = self._work.attempt(counter.events, self._work.catalogue) or ()
        if known == self._known:
            return
        self._known = known
        typed = self.name.currentText()
        self.name.blockSignals(True)
        self.name.clear()
        for each in known:
            self.name.addItem(each.name, each)
        self.name.setCurrentIndex(-1)
        self.name.setEditText(typed)
        self.name.blockSignals(False)

    def on_picked(self, place: int) -> None:
        """Take over kind and season of an event of before."""
        each = self.name.itemData(place)
        if isinstance(each, EventLine):
            self.kind.setCurrentIndex(EVENT_KINDS.index(each.kind))
            self.season.setValue(each.season)
        self.settled.emit()

    def on_named(self) -> None:
        """A named event is a swap day until it is said to be something else."""
        if self.name.currentText().strip() and self.kind.currentData() == "counter":
            self.kind.setCurrentIndex(EVENT_KINDS.index("swap day"))

    def occasion(self) -> Occasion:
        """Give the event as it stands."""
        return Occasion(self.name.currentText().strip(), self.kind.currentData(), self.season.value())
