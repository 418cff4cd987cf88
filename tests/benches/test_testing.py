"""Germination tests: laid from stock, counted, judged; what was not counted is never called dead."""

from datetime import date, timedelta

import pytest

from hilum.benches import lots, preparing, testing
from hilum.benches.lots import LotFilter
from hilum.errors import BadInput
from tests.benches.conftest import LEEK, ONION, RADISH, SQUASH, TODAY, take_in


def test_dishes_laid_draw_their_seed_from_stock_at_once(catalogue):
    """A hundred seeds of a counted lot leave when they are laid, not when the test ends."""
    [number] = take_in(catalogue, "Leek | Fenlock Grey | 2025 | 4000 seeds | | | 2025-10-04")
    test = testing.start_test(catalogue, number, on=TODAY, dishes=(50, 50))
    shown = lots.lot_view(catalogue, number)
    assert shown.line.stock == 3900
    assert (shown.line.state, shown.line.due_bar) == ("under test", "under test")
    assert (test.substrate, test.final_count_days) == ("between blotters", 14)


def test_counting_day_by_day_then_finishing_judges_the_lot(catalogue):
    """Normal seedlings of all days add up; the percentage, interval, verdict and next date come out."""
    [number] = take_in(catalogue, LEEK)
    test = testing.start_test(catalogue, number, on=date(2026, 11, 1), dishes=(100, 100, 100, 100))
    first, last = date(2026, 11, 7), date(2026, 11, 15)
    testing.enter_counts(catalogue, test.id, on=first, counts={n: {"normal": 60} for n in (1, 2, 3, 4)})
    testing.enter_counts(
        catalogue,
        test.id,
        on=last,
        counts={n: {"normal": 25 + n, "abnormal": 3, "dead": 12 - n} for n in (1, 2, 3, 4)},
    )
    done = testing.finish_test(catalogue, test.id, on=last)
    assert (done.test.normal_percent, done.test.abnormal_percent, done.test.dead_percent) == (88, 3, 9)
    assert (done.verdict, done.test.within_tolerance) == ("keep", True)
    assert done.interval_90[0] < 88 < done.interval_90[1]
    assert done.lot.line.due_on is not None
    assert done.lot.line.due_on > last
    assert done.lot.line.germination_percent == 88


def test_more_seeds_counted_than_laid_writes_nothing(catalogue):
    """A mistyped count is refused by dish, and the dish shows what it showed before."""
    [number] = take_in(catalogue, LEEK)
    test = testing.start_test(catalogue, number, on=TODAY, dishes=(50,))
    testing.enter_counts(catalogue, test.id, on=TODAY, counts={1: {"normal": 30}})
    with pytest.raises(BadInput, match="Dish 1: 54 seeds counted, but only 50 were laid"):
        testing.enter_counts(catalogue, test.id, on=TODAY + timedelta(days=1), counts={1: {"normal": 24}})
    [dish] = testing.count_sheet(catalogue, test.id).dishes
    assert dish.totals["normal"] == 30


def test_a_class_nobody_looked_at_is_not_classed(catalogue):
    """With only normal seedlings counted, the rest is "not classed"."""
    [number] = take_in(catalogue, LEEK)
    done = testing.record_test(catalogue, number, on=TODAY, seeds=[50], counts={"normal": [40, 41]})
    test = done.test
    assert (test.normal_percent, test.dead_percent, test.not_classed_percent) == (81, None, 19)


def test_a_recorded_test_here_draws_and_one_from_elsewhere_does_not(catalogue):
    """A result another library found says whose it is and leaves the stock as it was."""
    [number] = take_in(catalogue, "Leek | Fenlock Grey | 2025 | 4000 seeds | | | 2025-10-04")
    testing.record_test(
        catalogue, number, on=TODAY, seeds=[100], counts={"normal": [90]}, origin="Hollin library"
    )
    assert lots.lot_view(catalogue, number).line.stock == 4000
    done = testing.record_test(catalogue, number, on=TODAY, seeds=[100], counts={"normal": [90]})
    assert lots.lot_view(catalogue, number).line.stock == 3900
    assert [test.origin for test in lots.lot_story(catalogue, number).tests] == ["here", "Hollin library"]
    assert done.lot.line.tested_on == TODAY


def test_twenty_seeds_are_too_few_to_say(catalogue):
    """A result from 20 seeds near the standard is not trusted like one from 400."""
    [number] = take_in(catalogue, LEEK)
    done = testing.record_test(catalogue, number, on=TODAY, seeds=[20], counts={"normal": [13]})
    assert done.verdict == "too few seeds to say"
    assert "20 seeds" in done.verdict_why


