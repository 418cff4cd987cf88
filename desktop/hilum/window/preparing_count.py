"""Counting a thousand-seed weight: replicates of counted seeds, weighed one by one."""

from typing import Any, cast

from PySide6.QtWidgets import QGridLayout, QLabel, QPushButton, QSpinBox, QVBoxLayout

from hilum.benches import preparing
from hilum.errors import BadInput, KeeperError
from hilum.window.preparing_forms import StepForm
from hilum.window.widgets import Figure, GramsEdit, Quiet, form_row

# The rules ask for eight, and for eight more where they differ too much; fewer are a keeper's own choice.
BESIDE, USUAL, MOST = 4, 8, 16


class CountForm(StepForm):
    """Seeds a replicate and the weight of each; what they give is shown as they are typed."""

    step, words, action, caution = "counted", "Count", "&Record the count", ""

    def build(self) -> None:
        """Make the fields."""
        self.seeds = QSpinBox()
        self.seeds.setRange(1, 10_000)
        self.seeds.setValue(100)
        self.seeds.setMaximumWidth(140)
        form_row(self.form, "&Seeds in each replicate", self.seeds)
        self.replicates: list[GramsEdit] = []
        self._grid = QGridLayout()
        self._labels: list[QLabel] = []
        for place in range(MOST):
            field = GramsEdit()
            field.setMaximumWidth(130)
            field.setAccessibleName(f"Replicate {place + 1}, grams")
            label = QLabel(str(place + 1))
            self._grid.addWidget(label, place // BESIDE, 2 * (place % BESIDE))
            self._grid.addWidget(field, place // BESIDE, 2 * (place % BESIDE) + 1)
            self.replicates.append(field)
            self._labels.append(label)
            field.textChanged.connect(self.show_reckoned)
            field.returnPressed.connect(self.on_next_field)
        self._grid.setColumnStretch(2 * BESIDE, 1)
        self.more = QPushButton("&Eight more")
        self.more.setToolTip("For replicates that differ too much the rules ask for eight more")
        self.found = Figure("")
        self.found.setWordWrap(True)
        self.why = Quiet(
            "Eight replicates of 100 seeds are usual; from a small lot weigh what can be spared."
        )
        self.seeds.valueChanged.connect(self.show_reckoned)
        self.more.clicked.connect(self.on_more)
        self._show_second_eight(False)

    def build_below(self, layout: QVBoxLayout) -> None:
        """Add the grid of weights and what they give."""
        layout.addWidget(QLabel("Grams of each replicate; Enter goes on to the next"))
        layout.addLayout(self._grid)
        layout.addWidget(self.found)
        layout.addWidget(self.why)
        self.buttons.insertWidget(1, self.more)

    def _show_second_eight(self, shown: bool) -> None:
        for widget in (*self.replicates[USUAL:], *self._labels[USUAL:]):
            widget.setVisible(shown)
        # Before it has its place it is shown by its parent; shown by itself it would be a window of its own.
        if self.more.parentWidget() is not None:
            self.more.setVisible(not shown)

    def on_more(self) -> None:
        """Open eight more fields."""
        self._show_second_eight(True)
        self.replicates[USUAL].setFocus()

    def on_next_field(self) -> None:
        """Go on to the next weight, and after the last to the button."""
        place = self.replicates.index(cast(GramsEdit, self.sender()))
        following = self.replicates[place + 1 :]
        (following[0] if following and not following[0].isHidden() else self.button).setFocus()

    def masses_mg(self) -> list[int]:
        """Give the weights typed; refused where one cannot be meant."""
        for place, field in enumerate(self.replicates, start=1):
            if field.trouble():
                raise BadInput(f"Replicate {place}: {field.trouble()}")
        return [mass for field in self.replicates if (mass := field.mass_mg()) is not None]

    def show_reckoned(self) -> None:
        """Show what the weights give so far."""
        try:
            masses = self.masses_mg()
            found = preparing.reckon_count(self.seeds.value(), masses) if masses else None
        except KeeperError as error:
            self.found.setText("")
            self.why.setText(str(error))
            return
        if found is None:
            self.found.setText("")
            self.why.setText(type(self).__doc__ or "")
            self.why.setText(
                "Eight replicates of 100 seeds are usual; from a small lot weigh what can be spared."
            )
            return
        spread = "" if found.cv_percent is None else f", coefficient of variation {found.cv_percent:.1f} %"
        self.found.setText(f"A thousand seeds weigh {found.shown} g{spread}")
        self.found.set_tone("warn" if found.retest else "")
        self.why.setText(found.why)
        self.why.setToolTip(f"Source: {found.source}")

    def clear_fields(self) -> None:
        super().clear_fields()
        self._show_second_eight(False)

    def record(self) -> Any:
        """Hand the weights to the bench."""
        masses = self.masses_mg()
        if not masses:
            self.replicates[0].setFocus()
            raise BadInput("Weigh at least one replicate of counted seeds, in grams.")
        return preparing.count(
            self.work.catalogue, self.lot.number, on=self.on, seeds=self.seeds.value(), replicates_mg=masses
        )
