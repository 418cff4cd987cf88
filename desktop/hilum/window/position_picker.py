"""A drawn sheet of labels on which the first free label is chosen and spoiled ones are crossed out."""

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QAccessibleEvent,
    QBrush,
    QColor,
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
)
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from hilum.benches.printing import LabelStock
from hilum.errors import BadInput
from hilum.window.theme import theme

# Pixels left free around the drawn sheet.
EDGE_PX = 8
# The ground of the arrow that points at an envelope's leading edge.
ARROW_PX = 22.0
# Lower labels are drawn without their number: nobody could read it.
NUMBER_PX = 11


def positions_of(text: str, most: int) -> tuple[int, ...]:
    """Read positions as they are typed: “5, 9, 12-14”; refuses what is no position of the sheet."""
    found: set[int] = set()
    for piece in text.replace(";", ",").replace("–", "-").split(","):
        words = piece.strip()
        if not words:
            continue
        first, dash, last = (part.strip() for part in words.partition("-"))
        if not (first.isdecimal() and (last.isdecimal() or not dash)):
            raise BadInput(f"“{words}” is no label of the sheet. Write numbers such as 5, 9, 12-14.")
        begin, end = int(first), int(last or first)
        if not 1 <= begin <= end <= most:
            raise BadInput(f"“{words}” is not on this sheet: its labels are numbered 1 to {most}.")
        found |= set(range(begin, end + 1))
    return tuple(sorted(found))


def positions_text(positions: Sequence[int]) -> str:
    """Give positions as they are typed, runs of three and more as first-last."""
    pieces: list[str] = []
    rest = sorted(positions)
    while rest:
        run = 1
        while run < len(rest) and rest[run] == rest[0] + run:
            run += 1
        if run > 2:
            pieces.append(f"{rest[0]}-{rest[run - 1]}")
        else:
            pieces += [str(number) for number in rest[:run]]
        rest = rest[run:]
    return ", ".join(pieces)


