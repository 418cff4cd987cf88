"""What was done, told and taken back in the window: a lot's history, the library's, the two keys, two desks."""

from collections.abc import Callable, Iterator
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QPoint, QSettings, Qt
from PySide6.QtWidgets import QDialog

from hilum.benches import keeping
from hilum.benches.lots import LotFilter, change_lot, draw, find_lots, hold_lot, lot_story, lot_view
from hilum.window.catalogue_page import CataloguePage
from hilum.window.lot_events import events_of
from hilum.window.session import Session
from hilum.window.shell import MainWindow
from hilum.window.work import WorkDay
from tests.support.answers import Answers
from tests.support.keeper import Keeper

LEEK, BEAN = "LEK-24-001-7", "Bannerman's Dwarf"


@pytest.fixture
def page(qtbot: Any, answers: Answers, work_day: WorkDay) -> CataloguePage:
    """Give the catalogue bench as the window shows it."""
    page = CataloguePage(work_day, answers)
    page.resize(1000, 700)
    work_day.changes.catalogue_changed.connect(lambda _what: page.refresh())
    page.refresh()
    return page


@pytest.fixture
def window(qtbot: Any, answers: Answers, work_day: WorkDay) -> MainWindow:
    """Give the window on the working day."""
    window = MainWindow(answers)
    window.take_up(work_day)
    return window


@pytest.fixture
def session(window: MainWindow, clock: Callable[[], datetime], tmp_path: Path) -> Iterator[Session]:
    """Give the session of the window."""
    choices = QSettings(str(tmp_path / "window.ini"), QSettings.Format.IniFormat)
    session = Session(window, clock, choices, tmp_path / "usual.hilum")
    session._mark_beginning()
    yield session
    window.may_close = None


def keeper_at(qtbot: Any, page: CataloguePage, number: str = LEEK) -> Keeper:
    """Open one lot's page as a keeper."""
    keeper = Keeper(qtbot, page)
    page.start_with((number,))
    return keeper


def test_the_history_is_told_in_words(qtbot: Any, page: CataloguePage, work_day: WorkDay):
    """Fields and names, never ids or braces; the same edit stands on the time line."""
    keeping.come_to_bench(work_day.catalogue, "Ida Fenn")
    change_lot(work_day.catalogue, LEEK, {"grower": "Tomas Reed", "is_f1": True, "treatment": "thiram"})
    keeper = keeper_at(qtbot, page)
    assert keeper.sees("Treated seed (thiram)")
    assert keeper.sees("F1 hybrid")
    page.lot_page._tabs.setCurrentIndex(4)
    assert keeper.sees("grower Ada Quill → Tomas Reed")
    assert keeper.sees("Ida Fenn")
    assert not any("{" in words or "grower_id" in words for words in keeper.words())
    events = events_of(lot_story(work_day.catalogue, LEEK))
    assert [event.what for event in events if "Tomas Reed" in event.words] == ["Written"]


def test_a_whole_intake_goes_back_from_one_of_its_lots(
    qtbot: Any, page: CataloguePage, answers: Answers, work_day: WorkDay
):
    """The question says how many lots go; the lot's page then says that it was withdrawn, and brings all back."""
    keeper = keeper_at(qtbot, page)
    page.lot_page._tabs.setCurrentIndex(4)
    page.lot_page.past.selectRow(0)
    keeper.presses("Take this back")
    assert "concerns 5 lots" in answers.asked[-1].words
    keeper.waits_to_see("Withdrawn on 2026-11-25")
    assert find_lots(work_day.catalogue, LotFilter(), on=work_day.today()).total == 0
    page.lot_page.past.choose(lambda line: line.takes_back is not None)
    keeper.presses("Do it once more")
    qtbot.waitUntil(lambda: find_lots(work_day.catalogue, LotFilter(), on=work_day.today()).total == 5)
    assert lot_view(work_day.catalogue, LEEK).line.stock == 42_000


