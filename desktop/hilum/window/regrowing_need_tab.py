"""Lots that should be regrown, each with its reasons; planned from here."""

from datetime import date
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QCheckBox,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from hilum.benches.lots import LotFilter, find_lots, lot_number
from hilum.benches.regrowing import Candidate, Candidates, candidates, regrowing_sums
from hilum.benches.regrowing_sums import RegrowingSums
from hilum.errors import KeeperError
from hilum.window import lot_words
from hilum.window.models import Column, RowsTable
from hilum.window.packing_lot import BETWEEN, MOST_SUGGESTED, NUMBER_LIKE
from hilum.window.page import BenchPage
from hilum.window.questions import Questions
from hilum.window.regrowing_dialogs import PlanDialog
from hilum.window.widgets import Heading, Quiet, SuggestLine, card, primary, row_of
from hilum.window.work import WorkDay

COLUMNS = (
    Column("Lot", lambda row: row.number),
    Column("Crop and variety", lambda row: row.lot.name, least_px=190),
    Column("Stock", lambda row: lot_words.stock(row.lot), lambda row: row.lot.stock_mg, right=True, least_px=90,
           spare=True),
    Column("Germination", lambda row: lot_words.germination(row.lot), lambda row: row.lot.line.germination_percent,
           tone=lambda row: lot_words.germination_tone(row.lot), least_px=124),
    Column("Why", lambda row: ", ".join(reason.short for reason in row.reasons), lambda row: -row.weight,
           least_px=220),
)  # fmt: skip
LOOKING = "Looking which lots should be regrown…"
NOTHING = "Nothing here asks for new seed. Any lot can be planned by its number above."


def _candidates(catalogue: Any, on: date, with_only_lots: bool) -> Candidates:
    return candidates(catalogue, on=on, with_only_lots=with_only_lots)


