"""Holds: marks that bar a lot from packing and the counter, set here and lifted with a reason."""

from dataclasses import dataclass
from typing import Any

from PySide6.QtWidgets import QComboBox, QPushButton, QVBoxLayout

from hilum.benches import lots
from hilum.window.models import Column, RowsTable
from hilum.window.preparing_forms import WIDEST, StepForm
from hilum.window.widgets import form_row


@dataclass(frozen=True, slots=True)
class Held:
    """What putting a hold on a lot left behind, in the words the page shows."""

    words: str
    warnings: tuple[str, ...] = ()


class HoldForm(StepForm):
    """The lot's holds, and a new one."""

    step, words, action, caution = "held", "Hold", "&Put on hold", ""

    def build(self) -> None:
        """Make the fields."""
        self.kind = QComboBox()
        self.kind.addItems(lots.HOLD_KINDS)
        self.kind.setMaximumWidth(WIDEST)
        form_row(self.form, "&Why", self.kind)
        form_row(self.form, "&Note", self.note)
        self.lift = QPushButton("&Lift the chosen hold…")
        self.table = RowsTable(
            (Column("Hold", _kind), Column("Since", _since), Column("Note", _note), Column("Lifted", _lifted)),
            "Holds of this lot", "This lot has never been on hold.",
        )  # fmt: skip
        self.table.setMaximumHeight(150)
        self.lift.clicked.connect(self.on_lift)
        self.table.choice_changed.connect(self.show_lift)

    def build_below(self, layout: QVBoxLayout) -> None:
        """Add the list of holds."""
        layout.addWidget(self.table)
        self.buttons.insertWidget(1, self.lift)

    def show_state(self) -> None:
        """List the lot's holds."""
        story = self.attempt(lots.lot_story, self.work.catalogue, self.lot.number) if self.lot else None
        self.table.set_rows(story.holds if story else ())
        in_force = [hold for hold in self.table.rows() if hold.lifted_on is None]
        if in_force and not self.table.chosen():
            self.table.choose(lambda hold: hold is in_force[0])
        self.show_lift()

    def show_lift(self) -> None:
        """Offer lifting where a hold in force is chosen."""
        self.lift.setEnabled(any(hold.lifted_on is None for hold in self.table.chosen()))

    def record(self) -> Any:
        """Put the hold on."""
        kind = self.kind.currentText()
        lots.hold_lot(self.work.catalogue, self.lot.number, kind, on=self.on, note=self.note.text().strip())
        return Held(f"On hold: {kind}. It is not packed or handed out until the hold is lifted.")

    def on_lift(self) -> None:
        """Ask for the reason."""
        self.questions.ask_text(
            self, "Lift a hold", "What was found? A hold is lifted with a reason.", self.on_reason
        )

    def on_reason(self, why: str) -> None:
        """Lift the chosen hold."""
        chosen = next((hold for hold in self.table.chosen() if hold.lifted_on is None), None)
        day = self.attempt(self._day.day)
        if chosen is None or day is None:
            return
        if self.attempt(lots.lift_hold, self.work.catalogue, chosen.id, on=day, why=why) is not None:
            self.recorded.emit(f"The hold “{chosen.kind}” was lifted: {why}", ())


def _kind(hold: Any) -> str:
    return str(hold.kind)


def _since(hold: Any) -> str:
    return str(hold.set_on.isoformat())


def _note(hold: Any) -> str:
    return str(hold.note)


def _lifted(hold: Any) -> str:
    return "in force" if hold.lifted_on is None else f"{hold.lifted_on.isoformat()}: {hold.lifted_why}"
