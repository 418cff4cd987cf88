"""The forecast of a lot: what must always hold of it, whatever its crop, storage and tests."""

import math
from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hilum.errors import BadInput
from hilum.seedlore.counts import germination_counts
from hilum.seedlore.crops import all_crops, crop
from hilum.seedlore.forecast import (
    DatedCounts,
    Forecast,
    HistoryError,
    LotHistory,
    Stay,
    forecast,
    forecast_each,
    forecast_input,
    forecast_many,
)
from hilum.seedlore.standards import Standard

STORED = date(2021, 9, 1)
ON = date(2026, 1, 1)
BAR = Standard("lettuce", 80, False, "invented")
# Two ways of adding the same figures in arrays of other lengths may round apart by so much.
ROUNDING = 1e-3


def a_test(on: date, *normal: int, of: int = 50, **others: list[int]) -> DatedCounts:
    """Give a test with one figure a dish."""
    return DatedCounts(on, germination_counts(of, list(normal), **others))


def a_lot(
    key: str = "lettuce",
    *,
    storage_c: float | None = 5.0,
    moisture: float | None = 6.5,
    tests: tuple[DatedCounts, ...] = (),
    standard: Standard | None = BAR,
) -> LotHistory:
    """Give a lot in one airtight jar."""
    stay = Stay(STORED, None, storage_c, moisture, airtight=True)
    return LotHistory(crop(key), STORED, (stay,), tests, standard)


def checked(found: Forecast) -> Forecast:
    """Hold a forecast against what every forecast owes."""
    assert found.now_percent is not None
    assert found.interval_90 is not None
    assert found.half_life_years is not None
    low, high = found.interval_90
    assert 0 <= low <= found.now_percent <= high <= 100
    assert 0 <= found.half_life_years <= 1000
    for before, after in zip(found.curve, found.curve[1:], strict=False):
        assert 0 <= after.low <= after.percent <= after.high <= 100
        assert after.percent <= before.percent + ROUNDING
    assert found.why.endswith(".")
    assert "nan" not in found.why
    return found


def test_a_lot_without_a_test_is_a_wide_guess_and_says_so():
    """The prior alone: a broad band, and the sentence begins with why."""
    untested, tested = (
        checked(forecast(a_lot(tests=tests), ON))
        for tests in ((), (a_test(date(2025, 12, 1), 47, 46, 48, 45),))
    )
    assert untested.why.startswith("Never tested, so this is a wide guess")
    assert untested.interval_90 is not None
    assert tested.interval_90 is not None
    assert untested.interval_90[1] - untested.interval_90[0] > 30
    assert tested.interval_90[1] - tested.interval_90[0] < 20


@pytest.mark.parametrize("key", [one.key for one in all_crops()])
def test_every_crop_has_a_forecast_or_a_reason(key: str):
    """No crop of the table is left without an answer."""
    lot = LotHistory(crop(key), STORED, (Stay(STORED, None, 15.0, humidity_percent=40),))
    found = forecast(lot, ON)
    if crop(key).seed_behaviour == "orthodox":
        checked(found)
    else:
        assert found.is_refused
        assert crop(key).seed_behaviour in found.why


@pytest.mark.parametrize(
    ("normal", "of"), [((1,), 1), ((0,), 1), ((0, 0, 0, 0), 100), ((100, 100, 100, 100), 100), ((0,), 4000)]
)
def test_one_seed_and_none_and_all_can_be_reckoned(normal: tuple[int, ...], of: int):
    """A single seed, 0 % and 100 % give figures, not errors; one seed moves little, four hundred much."""
    before = checked(forecast(a_lot(), ON))
    found = checked(forecast(a_lot(tests=(a_test(date(2025, 12, 1), *normal, of=of),)), ON))
    assert found.now_percent is not None
    assert before.now_percent is not None
    if of == 1:
        assert abs(found.now_percent - before.now_percent) < 30
    elif sum(normal):
        assert found.now_percent > 96
    else:
        assert found.now_percent < 3
        assert found.test_next_on is None


