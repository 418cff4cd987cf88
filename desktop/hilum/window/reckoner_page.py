"""Reckoner bench: a plain question first, answered as one types, starting from the lot at hand."""

from typing import Any

from PySide6.QtCore import QEvent, Qt, QTimer
from PySide6.QtGui import QAction, QGuiApplication, QKeySequence, QResizeEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QFrame,
    QHBoxLayout,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from hilum.benches import intake, lot_sums
from hilum.benches.lot_sums import LotAtHand
from hilum.window.flow import FlowLayout
from hilum.window.packing_lot import LotChoice
from hilum.window.page import BenchPage
from hilum.window.questions import Questions
from hilum.window.reckoner_answer import SumAnswer
from hilum.window.reckoner_form import QuestionForm
from hilum.window.reckoner_pictures import Answer, answer
from hilum.window.reckoner_questions import QUESTIONS, QuestionList, plain
from hilum.window.reckoner_words import copied, output_lines, result_words
from hilum.window.widgets import Quiet, Title, card, primary
from hilum.window.work import WorkDay

# A pause in typing that means: now answer.
PAUSE_MS = 200
LIST_PX = 280
# From this width on the answer stands beside the question, below it otherwise.
BESIDE_PX = 940
STORING = ("storage-time", "viability", "half-life", "dryness-to-keep", "cold-to-keep", "sigma")


class LotLine(LotChoice):
    """The line for the lot at hand, which can also be let go."""

    def let_go(self) -> None:
        """Go on without a lot."""
        self._number = ""
        self.line.clear()
        self._name.hide()


