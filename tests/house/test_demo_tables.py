"""The tables of the demo library fit together; what is made from them is tested where it is made."""

import csv

import pytest

from tests.support.sources import ROOT

KINDS_OF_PLACE = {"room", "freezer", "fridge", "shelf", "box", "slot"}


def rows_of(table: str) -> list[dict[str, str]]:
    """Read one of the demo tables."""
    with (ROOT / "resources" / "demo" / f"{table}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file, strict=True))


def test_every_variety_is_of_a_crop_of_the_valley():
    """No variety hangs in the air, no crop is without one, and no name comes twice."""
    crops = [row["crop"] for row in rows_of("crops")]
    varieties = rows_of("varieties")
    assert len(set(crops)) == len(crops)
    assert {row["crop"] for row in varieties} == set(crops)
    names = [row["variety"] for row in varieties] + [row["synonym"] for row in varieties if row["synonym"]]
    assert len(set(names)) == len(names)


def test_the_valley_is_large_enough_to_be_a_trial():
    """A library of this size shows what a keeper's own will be like."""
    assert len(rows_of("crops")) >= 45
    assert len(rows_of("varieties")) >= 155
    assert len(rows_of("growers")) == 25
    assert len(rows_of("places")) >= 20


@pytest.mark.parametrize(("low", "high"), [("grams_low", "grams_high"), ("plants_low", "plants_high")])
def test_ranges_run_upwards(low: str, high: str):
    """Both ends of a range are numbers above nothing, the lower one first."""
    assert [row["crop"] for row in rows_of("crops") if not 0 < float(row[low]) < float(row[high])] == []


def test_figures_for_made_up_tests_are_possible():
    """A germination is a percentage, a loss leaves something of it, a seed weighs something."""
    for row in rows_of("crops"):
        assert 50 <= float(row["first_germination_percent"]) <= 100, row
        assert 0 < float(row["yearly_loss_percent"]) < 30, row
        assert 0 < float(row["thousand_seed_weight_g"]) < 2_000, row


def test_the_store_is_a_tree():
    """Every place but the rooms lies in one that stands before it; kinds and climates are possible."""
    seen: set[str] = set()
    for row in rows_of("store_places"):
        assert row["key"] not in seen
        assert row["kind"] in KINDS_OF_PLACE
        assert (row["parent"] in seen) or (row["parent"] == "" and row["kind"] == "room"), row
        assert row["temperature_c"] == "" or -30 <= float(row["temperature_c"]) <= 35
        assert row["humidity_percent"] == "" or 5 <= float(row["humidity_percent"]) <= 95
        seen.add(row["key"])
    assert {"-18"} == {row["temperature_c"] for row in rows_of("store_places") if row["kind"] == "freezer"}
