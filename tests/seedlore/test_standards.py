"""Standards: a published one by its kind, one of the library's own by its figure."""

import pytest

from hilum.errors import BadInput
from hilum.seedlore.standards import Standard, UnknownStandard, standard


def test_a_kind_without_a_standard_is_refused_in_words():
    """Nothing is assumed for it."""
    with pytest.raises(UnknownStandard, match=r"no published standard for 'Wheat'. Set one of your own"):
        standard("Wheat")


@pytest.mark.parametrize("percent", [0, -5, 100.5])
def test_a_standard_out_of_range_is_refused(percent: float):
    """A bar of nought would keep dead seed."""
    with pytest.raises(BadInput, match="cannot be"):
        Standard("Leek", percent, False, "our own")


def test_a_standard_names_itself():
    """A verdict says which bar it means."""
    assert Standard("Kale", 82.5, False, "our own").words == "the standard for Kale, 82.5 %"
