"""Check characters of lot numbers against published examples and a general library for standard numbers."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from stdnum.iso7064 import mod_37_2

from hilum.catalogue.numbering import check_character, is_well_formed

KINDS = {
    "test_published_examples": "published",
    "test_any_text_has_the_check_character_of_the_general_library": "derived",
    "test_any_text_is_well_formed_exactly_when_the_general_library_says_so": "derived",
}

# ISO/IEC 7064:2003, pure system MOD 37-2.
EXAMPLES = [
    # Source: python-stdnum 2.2, documentation of stdnum.iso7064.mod_37_2.
    ("G123489654321", "Y"),
    # Source: python-stdnum 2.2, its test file for ISO 7064.
    ("G123498654321", "H"),
]


@pytest.mark.parametrize(("text", "check"), EXAMPLES)
def test_published_examples(text: str, check: str) -> None:
    """The examples come out as published, and the published library agrees with its own."""
    assert check_character(text) == check
    assert is_well_formed(text + check)
    assert mod_37_2.calc_check_digit(text) == check


@given(text=st.text("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ", min_size=1, max_size=20))
def test_any_text_has_the_check_character_of_the_general_library(text: str) -> None:
    """Source: python-stdnum 2.2, stdnum.iso7064.mod_37_2.calc_check_digit, an independent implementation."""
    assert check_character(text) == mod_37_2.calc_check_digit(text)


@given(text=st.text("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*", min_size=2, max_size=20))
def test_any_text_is_well_formed_exactly_when_the_general_library_says_so(text: str) -> None:
    """Source: python-stdnum 2.2, stdnum.iso7064.mod_37_2.is_valid; a star may only be the check itself."""
    assert is_well_formed(text) == ("*" not in text[:-1] and mod_37_2.is_valid(text))
