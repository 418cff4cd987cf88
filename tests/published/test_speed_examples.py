"""The speed of germination against worked figures; each row of the table is a check.

The counts are ordinary tests; the figures were worked out elsewhere from the published formulas, so they
check the sums and not the formulas. Three figures of a program that passes over a running total which is
exactly one half are left out: ours take that day, as the row beside them says.
"""

import csv
import json
from pathlib import Path
from typing import Any

import pytest

from hilum.seedlore.speed import germination_speed, newly_germinated

ROWS = list(
    csv.DictReader(
        (Path(__file__).parents[1] / "data" / "speed_examples.csv").read_text(encoding="utf-8").splitlines()
    )
)
KINDS = {"test_every_topic_is_known": "of our own"}
FIGURES = {
    "germination_percent_from_counts": "percent",
    "first_germination_day": "first_day",
    "last_germination_day": "last_day",
    "peak_germination_day": "peak_days",
    "mean_germination_time": "mean_days",
    "variance_germination_time": "variance",
    "se_germination_time": "standard_error",
    "mean_germination_rate": "mean_rate",
    "coefficient_of_velocity": "velocity",
    "t50_coolbear": "t50_days",
    "t50_coolbear_tie": "t50_days",
    "t50_farooq": "t50_half_days",
    "t50_farooq_tie": "t50_half_days",
    "t50_of_sown": "t50_of_sown_days",
    "germination_rate_index_count": "rate_index",
    "germination_rate_index_percent": "rate_index_percent",
    "germination_synchrony": "synchrony",
    "germination_uncertainty": "uncertainty_bits",
}


def counted(given: dict[str, Any]) -> tuple[list[int], int]:
    """Give the seeds newly germinated at each count, and those sown."""
    counts = given["counts"] if "counts" in given else list(newly_germinated(given["cumulative"]))
    return counts, given.get("seeds_tested") or given["n_viable"]


@pytest.mark.parametrize("row", ROWS, ids=[row["id"] for row in ROWS])
def test_a_worked_speed_comes_out(row: dict[str, str]):
    """Inputs, expected figure, tolerance and source stand in the row."""
    given = json.loads(row["inputs"])
    counts, sown = counted(given)
    assert row["source"]
    assert given.get("tie_rule", "exact_count_is_t50") == "exact_count_is_t50"
    found = getattr(germination_speed(given["days"], counts, sown), FIGURES[row["topic"]])
    if row["expected"] in ("undefined", "not reached"):
        assert found is None
        return
    expected = json.loads(row["expected"])
    if row["topic"] == "peak_germination_day":
        assert list(found) == (expected if isinstance(expected, list) else [expected])
        return
    assert found == pytest.approx(expected, abs=max(float(row["tolerance"]), 1e-12))


def test_every_topic_is_known():
    """No row is left out in silence, and no figure waits for rows that are gone."""
    assert {row["topic"] for row in ROWS} == set(FIGURES)
    assert {row["status"] for row in ROWS} == {"derived"}
