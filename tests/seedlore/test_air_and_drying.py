"""Seed and air, drying plans, rules of thumb, storage life: what must always hold."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from hilum.seedlore.arrays import RangeError
from hilum.seedlore.crops import all_crops
from hilum.seedlore.drying import DryingError, desiccant_g, drying_plan
from hilum.seedlore.equilibrium import equilibrium_humidity, equilibrium_moisture
from hilum.seedlore.moisture import MoistureError, moisture_from_weight_percent_wb
from hilum.seedlore.purity import PurityError, mass_for_pure_live_seed, pure_live_seed_percent
from hilum.seedlore.rules_of_thumb import hundred_rule, life_factor
from hilum.seedlore.storage_life import oil_content, printed_lives, usual_life
from hilum.seedlore.tables import table

humidities, airs, oils = st.floats(1, 95), st.floats(0, 40), st.floats(0, 55)


@given(humidities, airs, oils)
def test_moisture_and_humidity_undo_each_other(humidity: float, air: float, oil: float):
    """The humidity in balance with the moisture found is the humidity asked."""
    found = equilibrium_moisture(humidity, air, oil)
    assert equilibrium_humidity(found.percent_wb, air, oil) == pytest.approx(humidity, rel=1e-9)
    assert 0 < found.percent_wb < found.percent_db


@given(humidities, humidities, airs, oils, oils)
def test_damper_air_and_less_oil_make_moister_seed(h1: float, h2: float, air: float, o1: float, o2: float):
    """In every temperature."""
    (dry, damp), (lean, oily) = sorted((h1, h2)), sorted((o1, o2))
    assert equilibrium_moisture(dry, air, lean).percent_wb <= equilibrium_moisture(damp, air, lean).percent_wb
    assert (
        equilibrium_moisture(damp, air, oily).percent_wb <= equilibrium_moisture(damp, air, lean).percent_wb
    )


def test_air_comes_in_arrays_too():
    """Place by place the same."""
    found = equilibrium_moisture(np.array([15.0, 50.0]), 20.0, 2.0)
    assert found.percent_wb == pytest.approx(
        [equilibrium_moisture(one, 20.0, 2.0).percent_wb for one in (15.0, 50.0)]
    )


def test_air_outside_the_recommended_range_is_noted():
    """Very damp air, or oily seed in the cold, still gives a figure, with a note."""
    assert equilibrium_moisture(50, 20, 30).notes == ()
    assert "10 to 70 %" in equilibrium_moisture(80, 20, 2).notes[0]
    assert "oily seed 15 to 25 °C" in equilibrium_moisture(50, 5, 30).notes[0]
    assert equilibrium_moisture(50, 5, 2).notes == ()


@given(st.floats(1, 1e5), st.floats(5, 40), st.floats(0, 1))
def test_the_scale_tells_when_to_stop(grams: float, moist: float, part: float):
    """At the target weight the seed has the moisture wanted, and what was lost is the water."""
    wanted = moist * part
    plan = drying_plan(grams, moist, wanted)
    assert moisture_from_weight_percent_wb(grams, moist, plan.target_g) == pytest.approx(wanted, abs=1e-6)
    assert plan.target_g + plan.water_g == pytest.approx(grams)
    assert plan.target_g - 0.01 - 1e-9 <= plan.stop_at_g <= plan.target_g + 1e-6
    masses = [stage.mass_g for stage in plan.stages]
    assert masses == sorted(masses, reverse=True)
    assert masses[-1] == pytest.approx(plan.target_g)


def test_a_drying_plan_says_what_to_mind():
    """Wet seed is dried in air first; starchy seed not below five percent; desiccant is baked."""
    assert any("moving air" in note for note in drying_plan(100, 25, 8).notes)
    assert any("hard or crack" in note for note in drying_plan(100, 10, 4, oily=False).notes)
    assert not any("hard or crack" in note for note in drying_plan(100, 10, 4, oily=True).notes)
    assert drying_plan(100, 8, 8).water_g == 0
    assert drying_plan(100, 8, 8).silica_gel_g == 0


def test_wetting_is_no_drying():
    """A higher moisture wanted is refused in words, as is a moisture that cannot be."""
    with pytest.raises(DryingError, match="is wetting, not drying"):
        drying_plan(100, 6, 12)
    with pytest.raises(MoistureError, match="less than 100"):
        drying_plan(100, 100, 12)
    with pytest.raises(DryingError, match="capacity of 0 %"):
        desiccant_g(5, 0)


def test_rules_of_thumb_are_labelled_and_stay_in_their_range():
    """They always carry their label, and beyond their range there is no answer."""
    assert "rule of thumb" in life_factor(9, 25, 10, 30).words
    assert "rule of thumb" in hundred_rule(10, 50).words
    assert hundred_rule(12, 20).value == 0  # 54 °F alone is more than the half that warmth may make up
    with pytest.raises(RangeError, match="5 to 14"):
        life_factor(15, 20, 8, 10)
    with pytest.raises(RangeError, match="0 to 50"):
        life_factor(10, -18, 8, 10)


def test_storage_lives_belong_to_crops_that_there_are():
    """No printed life names a crop that is not in the table of crops."""
    keys = {one.key for one in all_crops()}
    named = {key for line in table("storage_life") for key in line.pieces("crops")} - {"none"}
    assert named - keys == set()


def test_a_usual_life_is_wide():
    """Lists that copy one another are no proof; a crop without any has no life made up for it."""
    life = usual_life("lettuce")
    assert life is not None
    assert life.log_spread >= 0.3
    assert life.years_low <= life.years <= life.years_high
    assert len(printed_lives("lettuce")) == 9
    assert all(one.source for one in printed_lives("lettuce"))
    assert usual_life("chayote") is None


def test_the_most_ever_seen_is_no_usual_life():
    """A record age is kept with its meaning and does not pull the middle up."""
    most = [one for one in printed_lives("onion") if one.meaning == "most"]
    life = usual_life("onion")
    assert life is not None
    assert most
    assert not set(most) & set(life.figures)


def test_oil_is_from_memory_and_says_so():
    """Every figure of oil names where it is from; oily crops have more than starchy ones."""
    sunflower, pea = oil_content("Helianthus annuus"), oil_content("Pisum sativum")
    assert sunflower is not None
    assert pea is not None
    assert sunflower.percent_db > 20 > pea.percent_db
    assert sunflower.source == "from memory"
    assert oil_content("Nomen nescio") is None


def test_pure_live_seed_is_refused_beyond_a_hundred():
    """Percentages must be percentages."""
    assert pure_live_seed_percent(100, 100) == 100
    with pytest.raises(PurityError, match="purity of 101 %"):
        pure_live_seed_percent(101, 50)
    with pytest.raises(PurityError, match="percentage above 0"):
        mass_for_pure_live_seed(3, 0)
