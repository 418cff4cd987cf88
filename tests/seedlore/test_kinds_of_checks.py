"""The count of checks by kind that packaging/published.py prints."""

from tests.support.published_kinds import WORDS, summary


def test_each_kind_is_counted_and_all_hold():
    """One line a kind that is there, one for the whole."""
    kinds = {"a": "published", "b": "published", "c": "common practice"}
    lines = summary(kinds, set())
    assert [line.split()[0] for line in lines] == ["2", "1", "3"]
    assert lines[0].endswith(WORDS["published"])
    assert lines[-1].endswith("checks; all hold")


def test_what_does_not_hold_is_shouted():
    """In its own line and in the last."""
    lines = summary({"a": "published", "b": "derived"}, {"b"})
    assert "DO NOT HOLD" not in lines[0]
    assert "1 DO NOT HOLD" in lines[1]
    assert lines[-1].endswith("1 do not hold")
