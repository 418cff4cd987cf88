"""The testing bench, as a keeper uses it: dishes laid, counted day by day, judged; or a finished test written down."""

from datetime import timedelta

import pytest

from hilum.benches import intake, testing
from hilum.benches import lots as lots_bench
from hilum.benches.lots import lot_story
from hilum.window.germination_page import GerminationPage
from tests.support.answers import Answers
from tests.support.keeper import Keeper


@pytest.fixture
def bench(qtbot, work_day):
    """Give the page, the keeper at it, and the questions it asks (tags are declined)."""
    answers = Answers(yes=False, texts=("dried out",))
    page = GerminationPage(work_day, answers)
    page.resize(1100, 760)
    work_day.changes.catalogue_changed.connect(lambda _what: page.refresh())
    return page, Keeper(qtbot, page), answers


def types_counts(keeper, table, figures):
    """Type figures into the cells one after the other: normal, abnormal, hard, fresh, dead; None is passed over."""
    table.setFocus()
    table.go_to_start()
    for figure in figures:
        if figure is not None:
            keeper.writes(str(figure))
        keeper.keys("Return")


def test_a_due_lot_is_laid_by_the_published_method(bench, work_day, lots):
    """Method, source, counting days and the cost in seed stand there; laying draws the seed."""
    _, keeper, answers = bench
    keeper.picks(lots["Grey Ferryman"])
    assert keeper.sees("Method: between blotters")
    assert keeper.sees("7 CFR 201.58")
    assert keeper.sees("Counting days: 2026-12-01, 2026-12-09")
    keeper.types("Dishes", "4")
    keeper.types("Seeds in each", "50")
    keeper.presses("Lay the dishes")
    story = lot_story(work_day.catalogue, lots["Grey Ferryman"])
    [test] = story.tests
    assert (test.state, test.seeds) == ("running", 200)
    assert story.movements[-1].kind == "test"
    assert story.movements[-1].amount < 0
    assert answers.asked[-1].title == "Dish tags"


def test_dishes_are_counted_and_the_test_is_judged(bench, work_day, lots):
    """What is typed day by day becomes a percentage, an interval, a verdict and a next date."""
    page, keeper, _ = bench
    begun = work_day.today() - timedelta(days=6)
    test = testing.start_test(work_day.catalogue, lots["Grey Ferryman"], on=begun, dishes=(50, 50))
    page.refresh()
    keeper.picks(lots["Grey Ferryman"])
    assert keeper.sees("count today")
    types_counts(keeper, page.count.table, (44, 2, None, None, 4, 45, 1, None, None, 4))
    assert page.count.table.cells()[1, "normal"] == 44
    keeper.presses("Write the count")
    assert [dish.left for dish in testing.count_sheet(work_day.catalogue, test.id).dishes] == [0, 0]
    assert "all dishes: day 0 0 %, day 6 89 %" in page.count.curve.accessibleDescription()
    keeper.presses("Finish the test")
    assert keeper.sees("Germination 89 % of 100 seeds")
    assert keeper.sees("nine cases of ten")
    assert keeper.sees("The dishes agree")
    assert keeper.sees("Next test due")
    [result] = lot_story(work_day.catalogue, lots["Grey Ferryman"]).tests
    assert (result.state, result.normal_percent, result.verdict) == ("finished", 89, "keep")


def test_too_many_seeds_are_refused_and_stay_typed(bench, work_day, lots):
    """The notice names the dish; the catalogue has no count."""
    page, keeper, _ = bench
    test = testing.start_test(work_day.catalogue, lots["Grey Ferryman"], on=work_day.today(), dishes=(25,))
    page.refresh()
    keeper.picks(lots["Grey Ferryman"])
    types_counts(keeper, page.count.table, (27,))
    keeper.presses("Write the count")
    assert keeper.sees("27 seeds counted, but only 25 were laid")
    assert page.count.table.cells() == {(1, "normal"): 27}
    assert testing.count_sheet(work_day.catalogue, test.id).counts == ()


def test_a_class_nobody_looked_at_stays_empty(bench, work_day, lots):
    """An empty cell is not nought: the rest is not classed."""
    page, keeper, _ = bench
    testing.start_test(work_day.catalogue, lots["Grey Ferryman"], on=work_day.today(), dishes=(50,))
    page.refresh()
    keeper.picks(lots["Grey Ferryman"])
    types_counts(keeper, page.count.table, (40,))
    keeper.presses("Finish the test")
    assert keeper.sees("20 % not classed")
    [result] = lot_story(work_day.catalogue, lots["Grey Ferryman"]).tests
    assert (result.dead_percent, result.not_classed_percent) == (None, 20)


