"""The species constants against print; each usable set is a check, doubtful ones are shown to be kept back.

Status "published" is a set printed in the paper named, read in its abstract or in a compilation; "from memory" is
one that nobody saw in print for this table. Each row also checks that the equation gives, with the set, what a
plain logarithm gives.
"""

import csv
import math
from pathlib import Path

import pytest

from hilum.errors import BadInput
from hilum.seedlore.conditions import storage_conditions
from hilum.seedlore.constants import (
    DOUBTFUL,
    FROM_MEMORY,
    NoConstants,
    all_constants,
    constants_of,
    left_out_constants,
    usable_constants,
)
from hilum.seedlore.crops import all_crops
from hilum.seedlore.longevity import sigma_days

DATA = Path(__file__).parents[1] / "data" / "viability_constants.csv"
ROWS = list(csv.DictReader(DATA.read_text(encoding="utf-8").splitlines()))
KINDS = {
    "test_no_crop_links_to_constants_that_are_not_there": "of our own",
    "test_bad_records_are_never_used": "of our own",
    "test_doubtful_sets_are_refused_with_their_doubt": "of our own",
    "test_every_usable_set_has_a_row": "of our own",
}


@pytest.mark.parametrize("row", ROWS, ids=[row["id"] for row in ROWS])
def test_a_printed_set_is_kept(row: dict[str, str]):
    """The figures as printed, the source beside them, and sigma at 8 % and 15 °C."""
    figures = tuple(float(row[name]) for name in ("ke", "cw", "ch", "cq"))
    found = [
        one
        for one in all_constants()
        if (one.ke, one.cw, one.ch, one.cq) == figures and one.taxon == row["taxon"]
    ]
    assert [one.source for one in found] == [row["source"]]
    assert found[0].standing == ("sound" if row["status"] == "published" else FROM_MEMORY)
    ke, cw, ch, cq = figures
    plain = 10 ** (ke - cw * math.log10(8) - 15 * ch - 225 * cq)
    assert sigma_days(found[0], storage_conditions(8.0, 15.0)) == pytest.approx(plain, rel=1e-12)


def test_every_usable_set_has_a_row():
    """The table that is shipped and the rows of this check hold the same sets."""
    usable = [one for one in all_constants() if one.standing != DOUBTFUL]
    assert len(usable) == len(ROWS)


def test_no_crop_links_to_constants_that_are_not_there():
    """Every link of the table of crops finds a set, sound or at least doubtful."""
    known = {one.species for one in all_constants()}
    assert [one.key for one in all_crops() if one.constants_species not in {None, *known}] == []


def test_bad_records_are_never_used():
    """Wrong signs, a repeated term and the two rice sets with an unconverted intercept are left out by name."""
    left_out = left_out_constants()
    assert sorted(one.taxon for one in left_out) == [
        "Oryza glaberrima",
        "Oryza sativa subsp. japonica",
        "Saccharum sp.",
        "Solanum lycopersicum",
        "Sorghum bicolor",
        "Sorghum bicolor",
    ]
    assert all(one.why for one in left_out)
    sound = [one for one in all_constants() if one.standing == "sound"]
    assert all(one.cw >= 2 and 0.015 <= one.ch <= 0.06 and one.cq > 0 for one in sound)


def test_doubtful_sets_are_refused_with_their_doubt():
    """A crop with doubtful constants only is refused in words that name the doubt; they can be seen on demand."""
    assert constants_of("Eruca sativa") == ()
    assert len(constants_of("Eruca sativa", (DOUBTFUL,))) == 1
    with pytest.raises(NoConstants, match="CW is below 2"):
        usable_constants("Eruca sativa", "Rocket")
    with pytest.raises(BadInput, match="No constants of longevity are published for Leek"):
        usable_constants(None, "Leek")
