"""Breaks: words parted by script and language, and never where they must stay whole."""

import pytest

from hilum.labels.boxes import set_downwards
from hilum.labels.breaks import hyphenations, pieces
from hilum.labels.designs import Part, TextBox
from hilum.labels.geometry import Box
from hilum.labels.lines import Room
from hilum.labels.words import paragraph


def a_box(*, protected: bool = False, lines: int = 6) -> TextBox:
    """A box of notes of one size, or of a variety."""
    name = "variety" if protected else "notes"
    part = Part(f"{{{name}}}", "regular", (name,))
    return TextBox("words", (part,), " · ", "top", 10.0, 10.0, lines, 0.0, False, False, "left", False)


def lines_of(text: str, width_mm: float, language: str = "en", **options: object) -> list[str]:
    """Set a text in a column and give its lines."""
    box = a_box(**options)  # type: ignore[arg-type]
    found = paragraph(box, {"variety": text, "notes": text}, language=language)
    assert found
    return [line.text for line in set_downwards(found, 10.0, 0.0, Room(Box(0, 0, width_mm, 80), None)).lines]


@pytest.mark.parametrize(
    ("word", "language", "parted"),
    [
        ("germination", "en", ("germina-", "tion")),
        ("Samenbibliothek", "de", ("Samenbiblio-", "thek")),
        ("conservación", "es", ("conserva-", "ción")),
        ("germination", "fr", ("germina-", "tion")),
    ],
)
def test_words_are_parted_by_their_language(word: str, language: str, parted: tuple[str, str]) -> None:
    """The longest first part that the dictionary allows."""
    assert hyphenations(word, language)[0] == parted


def test_names_numbers_and_unknown_languages_are_not_parted() -> None:
    """A lot number, a short word, a language without a dictionary."""
    assert hyphenations("LEK25-0017-X", "en") == ()
    assert hyphenations("leek", "en") == ()
    assert hyphenations("germination", "tlh") == ()


def test_free_words_are_hyphenated_only_when_that_saves_them() -> None:
    """Room for them whole: no hyphen. One line fewer than they need: hyphens, and every letter there."""
    text = "Transplanting seedlings considerably strengthens overwintering"
    whole = lines_of(text, 34)
    assert not any(line.endswith("-") for line in whole)
    tight = lines_of(text, 34, lines=len(whole) - 1)
    assert any(line.endswith("-") for line in tight)
    assert "".join(line.removesuffix("-") for line in tight).replace(" ", "") == text.replace(" ", "")


def test_protected_words_are_never_hyphenated() -> None:
    """They take more lines instead."""
    found = lines_of(
        "Transplanting seedlings considerably strengthens overwintering", 28, protected=True, lines=1
    )
    assert not any(line.endswith("-") for line in found)


def test_chinese_and_japanese_break_between_characters_but_not_before_a_comma() -> None:
    """No space is needed; punctuation stays with what it belongs to."""
    assert pieces("四川「紫冠」、蒜") == ["四", "川", "「紫", "冠」、", "蒜"]
    assert pieces("ネギー") == ["ネ", "ギー"]
    found = lines_of("四川早熟红皮大蒜「紫冠」，四川早熟红皮大蒜", 20, protected=True)
    assert len(found) > 1
    assert not any(line[0] in "」，" or line[-1] == "「" for line in found)


def test_thai_breaks_where_a_syllable_surely_begins() -> None:
    """Before a vowel that is written first, never after it."""
    assert pieces("พื้นเมืองเชียงใหม่") == ["พื้น", "เมือง", "เชียง", "ใหม่"]


def test_latin_words_stay_whole() -> None:
    """Also with accents, and beside a hyphen."""
    assert pieces("Blue-Podded") == ["Blue-Podded"]
    assert pieces("Černá") == ["Černá"]
