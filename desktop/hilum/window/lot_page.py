"""One lot whole: its figures, its cautions, its life on a line, its ledger, and what can be done with it."""

from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from hilum.benches.lots import LotStory, lift_hold, lot_story
from hilum.benches.reference import varieties
from hilum.window import lot_tables
from hilum.window.change_dialog import ChangeDialog
from hilum.window.correct_dialog import CorrectDialog
from hilum.window.draw_dialog import DrawDialog
from hilum.window.flow import FlowLayout
from hilum.window.forecast_panel import ForecastPanel
from hilum.window.grow_out_dialog import GrowOutDialog
from hilum.window.join_dialog import JoinDialog
from hilum.window.life_line import LifeLine
from hilum.window.lot_actions import HoldDialog, open_print_book, print_labels
from hilum.window.lot_cautions import caution_words, family_words, held_words
from hilum.window.lot_events import events_of
from hilum.window.lot_figures import LotFigures
from hilum.window.models import Column, RowsTable
from hilum.window.move_dialog import MoveDialog
from hilum.window.page import BenchPage
from hilum.window.past_dialog import take_back_whole, told
from hilum.window.questions import Questions
from hilum.window.varieties_tab import GroupDialog, is_open
from hilum.window.widgets import Notice, Quiet, Title, primary, row_of
from hilum.window.work import WorkDay


class Number(QLabel):
    """The lot number, large, to be compared with the jar."""

    def __init__(self) -> None:
        super().__init__()
        self.setProperty("look", "number")
        self.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)


