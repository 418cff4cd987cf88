"""What is asked at the store: a new place, a change with its day, a move with all in it, a reading, a failure."""

from datetime import date
from typing import Any

from PySide6.QtWidgets import QCheckBox, QComboBox, QLineEdit, QSpinBox, QWidget

from hilum.benches.store import (
    PLACE_KINDS,
    StorePlaceLine,
    add_slots,
    add_store_place,
    change_store_place,
    move_place,
)
from hilum.benches.store_failures import CAUTION, FAILURE_KINDS, WARM, lots_befallen, record_failure
from hilum.benches.store_readings import HOW_READINGS_COUNT, note_reading
from hilum.errors import BadInput, KeeperError
from hilum.window.lot_words import counted
from hilum.window.widgets import DateEdit, Quiet, choice_line, form_row
from hilum.window.work import WorkDay
from hilum.window.work_dialog import WorkDialog

BY_ITSELF = "nothing: it stands by itself"


def figure_of(text: str, what: str) -> float | None:
    """Read a temperature or humidity as typed, with point or comma; None for nothing."""
    bare = text.strip().replace(",", ".").replace("\u2212", "-").rstrip("°C% ").strip()
    if not bare:
        return None
    try:
        return float(bare)
    except ValueError as error:
        raise BadInput(f"{what} “{text.strip()}” is no figure. Write for example 4, -18 or 12.5.") from error


def _read(text: str, what: str) -> tuple[float | None]:
    # In a tuple, so that "nothing was typed" can be told from "it was refused".
    return (figure_of(text, what),)


def _text(figure: float | None) -> str:
    return "" if figure is None else f"{figure:g}"


def place_choice(
    places: tuple[StorePlaceLine, ...], chosen: int | None, by_itself: bool = False
) -> QComboBox:
    """Make a combo box of places by their whole paths."""
    box = QComboBox()
    if by_itself:
        box.addItem(BY_ITSELF, None)
    for line in places:
        box.addItem(line.path, line.id)
    box.setCurrentIndex(max(0, box.findData(chosen)))
    return box


class PlaceDialog(WorkDialog):
    """Asks what a store place is called, where it lies, how cold and how dry it is, and from which day."""

    def __init__(
        self, work: WorkDay, parent: QWidget, places: tuple[StorePlaceLine, ...], place: StorePlaceLine | None,
        within: int | None,
    ) -> None:  # fmt: skip
        title = f"Change “{place.name}”" if place else "A new store place"
        words = (
            "A place without a temperature takes that of the place it lies in. A place below 0 °C takes only seed "
            "with evidence of dryness: cooling a place asks after every lot in it."
        )
        super().__init__(work, parent, title, words, "&Keep" if place else "&Make it")
        self._place = place
        self._name = QLineEdit(place.name if place else "")
        self._kind = choice_line(tuple((kind, kind) for kind in PLACE_KINDS), "")
        self._within = place_choice(places, within, by_itself=True)
        self._cold = QLineEdit(_text(place.temperature_c if place else None))
        self._cold.setPlaceholderText("°C, for example 4 or -18")
        self._dry = QLineEdit(_text(place.humidity_percent if place else None))
        self._dry.setPlaceholderText("% relative humidity")
        self._note = QLineEdit(place.note if place else "")
        self._day = DateEdit(work.today())
        self._always = QCheckBox("It was so &all along: the figures were noted wrongly")
        form_row(self.form, "&Name", self._name)
        if place is None:
            form_row(self.form, "&Kind", self._kind)
            form_row(self.form, "Lies &in", self._within)
        form_row(self.form, "&Temperature", self._cold)
        form_row(self.form, "&Humidity", self._dry)
        form_row(self.form, "N&ote", self._note)
        if place is not None:
            form_row(self.form, "&From", self._day)
            self.form.addRow("", self._always)
            self._always.toggled.connect(self._day.setDisabled)

    def on_go(self) -> None:
        """Make or change the place."""
        cold = self.work.attempt(_read, self._cold.text(), "The temperature")
        dry = self.work.attempt(_read, self._dry.text(), "The humidity")
        day = self.work.attempt(self._day.day)
        if cold is None or dry is None or day is None:
            return
        values: dict[str, Any] = {
            "name": self._name.text().strip(),
            "temperature_c": cold[0],
            "humidity_percent": dry[0],
            "note": self._note.text().strip(),
        }
        words = self._made(values) if self._place is None else self._changed(self._place, values, day)
        if words is not None:
            self.accept()
            self.work.changes.tell(words)

    def _made(self, values: dict[str, Any]) -> str | None:
        done = self.work.attempt(
            add_store_place,
            self.work.catalogue,
            kind=self._kind.currentText(),
            parent_id=self._within.currentData(),
            **values,
        )
        return None if done is None else f"Store place {done.path}."

    def _changed(self, place: StorePlaceLine, values: dict[str, Any], day: date) -> str | None:
        changes = {name: value for name, value in values.items() if value != getattr(place, name)}
        done = self.work.attempt(
            change_store_place, self.work.catalogue, place.id, changes, on=day,
            was_always_so=self._always.isChecked(),
        )  # fmt: skip
        if done is None:
            return None
        moved = f" {counted(done.due_changed, 'lot')} reckoned anew." if done.due_changed else ""
        return f"Store place {done.place.path} changed.{moved}"


