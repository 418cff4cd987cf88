"""The catalogue bench: narrowing, sorting, one lot's page, and what is put right there."""

import io
from typing import Any

import pypdf
import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QTabBar, QWidget

from hilum.benches import reference, searches, store
from hilum.benches.lots import LotFilter, draw, find_lots, hold_lot, lot_story
from hilum.benches.printing import LabelJob, lot_labels
from hilum.benches.testing import record_test
from hilum.window.catalogue_page import CataloguePage
from hilum.window.work import WorkDay
from tests.support.answers import Answers
from tests.support.keeper import Keeper

LEEK = "LEK-24-001-7"


@pytest.fixture
def page(qtbot: Any, answers: Answers, work_day: WorkDay) -> CataloguePage:
    """Give the catalogue bench as the window shows it."""
    page = CataloguePage(work_day, answers)
    page.resize(1000, 700)
    work_day.changes.catalogue_changed.connect(lambda _what: page.refresh())
    page.refresh()
    return page


def lot_page(qtbot: Any, page: CataloguePage, number: str = LEEK) -> Keeper:
    """Open one lot's page as a keeper."""
    keeper = Keeper(qtbot, page)
    page.start_with((number,))
    return keeper


def test_words_narrow_the_list_as_they_are_typed(qtbot: Any, page: CataloguePage):
    """Any order, beginnings of words; the count says how many are left."""
    keeper = Keeper(qtbot, page)
    keeper.waits_to_see("5 lots")
    keeper.types("Narrow by", "ferry ada")
    keeper.waits_to_see("2 lots")
    assert keeper.sees("LEK-24-001-7")
    keeper.presses("Show all")
    keeper.waits_to_see("5 lots")


def test_a_misspelt_name_is_answered_with_the_near_one(qtbot: Any, page: CataloguePage):
    """Nothing fits; the page says what was probably meant."""
    keeper = Keeper(qtbot, page)
    keeper.waits_to_see("5 lots")
    keeper.types("Narrow by", "Candelwick")
    keeper.waits_to_see("Did you mean “Candlewick”?")


def test_filters_are_plain(qtbot: Any, page: CataloguePage):
    """State, crop and the three marks narrow together."""
    keeper = Keeper(qtbot, page)
    keeper.waits_to_see("5 lots")
    keeper.chooses("State", "to be weighed")
    keeper.waits_to_see("1 lot")
    assert keeper.sees("Long Wharf")
    keeper.chooses("State", "every state")
    keeper.presses("due")
    keeper.waits_to_see("due 20")


def test_a_long_list_comes_page_by_page(qtbot: Any, page: CataloguePage, monkeypatch: pytest.MonkeyPatch):
    """The first page says how many there are in all; scrolling brings the rest, in the order of the heading."""
    monkeypatch.setattr("hilum.window.lots_tab.PAGE_LOTS", 2)
    keeper = Keeper(qtbot, page)
    page.resize(1000, 340)
    page.refresh()
    keeper.waits_to_see("of 5 lots. More come as you scroll down.")
    assert len(page.lots.table.rows()) < 5
    page.lots.table.sortByColumn(3, Qt.SortOrder.DescendingOrder)
    qtbot.waitUntil(lambda: page.lots.table.rows()[0].line.year == 2026)

    def scrolled_to_the_end() -> None:
        page.lots.table.scrollToBottom()
        assert len(page.lots.table.rows()) == 5

    qtbot.waitUntil(scrolled_to_the_end)
    assert [lot.line.year for lot in page.lots.table.rows()] == [2026, 2026, 2025, 2024, 2023]
    assert len({lot.number for lot in page.lots.table.rows()}) == 5
    keeper.waits_to_see("5 lots")


def test_a_list_can_be_narrowed_by_year_and_place(qtbot: Any, page: CataloguePage):
    """A year counts once it is whole; the places offered are those where lots were grown."""
    keeper = Keeper(qtbot, page)
    keeper.waits_to_see("5 lots")
    keeper.types("Year", "2026")
    keeper.waits_to_see("2 lots")
    keeper.chooses("Place grown", "Upper Mill")
    keeper.waits_to_see("1 lot")
    assert keeper.sees("Long Wharf")


