"""Two desks edited one lot: what the other one wrote stands beside what is wanted here, and the keeper chooses."""

from collections.abc import Callable
from typing import Any

from PySide6.QtWidgets import QButtonGroup, QGridLayout, QLabel, QRadioButton, QWidget

from hilum.benches.lots import Difference, EditedMeanwhile
from hilum.benches.past_work import field_words, value_words
from hilum.window.notice import Heading
from hilum.window.widgets import Quiet
from hilum.window.work import WorkDay
from hilum.window.work_dialog import WorkDialog

# Title, words and notice of a dialog stand above.
BEFORE_THE_FORM = 3


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
        self._groups: list[QButtonGroup] = []
        for place, each in enumerate(told.differences):
            # In a form's row a wrapping label would be cut off; the dialog's own layout gives it its height.
            self._layout.insertLayout(BEFORE_THE_FORM + place, self._field_of(each))
        rest = [field_words(name) for name in mine if name not in self._ours]
        if rest:
            self._layout.insertWidget(
                BEFORE_THE_FORM + len(told.differences),
                Quiet(f"Written in any case, for only you changed it: {', '.join(rest)}."),
            )
        self.setMinimumWidth(720)

    def _field_of(self, each: Difference) -> QGridLayout:
        """Show one field: what was seen, what stands now and by whom, and ours where we wrote it too."""
        grid = QGridLayout()
        grid.setHorizontalSpacing(14)
        grid.setColumnMinimumWidth(0, 150)
        grid.setColumnStretch(1, 1)
        name = field_words(each.field)
        grid.addWidget(Heading(name[:1].upper() + name[1:]), 0, 0, 1, 2)
        at = "" if each.at is None else each.at.strftime("%Y-%m-%d %H:%M")
        by = ", ".join(text for text in (each.who, at) if text)
        now = f"{value_words(each.now)} ({by})" if by else value_words(each.now)
        rows: list[tuple[QWidget, str]] = [(Quiet("when you looked"), value_words(each.seen))]
        if each.field in self._mine:
            theirs, ours = QRadioButton("theirs"), QRadioButton("yours")
            theirs.setAccessibleName(f"{name}, theirs")
            ours.setAccessibleName(f"{name}, yours")
            theirs.setChecked(True)
            group = QButtonGroup(self)
            group.addButton(theirs)
            group.addButton(ours)
            self._groups.append(group)
            self._ours[each.field] = ours
            rows += [(theirs, now), (ours, value_words(self._mine[each.field]))]
        else:
            rows.append((Quiet("now; not changed by you"), now))
        for row, (choice, words) in enumerate(rows, start=1):
            grid.addWidget(choice, row, 0)
            grid.addWidget(_words(words), row, 1)
        return grid

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
