"""Putting a prepared lot into the store: place, container, and whether it is airtight."""

from typing import Any

from PySide6.QtWidgets import (
    QComboBox,
    QDoubleSpinBox,
    QGroupBox,
    QHBoxLayout,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
)

from hilum.benches import store
from hilum.errors import BadInput
from hilum.window.preparing_forms import WIDEST, StepForm
from hilum.window.preparing_hold import Held
from hilum.window.widgets import choice_line, form_row

CONTAINERS = ("glass jar", "foil bag", "tin", "plastic box", "paper bag", "cloth bag")
TIGHT = (("not said", None), ("yes", True), ("no", False))
# What stands in the field until a temperature is given.
NO_TEMPERATURE_C = -100.0


class StoreForm(StepForm):
    """Where the lot goes, and in what."""

    step, words, action, caution = "stored", "Store", "&Put into the store", "freezing"

    def build(self) -> None:
        """Make the fields."""
        self.place = QComboBox()
        self.container = QComboBox()
        self.container.setEditable(True)
        self.container.addItems(CONTAINERS)
        self.container.lineEdit().setAccessibleName("Container")
        self.airtight = choice_line(TIGHT, "Airtight")
        self.airtight.setCurrentIndex(1)
        form_row(self.form, "&Store place", self.place)
        form_row(self.form, "&Container", self.container)
        form_row(self.form, "&Airtight", self.airtight)
        for box in (self.place, self.container, self.airtight):
            box.setMaximumWidth(WIDEST)
        self.new_name = QLineEdit()
        self.new_name.setPlaceholderText("name of a new place")
        self.new_name.setAccessibleName("Name of the new place")
        self.new_kind = choice_line(
            tuple((kind, kind) for kind in store.PLACE_KINDS), "Kind of the new place"
        )
        self.new_temperature = QDoubleSpinBox()
        self.new_temperature.setAccessibleName("Temperature of the new place")
        self.new_temperature.setRange(NO_TEMPERATURE_C, 60)
        self.new_temperature.setDecimals(0)
        self.new_temperature.setSuffix(" °C")
        self.new_temperature.setSpecialValueText("°C not known")
        self.new_temperature.setValue(NO_TEMPERATURE_C)
        self.make = QPushButton("&Make the place")
        self.make.clicked.connect(self.on_make)
        self.new_name.returnPressed.connect(self.on_make)
        self.new_temperature.setToolTip("Leave it lowest where it is not known")

    def build_below(self, layout: QVBoxLayout) -> None:
        """Add a line for a place that is not there yet."""
        group = QGroupBox(
            "A place that is not in the list yet (inside the chosen one if it is a shelf, box or slot)"
        )
        line = QHBoxLayout(group)
        for widget in (self.new_name, self.new_kind, self.new_temperature, self.make):
            line.addWidget(widget)
        line.setStretch(0, 1)
        layout.addWidget(group)

    def show_state(self) -> None:
        """List the store places."""
        self.show_places(self.place.currentData())

    def show_places(self, chosen: int | None) -> None:
        """List the store places, one of them chosen."""
        places = self.attempt(store.store_places, self.work.catalogue) or ()
        self.place.clear()
        for line in places:
            cold = "" if line.temperature_c is None else f"  ({line.temperature_c:g} °C)"
            self.place.addItem(f"{line.path}{cold}", line.id)
        self.place.setPlaceholderText("no store place yet: make one below")
        self.place.setCurrentIndex(max(self.place.findData(chosen), 0) if places else -1)
        self.button.setEnabled(self.lot is not None and bool(places))

    def on_make(self) -> None:
        """Make a store place; a shelf, box or slot goes into the one that is chosen."""
        kind = self.new_kind.currentData()
        inside = self.place.currentData() if kind in ("shelf", "box", "slot") else None
        degrees = self.new_temperature.value()
        made = self.attempt(
            store.add_store_place,
            self.work.catalogue,
            name=self.new_name.text(),
            kind=kind,
            parent_id=inside,
            temperature_c=None if degrees == NO_TEMPERATURE_C else degrees,
        )
        if made is not None:
            self.new_name.clear()
            self.new_temperature.setValue(NO_TEMPERATURE_C)
            self.show_places(made.id)
            self.notice.show_good(f"“{made.path}” is there now.")

    def record(self) -> Any:
        """Hand the move to the bench."""
        if self.place.currentData() is None:
            raise BadInput("Choose a store place, or make one below.")
        store.move_lot(
            self.work.catalogue,
            self.lot.number,
            self.place.currentData(),
            on=self.on,
            container=self.container.currentText().strip(),
            airtight=self.airtight.currentData(),
        )
        return Held(f"Put into {self.place.currentText()}.")
