"""Papers to work from, where the work is: at the list of lots, at a store place, beside the dishes."""

import pytest
from PySide6.QtWidgets import QWidget

from hilum.benches import print_book, store, testing
from hilum.window.germination_page import GerminationPage
from hilum.window.lots_tab import LotsTab
from hilum.window.paper_dialog import PaperDialog, open_lots_paper
from hilum.window.store_page import StorePage
from tests.support.answers import Answers
from tests.support.keeper import Keeper
from tests.support.paper import MeasuringPaper, sheets_of

MADE_MS = 30_000


def chooses_paper(qtbot, page, button, words):
    """Open the menu of a button and take one of its papers; gives the dialog."""
    [action] = [each for each in button.menu().actions() if each.text().replace("&", "") == words]
    action.trigger()
    qtbot.waitUntil(lambda: bool(page.findChildren(PaperDialog)))
    return page.findChildren(PaperDialog)[-1]


def test_the_chosen_lots_are_listed_to_be_picked(qtbot, work_day, lots):
    """From the list of lots: only those that are chosen, on the paper that is chosen."""
    page = LotsTab(work_day, Answers())
    keeper = Keeper(qtbot, page)
    page.refresh()
    qtbot.waitUntil(lambda: bool(page.table.rows()))
    page.table.choose(lambda lot: lot.number in (lots["Candlewick"], lots["Long Wharf"]))
    chooses_paper(qtbot, page, page._papers, "Picking list…")
    keeper.waits_to_see("2 rows on 1 page. 2 codes, all read back at 300 dpi.", MADE_MS)
    keeper.chooses("Paper", "US Letter")
    keeper.waits_to_see("2 rows on 1 page. 2 codes, all read back at 300 dpi.", MADE_MS)
    keeper.presses("Close")


def test_a_place_is_counted_with_all_that_lies_in_it(qtbot, work_day, lots):
    """A room and the box in it; an empty place says so."""
    room = store.add_store_place(work_day.catalogue, name="Cold room", kind="room")
    box = store.add_store_place(work_day.catalogue, name="Box 1", kind="box", parent_id=room.id)
    store.add_store_place(work_day.catalogue, name="Shelf", kind="shelf")
    for name, place in (("Candlewick", box), ("Grey Ferryman", room)):
        store.move_lot(work_day.catalogue, lots[name], place.id, on=work_day.today())
    page = StorePage(work_day, Answers())
    keeper = Keeper(qtbot, page)
    said = []
    page.said.connect(lambda kind, words: said.append(words))
    page.refresh()
    keeper.picks("Shelf")
    [action] = [each for each in page.papers.menu().actions() if "Stocktake" in each.text()]
    action.trigger()
    assert said == ["No lot lies in Shelf."]
    keeper.picks("Cold room")
    dialog = chooses_paper(qtbot, page, page.papers, "Stocktake sheet…")
    keeper.waits_to_see("2 codes, all read back", MADE_MS)
    [sheet] = sheets_of(dialog.sheets._job.pdf, 300)
    assert set(sheet.codes) == {lots["Candlewick"], lots["Grey Ferryman"]}
    keeper.presses("Close")


def test_a_count_sheet_goes_to_the_dishes(qtbot, work_day, lots):
    """Greyed out while no dishes stand; then a row a dish."""
    page = GerminationPage(work_day, Answers())
    keeper = Keeper(qtbot, page)
    assert not keeper.can_press("Count sheet on paper…")
    testing.start_test(work_day.catalogue, lots["Candlewick"], on=work_day.today(), dishes=[50, 50])
    page.refresh()
    keeper.presses("Count sheet on paper…")
    keeper.waits_to_see("2 rows on 1 page. 2 codes, all read back", MADE_MS)
    keeper.presses("Close")


@pytest.mark.parametrize("kind", ["picking", "stocktake", "tally"])
def test_a_paper_is_printed_and_is_no_print_job(qtbot, work_day, lots, kind):
    """It goes to the printer at true size; the print book is for labels."""
    parent, paper = QWidget(), MeasuringPaper()
    keeper = Keeper(qtbot, parent)
    open_lots_paper(work_day, Answers(), parent, kind, tuple(lots.values()), paper=paper)
    keeper.waits_to_see("5 codes, all read back", MADE_MS)
    keeper.presses("Print…")
    keeper.waits_to_see("Put in plain paper (210 × 297 mm).")
    keeper.presses("Print")
    keeper.waits_to_see("Sent to Bench printer at 100 %.")
    [(_, _, sheets)] = paper.printed
    assert sorted(sheets[0].codes) == sorted(lots.values())
    assert print_book.printed_jobs(work_day.catalogue) == ()
