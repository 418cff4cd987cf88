"""The field for a day: whatever is typed over what stands there is what is meant, whole or not at all."""

from datetime import date
from typing import Any

import pytest
from PySide6.QtCore import QDate, Qt
from PySide6.QtWidgets import QApplication, QCalendarWidget, QLineEdit, QVBoxLayout, QWidget

from hilum.errors import BadInput
from hilum.window.day_edit import DateEdit

START = date(2026, 11, 25)
CTRL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def edit(qtbot: Any) -> Any:
    """A field for a day with another field behind it, the first one at work."""
    page = QWidget()
    layout = QVBoxLayout(page)
    day = DateEdit(START)
    layout.addWidget(day)
    layout.addWidget(QLineEdit())
    qtbot.addWidget(page)
    with qtbot.waitExposed(page):
        page.show()
    day.setFocus()
    day.page = page
    return day


@pytest.mark.parametrize("clear_first", [True, False], ids=["emptied first", "typed over"])
@pytest.mark.parametrize(
    "text", ["2024-01-05", "2026-11-26", "1999-12-31", "2031-02-28", "20240105", "5 Jan 2024"]
)
def test_a_day_typed_over_another_is_the_day_typed(qtbot: Any, edit: DateEdit, text: str, clear_first: bool):
    """A field of parts kept the old year here and showed 2026-01-05 for 2024-01-05."""
    wanted = {"20240105": "2024-01-05", "5 Jan 2024": "2024-01-05"}.get(text, text)
    qtbot.keyClick(edit, Qt.Key.Key_A, CTRL)
    if clear_first:
        qtbot.keyClick(edit, Qt.Key.Key_Delete)
    qtbot.keyClicks(edit, text)
    assert edit.day().isoformat() == wanted
    qtbot.keyClick(edit, Qt.Key.Key_Tab)
    assert edit.text() == wanted
    assert edit.day().isoformat() == wanted


def test_the_change_is_told_once_when_the_day_is_whole(qtbot: Any, edit: DateEdit):
    """A page does not jump through the days that half a date would mean."""
    told: list[date] = []
    edit.day_changed.connect(lambda: told.append(edit.day()))
    qtbot.keyClick(edit, Qt.Key.Key_A, CTRL)
    qtbot.keyClicks(edit, "2024-01-0")
    assert told == []
    qtbot.keyClicks(edit, "5")
    qtbot.keyClick(edit, Qt.Key.Key_Tab)
    assert told == [date(2024, 1, 5)]


def test_what_is_no_day_stays_is_marked_and_is_not_taken_for_the_day_before(qtbot: Any, edit: DateEdit):
    """Nothing typed is lost, and nothing is done with a day nobody typed."""
    qtbot.keyClick(edit, Qt.Key.Key_A, CTRL)
    qtbot.keyClicks(edit, "2024-02-31")
    assert edit.property("wrong") == "true"
    with pytest.raises(BadInput, match="“2024-02-31” is not a date"):
        edit.day()
    qtbot.keyClick(edit, Qt.Key.Key_Tab)
    assert edit.text() == "2024-02-31"
    assert "is not a date" in edit.toolTip()
    assert "is not a date" in edit.accessibleDescription()
    qtbot.keyClick(edit, Qt.Key.Key_Backspace)
    assert edit.property("wrong") == "false"
    qtbot.keyClicks(edit, "0")
    with pytest.raises(BadInput):
        edit.day()
    edit.set_day(START)
    assert edit.day() == START
    assert edit.property("wrong") == "false"


def test_half_a_day_is_refused_but_not_marked_while_it_is_typed(qtbot: Any, edit: DateEdit):
    """Red comes at the end of a mistake, not in the middle of typing."""
    qtbot.keyClick(edit, Qt.Key.Key_A, CTRL)
    qtbot.keyClicks(edit, "2024-1")
    assert edit.property("wrong") != "true"
    with pytest.raises(BadInput, match="says only the month"):
        edit.day()


def test_keys_go_from_day_to_day(qtbot: Any, edit: DateEdit):
    """Up and Down by a day, Page up and down by a week, and the last day there is stands."""
    for key in (Qt.Key.Key_Up, Qt.Key.Key_Up, Qt.Key.Key_Down):
        qtbot.keyClick(edit, key)
    assert edit.text() == "2026-11-26"
    qtbot.keyClick(edit, Qt.Key.Key_PageDown)
    assert edit.text() == "2026-11-19"
    edit.set_day(date.max)
    qtbot.keyClick(edit, Qt.Key.Key_Up)
    assert edit.day() == date.max


def test_a_day_is_picked_from_the_calendar(qtbot: Any, edit: DateEdit):
    """Alt+Down opens it at the day shown; Enter takes the day and closes it."""
    qtbot.keyClick(edit, Qt.Key.Key_Down, Qt.KeyboardModifier.AltModifier)
    popup = QApplication.activePopupWidget()
    assert popup is not None
    [calendar] = popup.findChildren(QCalendarWidget)
    assert calendar.selectedDate() == QDate(2026, 11, 25)
    qtbot.keyClick(calendar.focusWidget() or calendar, Qt.Key.Key_Right)
    qtbot.keyClick(calendar.focusWidget() or calendar, Qt.Key.Key_Return)
    assert edit.day() == date(2026, 11, 26)
    assert QApplication.activePopupWidget() is None
