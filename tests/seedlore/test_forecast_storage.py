"""Storage history in the forecast: stays, gaps, what is assumed, and when there is no forecast."""

from datetime import date

import pytest

from hilum.seedlore.crops import all_crops, crop
from hilum.seedlore.forecast import Forecast, LotHistory, Stay, forecast
from hilum.seedlore.priors import crop_prior

STORED, MOVED, ON = date(2020, 1, 1), date(2023, 1, 1), date(2026, 1, 1)


def of(*stays: Stay, key: str = "tomato") -> Forecast:
    """Forecast a lot that was never tested from its stays."""
    return forecast(LotHistory(crop(key), STORED, stays), ON)


def now(*stays: Stay, key: str = "tomato") -> float:
    """Give its germination today."""
    found = of(*stays, key=key).now_percent
    assert found is not None
    return found


COOL = Stay(STORED, None, 5.0, 6.5, airtight=True)
WARM = Stay(STORED, None, 22.0, 6.5, airtight=True)


def test_half_the_time_warm_is_nearer_to_warm_than_to_the_mean():
    """Losses are averaged, never temperatures."""
    half = now(Stay(STORED, MOVED, 5.0, 6.5, airtight=True), Stay(MOVED, None, 22.0, 6.5, airtight=True))
    mean = now(Stay(STORED, None, 13.5, 6.5, airtight=True))
    assert now(WARM) < half < mean < now(COOL)


def test_the_order_of_stays_does_not_matter_to_what_is_alive():
    """Warm first or cool first, the same is lost."""
    one = now(Stay(STORED, MOVED, 5.0, 6.5, airtight=True), Stay(MOVED, None, 15.0, 6.5, airtight=True))
    other = now(
        Stay(STORED, date(2022, 12, 31), 15.0, 6.5, airtight=True),
        Stay(date(2022, 12, 31), None, 5.0, 6.5, airtight=True),
    )
    assert one == pytest.approx(other, abs=0.2)


def test_time_that_no_stay_covers_is_a_room_and_is_named():
    """A lot that turned up in the refrigerator last year was somewhere before."""
    late = of(Stay(date(2025, 1, 1), None, 5.0, 6.5, airtight=True))
    assert late.now_percent is not None
    assert late.now_percent < now(COOL)
    assert (
        "the moisture of most of its storage and the temperature of most of its storage was assumed"
        in late.why
    )
    assert "assumed" not in of(COOL).why


def test_assumed_moisture_widens_the_band():
    """The same moisture, once read and once assumed."""
    read = of(Stay(STORED, None, 5.0, humidity_percent=50.0))
    assumed = of(Stay(STORED, None, 5.0))
    assert read.interval_90 is not None
    assert assumed.interval_90 is not None
    assert assumed.interval_90[0] < read.interval_90[0]
    assert "the moisture of most of its storage was assumed, which widens the band" in assumed.why


def test_colder_than_twenty_below_counts_as_twenty_below_and_says_so():
    """Neither better nor worse than at -20 °C."""
    cold, colder = (of(Stay(STORED, None, c, 6.5, airtight=True)) for c in (-20.0, -60.0))
    assert cold.now_percent == colder.now_percent
    assert "below -20 °C counts as -20 °C" in colder.why
    assert "below" not in cold.why


@pytest.mark.parametrize(
    ("stay", "words"),
    [
        (Stay(STORED, None, 5.0, 2.0), "drier than 3.8 % moisture"),
        (Stay(STORED, None, 5.0, 15.5), "moister than 15 %"),
        (Stay(STORED, None, 20.0, humidity_percent=6), "drier than"),
        (Stay(STORED, None, 95.0, 6.0), "warmer than 90 °C"),
    ],
)
def test_seed_beyond_the_equation_has_no_forecast_and_a_reason(stay: Stay, words: str):
    """Too dry, too moist or too hot: the sentence says which, and no figure is given."""
    found = of(stay)
    assert found.is_refused
    assert found.interval_90 is None
    assert found.half_life_years is None
    assert found.test_next_on is None
    assert found.curve == ()
    assert words in found.why


@pytest.mark.parametrize("key", ["chayote", "papaya", "wild-rice", "pawpaw"])
def test_seed_that_cannot_be_dried_has_no_forecast(key: str):
    """Recalcitrant and intermediate seed is refused by its kind."""
    assert crop(key).seed_behaviour in of(COOL, key=key).why


def test_constants_keep_the_signs_of_nature_for_every_crop():
    """Drier and colder is never shorter down to -20 °C, whatever practice did to the constants."""
    for one in all_crops():
        _, cw, ch, cq = crop_prior(one).coefficients
        assert cw > 0, one.key
        assert ch - 2 * 20 * cq > 0, one.key


def test_a_crop_with_neither_constants_nor_lists_is_unsure():
    """The spread is widest where least is known."""
    known, unknown = (
        of(Stay(STORED, None, 8.0, 5.0, airtight=True), key=key).interval_90 for key in ("cabbage", "lovage")
    )
    assert known is not None
    assert unknown is not None
    assert unknown[1] - unknown[0] > known[1] - known[0]