class ReckonerPage(BenchPage):
    """The questions on the left; the chosen one with its fields and its answer on the right."""

    title = "Reckoner"

    def __init__(self, work: WorkDay, questions: Questions, parent: QWidget | None = None) -> None:
        super().__init__(work, questions, parent)
        self.lot: LotAtHand | None = None
        self._answer: Answer | None = None
        # Counts what was asked: an answer that comes after the next question is dropped.
        self._asked = 0
        self._forms: dict[str, QuestionForm] = {}
        self._beside = 2
        self.choice = LotLine(work)
        self.no_lot = QPushButton("W&ithout a lot")
        self.list = QuestionList()
        self._shown: QuestionForm | None = None
        self._place = QVBoxLayout()
        self.answer = SumAnswer()
        self.copy = QPushButton("&Copy result")
        self.copy.setToolTip("Ctrl+Shift+C")
        self.carry = primary(QPushButton(""))
        self.forecast = QPushButton("Open the lot with its fo&recast")
        self._carry_words = Quiet("")
        self._pause = QTimer(self)
        self._pause.setSingleShot(True)
        self._pause.setInterval(PAUSE_MS)
        self._lay_out()
        self._make_actions()
        self._connect()
        self.list.ask(next(iter(QUESTIONS)))

    # Layout.

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.setSpacing(12)
        head.addWidget(Title("Reckoner"), 0, Qt.AlignmentFlag.AlignTop)
        head.addSpacing(24)
        head.addWidget(self.choice, 1)
        head.addWidget(self.no_lot, 0, Qt.AlignmentFlag.AlignTop)
        self.list.setFixedWidth(LIST_PX)
        body = QHBoxLayout()
        body.setSpacing(12)
        body.addWidget(self.list)
        body.addWidget(self._right(), 1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(16, 4, 16, 6)
        layout.setSpacing(10)
        layout.addLayout(head)
        layout.addLayout(body, 1)

    def _right(self) -> QScrollArea:
        found = QVBoxLayout()
        found.addWidget(self.answer)
        found.addWidget(self._carry_words)
        found.addLayout(FlowLayout(self.carry, self.forecast, self.copy))
        found.addStretch(1)
        inside = QWidget()
        self._sides = QBoxLayout(QBoxLayout.Direction.TopToBottom, inside)
        self._sides.setContentsMargins(0, 0, 6, 0)
        self._sides.setSpacing(12)
        self._asked_card: QFrame = card(self._place)
        self._found_card: QFrame = card(found)
        self._sides.addWidget(self._asked_card)
        self._sides.addWidget(self._found_card)
        self._sides.addStretch(1)
        self._scroll = QScrollArea()
        self._scroll.setWidgetResizable(True)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._scroll.setWidget(inside)
        return self._scroll

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        wide = self.width() - LIST_PX >= BESIDE_PX
        way = QBoxLayout.Direction
        self._sides.setDirection(way.LeftToRight if wide else way.TopToBottom)
        for place, share in enumerate((1, 1, 0) if wide else (0, 0, 1)):
            self._sides.setStretch(place, share)
        self._beside = 2 if wide else 3
        for form in self._forms.values():
            form.set_beside(self._beside)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() in (QEvent.Type.StyleChange, QEvent.Type.PaletteChange) and hasattr(self, "list"):
            self.list.colour()

    def _make_actions(self) -> None:
        self._copy_action = QAction("&Copy result", self)
        self._copy_action.setShortcut(QKeySequence("Ctrl+Shift+C"))
        self._carry_action = QAction("&Write the result into the lot", self)
        self._carry_action.setShortcut(QKeySequence("Ctrl+Return"))
        self._next_action = QAction("&Next lot that waits", self)
        self._next_action.setShortcut(QKeySequence("F8"))
        for action in (self._copy_action, self._carry_action, self._next_action):
            action.setShortcutContext(Qt.ShortcutContext.WidgetWithChildrenShortcut)
            self.addAction(action)

    def _connect(self) -> None:
        self.list.question_chosen.connect(self.show_question)
        self.list.itemActivated.connect(self.on_question_entered)
        self.choice.lot_chosen.connect(self.on_lot_chosen)
        self.choice.trouble_met.connect(self.on_lot_trouble)
        self.no_lot.clicked.connect(self.on_no_lot)
        self._pause.timeout.connect(self.ask)
        self.copy.clicked.connect(self.on_copy)
        self._copy_action.triggered.connect(self.on_copy)
        self.carry.clicked.connect(self.on_carry)
        self._carry_action.triggered.connect(self.on_carry)
        self.forecast.clicked.connect(self.on_forecast)
        self._next_action.triggered.connect(self.choice.take_next)

    # What the window asks.

    def refresh(self) -> None:
        """Read the lot at hand again; what was typed stays."""
        if self.lot is not None:
            self._read_lot(self.lot.story.lot.number, fresh=False)

    def focus_first(self) -> None:
        self.list.setFocus()

    def start_with(self, lots: tuple[str, ...]) -> None:
        """Take the first of the lots that another bench has sent; the others wait."""
        self.choice.queue(lots)

    # The lot at hand.

    def on_lot_chosen(self, number: str) -> None:
        """Start every question from this lot."""
        self._read_lot(number, fresh=True)
        self.form.focus_first()

    def on_lot_trouble(self, words: str) -> None:
        """Say why no lot was taken; the one before is let go, its figures too."""
        self.said.emit("bad", words)
        self._take_lot(None, fresh=True)

    def on_no_lot(self) -> None:
        """Go on without a lot."""
        self.choice.let_go()
        self._take_lot(None, fresh=True)
        self.form.focus_first()

    def _read_lot(self, number: str, *, fresh: bool) -> None:
        found = self.work.attempt(lot_sums.lot_at_hand, self.work.catalogue, number)
        if found is not None:
            self.choice.show_lot(found.story.lot)
        self._take_lot(found, fresh=fresh)

    def _take_lot(self, found: LotAtHand | None, *, fresh: bool) -> None:
        self.lot = found
        for name, form in self._forms.items():
            form.fill({} if found is None else found.known(name), fresh=fresh)
        self.ask()

    # The question.

    @property
    def form(self) -> QuestionForm:
        """The form of the question that is asked."""
        assert self._shown is not None
        return self._shown

    def show_question(self, name: str) -> None:
        """Ask another question; each keeps what was typed for it."""
        if name not in self._forms:
            form = QuestionForm(QUESTIONS[name], self.suggest_crops)
            form.fill({} if self.lot is None else self.lot.known(name), fresh=True)
            form.set_beside(self._beside)
            form.changed.connect(self.on_typed)
            self._forms[name] = form
            self._place.addWidget(form)
        self._shown = self._forms[name]
        for each in self._forms.values():
            each.setVisible(each is self._shown)
        self._scroll.verticalScrollBar().setValue(0)
        self.answer.explain(self.form.explanation())
        self.ask()

    def on_question_entered(self, _item: Any) -> None:
        """Enter on a question leads into its first empty field."""
        self.form.focus_first()

    def suggest_crops(self, typed: str) -> tuple[str, ...]:
        """Give names of crops that fit what was typed."""
        return self.work.attempt(intake.suggest, self.work.catalogue, "Crop", typed) or ()

    def on_typed(self) -> None:
        """Answer after a short pause."""
        self._pause.start()

    # The answer.

    def ask(self) -> None:
        """Reckon with what stands in the fields, beside the window; an older answer is no longer waited for."""
        self._pause.stop()
        self._asked += 1
        form, number = self.form, self._asked
        missing = form.missing()
        if missing or form.has_trouble():
            self._show_none()
            self.answer.show_needed(() if form.has_trouble() else missing)
            return

        def done(found: Answer) -> None:
            if number == self._asked:
                self._show(found)

        def failed(words: str) -> None:
            if number == self._asked:
                self._show_none()
                self.answer.show_refused(plain(words, form.labels))

        self.work.run(answer, form.sum.name, form.typed(), done=done, failed=failed)

    def _show(self, found: Answer) -> None:
        self._answer = found
        self.answer.show_answer(self.form.sum, found)
        self._show_actions()

    def _show_none(self) -> None:
        self._answer = None
        self._show_actions()

    def _show_actions(self) -> None:
        name, has = self.form.sum.name, self._answer is not None
        number = "" if self.lot is None else self.lot.story.lot.number
        can_carry = has and name in lot_sums.CARRIED and bool(number)
        self.copy.setVisible(has)
        self._copy_action.setEnabled(has)
        self.carry.setVisible(can_carry)
        self.carry.setText(f"&Write into {number}")
        self._carry_action.setEnabled(can_carry)
        words = ""
        if has and name in lot_sums.CARRIED:
            what = lot_sums.CARRIED[name]
            words = (
                f"Written into {number} as its {what}."
                if number
                else f"Choose a lot to write it down as its {what}."
            )
            words = words.replace("Written into", "Can be written into")
        self._carry_words.setText(words)
        self._carry_words.setVisible(bool(words))
        self.forecast.setVisible(bool(number) and name in STORING)

    def on_copy(self) -> None:
        """Put question, figures, result and source on the clipboard."""
        if self._answer is None:
            return
        form, outcome = self.form, self._answer.outcome
        lot = "" if self.lot is None else f"{self.lot.story.lot.number} {self.lot.story.lot.name}"
        text = copied(
            form.question.words, lot, form.asked(), result_words(form.sum, outcome), outcome,
            output_lines(form.sum, outcome), outcome.words,
        )  # fmt: skip
        QGuiApplication.clipboard().setText(text)
        self.said.emit("good", "Copied: the question, its figures, the result and its source.")

    def on_carry(self) -> None:
        """Write the result into the lot at hand, through its step of preparing."""
        if self._answer is None or self.lot is None or self.form.sum.name not in lot_sums.CARRIED:
            return
        number = self.lot.story.lot.number
        step = self.work.attempt(
            lot_sums.carry,
            self.work.catalogue,
            number,
            self.form.sum.name,
            self.form.typed(),
            on=self.work.today(),
        )
        if step is None:
            return
        self.work.changes.tell(f"{number}: {step.words}")
        self.refresh()
        self.said.emit("warn" if step.warnings else "good", f"Written into {number}: {step.words}")

    def on_forecast(self) -> None:
        """Open the lot's page, where its forecast stands."""
        if self.lot is not None:
            self.lot_wanted.emit(self.lot.story.lot.number)
