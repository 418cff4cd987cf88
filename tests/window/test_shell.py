"""The window as a keeper meets it: rail, keys, find box, notices, taking back, closing."""

from collections.abc import Callable, Iterator
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QEvent, QObject, QSettings, Qt
from PySide6.QtWidgets import QAbstractItemView, QApplication, QDialog, QWidget

from hilum.benches import keeping
from hilum.benches.lots import change_lot, hold_lot, lot_story
from hilum.window.session import Session
from hilum.window.shell import MainWindow
from hilum.window.work import WorkDay
from tests.support.answers import Answers
from tests.support.keeper import Keeper


@pytest.fixture
def window(qtbot: Any, answers: Answers, work_day: WorkDay) -> MainWindow:
    """Give the window on the working day."""
    window = MainWindow(answers)
    window.take_up(work_day)
    return window


@pytest.fixture
def session(window: MainWindow, clock: Callable[[], datetime], tmp_path: Path) -> Iterator[Session]:
    """Give the session of the window, its choices kept in a file of this test."""
    choices = QSettings(str(tmp_path / "window.ini"), QSettings.Format.IniFormat)
    session = Session(window, clock, choices, tmp_path / "usual.hilum")
    assert window.work is not None
    window.status.show_place(window.work.catalogue.where, "")
    session._mark_beginning()
    yield session
    window.may_close = None


def offers(window: MainWindow) -> QAbstractItemView:
    """Give the list under the find box."""
    [popup] = [
        view for view in window.findChildren(QAbstractItemView) if view.objectName() == "suggestions"
    ] or [view for view in QApplication.allWidgets() if view.accessibleName() == "Lots found"]
    return popup


def test_the_day_sheet_opens_first_and_counts_what_waits(qtbot: Any, window: MainWindow):
    """The keeper sees at once what is waiting, each under its own heading with its number."""
    keeper = Keeper(qtbot, window)
    keeper.waits_to_see("To be weighed (1)")
    assert keeper.sees("Wednesday, 2026-11-25")
    assert keeper.sees("Due for a germination test")


def test_label_designs_are_reached_by_their_keys(qtbot: Any, window: MainWindow, session: Session):
    """The design table opens with three of the library's lots on it."""
    keeper = Keeper(qtbot, window)
    keeper.keys("Ctrl+Shift+D")
    keeper.waits_to_see("the longest words", 20_000)
    keeper.presses("Close")
    assert session.dialog is not None


def test_each_bench_has_its_keys(qtbot: Any, window: MainWindow):
    """Ctrl or Alt with a digit brings up a bench."""
    keeper = Keeper(qtbot, window)
    place = list(window._benches).index("Catalogue") + 1
    keeper.keys(f"Ctrl+{place}")
    keeper.waits_to_see("5 lots")
    keeper.keys("Alt+1")
    keeper.waits_to_see("Wednesday, 2026-11-25")


def test_find_lists_lots_while_one_types(qtbot: Any, window: MainWindow):
    """F3 leads into the box from anywhere; after two words the lot is offered."""
    keeper = Keeper(qtbot, window)
    keeper.keys("F3")
    keeper.writes("ferryman leek")
    popup = offers(window)
    qtbot.waitUntil(popup.isVisible)
    assert "LEK-24-001-7" in popup.model().index(0, 0).data()
    qtbot.keyClick(popup, Qt.Key.Key_Down)
    qtbot.keyClick(popup, Qt.Key.Key_Return)
    keeper.waits_to_see("Back to the list")
    assert keeper.sees("Leek “Grey Ferryman”, 2024")


def test_a_scan_opens_the_lot(qtbot: Any, window: MainWindow, lots: dict[str, str]):
    """The scanner types the number without hyphens and ends with Enter; the lot's page comes up."""
    keeper = Keeper(qtbot, window)
    keeper.keys("Ctrl+F")
    keeper.scans(lots["Candlewick"].replace("-", ""))
    keeper.waits_to_see("Lettuce “Candlewick”, 2025")


