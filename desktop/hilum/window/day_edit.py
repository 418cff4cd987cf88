"""A field for a day, typed as one writes it or picked from a calendar."""

import re
from datetime import date, timedelta

from PySide6.QtCore import QDate, QLocale, QPoint, Qt, Signal
from PySide6.QtGui import QColor, QFocusEvent, QIcon, QKeyEvent, QTextCharFormat
from PySide6.QtWidgets import QCalendarWidget, QLineEdit, QToolButton, QVBoxLayout, QWidget

from hilum.benches.days import day_written
from hilum.errors import BadInput
from hilum.window.icons import calendar_icon
from hilum.window.notice import polish
from hilum.window.theme import theme

# Written to its end: from here on a day that is typed counts, without waiting for Enter.
_WHOLE = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
# The calendar's sign, its margins and the line's own.
CALENDAR_SIGN_PX = 52
_HINT = "Year, month, day: 2026-11-05. Up and Down go day by day, Alt+Down opens a calendar."
_STEPS = {Qt.Key.Key_Up: 1, Qt.Key.Key_Down: -1, Qt.Key.Key_PageUp: 7, Qt.Key.Key_PageDown: -7}


class DateEdit(QLineEdit):
    """A line for a day, shown year-month-day. The arrow keys go day by day, Page up and down week by week.

    What is typed is read as a whole, not part by part: a field of parts that keeps the old year while a new one is
    typed over it writes a wrong year unseen. A text that is no day is marked and stays, and `day` refuses it.
    """

    day_changed = Signal()

    def __init__(self, start: date, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._day = start
        self._trouble = ""
        self._calendar: CalendarBox | None = None
        # Never so narrow that part of the year slips out of sight beside the calendar's sign.
        self.setMinimumWidth(self.fontMetrics().horizontalAdvance("0000-00-00") + CALENDAR_SIGN_PX)
        self.setMaximumWidth(180)
        self.setToolTip(_HINT)
        self._open = self.addAction(calendar_icon(), QLineEdit.ActionPosition.TrailingPosition)
        self._open.setText("Pick from a calendar")
        self._open.setToolTip("Pick from a calendar (Alt+Down)")
        self._connect()
        self.set_day(start)

    def _connect(self) -> None:
        self._open.triggered.connect(self.show_calendar)
        self.textEdited.connect(self.on_edited)
        self.editingFinished.connect(self.on_finished)

    def day(self) -> date:
        """Give the day that stands in the line.

        Raises `BadInput`, with words for the keeper, when what stands there is no day.
        """
        self._read()
        if self._trouble:
            raise BadInput(self._trouble)
        return self._day

    def trouble(self) -> str:
        """Say what is wrong with what stands in the line; empty when it is a day."""
        self._read()
        return self._trouble

    def set_day(self, day: date) -> None:
        """Show a day."""
        self.setText(day.isoformat())
        self._take(day)

    def on_edited(self, text: str) -> None:
        """Take the day as soon as it is written to its end; half a day is not marked as wrong while one types."""
        if _WHOLE.fullmatch(text.strip()):
            self._read()
        elif self._trouble:
            self._mark("")

    def on_finished(self) -> None:
        """Read what was typed, and write it year first if it is a day."""
        self._read()
        if not self._trouble:
            self.setText(self._day.isoformat())

    def show_calendar(self) -> None:
        """Open a calendar at the day shown."""
        self._calendar = CalendarBox(self._day, self)
        self._calendar.picked.connect(self.on_picked)
        self._calendar.open_below(self)

    def on_picked(self, day: date) -> None:
        """Take the day picked in the calendar."""
        self.set_day(day)
        self.setFocus()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        if key == Qt.Key.Key_Down and event.modifiers() & Qt.KeyboardModifier.AltModifier:
            self.show_calendar()
        elif key in _STEPS and event.modifiers() in (
            Qt.KeyboardModifier.NoModifier,
            Qt.KeyboardModifier.KeypadModifier,
        ):
            self._step(_STEPS[key])
        else:
            super().keyPressEvent(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        if event.reason() == Qt.FocusReason.ShortcutFocusReason:
            self.selectAll()

    def _step(self, days: int) -> None:
        self._read()
        if self._trouble:
            return
        try:
            day = self._day + timedelta(days=days)
        except OverflowError:
            # The first or the last day there is.
            return
        self.set_day(day)
        self.selectAll()

    def _read(self) -> None:
        try:
            day = day_written(self.text())
        except BadInput as error:
            self._mark(str(error))
        else:
            self._take(day)

    def _take(self, day: date) -> None:
        changed, self._day = day != self._day, day
        self._mark("")
        if changed:
            self.day_changed.emit()

    def _mark(self, words: str) -> None:
        self.setToolTip(words or _HINT)
        self.setAccessibleDescription(words)
        if words != self._trouble:
            self._trouble = words
            self.setProperty("wrong", "true" if words else "false")
            polish(self)


class CalendarBox(QWidget):
    """A calendar that floats below the field until a day is picked."""

    picked = Signal(date)

    def __init__(self, start: date, parent: QWidget) -> None:
        super().__init__(parent, Qt.WindowType.Popup)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.calendar = QCalendarWidget()
        self.calendar.setLocale(QLocale(QLocale.Language.English, QLocale.Country.UnitedKingdom))
        self.calendar.setVerticalHeaderFormat(QCalendarWidget.VerticalHeaderFormat.ISOWeekNumbers)
        self.calendar.setSelectedDate(QDate(start.year, start.month, start.day))
        self.calendar.setMinimumSize(440, 300)
        self._take_colours()
        layout = QVBoxLayout(self)
        layout.setContentsMargins(1, 1, 1, 1)
        layout.addWidget(self.calendar)
        self.calendar.clicked.connect(self.on_chosen)
        self.calendar.activated.connect(self.on_chosen)

    def _take_colours(self) -> None:
        """Give weekends and arrows the theme's ink: Qt's own red and black are lost on a dark ground."""
        plain = QTextCharFormat()
        plain.setForeground(QColor(theme().ink))
        for weekday in Qt.DayOfWeek:
            self.calendar.setWeekdayTextFormat(weekday, plain)
        for name, sign in (("qt_calendar_prevmonth", "‹"), ("qt_calendar_nextmonth", "›")):
            button = self.calendar.findChild(QToolButton, name)
            button.setIcon(QIcon())
            button.setText(sign)

    def open_below(self, field: QWidget) -> None:
        """Show the calendar under a field, or above it where the screen ends."""
        self.adjustSize()
        below = field.mapToGlobal(QPoint(0, field.height()))
        room = field.screen().availableGeometry()
        left = max(room.left(), min(below.x(), room.right() - self.width()))
        top = below.y()
        if top + self.height() > room.bottom():
            top = max(room.top(), below.y() - field.height() - self.height())
        self.move(left, top)
        self.show()
        self.calendar.setFocus()

    def on_chosen(self, day: QDate) -> None:
        """Hand on the day, once, and close."""
        self.calendar.blockSignals(True)
        self.picked.emit(date(day.year(), day.month(), day.day()))
        self.close()
