"""Text as it is stored and as it is compared."""

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hilum.catalogue.folding import fold, tidy


@pytest.mark.parametrize(
    ("text", "folded"),
    [
        ("Crème  Brûlée", "creme brulee"),
        ("STRASSE", "strasse"),
        ("Straße", "strasse"),
        ("Black-seeded", "black seeded"),
        ("O'Neil’s", "oneils"),
        ("LEK-25-001-S", "lek 25 001 s"),
        ("Ёлка", "елка"),
        ("İstanbul", "istanbul"),
        ("½ kg", "1 2 kg"),
        ("上海青", "上海青"),
        (" \t\n", ""),
    ],
)
def test_text_is_folded_as_people_type(text: str, folded: str) -> None:
    """Case, accents, apostrophes and marks make no difference."""
    assert fold(text) == folded


@given(text=st.text())
def test_folding_twice_is_folding_once(text: str) -> None:
    """Folded text is stable, so that stored and typed text meet."""
    assert fold(fold(text)) == fold(text)
    assert tidy(tidy(text)) == tidy(text)


@given(text=st.text())
def test_folded_text_is_words_and_single_spaces(text: str) -> None:
    """Nothing that a query could take for syntax is left; vowel signs of Indic and Thai words stay."""
    assert all(ch.isalnum() or ch == " " or unicodedata.category(ch) in ("Mn", "Mc") for ch in fold(text))
    assert "  " not in fold(text)
