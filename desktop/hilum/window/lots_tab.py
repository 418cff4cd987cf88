"""The lots of the catalogue: narrowed while one types, sorted by any column, and what is done with the chosen ones."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from hilum.benches import reference, searches
from hilum.benches.lots import LotFilter, LotPage, PageEnd, count_lots, page_of_lots
from hilum.benches.reference import CropLine, NameLine
from hilum.benches.searches import SavedSearch
from hilum.window import lot_words
from hilum.window.join_dialog import JoinDialog
from hilum.window.lot_actions import HoldDialog, PaperMenu, print_labels
from hilum.window.models import Column, RowsTable
from hilum.window.narrowing import Narrowing
from hilum.window.page import BenchPage
from hilum.window.questions import Questions
from hilum.window.widgets import Quiet, primary, row_of
from hilum.window.work import WorkDay

# Lots that are loaded at once; the next page comes when the list is scrolled to its end.
PAGE_LOTS = 500
# Which of the bench's sorts stands behind a heading.
SORT_OF = {
    "Lot": "number",
    "Crop": "crop",
    "Variety": "variety",
    "Year": "year",
    "Place grown": "place",
    "Stock": "stock",
    "Germination": "germination",
    "Next test": "due",
    "State": "state",
    "Came in": "received",
}


@dataclass(frozen=True, slots=True)
class _Choices:
    """What the list can be narrowed to besides words."""

    crops: tuple[CropLine, ...]
    places: tuple[NameLine, ...]
    searches: tuple[SavedSearch, ...]


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


def _choices(catalogue: Any) -> _Choices:
    crops = reference.crops(catalogue, with_lots_only=True)
    return _Choices(crops, reference.places(catalogue), searches.saved_searches(catalogue))


def _page(
    catalogue: Any,
    wanted: LotFilter,
    on: date,
    sort: str | None,
    descending: bool,
    limit: int,
    after: PageEnd | None,
) -> LotPage:
    return page_of_lots(catalogue, wanted, on=on, sort=sort, descending=descending, limit=limit, after=after)


def _count(catalogue: Any, wanted: LotFilter, on: date) -> int:
    return count_lots(catalogue, wanted, on=on)


class LotsTab(BenchPage):
    """A row to narrow the list, the list, and buttons for the chosen lots."""

    title = "Lots"

    def __init__(self, work: WorkDay, questions: Questions, parent: QWidget | None = None) -> None:
        super().__init__(work, questions, parent)
        self._asked, self._first, self._offered = 0, 0, 0
        self._total: int | None = None
        self._end: PageEnd | None = None
        self._loading = False
        self._sort: str | None = None
        self._descending = False
        self.narrowing = Narrowing()
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
        self._lay_out()
        self._connect()
        self.on_choice()

    def _lay_out(self) -> None:
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 10, 0, 0)
        layout.addWidget(self.narrowing)
        layout.addWidget(self._counted)
        layout.addWidget(self.table, 1)
        layout.addLayout(
            row_of(self._open, self._labels, self._papers, self._start, self._pack, self._hold, self._join)
        )

    def _connect(self) -> None:
        # Narrowing.
        self.narrowing.narrowed.connect(self.refresh)
        self.narrowing.words_entered.connect(self.on_words_entered)
        self.narrowing.search_chosen.connect(self.on_search_chosen)
        self.narrowing.save_wanted.connect(self.on_save_wanted)
        self.narrowing.remove_wanted.connect(self.on_remove_wanted)
        # The list.
        self.table.row_opened.connect(self.on_row_opened)
        self.table.choice_changed.connect(self.on_choice)
        self.table.verticalScrollBar().valueChanged.connect(self.on_scrolled)
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
        self.narrowing.focus_words()

    # Loading.

    def wanted(self) -> LotFilter:
        """Give what the list is narrowed to."""
        return self.narrowing.wanted()

    def refresh(self) -> None:
        """Load the list anew, as far as it was loaded."""
        limit = max(PAGE_LOTS, len(self.table.rows()) if self._end is not None else 0)
        self._load(limit, None)
        self._load_choices()

    def _load_choices(self) -> None:
        self._offered += 1
        asked = self._offered

        def show(choices: _Choices) -> None:
            # What was read before something was saved or removed is no longer true.
            if asked == self._offered:
                self.show_choices(choices)

        self.work.run(_choices, self.work.catalogue, done=show)

    def _load(self, limit: int, after: PageEnd | None) -> None:
        self._asked += 1
        asked, work = self._asked, self.work
        self._loading = True

        def show(page: LotPage) -> None:
            # What was asked before something newer was typed is no longer wanted.
            if asked == self._asked:
                self._loading = False
                self.show_page(page, is_first=after is None)

        def failed(words: str) -> None:
            self._loading = False
            work.trouble.emit(words)

        arguments = (self.wanted(), work.today(), self._sort, self._descending, limit, after)
        work.run(_page, work.catalogue, *arguments, done=show, failed=failed)

    def show_page(self, page: LotPage, *, is_first: bool) -> None:
        """Show the lots that were found; how many there are in all is told when it is known."""
        self._end = page.end
        if is_first:
            self._total = page.total
            self._first = self._asked
            # A list that goes on is in the catalogue's order: sorted here, a later page would not fit behind it.
            self.table.set_rows(page.lots, as_they_come=page.end is not None)
            if page.total is None:
                self._count_all()
        else:
            self.table.add_rows(page.lots)
        self._show_count(page.did_you_mean)
        # Until it is laid out the list does not know how long it is, and its end would always be in sight.
        self.table.doItemsLayout()
        self.on_scrolled()

    def _count_all(self) -> None:
        first, work = self._first, self.work

        def show(total: int) -> None:
            # The count is of the list that is shown, however far it was loaded meanwhile.
            if first == self._first:
                self._total = total
                self._show_count(())

        work.run(_count, work.catalogue, self.wanted(), work.today(), done=show)

    def _show_count(self, near: tuple[str, ...]) -> None:
        shown, sent = len(self.table.rows()), len(self.wanted().numbers)
        if near:
            words = "No lot fits. Did you mean " + " or ".join(f"“{name}”" for name in near) + "?"
        elif self._end is None:
            words = lot_words.counted(shown, "lot")
        elif self._total is None:
            words = f"The first {shown:,} lots; all of them are being counted…"
        else:
            words = f"The first {shown:,} of {self._total:,} lots. More come as you scroll down."
        if sent:
            words += f" (of {sent} sent here; “Show all” shows the others)"
        self._counted.setText(words)
        self._counted.setAccessibleName(words)

    def show_choices(self, choices: _Choices) -> None:
        """Offer the crops and places that have lots, and the saved searches."""
        self.narrowing.show_crops(choices.crops)
        self.narrowing.show_places(choices.places)
        self.narrowing.show_searches(choices.searches)

    def list_words(self, words: str) -> None:
        """List the lots that fit some words, and nothing else."""
        self._list(LotFilter(words=words))
        self.table.setFocus()

    def list_numbers(self, numbers: tuple[str, ...]) -> None:
        """List the lots of these numbers."""
        self._list(LotFilter(numbers=numbers))

    def _list(self, wanted: LotFilter) -> None:
        self.narrowing.show_wanted(wanted)
        self.refresh()

    # What the keeper does.

    def on_words_entered(self) -> None:
        """Go from the words into the list."""
        self.refresh()
        self.table.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def on_scrolled(self) -> None:
        """Load the next page when the end of the list is in sight."""
        bar = self.table.verticalScrollBar()
        if self._end is not None and not self._loading and bar.value() >= bar.maximum() - bar.pageStep():
            self._load(PAGE_LOTS, self._end)

    def on_sorted(self, column: int, order: Qt.SortOrder) -> None:
        """Sort in the catalogue when not all lots are shown: the first of all may not be among them."""
        heading = self.table.rows_model.columns[column].heading if column >= 0 else ""
        self._sort = SORT_OF.get(heading)
        self._descending = order == Qt.SortOrder.DescendingOrder and self._sort is not None
        if self._end is not None or self._sort is None:
            self._end = None
            self.refresh()

    def on_search_chosen(self, name: str) -> None:
        """Look through a saved search, in its own order."""
        found = self.work.attempt(searches.saved_search, self.work.catalogue, name)
        if found is None:
            return
        self.narrowing.show_wanted(found.wanted)
        heading = next((words for words, sort in SORT_OF.items() if sort == found.sort), None)
        headings = [column.heading for column in self.table.rows_model.columns]
        order = Qt.SortOrder.DescendingOrder if found.descending else Qt.SortOrder.AscendingOrder
        self.table.horizontalHeader().setSortIndicator(
            -1 if heading is None else headings.index(heading), order
        )
        self._end = None
        self.refresh()

    def on_save_wanted(self) -> None:
        """Ask for the name under which the search is saved."""
        words = "Name of this search, for example: beans to regrow. It is there for everyone who uses the catalogue."
        self.questions.ask_text(self, "Save this search", words, self._save_as)

    def _save_as(self, name: str) -> None:
        work = self.work
        made = work.attempt(
            searches.save_search,
            work.catalogue,
            name,
            self.wanted(),
            sort=self._sort,
            descending=self._descending,
        )
        if made is not None:
            self._offered += 1
            self.narrowing.show_searches(searches.saved_searches(work.catalogue), made.name)
            work.changes.tell(f"The search “{made.name}” is saved.")

    def on_remove_wanted(self, name: str) -> None:
        """Ask before a saved search is removed."""
        words = f"The search “{name}” is removed for everyone. The lots stay as they are."
        self.questions.confirm(self, "Remove a saved search", words, "Remove it", lambda: self._forget(name))

    def _forget(self, name: str) -> None:
        work = self.work
        if work.attempt(searches.forget_search, work.catalogue, name) is not None:
            self._offered += 1
            self.narrowing.show_searches(searches.saved_searches(work.catalogue), "")
            work.changes.tell(f"The search “{name}” was removed.")

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
        if not self.chosen() and self._end is not None:
            words = (
                "Not all lots that fit are loaded yet. Narrow the list, or choose the lots that are meant."
            )
            self.said.emit("warn", words)
            return ()
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
