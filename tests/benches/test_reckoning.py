"""The registry of sums, as the bench that asks plain questions uses it."""

import pytest

from hilum.benches.reckoning import SumError, SumInput, all_sums, reckon, seed_sum
from hilum.benches.sums import KINDS, NUMBERS, WHOLES


def test_every_sum_is_told_in_full():
    """Title, a question with its mark, an explanation and a source; names stand once."""
    names = [one.name for one in all_sums()]
    assert len(set(names)) == len(names) == 22
    for one in all_sums():
        assert one.title
        assert one.question.endswith("?")
        assert one.explanation.endswith(".")
        assert one.source
        assert one.outputs


def test_every_input_says_what_it_is_and_where_it_ends():
    """Words for each, a known kind, and limits for every figure."""
    for one in all_sums():
        for each in one.inputs:
            assert each.words
            assert each.kind in KINDS
            if "number" in each.kind:
                assert each.limits, f"{one.name} {each.name}"
        for group in one.one_of:
            assert {one.input(name).name for name in group} == set(group)


def test_a_form_may_hand_over_figures_instead_of_words():
    """The window has numbers already; what is left out takes its default."""
    found = seed_sum("seeds-to-sow").reckon({"plants": 20, "germination": 80.0})
    assert found.result == 25
    assert reckon("seeds-to-sow", {"plants": "20", "germination": "80"}) == found


@pytest.mark.parametrize(
    ("low", "high", "above", "below", "words"),
    [
        (0, 100, False, False, "0 to 100 %"),
        (0, 100, True, False, "more than 0 and at most 100 %"),
        (0, 100, False, True, "0 or more and less than 100 %"),
        (0, 100, True, True, "more than 0 and less than 100 %"),
        (1, None, False, False, "1 % or more"),
        (None, 9, False, False, "9 % or less"),
        (None, None, False, False, ""),
    ],
)
def test_limits_are_told_in_words(low, high, above: bool, below: bool, words: str):
    """As they stand in a refusal and beside a field."""
    one = SumInput("x", "a figure", "%", low=low, high=high, above_low=above, below_high=below)
    assert one.limits == words


def test_lists_are_read_with_commas():
    """One figure is a list of one; each figure is held to the limits."""
    assert SumInput("x", "figures", "g", NUMBERS, 0, 5).read(" 1, 2.5 ") == (1.0, 2.5)
    assert SumInput("x", "figures", "", WHOLES, 0, 5).read("3") == (3,)
    with pytest.raises(SumError, match="x=9 is out of range"):
        SumInput("x", "figures", "", WHOLES, 0, 5).read("3,9")
    with pytest.raises(SumError, match="no number"):
        SumInput("x", "figures", "g", NUMBERS, 0, 5).read("nan")
