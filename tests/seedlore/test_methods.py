"""Published methods: every row can be laid out, and what is doubtful says so."""

import pytest

from hilum.seedlore.methods import UnknownMethod, all_methods, method, substrate, warmth
from hilum.seedlore.tables import table


def test_every_row_of_the_table_is_read():
    """Further methods for a kind hang under its regular one."""
    rows = sum(1 + len(one.others) for one in all_methods())
    assert rows == len(table("germination_method")) == 294


def test_a_method_gives_all_that_is_needed_to_lay_out_dishes():
    """Celery: light, two temperatures, counting days, what breaks dormancy."""
    celery = method("celery")
    assert [one.name for one in celery.substrates] == ["covered Petri dish"]
    assert celery.warmth.words == "15 °C for 16 h, 25 °C for 8 h a day"
    assert [one.words for one in celery.alternates] == ["20 °C"]
    assert celery.count_days == (10, 21)
    assert celery.light == "required"
    assert celery.doubts == ()


def test_a_single_count_is_no_first_count():
    """Lettuce and garden bean are judged only at the end."""
    assert method("lettuce").first_count_days is None
    assert method("lettuce").count_days == (7,)


def test_what_is_doubtful_about_a_row_is_not_used_silently():
    """The print consulted is unclear in three places."""
    doubtful = {one.key: one.doubts[0] for one in all_methods() if one.doubts}
    assert set(doubtful) == {"celeriac", "chickpea", "clover-kenya"}
    assert "likely a misprint for 15-25" in doubtful["celeriac"]


def test_the_field_method_of_a_kind_that_is_also_a_vegetable_has_its_own_key():
    """Two rows of one name in two parts of the table."""
    assert method("cowpea-field").kind == method("cowpea").kind == "Cowpea"


@pytest.mark.parametrize("text", ["", "warm", "20-", "20-thirty"])
def test_a_text_that_is_no_temperature_is_refused(text: str):
    """A temperature is one number or two with a dash."""
    with pytest.raises(ValueError):  # noqa: PT011 - the words are Python's own
        warmth(text)


def test_unknown_keys_are_refused_in_words():
    """Keys come from the table of links, and from scripts."""
    with pytest.raises(UnknownMethod, match="no published germination method 'unicorn'"):
        method("unicorn")
    with pytest.raises(UnknownMethod, match="no substrate 'Z'; there are B, TB, T"):
        substrate("Z")
