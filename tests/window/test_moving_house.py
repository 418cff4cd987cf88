"""Bringing back a safety copy and moving the whole catalogue, from the menu Library to the open window."""

from collections.abc import Callable, Iterator
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QSettings

from hilum.benches import keeping
from hilum.benches.lots import draw, lot_view
from hilum.window.session import Session
from hilum.window.shell import MainWindow
from hilum.window.work import WorkDay
from tests.support.answers import Answers
from tests.support.keeper import Keeper

LEEK = "LEK-24-001-7"
OPEN_MS = 20_000


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
    yield Session(window, clock, choices, tmp_path / "usual.hilum")
    window.may_close = None


def stock(window: MainWindow) -> int | None:
    assert window.work is not None
    return lot_view(window.work.catalogue, LEEK).line.stock


def test_a_safety_copy_takes_the_place_of_the_catalogue(
    qtbot: Any, window: MainWindow, session: Session, answers: Answers, work_day: WorkDay, tmp_path: Path
):
    """Listed with its lots; after the question the window works on it, and what was there lies beside it."""
    keeper = Keeper(qtbot, window)
    session.on_copies_wanted()
    assert keeper.sees("Each copy was opened and checked when it was made.")
    assert not keeper.can_press("Bring it back…")
    keeper.presses("Cancel")
    copy = keeping.closing_copy(work_day.catalogue)
    assert copy is not None
    draw(work_day.catalogue, LEEK, "sown", on=work_day.today(), mass_mg=12_000)
    session.on_copies_wanted()
    qtbot.waitUntil(lambda: keeper.can_press("Bring it back…"))
    keeper.picks(copy.name)
    keeper.presses("Bring it back…")
    assert "with 5 lots" in answers.asked[-1].words
    qtbot.waitUntil(
        lambda: window.work is not None and window.work is not work_day and stock(window) == 42_000,
        timeout=OPEN_MS,
    )
    kept = [each for each in tmp_path.glob("library*.hilum") if each.name != "library.hilum"]
    assert len(kept) == 1
    with keeping.open_at(kept[0], clock=work_day.now) as before:
        assert lot_view(before, LEEK).line.stock == 30_000


def test_the_catalogue_moves_and_work_goes_on_there(
    qtbot: Any, window: MainWindow, session: Session, work_day: WorkDay, tmp_path: Path
):
    """A place that is taken is refused in the dialog; the new one is opened when the copy is whole."""
    keeper = Keeper(qtbot, window)
    session.on_move_wanted()
    keeper.presses("Copy it there")
    assert keeper.sees("Name the file or the database")
    taken, free = tmp_path / "taken.hilum", tmp_path / "moved.hilum"
    taken.write_text("something else", "utf-8")
    keeper.types("Place", str(taken))
    keeper.presses("Copy it there")
    keeper.waits_to_see("already exists")
    keeper.types("Place", str(free))
    keeper.presses("Copy it there")
    qtbot.waitUntil(
        lambda: (
            window.work is not None and window.work is not work_day and window.work.catalogue.file == free
        ),
        timeout=OPEN_MS,
    )
    assert stock(window) == 42_000