def test_one_lot_alone_equals_the_same_lot_among_many():
    """Lots do not look at each other: three thousand at once give what each gives alone."""
    some = [
        a_lot(storage_c=-18),
        a_lot("onion", tests=(a_test(date(2022, 1, 1), 40, 44),)),
        a_lot("pea", moisture=9, tests=(a_test(date(2022, 1, 1), 48), a_test(date(2024, 1, 1), 45, 44))),
    ]
    together = forecast_each(some * 1000, ON, years=3)
    for lot, place in zip(some, (0, 1501, 2999), strict=True):
        alone, among = forecast(lot, ON, years=3), together[place]
        assert alone.why == among.why
        assert alone.test_next_on == among.test_next_on
        assert alone.now_percent == pytest.approx(among.now_percent, abs=ROUNDING)
        assert alone.below_standard_chance == pytest.approx(among.below_standard_chance, abs=ROUNDING / 100)
        assert [p.low for p in alone.curve] == pytest.approx([p.low for p in among.curve], abs=0.05)


def test_the_order_in_which_tests_were_entered_does_not_matter():
    """Dates count, not the order of the list."""
    tests = (
        a_test(date(2022, 1, 1), 48),
        a_test(date(2023, 1, 1), 46, 44),
        a_test(date(2025, 1, 1), 40, 41),
    )
    assert forecast(a_lot(tests=tests), ON) == forecast(a_lot(tests=tests[::-1]), ON)


def test_a_fresh_test_moves_the_forecast():
    """A bad result lowers it, a good one raises it, and more seed says more."""
    day = date(2025, 12, 1)
    plain = forecast(a_lot(), ON).now_percent
    few, bad, good = (
        forecast(a_lot(tests=(a_test(day, *normal),)), ON).now_percent
        for normal in ((20,), (20, 21, 19, 20), (49, 50, 49, 50))
    )
    assert plain is not None
    assert few is not None
    assert bad is not None
    assert good is not None
    assert bad < few < plain < good
    assert bad == pytest.approx(40, abs=6)


def test_tests_that_lie_ahead_are_not_heard():
    """A forecast for an earlier day does not know what was found later."""
    later = a_test(date(2026, 2, 1), 5)
    assert forecast(a_lot(tests=(later,)), ON).now_percent == forecast(a_lot(), ON).now_percent


@settings(deadline=None, max_examples=30)
@given(
    key=st.sampled_from(["lettuce", "leek", "pea", "tomato", "sunflower", "lovage", "maize"]),
    moisture=st.floats(6.5, 13.0),
    drier=st.floats(0.0, 2.0),
    storage_c=st.floats(-20.0, 30.0),
    warmer=st.floats(0.0, 10.0),
    tested=st.booleans(),
)
def test_worse_storage_never_raises_a_forecast(
    key: str, moisture: float, drier: float, storage_c: float, warmer: float, tested: bool
):
    """Moister or warmer seed that was not tested since is never believed better."""
    # A test on the first day: all the storage that differs comes after it.
    tests = (a_test(STORED, 46, 45),) if tested else ()
    better = forecast(a_lot(key, moisture=moisture, storage_c=storage_c, tests=tests), ON)
    worse = forecast(a_lot(key, moisture=moisture + drier, storage_c=storage_c + warmer, tests=tests), ON)
    assert better.now_percent is not None
    assert worse.now_percent is not None
    assert worse.now_percent <= better.now_percent + 0.05


@settings(deadline=None, max_examples=30)
@given(
    of=st.sampled_from([10, 50, 100]),
    share=st.floats(0.0, 0.95),
    years=st.integers(0, 4),
    storage_c=st.sampled_from([-18.0, 5.0, 20.0]),
)
def test_more_germinated_never_lowers_a_forecast(of: int, share: float, years: int, storage_c: float):
    """One normal seedling more, all else alike, is never bad news."""
    fewer = math.floor(of * share)
    day = STORED + timedelta(days=365 * years)
    low, high = (
        forecast(a_lot(storage_c=storage_c, tests=(a_test(day, count, of=of),)), ON)
        for count in (fewer, fewer + 1)
    )
    assert low.now_percent is not None
    assert high.now_percent is not None
    assert high.now_percent >= low.now_percent - 0.05


