"""Fitting: words shrink together, protected ones are never cut, nothing leaves its room or meets the code."""

import itertools

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from hilum.labels.designs import design
from hilum.labels.errors import LabelError, LabelWarning
from hilum.labels.fitting import FittedWords, fit_words
from hilum.labels.geometry import Box
from hilum.labels.lines import Room
from hilum.labels.orders import layout_on
from hilum.labels.stocks import label_stock
from hilum.labels.words import cleaned, cleaned_fields
from tests.labels.builders import LONG_VARIETY, a_label


def fitted(
    design_name: str = "packet", stock_name: str = "a4-3x8", **changes: str
) -> tuple[FittedWords, tuple[LabelWarning, ...], Room]:
    """Fit one label, with room kept for a code of 12.8 mm at the lower right."""
    plan, stock = design(design_name), label_stock(stock_name)
    area = stock.ink_area(1, plan.padding_mm)
    layout = layout_on(plan, stock)
    assert layout.code
    top_mm = 0 if layout.code.edge == "top" else area.height_mm - 12.8
    room = Room(Box(0, 0, area.width_mm, area.height_mm), Box(area.width_mm - 12.8, top_mm, 12.8, 12.8))
    fields = a_label(**changes).fields
    words, warnings = fit_words("L1", layout, cleaned_fields(fields, fields), room)
    return words, warnings, room


def text_of(words: FittedWords) -> str:
    """All lines, in one text with single spaces."""
    return " ".join(" ".join(line.text for line in words.lines).split())


def check_room(words: FittedWords, room: Room) -> None:
    """No line leaves the area, meets the code, or lies on another line."""
    boxes = [line.box() for line in words.lines]
    for box in (*boxes, *words.frames):
        assert box.lies_in(room.area, 0.05)
        assert room.code is None or not box.overlaps(room.code, 0.05)
    assert not any(one.overlaps(other, 0.1) for one, other in itertools.combinations(boxes, 2))


def test_a_short_label_is_set_at_its_largest() -> None:
    """Whole, without a warning, the variety in 16 points."""
    words, warnings, room = fitted(variety="Ox", germination="", sow="", seeds="", packed="")
    assert warnings == ()
    check_room(words, room)
    assert {line.size_pt for line in words.lines if line.text == "Ox"} == {16}


@pytest.mark.parametrize("stock", ["a4-3x8", "a4-3x7-63.5x38.1", "letter-3x10", "roll-57x32", "roll-62x29"])
@pytest.mark.parametrize("design_name", ["packet", "jar", "dish"])
def test_a_variety_of_120_letters_stands_whole_on_common_labels(design_name: str, stock: str) -> None:
    """Wrapped and shrunk, every word there."""
    words, _, room = fitted(design_name, stock, variety=LONG_VARIETY)
    check_room(words, room)
    found = text_of(words).split()
    assert all(word in found for word in LONG_VARIETY.split())


@given(
    st.sampled_from(["packet", "jar", "dish"]),
    st.sampled_from(
        ["a4-3x8", "letter-3x10", "roll-57x32", "a4-2x4-99.1x67.7", "a4-4x12", "a4-3x4-63.5x63.5"]
    ),
    st.text(alphabet="abcdé ÅŁ’-", min_size=1, max_size=90),
    st.text(alphabet="abcdé ÅŁ’-", max_size=150),
    st.sampled_from(["", "Poisonous. Keep from children. Do not eat any part."]),
)
@settings(deadline=None, max_examples=120)
def test_protected_words_are_whole_or_the_label_is_refused(
    design_name: str, stock: str, variety: str, library: str, caution: str
) -> None:
    """Whatever the words: nothing outside, nothing on the code, nothing protected cut."""
    assume(design(design_name).layout_for(label_stock(stock).ink_area(1, 2)) is not None)
    try:
        words, _, room = fitted(design_name, stock, variety=variety, library=library, caution=caution)
    except LabelError as refusal:
        if "It may not be shortened" not in str(refusal):
            raise
        return
    check_room(words, room)
    whole = text_of(words).replace(" ", "")
    assert cleaned(variety).replace(" ", "") in whole
    assert caution.replace(" ", "") in whole


def test_a_protected_word_too_wide_is_refused_naming_label_and_box() -> None:
    """One word of 80 letters cannot be broken."""
    with pytest.raises(
        LabelError, match=r"Label L1: the box “variety” \(“x{40}…”\) does not fit, even at 6\.5 pt"
    ):
        fitted(variety="x" * 80)


def test_protected_words_too_high_together_are_refused() -> None:
    """Not by leaving anything of them out."""
    with pytest.raises(
        LabelError, match=r"the box “origin” .* is [\d.]+ mm too high together. It may not be shortened"
    ):
        fitted(place_grown="a lower field by the water " * 40)