class MovePlaceDialog(WorkDialog):
    """Asks where a box or shelf goes, with all that is in it."""

    def __init__(
        self, work: WorkDay, parent: QWidget, places: tuple[StorePlaceLine, ...], place: StorePlaceLine
    ) -> None:
        words = (
            "All lots in it go along. A place below 0 °C takes a box only when every lot in it has evidence of "
            "dryness. Let cold jars warm up closed before anybody opens them."
        )
        super().__init__(work, parent, f"Move “{place.name}” with all in it", words, "&Move")
        self._place = place
        inside = f"{place.path} / "
        others = tuple(line for line in places if line.id != place.id and not line.path.startswith(inside))
        self._goal = place_choice(others, place.parent_id, by_itself=True)
        self._day = DateEdit(work.today())
        form_row(self.form, "&Into", self._goal)
        form_row(self.form, "&On", self._day)

    def on_go(self) -> None:
        """Move it."""
        day = self.work.attempt(self._day.day)
        if day is None:
            return
        goal = self._goal.currentData()
        done = self.work.attempt(move_place, self.work.catalogue, self._place.id, goal, on=day)
        if done is not None:
            self.accept()
            self.work.changes.tell(f"{done.place.path}: moved with {counted(done.lots, 'lot')}.")


class SlotsDialog(WorkDialog):
    """Asks into how many rows and columns a box or shelf is divided."""

    def __init__(self, work: WorkDay, parent: QWidget, place: StorePlaceLine) -> None:
        words = "Slots are named A1, A2, … by row and column, as they are read on a map."
        super().__init__(work, parent, f"Divide “{place.name}” into slots", words, "&Divide")
        self._place = place
        self._rows, self._columns = QSpinBox(), QSpinBox()
        self._rows.setRange(1, 26)
        self._columns.setRange(1, 50)
        self._rows.setValue(4)
        self._columns.setValue(6)
        form_row(self.form, "&Rows", self._rows)
        form_row(self.form, "&Columns", self._columns)

    def on_go(self) -> None:
        """Make the slots."""
        made = self.work.attempt(
            add_slots, self.work.catalogue, self._place.id, self._rows.value(), self._columns.value()
        )
        if made is not None:
            self.accept()
            self.work.changes.tell(f"{self._place.path} has {counted(len(made), 'slot')}.")