def test_fresh_and_hard_seed_is_not_read_as_death():
    """Viability counts them, germination does not; dead seed lowers both."""
    day = date(2025, 12, 1)
    waiting = {"hard": [16, 17], "fresh": [2, 1], "abnormal": [1, 1], "dead": [1, 1]}
    dead = {"hard": [0, 0], "fresh": [0, 0], "abnormal": [1, 1], "dead": [19, 19]}
    hard = checked(forecast(a_lot("sweet-pea", moisture=9, tests=(a_test(day, 30, 30, **waiting),)), ON))
    gone = checked(forecast(a_lot("sweet-pea", moisture=9, tests=(a_test(day, 30, 30, **dead),)), ON))
    assert hard.viability_now_percent is not None
    assert gone.viability_now_percent is not None
    assert hard.viability_now_percent > 88
    assert gone.viability_now_percent < 75
    assert hard.now_percent == pytest.approx(62, abs=5)
    assert "germinates at once, the rest is hard or fresh" in hard.why


def test_hard_seed_counts_towards_a_standard_that_says_so():
    """The same lot against the same figure, with and without hard seed counted."""
    counts = {"hard": [16, 17], "fresh": [0, 0], "abnormal": [1, 1], "dead": [3, 2]}
    lot = a_lot("sweet-pea", moisture=9, tests=(a_test(date(2025, 12, 1), 30, 30, **counts),))
    without, counted = (
        forecast(replace(lot, standard=Standard("Sweet pea", 75, hard, "invented")), ON)
        for hard in (False, True)
    )
    assert without.below_standard_chance is not None
    assert counted.below_standard_chance is not None
    assert without.below_standard_chance > 0.9
    assert counted.below_standard_chance < 0.2


def test_a_lot_that_rises_or_stays_is_not_given_a_negative_life():
    """Tests that go up are chance or dormancy: the lot lives long, but not for ever and never backwards."""
    tests = (
        a_test(date(2022, 1, 1), 42, 43),
        a_test(date(2024, 1, 1), 46, 47),
        a_test(date(2025, 12, 1), 48, 48),
    )
    found = checked(forecast(a_lot(tests=tests), ON, years=30))
    assert found.half_life_years is not None
    assert 0 < found.half_life_years < math.inf
    assert found.curve[-1].percent < found.curve[0].percent


def test_scattered_dishes_widen_the_band():
    """The same total from dishes that disagree says less."""
    day = date(2025, 12, 1)
    even, uneven = (
        forecast(a_lot(tests=(a_test(day, *normal),)), ON).interval_90
        for normal in ((40, 41, 40, 39), (49, 22, 49, 40))
    )
    assert even is not None
    assert uneven is not None
    assert uneven[1] - uneven[0] > 1.2 * (even[1] - even[0])


def test_the_next_test_keeps_to_the_published_bounds():
    """Three months at least, five years at most after the last test, sooner for what dies sooner."""
    day = date(2021, 10, 1)
    due = {
        (key, storage_c): forecast(
            a_lot(
                key, storage_c=storage_c, moisture=8.0, tests=(a_test(day, 46, 47, 45, 46),), standard=None
            ),
            ON,
        ).test_next_on
        for key in ("onion", "pea")
        for storage_c in (25.0, -18.0)
    }
    for found in due.values():
        assert found is not None
        assert day + timedelta(days=91) <= found <= day + timedelta(days=round(5 * 365.25))
    assert due["onion", 25.0] == day + timedelta(days=91)
    assert due["onion", 25.0] < due["pea", 25.0] <= due["pea", -18.0]


