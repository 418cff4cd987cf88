"""Two desks edited one lot: what the other one wrote stands beside what is wanted here, and the keeper chooses."""

from collections.abc import Callable
from typing import Any

from PySide6.QtWidgets import QButtonGroup, QGridLayout, QLabel, QRadioButton, QWidget

from hilum.benches.lots import EditedMeanwhile
from hilum.benches.past_work import field_words, value_words
from hilum.window.notice import Heading
from hilum.window.widgets import Quiet
from hilum.window.work import WorkDay
from hilum.window.work_dialog import WorkDialog


class ChooseEdits(WorkDialog):
    """Shows every field that differs; where both desks wrote, one of the two is chosen, theirs unless one says so."""

    def __init__(
        self,
        work: WorkDay,
        parent: QWidget,
        number: str,
        told: EditedMeanwhile,
        mine: dict[str, Any],
        write: Callable[[dict[str, Any]], bool],
    ) -> None:
        words = (
            "Another desk changed the lot while it stood here on the screen. Nothing of yours is written yet; "
            "nothing of theirs is lost unless you choose yours."
        )
        super().__init__(work, parent, f"{number} was changed meanwhile", words, "&Keep what is chosen")
        self._mine, self._write = mine, write
        self._ours: dict[str, QRadioButton] = {}
        grid = QGridLayout()
        grid.setHorizontalSpacing(18)
        grid.setVerticalSpacing(6)
        for column, heading in enumerate(("", "When you looked", "Now", "Yours")):
            grid.addWidget(Heading(heading), 0, column)
        self._groups: list[QButtonGroup] = []
        for place, each in enumerate(told.differences):
            row = 2 * place + 1
            label = QLabel(field_words(each.field).capitalize())
            grid.addWidget(label, row, 0)
            grid.addWidget(_words(value_words(each.seen)), row, 1)
            at = "" if each.at is None else each.at.strftime("%Y-%m-%d %H:%M")
            by = ", ".join(text for text in (each.who, at) if text)
            if each.field in mine:
                theirs = QRadioButton(f"theirs: {value_words(each.now)}")
                ours = QRadioButton(f"yours: {value_words(mine[each.field])}")
                theirs.setAccessibleName(f"{field_words(each.field)}, theirs: {value_words(each.now)}")
                ours.setAccessibleName(f"{field_words(each.field)}, yours: {value_words(mine[each.field])}")
                theirs.setChecked(True)
                group = QButtonGroup(self)
                group.addButton(theirs)
                group.addButton(ours)
                self._groups.append(group)
                self._ours[each.field] = ours
                grid.addWidget(theirs, row, 2)
                grid.addWidget(ours, row, 3)
            else:
                grid.addWidget(_words(value_words(each.now)), row, 2)
                grid.addWidget(Quiet("not changed by you"), row, 3)
            grid.addWidget(Quiet(by), row + 1, 2)
        for column in range(1, 4):
            grid.setColumnStretch(column, 1)
        self.form.addRow(grid)
        rest = [field_words(name) for name in mine if name not in self._ours]
        if rest:
            self.form.addRow(Quiet(f"Written in any case, for only you changed it: {', '.join(rest)}."))
        self.setMinimumWidth(720)

    def on_go(self) -> None:
        """Write what was chosen; what was left to the other desk stays as it is."""
        chosen = {
            name: value
            for name, value in self._mine.items()
            if name not in self._ours or self._ours[name].isChecked()
        }
        if self._write(chosen):
            self.accept()


def _words(text: str) -> QLabel:
    label = QLabel(text)
    label.setWordWrap(True)
    return label
