"""The preparing bench, as a keeper uses it: step by step from the bag at the door to the store."""

import pytest

from hilum.benches import store
from hilum.benches.lots import lot_story
from hilum.window.day_edit import CALENDAR_SIGN_PX
from hilum.window.preparing_page import PreparingPage
from tests.support.answers import Answers
from tests.support.keeper import Keeper


@pytest.fixture
def bench(qtbot, work_day):
    """Give the page, the keeper at it, and the questions it asks."""
    answers = Answers(texts=("frozen two weeks, none alive",))
    page = PreparingPage(work_day, answers)
    page.resize(1100, 760)
    return page, Keeper(qtbot, page), answers


def story(work_day, number):
    """Give a lot whole."""
    return lot_story(work_day.catalogue, number)


def test_lots_in_hand_stand_there_with_their_next_step(bench, work_day, lots):
    """The oldest first; nothing of it is stored yet."""
    page, keeper, _ = bench
    assert [each.lot.line.variety for each in page.table.rows()][:2] == ["Lantern Street", "Grey Ferryman"]
    keeper.picks(lots["Candlewick"])
    assert keeper.sees("Lettuce “Candlewick”, 2025")
    assert keeper.sees("nothing done yet")


def test_cleaning_is_recorded_and_the_next_step_opens(bench, work_day, lots):
    """42 g before, 38.5 g after: the loss leaves the stock, and drying is next."""
    _, keeper, _ = bench
    keeper.picks(lots["Grey Ferryman"])
    keeper.presses("Clean")
    keeper.types("Grams after cleaning", "38,5")
    keeper.presses("Record cleaning")
    assert keeper.sees("3.5 g lost in cleaning (8.3 %)")
    assert story(work_day, lots["Grey Ferryman"]).lot.line.stock == 38_500
    assert keeper.can_press("Record drying")


def test_a_weight_above_the_one_before_is_refused_and_stays_typed(bench, work_day, lots):
    """The notice says what is wrong; nothing is written, nothing typed is lost."""
    _, keeper, _ = bench
    keeper.picks(lots["Grey Ferryman"])
    keeper.presses("Clean")
    keeper.types("Grams after cleaning", "50")
    keeper.presses("Record cleaning")
    assert keeper.sees("cannot weigh 50 g after cleaning")
    assert keeper.reads("Grams after cleaning") == "50"
    assert story(work_day, lots["Grey Ferryman"]).steps == ()


def test_an_ambiguous_weight_is_refused(bench, work_day, lots):
    """1.200 may be 1200 or 1.2 grams."""
    _, keeper, _ = bench
    keeper.picks(lots["Grey Ferryman"])
    keeper.presses("Weigh")
    keeper.types("Grams on the scale", "1,200")
    keeper.presses("Record weighing")
    assert story(work_day, lots["Grey Ferryman"]).steps == ()
    assert keeper.sees("1200") or keeper.sees("two ways")


def test_the_first_weighing_of_a_jar(bench, work_day, lots):
    """The pea that came in without a weight is known from now on."""
    _, keeper, _ = bench
    keeper.picks(lots["Long Wharf"])
    keeper.presses("Weigh")
    keeper.types("Grams on the scale", "180")
    keeper.presses("Record weighing")
    assert keeper.sees("First weighing: 180 g")
    assert story(work_day, lots["Long Wharf"]).lot.line.stock == 180_000


def test_the_freezer_guard_speaks_before_the_button_does(bench, work_day, lots):
    """Without evidence the button is grey and says why; dry and sealed seed may go in."""
    _, keeper, _ = bench
    keeper.picks(lots["Candlewick"])
    keeper.presses("Freeze")
    assert keeper.sees("Not to be frozen yet")
    assert not keeper.can_press("Record freezing")
    keeper.presses("Dry")
    keeper.chooses("Evidence of dryness", "jar humidity")
    keeper.types("Figure in %", "19")
    keeper.presses("Sealed airtight straight away: the evidence does not grow old")
    keeper.presses("Record drying")
    [step] = story(work_day, lots["Candlewick"]).steps
    assert (step.evidence, step.evidence_value, step.sealed) == ("jar humidity", 19.0, True)
    keeper.presses("Freeze")
    assert keeper.sees("May be frozen")
    keeper.presses("Record freezing")
    assert keeper.sees("Frozen for 7 days at -18 °C")


