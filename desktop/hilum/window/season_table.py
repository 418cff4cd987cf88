"""The table of the season's list: ticks, figures typed straight into cells, copy and paste with a spreadsheet."""

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import QItemSelectionModel, QModelIndex, QPersistentModelIndex, QRect, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QFocusEvent,
    QGuiApplication,
    QKeyEvent,
    QKeySequence,
    QPainter,
    QPaintEvent,
    QPen,
)
from PySide6.QtWidgets import QWidget

from hilum.benches.lots import shown_amount
from hilum.benches.season import PlannedRow
from hilum.window import lot_words
from hilum.window.models import Column, RowsModel, RowsTable
from hilum.window.theme import theme

Index = QModelIndex | QPersistentModelIndex
# Columns whose figures are typed, with the field they stand for.
TYPED = {2: "seeds_per_packet", 3: "packets"}
MOST_DIGITS = 6
EMPTY_WORDS = "No lot is on this list. Scan or type a lot above, or press “Add lots…”."


def seeds_words(row: PlannedRow) -> str:
    """Give the seeds in a packet, and whether they are to germinate."""
    return f"{row.seeds_per_packet:,} germ." if row.by_germination else f"{row.seeds_per_packet:,}"


def fill_words(row: PlannedRow) -> str:
    """Give the fill of one packet."""
    return lot_words.NOT_KNOWN if row.plan is None else row.plan.fill_short


def fill_tip(row: PlannedRow) -> str:
    """Give the fill of one packet in full."""
    return "" if row.plan is None else row.plan.fill_words


def possible_words(row: PlannedRow) -> str:
    """Give the packets possible above the reserve."""
    possible = None if row.plan is None else row.plan.possible_packets
    return lot_words.NOT_KNOWN if possible is None else f"{possible:,}"


def draw_words(row: PlannedRow) -> str:
    """Give what the packets that are left take out of stock."""
    return lot_words.NOT_KNOWN if row.draw is None else shown_amount(row.draw, row.lot.line.unit)


def look_words(row: PlannedRow) -> str:
    """Give what bars a row, else what to know of it first, in few words."""
    if row.bar:
        return f"✕ {row.barred.short}"
    if row.packed and not row.left:
        return "✓ packed"
    said = [remark.short for remark in row.plan.remarks] if row.plan is not None else []
    if row.check is not None and row.check.verdict != "right":
        said.insert(0, f"ten packets: {row.check.verdict}")
    return f"! {', '.join(said)}" if said else ""


def look_tone(row: PlannedRow) -> str:
    """Give the tone of what to look at."""
    if row.bar:
        return "bad"
    if row.packed and not row.left:
        return "good"
    return "warn" if look_words(row) else ""


def look_tip(row: PlannedRow) -> str:
    """Give all there is to know before packing a row."""
    return "\n".join(words for words in (row.bar, *row.warnings) if words)


COLUMNS = (
    Column("Lot", lambda row: row.number, least_px=150),
    Column("Crop and variety", lambda row: row.lot.name, tip=lambda row: row.lot.name, least_px=168),
    Column("Seeds each", seeds_words, lambda row: row.seeds_per_packet, right=True, least_px=112),
    Column("Packets", lambda row: f"{row.packets:,}", lambda row: row.packets, right=True, least_px=90),
    Column("Packed", lambda row: f"{row.packed:,}" if row.packed else "", lambda row: row.packed, right=True,
           least_px=84, spare=True),
    Column("Possible", possible_words, lambda row: row.plan and row.plan.possible_packets, right=True, least_px=98),
    Column("Fill", fill_words, lambda row: row.plan and row.plan.fill_mg, right=True, tip=fill_tip, least_px=80),
    Column("In all", draw_words, lambda row: row.draw, right=True, spare=True),
    Column("Look at", look_words, tip=look_tip, tone=look_tone, least_px=146),
)  # fmt: skip


class SeasonModel(RowsModel):
    """The rows, which of them are ticked, and the figure that is being typed."""

    ticked_changed = Signal()

    def __init__(self, columns: Sequence[Column], parent: Any = None) -> None:
        super().__init__(columns, parent)
        # Rows the keeper has unticked; everything else that can be packed is ticked.
        self.unticked: set[int] = set()
        self.typing: tuple[int, int, str] | None = None

    def is_ticked(self, row: PlannedRow) -> bool:
        """Say whether a row is packed by the next press."""
        return row.can_pack and row.id not in self.unticked

    def tick(self, rows: Sequence[PlannedRow], is_ticked: bool) -> None:
        """Tick some rows or not."""
        for row in rows:
            (self.unticked.discard if is_ticked else self.unticked.add)(row.id)
        last = max(0, self.rowCount() - 1)
        self.dataChanged.emit(self.index(0, 0), self.index(last, 0))
        self.ticked_changed.emit()

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        row = self.row_at(index)
        if row is None:
            return None
        if role == Qt.ItemDataRole.CheckStateRole and index.column() == 0:
            if not row.can_pack:
                return None
            return Qt.CheckState.Checked if self.is_ticked(row) else Qt.CheckState.Unchecked
        if (
            role == Qt.ItemDataRole.DisplayRole
            and self.typing is not None
            and self.typing[:2] == (row.id, index.column())
        ):
            return f"{self.typing[2]}▏"
        if role == Qt.ItemDataRole.AccessibleTextRole:
            ticked = "ticked, " if index.column() == 0 and self.is_ticked(row) else ""
            return f"{ticked}{self.columns[index.column()].heading}: {self.columns[index.column()].text(row)}"
        return super().data(index, role)

    def setData(self, index: Index, value: Any, role: int = Qt.ItemDataRole.EditRole) -> bool:
        row = self.row_at(index)
        if role != Qt.ItemDataRole.CheckStateRole or row is None or not row.can_pack:
            return False
        self.tick((row,), Qt.CheckState(value) == Qt.CheckState.Checked)
        return True

    def flags(self, index: Index) -> Qt.ItemFlag:
        flags = super().flags(index)
        row = self.row_at(index)
        if index.column() == 0 and row is not None and row.can_pack:
            flags |= Qt.ItemFlag.ItemIsUserCheckable
        return flags

    def type_into(self, typing: tuple[int, int, str] | None) -> None:
        """Show what is being typed."""
        self.typing = typing
        if self.rowCount():
            self.dataChanged.emit(self.index(0, 2), self.index(self.rowCount() - 1, 3))


