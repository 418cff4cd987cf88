"""Our sums against worked examples, published or derived from published formulas; each row is a check.

The rows stand in tests/data/worked_examples.csv with their sources; `status` says of each whether the
figure itself was published or follows from a published formula.
"""

import csv
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from hilum.seedlore import drying, equilibrium, moisture, purity, weights
from hilum.seedlore.first_test import first_test
from hilum.seedlore.germination import (
    assess,
    germination_counts,
    published_limit,
    regrowing_bar_percent,
    replicate_tolerance,
    round_classes,
    rounded_half_up,
    wilson_interval,
)
from hilum.seedlore.rules_of_thumb import life_factor
from hilum.seedlore.sequential import ANOTHER, KEEP, REGROW, decide, sequential_plan

DATA = Path(__file__).parents[1] / "data" / "worked_examples.csv"
KINDS = {"test_every_topic_has_rows_and_every_row_a_check": "of our own"}
GRAMS_PER_POUND = 453.59237  # exact by definition: International Yard and Pound Agreement, 1959
ROWS = list(csv.DictReader(DATA.read_text(encoding="utf-8").splitlines()))


def close(found: float, expected: str, tolerance: str) -> None:
    """Compare one number within the tolerance that stands beside it."""
    assert found == pytest.approx(float(expected), abs=max(float(tolerance), 1e-12))


def check_moisture_oven(given: dict[str, Any], expected: str, tolerance: str) -> None:
    found = moisture.oven_moisture_percent_wb(
        given["container_g"], given["container_fresh_g"], given["container_dry_g"]
    )
    close(found, expected, tolerance)


def check_moisture_replicates(given: dict[str, Any], expected: str, tolerance: str) -> None:
    found = moisture.mean_moisture_percent_wb(*given["percent"])
    if expected == "repeat":
        assert found is None
    else:
        close(found, expected.removeprefix("accept mean "), tolerance)


def check_moisture_two_stage(given: dict[str, Any], expected: str, tolerance: str) -> None:
    found = moisture.two_stage_moisture_percent_wb(given["stage1_percent"], given["stage2_percent"])
    close(found, expected, tolerance)


def check_moisture_wet_to_dry_basis(given: dict[str, Any], expected: str, tolerance: str) -> None:
    close(moisture.dry_basis_percent(given["wet_basis_percent"]), expected, tolerance)


def check_moisture_dry_to_wet_basis(given: dict[str, Any], expected: str, tolerance: str) -> None:
    close(moisture.wet_basis_percent(given["dry_basis_percent"]), expected, tolerance)


def check_weight_after_drying(given: dict[str, Any], expected: str, tolerance: str) -> None:
    first, percent = given["initial_weight"], given["initial_mc_percent"]
    found = moisture.mass_after_drying(first, percent, given["target_mc_percent"])
    close(found, expected, tolerance)
    back = moisture.moisture_from_weight_percent_wb(first, percent, found)
    assert back == pytest.approx(given["target_mc_percent"])


def check_weight_loss_percent(given: dict[str, Any], expected: str, tolerance: str) -> None:
    found = moisture.drying_loss_percent(given["initial_mc_percent"], given["target_mc_percent"])
    close(found, expected, tolerance)


def hundreds_of(given: dict[str, Any]) -> weights.ThousandSeedWeight:
    chaffy = given.get("cv_limit") == 6.0
    return weights.thousand_seed_weight(given["replicate_weights_g"], 100, chaffy=chaffy)


def check_tsw_mean_of_replicates(given: dict[str, Any], expected: str, tolerance: str) -> None:
    close(hundreds_of(given).tsw_g / 10, expected, tolerance)


def check_tsw_cv_percent(given: dict[str, Any], expected: str, tolerance: str) -> None:
    close(hundreds_of(given).cv_percent, expected, tolerance)


def check_tsw_g(given: dict[str, Any], expected: str, tolerance: str) -> None:
    close(hundreds_of(given).tsw_g, expected, tolerance)


def check_tsw_verdict(given: dict[str, Any], expected: str, tolerance: str) -> None:
    found = hundreds_of(given)
    assert found.cv_limit_percent == given["cv_limit"]
    assert found.retest is (expected == "repeat with 8 more")