def test_the_next_test_comes_after_a_third_of_the_predicted_time():
    """FAO 4.3.3: a third of the time until 85 % of the start is left, read off the forecast's own curve here."""
    day = date(2021, 12, 1)
    lot = a_lot(
        "leek", storage_c=15, moisture=7.5, tests=(a_test(day, 95, 96, 94, 95, of=100),), standard=None
    )
    found = forecast(lot, day, years=60)
    assert found.test_next_on is not None
    start = found.curve[0].percent
    years = next(year for year, point in enumerate(found.curve) if point.percent <= 0.85 * start)
    before, after = found.curve[years - 1].percent, found.curve[years].percent
    reached = years - 1 + (before - 0.85 * start) / (before - after)
    third_days = reached * 365.25 / 3
    assert 365 < third_days < 5 * 365.25, "the bounds would hide the rule"
    assert abs((found.test_next_on - day).days - third_days) <= 0.15 * third_days


def test_a_crop_that_lives_a_year_has_no_floor_of_a_year():
    """Onion in the warm is due after three months, pea not before a year is out."""
    day = date(2025, 10, 1)
    due = {
        key: forecast(
            a_lot(key, storage_c=35, moisture=11, tests=(a_test(day, 46, 47, 45, 46),), standard=None), ON
        ).test_next_on
        for key in ("onion", "pea")
    }
    assert due["onion"] == day + timedelta(days=91)
    assert due["pea"] is not None
    assert due["pea"] >= day + timedelta(days=365)


def test_a_lot_near_its_standard_is_tested_sooner():
    """When the chance of being below passes one in four, the lot is due."""
    lot = a_lot("onion", storage_c=5, moisture=7, tests=(a_test(date(2025, 12, 1), 46, 47, 45, 46),))
    far, near = (
        forecast(replace(lot, standard=Standard("Onion", bar, False, "invented")), ON).test_next_on
        for bar in (40, 88)
    )
    assert far is not None
    assert near is not None
    assert near < far


@settings(deadline=None, max_examples=10)
@given(years=st.integers(0, 3))
def test_the_day_of_the_next_test_does_not_move_while_nothing_happens(years: int):
    """Asked again later, a lot that only lies there is due on the same day."""
    lot = a_lot(tests=(a_test(date(2025, 12, 1), 46, 47),))
    first = forecast(lot, ON).test_next_on
    later = forecast(lot, ON + timedelta(days=365 * years)).test_next_on
    assert first is not None
    assert later is not None
    assert abs((later - first).days) <= 1


def test_dates_that_cannot_be_are_refused_in_words():
    """Overlapping stays, a test before the lot was there, a curve too long."""
    twice = LotHistory(crop("pea"), STORED, (Stay(STORED), Stay(date(2022, 1, 1))))
    with pytest.raises(HistoryError, match="still lasts when another begins on 2022-01-01"):
        forecast(twice, ON)
    with pytest.raises(HistoryError, match="lies before 2021-09-01"):
        forecast(a_lot(tests=(a_test(date(2020, 1, 1), 40),)), ON)
    with pytest.raises(BadInput, match="A curve of 101 years cannot be drawn"):
        forecast(a_lot(), ON, years=101)
    with pytest.raises(HistoryError, match="cannot end on 2021-01-01 before it begins"):
        Stay(date(2022, 1, 1), date(2021, 1, 1))
    with pytest.raises(HistoryError, match="A moisture of 0 % cannot be"):
        Stay(date(2022, 1, 1), moisture_percent_wb=0)


def test_no_lot_at_all_is_no_trouble():
    """An empty library has no forecasts."""
    assert forecast_each([], ON) == ()
    assert len(forecast_many(forecast_input([], ON), ON)) == 0


def test_figures_of_refused_lots_are_not_numbers():
    """In arrays a lot without a forecast is NaN, and its neighbours are not."""
    found = forecast_many(forecast_input([a_lot("chayote"), a_lot()], ON), ON)
    assert np.isnan(found.now_percent).tolist() == [True, False]
    assert found.refusal.tolist() == [1, 0]
