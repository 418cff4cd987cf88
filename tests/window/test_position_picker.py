"""The drawn sheet: first free label and spoiled ones, by mouse, keys and typed figures."""

import pytest
from PySide6.QtCore import QPoint, Qt

from hilum.benches.printing import label_stock
from hilum.errors import BadInput
from hilum.window.position_picker import PositionPicker, positions_of, positions_text
from tests.support.keeper import Keeper


@pytest.fixture
def picker(qtbot):
    """Give a picker with 3 × 8 labels and 30 to print."""
    widget = PositionPicker()
    widget.resize(260, 330)
    widget.set_stock(label_stock("a4-3x8"))
    widget.set_need(30)
    return widget


def press(qtbot, picker, position, modifier=Qt.KeyboardModifier.NoModifier):
    """Click one label of the drawn sheet."""
    at = picker.label_rect(position).center().toPoint()
    qtbot.mouseClick(picker, Qt.MouseButton.LeftButton, modifier, QPoint(at))


def test_a_click_chooses_the_first_free_label(qtbot, picker):
    """What lies before the clicked label counts as used."""
    Keeper(qtbot, picker)
    press(qtbot, picker, 5)
    assert picker.start == 5
    assert picker.printed()[0] == 5
    assert picker.words() == "Labels 5-24 of the first sheet, then 1 more sheet."


def test_ctrl_click_crosses_a_label_out_and_in_again(qtbot, picker):
    """Spoiled labels are left out of what is printed."""
    Keeper(qtbot, picker)
    press(qtbot, picker, 7, Qt.KeyboardModifier.ControlModifier)
    assert picker.skip == (7,)
    assert 7 not in picker.printed()
    press(qtbot, picker, 7, Qt.KeyboardModifier.ControlModifier)
    assert picker.skip == ()


def test_arrow_keys_choose_and_space_crosses_out(qtbot, picker):
    """Everything the mouse does is done by keys."""
    keeper = Keeper(qtbot, picker)
    picker.setFocus()
    keeper.keys("Down", "Right")
    assert picker.start == 5
    keeper.keys("Ctrl+Down", "Space")
    assert (picker.start, picker.skip) == (5, (8,))
    keeper.keys("Home")
    assert picker.start == 1
    keeper.keys("Up", "Left")
    assert picker.start == 1


def test_a_screen_reader_hears_where_the_cursor_stands(qtbot, picker):
    """The drawn sheet says in words what it shows."""
    keeper = Keeper(qtbot, picker)
    picker.setFocus()
    keeper.keys("Right", "Ctrl+Right", "Space")
    said = picker.accessibleDescription()
    assert said.startswith("Label 3, spoiled, left out.")
    assert "Labels 2, 4-24 of the first sheet" in said


def test_a_sheet_without_a_free_label_says_so(picker):
    """Nothing left to print on is said, not hidden."""
    picker.set_start(24)
    picker.set_skip((24,))
    assert picker.printed() == ()
    assert "No label of this sheet is left free" in picker.words()


def test_a_roll_has_nothing_to_choose(qtbot, picker):
    """On a roll keys and clicks change nothing."""
    picker.set_stock(label_stock("roll-62x29"))
    keeper = Keeper(qtbot, picker)
    picker.setFocus()
    keeper.keys("Right", "Space")
    assert (picker.start, picker.skip) == (1, ())
    assert "roll" in picker.words()


def test_another_stock_begins_with_a_whole_sheet(picker):
    """Positions of one sheet mean nothing on another."""
    picker.set_start(9)
    picker.set_skip((3,))
    picker.set_stock(label_stock("a4-2x7-99.1x38.1"))
    assert (picker.start, picker.skip) == (1, ())


@pytest.mark.parametrize(
    ("text", "positions"),
    [("", ()), ("5", (5,)), ("5, 9", (5, 9)), ("12-14, 2", (2, 12, 13, 14)), (" 3 – 4 ; 4", (3, 4))],
)
def test_positions_are_read_as_they_are_typed(text, positions):
    """Numbers, commas and runs."""
    assert positions_of(text, 24) == positions


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("25", "numbered 1 to 24"),
        ("0", "numbered 1 to 24"),
        ("x", "no label of the sheet"),
        ("9-3", "not on this sheet"),
        ("3-", "no label of the sheet"),
    ],
)
def test_what_is_no_position_is_refused_in_words(text, words):
    """The message names what was typed and what is allowed."""
    with pytest.raises(BadInput, match=words):
        positions_of(text, 24)


def test_positions_are_written_short():
    """Runs of three and more are written as first and last."""
    assert positions_text((1, 2, 5, 6, 7, 9)) == "1, 2, 5-7, 9"
