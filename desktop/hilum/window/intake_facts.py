"""How a list was understood: every assumption with its proof, and a combo box to settle it otherwise."""

from dataclasses import replace
from typing import Any, cast

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QLabel, QScrollArea, QVBoxLayout, QWidget

from hilum.benches import intake
from hilum.window.intake_list import ListReading, ListRequest
from hilum.window.widgets import Heading, Quiet, form_row

# The words of a column that nobody could tell: its cells go to the notes, where nothing is lost.
NOT_KNOWN = "not known: to the notes"
ENCODINGS = (
    ("As the file proves", None), ("UTF-8", "utf-8"), ("Western (Windows-1252)", "cp1252"),
    ("Western (ISO 8859-15)", "iso8859-15"), ("Central European (Windows-1250)", "cp1250"),
    ("Mac Roman", "mac_roman"), ("UTF-16", "utf-16"),
)  # fmt: skip
SETTLED = (
    ("decimal mark", "Decimal &mark", "decimal_mark",
     (("As the list proves", None), ("Point, as in 38.5", "."), ("Comma, as in 38,5", ","))),
    ("date order", "&Date order", "date_order",
     (("As the list proves", None), *((order.capitalize(), order) for order in intake.DATE_ORDERS))),
    ("unit", "&Unit of bare figures", "unit",
     (("As the list proves", None), *((unit, unit) for unit in intake.UNITS))),
)  # fmt: skip


class SettledFact(QWidget):
    """One assumption: a combo box, and below it what holds and what proves it."""

    settled = Signal(str, object)

    def __init__(self, name: str, words: str, entries: tuple[tuple[str, object], ...]) -> None:
        super().__init__()
        self.name = name
        self.box = QuietBox()
        for text, value in entries:
            self.box.addItem(text, value)
        self.proof = Quiet("")
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 8)
        layout.setSpacing(3)
        self.label = form_row(layout, words, self.box)
        layout.addWidget(self.proof)
        self.box.activated.connect(self.on_activated)

    def on_activated(self, place: int) -> None:
        """Say what was settled."""
        self.settled.emit(self.name, self.box.itemData(place))

    def show_fact(self, value: object, proof: str) -> None:
        """Show what is settled and what holds for the list."""
        self.box.setCurrentIndex(max(self.box.findData(value), 0))
        self.proof.setText(proof)
        self.box.setAccessibleDescription(proof)


class QuietBox(QComboBox):
    """A combo box that the mouse wheel does not change while a panel is scrolled past it."""

    def __init__(self) -> None:
        super().__init__()
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.setMinimumContentsLength(12)

    def wheelEvent(self, event: object) -> None:
        event.ignore()  # type: ignore[attr-defined]