def test_a_search_is_saved_found_again_and_removed(
    qtbot: Any, page: CataloguePage, answers: Answers, work_day: WorkDay
):
    """Under the keeper's own name, with its order; another day it is one choice away."""
    keeper = Keeper(qtbot, page)
    keeper.waits_to_see("5 lots")
    assert not keeper.can_press("Save this search…")
    qtbot.waitUntil(lambda: page.lots.narrowing.offers_place("Ferry Reach"))
    keeper.chooses("Place grown", "Ferry Reach")
    keeper.waits_to_see("2 lots")
    page.lots.table.sortByColumn(3, Qt.SortOrder.DescendingOrder)
    answers.texts = ["Ada's plot"]
    keeper.presses("Save this search…")
    [saved] = searches.saved_searches(work_day.catalogue)
    assert (saved.name, saved.wanted, saved.sort, saved.descending) == (
        "Ada's plot",
        LotFilter(place="Ferry Reach"),
        "year",
        True,
    )
    keeper.presses("Show all")
    keeper.waits_to_see("5 lots")
    keeper.chooses("Saved search", "Ada's plot")
    keeper.waits_to_see("2 lots")
    assert [lot.line.year for lot in page.lots.table.rows()] == [2026, 2024]
    keeper.presses("Remove it")
    assert searches.saved_searches(work_day.catalogue) == ()
    assert (
        answers.asked[-1].words
        == "The search “Ada's plot” is removed for everyone. The lots stay as they are."
    )


def test_chosen_lots_go_to_the_other_benches(qtbot: Any, page: CataloguePage):
    """A test is started, and packets are filled, where that work is done."""
    keeper = Keeper(qtbot, page)
    keeper.waits_to_see("5 lots")
    assert not keeper.can_press("Start test")
    keeper.picks(LEEK)
    with qtbot.waitSignal(page.send_lots) as sent:
        keeper.presses("Start test")
    assert sent.args == ["Testing", (LEEK,)]


def test_a_lot_opens_with_its_figures_and_goes_back(qtbot: Any, page: CataloguePage):
    """Number, stock in grams and about in seeds, due date with its reason; Back leads to the list."""
    keeper = Keeper(qtbot, page)
    keeper.waits_to_see("5 lots")
    keeper.picks(LEEK, twice=True)
    keeper.waits_to_see("Leek “Grey Ferryman”, 2024")
    assert keeper.sees(LEEK)
    assert keeper.sees("42 g")
    assert keeper.sees("about ")
    assert keeper.sees("never tested")
    keeper.presses("‹ Back to the list")
    keeper.waits_to_see("5 lots")


def test_a_lot_is_held_and_the_hold_lifted_with_a_reason(
    qtbot: Any, page: CataloguePage, answers: Answers, work_day: WorkDay
):
    """The hold stands on top of the page until somebody says what was found."""
    keeper = lot_page(qtbot, page)
    keeper.presses("Hold…")
    keeper.chooses("Because of", "wet")
    keeper.types("Note", "clumps in the jar")
    keeper.presses("Put on hold")
    keeper.waits_to_see("On hold: wet (clumps in the jar)")
    answers.texts = ["dried again, seven days"]
    keeper.presses("Lift the hold…")
    [hold] = lot_story(work_day.catalogue, LEEK).holds
    assert (hold.lifted_on, hold.lifted_why) == (work_day.today(), "dried again, seven days")
    assert not keeper.sees("On hold: wet")


def test_what_is_written_can_be_changed_and_taken_back(qtbot: Any, page: CataloguePage, work_day: WorkDay):
    """A new year and place; the edit stands in the history with before and after, and goes back from there."""
    keeper = lot_page(qtbot, page)
    keeper.presses("Change…")
    keeper.types("Year", "2023")
    keeper.types("Notes", "seen true in the row")
    keeper.presses("Keep")
    assert keeper.sees("Leek “Grey Ferryman”, 2023")
    page.lot_page._tabs.setCurrentIndex(4)
    assert keeper.sees("year 2024 → 2023")
    page.lot_page.past.selectRow(0)
    keeper.presses("Take this back")
    keeper.waits_to_see("taken back")
    story = lot_story(work_day.catalogue, LEEK)
    assert (story.lot.line.year, story.notes) == (2024, "")
    assert story.lot.number == LEEK


def test_a_year_that_cannot_be_is_refused_in_the_dialog(qtbot: Any, page: CataloguePage, work_day: WorkDay):
    """The dialog stays open and says what to write."""
    keeper = lot_page(qtbot, page)
    keeper.presses("Change…")
    keeper.types("Year", "24")
    keeper.presses("Keep")
    assert keeper.sees("“24” is no year: write a whole number from 1800 to 2,200.")
    assert lot_story(work_day.catalogue, LEEK).lot.line.year == 2024


