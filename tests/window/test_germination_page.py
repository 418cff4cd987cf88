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
    page, keeper, answers = bench
    testing.start_test(work_day.catalogue, lots["Grey Ferryman"], on=work_day.today(), dishes=(50,))
    page.refresh()
    keeper.picks(lots["Grey Ferryman"])
    types_counts(keeper, page.count.table, (40,))
    keeper.presses("Finish the test")
    assert answers.asked[-1].words.startswith("10 seeds are not classed yet")
    assert [row.test.lot for row in page.running.rows()] == [lots["Grey Ferryman"]]
    answers.yes = True
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


def test_a_test_in_groups_goes_on_only_as_long_as_it_must(bench, work_day, lots):
    """Laid against its first result, counted, told to sow another group, which waits for the first one's last count."""
    page, keeper, _ = bench
    number = lots["Grey Ferryman"]
    testing.record_test(
        work_day.catalogue, number, on=work_day.today() - timedelta(days=600), seeds=[100],
        counts={"normal": [99]}, origin="Hollin library",
    )  # fmt: skip
    page.refresh()
    page.start_with((number,))
    keeper.presses("Sow in groups: stop as soon as the answer is clear")
    assert keeper.reads("Bar").startswith("84 %, which is 85 % of its first result (99 %)")
    assert (keeper.reads("Dishes"), keeper.reads("Seeds in each")) == ("1", "40")
    assert keeper.sees("Groups of 40 until the answer is clear")
    keeper.presses("Lay the dishes")
    [standing] = testing.standing_tests(work_day.catalogue)
    page.open_test(standing.test)
    page.count.day.set_day(standing.test.final_count_on)
    types_counts(keeper, page.count.table, (35, None, None, None, 5))
    keeper.presses("Write the count")
    assert keeper.sees("Sow another group")
    assert keeper.sees("is not clear yet")
    assert keeper.sees("Chance that the lot lies below the bar")
    assert page.count.groups.picture.accessibleDescription().startswith("of 40 seeds regrow at")
    keeper.presses("Lay another group of 40")
    assert keeper.sees("lay the next one then or later")
    assert len(testing.count_sheet(work_day.catalogue, standing.test.id).dishes) == 1


def test_the_next_group_is_laid_from_stock_and_its_tags_are_offered(bench, work_day, lots):
    """The dishes of a later group are dishes of the same test, counted from their own day."""
    page, keeper, answers = bench
    number = lots["Grey Ferryman"]
    begun = work_day.today() - timedelta(days=14)
    test = testing.start_test(work_day.catalogue, number, on=begun, dishes=(20,), bar="standard")
    testing.enter_counts(
        work_day.catalogue, test.id, on=work_day.today(), counts={1: {"normal": 12, "dead": 8}}
    )
    page.refresh()
    assert keeper.sees("sow another group")
    keeper.picks(number)
    keeper.presses("Lay another group of 20")
    assert answers.asked[-1].title == "Dish tags"
    sheet = testing.count_sheet(work_day.catalogue, test.id)
    assert [dish.days.laid_on for dish in sheet.dishes] == [begun, work_day.today()]
    assert keeper.sees("Count the group that stands")
    movements = lot_story(work_day.catalogue, number).movements
    assert [line.kind for line in movements] == ["received", "test", "test"]


def test_tags_of_a_queue_are_offered_once(bench, work_day, lots):
    """Two lots laid one after the other: the question comes with the last and speaks of both."""
    page, keeper, answers = bench
    page.start_with((lots["Grey Ferryman"], lots["Candlewick"]))
    keeper.presses("Lay the dishes")
    assert answers.asked == []
    keeper.presses("Lay the dishes")
    [asked] = answers.asked
    assert asked.words == "The dishes of 2 lots are laid. Print a tag for each dish?"


def test_a_published_method_can_be_changed_and_that_is_said(bench, work_day, lots):
    """The fields open on a press; what differs from print is said and kept with the test."""
    page, keeper, _ = bench
    page.start_with((lots["Grey Ferryman"],))
    keeper.presses("Change the method…")
    keeper.types("Temperature", "15 °C")
    assert keeper.sees("Changed from the published method: 15 °C")
    keeper.presses("Lay the dishes")
    [test] = lot_story(work_day.catalogue, lots["Grey Ferryman"]).tests
    assert (test.temperature, test.note) == ("15 °C", "changed from the published method: 15 °C")
    assert (test.first_count_days, test.final_count_days) == (6, 14)


def test_a_day_nobody_comes_in_is_shown_where_the_rules_leave_no_other(bench, work_day, lots):
    """Open on Wednesdays only: the day stays, and the page says so."""
    from hilum.benches import keeping

    keeping.change_settings(work_day.catalogue, {"closed_weekdays": (0, 1, 3, 4, 5, 6)})
    page, keeper, _ = bench
    page.start_with((lots["Grey Ferryman"],))
    assert keeper.sees("Counting days: 2026-12-02, 2026-12-09")
    page.start.day.set_day(work_day.today() + timedelta(days=1))
    assert keeper.sees("2026-12-10 is a day on which nobody counts")


@pytest.mark.parametrize(
    ("heights", "spread_out"),
    [((10, 30), (10, 30)), ((10, 12, 11), (10, 38, 24)), ((), ())],
)
def test_names_at_the_ends_of_lines_do_not_lie_on_each_other(heights, spread_out):
    """Those further down give way."""
    from hilum.window.germination_curve import spread

    assert spread(heights, 14) == spread_out
