"""Day sheet: what is waiting, each under its own heading, and every row begins its work."""

from datetime import date
from pathlib import Path

from PySide6.QtGui import QAction
from PySide6.QtWidgets import QApplication, QPushButton, QScrollArea, QVBoxLayout, QWidget

from hilum.benches.day_sheet import DaySheet, day_sheet
from hilum.benches.glance import Glance
from hilum.benches.lists import lots_on_paper
from hilum.benches.lots import LotFilter
from hilum.window import day_parts
from hilum.window.day_section import DaySection, Part
from hilum.window.day_words import day_title
from hilum.window.lot_words import counted
from hilum.window.page import BenchPage
from hilum.window.print_files import write_whole
from hilum.window.questions import Questions
from hilum.window.widgets import Heading, Quiet, Title, card, primary, row_of
from hilum.window.work import WorkDay


class DaySheetPage(BenchPage):
    """Shows what waits on this day; nothing is written here, every button leads to the bench of its work."""

    title = "Day sheet"

    def __init__(self, work: WorkDay, questions: Questions, parent: QWidget | None = None) -> None:
        super().__init__(work, questions, parent)
        self._title, self._summary = Title(self.title), Quiet("Looking what is waiting…")
        self._intake = primary(QPushButton("Go to &Intake"))
        self._print_due = QAction("&Print the list of lots due…", self)
        self._print_due.setShortcut("Ctrl+P")
        self.addAction(self._print_due)
        self._first_words = self._make_first_words()
        self._focus_waits = False
        self._focus_was: QWidget | None = None
        parts = day_parts
        self._to_count = self._section(parts.TO_COUNT)
        self._due = self._section(parts.DUE)
        self._in_hand = self._section(parts.IN_HAND)
        self._to_weigh = self._section(parts.TO_WEIGH)
        self._held = self._section(parts.HELD)
        self._overdue = self._section(parts.OVERDUE)
        self._group_open = self._section(parts.GROUP_OPEN)
        self._standing = self._section(parts.STANDING)
        self._barred = self._section(parts.BARRED)
        self._to_sow = self._section(parts.TO_SOW)
        self._lay_out()
        self._connect()

    def _section(self, part: Part) -> DaySection:
        section = DaySection(part)
        section.work_wanted.connect(self.send_lots)
        section.lot_wanted.connect(self.lot_wanted)
        return section

    def sections(self) -> tuple[DaySection, ...]:
        """Give the headings from top to bottom: what cannot wait first."""
        return (
            self._to_count, self._due, self._to_sow, self._in_hand, self._to_weigh, self._held, self._overdue,
            self._group_open, self._standing, self._barred,
        )  # fmt: skip

    def _make_first_words(self) -> QWidget:
        inside = QVBoxLayout()
        inside.addWidget(Heading("Begin at Intake"))
        inside.addWidget(
            Quiet(
                "There is no lot in this catalogue yet. At the Intake bench lots are typed in one by one, or taken "
                "in from a list (CSV or Excel). Afterwards this page says every day what is waiting: what to "
                "prepare, what is due for a test, which dishes to count."
            )
        )
        inside.addLayout(row_of(self._intake))
        frame = card(inside)
        frame.hide()
        return frame

    def _lay_out(self) -> None:
        inside = QVBoxLayout()
        inside.setContentsMargins(0, 0, 6, 0)
        inside.setSpacing(12)
        inside.addWidget(self._first_words)
        for section in self.sections():
            inside.addWidget(section)
        inside.addStretch(1)
        holder = QWidget()
        holder.setLayout(inside)
        self._scroll = QScrollArea()
        self._scroll.setWidgetResizable(True)
        self._scroll.setWidget(holder)
        self._scroll.setAccessibleName("What is waiting")
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(self._title)
        layout.addWidget(self._summary)
        layout.addWidget(self._scroll, 1)

    def _connect(self) -> None:
        self._print_due.triggered.connect(self.on_print_due)
        self._intake.clicked.connect(self.on_intake)

    def on_print_due(self) -> None:
        """Ask where the list of lots due is to be kept."""
        start = f"lots-due-{self.work.today().isoformat()}.pdf"
        self.questions.ask_save_file(self, "Print the list of lots due", start, "PDF (*.pdf)", self.keep_list)

    def keep_list(self, file: Path) -> None:
        """Write the list to a file."""
        pdf = self.work.attempt(lots_on_paper, self.work.catalogue, LotFilter(due=True), on=self.work.today())
        if pdf is not None and self.work.did(write_whole, file, pdf):
            self.said.emit("good", f"The list is kept in {file}. Print it at 100 %.")

    def refresh(self) -> None:
        """Look anew what is waiting."""
        self.work.run(_day_sheet, self.work.catalogue, self.work.today(), done=self.show_sheet)

    def focus_first(self) -> None:
        """Put the cursor into the first heading that has anything."""
        for section in self.sections():
            if section.isVisible():
                section.table.setFocus()
                self._focus_waits = False
                return
        self._intake.setFocus()
        # Nothing is shown yet: the first heading gets the cursor when it comes, if the keeper has not gone on.
        self._focus_waits = not self._first_words.isVisible()
        self._focus_was = QApplication.focusWidget()

    def show_glance(self, seen: Glance) -> None:
        """Show the lots due that were seen before the catalogue was open, until all that waits is known."""
        self._title.setText(day_title(seen.on))
        self._due.show_rows(seen.due, seen.due_total)

    def show_sheet(self, sheet: DaySheet) -> None:
        """Show what waits."""
        counting = {run.id for run in sheet.to_count}
        self._to_count.show_rows(sheet.to_count)
        self._due.show_rows(sheet.due, sheet.due_total)
        self._in_hand.show_rows(sheet.in_hand)
        self._to_weigh.show_rows(sheet.to_be_weighed)
        self._held.show_rows(sheet.held)
        self._overdue.show_rows(sheet.overdue)
        self._group_open.show_rows(sheet.group_open)
        self._standing.show_rows(tuple(run for run in sheet.standing if run.id not in counting))
        self._barred.show_rows(sheet.barred)
        self._to_sow.show_rows(sheet.to_sow)
        self._first_words.setVisible(not sheet.lots)
        self._title.setText(day_title(sheet.on))
        self._summary.setText(_summary(sheet))
        if self._focus_waits and QApplication.focusWidget() is self._focus_was:
            self.focus_first()
        self._focus_waits = False

    def on_intake(self) -> None:
        """Go to the bench where lots come in."""
        self.send_lots.emit("Intake", ())


def _day_sheet(catalogue: object, on: date) -> DaySheet:
    return day_sheet(catalogue, on=on)  # type: ignore[arg-type]


def _summary(sheet: DaySheet) -> str:
    if not sheet.lots:
        return "A catalogue without lots."
    waiting = [
        words
        for number, words in (
            (len(sheet.to_count), counted(len(sheet.to_count), "count") + " to make"),
            (sheet.due_total, counted(sheet.due_total, "lot") + " due for a test"),
            (len(sheet.to_sow), counted(len(sheet.to_sow), "lot") + " to sow"),
            (len(sheet.in_hand), counted(len(sheet.in_hand), "lot") + " in hand"),
            (len(sheet.overdue), counted(len(sheet.overdue), "promised return") + " overdue"),
            (len(sheet.held), counted(len(sheet.held), "lot") + " on hold"),
        )
        if number
    ]
    lots = counted(sheet.lots, "lot")
    return (
        f"{lots} in the catalogue. Waiting: {', '.join(waiting)}."
        if waiting
        else f"{lots}. Nothing is waiting."
    )