def check_tsw_discard_2sd(given: dict[str, Any], expected: str, tolerance: str) -> None:
    found, wanted = hundreds_of(given), json.loads(expected)
    assert list(found.dropped_g) == wanted["discarded"]
    close(found.tsw_g, wanted["tsw_g"], tolerance)
    assert not found.retest


def check_weighing_decimals(given: dict[str, Any], expected: str, tolerance: str) -> None:
    assert weights.weighing_decimals(given["working_sample_g"]) == int(expected)


def counted_tsw_ug(given: dict[str, Any]) -> int:
    return weights.thousand_seed_weight([given["counted_weight_g"]], given["counted_seeds"]).tsw_ug


def check_weight_per_seed(given: dict[str, Any], expected: str, tolerance: str) -> None:
    close(counted_tsw_ug(given) / 1e9, expected, tolerance)


def check_seeds_from_weight(given: dict[str, Any], expected: str, tolerance: str) -> None:
    close(weights.seeds_in(given["total_weight_g"] * 1000, counted_tsw_ug(given)), expected, tolerance)


def check_seeds_from_tsw(given: dict[str, Any], expected: str, tolerance: str) -> None:
    # Rounded down, so the published tolerance of one seed is not needed.
    found = weights.seeds_in(round(given["weight_g"] * 1000), round(given["tsw_g"] * 1_000_000))
    assert found == int(expected)


def check_seeds_per_pound(given: dict[str, Any], expected: str, tolerance: str) -> None:
    grams = given["weight_lb"] * GRAMS_PER_POUND
    tsw_ug = weights.thousand_seed_weight([grams], given["counted_seeds"]).tsw_ug
    close(weights.seeds_in(round(GRAMS_PER_POUND * 1000), tsw_ug), expected, tolerance)


def check_germination_percent(given: dict[str, Any], expected: str, tolerance: str) -> None:
    found = assess(germination_counts(given["tested"], [given["germinated"]]), None)
    close(found.percent, expected, tolerance)


def check_germination_mean_rounded(given: dict[str, Any], expected: str, tolerance: str) -> None:
    assert assess(germination_counts(100, given["replicates"]), None).percent == int(expected)


def check_replicate_range_limit(given: dict[str, Any], expected: str, tolerance: str) -> None:
    assert given["seeds_per_replicate"] == 100
    assert published_limit(given["mean_percent"], given["replicates"]).percent == int(expected)


def check_replicate_range_check(given: dict[str, Any], expected: str, tolerance: str) -> None:
    found = replicate_tolerance(given["replicates"], 100)
    sign = "<=" if found.within else ">"
    word = "accept" if found.within else "repeat"
    mean = rounded_half_up(found.mean_percent)
    assert (
        f"{word} (range {found.range_percent:g} {sign} {found.allowed_percent:g} at mean {mean})" == expected
    )


def check_round_to_100(given: dict[str, Any], expected: str, tolerance: str) -> None:
    found = round_classes(100, **given)
    assert {name: getattr(found, name) for name in given} == json.loads(expected)
    assert found.not_classed == 0


def check_regeneration_threshold(given: dict[str, Any], expected: str, tolerance: str) -> None:
    assert regrowing_bar_percent(given["initial_percent"]) == int(expected)


def check_germination_interval_95(given: dict[str, Any], expected: str, tolerance: str) -> None:
    assert given["method"] == "wilson"
    found = wilson_interval(given["germinated"], given["tested"], 0.95)
    assert found == pytest.approx(json.loads(expected), abs=float(tolerance))


def check_equilibrium_moisture(given: dict[str, Any], expected: str, tolerance: str) -> None:
    found = equilibrium.equilibrium_moisture(given["rh_percent"], given["temp_c"], given["oil_percent"])
    assert given["basis"] == "wet"
    close(found.percent_wb, expected, tolerance)


def check_equilibrium_rh(given: dict[str, Any], expected: str, tolerance: str) -> None:
    percent = given["mc_percent"]
    wet = moisture.wet_basis_percent(percent) if given["basis"] == "dry" else percent
    close(equilibrium.equilibrium_humidity(wet, given["temp_c"], given["oil_percent"]), expected, tolerance)