def test_a_mistyped_number_offers_the_nearest(qtbot: Any, window: MainWindow):
    """A wrong check character opens nothing; the words say what is wrong and the real lot is offered."""
    keeper = Keeper(qtbot, window)
    keeper.keys("F3")
    keeper.scans("LEK-24-001-8")
    popup = offers(window)
    qtbot.waitUntil(popup.isVisible)
    assert "LEK-24-001-7" in popup.model().index(0, 0).data()
    assert "LEK-24-001-8 is not a lot number" in window.notice.words()


def test_words_that_fit_several_lots_are_listed(qtbot: Any, window: MainWindow):
    """Enter on words leads to the catalogue bench, narrowed to them."""
    keeper = Keeper(qtbot, window)
    keeper.keys("F3")
    keeper.scans("ferry reach")
    keeper.waits_to_see("2 lots")
    assert keeper.reads("Narrow by") == "ferry reach"


def test_what_is_refused_stands_above_the_page(qtbot: Any, window: MainWindow, work_day: WorkDay):
    """A KeeperError of a bench is shown in words, and goes away when something was put right."""
    keeper = Keeper(qtbot, window)
    work_day.attempt(hold_lot, work_day.catalogue, "LEK-24-001-7", "bored", on=work_day.today())
    assert keeper.sees("A hold is one of: insects")
    work_day.changes.tell("something else was done")
    assert not keeper.sees("A hold is one of: insects")


def test_ctrl_z_takes_back_the_newest_edit_of_this_session(
    qtbot: Any, window: MainWindow, session: Session, work_day: WorkDay
):
    """Edit by edit, newest first; what was made before this session is left alone."""
    keeper = Keeper(qtbot, window)
    change_lot(work_day.catalogue, "LEK-24-001-7", {"notes": "first"})
    change_lot(work_day.catalogue, "LEK-24-001-7", {"notes": "second"})
    keeper.keys("Ctrl+Z")
    assert lot_story(work_day.catalogue, "LEK-24-001-7").notes == "first"
    keeper.keys("Ctrl+Z")
    assert lot_story(work_day.catalogue, "LEK-24-001-7").notes == ""
    keeper.keys("Ctrl+Z")
    assert keeper.sees("There is no edit of today's work left to take back.")


def test_who_is_at_the_bench_is_asked_and_carried(
    qtbot: Any, window: MainWindow, session: Session, work_day: WorkDay
):
    """The name typed at the start stands in the status line, and edits carry it."""
    keeper = Keeper(qtbot, window)
    session.ask_who()
    assert not keeper.can_press("Begin")
    keeper.types("Name", "Ada Quill")
    keeper.presses("Begin")
    assert keeper.sees("At the bench: Ada Quill")
    change_lot(work_day.catalogue, "LEK-24-001-7", {"notes": "hers"})
    story = lot_story(work_day.catalogue, "LEK-24-001-7")
    assert story.past[0].who == "Ada Quill"


def test_the_name_can_be_left_out(qtbot: Any, window: MainWindow, session: Session, work_day: WorkDay):
    """Work goes on without a name."""
    keeper = Keeper(qtbot, window)
    session.ask_who()
    keeper.presses("Not now")
    assert work_day.catalogue.person_id is None
    assert keeper.sees("At the bench: nobody named")


def test_closing_makes_a_safety_copy_first(
    qtbot: Any, window: MainWindow, session: Session, work_day: WorkDay
):
    """The window goes only after the verified copy lies beside the catalogue."""
    Keeper(qtbot, window)
    folder = keeping.copies_folder(work_day.catalogue)
    window.close()
    assert window.isVisible()
    qtbot.waitUntil(lambda: not window.isVisible())
    assert len(list(folder.glob("*.hilum"))) == 1


def test_a_copy_that_fails_is_said_and_the_window_stays(
    qtbot: Any, window: MainWindow, session: Session, work_day: WorkDay
):
    """A file stands where the copies' folder should be: the keeper is told, and may stay."""
    keeper = Keeper(qtbot, window)
    keeping.copies_folder(work_day.catalogue).write_text("in the way")
    window.close()
    keeper.waits_to_see("Close without a copy")
    keeper.presses("Stay")
    assert window.isVisible()
    window.close()
    keeper.waits_to_see("Close without a copy")
    keeper.presses("Close without a copy")
    qtbot.waitUntil(lambda: not window.isVisible())


