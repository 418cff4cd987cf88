"""Signs drawn by the window itself: the benches on the rail and the bean of the program."""

from collections.abc import Callable

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QIcon, QPainter, QPainterPath, QPen, QPixmap

from hilum.window.theme import theme

# All signs are drawn on a square of this side and scaled from there.
SIDE = 24.0


def _day_sheet() -> QPainterPath:
    path = QPainterPath()
    path.addRoundedRect(QRectF(5, 3, 14, 18), 2, 2)
    for height in (8.5, 13, 17.5):
        path.moveTo(8, height)
        path.lineTo(9.5, height + 1.3)
        path.lineTo(11.5, height - 1.5)
        path.moveTo(13.5, height)
        path.lineTo(16.5, height)
    return path


def _intake() -> QPainterPath:
    path = QPainterPath()
    path.moveTo(5, 11)
    path.cubicTo(4, 17, 4, 21, 8, 21)
    path.lineTo(16, 21)
    path.cubicTo(20, 21, 20, 17, 19, 11)
    path.moveTo(12, 2.5)
    path.lineTo(12, 14)
    path.moveTo(8.5, 10.5)
    path.lineTo(12, 14)
    path.lineTo(15.5, 10.5)
    return path


def _preparing() -> QPainterPath:
    path = QPainterPath()
    path.addEllipse(QRectF(3, 5, 18, 6))
    path.moveTo(3, 8)
    path.cubicTo(3, 12, 6, 14, 12, 14)
    path.cubicTo(18, 14, 21, 12, 21, 8)
    for left, height in ((8, 17), (12, 18.5), (16, 17), (10, 21), (14, 21)):
        path.addEllipse(QPointF(left, height), 0.7, 0.7)
    return path


def _catalogue() -> QPainterPath:
    path = QPainterPath()
    path.addRoundedRect(QRectF(4, 3, 16, 18), 1.5, 1.5)
    for height in (9, 15):
        path.moveTo(4, height)
        path.lineTo(20, height)
    for height in (6, 12, 18):
        path.moveTo(10.5, height)
        path.lineTo(13.5, height)
    return path


def _testing() -> QPainterPath:
    path = QPainterPath()
    path.moveTo(3, 15)
    path.cubicTo(4, 20, 7, 21, 12, 21)
    path.cubicTo(17, 21, 20, 20, 21, 15)
    path.lineTo(3, 15)
    path.moveTo(12, 15)
    path.cubicTo(12, 11, 12, 9, 12, 7.5)
    path.moveTo(12, 9.5)
    path.cubicTo(8.5, 9.5, 6.5, 7.5, 6.5, 4)
    path.cubicTo(10, 4, 12, 6, 12, 9.5)
    path.moveTo(12, 8)
    path.cubicTo(12, 5, 14, 3, 17.5, 3)
    path.cubicTo(17.5, 6, 15.5, 8, 12, 8)
    return path


def _packing() -> QPainterPath:
    path = QPainterPath()
    path.addRoundedRect(QRectF(5, 3, 14, 18), 1, 1)
    path.moveTo(5, 7.5)
    path.lineTo(19, 7.5)
    path.addEllipse(QRectF(9.3, 10.5, 5.4, 7))
    return path


def _counter() -> QPainterPath:
    path = QPainterPath()
    path.moveTo(3, 16)
    path.cubicTo(7, 13, 10, 17, 14, 16)
    path.cubicTo(17, 15, 19, 13, 21, 13)
    path.cubicTo(20, 18, 15, 21, 10, 21)
    path.lineTo(3, 21)
    path.addRoundedRect(QRectF(8.5, 3, 7, 9), 1, 1)
    path.moveTo(8.5, 6)
    path.lineTo(15.5, 6)
    return path


def _regrowing() -> QPainterPath:
    path = QPainterPath()
    path.moveTo(3, 20)
    path.lineTo(21, 20)
    for left, height in ((7, 9), (17, 9), (12, 4)):
        path.moveTo(left, 20)
        path.lineTo(left, height + 2)
        path.addEllipse(QPointF(left, height), 2, 2)
        path.moveTo(left, 16)
        path.cubicTo(left + 1, 14, left + 2, 13.5, left + 3.2, 13.5)
    return path