def check_shrink_per_point(given: dict[str, Any], expected: str, tolerance: str) -> None:
    target = given["target_mc_percent"]
    close(moisture.drying_loss_percent(target + 10, target) / 10, expected, tolerance)


def check_desiccant_mass(given: dict[str, Any], expected: str, tolerance: str) -> None:
    plan = drying.drying_plan(
        given["initial_weight_g"], given["initial_mc_percent"], given["target_mc_percent"]
    )
    close(drying.desiccant_g(plan.water_g, 100 * given["capacity_fraction"]), expected, tolerance)


def check_longevity_rule_ratio(given: dict[str, Any], expected: str, tolerance: str) -> None:
    first, other = given["from"], given["to"]
    found = life_factor(first["mc_percent"], first["temp_c"], other["mc_percent"], other["temp_c"])
    close(found.value, expected, tolerance)
    assert "rule of thumb" in found.words


def check_net_weight(given: dict[str, Any], expected: str, tolerance: str) -> None:
    # Ours to check is that a weighing in a container is read as wet seed: all of it but the tare.
    moist = moisture.oven_moisture_percent_wb(given["tare_g"], given["gross_g"], given["gross_g"] - 1)
    close(100 / moist, expected, tolerance)


def check_tsw_variance(given: dict[str, Any], expected: str, tolerance: str) -> None:
    found = hundreds_of(given)
    close((found.cv_percent / 100 * found.tsw_g / 10) ** 2, expected, tolerance)


def check_tsw_sd_g(given: dict[str, Any], expected: str, tolerance: str) -> None:
    found = hundreds_of(given)
    close(found.cv_percent / 100 * found.tsw_g / 10, expected, tolerance)


def check_seeds_per_m2(given: dict[str, Any], expected: str, tolerance: str) -> None:
    tsw_ug = round(1e9 / given["seeds_per_kg"] * 1000)
    mass_mg = given["rate_kg_per_ha"] * 1e6 / 10_000
    close(weights.seeds_in(round(mass_mg), tsw_ug), expected, tolerance)


def check_initial_test(given: dict[str, Any], expected: str, tolerance: str) -> None:
    found = first_test(given["test1"], given.get("test2", ()))
    if expected == "test 200 more":
        assert not found.finished
    else:
        assert found.finished
        close(found.percent, expected.removeprefix("accept "), tolerance)


def check_sequential_decision(given: dict[str, Any], expected: str, tolerance: str) -> None:
    plan = sequential_plan(given["standard_percent"])
    word = {"regenerate": REGROW, "repeat": ANOTHER, "store": KEEP}[expected]
    assert decide(plan, [given["cumulative_tested"]], [given["cumulative_germinated"]]).word == word


def check_pure_live_seed_percent(given: dict[str, Any], expected: str, tolerance: str) -> None:
    found = purity.pure_live_seed_percent(given["purity_percent"], given["germination_percent"])
    close(found, expected, tolerance)


def check_bulk_for_pls(given: dict[str, Any], expected: str, tolerance: str) -> None:
    found = purity.mass_for_pure_live_seed(given["pls_weight"], given["pls_percent"])
    close(found, expected, tolerance)


CHECKS: dict[str, Callable[[dict[str, Any], str, str], None]] = {
    name.removeprefix("check_"): check for name, check in list(globals().items()) if name.startswith("check_")
}


@pytest.mark.parametrize("row", ROWS, ids=[row["id"] for row in ROWS])
def test_a_worked_example_comes_out(row: dict[str, str]):
    """Inputs, expected figure, tolerance and source stand in the row."""
    assert row["source"]
    CHECKS[row["topic"]](json.loads(row["inputs"]), row["expected"], row["tolerance"])


def test_every_topic_has_rows_and_every_row_a_check():
    """No row is left out in silence, and no check waits for rows that are gone."""
    assert {row["topic"] for row in ROWS} == set(CHECKS)
    assert len({row["id"] for row in ROWS}) == len(ROWS)
    assert {row["status"] for row in ROWS} == {"published", "derived"}