class NeedTab(BenchPage):
    """The candidates with the most pressing on top, and below them one lot with its reasons and its sums."""

    title = "Should be regrown"

    def __init__(self, work: WorkDay, questions: Questions, parent: QWidget | None = None) -> None:
        super().__init__(work, questions, parent)
        self._asked = 0
        self.dialog: PlanDialog | None = None
        self.line = SuggestLine(self.suggest)
        self.line.setPlaceholderText("Scan or type any lot to plan")
        self.only = QCheckBox("also the onl&y lots of their varieties")
        self._counted = Quiet(LOOKING)
        self.table = RowsTable(COLUMNS, "Lots that should be regrown", NOTHING)
        self.table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self._name, self._words = Heading(), QLabel()
        self._words.setWordWrap(True)
        self._words.setTextFormat(Qt.TextFormat.PlainText)
        self._words.setAlignment(Qt.AlignmentFlag.AlignTop)
        self._words.setAccessibleName("Reasons and sums")
        self.plan, self.open = primary(QPushButton("Plan to &regrow…")), QPushButton("&Open the lot")
        self._lay_out()
        self._connect()
        self.on_choice()

    def _lay_out(self) -> None:
        top = QHBoxLayout()
        top.setSpacing(8)
        label = QLabel("&Lot")
        label.setBuddy(self.line)
        for widget, stretch in ((label, 0), (self.line, 1), (self.only, 0)):
            top.addWidget(widget, stretch)
        below = QVBoxLayout()
        below.setSpacing(6)
        below.addWidget(self._name)
        scroll = QScrollArea()
        scroll.setWidgetResizable(True)
        scroll.setWidget(self._words)
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._words.setAutoFillBackground(False)
        scroll.viewport().setAutoFillBackground(False)
        below.addWidget(scroll, 1)
        below.addLayout(row_of(self.plan, self.open))
        panel = card(below)
        panel.setFixedHeight(206)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 10, 0, 0)
        layout.setSpacing(8)
        layout.addLayout(top)
        layout.addWidget(self._counted)
        layout.addWidget(self.table, 1)
        layout.addWidget(panel)

    def _connect(self) -> None:
        self.line.returnPressed.connect(self.on_entered)
        self.line.picked.connect(self.on_picked)
        self.only.toggled.connect(self.refresh)
        self.table.choice_changed.connect(self.on_choice)
        self.table.row_opened.connect(self.on_row_opened)
        self.plan.clicked.connect(self.on_plan)
        self.open.clicked.connect(self.on_open)

    def focus_first(self) -> None:
        self.line.setFocus()

    # The list.

    def refresh(self) -> None:
        """Look anew which lots should be regrown."""
        self._asked += 1
        asked = self._asked

        def show(found: Candidates) -> None:
            if asked == self._asked:
                self.show_candidates(found)

        self.work.run(_candidates, self.work.catalogue, self.work.today(), self.only.isChecked(), done=show)

    def show_candidates(self, found: Candidates) -> None:
        """Show the candidates and how many were left out."""
        self.table.set_rows(found.lots)
        words = f"{lot_words.counted(len(found.lots), 'lot')} should be regrown."
        if found.replaced:
            left = lot_words.counted(found.replaced, "other")
            words += f" {left} left out: a newer good lot of the same variety is here."
        self._counted.setText(words)
        if found.lots and not self.table.chosen():
            self.table.selectRow(0)
        self.on_choice()

    def on_choice(self) -> None:
        """Show the reasons and sums of the chosen lot."""
        row = self._chosen()
        self.plan.setEnabled(row is not None)
        self.open.setEnabled(row is not None)
        if row is None:
            self._name.setText("Choose a lot")
            self._words.setText("")
            return
        self._name.setText(f"{row.number}  {row.lot.name}")
        said = [f"• {reason.words}" for reason in row.reasons]
        sums = self.work.attempt(regrowing_sums, self.work.catalogue, row.number)
        if sums is not None:
            said += sums_lines(sums)
        self._words.setText("\n".join(said))

    def _chosen(self) -> Candidate | None:
        chosen = self.table.chosen()
        return chosen[0] if chosen else None

    # What the keeper does.

    def suggest(self, text: str) -> tuple[str, ...]:
        """Give lots that fit what was typed."""
        page = self.work.attempt(
            find_lots, self.work.catalogue, LotFilter(words=text), on=self.work.today(), limit=MOST_SUGGESTED
        )
        return () if page is None else tuple(f"{lot.number}{BETWEEN}{lot.name}" for lot in page.lots)

    def on_picked(self, words: str) -> None:
        """Plan the lot of a suggestion."""
        self.plan_lot(words.partition(BETWEEN)[0])

    def on_entered(self) -> None:
        """Plan what was typed or scanned: a number, or a name that only one lot has."""
        typed = self.line.text().strip()
        if typed:
            found = () if NUMBER_LIKE.match(typed) else self.suggest(typed)
            self.plan_lot((found[0] if len(found) == 1 else typed).partition(BETWEEN)[0])

    def start_with(self, lots: tuple[str, ...]) -> None:
        """Plan the lot that another bench has sent."""
        self.plan_lot(lots[0])

    def on_plan(self) -> None:
        """Plan the chosen lot."""
        row = self._chosen()
        if row is not None:
            self.plan_lot(row.number)

    def on_row_opened(self, row: Candidate) -> None:
        """Plan the lot that was opened."""
        self.plan_lot(row.number)

    def on_open(self) -> None:
        """Open the page of the chosen lot."""
        row = self._chosen()
        if row is not None:
            self.lot_wanted.emit(row.number)

    def plan_lot(self, typed: str) -> None:
        """Ask how a lot is to be regrown."""
        completer = self.line.completer()
        if completer is not None and completer.popup() is not None:
            completer.popup().hide()
        try:
            number = lot_number(self.work.catalogue, typed)
            self.dialog = PlanDialog(self.work, self, number)
        except KeeperError as error:
            self.said.emit("bad", str(error))
            self.line.selectAll()
            return
        self.line.clear()
        self.dialog.accepted.connect(self.on_planned)
        self.dialog.open()

    def on_planned(self) -> None:
        """Say what was planned."""
        if self.dialog is not None and self.dialog.planned is not None:
            row = self.dialog.planned
            where = f" in {row.where}" if row.where else ""
            self.said.emit(
                "good", f"{row.number} is planned for {row.line.year}{where}: {row.line.plants:,} plants, "
                f"{row.line.seeds:,} seeds to sow.",
            )  # fmt: skip
            self.work.changes.tell(f"{row.number} planned to be regrown.")
            self.refresh()


def sums_lines(sums: RegrowingSums) -> list[str]:
    """Give the sums of a regrowing in lines: plants, chance, seeds, isolation, and what to take care of."""
    lines = [sums.plants_words, sums.keeping_words, sums.sowing_words]
    if sums.isolation is not None:
        others = " ".join(way.words for way in sums.isolation.ways)
        lines.append(f"{sums.isolation.words} {others}".strip())
    return lines + [f"⚠ {words}" for words in sums.warnings]
