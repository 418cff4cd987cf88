"""Sequential plans against the published rows, and the computed ones against rows reckoned apart."""

import csv
from pathlib import Path

import pytest

from hilum.seedlore.sequential import computed_plan, sequential_plan

DATA = Path(__file__).parents[1] / "data" / "sequential_plan.csv"
ROWS = list(csv.DictReader(DATA.read_text(encoding="utf-8").splitlines()))


def row_of(row: dict[str, str]) -> tuple[int, int | None, int | None]:
    """Give a row as the plan has it: tested, regrow at most, keep at least."""
    regrow, keep = row["regrow_at_most"], row["keep_at_least"]
    return int(row["tested"]), int(regrow) if regrow else None, int(keep) if keep else None


@pytest.mark.parametrize("row", ROWS, ids=[f"{row['standard_percent']}-{row['tested']}" for row in ROWS])
def test_a_row_of_the_plan_comes_out(row: dict[str, str]):
    """The row that is shipped or computed for the standard, and Wald's boundary gives the same."""
    percent = float(row["standard_percent"])
    for plan in (sequential_plan(percent), computed_plan(percent)):
        step = plan.step(int(row["tested"]))
        assert (step.tested, step.regrow_at_most, step.keep_at_least) == row_of(row)
    assert row["source"]
