"""How a test in groups stands: what to do next, how far to trust it, the corridor, and another group laid."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLabel, QPushButton, QVBoxLayout, QWidget

from hilum.benches.groups import ANOTHER, COUNT_ON, KEEP, REGROW, GroupStanding
from hilum.window.corridor import corridor_plot
from hilum.window.lot_words import counted
from hilum.window.reckoner_plot import SumPicture
from hilum.window.widgets import GramsEdit, Heading, Quiet, card, primary, row_of

WORDS = {
    KEEP: "Stop and keep",
    REGROW: "Stop and regrow",
    ANOTHER: "Sow another group",
    COUNT_ON: "Count the group that stands",
}
TONES = {KEEP: "good", REGROW: "bad", ANOTHER: "warn"}


class GroupPanel(QWidget):
    """Shows what the groups so far say, and lets another one be laid."""

    # Another group is wanted.
    group_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.word = Heading("")
        self.why, self.sureness = Quiet(""), Quiet("")
        self.grams = GramsEdit()
        self.grams.setPlaceholderText("grams")
        self.grams.setMaximumWidth(190)
        self._weighed = QLabel("Seed w&eighed")
        self._weighed.setBuddy(self.grams)
        self.button = primary(QPushButton("Lay another &group"))
        self.picture = SumPicture()
        self.caption = Quiet("")
        inside = QVBoxLayout()
        inside.setSpacing(6)
        for widget in (self.word, self.why, self.sureness):
            inside.addWidget(widget)
        inside.addLayout(row_of(self.button, self._weighed, self.grams))
        inside.addWidget(self.picture)
        inside.addWidget(self.caption)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(card(inside))
        self._connect()

    def _connect(self) -> None:
        self.button.clicked.connect(self.group_wanted)

    def show_standing(self, standing: GroupStanding | None) -> None:
        """Show how a test in groups stands; a test that is none hides all of it."""
        self.setVisible(standing is not None)
        if standing is None:
            return
        self.word.setText(WORDS[standing.word])
        self.word.set_tone(TONES.get(standing.word, ""))
        self.why.setText(standing.why)
        self.sureness.setText(sureness_words(standing))
        self.sureness.setVisible(bool(self.sureness.text()))
        wanted = standing.word == ANOTHER
        self.button.setText(f"Lay another &group of {standing.group_seeds}")
        for widget in (self.button, self._weighed, self.grams):
            widget.setVisible(wanted)
        rows = [(step.tested, step.regrow_at_most, step.keep_at_least) for step in standing.plan.steps]
        run = [(group.tested, group.germinated) for group in standing.groups]
        plot = corridor_plot(rows, run, standing.bar_percent)
        self.picture.show_plot(plot)
        rows_source = f"The plan's rows: {standing.plan.status}; {standing.plan.source}."
        self.caption.setText(f"{plot.caption} {rows_source}")


def sureness_words(standing: GroupStanding) -> str:
    """Say how likely the lot lies below the bar, and what stopping saves."""
    said = []
    if standing.below_chance is not None:
        said.append(f"Chance that the lot lies below the bar: {_in_a_hundred(standing.below_chance)}.")
    if standing.wrong_chance is not None:
        said.append(f"The plan's risk that this answer is wrong: {_in_a_hundred(standing.wrong_chance)}.")
    if standing.is_over and standing.seeds_saved > 0:
        said.append(f"{counted(standing.seeds_saved, 'seed')} of the whole plan saved.")
    return " ".join(said)


def _in_a_hundred(chance: float) -> str:
    if chance < 0.005:
        return "less than 1 in 100"
    if chance > 0.995:
        return "more than 99 in 100"
    return f"{100 * chance:.0f} in 100"