def test_a_snap_test_that_failed_does_not_open_the_freezer(bench, work_day, lots):
    """What was tried and did not pass is written down as such."""
    _, keeper, _ = bench
    keeper.picks(lots["Candlewick"])
    keeper.presses("Dry")
    keeper.chooses("Evidence of dryness", "snap test")
    keeper.presses("The seed did not pass")
    keeper.presses("Record drying")
    [step] = story(work_day, lots["Candlewick"]).steps
    assert step.evidence_passed is False
    keeper.presses("Freeze")
    assert keeper.sees("Not to be frozen yet")


def test_a_thousand_seed_weight_shows_while_it_is_typed(bench, work_day, lots):
    """Four hundreds of about 0.26 g are 2.6 g a thousand."""
    page, keeper, _ = bench
    keeper.picks(lots["Grey Ferryman"])
    keeper.presses("Count")
    for place, grams in enumerate(("0.26", "0.261", "0.259", "0.26"), start=1):
        keeper.types(f"Replicate {place}, grams", grams)
    assert keeper.sees("2.600 g")
    keeper.presses(page.forms[3].button.text().replace("&", ""))
    assert story(work_day, lots["Grey Ferryman"]).lot.line.thousand_seed_weight_ug == 2_600_000


def test_a_hold_is_set_and_lifted_with_its_reason(bench, work_day, lots):
    """The lot says that it is on hold until someone says why it no longer is."""
    page, keeper, _ = bench
    keeper.picks(lots["Grey Ferryman"])
    keeper.presses("Hold")
    keeper.chooses("Why", "insects")
    keeper.types("Note", "weevils")
    keeper.presses(page.forms[6].button.text().replace("&", ""))
    [mark] = story(work_day, lots["Grey Ferryman"]).holds
    assert (mark.kind, mark.note, mark.lifted_on) == ("insects", "weevils", None)
    assert keeper.sees("ON HOLD: insects")


def test_putting_a_lot_into_the_store_takes_it_off_the_list(bench, work_day, lots):
    """A place is made on the spot; the lot lies in it and is no longer in hand."""
    page, keeper, _ = bench
    keeper.picks(lots["Grey Ferryman"])
    keeper.presses("Store")
    keeper.types("Name of the new place", "Cool room")
    keeper.presses("Make the place")
    assert [place.name for place in store.store_places(work_day.catalogue)] == ["Cool room"]
    keeper.presses("Put into the store")
    assert [stay.path for stay in story(work_day, lots["Grey Ferryman"]).stays] == ["Cool room"]
    assert lots["Grey Ferryman"] not in {each.lot.number for each in page.table.rows()}


def test_cautions_stand_where_the_work_is_done(bench, work_day, lots):
    """Dust at cleaning, frozen wet seed at freezing."""
    _, keeper, _ = bench
    keeper.picks(lots["Grey Ferryman"])
    keeper.presses("Clean")
    assert keeper.sees("dust harms lungs")
    keeper.presses("Freeze")
    assert keeper.sees("seed frozen wet dies")


def test_the_day_stays_readable_beside_a_long_name(bench, work_day, lots):
    """Beside a long name the line had shrunk so far that a day read "5-11-25"."""
    page, keeper, _ = bench
    page.resize(760, 620)
    keeper.picks(lots["Grey Ferryman"])
    page.name.setText("RAD-15-001-2  Radish “Candle of Lane End and the Long Quay”, 2015")
    page.layout().activate()
    line = page.day
    shown = line.fontMetrics().horizontalAdvance(line.text())
    assert line.width() - line.textMargins().left() - CALENDAR_SIGN_PX >= shown
