"""Preparing bench: from a bag at the door to a lot in the store, one dated step after the other."""

from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QButtonGroup,
    QLabel,
    QPushButton,
    QScrollArea,
    QSplitter,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from hilum.benches import lots, preparing
from hilum.benches.keeping import Catalogue
from hilum.window.models import Column, RowsTable
from hilum.window.page import BenchPage
from hilum.window.preparing_cautions import CautionLine
from hilum.window.preparing_count import CountForm
from hilum.window.preparing_forms import CleanForm, DryForm, WeighForm
from hilum.window.preparing_freeze import FreezeForm
from hilum.window.preparing_hold import HoldForm
from hilum.window.preparing_store import StoreForm
from hilum.window.questions import Questions
from hilum.window.widgets import DateEdit, Heading, Notice, Quiet, Title, polish, row_of
from hilum.window.work import WorkDay

FORMS = (CleanForm, DryForm, WeighForm, CountForm, FreezeForm, StoreForm, HoldForm)
STEP_WORDS = {"cleaned": "clean", "dried": "dry", "weighed": "weigh", "counted": "count", "frozen": "freeze"}


def lots_to_prepare(catalogue: Catalogue, on: Any, also: tuple[str, ...]) -> tuple[preparing.InHand, ...]:
    """Give the lots in hand, and others that were sent here though they lie in the store already."""
    here = preparing.in_hand(catalogue, on=on)
    known = {each.lot.number for each in here}
    others = []
    for number in also:
        if number not in known:
            story = lots.lot_story(catalogue, number)
            done = tuple(kind for kind in preparing.ORDER if any(step.kind == kind for step in story.steps))
            missing = next((kind for kind in preparing.ORDER if kind not in done), None)
            holds = tuple(hold.kind for hold in story.holds if hold.lifted_on is None)
            others.append(preparing.InHand(story.lot, done, missing, holds))
    return (*here, *others)