class ReadingDialog(WorkDialog):
    """Asks what the thermometer and the hygrometer of a place show."""

    def __init__(self, work: WorkDay, parent: QWidget, place: StorePlaceLine) -> None:
        super().__init__(work, parent, f"A reading of {place.path}", HOW_READINGS_COUNT, "&Note it")
        self._place = place
        self._cold, self._dry = QLineEdit(), QLineEdit()
        self._cold.setPlaceholderText("°C, for example 4 or -18")
        self._dry.setPlaceholderText("% relative humidity")
        self._day = DateEdit(work.today())
        form_row(self.form, "&Temperature", self._cold)
        form_row(self.form, "&Humidity", self._dry)
        form_row(self.form, "&On", self._day)

    def on_go(self) -> None:
        """Write it down."""
        cold = self.work.attempt(_read, self._cold.text(), "The temperature")
        dry = self.work.attempt(_read, self._dry.text(), "The humidity")
        day = self.work.attempt(self._day.day)
        if cold is None or dry is None or day is None:
            return
        kept = self.work.attempt(
            note_reading, self.work.catalogue, self._place.id, on=day, temperature_c=cold[0],
            humidity_percent=dry[0],
        )  # fmt: skip
        if kept is not None:
            self.accept()
            self.work.changes.tell(kept.words)


class FailureDialog(WorkDialog):
    """Asks what happened to a place, when and how warm it got; says how many lots it befell."""

    def __init__(self, work: WorkDay, parent: QWidget, place: StorePlaceLine) -> None:
        super().__init__(work, parent, f"Something went wrong in {place.path}", CAUTION, "&Note it")
        self._place = place
        self._kind = choice_line(tuple((kind, kind) for kind in FAILURE_KINDS), "")
        self._from, self._until = DateEdit(work.today()), DateEdit(work.today())
        self._cold = QLineEdit()
        self._cold.setPlaceholderText("the highest °C reached, or the room's if nothing was read")
        self._note = QLineEdit()
        self._note.setPlaceholderText("such as: the plug was out")
        self._left = QLineEdit()
        self._left.setPlaceholderText("lot numbers parted by spaces, if any were elsewhere")
        self._befell = Quiet("")
        form_row(self.form, "&What", self._kind)
        form_row(self.form, "&From", self._from)
        form_row(self.form, "&Until", self._until)
        form_row(self.form, "&How warm", self._cold)
        form_row(self.form, "Not &touched", self._left)
        form_row(self.form, "N&ote", self._note)
        self.form.addRow(self._befell)
        self._kind.currentTextChanged.connect(self.on_changed)
        self._from.day_changed.connect(self.on_changed)
        self._until.day_changed.connect(self.on_changed)
        self.on_changed()

    def on_changed(self) -> None:
        """Say which lots lay there on those days."""
        self._cold.setEnabled(self._kind.currentText() == WARM)
        try:
            lots = lots_befallen(self.work.catalogue, self._place.id, self._from.day(), self._until.day())
        except KeeperError as error:
            self._befell.setText(str(error))
            return
        named = ", ".join(each.number for each in lots[:6])
        more = f" and {len(lots) - 6} more" if len(lots) > 6 else ""
        self._befell.setText(
            f"{counted(len(lots), 'lot')} lay there: {named}{more}."
            if lots
            else "No lot lay there on those days."
        )

    def on_go(self) -> None:
        """Write the failure."""
        cold = self.work.attempt(_read, self._cold.text(), "The temperature")
        from_on, until_on = self.work.attempt(self._from.day), self.work.attempt(self._until.day)
        if cold is None or from_on is None or until_on is None:
            return
        done = self.work.attempt(
            record_failure, self.work.catalogue, self._place.id, self._kind.currentText(), from_on=from_on,
            until_on=until_on, temperature_c=cold[0], note=self._note.text(),
            leave_out=self._left.text().upper().split(),
        )  # fmt: skip
        if done is not None:
            self.accept()
            self.work.changes.tell(done.words)
