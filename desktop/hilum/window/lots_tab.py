"""The lots of the catalogue: narrowed while one types, sorted by any column, and what is done with the chosen ones."""

from collections.abc import Sequence
from datetime import date
from typing import Any

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from hilum.benches.lots import LotFilter, LotPage, find_lots
from hilum.benches.reference import CropLine, crops
from hilum.window import lot_words
from hilum.window.join_dialog import JoinDialog
from hilum.window.lot_actions import HoldDialog, PaperMenu, print_labels
from hilum.window.models import Column, RowsTable
from hilum.window.page import BenchPage
from hilum.window.questions import Questions
from hilum.window.widgets import Quiet, primary, row_of
from hilum.window.work import WorkDay

MOST_SHOWN = 2_000
PAUSE_MS = 150
STATES = ("to be weighed", "in hand", "stored", "under test", "held", "empty", "withdrawn")
# Which of the bench's sorts stands behind a heading; other columns are sorted among the lots shown.
SORT_OF = {
    "Lot": "number",
    "Crop": "crop",
    "Variety": "variety",
    "Year": "year",
    "Stock": "stock",
    "Germination": "germination",
    "Next test": "due",
    "Came in": "received",
    "Place grown": "place",
    "State": "state",
}


def _columns(on: date) -> Sequence[Column]:
    def due(lot: Any) -> str:
        return lot_words.due(lot, on)

    def due_tone(lot: Any) -> str:
        return lot_words.due_tone(lot, on)

    return (
        Column("Lot", lambda lot: lot.number, tip=lambda lot: lot.name),
        Column("Crop", lambda lot: lot.line.crop),
        Column("Variety", lambda lot: lot.line.variety, least_px=120),
        Column("Year", lot_words.year, sort=lambda lot: lot.line.year, right=True, least_px=60),
        Column("Place grown", lambda lot: lot.line.place_grown or lot_words.NOT_KNOWN, spare=True),
        Column("Stock", lot_words.stock, sort=lambda lot: lot.stock_mg, right=True, least_px=98),
        Column(
            "Germination",
            lot_words.germination,
            sort=lambda lot: lot.line.germination_percent,
            tip=lot_words.germination_tip,
            tone=lot_words.germination_tone,
            least_px=124,
        ),
        Column(
            "Next test",
            due,
            sort=lambda lot: lot.line.due_on,
            tip=lambda lot: lot.line.due_why,
            tone=due_tone,
            least_px=128,
        ),
        Column("State", lambda lot: lot.line.state, tone=lot_words.state_tone, least_px=92),
        Column("Came in", lambda lot: lot.received_words, sort=lambda lot: lot.line.received_on, spare=True),
    )


def _find(catalogue: Any, wanted: LotFilter, on: date, sort: str, descending: bool) -> LotPage:
    return find_lots(catalogue, wanted, on=on, sort=sort, descending=descending, limit=MOST_SHOWN)


def _crops_with_lots(catalogue: Any) -> tuple[CropLine, ...]:
    return crops(catalogue, with_lots_only=True)


