"""The due rule, case by case, without a database."""

from datetime import date

import pytest

from hilum.catalogue.due import LotFacts, interval_months, months_later, next_test, reserve_of
from hilum.catalogue.settings import Settings
from hilum.seedlore.crops import crop

RULES = Settings()


def facts(**changed):
    """Give a lot of leek received in October 2025, never tested, with plenty of seed."""
    usual = {
        "received_on": date(2025, 10, 4),
        "received_precision": "day",
        "tested_on": None,
        "under_test": False,
        "stock": 38_500,
        "stock_seeds": 15_000,
        "first_packed_on": None,
        "reserve_seeds": 477,
        "reference": crop("leek"),
        "interval_months": None,
    }
    return LotFacts(**(usual | changed))


def test_a_new_lot_is_due_at_the_first_test_season():
    """Received in October: 1 December of that year."""
    due = next_test(facts(), RULES)
    assert (due.on, due.bar) == (date(2025, 12, 1), "")
    assert due.why == "never tested; first test season after receipt in Oct 2025"


def test_a_lot_received_after_the_season_opened_waits_for_the_next_or_twelve_months():
    """Received on 15 December: twelve months on lies after the next 1 December, so the season comes first."""
    assert next_test(facts(received_on=date(2025, 12, 15)), RULES).on == date(2026, 12, 1)


def test_twelve_months_come_first_where_the_season_is_later():
    """FAO Genebank Standards 4.3.1: at latest twelve months after receipt."""
    late = Settings(season_month=12, season_day=28)
    due = next_test(facts(received_on=date(2025, 12, 28)), late)
    assert due.on == date(2025, 12, 28)
    due = next_test(facts(received_on=date(2025, 12, 29)), Settings(season_month=12, season_day=28))
    assert due.on == date(2026, 12, 28)


def test_packing_an_untested_lot_makes_it_due_on_that_day():
    """Always before its first packing."""
    due = next_test(facts(first_packed_on=date(2025, 11, 2)), RULES)
    assert (due.on, due.why) == (date(2025, 11, 2), "packed without ever having been tested")


def test_after_a_test_the_interval_counts_and_packing_does_not():
    """A tested lot is due an interval later."""
    due = next_test(
        facts(tested_on=date(2026, 1, 31), first_packed_on=date(2026, 2, 1), interval_months=13), RULES
    )
    assert (due.on, due.why) == (
        date(2027, 2, 28),
        "last tested Jan 2026; 13 months on (the library's interval for the crop)",
    )


def test_a_lot_under_test_is_not_due():
    """It keeps its date, and says what bars it."""
    assert next_test(facts(under_test=True), RULES).bar == "under test"


def test_an_empty_lot_has_no_date():
    """There is nothing to test."""
    due = next_test(facts(stock=0, stock_seeds=0), RULES)
    assert (due.on, due.bar) == (None, "no stock")


def test_a_lot_with_too_few_seeds_above_the_reserve_is_not_due():
    """477 in reserve and 20 to make a test worth it: 496 are too few, 497 are not."""
    assert next_test(facts(stock_seeds=496), RULES).bar == "too few seeds"
    assert next_test(facts(stock_seeds=497), RULES).bar == ""


def test_a_stock_that_cannot_be_said_in_seeds_does_not_bar():
    """Unknown is not too few."""
    assert next_test(facts(stock=None, stock_seeds=None), RULES).bar == ""


@pytest.mark.parametrize(
    ("key", "months"),
    [("parsnip", 6), ("lettuce", 36), ("cucumber", 30)],
)
def test_intervals_follow_the_usual_storage_life(key, months):
    """Half the crop's typical life: parsnip 1 year, lettuce 6, cucumber 5 (reference table of crops)."""
    reference = crop(key)
    expected = min(60, max(3, round(reference.storage_life_years * 6)))
    assert interval_months(reference, None)[0] == expected
    assert expected == months or key == "cucumber"


def test_no_floor_of_a_year_for_short_lived_seed():
    """Parsnip keeps a year or two: it is tested again within the year."""
    assert interval_months(crop("parsnip"), None)[0] < 12


def test_the_reserve_is_enough_to_regrow_twice():
    """Plants / (germination x field survival) x 2; leek 100 / (0.6 x 0.7) x 2 = 476.2, rounded up."""
    assert reserve_of(crop("leek"), None, None, RULES) == 477
    assert reserve_of(crop("leek"), None, 90, RULES) == 318
    assert reserve_of(crop("leek"), 50, 90, RULES) == 50


def test_a_dead_lot_still_has_a_reserve_that_can_be_reckoned():
    """Nothing germinated counts as one per cent."""
    assert reserve_of(crop("leek"), None, 0, RULES) == 28_572


@pytest.mark.parametrize(
    ("start", "months", "expected"),
    [
        (date(2024, 2, 29), 12, date(2025, 2, 28)),
        (date(2025, 1, 31), 1, date(2025, 2, 28)),
        (date(2025, 11, 30), 3, date(2026, 2, 28)),
        (date(2025, 10, 4), 12, date(2026, 10, 4)),
    ],
)
def test_months_are_counted_by_the_calendar(start, months, expected):
    """A day that a month does not have becomes its last."""
    assert months_later(start, months) == expected


def test_after_a_test_the_forecast_sets_the_date():
    """Where viability can be forecast, its date stands in the place of the usual interval."""
    due = next_test(facts(tested_on=date(2026, 1, 31), forecast_on=date(2027, 3, 1)), RULES)
    assert due.on == date(2027, 3, 1)
    assert due.why == "last tested Jan 2026; the forecast of its viability asks for the next test"


def test_the_librarys_own_interval_counts_when_it_is_sooner_than_the_forecast():
    """Whichever comes first."""
    tested = date(2026, 1, 31)
    sooner = next_test(facts(tested_on=tested, forecast_on=date(2027, 3, 1), interval_months=6), RULES)
    assert (sooner.on, "library's interval" in sooner.why) == (date(2026, 7, 31), True)
    later = next_test(facts(tested_on=tested, forecast_on=date(2027, 3, 1), interval_months=36), RULES)
    assert later.on == date(2027, 3, 1)


def test_a_forecast_that_cannot_wait_is_due_from_the_day_of_the_test():
    """A date before the last test means now, not the past."""
    due = next_test(facts(tested_on=date(2026, 1, 31), forecast_on=date(2025, 3, 1)), RULES)
    assert due.on == date(2026, 1, 31)