class FactsPanel(QScrollArea):
    """The left side of the review: the file's own facts, then what each column was taken for."""

    request_changed = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName("How the list was understood")
        self._request: ListRequest | None = None
        self._columns: dict[str, SettledFact] = {}
        self._facts: dict[str, SettledFact] = {}
        self._inner = QWidget()
        self._layout = QVBoxLayout(self._inner)
        self._layout.setContentsMargins(2, 2, 10, 2)
        self._layout.setSpacing(4)
        self.setWidget(self._inner)
        self._build_facts()
        self._layout.addWidget(Heading("Columns"))
        self._columns_at = self._layout.count()
        self._layout.addStretch(1)

    def _build_facts(self) -> None:
        self._layout.addWidget(Heading("The list"))
        self._separator = QLabel()
        self._separator.setWordWrap(True)
        self._add("encoding", "&Encoding", ENCODINGS, self.on_file_settled)
        self._add("sheet", "S&heet", (), self.on_file_settled)
        self._layout.addWidget(self._separator)
        for about, words, _, entries in SETTLED:
            self._add(about, words, entries, self.on_fact_settled)

    def _add(self, about: str, words: str, entries: tuple[tuple[str, object], ...], slot: object) -> None:
        fact = SettledFact(about, words, entries)
        fact.settled.connect(slot)
        self._facts[about] = fact
        self._layout.addWidget(fact)

    # Showing.

    def show_reading(self, reading: ListReading) -> None:
        """Show how a list was read, and under which choices."""
        self._request = reading.request
        how = reading.table.how
        facts = {fact.about: fact for fact in reading.plan.reading.facts} if reading.plan else {}
        self._facts["encoding"].setVisible(how.encoding is not None)
        self._facts["encoding"].show_fact(reading.request.encoding, _held(how.encoding, how.encoding_proof))
        self._show_sheets(reading)
        separated = facts.get("separator")
        words = f"Separator: {how.separator or 'none, one column'}" if how.encoding is not None else ""
        self._separator.setText(f"{words} ({separated.proof})" if words and separated else words)
        self._separator.setVisible(bool(words))
        for about, _, name, _ in SETTLED:
            fact = facts.get(about)
            held = _held(fact.taken, fact.proof) if fact else "Name the columns first."
            self._facts[about].show_fact(getattr(reading.request.choices, name), held)
        self._show_columns(reading)

    def _show_sheets(self, reading: ListReading) -> None:
        how, fact = reading.table.how, self._facts["sheet"]
        fact.setVisible(how.sheet is not None)
        if how.sheet is None:
            return
        fact.box.clear()
        for name in (how.sheet, *how.other_sheets):
            fact.box.addItem(name, name)
        others = f"not read: {', '.join(how.other_sheets)}" if how.other_sheets else "the only one with cells"
        fact.show_fact(how.sheet, others)

    def _show_columns(self, reading: ListReading) -> None:
        read = {c.heading: c for c in reading.plan.reading.columns} if reading.plan else {}
        headings = tuple(read) or tuple(text for text in reading.table.header if text)
        if tuple(self._columns) != headings:
            for fact in self._columns.values():
                self._layout.removeWidget(fact)
                fact.deleteLater()
            self._columns = {}
            for place, heading in enumerate(headings):
                entries = ((NOT_KNOWN, None), *((meaning, meaning) for meaning in intake.MEANINGS))
                fact = SettledFact(heading, heading.replace("&", "&&"), entries)
                fact.settled.connect(self.on_column_settled)
                self._columns[heading] = fact
                self._layout.insertWidget(self._columns_at + place, fact)
                fact.show()
        chosen = reading.request.choices.columns
        for heading, fact in self._columns.items():
            column = read.get(heading)
            fact.show_fact(column.meaning if column else chosen.get(heading), column.words if column else "")

    # What the keeper settles.

    def on_file_settled(self, about: str, value: object) -> None:
        """Read the file with another encoding or another sheet."""
        if self._request is not None:
            self.request_changed.emit(replace(self._request, **cast(Any, {about: value})))

    def on_fact_settled(self, about: str, value: object) -> None:
        """Settle the decimal mark, the date order or the unit."""
        name = next(name for each, _, name, _ in SETTLED if each == about)
        if self._request is not None:
            choices = replace(self._request.choices, **cast(Any, {name: value}))
            self.request_changed.emit(replace(self._request, choices=choices))

    def on_column_settled(self, heading: str, meaning: object) -> None:
        """Settle what a column means; a meaning is taken from the column that had it."""
        if self._request is None:
            return
        columns = {name: each for name, each in self._request.choices.columns.items() if name != heading}
        if meaning is not None:
            columns = {
                name: each
                for name, each in columns.items()
                if each != meaning or meaning in ("notes", "not used")
            }
            columns[heading] = str(meaning)
        choices = replace(self._request.choices, columns=columns)
        self.request_changed.emit(replace(self._request, choices=choices))


def _held(taken: str | None, proof: str | None) -> str:
    return f"{taken}: {proof}" if proof else (taken or "")
