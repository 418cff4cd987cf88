"""One label on the design table: the page's own picture, with what lies on it to be taken hold of.

A click picks what lies there; dragging moves it by the millimetre; its two knobs make it wider and taller. By keys:
Tab picks the next, arrows move, Shift and arrows size, Page Up and Page Down pass a neighbour, Delete takes it off.
"""

from typing import NamedTuple

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QAccessibleEvent,
    QColor,
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPixmap,
)
from PySide6.QtWidgets import QWidget

from hilum.benches.design_changes import GRID_MM, on_grid
from hilum.benches.design_table import Box, TriedLabel
from hilum.window.design_words import called, place_words
from hilum.window.theme import theme

# Round the label, for the knobs that stand out of it.
MARGIN_PX = 16
# A knob is drawn so large, and taken hold of from so far: fingers and hands may be damp.
KNOB_PX, REACH_PX = 7, 15
_BEGIN_PX = 3
ARROWS = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, -1),
    Qt.Key.Key_Down: (0, 1),
}


class Anchors(NamedTuple):
    """What grows upwards from the bottom edge, and what grows leftwards from the right side, by name."""

    upward: frozenset[str] = frozenset()
    leftward: frozenset[str] = frozenset()


class LabelOnTable(QWidget):
    """Shows one tried label; what the keeper does on it is told in millimetres."""

    picked = Signal(str)
    # Name, and so many millimetres to the right and down, or wider and taller.
    moved = Signal(str, float, float)
    sized = Signal(str, float, float)
    # Name, and steps of the grid to the right and down.
    stepped = Signal(str, int, int)
    passed = Signal(str, int)
    taken_off = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._tried: TriedLabel | None = None
        self._picture = QPixmap()
        self._px_per_mm = 4.0
        self._name = ""
        self._anchors = Anchors()
        self._held = ""
        self._from = QPointF()
        self._by = QPointF()
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)

    # What is shown.

    def show_label(self, tried: TriedLabel, picture: QPixmap, px_per_mm: float, anchors: "Anchors") -> None:
        """Show a label."""
        self._tried, self._picture, self._px_per_mm, self._anchors = tried, picture, px_per_mm, anchors
        self.setFixedSize(self.sizeHint())
        self._say_place()
        self.update()

    def pick(self, name: str) -> None:
        """Mark something as picked; it may not be on this label."""
        if name != self._name:
            self._name = name
            self._say_place()
            self.update()

    @property
    def tried(self) -> TriedLabel | None:
        """The label shown."""
        return self._tried

    def names(self) -> list[str]:
        """Give what lies on this label, from the top left on."""
        grounds = self._grounds()
        return sorted(grounds, key=lambda name: (round(grounds[name].y_mm, 1), grounds[name].x_mm))

    def _grounds(self) -> dict[str, Box]:
        return dict(self._tried.grounds) if self._tried else {}

    def _say_place(self) -> None:
        if self._tried is None:
            return
        ground = self._grounds().get(self._name)
        where = place_words(self._name, ground) if ground else f"{called(self._name)} is not on it"
        words = f"Label of {self._tried.key}" + (f": {where}" if self._name else "")
        if words != self.accessibleName():
            self.setAccessibleName(words)
            QAccessible.updateAccessibility(QAccessibleEvent(self, QAccessible.Event.NameChanged))

    # Geometry.

    def sizeHint(self) -> QSize:
        if self._tried is None:
            return QSize(200, 120)
        label = self._tried.label
        return QSize(
            round(label.width_mm * self._px_per_mm) + 2 * MARGIN_PX,
            round(label.height_mm * self._px_per_mm) + 2 * MARGIN_PX,
        )

    def ground_rect(self, name: str) -> QRectF | None:
        """Give where something lies, in the widget's own pixels."""
        ground = self._grounds().get(name)
        if ground is None or self._tried is None:
            return None
        left_mm = self._tried.area.x_mm - self._tried.label.x_mm + ground.x_mm
        top_mm = self._tried.area.y_mm - self._tried.label.y_mm + ground.y_mm
        scale = self._px_per_mm
        return QRectF(
            MARGIN_PX + left_mm * scale, MARGIN_PX + top_mm * scale, ground.width_mm * scale,
            ground.height_mm * scale,
        )  # fmt: skip

    def knob(self, name: str, which: str) -> QPointF | None:
        """Give the place of a knob: “wider” at the side, “taller” at the free edge."""
        rect = self.ground_rect(name)
        if rect is None:
            return None
        # Outside the box, so that its own words stay readable; the lower one aside of a neighbour's words.
        if which == "wider":
            leftward = name in self._anchors.leftward
            return QPointF(rect.left() - KNOB_PX if leftward else rect.right() + KNOB_PX, rect.center().y())
        upward = name in self._anchors.upward
        return QPointF(
            rect.left() + 0.85 * rect.width(), rect.top() - KNOB_PX if upward else rect.bottom() + KNOB_PX
        )

    def _at(self, point: QPointF) -> str:
        """Give what lies under a point; the smallest where two do."""
        found = [(rect.width() * rect.height(), name) for name in self._grounds() if (rect := self.ground_rect(name))
                 and rect.adjusted(-2, -2, 2, 2).contains(point)]  # fmt: skip
        return min(found)[1] if found else ""

    def _knob_at(self, point: QPointF) -> str:
        if not self._name:
            return ""
        for which in ("wider", "taller"):
            knob = self.knob(self._name, which)
            if knob is not None and (knob - point).manhattanLength() <= REACH_PX:
                return which
        return ""

    # Mouse.

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if event.button() != Qt.MouseButton.LeftButton:
            return
        point = event.position()
        self._held = self._knob_at(point)
        if not self._held:
            name = self._at(point)
            if name:
                self._name = name
                self._held = "whole"
                self.picked.emit(name)
                self._say_place()
        self._from, self._by = point, QPointF()
        self.update()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if not self._held:
            self._show_hold(event.position())
            return
        self._by = event.position() - self._from
        self.update()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        held, by = self._held, self._by
        self._held, self._by = "", QPointF()
        self.update()
        if not held or by.manhattanLength() < _BEGIN_PX:
            return
        right_mm, down_mm = by.x() / self._px_per_mm, by.y() / self._px_per_mm
        if held == "whole":
            # A hand that draws straight down does not mean the hair's breadth to the side.
            right_mm, down_mm = _kept(right_mm), _kept(down_mm)
            if right_mm or down_mm:
                self.moved.emit(self._name, right_mm, down_mm)
        elif held == "wider":
            self.sized.emit(self._name, -right_mm if self._name in self._anchors.leftward else right_mm, 0.0)
        else:
            self.sized.emit(self._name, 0.0, -down_mm if self._name in self._anchors.upward else down_mm)

    def _show_hold(self, point: QPointF) -> None:
        knob = self._knob_at(point)
        shapes = {"wider": Qt.CursorShape.SizeHorCursor, "taller": Qt.CursorShape.SizeVerCursor}
        if knob:
            self.setCursor(shapes[knob])
        elif self._at(point):
            self.setCursor(Qt.CursorShape.SizeAllCursor)
        else:
            self.unsetCursor()

    # Keys.

    def focusNextPrevChild(self, next: bool) -> bool:
        names = self.names()
        place = names.index(self._name) if self._name in names else (-1 if next else len(names))
        place += 1 if next else -1
        if 0 <= place < len(names):
            self._pick_and_tell(names[place])
            return True
        # Past the last one the tabulator leaves the label, as it leaves any field.
        return super().focusNextPrevChild(next)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        names = self.names()
        if names and event.reason() == Qt.FocusReason.TabFocusReason:
            self._pick_and_tell(names[0])
        elif names and event.reason() == Qt.FocusReason.BacktabFocusReason:
            self._pick_and_tell(names[-1])

    def _pick_and_tell(self, name: str) -> None:
        self._name = name
        self.picked.emit(name)
        self._say_place()
        self.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key, more = Qt.Key(event.key()), event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier
        if not self._name:
            super().keyPressEvent(event)
        elif key in ARROWS and more == Qt.KeyboardModifier.NoModifier:
            self.stepped.emit(self._name, *ARROWS[key])
        elif key in ARROWS and more == Qt.KeyboardModifier.ShiftModifier:
            right, down = ARROWS[key]
            self.sized.emit(self._name, right * GRID_MM, down * GRID_MM)
        elif key in (Qt.Key.Key_PageUp, Qt.Key.Key_PageDown):
            self.passed.emit(self._name, 1 if key == Qt.Key.Key_PageDown else -1)
        elif key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            self.taken_off.emit(self._name)
        else:
            super().keyPressEvent(event)

    # Painting.

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if self._tried is None:
            return
        paper = QRectF(self.rect()).adjusted(MARGIN_PX, MARGIN_PX, -MARGIN_PX, -MARGIN_PX)
        painter.setPen(QPen(QColor(theme().edge), 1))
        # Paper is white by day and by night.
        painter.setBrush(QColor("white"))
        painter.drawRect(paper)
        if not self._picture.isNull():
            painter.drawPixmap(paper.topLeft(), self._picture)
        if self._held:
            self._paint_grid(painter, paper)
        if self._tried.pdf is None:
            self._paint_places(painter)
        if self._name:
            self._paint_picked(painter)

    def _paint_grid(self, painter: QPainter, paper: QRectF) -> None:
        """Draw the millimetre grid while something is held."""
        tried = self._tried
        assert tried is not None
        scale = self._px_per_mm
        left = MARGIN_PX + (tried.area.x_mm - tried.label.x_mm) * scale
        top = MARGIN_PX + (tried.area.y_mm - tried.label.y_mm) * scale
        faint, clear = QColor(theme().accent), QColor(theme().accent)
        faint.setAlpha(28)
        clear.setAlpha(70)
        for number in range(int(tried.area.width_mm) + 1):
            painter.setPen(QPen(clear if number % 5 == 0 else faint, 1))
            x = left + number * scale
            painter.drawLine(QPointF(x, paper.top()), QPointF(x, paper.bottom()))
        for number in range(int(tried.area.height_mm) + 1):
            painter.setPen(QPen(clear if number % 5 == 0 else faint, 1))
            y = top + number * scale
            painter.drawLine(QPointF(paper.left(), y), QPointF(paper.right(), y))

    def _paint_places(self, painter: QPainter) -> None:
        """Draw where things would stand on a label that is refused."""
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(QColor("#98291c"), 1, Qt.PenStyle.DashLine))
        font = painter.font()
        font.setPointSizeF(7.5)
        painter.setFont(font)
        for name in self._grounds():
            rect = self.ground_rect(name)
            if rect is not None:
                painter.drawRect(rect)
                painter.drawText(rect.adjusted(3, 0, -2, 0), Qt.AlignmentFlag.AlignVCenter, name)

    def _paint_picked(self, painter: QPainter) -> None:
        rect = self.ground_rect(self._name)
        if rect is None:
            return
        colour = QColor("#2e5b34")
        has_focus = self.hasFocus()
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(QPen(colour, 2 if has_focus else 1.2, Qt.PenStyle.SolidLine))
        if self._held and self._by.manhattanLength() >= _BEGIN_PX:
            self._paint_held(painter, rect, colour)
            return
        painter.drawRoundedRect(rect.adjusted(-1.5, -1.5, 1.5, 1.5), 2, 2)
        painter.setPen(QPen(QColor("white"), 1.5))
        painter.setBrush(colour)
        for which in ("wider", "taller"):
            knob = self.knob(self._name, which)
            if knob is not None:
                painter.drawEllipse(knob, KNOB_PX, KNOB_PX)

    def _paint_held(self, painter: QPainter, rect: QRectF, colour: QColor) -> None:
        """Draw where it would come to lie, on the grid, with its millimetres beside it."""
        tried = self._tried
        assert tried is not None
        scale = self._px_per_mm
        ground = self._grounds()[self._name]
        right_mm, down_mm = self._by.x() / scale, self._by.y() / scale
        if self._held == "whole":
            right_mm, down_mm = _kept(right_mm), _kept(down_mm)
            x_mm = on_grid(ground.x_mm + right_mm) if right_mm else ground.x_mm
            y_mm = on_grid(ground.y_mm + down_mm) if down_mm else ground.y_mm
            there = rect.translated((x_mm - ground.x_mm) * scale, (y_mm - ground.y_mm) * scale)
            words = f"{x_mm:g} mm from the left, {y_mm:.4g} mm from the top"
        elif self._held == "wider":
            left = self._name in self._anchors.leftward
            width_mm = max(GRID_MM, on_grid(ground.width_mm + (-right_mm if left else right_mm)))
            begin = rect.right() - width_mm * scale if left else rect.left()
            there = QRectF(begin, rect.top(), width_mm * scale, rect.height())
            words = f"{width_mm:g} mm wide"
        else:
            up = self._name in self._anchors.upward
            height_mm = max(GRID_MM, on_grid(ground.height_mm + (-down_mm if up else down_mm)))
            top = rect.bottom() - height_mm * scale if up else rect.top()
            there = QRectF(rect.left(), top, rect.width(), height_mm * scale)
            words = f"{height_mm:g} mm high"
        fill = QColor(colour)
        fill.setAlpha(50)
        painter.setBrush(fill)
        painter.drawRoundedRect(there, 2, 2)
        _paint_tag(painter, there, words, self.rect().width())


def _kept(by_mm: float) -> float:
    """Give how far something was drawn one way; less than half a step is none."""
    return by_mm if abs(by_mm) >= GRID_MM / 2 else 0.0


def _paint_tag(painter: QPainter, there: QRectF, words: str, most_px: int) -> None:
    font = painter.font()
    font.setPointSizeF(8.5)
    painter.setFont(font)
    size = painter.fontMetrics().size(0, words)
    x = min(max(0.0, there.left()), max(0.0, most_px - size.width() - 10.0))
    y = there.top() - size.height() - 6 if there.top() > size.height() + 6 else there.bottom() + 3
    tag = QRectF(x, y, size.width() + 10, size.height() + 4)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor("#2e5b34"))
    painter.drawRoundedRect(tag, 4, 4)
    painter.setPen(QColor("white"))
    painter.drawText(tag, Qt.AlignmentFlag.AlignCenter, words)