def test_what_something_stands_on_stays_and_the_reason_is_said(
    qtbot: Any, window: MainWindow, session: Session, work_day: WorkDay
):
    """From the list of everything that was done: the refusal names the later change, and the list stays open."""
    draw(work_day.catalogue, LEEK, "sown", on=work_day.today(), mass_mg=1_000)
    keeper = Keeper(qtbot, window)
    keeper.keys("Ctrl+H")
    keeper.waits_to_see("take in 5 lots")
    dialog: Any = session.dialog
    dialog.table.choose(lambda line: line.what == "take in 5 lots")
    keeper.presses("Take back")
    keeper.waits_to_see(f"a later change (“draw from {LEEK}”) stands on it")
    dialog.table.choose(lambda line: line.what == f"draw from {LEEK}")
    keeper.presses("Take back")
    qtbot.waitUntil(lambda: lot_view(work_day.catalogue, LEEK).line.stock == 42_000)
    keeper.waits_to_see(f"Taken back: draw from {LEEK}.")


def test_ctrl_z_and_its_way_back(qtbot: Any, window: MainWindow, session: Session, work_day: WorkDay):
    """Two edits and a draw go back one by one and come again in their order; a new edit ends that."""
    change_lot(work_day.catalogue, LEEK, {"notes": "one"})
    draw(work_day.catalogue, LEEK, "sown", on=work_day.today(), mass_mg=2_000)
    change_lot(work_day.catalogue, LEEK, {"notes": "two"})
    keeper = Keeper(qtbot, window)

    def stands() -> tuple[str, int | None]:
        story = lot_story(work_day.catalogue, LEEK)
        return story.notes, story.lot.line.stock

    for keys, expected in (
        ("Ctrl+Z", ("one", 40_000)),
        ("Ctrl+Z", ("one", 42_000)),
        ("Ctrl+Z", ("", 42_000)),
        ("Ctrl+Shift+Z", ("one", 42_000)),
        ("Ctrl+Y", ("one", 40_000)),
        ("Ctrl+Z", ("one", 42_000)),
        ("Ctrl+Y", ("one", 40_000)),
        ("Ctrl+Y", ("two", 40_000)),
    ):
        keeper.keys(keys)
        assert stands() == expected, keys
    keeper.keys("Ctrl+Y")
    keeper.waits_to_see("nothing to do once more")
    keeper.keys("Ctrl+Z")
    hold_lot(work_day.catalogue, LEEK, "wet", on=work_day.today())
    keeper.keys("Ctrl+Y")
    keeper.waits_to_see("nothing to do once more")
    assert stands() == ("one", 40_000)


def test_two_desks_edit_one_lot_and_the_second_chooses(qtbot: Any, page: CataloguePage, work_day: WorkDay):
    """What the other desk wrote is shown with who and when; only what is chosen as ours is written over it."""
    keeper = keeper_at(qtbot, page)
    keeper.presses("Change…")
    with keeping.open_at(work_day.catalogue.where, clock=work_day.now) as other:
        keeping.come_to_bench(other, "Ida Fenn")
        change_lot(other, LEEK, {"notes": "theirs", "year": 2020, "isolation": "tent"})
    keeper.types("Notes", "ours")
    keeper.types("Year", "2022")
    keeper.types("Plants", "30")
    keeper.presses("Keep")
    assert keeper.sees("Ida Fenn, 2026-11-25 09:30")
    assert keeper.sees("2020 (Ida Fenn")
    assert keeper.sees("not changed by you")
    assert lot_story(work_day.catalogue, LEEK).notes == "theirs"
    qtbot.mouseClick(keeper.field("notes, yours"), Qt.MouseButton.LeftButton, pos=QPoint(8, 8))
    keeper.presses("Keep what is chosen")
    story = lot_story(work_day.catalogue, LEEK)
    assert (story.notes, story.lot.line.year, story.plants, story.isolation) == ("ours", 2020, 30, "tent")
    assert not [dialog for dialog in page.findChildren(QDialog) if dialog.isVisible()]


