"""A map of one box or shelf: what stands where, and how old it is."""

from datetime import date

from PySide6.QtCore import QPoint, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QDrag,
    QDragEnterEvent,
    QDropEvent,
    QFontMetrics,
    QHelpEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
)
from PySide6.QtWidgets import QApplication, QToolTip, QWidget

from hilum.benches.store_view import OLD_YEARS, MapCell, PlaceMap
from hilum.window.store_lots import lots_dragged, numbers_in
from hilum.window.theme import theme

# Of the window's letters: a lot number must fit into a cell.
SMALL = 0.8
HEAD_PX, CELL_H_PX, GAP_PX = 22, 62, 4
LEAST_CELL_PX, MOST_CELL_PX = 92, 190
_STEPS = {
    Qt.Key.Key_Left: (0, -1),
    Qt.Key.Key_Right: (0, 1),
    Qt.Key.Key_Up: (-1, 0),
    Qt.Key.Key_Down: (1, 0),
}


class MapView(QWidget):
    """Paints the cells; a click or the arrow keys choose one, Enter opens it, a lot is dragged to another slot."""

    chosen_changed = Signal()
    # A cell that was opened.
    opened = Signal(object)
    # Lots dropped onto a cell's place: their numbers, the place's id.
    lots_dropped = Signal(tuple, int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._map: PlaceMap | None = None
        self._today = date.min
        self._at: tuple[int, int] | None = None
        self._pressed: QPoint | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAcceptDrops(True)
        self.setMouseTracking(True)
        self.setAccessibleName("Map of this place")

    def show_map(self, shown: PlaceMap | None, today: date) -> None:
        """Paint another map; the chosen cell stays where the place is the same."""
        same = self._map is not None and shown is not None and self._map.place.id == shown.place.id
        self._map, self._today = shown, today
        if not same or self.chosen() is None:
            first = min(((each.row, each.column) for each in shown.cells), default=None) if shown else None
            self._at = first
        self._fit()
        self._tell()

    def _tell(self) -> None:
        cell = self.chosen()
        self.setAccessibleDescription(self.words(cell) if cell else "Nothing stands here.")
        self.chosen_changed.emit()
        self.update()

    def _fit(self) -> None:
        shown = self._map
        rows, columns = (0, 1) if shown is None else (shown.rows, shown.columns)
        width = max(1, columns) * LEAST_CELL_PX + 2 * HEAD_PX
        self.setMinimumSize(QSize(width, rows * (CELL_H_PX + GAP_PX) + 2 * HEAD_PX))

    def chosen(self) -> MapCell | None:
        """Give the cell under the cursor."""
        return self._cell_at(self._at) if self._at is not None else None

    def _cell_at(self, at: tuple[int, int]) -> MapCell | None:
        cells = () if self._map is None else self._map.cells
        return next((each for each in cells if (each.row, each.column) == at), None)

    def words(self, cell: MapCell) -> str:
        """Say what stands in a cell, for tooltips and readers of the screen."""
        where = "" if cell.place is None else f"{cell.place.name}: "
        if not cell.lots:
            return f"{where}empty"
        named = [f"{each.number} {each.lot.name}" for each in cell.lots[:8]]
        more = len(cell.lots) - len(named)
        age = cell.age_years(self._today)
        old = "" if age is None else f"; the oldest seed is {age} years old"
        return f"{where}{', '.join(named)}{f' and {more} more' if more > 0 else ''}{old}"

    # Where cells lie.

    def _width_px(self) -> int:
        columns = 1 if self._map is None else max(1, self._map.columns)
        room = (self.width() - HEAD_PX - GAP_PX) // columns
        return max(LEAST_CELL_PX, min(MOST_CELL_PX, room))

    def box(self, cell: MapCell) -> QRect:
        """Give where a cell is painted."""
        wide = self._width_px()
        left, top = HEAD_PX + cell.column * wide, HEAD_PX + cell.row * (CELL_H_PX + GAP_PX)
        return QRect(left, top, wide - GAP_PX, CELL_H_PX)

    def _under(self, point: QPoint) -> MapCell | None:
        cells = () if self._map is None else self._map.cells
        return next((each for each in cells if self.box(each).contains(point)), None)

    # Painting.

    def paintEvent(self, _event: QPaintEvent) -> None:
        shown = self._map
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        small = painter.font()
        small.setPointSizeF(small.pointSizeF() * SMALL)
        painter.setFont(small)
        if shown is None or not shown.cells:
            painter.setPen(QColor(theme().quiet))
            words = "Nothing stands here yet. Drag lots here from a list, or divide the place into slots."
            painter.drawText(self.rect().adjusted(16, 0, -16, 0), _MIDDLE | Qt.TextFlag.TextWordWrap, words)
            return
        if shown.in_slots:
            self._paint_heads(painter, shown)
        for cell in shown.cells:
            self._paint_cell(painter, cell)
        painter.end()

    def _paint_heads(self, painter: QPainter, shown: PlaceMap) -> None:
        painter.setPen(QColor(theme().quiet))
        wide = self._width_px()
        for column in range(shown.columns):
            head = QRect(HEAD_PX + column * wide, 0, wide - GAP_PX, HEAD_PX)
            painter.drawText(head, _MIDDLE, str(column + 1))
        letters = {each.row: each.place.name.rstrip("0123456789") for each in shown.cells if each.place}
        for row, letter in letters.items():
            side = QRect(0, HEAD_PX + row * (CELL_H_PX + GAP_PX), HEAD_PX, CELL_H_PX)
            painter.drawText(side, _MIDDLE, letter)

    def _paint_cell(self, painter: QPainter, cell: MapCell) -> None:
        box = QRectF(self.box(cell)).adjusted(1, 1, -1, -1)
        is_chosen = self._at == (cell.row, cell.column)
        painter.setBrush(self._ground(cell))
        edge = QPen(QColor(theme().accent if is_chosen else theme().line), 2.4 if is_chosen else 1)
        if not cell.lots:
            edge.setStyle(Qt.PenStyle.DashLine)
        painter.setPen(edge)
        painter.drawRoundedRect(box, 5, 5)
        inner = box.toRect().adjusted(5, 4, -3, -4)
        metrics = QFontMetrics(painter.font())
        for place, (text, colour) in enumerate(self._lines(cell)):
            painter.setPen(QColor(colour))
            at = QRect(inner.left(), inner.top() + place * 18, inner.width(), 18)
            shown = metrics.elidedText(text, Qt.TextElideMode.ElideRight, inner.width())
            painter.drawText(at, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, shown)

    def _ground(self, cell: MapCell) -> QColor:
        """Give a tint that grows with age; the years stand in the cell as well."""
        age = cell.age_years(self._today)
        if age is None:
            return QColor(theme().sheet)
        share = min(1.0, age / OLD_YEARS)
        fresh, old = QColor(theme().sheet), QColor(theme().warn_ground)
        parts = ((old.red(), fresh.red()), (old.green(), fresh.green()), (old.blue(), fresh.blue()))
        return QColor(*(round(share * there + (1 - share) * here) for there, here in parts))

    def _lines(self, cell: MapCell) -> tuple[tuple[str, str], ...]:
        """Word a cell in up to three lines, each with its colour."""
        colours = theme()
        place = cell.place
        if not cell.lots:
            return (("" if place is None else place.name, colours.quiet), ("empty", colours.quiet))
        age = cell.age_years(self._today)
        old = "age not known" if age is None else "this year's" if age == 0 else f"{age} y old"
        only = cell.lots[0]
        if len(cell.lots) == 1 and (place is None or place.kind == "slot"):
            # In slots the heads of row and column name the place.
            named = place is not None and self._map is not None and not self._map.in_slots
            head = f"{place.name}  {only.number}" if named and place is not None else only.number
            return ((head, colours.coat), (only.lot.line.variety, colours.ink), (old, colours.quiet))
        name = "" if place is None else place.name
        crops = ", ".join(sorted({each.lot.line.crop for each in cell.lots}))
        many = "1 lot" if len(cell.lots) == 1 else f"{len(cell.lots)} lots"
        return ((name, colours.coat), (crops, colours.ink), (f"{many}, to {old}", colours.quiet))

    # Choosing, opening, dragging.

    def event(self, event: object) -> bool:
        if isinstance(event, QHelpEvent):
            cell = self._under(event.pos())
            QToolTip.showText(event.globalPos(), self.words(cell) if cell else "", self)
            return True
        return super().event(event)  # type: ignore[arg-type]

    def mousePressEvent(self, event: QMouseEvent) -> None:
        cell = self._under(event.position().toPoint())
        if cell is not None and event.button() == Qt.MouseButton.LeftButton:
            self._at, self._pressed = (cell.row, cell.column), event.position().toPoint()
            self._tell()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        cell = self.chosen()
        if self._pressed is None or cell is None or not event.buttons() & Qt.MouseButton.LeftButton:
            return
        gone = (event.position().toPoint() - self._pressed).manhattanLength()
        if cell.lots and gone >= QApplication.startDragDistance():
            self._pressed = None
            drag = QDrag(self)
            drag.setMimeData(lots_dragged([each.number for each in cell.lots]))
            drag.exec(Qt.DropAction.MoveAction)

    def mouseReleaseEvent(self, _event: QMouseEvent) -> None:
        self._pressed = None

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        cell = self._under(event.position().toPoint())
        if cell is not None:
            self.opened.emit(cell)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        step = _STEPS.get(Qt.Key(event.key()))
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.chosen() is not None:
            self.opened.emit(self.chosen())
        elif step is not None and self._at is not None:
            row, column = self._at[0] + step[0], self._at[1] + step[1]
            if self._cell_at((row, column)) is not None:
                self._at = (row, column)
                self._tell()
        else:
            super().keyPressEvent(event)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if numbers_in(event.mimeData()):
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        cell = self._under(event.position().toPoint())
        goal = cell.place.id if cell and cell.place else self._map.place.id if self._map else 0
        numbers = numbers_in(event.mimeData())
        if numbers and goal:
            event.acceptProposedAction()
            self.lots_dropped.emit(numbers, goal)


_MIDDLE = Qt.AlignmentFlag.AlignCenter