class LotsTab(BenchPage):
    """A row to narrow the list, the list, and buttons for the chosen lots."""

    title = "Lots"

    def __init__(self, work: WorkDay, questions: Questions, parent: QWidget | None = None) -> None:
        super().__init__(work, questions, parent)
        self._numbers: tuple[str, ...] = ()
        self._asked = 0
        self._total = 0
        self._sort, self._descending = "number", False
        self._words = QLineEdit()
        self._words.setPlaceholderText("words in any order")
        self._words.setClearButtonEnabled(True)
        self._crop, self._state = QComboBox(), QComboBox()
        self._crop.addItem("every crop", "")
        self._crop.setMinimumWidth(150)
        self._state.addItem("every state", "")
        for state in STATES:
            self._state.addItem(state, state)
        self._due, self._low, self._below = QCheckBox("d&ue"), QCheckBox("l&ow"), QCheckBox("belo&w standard")
        self._due.setToolTip("Only lots that are due for a germination test")
        self._low.setToolTip("Only lots with little seed above the reserve")
        self._below.setToolTip("Only lots whose germination is below the standard")
        self._all = QPushButton("Show &all")
        self.table = RowsTable(
            _columns(work.today()), "Lots", "No lot fits. Take words away, or press “Show all”."
        )
        self._counted = Quiet()
        self._open, self._labels = primary(QPushButton("&Open")), QPushButton("Print &labels…")
        self._start, self._pack = QPushButton("Start &test"), QPushButton("&Pack")
        self._hold, self._join = QPushButton("Put on &hold…"), QPushButton("&Join…")
        # For the chosen lots, or for all that are listed.
        self._papers = QPushButton("On pa&per")
        self._papers.setMenu(PaperMenu(work, questions, self, self._listed))
        self._pause = QTimer(self)
        self._pause.setSingleShot(True)
        self._pause.setInterval(PAUSE_MS)
        self._lay_out()
        self._connect()
        self.on_choice()

    def _lay_out(self) -> None:
        narrow = QHBoxLayout()
        narrow.setSpacing(8)
        for words, editor, stretch in (
            ("&Narrow by", self._words, 1),
            ("&Crop", self._crop, 0),
            ("&State", self._state, 0),
        ):
            label = QLabel(words)
            label.setBuddy(editor)
            narrow.addWidget(label)
            narrow.addWidget(editor, stretch)
        only = QHBoxLayout()
        only.setSpacing(14)
        only.addWidget(self._counted, 1)
        only.addWidget(QLabel("Only"))
        for box in (self._due, self._low, self._below, self._all):
            only.addWidget(box)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 10, 0, 0)
        layout.addLayout(narrow)
        layout.addLayout(only)
        layout.addWidget(self.table, 1)
        layout.addLayout(
            row_of(self._open, self._labels, self._papers, self._start, self._pack, self._hold, self._join)
        )

    def _connect(self) -> None:
        # Narrowing.
        self._words.textChanged.connect(self.on_narrowed)
        self._words.returnPressed.connect(self.on_words_entered)
        self._crop.currentIndexChanged.connect(self.on_narrowed)
        self._state.currentIndexChanged.connect(self.on_narrowed)
        for box in (self._due, self._low, self._below):
            box.toggled.connect(self.on_narrowed)
        self._all.clicked.connect(self.on_all)
        self._pause.timeout.connect(self.refresh)
        # The list.
        self.table.row_opened.connect(self.on_row_opened)
        self.table.choice_changed.connect(self.on_choice)
        self.table.horizontalHeader().sortIndicatorChanged.connect(self.on_sorted)
        # What is done with it.
        self._open.clicked.connect(self.on_open)
        self._labels.clicked.connect(self.on_print_labels)
        self._start.clicked.connect(self.on_start_test)
        self._pack.clicked.connect(self.on_pack)
        self._hold.clicked.connect(self.on_hold)
        self._join.clicked.connect(self.on_join)

    def focus_first(self) -> None:
        """Put the cursor where the list is narrowed."""
        self._words.setFocus()

    # Loading.

    def wanted(self) -> LotFilter:
        """Give what the list is narrowed to."""
        return LotFilter(
            words=self._words.text(),
            crop=self._crop.currentData() or "",
            state=self._state.currentData() or "",
            due=self._due.isChecked(),
            low=self._low.isChecked(),
            below=self._below.isChecked(),
            numbers=self._numbers,
        )

    def refresh(self) -> None:
        """Load the list anew."""
        self._asked += 1
        asked = self._asked

        def show(page: LotPage) -> None:
            # What was asked before something newer was typed is no longer wanted.
            if asked == self._asked:
                self.show_page(page)

        work = self.work
        work.run(_find, work.catalogue, self.wanted(), work.today(), self._sort, self._descending, done=show)
        work.run(_crops_with_lots, work.catalogue, done=self.show_crops)

    def show_page(self, page: LotPage) -> None:
        """Show the lots that were found, and how many there are."""
        self._total = page.total
        self.table.set_rows(page.lots)
        if page.total > len(page.lots):
            words = f"The first {len(page.lots):,} of {page.total:,} lots. Narrow the list to see the others."
        elif page.did_you_mean:
            words = (
                "No lot fits. Did you mean " + " or ".join(f"“{name}”" for name in page.did_you_mean) + "?"
            )
        else:
            words = lot_words.counted(page.total, "lot")
        if self._numbers:
            words += f" (of {len(self._numbers)} sent here; “Show all” shows the others)"
        self._counted.setText(words)
        self._counted.setAccessibleName(words)

    def show_crops(self, lines: tuple[CropLine, ...]) -> None:
        """Offer the crops that have lots."""
        if [line.key for line in lines] == [
            self._crop.itemData(place) for place in range(1, self._crop.count())
        ]:
            return
        chosen = self._crop.currentData()
        self._crop.blockSignals(True)
        while self._crop.count() > 1:
            self._crop.removeItem(1)
        for line in lines:
            self._crop.addItem(line.name, line.key)
        self._crop.setCurrentIndex(max(0, self._crop.findData(chosen)))
        self._crop.blockSignals(False)

    def list_words(self, words: str) -> None:
        """List the lots that fit some words, and nothing else."""
        self._clear()
        self._words.setText(words)
        self.refresh()
        self.table.setFocus()

    def list_numbers(self, numbers: tuple[str, ...]) -> None:
        """List the lots of these numbers."""
        self._clear()
        self._numbers = numbers
        self.refresh()

    def _clear(self) -> None:
        self._numbers = ()
        self._words.clear()
        self._crop.setCurrentIndex(0)
        self._state.setCurrentIndex(0)
        for box in (self._due, self._low, self._below):
            box.setChecked(False)

    # What the keeper does.

    def on_narrowed(self) -> None:
        """Wait for a pause in the typing, then load."""
        self._pause.start()

    def on_words_entered(self) -> None:
        """Go from the words into the list."""
        self._pause.stop()
        self.refresh()
        self.table.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def on_all(self) -> None:
        """Show every lot again."""
        self._clear()
        self.refresh()

    def on_sorted(self, column: int, order: Qt.SortOrder) -> None:
        """Sort in the catalogue when not all lots are shown: the first of all may not be among them."""
        heading = self.table.rows_model.columns[column].heading if column >= 0 else "Lot"
        self._sort = SORT_OF.get(heading, "number")
        self._descending = order == Qt.SortOrder.DescendingOrder and heading in SORT_OF
        if self._total > len(self.table.rows()):
            self.refresh()

    def on_choice(self) -> None:
        """Allow what can be done with the chosen lots."""
        chosen = bool(self.table.chosen())
        for button in (self._open, self._labels, self._start, self._pack, self._hold):
            button.setEnabled(chosen)
        self._join.setEnabled(len(self.table.chosen()) > 1)

    def chosen(self) -> tuple[str, ...]:
        """Give the numbers of the chosen lots."""
        return tuple(lot.number for lot in self.table.chosen())

    def on_row_opened(self, lot: Any) -> None:
        """Open one lot's page."""
        self.lot_wanted.emit(lot.number)

    def on_open(self) -> None:
        """Open the page of the first chosen lot."""
        self.lot_wanted.emit(self.chosen()[0])

    def on_print_labels(self) -> None:
        """Print labels for the chosen lots, or for all that are listed."""
        numbers = self._listed()
        if numbers:
            print_labels(self.work, self.questions, self, numbers)

    def _listed(self) -> tuple[str, ...]:
        return self.chosen() or tuple(lot.number for lot in self.table.rows())

    def on_start_test(self) -> None:
        """Take the chosen lots to the Testing bench."""
        self.send_lots.emit("Testing", self.chosen())

    def on_pack(self) -> None:
        """Take the chosen lots to the Packing bench."""
        self.send_lots.emit("Packing", self.chosen())

    def on_hold(self) -> None:
        """Ask why the chosen lots are put on hold."""
        HoldDialog(self.work, self, self.chosen()).open()

    def on_join(self) -> None:
        """Ask how the chosen lots are joined."""
        JoinDialog(self.work, self, self.chosen()).open()