def test_other_text_is_shortened_at_a_word_with_a_warning() -> None:
    """The warning names label and box, and gives the text in full."""
    library = "The Very Long Named Seed Library of the Seven United Valleys and the Coast between Them"
    words, warnings, _ = fitted(library=library)
    [warning] = warnings
    assert (warning.key, warning.box) == ("L1", "library")
    assert warning.why.startswith("shortened to “The Very Long Named Seed Library of")
    assert library in warning.why
    [line] = [line.text for line in words.lines if line.text.endswith("…")]
    assert library.startswith(line[:-1])
    assert library[len(line) - 1] == " "


def test_what_is_left_out_for_want_of_room_is_warned_of() -> None:
    """A caution and a long name on a small label leave no room for the library's name."""
    words, warnings, room = fitted(
        stock_name="letter-3x10", variety=LONG_VARIETY, caution="Poisonous. Do not eat."
    )
    check_room(words, room)
    assert "library" in {warning.box for warning in warnings}
    assert "Threeways" not in text_of(words)
    assert "Poisonous. Do not eat." in text_of(words)


def test_a_dish_keeps_its_number_and_its_counting_days_or_is_refused() -> None:
    """A tag without them would be worse than none; what else is on it may go."""
    words, _, _ = fitted("dish", "a4-5x13", variety="Grandmother’s Blue-Podded Climbing Winter Keeper")
    assert "dish 2 of 4" in text_of(words)
    assert "count 30 Nov and 8 Dec" in text_of(words)
    with pytest.raises(LabelError, match="It may not be shortened"):
        fitted("dish", "a4-5x13", variety=LONG_VARIETY, caution="Poisonous. Do not eat.")


def test_a_name_on_two_lines_shrinks_a_little_to_stand_on_one() -> None:
    """Rather than break after its first word."""
    words, _, _ = fitted("jar", "a4-2x4-99.1x67.7")
    assert "Hollow Lane Giant" in [line.text for line in words.lines]


def test_a_caution_is_boxed_and_bold() -> None:
    """With its words inside the frame."""
    words, _, _ = fitted(caution="Poisonous. Do not eat the seed.")
    [frame] = words.frames
    inside = [line for line in words.lines if line.box().lies_in(frame, 0.3)]
    assert " ".join(line.text for line in inside) == "Poisonous. Do not eat the seed."
    assert all("bold" in face.name for line in inside for face, *_ in line.runs)


def test_empty_fields_leave_no_stray_separator() -> None:
    """A part with an empty field goes whole, and its dot with it."""
    words, _, _ = fitted(seeds="", sow="", germination="", botanical="", library="")
    assert [line.text for line in words.lines if "Nov" in line.text] == ["packed Nov 2026"]
    assert "Leek" in [line.text for line in words.lines]
    assert not any(
        line.text.strip().startswith("·") or line.text.strip().endswith("·") for line in words.lines
    )


def test_a_separator_never_begins_or_ends_a_line() -> None:
    """Where parts are broken to the next line the dot goes."""
    words, _, _ = fitted(stock_name="roll-57x32")
    assert [line.text for line in words.lines if "seeds ·" in line.text] == ["40 seeds · sow 15 mm deep"]
    assert "packed Nov 2026" in [line.text for line in words.lines]


def test_latin_names_slant_and_ranks_and_groups_stand() -> None:
    """Runs of two faces in one name."""
    words, _, _ = fitted(botanical="Brassica oleracea var. gemmifera (Gemmifera Group)", crop="Sprout")
    slanted = "".join(text for line in words.lines for face, text, _ in line.runs if "italic" in face.name)
    assert slanted.split() == ["Brassica", "oleracea", "gemmifera"]


def test_a_character_no_font_has_is_shown_as_a_gap_and_warned_of() -> None:
    """Character, label and box are named; the rest of the word is drawn."""
    words, warnings, _ = fitted(variety="Zimní 葱")
    assert LabelWarning("L1", "variety", "no font here has the character 葱 (U+8471)") in warnings
    assert "Zimní □" in text_of(words)


def test_greek_cyrillic_and_vietnamese_have_their_glyphs() -> None:
    """No warning for what the fonts cover."""
    words, warnings, _ = fitted(variety="Πράσο Лук Hành tây")
    assert warnings == ()
    assert "Πράσο Лук Hành tây" in text_of(words)


def test_the_lot_number_stays_on_one_line() -> None:
    """Its hyphens are no place to break."""
    for stock in ("a4-3x8", "letter-3x10", "roll-57x32", "a4-4x12"):
        words, _, _ = fitted(stock_name=stock)
        assert "LEK25-0017-X" in [line.text for line in words.lines]


def test_control_characters_and_line_ends_become_one_line() -> None:
    """And letters with loose accents one form."""
    assert cleaned(" Cre\u0300me \r\n de\tla\u0007 rue ") == "Crème de la rue"