class PositionPicker(QWidget):
    """Shows one sheet; a click or the arrow keys choose the first free label, Ctrl+click or Space spoiled ones."""

    changed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._stock: LabelStock | None = None
        self._start, self._cursor, self._need = 1, 1, 1
        self._skip: frozenset[int] = frozenset()
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setMinimumSize(150, 170)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName("Sheet of labels")

    # What is chosen.

    @property
    def start(self) -> int:
        """The first free label, counted from 1 row by row."""
        return self._start

    @property
    def skip(self) -> tuple[int, ...]:
        """The spoiled labels of the first sheet."""
        return tuple(sorted(self._skip))

    @property
    def per_page(self) -> int:
        """How many labels a sheet has; 1 for a roll."""
        return self._stock.per_page if self._stock else 1

    @property
    def is_fixed(self) -> bool:
        """Whether there is nothing to choose: a roll, envelopes, packets folded from whole sheets."""
        return self._stock is None or self._stock.kind != "sheet"

    def set_stock(self, stock: LabelStock) -> None:
        """Show another label stock; a new sheet is taken to be whole."""
        if self._stock is not None and stock.name == self._stock.name:
            return
        self._stock = stock
        self._start, self._cursor, self._skip = 1, 1, frozenset()
        self._has_changed()

    def set_need(self, labels: int) -> None:
        """Say how many labels are to be printed."""
        self._need = max(1, labels)
        self._has_changed(tell=False)

    def set_start(self, position: int) -> None:
        """Choose the first free label."""
        position = min(max(1, position), self.per_page)
        self._cursor = position
        if position != self._start:
            self._start = position
            self._has_changed()

    def set_skip(self, positions: Sequence[int]) -> None:
        """Cross out the spoiled labels."""
        wanted = frozenset(each for each in positions if 1 <= each <= self.per_page)
        if wanted != self._skip:
            self._skip = wanted
            self._has_changed()

    def turn_spoiled(self, position: int) -> None:
        """Cross a label out, or make it good again."""
        self._cursor = position
        self.set_skip(tuple(self._skip ^ {position}))

    def printed(self) -> tuple[int, ...]:
        """Give the labels of the first sheet that will be printed on."""
        free = [each for each in range(self._start, self.per_page + 1) if each not in self._skip]
        return tuple(free[: self._need])

    def words(self) -> str:
        """Say which labels will be printed on."""
        if self.is_fixed:
            return self._fixed_words()
        here = self.printed()
        if not here:
            return "No label of this sheet is left free. Put in a new sheet, or choose an earlier label."
        more = -(-(self._need - len(here)) // self.per_page) if self._need > len(here) else 0
        first = f"Labels {positions_text(here)} of the first sheet"
        return first + (f", then {more} more sheet{'s' if more > 1 else ''}." if more else ".")

    def _fixed_words(self) -> str:
        stock = self._stock
        if stock is not None and stock.kind == "envelope":
            fed = (
                "short edge first, as the arrow points, so that the hatched flap goes in on the right"
                if stock.feed_edge == "left"
                else "flap end first, the hatched flap on top"
            )
            return (
                f"One envelope a page. Feed it {fed}; words keep clear of flap and "
                "seam, where the paper is double. Print before filling."
            )
        if stock is not None and stock.kind == "fold":
            sheets = -(-self._need // self.per_page)
            return f"Plain paper, {self.per_page} a sheet: {sheets} sheet{'s' if sheets > 1 else ''}."
        return "A roll: every label is a page of its own, there is nothing to choose."

    def _has_changed(self, *, tell: bool = True) -> None:
        self.setAccessibleDescription(f"{self._cursor_words()} {self.words()}")
        QAccessible.updateAccessibility(QAccessibleEvent(self, QAccessible.Event.DescriptionChanged))
        self.update()
        if tell:
            self.changed.emit()

    def _cursor_words(self) -> str:
        if self.is_fixed:
            return ""
        return f"Label {self._cursor}, {self._state_words(self._cursor)}."

    def _state_words(self, position: int) -> str:
        if position in self._skip:
            return "spoiled, left out"
        if position < self._start:
            return "used already"
        return "will be printed on" if position in self.printed() else "stays free"

    # Keys and mouse.

    def keyPressEvent(self, event: QKeyEvent) -> None:
        columns = self._stock.columns if self._stock else 1
        steps = {
            Qt.Key.Key_Left: -1,
            Qt.Key.Key_Right: 1,
            Qt.Key.Key_Up: -columns,
            Qt.Key.Key_Down: columns,
            Qt.Key.Key_Home: -self.per_page,
            Qt.Key.Key_End: self.per_page,
        }
        if self.is_fixed:
            super().keyPressEvent(event)
        elif event.key() in steps:
            self._step(steps[Qt.Key(event.key())], event)
        elif event.key() == Qt.Key.Key_Space:
            self.turn_spoiled(self._cursor)
        else:
            super().keyPressEvent(event)

    def _step(self, by: int, event: QKeyEvent) -> None:
        whole_way = event.key() in (Qt.Key.Key_Home, Qt.Key.Key_End)
        wanted = self._cursor + by
        if not whole_way and not 1 <= wanted <= self.per_page:
            return
        wanted = min(max(1, wanted), self.per_page)
        if event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            # The cursor alone moves, to a label that is to be crossed out.
            self._cursor = wanted
            self._has_changed(tell=False)
        else:
            self.set_start(wanted)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        position = self.position_at(event.position())
        if position is None or self.is_fixed or event.button() != Qt.MouseButton.LeftButton:
            super().mousePressEvent(event)
        elif event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self.turn_spoiled(position)
        else:
            self.set_start(position)
            self.update()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        position = self.position_at(event.position())
        if position is None or self.is_fixed:
            QToolTip.hideText()
        else:
            words = f"Label {position}: {self._state_words(position)}"
            QToolTip.showText(event.globalPosition().toPoint(), words, self)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.update()

    # Where things are drawn.

    def sizeHint(self) -> QSize:
        return QSize(210, 270)

    def _page(self) -> QRectF:
        """Give the sheet's place in the widget, as large as it fits."""
        assert self._stock is not None
        room_w, room_h = self.width() - 2 * EDGE_PX, self.height() - 2 * EDGE_PX
        scale = min(room_w / self._stock.page_w_mm, room_h / self._stock.page_h_mm)
        width, height = self._stock.page_w_mm * scale, self._stock.page_h_mm * scale
        return QRectF((self.width() - width) / 2, (self.height() - height) / 2, width, height)

    def label_rect(self, position: int) -> QRectF:
        """Give the place of one label in the widget."""
        assert self._stock is not None
        page = self._page()
        scale = page.width() / self._stock.page_w_mm
        box = self._stock.grid().label_box(position)
        return QRectF(
            page.x() + box.x_mm * scale,
            page.y() + box.y_mm * scale,
            box.width_mm * scale,
            box.height_mm * scale,
        )

    def position_at(self, point: QPointF) -> int | None:
        """Give the label under a point of the widget."""
        if self._stock is None:
            return None
        for position in range(1, self.per_page + 1):
            if self.label_rect(position).contains(point):
                return position
        return None

    # Drawing.

    def paintEvent(self, _event: QPaintEvent) -> None:
        if self._stock is None:
            return
        t, painter = theme(), QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        page = self._page()
        painter.setPen(QPen(QColor(t.accent if self.hasFocus() else t.edge), 2.0 if self.hasFocus() else 1.0))
        painter.setBrush(QColor(t.band))
        painter.drawRect(page.adjusted(-3, -3, 3, 3))
        printed = frozenset(self.printed())
        if self._stock.kind == "envelope":
            self._paint_flap(painter, page)
        for position in range(1, self.per_page + 1):
            self._paint_label(painter, position, printed)
        painter.end()

    def _paint_flap(self, painter: QPainter, page: QRectF) -> None:
        """Hatch the flap, and point at the edge that goes into the printer first."""
        t, label = theme(), self.label_rect(1)
        painter.setPen(QPen(QColor(t.edge), 1.0))
        painter.setBrush(QBrush(QColor(t.edge), Qt.BrushStyle.BDiagPattern))
        painter.drawRect(QRectF(page.x(), page.y(), page.width(), label.y() - page.y()))
        assert self._stock is not None
        # Within the flap, for the label covers all else of the edge; on a ground of its own, to be seen on the hatch.
        is_left = self._stock.feed_edge == "left"
        place = QRectF(page.x() + 4, page.y() + 4, ARROW_PX, ARROW_PX)
        if is_left:
            place.moveTop((page.y() + label.y() - ARROW_PX) / 2)
        else:
            place.moveLeft(page.center().x() - ARROW_PX / 2)
        painter.fillRect(place, QColor(t.sheet))
        painter.setPen(QPen(QColor(t.ink), 1.0))
        painter.drawText(place, Qt.AlignmentFlag.AlignCenter, "◀" if is_left else "▲")

    def _paint_label(self, painter: QPainter, position: int, printed: frozenset[int]) -> None:
        t, place = theme(), self.label_rect(position).adjusted(1, 1, -1, -1)
        spoiled, used, chosen = position in self._skip, position < self._start, position in printed
        painter.setPen(QPen(QColor(t.accent if chosen else t.edge), 1.0))
        painter.setBrush(QColor(t.accent if chosen else t.band if used else t.sheet))
        self._paint_shape(painter, place)
        if used:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QBrush(QColor(t.edge), Qt.BrushStyle.BDiagPattern))
            self._paint_shape(painter, place)
        if spoiled:
            painter.setPen(QPen(QColor(t.bad), 2.0))
            painter.drawLine(place.topLeft(), place.bottomRight())
            painter.drawLine(place.topRight(), place.bottomLeft())
        elif place.height() >= NUMBER_PX and not used:
            font = painter.font()
            font.setPixelSize(int(min(15.0, place.height() * 0.72, place.width() * 0.5)))
            font.setBold(position == self._start)
            painter.setFont(font)
            painter.setPen(QColor(t.accent_ink if chosen else t.quiet))
            painter.drawText(place, Qt.AlignmentFlag.AlignCenter, "" if self.is_fixed else str(position))
        if self.hasFocus() and position == self._cursor and not self.is_fixed:
            painter.setPen(QPen(QColor(t.coat), 2.5))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(place.adjusted(-1, -1, 1, 1))

    def _paint_shape(self, painter: QPainter, place: QRectF) -> None:
        assert self._stock is not None
        if self._stock.shape == "circle":
            painter.drawEllipse(place)
        else:
            corner = min(3.0, place.height() / 6)
            painter.drawRoundedRect(place, corner, corner)
