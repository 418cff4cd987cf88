"""The inputs of one question: those it lives by in the open, the rarely needed ones folded away."""

from collections.abc import Callable, Mapping

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QPushButton, QVBoxLayout, QWidget

from hilum.benches.lot_sums import Filled
from hilum.benches.reckoning import Sum, seed_sum
from hilum.benches.sums import NUMBERS, WHOLES, YES_NO
from hilum.window.reckoner_field import SumField
from hilum.window.reckoner_questions import Question, plain
from hilum.window.widgets import Heading, Quiet, row_of

MORE, LESS = "M&ore…", "Fe&wer"


class QuestionForm(QWidget):
    """The question, a short explanation, and its fields two beside each other."""

    changed = Signal()

    def __init__(self, question: Question, suggest_crops: Callable[[str], tuple[str, ...]]) -> None:
        super().__init__()
        self.question = question
        self.sum: Sum = seed_sum(question.sum)
        self.labels = {
            one.name: question.labels.get(one.name, one.words[:1].upper() + one.words[1:])
            for one in self.sum.inputs
        }
        self.fields = {
            one.name: SumField(
                one, self.labels[one.name], question.examples.get(one.name, ""),
                suggest_crops if one.name == "crop" else None,
            )
            for one in self.sum.inputs
        }  # fmt: skip
        self.more = QPushButton(MORE)
        self._instead = Quiet("")
        self._folded = QWidget()
        self._lay_out()
        self._connect()
        self._fold(True)
        self._show_instead()

    def _lay_out(self) -> None:
        folded = [
            one.name for one in self.sum.inputs
            if one.name not in self.question.also and (not one.needed or one.name in self._folded_ways())
        ]  # fmt: skip
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(8)
        heading = Heading(self.question.words)
        heading.setWordWrap(True)
        layout.addWidget(heading)
        self._grids = (QGridLayout(), QGridLayout(self._folded))
        self._names = ([name for name in self.fields if name not in folded], folded)
        self._grids[1].setContentsMargins(0, 0, 0, 0)
        self.set_beside(2)
        layout.addLayout(self._grids[0])
        layout.addLayout(row_of(self.more))
        layout.addWidget(self._folded)
        layout.addWidget(self._instead)
        layout.addStretch(1)
        self.more.setVisible(bool(folded))
        self._has_more = bool(folded)

    def _folded_ways(self) -> tuple[str, ...]:
        """Give the second ways to say one thing: the crop stands open, constants of one's own are folded away."""
        return tuple(name for group in self.sum.one_of for name in group if name != self._open_way(group))

    def _open_way(self, group: tuple[str, ...]) -> str:
        return next((name for name in group if name in self.question.also), group[0])

    def set_beside(self, beside: int) -> None:
        """Put so many fields beside each other."""
        for grid, names in zip(self._grids, self._names, strict=True):
            # A list of figures needs room.
            has_lists = any(self.fields[name].one.kind in (NUMBERS, WHOLES) for name in names)
            beside = 2 if has_lists else max(2, min(beside, len(names)))
            grid.setHorizontalSpacing(16)
            grid.setVerticalSpacing(8)
            for name in names:
                grid.removeWidget(self.fields[name])
            lines = [self.fields[name] for name in names if self.fields[name].tick is None]
            for place, field in enumerate(lines):
                grid.addWidget(field, place // beside, place % beside)
            # What is ticked has its words beside it and takes a row of its own.
            for field in (self.fields[name] for name in names if self.fields[name].tick is not None):
                grid.addWidget(field, grid.rowCount(), 0, 1, beside)
            for column in range(3):
                grid.setColumnStretch(column, 1 if column < beside else 0)

    def _connect(self) -> None:
        self.more.clicked.connect(self.on_more)
        for each in self.fields.values():
            each.changed.connect(self.on_field_changed)

    def on_more(self) -> None:
        """Open what is folded away, or fold it again."""
        self._fold(not self._folded.isHidden())
        if not self._folded.isHidden():
            first = next((field for field in self.fields.values() if self._folded.isAncestorOf(field)), None)
            if first is not None:
                first.line.setFocus()

    def _fold(self, is_folded: bool) -> None:
        self._folded.setVisible(self._has_more and not is_folded)
        self.more.setText(MORE if is_folded else LESS)
        self.more.setAccessibleName(
            "More inputs that are rarely needed" if is_folded else "Fold these inputs away"
        )

    def on_field_changed(self) -> None:
        """Tell that something else is asked."""
        self._show_instead()
        self.changed.emit()

    def focus_first(self) -> None:
        """Put the cursor into the first field that still is empty, or else into the first."""
        lines = [
            field.line for field in self.fields.values() if field.tick is None and field.isVisibleTo(self)
        ]
        empty = [line for line in lines if not line.text()]
        if lines:
            (empty or lines)[0].setFocus()

    # What is asked.

    def fill(self, known: Mapping[str, Filled], *, fresh: bool) -> None:
        """Take what a lot knows; for the same lot read again, leave alone what was typed meanwhile."""
        for name, field in self.fields.items():
            if field.tick is None and (fresh or field.is_from_lot or not field.text()):
                field.fill(known.get(name))
        self._show_instead()

    def typed(self) -> dict[str, str]:
        """Give what stands in the fields, ready for the sum; of two ways to say one thing the folded one counts."""
        found = {name: field.text() for name, field in self.fields.items() if field.text()}
        for group in self.sum.one_of:
            given = [name for name in group if name in found]
            if len(given) > 1:
                found.pop(self._open_way(group))
        return found

    def has_trouble(self) -> bool:
        """Say whether a field holds what cannot be."""
        return any(field.trouble() for field in self.fields.values())

    def missing(self) -> tuple[str, ...]:
        """Give the labels of the inputs without which there is no answer."""
        found = self.typed()
        grouped = {name for group in self.sum.one_of for name in group}
        lacking = [one.name for one in self.sum.inputs if one.needed and one.name not in found]
        lacking = [name for name in lacking if name not in grouped]
        lacking += [
            self._open_way(group) for group in self.sum.one_of if not any(name in found for name in group)
        ]
        return tuple(self.labels[name] for name in lacking)

    def explanation(self) -> str:
        """Say shortly what the answer rests on."""
        if self.sum.name == "check-character":
            return (
                "The last character of a lot number follows from the others. Hyphens and spaces do not count."
            )
        return plain(self.sum.explanation, self.labels)

    def asked(self) -> tuple[tuple[str, str], ...]:
        """Give what is asked with, label and figure, for a copy."""
        found = self.typed()
        return tuple(
            (self.labels[one.name], f"{found[one.name]} {one.unit if one.kind != YES_NO else ''}".strip())
            for one in self.sum.inputs
            if one.name in found
        )

    def _show_instead(self) -> None:
        words = []
        for group in self.sum.one_of:
            shown = self._open_way(group)
            given = [name for name in group if name != shown and self.fields[name].text()]
            if given and self.fields[shown].text():
                words.append(f"“{self.labels[given[0]]}” counts, not “{self.labels[shown]}”.")
        self._instead.setText(" ".join(words))
        self._instead.setVisible(bool(words))
