"""The readers of constants and plans refuse a damaged table, naming the line."""

import pytest

from hilum.seedlore import constants, storage_life
from hilum.seedlore.tables import Line, TableError

SET = {
    "species": "Nomen nescio", "taxon": "Nomen nescio", "common_name": "no name", "ke": "7", "cw": "4", "ch": "0.03",
    "cq": "0.0005", "ke_se": "", "cw_se": "", "temperature_terms": "fitted", "read_in": "a compilation",
    "standing": "sound", "doubt": "", "source": "nobody 1900", "note": "",
}  # fmt: skip


def line(**changes: str) -> Line:
    """Give one line of the table of constants with some cells changed."""
    return Line("viability_constants.csv", 7, SET | changes)


def test_a_sound_set_is_read():
    """As it stands in the table."""
    found = constants._read(line())
    assert found is not None
    assert (found.ke, found.standing, found.words) == (7.0, "sound", "nobody 1900")


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"standing": "doubtful"}, "a set that is doubtful must say why"),
        ({"standing": "fine"}, "allowed are sound, from memory, doubtful, left out"),
        ({"cw": "-0.3"}, "would let moist seed live longest"),
        ({"ch": "-0.05"}, "warm seed"),
        ({"ke": "seven"}, "ke is 'seven', which is no number"),
        ({"source": ""}, "source is empty"),
    ],
)
def test_a_damaged_line_is_named(changes: dict[str, str], words: str):
    """File and line, what is wrong with it, and that the program must be installed again."""
    with pytest.raises(TableError) as refused:
        constants._read(line(**changes))
    assert "viability_constants.csv, line 7" in str(refused.value)
    assert words in str(refused.value)


def test_a_set_that_is_left_out_may_have_wrong_signs():
    """It is kept for the record and never made into constants."""
    assert constants._read(line(standing="left out", doubt="wrong sign", cw="-0.3")) is None


def test_a_doubtful_set_is_cited_with_its_doubt():
    """Wherever it is shown, the doubt stands beside the source."""
    found = constants._read(line(standing="doubtful", doubt="one temperature only", read_in="from memory"))
    assert found is not None
    assert found.words == "nobody 1900 (from memory); doubtful: one temperature only"


def test_a_life_that_ends_before_it_begins_is_refused():
    """Years run from low to high."""
    bad = Line("storage_life.csv", 9, {"years_low": "5", "years_high": "3"})
    with pytest.raises(TableError, match=r"storage_life\.csv, line 9: 5 to 3 years cannot be"):
        storage_life._read(bad)