class LotPage(BenchPage):
    """Shows one lot; every button does one thing with it, and what was done can be taken back or corrected."""

    title = "Lot"
    back_wanted = Signal()

    def __init__(self, work: WorkDay, questions: Questions, parent: QWidget | None = None) -> None:
        super().__init__(work, questions, parent)
        self.story: LotStory | None = None
        self._number = ""
        self._back = QPushButton("‹ &Back to the list")
        self._name, self._lot_number, self._botanical = Title(), Number(), Quiet()
        self._held, self._caution = Notice(stays=True), Notice(stays=True)
        self.figures = LotFigures()
        self._labels, self._start = primary(QPushButton("Print &labels…")), QPushButton("Start &test")
        self._again = QPushButton("Print &again…")
        self._again.setToolTip("Labels of this lot that were printed before")
        self._prepare, self._pack = QPushButton("P&repare"), QPushButton("&Pack")
        self._move, self._take = QPushButton("&Move…"), QPushButton("Ta&ke out…")
        self._hold, self._lift = QPushButton("&Hold…"), QPushButton("L&ift the hold…")
        self._change, self._group = QPushButton("&Change…"), QPushButton("Choose crop gro&up…")
        self.life_line = LifeLine()
        self.life = self._table(lot_tables.LIFE, "Life of the lot in words", "Nothing has happened yet.")
        self.ledger = self._table(lot_tables.LEDGER, "Ledger", "No movement yet.")
        self.forecast = ForecastPanel(work)
        self.runs = self._table(
            lot_tables.GERMINATION, "Germination tests", "This lot has never been tested."
        )
        self.past = self._table(lot_tables.PAST, "History", "Nothing was done yet.")
        self._correct, self._undo = QPushButton("This was &wrong…"), QPushButton("Take this &back")
        self._grown, self._join = QPushButton("&Grow-out…"), QPushButton("&Join with…")
        self._reckon = QPushButton("Recko&n")
        self._notes, self._family, self._told = Quiet(), Quiet(), Quiet()
        self._lay_out()
        self._connect()

    def _table(self, columns: tuple[Column, ...], name: str, empty: str) -> RowsTable:
        table = RowsTable(columns, name, empty)
        table.setMinimumHeight(200)
        return table

    def _lay_out(self) -> None:
        self._name.setWordWrap(True)
        names = QVBoxLayout()
        names.setSpacing(0)
        names.addWidget(self._name)
        names.addWidget(self._botanical)
        head = QHBoxLayout()
        head.setSpacing(14)
        head.addWidget(self._back, 0, Qt.AlignmentFlag.AlignTop)
        head.addLayout(names, 1)
        head.addWidget(self._lot_number, 0, Qt.AlignmentFlag.AlignTop)
        inside = QVBoxLayout()
        inside.setContentsMargins(0, 0, 6, 0)
        inside.setSpacing(8)
        inside.addWidget(self._held)
        inside.addWidget(self._caution)
        inside.addWidget(self.figures)
        inside.addWidget(self._notes)
        inside.addWidget(self._family)
        inside.addWidget(self._make_tabs(), 1)
        holder = QWidget()
        holder.setLayout(inside)
        self._scroll = QScrollArea()
        self._scroll.setWidgetResizable(True)
        self._scroll.setWidget(holder)
        self._scroll.setAccessibleName("The lot")
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addLayout(head)
        layout.addLayout(
            FlowLayout(
                self._labels, self._again, self._start, self._pack, self._prepare, self._move, self._take, self._hold,
                self._lift, self._change, self._group, self._grown, self._join, self._reckon,
            )
        )  # fmt: skip
        layout.addWidget(self._scroll, 1)

    def _make_tabs(self) -> QTabWidget:
        self._tabs = QTabWidget()
        self._tabs.setDocumentMode(True)
        self._tabs.setAccessibleName("The lot in detail")
        for words, widgets in (
            ("Life", (self.life_line, self.life)),
            ("Ledger", (self.ledger, self._correct)),
            ("Tests", (self.runs,)),
            ("Forecast", (self.forecast,)),
            ("History", (self.past, self._told, self._undo)),
        ):
            tab = QWidget()
            inside = QVBoxLayout(tab)
            inside.setContentsMargins(0, 8, 0, 0)
            for widget in widgets:
                if isinstance(widget, QPushButton):
                    inside.addLayout(row_of(widget))
                else:
                    inside.addWidget(widget, 0 if isinstance(widget, LifeLine | Quiet) else 1)
            self._tabs.addTab(tab, words)
        return self._tabs

    def _connect(self) -> None:
        self._back.clicked.connect(self.back_wanted)
        self._tabs.currentChanged.connect(self.on_tab)
        self._labels.clicked.connect(self.on_print_labels)
        self._again.clicked.connect(self.on_print_again)
        self._start.clicked.connect(self.on_start_test)
        self._pack.clicked.connect(self.on_pack)
        self._prepare.clicked.connect(self.on_prepare)
        self._move.clicked.connect(self.on_move)
        self._take.clicked.connect(self.on_take)
        self._hold.clicked.connect(self.on_hold)
        self._lift.clicked.connect(self.on_lift)
        self._change.clicked.connect(self.on_change)
        self._group.clicked.connect(self.on_group)
        self._correct.clicked.connect(self.on_correct)
        self._undo.clicked.connect(self.on_undo)
        self.ledger.choice_changed.connect(self.on_choice)
        self.past.choice_changed.connect(self.on_choice)
        self._grown.clicked.connect(self.on_grow_out)
        self._join.clicked.connect(self.on_join)
        self._reckon.clicked.connect(self.on_reckon)

    # Showing.

    def open(self, number: str) -> None:
        """Show a lot by its number as typed or scanned."""
        if number != self._number:
            self._tabs.setCurrentIndex(0)
            self._scroll.verticalScrollBar().setValue(0)
        self._number = number
        self.refresh()

    def refresh(self) -> None:
        """Load the lot anew."""
        story = self.work.attempt(lot_story, self.work.catalogue, self._number) if self._number else None
        if story is not None:
            self.show_story(story)

    def focus_first(self) -> None:
        """Put the cursor on the way back."""
        self._back.setFocus()

    def show_story(self, story: LotStory) -> None:
        """Show everything that is known of the lot."""
        self.story = story
        lot = story.lot
        self._name.setText(lot.name)
        self._botanical.setText(lot.line.botanical_name)
        self._lot_number.setText(lot.number)
        self.figures.show_story(story)
        self._show_cautions(story)
        self._notes.setText(f"Notes: {story.notes}")
        self._notes.setVisible(bool(story.notes))
        self._show_family(story)
        events = events_of(story)
        self.life_line.show_events(events, self.work.today())
        for table, rows in (
            (self.life, events),
            (self.ledger, lot_tables.ledger_rows(story)),
            (self.runs, story.tests),
            (self.past, story.past),
        ):
            table.set_rows(rows)
        self.on_tab()
        held = any(hold.lifted_on is None for hold in story.holds)
        self._lift.setVisible(held)
        self._group.setVisible(is_open(lot.line.crop_key))
        self.on_choice()

    def on_tab(self) -> None:
        """Work out the forecast only while it is looked at."""
        if self.story is not None and self.forecast.isVisibleTo(self._tabs):
            self.forecast.show_lot(self.story.lot.number)

    def _show_cautions(self, story: LotStory) -> None:
        for notice, words in ((self._held, held_words(story)), (self._caution, caution_words(story))):
            if words:
                notice.show_words("bad" if notice is self._held else "warn", words)
            else:
                notice.clear()

    def _show_family(self, story: LotStory) -> None:
        said = family_words(story)
        self._family.setText(said)
        self._family.setVisible(bool(said))

    def on_choice(self) -> None:
        """Allow what can be done with the chosen line or edit."""
        lines, jobs = self.ledger.chosen(), self.past.chosen()
        self._correct.setEnabled(len(lines) == 1 and lines[0].can_be_corrected)
        self._undo.setEnabled(len(jobs) == 1 and not jobs[0].taken_back)
        self._told.setText(told(jobs[0]) if len(jobs) == 1 else "")
        again = len(jobs) == 1 and jobs[0].takes_back is not None
        self._undo.setText("Do it once more" if again else "Take this &back")

    # What the keeper does.

    def on_print_labels(self) -> None:
        """Print labels for this lot."""
        if self._number:
            print_labels(self.work, self.questions, self, (self._shown_number(),))

    def on_print_again(self) -> None:
        """Show what was printed of this lot."""
        if self._number:
            open_print_book(self.work, self.questions, self, self._shown_number())

    def _shown_number(self) -> str:
        return self.story.lot.number if self.story is not None else self._number

    def on_start_test(self) -> None:
        """Take the lot to the Testing bench."""
        self.send_lots.emit("Testing", (self._shown_number(),))

    def on_pack(self) -> None:
        """Take the lot to the Packing bench."""
        self.send_lots.emit("Packing", (self._shown_number(),))

    def on_prepare(self) -> None:
        """Take the lot to the Preparing bench."""
        self.send_lots.emit("Preparing", (self._shown_number(),))

    def on_move(self) -> None:
        """Ask where the lot goes."""
        MoveDialog(self.work, self, (self._shown_number(),)).open()

    def on_take(self) -> None:
        """Ask how much seed goes out."""
        if self.story is not None:
            DrawDialog(self.work, self, self.story.lot).open()

    def on_hold(self) -> None:
        """Ask why the lot is put on hold."""
        HoldDialog(self.work, self, (self._shown_number(),)).open()

    def on_lift(self) -> None:
        """Ask why the hold is lifted."""
        if self.story is None:
            return
        hold = next(hold for hold in self.story.holds if hold.lifted_on is None)
        words = f"Why is the hold lifted ({hold.kind})? Say in a few words what was found:"
        self.questions.ask_text(self, "Lift the hold", words, self._lift_because)

    def _lift_because(self, why: str) -> None:
        if self.story is None:
            return
        hold = next(hold for hold in self.story.holds if hold.lifted_on is None)
        done = self.work.attempt(lift_hold, self.work.catalogue, hold.id, on=self.work.today(), why=why)
        if done is not None:
            self.work.changes.tell(f"Lot {done.number}: hold lifted ({hold.kind}).")

    def on_change(self) -> None:
        """Ask what is to be written otherwise."""
        if self.story is not None:
            ChangeDialog(self.work, self, self.story).open()

    def on_group(self) -> None:
        """Ask for the crop group of the lot's variety."""
        if self.story is None:
            return
        line = self.story.lot.line
        found: Any = self.work.attempt(varieties, self.work.catalogue, crop=line.crop_key, words=line.variety)
        for variety in found or ():
            if variety.name == line.variety:
                GroupDialog(self.work, self, variety).open()
                return

    def on_grow_out(self) -> None:
        """Ask what a grow-out has shown."""
        if self.story is not None:
            GrowOutDialog(self.work, self, self.story.lot).open()

    def on_join(self) -> None:
        """Ask with which lots this one is joined."""
        JoinDialog(self.work, self, (self._shown_number(),)).open()

    def on_reckon(self) -> None:
        """Take the lot to the Reckoner."""
        self.send_lots.emit("Reckoner", (self._shown_number(),))

    def on_correct(self) -> None:
        """Ask what was wrong with the chosen line of the ledger."""
        if self.story is not None:
            lot = self.story.lot
            CorrectDialog(self.work, self, lot.number, self.ledger.chosen()[0], lot.line.unit).open()

    def on_undo(self) -> None:
        """Take back the chosen job, or do it once more."""
        take_back_whole(self.work, self.questions, self, self.past.chosen()[0])
