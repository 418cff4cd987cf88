"""What keepers know from practice and what our figures say: common practice, no source."""

import math
from datetime import date

import pytest

from hilum.labels.designs import design
from hilum.seedlore.cautions import work_cautions
from hilum.seedlore.conditions import lower_moisture_limit, storage_conditions
from hilum.seedlore.constants import constants_of
from hilum.seedlore.crops import crop
from hilum.seedlore.crossing import isolation, would_cross
from hilum.seedlore.deviates import deviate_from_percent
from hilum.seedlore.longevity import sigma_days, viability_percent
from hilum.seedlore.practice import PracticeFact, practice_facts
from hilum.seedlore.ripening import EMPTY_SEED, ripening
from hilum.seedlore.storage_life import usual_life
from hilum.seedlore.weights import seeds_in

KIND = "common practice"
LETTUCE = crop("lettuce")


def lettuce_percent(moisture: float, storage_c: float, years: float) -> list[float]:
    """Give what each published lettuce set says of a lot that began with 95 %."""
    limit = lower_moisture_limit("Lactuca sativa", 35.0)
    at = storage_conditions(moisture, storage_c, lower_limit_percent_wb=limit.percent_wb if limit else None)
    start = deviate_from_percent(95)
    return [
        float(viability_percent(start, 365 * years, sigma_days(one, at)))
        for one in constants_of("Lactuca sativa")
    ]


def fact(about: str) -> PracticeFact:
    """Give the one fact of practice of lettuce about something."""
    [found] = (one for one in practice_facts("lettuce") if one.about == about)
    assert found.source == "common practice, no source"
    return found


def test_lettuce_is_a_selfer_that_wants_a_few_metres():
    """A few metres, more in hot summers, and cages or sowing in turn instead. Common practice, no source."""
    found = isolation(LETTUCE)
    assert LETTUCE.mating == "selfing"
    assert found.distance_m_min is not None
    assert 1 <= found.distance_m_min <= 10
    words = " ".join(one.words for one in found.ways)
    assert "hot" in words
    assert "cage" in words
    assert "sow in turns" in words


def test_two_lettuces_side_by_side_seldom_cross():
    """Two selfing lettuces cross only where they stand close. Common practice, no source."""
    found = would_cross(LETTUCE, LETTUCE)
    assert found.answer == "rarely"
    assert "close" in found.why


def test_lettuce_wants_about_a_dozen_seed_plants():
    """At least a dozen, by practice; our crop table says ten at least and fifty better."""
    assert LETTUCE.plants_min is not None
    assert LETTUCE.plants_recommended is not None
    assert 10 <= LETTUCE.plants_min <= 12 <= LETTUCE.plants_recommended
    assert fact("plants").low == 12


def test_one_good_lettuce_plant_fills_many_packets():
    """10 to 15 g from one plant are some ten thousand seeds. Common practice, no source."""
    grams = LETTUCE.thousand_seed_weight_g
    assert grams is not None
    assert (fact("yield").low, fact("yield").high, fact("yield").unit) == (10, 15, "g")
    tsw_ug = round(grams * 1e6)
    assert 5_000 <= seeds_in(10_000, tsw_ug) < seeds_in(15_000, tsw_ug) <= 20_000


def test_lettuce_keeps_about_five_years():
    """About five years on average in good keeping; the printed lives say so too. Common practice, no source."""
    life = usual_life("lettuce")
    assert life is not None
    assert math.log(life.years) == pytest.approx(math.log(5), abs=2 * life.log_spread)
    assert (fact("keeping").low, fact("frozen keeping").low) == (5, 9)


def test_frozen_dry_lettuce_keeps_nine_years_and_more():
    """Nine years or more frozen: every published set agrees. Common practice, no source."""
    assert min(lettuce_percent(5.0, -18.0, 9.0)) > 80


def test_lettuce_fails_fast_in_bad_storage():
    """A warm, damp shed is the end of it within two years. Common practice, no source."""
    assert max(lettuce_percent(11.0, 28.0, 2.0)) < 5


def test_an_airy_shelf_takes_lettuce_faster_by_the_sets_than_by_practice():
    """At 8 % and 20 °C one published set has nothing left after five years: the equation alone is too dark there.

    So the sets are kept apart and shown with their range. Common practice, no source.
    """
    found = lettuce_percent(8.0, 20.0, 5.0)
    assert min(found) < 1
    assert max(found) < 50


def test_a_packet_says_crop_variety_year_and_place():
    """A seed bag is labelled with species, variety, year and place grown. Common practice, no source."""
    for name in ("packet", "packet-small"):
        assert {"crop", "variety", "year", "place_grown"} <= set(design(name).required)


def test_freezing_is_said_to_be_used_against_insects_and_not_to_be_sure():
    """Some days in a freezer kill larvae, say keepers; trials differ. Common practice, no source."""
    words = " ".join(caution.words for caution in work_cautions("freezing"))
    assert "against insects" in words
    assert "not sure" in words


def test_lettuce_is_ripe_two_to_three_weeks_after_its_bloom():
    """12 to 24 days pass from its bloom to ripe seed. Common practice, no source."""
    found = ripening("lettuce")
    assert found is not None
    assert found.ripe(date(2026, 7, 1)) == (date(2026, 7, 13), date(2026, 7, 25))
    assert found.source == "common practice, no source"


def test_empty_seeds_are_put_down_to_the_flower_and_not_to_age():
    """They come from unpollinated flowers. Common practice, no source."""
    assert "not pollinated" in EMPTY_SEED
    assert "no sign of age" in EMPTY_SEED