def test_a_movement_is_corrected_with_the_right_figure(qtbot: Any, page: CataloguePage, work_day: WorkDay):
    """The line stays, its opposite and the right figure stand below it, and it is not corrected a second time."""
    draw(work_day.catalogue, LEEK, "sown", on=work_day.today(), mass_mg=5_000, why="bed 4")
    keeper = lot_page(qtbot, page)
    page.lot_page._tabs.setCurrentIndex(1)
    assert keeper.sees("−5 g")
    page.lot_page.ledger.selectRow(1)
    keeper.presses("This was wrong…")
    keeper.presses("Correct")
    assert keeper.sees("Write the right figure, or choose")
    keeper.types("Right figure", "4")
    keeper.presses("Correct")
    assert keeper.sees("A correction needs its reason")
    keeper.types("Why", "read the scale wrong")
    keeper.presses("Correct")
    story = lot_story(work_day.catalogue, LEEK)
    assert (story.lot.line.stock, len(story.movements)) == (38_000, 4)
    assert keeper.sees("read the scale wrong")
    page.lot_page.ledger.selectRow(1)
    assert not keeper.can_press("This was wrong…")


def test_a_movement_that_never_was_is_taken_out_of_the_sum(
    qtbot: Any, page: CataloguePage, work_day: WorkDay
):
    """Nothing but the opposite is written, and no right figure can be given."""
    draw(work_day.catalogue, LEEK, "sown", on=work_day.today(), mass_mg=5_000, why="bed 4")
    keeper = lot_page(qtbot, page)
    page.lot_page._tabs.setCurrentIndex(1)
    page.lot_page.ledger.selectRow(1)
    keeper.presses("This was wrong…")
    keeper.chooses("What was wrong", "it should not be there at all")
    assert not keeper.field("Right figure").isEnabled()
    keeper.types("Why", "it was another jar")
    keeper.presses("Correct")
    assert lot_story(work_day.catalogue, LEEK).lot.line.stock == 42_000
    assert keeper.sees("it was another jar")


def test_seed_is_taken_out_by_grams_that_have_one_reading(qtbot: Any, page: CataloguePage, work_day: WorkDay):
    """1.234 could be read in two ways and is refused in words; 1,5 is taken."""
    keeper = lot_page(qtbot, page)
    keeper.presses("Take out…")
    keeper.types("Grams", "1.234")
    keeper.presses("Take out")
    assert keeper.sees("can be read in two ways")
    keeper.types("Grams", "1,5")
    keeper.types("Why", "for the school bed")
    keeper.presses("Take out")
    assert lot_story(work_day.catalogue, LEEK).lot.line.stock == 40_500


def test_wet_seed_is_not_moved_into_the_freezer(qtbot: Any, page: CataloguePage, work_day: WorkDay):
    """The guard speaks in the dialog, and the lot stays where it is."""
    store.add_store_place(work_day.catalogue, name="Freezer", kind="freezer", temperature_c=-18)
    keeper = lot_page(qtbot, page)
    keeper.presses("Move…")
    keeper.presses("Move")
    assert keeper.sees("does not go into a place at -18 °C")
    assert lot_story(work_day.catalogue, LEEK).stays == ()


def test_the_life_of_a_lot_stands_in_a_table_too(qtbot: Any, page: CataloguePage, work_day: WorkDay):
    """What is painted is also in words, for eyes and for screen readers."""
    record_test(
        work_day.catalogue,
        LEEK,
        on=work_day.today(),
        seeds=[50],
        counts={"normal": [40, 42], "dead": [10, 8]},
    )
    keeper = lot_page(qtbot, page)
    assert keeper.sees("82 % of 100 seeds")
    life = page.lot_page.life_line
    assert "82 % of 100 seeds" in life.accessibleDescription()
    event = next(event for event in life._events if event.lane == "tests")
    assert life.x_of(event.on) > life.x_of(event.on.replace(year=event.on.year - 1))


def test_a_poisonous_crop_warns_on_its_lots_page(qtbot: Any, page: CataloguePage, work_day: WorkDay):
    """The caution stands where the lot is handled, and points to the local authority."""
    from hilum.benches import intake

    plan = intake.plan_rows(
        work_day.catalogue, [("Foxglove", "White Belfry", "2025", "2 g")], today=work_day.today()
    )
    [taken] = intake.take_in(work_day.catalogue, plan).accepted
    keeper = lot_page(qtbot, page, taken.lot)
    assert keeper.sees("oisonous")
    assert keeper.sees("check with your local authority")


def test_the_librarys_own_standard_is_kept_for_a_crop(qtbot: Any, page: CataloguePage, work_day: WorkDay):
    """The figure in force and where it comes from change at once."""
    keeper = Keeper(qtbot, page)
    page._tabs.setCurrentWidget(page.crops)
    keeper.types("Narrow by", "leek")
    page.crops.table.choose(lambda line: line.key == "leek")
    assert keeper.sees("in force: 60 %")
    assert keeper.sees("7 CFR 201.31")
    page.crops._rules["standard_percent"].setValue(75)
    keeper.presses("Keep these rules")
    assert reference.crop_page(work_day.catalogue, "leek").standard_percent == 75
    assert keeper.sees("in force: 75 %")