def test_a_test_is_given_up_with_its_reason(bench, work_day, lots):
    """The lot is due again, and the reason stands in its story."""
    page, keeper, _ = bench
    testing.start_test(work_day.catalogue, lots["Grey Ferryman"], on=work_day.today(), dishes=(25,))
    page.refresh()
    keeper.picks(lots["Grey Ferryman"])
    keeper.presses("Give it up…")
    [test] = lot_story(work_day.catalogue, lots["Grey Ferryman"]).tests
    assert (test.state, test.note) == ("abandoned", "dried out")
    assert page.running.rows() == ()


def test_a_result_from_elsewhere_draws_nothing(bench, work_day, lots):
    """It says whose it is."""
    page, keeper, _ = bench
    keeper.presses("Record a finished test")
    page.record.choice.line.setFocus()
    keeper.scans(lots["Grey Ferryman"])
    keeper.types("Dishes", "2")
    keeper.types("Seeds in each", "50")
    keeper.types("Made elsewhere by", "Hollin library")
    types_counts(keeper, page.record.table, (44, None, None, None, None, 43))
    keeper.presses("Record the test")
    story = lot_story(work_day.catalogue, lots["Grey Ferryman"])
    assert (story.tests[0].origin, story.tests[0].normal_percent) == ("Hollin library", 87)
    assert [line.kind for line in story.movements] == ["received"]


def test_lots_sent_from_another_bench_wait_their_turn(bench, work_day, lots):
    """The first comes up, F8 or the button takes the next; one under test opens its sheet."""
    page, keeper, _ = bench
    page.start_with((lots["Grey Ferryman"], lots["Candlewick"]))
    assert keeper.sees("Leek “Grey Ferryman”, 2024")
    assert keeper.sees("1 more lot waits")
    keeper.presses("Lay the dishes")
    assert keeper.sees("Lettuce “Candlewick”, 2025")
    page.start_with((lots["Grey Ferryman"],))
    assert keeper.sees("none counted yet")
    assert lots_bench.lot_view(work_day.catalogue, lots["Grey Ferryman"]).line.state == "under test"


def test_a_lot_under_test_cannot_be_laid_twice(bench, work_day, lots):
    """The button is grey and says why."""
    page, keeper, _ = bench
    testing.start_test(work_day.catalogue, lots["Grey Ferryman"], on=work_day.today(), dishes=(25,))
    page.start.choice.line.setFocus()
    keeper.keys("Ctrl+A")
    keeper.scans(lots["Grey Ferryman"])
    assert keeper.sees("is under test already")
    assert not keeper.can_press("Lay the dishes")


def test_what_was_typed_outlives_a_look_elsewhere(bench, work_day, lots):
    """Another test, another day, a change at another desk: the figures wait, and the page says so."""
    page, keeper, _ = bench
    for name in ("Grey Ferryman", "Candlewick"):
        testing.start_test(work_day.catalogue, lots[name], on=work_day.today(), dishes=(50,))
    page.refresh()
    keeper.picks(lots["Grey Ferryman"])
    types_counts(keeper, page.count.table, (41, 3))
    assert keeper.sees("Not written yet: this day.")
    work_day.changes.tell("another desk packed a lot")
    assert page.count.table.cells() == {(1, "normal"): 41, (1, "abnormal"): 3}
    keeper.picks(lots["Candlewick"])
    assert page.count.table.cells() == {}
    assert not keeper.sees("Not written yet")
    keeper.picks(lots["Grey Ferryman"])
    page.count.day.set_day(work_day.today() + timedelta(days=1))
    assert page.count.table.cells() == {}
    assert keeper.sees("Not written yet: 2026-11-25.")
    types_counts(keeper, page.count.table, (5,))
    keeper.presses("Finish the test")
    assert keeper.sees("Figures typed for 2026-11-25 are not written yet")
    page.count.day.set_day(work_day.today())
    keeper.presses("Write the count")
    assert keeper.sees("Not written yet: 2026-11-26.")
    page.running.choose(lambda row: row.test.lot == lots["Grey Ferryman"])
    [row] = page.running.chosen()
    assert (row.normal, row.left) == (41, 6)


def test_a_dish_counted_by_mistake_is_emptied_again(bench, work_day, lots):
    """Emptying its cells and writing takes the figures of that day away."""
    page, keeper, _ = bench
    test = testing.start_test(work_day.catalogue, lots["Grey Ferryman"], on=work_day.today(), dishes=(50,))
    counted = {1: {"normal": 12}}
    testing.enter_counts(work_day.catalogue, test.id, on=work_day.today(), counts=counted)
    page.refresh()
    keeper.picks(lots["Grey Ferryman"])
    page.count.table.setFocus()
    keeper.keys("Delete")
    keeper.presses("Write the count")
    sheet = testing.count_sheet(work_day.catalogue, test.id)
    assert (sheet.dishes[0].left, sheet.counts) == (50, ())
    assert not keeper.can_press("Finish the test")


