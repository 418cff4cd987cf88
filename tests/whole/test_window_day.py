"""One working day at the window: a list comes in, a lot is found by scan, tested, packed, printed."""

from pathlib import Path

from hilum.benches import keeping, preparing
from hilum.benches.lots import LotFilter, find_lots, lot_story
from hilum.window.germination_page import GerminationPage
from hilum.window.packing_page import PackingPage
from hilum.window.shell import MainWindow
from tests.support.keeper import Keeper
from tests.support.paper import MeasuringPaper

LIST = Path(__file__).resolve().parents[1] / "data" / "autumn_intake.csv"
MADE_MS = 30_000


def test_a_list_comes_in_and_a_packet_goes_out(qtbot, answers, empty_day):
    """Everything the keeper sees on the way is what stands in the catalogue at the end."""
    catalogue = empty_day.catalogue
    window = MainWindow(answers)
    window.resize(1200, 860)
    window.take_up(empty_day)
    keeper = Keeper(qtbot, window)
    keeper.waits_to_see("Intake")

    # The list is opened, looked at, taken in.
    answers.files.append(LIST)
    keeper.presses("Intake")
    keeper.presses("Open a list…")
    keeper.waits_to_see("Will become lots (30)")
    keeper.presses("Take in 30 lots")
    keeper.waits_to_see("30 lots were taken in.")
    [leek] = [
        lot.number for lot in find_lots(catalogue, LotFilter(words="fenlock"), on=empty_day.today()).lots
    ]

    # A scan anywhere brings up the lot.
    keeper.keys("F3")
    keeper.scans(leek)
    keeper.waits_to_see("‹ Back to the list")
    assert keeper.sees("Leek “Fenlock Grey”, 2025")
    assert keeper.sees(leek)

    # Its seed is counted and weighed, then its test is laid, counted and judged.
    preparing.count(catalogue, leek, on=empty_day.today(), seeds=100, replicates_mg=[250, 251, 249, 250])
    keeper.presses("Start test")
    keeper.waits_to_see("between blotters")
    keeper.types("Dishes", "4")
    keeper.types("Seeds in each", "100")
    keeper.presses("Lay the dishes")
    keeper.waits_to_see("Make pages")  # the tags of its dishes are offered
    keeper.presses("Close")
    keeper.picks(leek)
    page = window.current_page()
    assert isinstance(page, GerminationPage)
    page.count.table.setFocus()
    page.count.table.go_to_start()
    for normal in (87, 88, 89, 88):
        for figure in (normal, 2, None, None, 98 - normal):
            if figure is not None:
                keeper.writes(str(figure))
            keeper.keys("Return")
    keeper.presses("Finish the test")
    keeper.waits_to_see("Germination 88 % of 400 seeds")
    story = lot_story(catalogue, leek)
    [result] = story.tests
    assert (result.state, result.normal_percent, result.verdict) == ("finished", 88, "keep")
    assert [line.kind for line in story.movements] == ["received", "test"]

    # Packets are filled, booked and printed in one press.
    keeper.keys("F3")
    keeper.scans(leek)
    keeper.waits_to_see("‹ Back to the list")
    keeper.presses("Pack")
    packing = window.current_page()
    assert isinstance(packing, PackingPage)
    packing.one.paper = MeasuringPaper()
    keeper.waits_to_see("Leek “Fenlock Grey”, 2025")
    keeper.types("Seeds in each", "40")
    keeper.types("Packets", "12")
    keeper.presses("Pack and make labels")
    keeper.waits_to_see("12 codes, all read back", MADE_MS)
    keeper.presses("Print…")
    keeper.waits_to_see("Put in A4 sheets")
    keeper.presses("Print")
    keeper.waits_to_see("at 100 %.")
    keeper.presses("Close")
    assert len(packing.one.paper.printed) == 1
    [batch] = lot_story(catalogue, leek).batches
    assert (batch.packets, batch.seeds_per_packet, batch.fill_mg) == (12, 40, 100)
    assert keeping.check(catalogue).findings == ()
    window.let_go()