def _store() -> QPainterPath:
    path = QPainterPath()
    path.moveTo(3, 4)
    path.lineTo(3, 21)
    path.moveTo(21, 4)
    path.lineTo(21, 21)
    for height in (11.5, 20):
        path.moveTo(3, height)
        path.lineTo(21, height)
    for left, foot in ((6, 11.5), (13, 11.5), (9.5, 20)):
        path.addRoundedRect(QRectF(left, foot - 5.5, 4.5, 5.5), 1, 1)
        path.moveTo(left + 1, foot - 7)
        path.lineTo(left + 3.5, foot - 7)
    return path


def _reckoner() -> QPainterPath:
    path = QPainterPath()
    path.moveTo(4, 3)
    path.lineTo(4, 20)
    path.lineTo(21, 20)
    path.moveTo(4, 6)
    path.cubicTo(12, 6, 11, 17, 20, 17)
    return path


def _lot() -> QPainterPath:
    path = QPainterPath()
    path.addEllipse(QRectF(5, 4, 14, 16))
    return path


SIGNS: dict[str, Callable[[], QPainterPath]] = {
    "Day sheet": _day_sheet,
    "Intake": _intake,
    "Preparing": _preparing,
    "Catalogue": _catalogue,
    "Testing": _testing,
    "Packing": _packing,
    "Counter": _counter,
    "Store": _store,
    "Regrowing": _regrowing,
    "Reckoner": _reckoner,
}


def bench_icon(title: str) -> QIcon:
    """Give the sign of a bench in the colours of the rail, plain and for the bench at work."""
    path = SIGNS.get(title, _lot)()
    icon = QIcon()
    for state, colour in ((QIcon.State.Off, theme().coat), (QIcon.State.On, theme().accent_ink)):
        icon.addPixmap(_stroked(path, colour), QIcon.Mode.Normal, state)
    return icon


def calendar_icon() -> QIcon:
    """Give the sign of the field for a day."""
    path = QPainterPath()
    path.addRoundedRect(QRectF(3.5, 5, 17, 16), 2, 2)
    path.moveTo(3.5, 10)
    path.lineTo(20.5, 10)
    for left in (8, 16):
        path.moveTo(left, 2.5)
        path.lineTo(left, 6.5)
    return QIcon(_stroked(path, theme().quiet))


def _stroked(path: QPainterPath, colour: str, side: int = 44) -> QPixmap:
    picture = QPixmap(QSize(side, side))
    picture.fill(Qt.GlobalColor.transparent)
    painter = QPainter(picture)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.scale(side / SIDE, side / SIDE)
    pen = QPen(QColor(colour), 1.7)
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    painter.setPen(pen)
    painter.drawPath(path)
    painter.end()
    return picture


def bean_path() -> QPainterPath:
    """Give the outline of a bean lying with its scar to the right."""
    path = QPainterPath()
    path.moveTo(13, 2)
    path.cubicTo(19, 2, 22, 6, 20, 9.5)
    path.cubicTo(19, 11.2, 19, 12.8, 20, 14.5)
    path.cubicTo(22, 18, 19, 22, 13, 22)
    path.cubicTo(6, 22, 3, 17.5, 3, 12)
    path.cubicTo(3, 6.5, 6, 2, 13, 2)
    return path


def program_picture(side: int) -> QPixmap:
    """Give the bean of the program with its hilum, the scar that gives it its name."""
    picture = QPixmap(QSize(side, side))
    picture.fill(Qt.GlobalColor.transparent)
    painter = QPainter(picture)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.scale(side / SIDE, side / SIDE)
    painter.setPen(QPen(QColor("#4c2a16"), 0.8))
    painter.setBrush(QColor("#8a4f2c"))
    painter.drawPath(bean_path())
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor("#f6f2e7"))
    painter.drawEllipse(QRectF(16.2, 9.2, 2.4, 5.6))
    painter.setBrush(QColor("#2e5b34"))
    painter.drawEllipse(QRectF(17.0, 10.6, 0.9, 2.8))
    painter.end()
    return picture


def program_icon() -> QIcon:
    """Give the icon of the program in the sizes desktops ask for."""
    icon = QIcon()
    for side in (16, 32, 64, 128, 256):
        icon.addPixmap(program_picture(side))
    return icon