def test_a_second_desk_that_gives_way_writes_nothing(qtbot: Any, page: CataloguePage, work_day: WorkDay):
    """With theirs kept there is nothing to write, and both dialogs close."""
    keeper = keeper_at(qtbot, page)
    keeper.presses("Change…")
    change_lot(work_day.catalogue, LEEK, {"notes": "theirs"})
    keeper.types("Notes", "ours")
    keeper.presses("Keep")
    keeper.presses("Keep what is chosen")
    assert lot_story(work_day.catalogue, LEEK).notes == "theirs"
    assert not [dialog for dialog in page.findChildren(QDialog) if dialog.isVisible()]


def test_a_grow_out_is_recorded_on_the_lots_page(qtbot: Any, page: CataloguePage, work_day: WorkDay):
    """It stands in the life of the lot with its day, and an unknown lot says so on top."""
    keeper = keeper_at(qtbot, page)
    keeper.presses("Grow-out…")
    keeper.chooses("The plants were", "not true")
    keeper.types("Note", "white flowers")
    keeper.presses("Record")
    assert keeper.sees("Identity unknown: not to be packed as “Grey Ferryman”")
    assert keeper.sees("not true, white flowers")
    [line] = lot_story(work_day.catalogue, LEEK).grow_outs
    assert (line.on, line.result, line.plants) == (work_day.today(), "not true", None)


def test_lots_are_mixed_from_the_lots_page(
    qtbot: Any, page: CataloguePage, work_day: WorkDay, lots: dict[str, str]
):
    """The dialog says what it would make and what stands in the way before anything is written."""
    keeper = keeper_at(qtbot, page)
    keeper.presses("Join with…")
    keeper.types("Lot 2", lots["Candlewick"])
    keeper.waits_to_see("Only lots of one variety are poured together")
    keeper.chooses("Are to be", "mixed: several, in their shares")
    keeper.types("Grams of lot 1", "1.5")
    keeper.types("Grams of lot 2", "0.5")
    keeper.waits_to_see("It makes 2 g.")
    keeper.types("Name", "Reach and Mill")
    keeper.types("Crop", "lettuce")
    keeper.presses("Join them")
    assert lot_view(work_day.catalogue, LEEK).line.stock == 40_500
    [made] = find_lots(work_day.catalogue, LotFilter(words="reach and mill"), on=work_day.today()).lots
    page.start_with((made.number,))
    assert keeper.sees("A mix of 75.0 %")
    assert keeper.sees("A mix has no forecast")


def test_a_lot_is_reckoned_with(qtbot: Any, page: CataloguePage):
    """Its page leads to the Reckoner with the lot at hand."""
    keeper = keeper_at(qtbot, page)
    with qtbot.waitSignal(page.send_lots) as sent:
        keeper.presses("Reckon")
    assert sent.args == ["Reckoner", (LEEK,)]


def test_a_pack_for_the_next_keeper_is_written(
    qtbot: Any, window: MainWindow, session: Session, work_day: WorkDay, tmp_path: Path
):
    """From the menu, beside the window; a taken place is refused in the dialog."""
    keeper = Keeper(qtbot, window)
    (tmp_path / "taken").mkdir()
    window.menus.hand_over_wanted.emit()
    keeper.types("Place", str(tmp_path / "taken"))
    keeper.presses("Write the pack")
    keeper.waits_to_see("is already there. Choose another name")
    keeper.types("Place", str(tmp_path / "pack"))
    keeper.presses("Write the pack")
    qtbot.waitUntil((tmp_path / "pack" / "READ ME FIRST.html").exists, timeout=15_000)
    qtbot.waitUntil(lambda: not session.dialog.isVisible())
    assert (tmp_path / "pack" / "catalogue.hilum").exists()