def test_a_variety_gets_another_name_and_is_found_by_it(
    qtbot: Any, page: CataloguePage, answers: Answers, work_day: WorkDay
):
    """The synonym stands beside the name, and the lot is found under it."""
    keeper = Keeper(qtbot, page)
    page._tabs.setCurrentWidget(page.varieties)
    keeper.picks("Grey Ferryman")
    answers.texts = ["Old Boatman"]
    keeper.presses("Add another name…")
    assert keeper.sees("Old Boatman")
    found = find_lots(work_day.catalogue, LotFilter(words="boatman"), on=work_day.today())
    assert [lot.number for lot in found.lots] == [LEEK]


def test_a_variety_is_renamed_and_the_old_name_kept(
    qtbot: Any, page: CataloguePage, answers: Answers, work_day: WorkDay
):
    """What was written wrong is put right for all its lots."""
    keeper = Keeper(qtbot, page)
    page._tabs.setCurrentWidget(page.varieties)
    keeper.picks("Grey Ferryman")
    answers.texts = ["Gray Ferryman"]
    keeper.presses("Correct the name…")
    [line] = reference.varieties(work_day.catalogue, crop="leek")
    assert (line.name, line.synonyms) == ("Gray Ferryman", ("Grey Ferryman",))


def test_growers_lead_to_their_lots(qtbot: Any, page: CataloguePage):
    """From a name to what that person grew."""
    keeper = Keeper(qtbot, page)
    page._tabs.setCurrentWidget(page.growers)
    keeper.picks("Ada Quill")
    keeper.presses("Show their lots")
    keeper.waits_to_see("2 lots")


def test_chosen_rows_are_copied_for_a_spreadsheet(qtbot: Any, page: CataloguePage, work_day: WorkDay):
    """Ctrl+C puts headings and rows on the clipboard, parted by tabs; a held lot is said in words."""
    hold_lot(work_day.catalogue, LEEK, "insects", on=work_day.today())
    page.refresh()
    keeper = Keeper(qtbot, page)
    keeper.waits_to_see("held")
    keeper.picks(LEEK)
    page.lots.table.setFocus()
    keeper.keys("Ctrl+C")
    heading, row = QGuiApplication.clipboard().text().splitlines()
    assert heading.split("\t")[:3] == ["Lot", "Crop", "Variety"]
    assert row.split("\t")[:3] == [LEEK, "Leek", "Grey Ferryman"]


def test_the_forecast_tab_says_what_is_expected_and_why(qtbot: Any, page: CataloguePage):
    """Figures, a painted curve told to a screen reader too, and one sentence why."""
    keeper = lot_page(qtbot, page)
    [bar] = [each for each in page.findChildren(QTabBar) if each.tabText(each.count() - 1) == "History"]
    bar.setCurrentIndex(next(place for place in range(bar.count()) if bar.tabText(place) == "Forecast"))
    keeper.waits_to_see("Never tested")
    assert keeper.sees("90 % band")
    assert keeper.sees("never printed on a packet")
    [curve] = [each for each in page.findChildren(QWidget) if each.accessibleName() == "Germination by year"]
    assert "2036" in curve.accessibleDescription()


def test_growing_notes_are_written_once_and_stand_on_every_packet(
    qtbot: Any, page: CataloguePage, work_day: WorkDay, lots: dict[str, str]
):
    """Of the variety, in the library's own words; too long a text is refused and nothing is changed."""
    keeper = Keeper(qtbot, page)
    page._tabs.setCurrentWidget(page.varieties)
    page.varieties.table.choose(lambda line: line.name == "Grey Ferryman")
    keeper.presses("Growing notes…")
    keeper.types("Notes", "Sow in trays in March. " * 30)
    assert keeper.sees("characters too many")
    keeper.presses("Keep")
    assert keeper.sees("at most 400 can stand on a packet")
    keeper.types("Notes", "Sow in trays in March, plant out deep in June.")
    keeper.presses("Keep")
    made = lot_labels(
        work_day.catalogue,
        [lots["Grey Ferryman"]],
        LabelJob("packet", "a4-2x4-105x74", back="packet-back"),
        on=work_day.today(),
    )
    front, back = (each.extract_text() for each in pypdf.PdfReader(io.BytesIO(made.pdf)).pages)
    assert "plant out deep in June" in back.replace("\n", " ")
    assert "plant out" not in front
