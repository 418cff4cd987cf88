"""The day sheet: what waits, and the way from each row into its work."""

from datetime import timedelta
from typing import Any

from hilum.benches.lots import hold_lot
from hilum.benches.returns import promise_return
from hilum.benches.testing import start_test
from hilum.window.day_sheet_page import DaySheetPage
from hilum.window.work import WorkDay
from tests.support.answers import Answers
from tests.support.keeper import Keeper

LETTUCE = "LET-25-001-7"


def shown(qtbot: Any, answers: Answers, work: WorkDay) -> tuple[DaySheetPage, Keeper]:
    """Give the page as the window shows it, loaded."""
    page = DaySheetPage(work, answers)
    page.resize(1000, 1400)
    keeper = Keeper(qtbot, page)
    page.refresh()
    keeper.waits_to_see("2026-11-25")
    return page, keeper


def test_an_empty_library_is_told_what_to_do_first(qtbot: Any, answers: Answers, empty_day: WorkDay):
    """No lots yet: the page says to begin at Intake, and leads there."""
    page, keeper = shown(qtbot, answers, empty_day)
    assert keeper.sees("Begin at Intake")
    with qtbot.waitSignal(page.send_lots) as sent:
        keeper.presses("Go to Intake")
    assert sent.args == ["Intake", ()]


def test_due_lots_stand_with_their_reason_and_start_their_tests(
    qtbot: Any, answers: Answers, work_day: WorkDay
):
    """Chosen lots go to the Testing bench together."""
    page, keeper = shown(qtbot, answers, work_day)
    assert keeper.sees("Due for a germination test")
    assert keeper.sees("never tested")
    page._due.table.choose(lambda lot: lot.number == LETTUCE)
    with qtbot.waitSignal(page.send_lots) as sent:
        keeper.presses("Start tests")
    assert sent.args == ["Testing", (LETTUCE,)]


def test_standing_dishes_and_barred_lots_have_their_own_headings(
    qtbot: Any, answers: Answers, work_day: WorkDay
):
    """A lot under test is not called due: it stands among the dishes and under its own heading."""
    start_test(work_day.catalogue, LETTUCE, on=work_day.today(), dishes=[50, 50])
    page, keeper = shown(qtbot, answers, work_day)
    assert keeper.sees("Dishes standing (1)")
    assert keeper.sees("Test date reached, but not called due (")
    assert LETTUCE not in {lot.number for lot in page._due.table.rows()}
    assert "under test" in {lot.line.due_bar for lot in page._barred.table.rows()}


def test_held_lots_lead_to_their_own_page(qtbot: Any, answers: Answers, work_day: WorkDay):
    """Enter on a held lot opens it, for that is where the hold is lifted."""
    hold_lot(work_day.catalogue, LETTUCE, "disease", on=work_day.today())
    page, keeper = shown(qtbot, answers, work_day)
    assert keeper.sees("On hold (1)")
    page._held.table.setFocus()
    page._held.table.selectRow(0)
    with qtbot.waitSignal(page.lot_wanted) as wanted:
        keeper.keys("Return")
    assert wanted.args == [LETTUCE]


def test_lots_in_hand_say_their_next_step(qtbot: Any, answers: Answers, work_day: WorkDay):
    """What came in and is not stored stands with the step that comes next, and leads to Preparing."""
    page, keeper = shown(qtbot, answers, work_day)
    assert keeper.sees("In hand (5)")
    assert keeper.sees("clean")
    page._in_hand.table.choose(lambda row: row.lot.number == LETTUCE)
    with qtbot.waitSignal(page.send_lots) as sent:
        keeper.presses("Take the next step")
    assert sent.args == ["Preparing", (LETTUCE,)]


def test_overdue_returns_lead_to_the_counter(qtbot: Any, answers: Answers, work_day: WorkDay):
    """A promise whose day has passed stands under its own heading; one that is still to come does not."""
    today = work_day.today()
    for days in (-3, 3):
        promise_return(
            work_day.catalogue,
            LETTUCE,
            on=today - timedelta(9),
            by=today + timedelta(days),
            who="Wren Hollis",
        )
    page, keeper = shown(qtbot, answers, work_day)
    assert keeper.sees("Promised returns overdue (1)")
    assert keeper.sees("1 promised return overdue")
    with qtbot.waitSignal(page.send_lots) as sent:
        keeper.presses("Go to the returns")
    assert sent.args == ["Counter", (LETTUCE,)]


def test_the_list_of_lots_due_goes_on_paper(qtbot, work_day, tmp_path):
    """Ctrl+P asks where, and keeps a PDF to work from at the shelf."""
    answers = Answers(files=(tmp_path / "due.pdf",))
    page = DaySheetPage(work_day, answers)
    said = []
    page.said.connect(lambda kind, words: said.append((kind, words)))
    keeper = Keeper(qtbot, page)
    page.refresh()
    page.setFocus()
    keeper.keys("Ctrl+P")
    assert said[-1][0] == "good"
    assert (tmp_path / "due.pdf").read_bytes().startswith(b"%PDF")
