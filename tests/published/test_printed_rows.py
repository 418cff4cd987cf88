"""Every printed row of the tables of methods and of storage lives, as the program gives it out.

The tables were compiled from print row by row; a digest of the figures and words that were printed makes
sure that none is changed by accident, and each row is then read through the program's own door.
"""

import csv
import hashlib

import pytest

from hilum.resources import resource
from hilum.seedlore.crops import all_crops
from hilum.seedlore.methods import GerminationMethod, all_methods, warmth
from hilum.seedlore.storage_life import printed_lives

KIND = "published"
KINDS = {"test_the_compiled_columns_are_as_they_were_compiled": "of our own"}

Row = dict[str, str]


def rows_of(name: str) -> list[Row]:
    """Give the rows of a shipped table, each as plain text."""
    text = resource("seedlore", f"{name}.csv").read_text(encoding="utf-8")
    return list(csv.DictReader(text.splitlines()))


METHODS, LIVES = rows_of("germination_method"), rows_of("storage_life")
# The columns that were printed, and the beginning of the SHA-256 of all their cells, each ended by a line feed.
COMPILED = {
    "germination_method": (
        "substrata temperature_c alternate_temperatures_c first_count_days final_count_days hard_seed_possible light "
        "kno3 prechill_temperature_c prechill_days",
        "1d8136fb0dc066d0",
    ),
    "storage_life": ("kind years_low years_high measure conditions source", "c672f170f14ebeae"),
    "crops": (
        "crop isolation_m_min isolation_m_max population_min population_recommended seeds_per_gram_low "
        "seeds_per_gram_high storage_life_years_typical seed_behaviour sources",
        "02897213195ca057",
    ),
}


@pytest.mark.parametrize("name", COMPILED)
def test_the_compiled_columns_are_as_they_were_compiled(name: str):
    """A figure mended with a source changes the digest in the same step, and nothing else does."""
    columns, digest = COMPILED[name]
    cells = "".join(f"{row[column]}\n" for row in rows_of(name) for column in columns.split())
    assert hashlib.sha256(cells.encode()).hexdigest()[:16] == digest


def methods_of(key: str) -> tuple[GerminationMethod, ...]:
    """Give the regular method of a kind and those that hang under it."""
    [regular] = (one for one in all_methods() if one.key == key)
    return (regular, *regular.others)


@pytest.mark.parametrize(
    "place", range(len(METHODS)), ids=[f"{row['key']}-{row['method']}" for row in METHODS]
)
def test_a_method_is_given_as_printed(place: int):
    """Substrata, temperatures and counting days. Source: 7 CFR 201.58, Table 2 (2015 annual edition)."""
    row = METHODS[place]
    found = methods_of(row["key"])[sum(one["key"] == row["key"] for one in METHODS[:place])]
    assert "7 CFR 201.58" in found.source
    assert " ".join(one.code for one in found.substrates) == row["substrata"]
    assert found.warmth == warmth(row["temperature_c"])
    assert [found.warmth.long_c, found.warmth.short_c][: row["temperature_c"].count("-") + 1] == [
        int(one) for one in row["temperature_c"].split("-")
    ]
    days = (
        "" if found.first_count_days is None else str(found.first_count_days),
        str(found.final_count_days),
    )
    assert days == (row["first_count_days"], row["final_count_days"])
    assert found.hard_seed_possible is (row["hard_seed_possible"] == "yes")
    assert (found.notes or "") == row["note"]
    assert bool(found.doubts) is ("check before use" in row["note"])


KEYS = {one.key for one in all_crops()}


@pytest.mark.parametrize("row", LIVES, ids=[f"{at}-{row['kind']}" for at, row in enumerate(LIVES, 2)])
def test_a_printed_life_reaches_its_crops(row: Row):
    """Each crop the row speaks of is given the figure with its meaning; the source stands in the row."""
    crops = [one.strip() for one in row["crops"].split(";")]
    assert row["source"]
    if crops == ["none"]:
        assert all(
            row["kind"] != life.kind or life.source != row["source"]
            for key in KEYS
            for life in printed_lives(key)
        )
        return
    assert set(crops) <= KEYS
    wanted = (float(row["years_low"]), float(row["years_high"]), row["measure"], row["source"])
    for crop in crops:
        given = [(one.years_low, one.years_high, one.measure, one.source) for one in printed_lives(crop)]
        assert wanted in given