def test_dishes_that_disagree_ask_for_a_retest(catalogue):
    """The regulation's table allows a range of 13 at a mean of 85 (7 CFR 201.55); 30 is more."""
    [number] = take_in(catalogue, LEEK)
    done = testing.record_test(catalogue, number, on=TODAY, seeds=[100], counts={"normal": [95, 92, 88, 65]})
    assert done.verdict == "retest"


def test_a_lot_never_weighed_can_be_tested_and_stays_unknown(catalogue):
    """The ledger says that seed went; the stock is still unknown, not negative."""
    [number] = take_in(catalogue, RADISH)
    testing.start_test(catalogue, number, on=TODAY, dishes=(25, 25))
    story = lots.lot_story(catalogue, number)
    assert [line.kind for line in story.movements] == ["received", "test"]
    assert (story.movements[-1].amount, story.lot.line.stock) == (None, None)


def test_a_test_that_draws_on_the_reserve_warns(catalogue):
    """Testing scarce seed is allowed and said."""
    [number] = take_in(catalogue, SQUASH)
    plan = testing.plan_test(catalogue, number, on=TODAY)
    assert any("reserve" in words for words in plan.warnings)
    testing.start_test(catalogue, number, on=TODAY, dishes=plan.dishes)


def test_two_tests_of_one_lot_do_not_run_at_once(catalogue):
    """The second is refused and draws nothing."""
    [number] = take_in(catalogue, LEEK)
    testing.start_test(catalogue, number, on=TODAY, dishes=(25, 25))
    before = lots.lot_view(catalogue, number).line.stock
    with pytest.raises(BadInput, match="under test already"):
        testing.start_test(catalogue, number, on=TODAY, dishes=(25, 25))
    assert lots.lot_view(catalogue, number).line.stock == before


def test_an_abandoned_test_leaves_the_lot_due(catalogue):
    """Spilt dishes give no result; the seed is spent and the lot is due as before."""
    [number] = take_in(catalogue, LEEK)
    test = testing.start_test(catalogue, number, on=TODAY, dishes=(25, 25))
    testing.abandon_test(catalogue, test.id, on=TODAY, why="dried out")
    shown = lots.lot_view(catalogue, number)
    assert (shown.line.due_bar, shown.line.germination_percent) == ("", None)
    assert shown.number in {
        found.number for found in lots.find_lots(catalogue, LotFilter(due=True), on=TODAY).lots
    }


def test_counting_days_avoid_closed_days(catalogue):
    """Leek is counted on days 6 and 14 (7 CFR 201.58); with Sundays closed a count moves on a day."""
    from hilum.benches import keeping

    [number] = take_in(catalogue, LEEK)
    start = date(2026, 11, 23)  # day 6 is Sunday 29 November
    assert testing.plan_test(catalogue, number, on=start).counting_days[0] == date(2026, 11, 29)
    keeping.change_settings(catalogue, {"closed_weekdays": (6,)})
    assert testing.plan_test(catalogue, number, on=start).counting_days == (
        date(2026, 11, 30),
        date(2026, 12, 7),
    )


def test_an_onion_has_no_floor_of_a_year(catalogue):
    """A short-lived crop is tested again before a year is out when the library's interval says so."""
    from hilum.benches import reference

    [number] = take_in(catalogue, ONION)
    reference.set_for_crop(catalogue, "onion", {"interval_months": 6})
    done = testing.record_test(catalogue, number, on=TODAY, seeds=[100], counts={"normal": [90, 91]})
    assert TODAY < done.lot.line.due_on <= date(2027, 5, 25)
    reference.set_for_crop(catalogue, "onion", {"interval_months": 1})
    sooner = lots.lot_view(catalogue, number).line
    assert (sooner.due_on, "library's interval" in sooner.due_why) == (date(2026, 12, 25), True)


def test_a_count_before_the_dishes_were_laid_is_refused(catalogue):
    """Dates run forward."""
    [number] = take_in(catalogue, LEEK)
    test = testing.start_test(catalogue, number, on=TODAY, dishes=(25,))
    with pytest.raises(BadInput, match="nothing was counted before that"):
        testing.enter_counts(catalogue, test.id, on=TODAY - timedelta(days=1), counts={1: {"normal": 1}})


def test_preparing_is_not_needed_for_a_test(catalogue):
    """A lot in hand may be tested, and stays in hand afterwards."""
    [number] = take_in(catalogue, LEEK)
    testing.record_test(catalogue, number, on=TODAY, seeds=[25], counts={"normal": [20, 21]})
    assert [waiting.lot.number for waiting in preparing.in_hand(catalogue, on=TODAY)] == [number]