def test_first_start_makes_a_catalogue_where_the_keeper_says(
    qtbot: Any, answers: Answers, clock: Callable[[], datetime], tmp_path: Path
):
    """Nothing exists yet: the place is offered, one button makes the catalogue, and the day sheet says what to do."""
    window = MainWindow(answers)
    keeper = Keeper(qtbot, window)
    choices = QSettings(str(tmp_path / "window.ini"), QSettings.Format.IniFormat)
    usual = tmp_path / "data" / "library.hilum"
    session = Session(window, clock, choices, usual)
    session.begin(None)
    assert keeper.reads("File of the catalogue") == str(usual)
    keeper.presses("Make a new catalogue")
    keeper.waits_to_see("Who is at the bench?")
    keeper.presses("Not now")
    keeper.waits_to_see("Begin at Intake")
    assert usual.exists()
    assert choices.value("catalogue/place") == str(usual)
    window.close()
    qtbot.waitUntil(lambda: not window.isVisible())


def test_the_lots_due_are_shown_while_the_catalogue_is_being_opened(
    qtbot: Any, answers: Answers, work_day: WorkDay, clock: Callable[[], datetime], tmp_path: Path
):
    """Rows to read come before the catalogue is open; its own day sheet takes their place, and its buttons work."""
    window = MainWindow(answers)
    keeper = Keeper(qtbot, window)
    choices = QSettings(str(tmp_path / "window.ini"), QSettings.Format.IniFormat)
    session = Session(window, clock, choices, tmp_path / "usual.hilum")
    session.begin(work_day.catalogue.where)
    assert window.work is None
    assert keeper.sees("Due for a germination test (3)")
    assert keeper.sees("Opening the catalogue…")
    assert not keeper.can_press("Start tests")
    keeper.waits_to_see("Who is at the bench?")
    keeper.presses("Not now")
    keeper.waits_to_see("To be weighed (1)")
    assert keeper.sees("Due for a germination test (3)")
    assert not keeper.sees("Opening the catalogue…")
    assert keeper.can_press("Start tests")
    window.close()
    qtbot.waitUntil(lambda: not window.isVisible())


def test_a_place_that_is_no_catalogue_is_said_in_the_dialog(
    qtbot: Any, answers: Answers, clock: Callable[[], datetime], tmp_path: Path
):
    """A wrong file opens nothing; the question where the catalogue lies stays, with the reason."""
    wrong = tmp_path / "letter.hilum"
    wrong.write_text("Dear keeper")
    answers.files = [wrong]
    window = MainWindow(answers)
    keeper = Keeper(qtbot, window)
    session = Session(
        window,
        clock,
        QSettings(str(tmp_path / "w.ini"), QSettings.Format.IniFormat),
        tmp_path / "library.hilum",
    )
    session.begin(None)
    keeper.presses("Choose its file…")
    keeper.waits_to_see("is not a")
    assert window.work is None
    assert isinstance(session.dialog, QDialog)
    session.dialog.reject()


def test_every_action_of_the_menus_has_words_and_the_keys_are_listed(qtbot: Any, window: MainWindow):
    """F1 lists what each key does, find and taking back among them."""
    keys = dict(window.menus.keys())
    assert keys["Find or scan a lot"] == "F3 or Ctrl+F"
    assert keys["Take back my newest edit"] == "Ctrl+Z"
    assert any(words.endswith("Day sheet") for words in keys)


def test_no_bench_opens_a_window_of_its_own_while_it_is_made(qtbot: Any, window: MainWindow):
    """A part that shows itself before it has its place would flash up on its own and take the keyboard."""
    keeper = Keeper(qtbot, window)
    strays: list[str] = []

    class Watch(QObject):
        def eventFilter(self, watched: QObject, event: QEvent) -> bool:
            if event.type() == QEvent.Type.Show and isinstance(watched, QWidget) and watched.isWindow():
                strays.append(type(watched).__name__)
            return False

    watch = Watch()
    QApplication.instance().installEventFilter(watch)
    for title in list(window._benches):
        keeper.presses(title)
    QApplication.instance().removeEventFilter(watch)
    assert strays == []