class PreparingPage(BenchPage):
    """The lots in hand above, the work on the chosen one below."""

    title = "Preparing"

    def __init__(self, work: WorkDay, questions: Questions, parent: QWidget | None = None) -> None:
        super().__init__(work, questions, parent)
        self._also: tuple[str, ...] = ()
        self.table = RowsTable(
            (Column("Lot", _number), Column("Name", _name), Column("Next", _next, tone=_hold_tone),
             Column("Stock", _stock), Column("Came in", _received, _received_on), Column("Done", _done)),
            "Lots in hand", "No lot is in hand. What is taken in at Intake comes here.", key=_number,
        )  # fmt: skip
        self.name = Heading("")
        self.state = Quiet("")
        self.day = DateEdit(work.today())
        self.label = QPushButton("&Jar label…")
        self.notice = Notice()
        self.forms = tuple(kind(work, questions, self.day) for kind in FORMS)
        self._choice = QButtonGroup(self)
        self._buttons = tuple(self._step_button(place) for place in range(len(self.forms)))
        self._stack = QStackedWidget()
        self._lay_out()
        self._connect()
        self.refresh()

    def _step_button(self, place: int) -> QPushButton:
        button = QPushButton(self.forms[place].words)
        button.setCheckable(True)
        self._choice.addButton(button, place)
        return button

    def _lay_out(self) -> None:
        for form in self.forms:
            area = QScrollArea()
            area.setWidgetResizable(True)
            area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
            area.setWidget(form)
            # The caution stays in sight however far the form is scrolled.
            whole = QWidget()
            within = QVBoxLayout(whole)
            within.setContentsMargins(0, 0, 0, 0)
            within.addWidget(area, 1)
            if form.caution:
                within.addWidget(CautionLine(form.caution))
            self._stack.addWidget(whole)
        when = QLabel("&Done on")
        when.setBuddy(self.day)
        self.name.setWordWrap(True)
        head = row_of(self.name, when, self.day, self.label, stretch=False)
        head.setStretch(0, 1)
        self._lower = QWidget()
        below = QVBoxLayout(self._lower)
        below.setContentsMargins(0, 8, 0, 0)
        below.addLayout(head)
        below.addWidget(self.state)
        below.addLayout(row_of(*self._buttons))
        below.addWidget(self._stack, 1)
        splitter = QSplitter(Qt.Orientation.Vertical)
        splitter.setChildrenCollapsible(False)
        splitter.addWidget(self.table)
        splitter.addWidget(self._lower)
        splitter.setSizes([140, 480])
        # A tall window shows more of the lots, not only more room under the form.
        splitter.setStretchFactor(0, 1)
        splitter.setStretchFactor(1, 1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(16, 4, 16, 6)
        layout.addWidget(Title("Preparing"))
        layout.addWidget(self.notice)
        layout.addWidget(splitter, 1)

    def _connect(self) -> None:
        self.table.choice_changed.connect(self.show_chosen)
        self.table.row_opened.connect(self.on_row_opened)
        self.day.day_changed.connect(self.show_chosen)
        self.label.clicked.connect(self.on_label)
        self._choice.idClicked.connect(self.show_step)
        for form in self.forms:
            form.recorded.connect(self.on_recorded)

    # The lots in hand.

    def refresh(self) -> None:
        found = self.work.attempt(lots_to_prepare, self.work.catalogue, self.work.today(), self._also)
        if found is not None:
            self.table.set_rows(found)
        if self.table.rows() and not self.table.chosen():
            self.table.selectRow(0)
        self.show_chosen()

    def focus_first(self) -> None:
        self.table.setFocus()

    def start_with(self, lots: tuple[str, ...]) -> None:
        self._also = tuple(lots)
        self.refresh()
        wanted = set(lots)
        first = next((each.lot.number for each in self.table.rows() if each.lot.number in wanted), None)
        self.table.choose(lambda each: each.lot.number == first)
        self.show_chosen()

    def chosen(self) -> preparing.InHand | None:
        """Give the lot that is worked on: the first of the chosen ones."""
        return next(iter(self.table.chosen()), None)

    # The lot being worked on.

    def show_chosen(self) -> None:
        """Show the chosen lot with its steps, its next one opened."""
        each = self.chosen()
        self._lower.setEnabled(each is not None)
        self.name.setText("" if each is None else f"{each.lot.number}  {each.lot.name}")
        self.state.setText("" if each is None else _state_words(each))
        changed = (
            each is not None and self.forms[0].lot is not None and self.forms[0].lot.number != each.lot.number
        )
        fresh = each is not None and self.forms[0].lot is None
        for form, button in zip(self.forms, self._buttons, strict=True):
            form.show_lot(None if each is None else each.lot)
            done = each is not None and form.step in each.done
            button.setText(f"✓ {form.words}" if done else form.words)
            button.setAccessibleDescription("done already" if done else "")
        if changed or fresh:
            self.show_step(self._place_of(each.next_step))

    def _place_of(self, step: str | None) -> int:
        """Give the place of a step's form; when all are done the lot goes to the store."""
        wanted = step or "stored"
        return next(place for place, form in enumerate(self.forms) if form.step == wanted)

    def show_step(self, place: int) -> None:
        """Open the form of a step."""
        self._stack.setCurrentIndex(place)
        for at, button in enumerate(self._buttons):
            button.setChecked(at == place)
            button.setProperty("look", "primary" if at == place else "")
            polish(button)

    def on_row_opened(self, each: preparing.InHand) -> None:
        """Enter on a lot opens its own page."""
        self.lot_wanted.emit(each.lot.number)

    def on_label(self) -> None:
        """Print the label of the jar."""
        from hilum.window.print_dialog import open_print_dialog

        numbers = tuple(each.lot.number for each in self.table.chosen())
        open_print_dialog(self.work, self.questions, self, numbers)

    def on_recorded(self, words: str, warnings: tuple[str, ...]) -> None:
        """Say what was done, and go on to the lot's next step."""
        before = self.chosen()
        number = before.lot.number if before else ""
        if warnings:
            self.notice.show_warn(f"{number}: {words} {' '.join(warnings)}")
        else:
            self.notice.show_good(f"{number}: {words}")
        self.refresh()
        after = self.chosen()
        if after is not None and after.lot.number == number:
            self.show_step(self._place_of(after.next_step))
        self.work.changes.tell(f"{number}: {words}")


def _state_words(each: preparing.InHand) -> str:
    done = ", ".join(each.done) if each.done else "nothing done yet"
    following = f"next: {STEP_WORDS[each.next_step]}" if each.next_step else "next: put into the store"
    words = [f"Stock {each.lot.stock_words}", f"came in {each.lot.received_words}", done, following]
    if each.holds:
        words.append(f"ON HOLD: {', '.join(each.holds)}")
    return "; ".join(words)


def _number(each: preparing.InHand) -> str:
    return each.lot.number


def _name(each: preparing.InHand) -> str:
    return each.lot.name


def _next(each: preparing.InHand) -> str:
    words = STEP_WORDS[each.next_step] if each.next_step else "store"
    return f"{words}; on hold: {', '.join(each.holds)}" if each.holds else words


def _done(each: preparing.InHand) -> str:
    return ", ".join(each.done)


def _stock(each: preparing.InHand) -> str:
    return each.lot.stock_words


def _received(each: preparing.InHand) -> str:
    return each.lot.received_words


def _received_on(each: preparing.InHand) -> Any:
    return each.lot.line.received_on


def _hold_tone(each: preparing.InHand) -> str:
    return "bad" if each.holds else ""
