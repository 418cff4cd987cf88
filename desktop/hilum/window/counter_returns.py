"""Returns: what was promised back, and seed that comes back as a new lot with its parent."""

from datetime import timedelta
from functools import partial

from PySide6.QtWidgets import QGridLayout, QLabel, QLineEdit, QPushButton, QVBoxLayout, QWidget

from hilum.benches import counter, returns
from hilum.benches.intake import suggest
from hilum.benches.returns import Promise
from hilum.window.counter_tab import CounterTab
from hilum.window.models import Column, RowsTable
from hilum.window.questions import Questions
from hilum.window.widgets import DateEdit, Heading, Quiet, SuggestLine, card, primary, row_of
from hilum.window.work import WorkDay

# A season to grow it and one to dry and clean it; common practice, no source.
USUAL_DAYS = 330


class ReturnsTab(CounterTab):
    """Promises that are waited for above; below, one form that notes a promise or takes seed in."""

    def __init__(self, work: WorkDay, questions: Questions, parent: QWidget | None = None) -> None:
        super().__init__(work, questions, parent)
        self.table = RowsTable(self._columns(), "Promised returns", "No return is waited for.")
        self.lot = QLineEdit()
        self.lot.setPlaceholderText("lot it was grown from, scanned or typed")
        self.who = SuggestLine(self._people)
        self.who.setPlaceholderText("optional")
        self.by = DateEdit(work.today() + timedelta(days=USUAL_DAYS))
        self.crop = SuggestLine(self._crops)
        self.crop.setPlaceholderText("only where no lot is known")
        self.variety = QLineEdit()
        self.variety.setPlaceholderText("left empty: identity unknown")
        self.weight = QLineEdit()
        self.weight.setPlaceholderText("12 g, 40 seeds, or empty")
        self.promise = QPushButton("Note a &promise")
        self.take_in = primary(QPushButton("&Take in what came back"))
        self.give_up = QPushButton("&Give up the chosen promise…")
        self._for = Quiet("")
        self._lay_out()
        self._connect()

    def _columns(self) -> tuple[Column, ...]:
        return (
            Column("Lot", _lot, least_px=130),
            Column("Crop and variety", _name),
            Column("Promised by", _who),
            Column("Promised on", _promised),
            Column("Expected by", _expected, tone=self._tone),
            Column("State", self._state, tone=self._tone),
        )

    def _lay_out(self) -> None:
        form = QGridLayout()
        form.setHorizontalSpacing(12)
        for place, (words, field) in enumerate(
            (
                ("&Lot", self.lot), ("Fro&m", self.who), ("&Crop", self.crop), ("&Variety", self.variety),
                ("&Weight or seeds", self.weight), ("Expected &by", self.by),
            )
        ):  # fmt: skip
            label = QLabel(words)
            label.setBuddy(field)
            form.addWidget(label, place // 2, 2 * (place % 2))
            form.addWidget(field, place // 2, 2 * (place % 2) + 1)
        form.setColumnStretch(1, 1)
        form.setColumnStretch(3, 1)
        inside = QVBoxLayout()
        inside.addWidget(Heading("Seed that comes back"))
        inside.addLayout(form)
        inside.addWidget(self._for)
        inside.addLayout(row_of(self.take_in, self.promise))
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 10, 0, 0)
        layout.setSpacing(10)
        top = row_of(Heading("Promised returns"), stretch=True)
        top.addWidget(self.give_up)
        layout.addLayout(top)
        layout.addWidget(self.table, 1)
        layout.addWidget(card(inside))

    def _connect(self) -> None:
        self.table.choice_changed.connect(self.on_choice_changed)
        self.promise.clicked.connect(self.on_promise)
        self.take_in.clicked.connect(self.on_take_in)
        self.give_up.clicked.connect(self.on_give_up)

    def _people(self, typed: str) -> tuple[str, ...]:
        return self.work.attempt(counter.people_like, self.work.catalogue, typed) or ()

    def _crops(self, typed: str) -> tuple[str, ...]:
        return self.work.attempt(suggest, self.work.catalogue, "Crop", typed) or ()

    def refresh(self) -> None:
        rows = self.work.attempt(returns.promised_returns, self.work.catalogue)
        self.table.set_rows(rows or ())
        self.on_choice_changed()

    def focus_first(self) -> None:
        self.lot.setFocus()

    def choose(self, lots: tuple[str, ...]) -> bool:
        """Choose the promises of some lots; says whether there are any."""
        self.table.choose(lambda row: row.line.lot in lots)
        return bool(self.table.chosen())

    def _chosen(self) -> Promise | None:
        chosen = self.table.chosen()
        return chosen[0] if len(chosen) == 1 else None

    def on_choice_changed(self) -> None:
        """Fill in what a chosen promise says."""
        promise = self._chosen()
        self.give_up.setEnabled(promise is not None)
        self._for.setText("" if promise is None else "Taking in settles the chosen promise.")
        if promise is not None:
            self.lot.setText(promise.line.lot)
            self.who.setText("" if self.work.catalogue.hides_people else promise.who)

    def on_promise(self) -> None:
        """Write a promise down."""
        if not self.lot.text().strip():
            self.said.emit("bad", "Say of which lot seed was promised back: scan it or type its number.")
            self.lot.setFocus()
            return
        noted = self.work.attempt(
            returns.promise_return, self.work.catalogue, self.lot.text(), on=self.work.today(),
            by=self.by.day(), who=self.who.text(),
        )  # fmt: skip
        if noted is not None:
            self._finish(f"Noted: seed of {self.lot.text().strip().upper()} is expected by {self.by.day()}.")

    def on_take_in(self) -> None:
        """Take in what came back as a new lot."""
        promise = self._chosen()
        lot = self.work.attempt(
            returns.take_return, self.work.catalogue, on=self.work.today(), parent=self.lot.text(),
            crop=self.crop.text(), variety=self.variety.text(), weight=self.weight.text(), who=self.who.text(),
            promise_id=None if promise is None else promise.id,
        )  # fmt: skip
        if lot is not None:
            unknown = " Its identity is unknown: it is not packed." if lot.line.identity == "unknown" else ""
            self._finish(f"Taken in as lot {lot.number}: {lot.name}.{unknown} It waits at Preparing.")

    def on_give_up(self) -> None:
        """Ask why a promise is given up."""
        promise = self._chosen()
        if promise is not None:
            self.questions.ask_text(
                self, "Give up a promised return", "Why is it not waited for any more?",
                partial(self.close_promise, promise.id),
            )  # fmt: skip

    def close_promise(self, promise_id: int, why: str) -> None:
        """Close a promise with the reason."""
        if self.work.did(returns.give_up, self.work.catalogue, promise_id, on=self.work.today(), why=why):
            self._finish("That return is not waited for any more.")

    def _finish(self, words: str) -> None:
        self.table.clearSelection()
        for field in (self.lot, self.who, self.crop, self.variety, self.weight):
            field.clear()
        self.work.changes.tell(words)
        self.refresh()
        self.said.emit("good", words)
        self.lot.setFocus()

    def _state(self, row: Promise) -> str:
        return "overdue" if row.is_overdue(self.work.today()) else "waited for"

    def _tone(self, row: Promise) -> str:
        return "warn" if row.is_overdue(self.work.today()) else ""


def _lot(row: Promise) -> str:
    return row.line.lot


def _name(row: Promise) -> str:
    return f"{row.line.crop} “{row.line.variety}”"


def _who(row: Promise) -> str:
    return row.who


def _promised(row: Promise) -> str:
    return row.line.promised_on.isoformat()


def _expected(row: Promise) -> str:
    return row.line.expected_by.isoformat()