class SeasonTable(RowsTable):
    """Digits go straight into the cell under the cursor; leaving it or Enter keeps the figure, Esc does not."""

    # A figure was typed: row id, name of the field, figure.
    figure_typed = Signal(int, str, int)
    # Text was pasted from a spreadsheet; the row the cursor stands on and the column.
    pasted = Signal(str, int, int)
    remove_wanted = Signal()
    germination_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        self._column = 2
        super().__init__(COLUMNS, "Lots to pack", EMPTY_WORDS, parent)
        self.selectionModel().currentChanged.connect(self.on_moved)

    def make_model(self, columns: Sequence[Column]) -> SeasonModel:
        """Give the model that knows ticks and typing."""
        return SeasonModel(columns, self)

    @property
    def season(self) -> SeasonModel:
        """The model."""
        model = self.rows_model
        assert isinstance(model, SeasonModel)
        return model

    def ticked(self) -> tuple[PlannedRow, ...]:
        """Give the ticked rows in the order shown."""
        return tuple(row for row in self.rows() if self.season.is_ticked(row))

    def current(self) -> PlannedRow | None:
        """Give the row under the cursor, or None."""
        found: PlannedRow | None = self.rows_model.row_at(self.currentIndex())
        return found

    def go_to(self, number: str) -> None:
        """Put the cursor on a lot, into its packets."""
        self.choose(lambda row: row.number == number)
        index = self.currentIndex()
        if index.isValid():
            packets = index.siblingAtColumn(3)
            self.selectionModel().setCurrentIndex(packets, QItemSelectionModel.SelectionFlag.NoUpdate)
            self.scrollTo(packets)

    def _remember(self) -> None:
        if self.currentIndex().isValid():
            self._column = self.currentIndex().column()
        super()._remember()

    def _bring_back(self) -> None:
        super()._bring_back()
        here = self.currentIndex()
        if here.isValid():
            self.selectionModel().setCurrentIndex(
                here.siblingAtColumn(self._column), QItemSelectionModel.SelectionFlag.NoUpdate
            )

    # Typing.

    def on_moved(self, now: QModelIndex, before: QModelIndex) -> None:
        """Keep what was typed when the cursor leaves its cell."""
        typing = self.season.typing
        row = self.rows_model.row_at(now)
        if typing is not None and (row is None or (row.id, now.column()) != typing[:2]) and before.isValid():
            self.keep_typed()

    def keep_typed(self) -> None:
        """Hand on the figure that was typed."""
        typing = self.season.typing
        if typing is None:
            return
        self.season.type_into(None)
        if typing[2]:
            self.figure_typed.emit(typing[0], TYPED[typing[1]], int(typing[2]))

    def focusOutEvent(self, event: QFocusEvent) -> None:
        self.keep_typed()
        super().focusOutEvent(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        here, key = self.currentIndex(), event.key()
        if event.matches(QKeySequence.StandardKey.Paste):
            self.pasted.emit(QGuiApplication.clipboard().text(), here.row(), here.column())
        elif self._typed(here, event):
            return
        elif key == Qt.Key.Key_Space and self.chosen():
            self._tick_chosen()
        elif key == Qt.Key.Key_Delete:
            self.remove_wanted.emit()
        elif key == Qt.Key.Key_G and not event.modifiers():
            self.germination_wanted.emit()
        else:
            super().keyPressEvent(event)

    def _typed(self, here: QModelIndex, event: QKeyEvent) -> bool:
        """Take a key for the figure under the cursor; says whether it was one."""
        row, column, text, key = self.current(), here.column(), event.text(), event.key()
        typing = self.season.typing
        if row is None or column not in TYPED:
            return False
        digits = typing[2] if typing is not None else ""
        if text.isascii() and text.isdigit():
            if len(digits) < MOST_DIGITS:
                self.season.type_into((row.id, column, digits + text))
        elif key == Qt.Key.Key_Backspace:
            now = digits[:-1] if typing is not None else str(getattr(row, TYPED[column]))[:-1]
            self.season.type_into((row.id, column, now))
        elif key == Qt.Key.Key_Escape and typing is not None:
            self.season.type_into(None)
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and not event.modifiers():
            self._go_down(here)
        else:
            return False
        return True

    def _go_down(self, here: QModelIndex) -> None:
        below = here.siblingAtRow(here.row() + 1)
        if below.isValid():
            self.setCurrentIndex(below)
        else:
            self.keep_typed()

    def _tick_chosen(self) -> None:
        rows = [row for row in self.chosen() if row.can_pack]
        self.season.tick(rows, not all(self.season.is_ticked(row) for row in rows))

    # What is seen.

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        here = self.currentIndex()
        if not here.isValid() or not self.hasFocus() or here.column() not in TYPED:
            return
        painter = QPainter(self.viewport())
        painter.setPen(QPen(QColor(theme().accent), 2))
        cell: QRect = self.visualRect(here)
        painter.drawRect(cell.adjusted(1, 1, -2, -2))
        painter.end()
