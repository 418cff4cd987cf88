"""One input of a question: its label, its field, and below it whence it comes or why it cannot be."""

import re
from collections.abc import Callable, Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QLabel, QLineEdit, QVBoxLayout, QWidget

from hilum.benches.lot_sums import Filled
from hilum.benches.reckoning import SumError, SumInput
from hilum.benches.sums import NUMBER, NUMBERS, TALLY, WHOLES, YES_NO
from hilum.window.widgets import Quiet, SuggestLine, polish

# A comma before exactly three digits may stand for thousands: it is not taken as a decimal mark.
_DECIMAL_COMMA = re.compile(r"([+-]?\d*),(\d+)")


def as_typed(kind: str, text: str) -> str:
    """Bring what a keeper types into the form the sums read: decimal commas, blanks and semicolons in lists."""
    text = text.strip()
    if kind == NUMBER:
        found = _DECIMAL_COMMA.fullmatch(text)
        return f"{found[1]}.{found[2]}" if found and len(found[2]) != 3 else text
    if kind in (NUMBERS, WHOLES):
        blanks = text.split()
        if ";" in text:
            return _joined(text.strip("; ").split(";"))
        if kind == NUMBERS and len(blanks) > 1 and all(part.strip(",") == part for part in blanks):
            return _joined(blanks)
        return ",".join(part for part in re.split(r"\s*,\s*|\s+", text.strip(", ")) if part)
    if kind == TALLY:
        return re.sub(r"\s*(?:of|out of|/)\s*", "/", text)
    return text


def _joined(parts: Sequence[str]) -> str:
    """Put figures together that were told apart by something else than commas; an ambiguous one stays unreadable."""
    figures = [as_typed(NUMBER, part) for part in parts]
    return (";" if any("," in each for each in figures) else ",").join(figures)


class SumField(QWidget):
    """A labelled field for one input of a sum."""

    changed = Signal()

    def __init__(
        self, one: SumInput, label: str, example: str, suggest: Callable[[str], tuple[str, ...]] | None
    ) -> None:
        super().__init__()
        self.one, self.label = one, label
        self._whence = ""
        self._trouble = ""
        self.tick = QCheckBox(label) if one.kind == YES_NO else None
        self.line: QLineEdit = SuggestLine(suggest) if suggest else QLineEdit()
        self.words = Quiet("")
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(3)
        if self.tick is not None:
            self.tick.setChecked(bool(one.default))
            layout.addWidget(self.tick)
        else:
            self._lay_out_line(layout, example)
        layout.addWidget(self.words)
        layout.addStretch(1)
        self._connect()
        self._show_words()

    def _lay_out_line(self, layout: QVBoxLayout, example: str) -> None:
        caption = QLabel(self.label)
        caption.setBuddy(self.line)
        self.line.setAccessibleName(self.label)
        default = self.one.default
        optional = "" if self.one.needed else "if known"
        self.line.setPlaceholderText(example or optional if default is None else f"else {default:g}")
        row = QHBoxLayout()
        row.setSpacing(6)
        row.addWidget(self.line, 1)
        if self.one.unit:
            unit = QLabel(self.one.unit)
            unit.setProperty("look", "quiet")
            unit.setMinimumWidth(34)
            row.addWidget(unit)
        layout.addWidget(caption)
        layout.addLayout(row)

    def _connect(self) -> None:
        self.line.textEdited.connect(self.on_edited)
        if isinstance(self.line, SuggestLine):
            self.line.picked.connect(self.on_edited)
        if self.tick is not None:
            self.tick.toggled.connect(self.changed)

    @property
    def is_from_lot(self) -> bool:
        """Whether what stands here was taken from the lot at hand and not typed."""
        return bool(self._whence)

    def text(self) -> str:
        """Give what stands here in the form the sums read; empty for nothing."""
        if self.tick is not None:
            return "yes" if self.tick.isChecked() else "no"
        return as_typed(self.one.kind, self.line.text())

    def trouble(self) -> str:
        """Say why what stands here cannot be, with its range; empty when it can."""
        return self._trouble

    def fill(self, filled: Filled | None) -> None:
        """Take what the lot knows; without it, let go what another lot has given."""
        if filled is not None:
            self.line.setText(filled.text)
            self.line.setCursorPosition(0)
            self._whence = filled.why
        elif self._whence:
            self.line.clear()
            self._whence = ""
        self._check()

    def on_edited(self) -> None:
        """What is typed by hand is no longer the lot's."""
        self._whence = ""
        self._check()
        self.changed.emit()

    def _check(self) -> None:
        self._trouble = ""
        text = self.text()
        if text and self.tick is None:
            try:
                self.one.read(text)
            except SumError as error:
                said = str(error).removeprefix(f"{self.one.name}=")
                self._trouble = said.replace(self.one.words, "a figure", 1) if self.one.limits else said
        self._show_words()

    def _show_words(self) -> None:
        if self._trouble:
            words = f"✕ {self._trouble}"
        elif self._whence:
            words = f"From the lot: {self._whence}"
        elif self.one.kind in (NUMBERS, WHOLES) and "," in self.text():
            words = f"{self.text().count(',') + 1} figures"
        else:
            words = ""
        self.words.setText(words)
        self.words.set_tone("bad" if self._trouble else "")
        self.words.setVisible(bool(words))
        self.line.setToolTip(self.one.limits)
        self.line.setAccessibleDescription(words or self.one.limits)
        if self.line.property("wrong") != bool(self._trouble):
            self.line.setProperty("wrong", bool(self._trouble))
            polish(self.line)
