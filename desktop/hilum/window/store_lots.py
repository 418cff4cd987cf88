"""The lots that lie in a store place, as a table whose rows can be dragged onto another place."""

from collections.abc import Sequence
from datetime import date
from typing import Any

from PySide6.QtCore import QMimeData, Qt
from PySide6.QtWidgets import QAbstractItemView, QWidget

from hilum.benches.store_view import StoredLot
from hilum.window.lot_words import NOT_KNOWN, day, germination, stock, year
from hilum.window.models import Column, Index, RowsModel, RowsTable

LOTS_MIME = "application/x-hilum-lots"


def lots_dragged(numbers: Sequence[str]) -> QMimeData:
    """Give what is carried while lots are dragged: their numbers, as plain text for other programs too."""
    carried = QMimeData()
    carried.setData(LOTS_MIME, "\n".join(numbers).encode())
    carried.setText("\n".join(numbers))
    return carried


def numbers_in(carried: QMimeData) -> tuple[str, ...]:
    """Give the lot numbers that are carried; none where something else is dragged."""
    if not carried.hasFormat(LOTS_MIME):
        return ()
    return tuple(carried.data(LOTS_MIME).toStdString().split("\n"))


class StoredModel(RowsModel):
    """Rows of lots that can be dragged."""

    def flags(self, index: Index) -> Qt.ItemFlag:
        return super().flags(index) | (Qt.ItemFlag.ItemIsDragEnabled if index.isValid() else Qt.ItemFlag(0))

    def mimeData(self, indexes: Sequence[Index]) -> QMimeData:
        rows = sorted({index.row() for index in indexes})
        return lots_dragged([self.rows[row].number for row in rows])


class StoredTable(RowsTable):
    """The lots of one place and of all places within it."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(_COLUMNS, "Lots in this place", "No lot lies here.", parent)
        self.setDragEnabled(True)
        self.setDragDropMode(QAbstractItemView.DragDropMode.DragOnly)

    def make_model(self, columns: Sequence[Column]) -> RowsModel:
        return StoredModel(columns, self)


def _number(row: StoredLot) -> str:
    return row.number


def _variety(row: StoredLot) -> str:
    return f"{row.lot.line.crop}, {row.lot.line.variety}"


def _year(row: StoredLot) -> str:
    return year(row.lot)


def _year_order(row: StoredLot) -> int | None:
    return row.lot.line.year


def _stock(row: StoredLot) -> str:
    return stock(row.lot)


def _stock_order(row: StoredLot) -> Any:
    return row.lot.line.stock


def _germination(row: StoredLot) -> str:
    return germination(row.lot)


def _germination_order(row: StoredLot) -> int | None:
    return row.lot.line.germination_percent


def _tone(row: StoredLot) -> str:
    return "bad" if row.lot.line.below_standard else ""


def _place(row: StoredLot) -> str:
    return row.within or "directly in it"


def _since(row: StoredLot) -> str:
    return day(row.since)


def _since_order(row: StoredLot) -> date:
    return row.since


def _container(row: StoredLot) -> str:
    sealed = {True: ", airtight", False: ", not airtight", None: ""}[row.airtight]
    return f"{row.container or NOT_KNOWN}{sealed}"


_COLUMNS = (
    Column("Lot", _number, least_px=112),
    Column("Crop and variety", _variety, least_px=150),
    Column("Year", _year, _year_order, right=True, least_px=54),
    Column("Stock", _stock, _stock_order, right=True, least_px=70),
    Column("Where", _place, least_px=90),
    Column("Germination", _germination, _germination_order, tone=_tone, least_px=110, spare=True),
    Column("Here since", _since, _since_order, spare=True, least_px=92),
    Column("Container", _container, spare=True, least_px=90),
)