def test_a_first_count_that_was_missed_is_overdue(bench, work_day, lots):
    """It stays the next one until it was made; then the final count is."""
    page, keeper, _ = bench
    begun = work_day.today() - timedelta(days=9)
    test = testing.start_test(work_day.catalogue, lots["Grey Ferryman"], on=begun, dishes=(50,))
    page.refresh()
    assert keeper.sees("overdue since 22 Nov")
    counted = {1: {"normal": 12}}
    testing.enter_counts(work_day.catalogue, test.id, on=work_day.today(), counts=counted)
    page.refresh()
    assert keeper.sees("count on 30 Nov")


def test_counting_days_shown_are_the_ones_written(bench, work_day, lots):
    """Prechilling comes before the printed days, on the screen as in the catalogue."""
    _, keeper, _ = bench
    keeper.picks(lots["Grey Ferryman"])
    keeper.types("Prechill", "7")
    assert keeper.sees("Counting days: 2026-12-08, 2026-12-16")
    keeper.presses("Lay the dishes")
    [test] = lot_story(work_day.catalogue, lots["Grey Ferryman"]).tests
    days = (test.first_count_on.isoformat(), test.final_count_on.isoformat())
    assert days == ("2026-12-08", "2026-12-16")


def test_a_crop_without_a_method_takes_the_keepers_own_conditions(bench, work_day):
    """Substrate, warmth and counting days are asked for, and kept with the test."""
    plan = intake.plan_rows(
        work_day.catalogue,
        [("Orache", "Hill Lantern", "2025", "20 g", "Upper Mill", "", "2025-10-01", "", "", "")],
        today=work_day.today(),
    )
    taken = intake.take_in(work_day.catalogue, plan)
    assert not taken.refused, taken.refused
    [lot] = lots_bench.find_lots(
        work_day.catalogue, lots_bench.LotFilter(words="Hill Lantern"), on=work_day.today()
    ).lots
    page, keeper, _ = bench
    page.start_with((lot.number,))
    assert keeper.sees("No published method for this crop")
    keeper.types("Substrate", "wet sand")
    keeper.types("Temperature", "15 °C")
    keeper.types("First count", "10")
    keeper.types("Final count", "30")
    keeper.types("Seed weighed", "0.5")
    assert keeper.sees("Counting days: 2026-12-05, 2026-12-25")
    keeper.presses("Lay the dishes")
    [test] = lot_story(work_day.catalogue, lot.number).tests
    assert (test.substrate, test.temperature) == ("wet sand", "15 °C")
    assert (test.first_count_days, test.final_count_days) == (10, 30)


def test_several_dishes_sent_to_be_counted_open_the_first_sheet(bench, work_day, lots):
    """The day sheet sends all that wait to be counted; the others are chosen in the list."""
    page, keeper, _ = bench
    for name in ("Grey Ferryman", "Candlewick"):
        testing.start_test(work_day.catalogue, lots[name], on=work_day.today(), dishes=(50,))
    page.refresh()
    page.start_with((lots["Grey Ferryman"], lots["Candlewick"]))
    assert keeper.sees("50 seeds, none counted yet")
    assert keeper.reads("Counted on") == "2026-11-25"


def test_dishes_of_unequal_size_are_recorded(bench, work_day, lots):
    """A result of a dish of 50 and one of 47, by rules of somebody else."""
    page, keeper, _ = bench
    keeper.keys("Ctrl+R")
    keeper.scans(lots["Grey Ferryman"])
    keeper.types("Dishes", "2")
    keeper.types("Seeds in each", "50")
    keeper.types("Made elsewhere by", "Hollin library")
    keeper.types("Tested how", "between paper")
    types_counts(keeper, page.record.table, (44, None, None, None, None, 43))
    page.record.table.setCurrentIndex(page.record.table.counts.index(1, 1))
    keeper.writes("47")
    keeper.keys("Ctrl+Return")
    [result] = lot_story(work_day.catalogue, lots["Grey Ferryman"]).tests
    assert (result.seeds, result.rules, result.normal_percent) == (97, "between paper", 90)


def test_a_count_is_not_written_on_a_day_that_is_none(bench, work_day, lots):
    """A slip in the date is said and nothing is written; the figures stand until the date is right."""
    page, keeper, _ = bench
    run = testing.start_test(work_day.catalogue, lots["Grey Ferryman"], on=work_day.today(), dishes=(50,))
    page.refresh()
    page.start_with((lots["Grey Ferryman"],))
    types_counts(keeper, page.count.table, (40,))
    keeper.types("Counted on", "2026-11-31")
    keeper.keys("Ctrl+Return")
    assert keeper.sees("“2026-11-31” is not a date.")
    assert not testing.count_sheet(work_day.catalogue, run.id).counts
    keeper.types("Counted on", "2026-11-25")
    keeper.keys("Ctrl+Return")
    assert [count[0].isoformat() for count in testing.count_sheet(work_day.catalogue, run.id).counts] == [
        "2026-11-25"
    ]
