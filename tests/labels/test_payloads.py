"""Payloads and asked words: what a code says, what a packet should say, how much blur is borne."""

from dataclasses import replace

import pytest

from hilum.labels.asked_words import asked_words, missing_words
from hilum.labels.blurring import blur_margin
from hilum.labels.codes import PHONE_MODULE_MM, ModuleSize, module_size, symbol
from hilum.labels.designs import LabelDesign, design, designs
from hilum.labels.dots import dot_mm
from hilum.labels.errors import LabelError
from hilum.labels.job import make_labels
from hilum.labels.orders import fitting_stocks, order
from hilum.labels.payloads import payload
from hilum.labels.stocks import label_stock
from tests.labels.builders import LONG_VARIETY, a_label


def packet(kind: str) -> LabelDesign:
    """The packet with another payload."""
    return replace(design("packet"), payload=kind)


def code_of(kind: str, **fields: str) -> str:
    """Give what the code of one label says."""
    [found] = order([a_label(**fields)], packet(kind), label_stock("a4-3x8"), 300).symbols
    assert found
    return found.payload


def test_a_code_says_the_lot_number_unless_told_otherwise() -> None:
    """Every design that came with the program."""
    assert all(each.payload == "lot" for each in designs())
    assert code_of("lot") == "LEK25-0017-X"


def test_a_code_can_hold_the_librarys_address_in_capitals() -> None:
    """With the scheme put before it where it is missing; read back by the proof."""
    assert (
        code_of("address", address="https://seeds.example.org/l/")
        == "HTTPS://SEEDS.EXAMPLE.ORG/L/LEK25-0017-X"
    )
    assert code_of("address", address="seeds.example.org") == "HTTPS://SEEDS.EXAMPLE.ORG/LEK25-0017-X"
    made = make_labels([a_label(address="seeds.example.org")], packet("address"), "a4-3x8", title="x")
    assert made.proof.read == 1


@pytest.mark.parametrize(
    ("address", "words"), [("", "but none is set"), ("seeds.example.org/?l=", "has “\\?”")]
)
def test_an_address_that_cannot_be_is_refused(address: str, words: str) -> None:
    """Naming the label."""
    with pytest.raises(LabelError, match=f"Label LEK25-0017-X: .*{words}"):
        code_of("address", address=address)


def test_a_code_can_hold_the_words_of_the_label() -> None:
    """In capitals without accents; scripts without such a form are left out."""
    words = code_of("words", variety="Černá Straße’s Ñandú", crop="葱")
    assert words == "CERNA STRASSES NANDU / 2025 / UPPER MILL GARDEN / LEK25-0017-X"
    with pytest.raises(LabelError, match="no letters that a small code"):
        payload("words", "L", "X", {"crop": "葱"})


def test_words_too_long_for_a_code_are_refused_naming_the_label() -> None:
    """A name of 120 letters with all the rest."""
    with pytest.raises(LabelError, match=r"Label LEK25-0017-X: The code .* has 1\d\d characters"):
        code_of("words", variety=LONG_VARIETY, place_grown="Upper Mill Garden by the long canal")


@pytest.mark.parametrize("dpi", [203, 300, 360, 600, 720, 1200])
def test_a_longer_code_gets_smaller_modules_of_whole_dots(dpi: int) -> None:
    """Rather than being refused; its place stays on the dots as well."""
    small = module_size([symbol("A" * 50)], 15, dpi)
    assert small.module_mm < PHONE_MODULE_MM
    dot = 1 / 8 if dpi == 203 else 25.4 / dpi
    for measure in (small.module_mm, small.step_mm):
        assert measure / dot == pytest.approx(round(measure / dot), abs=1e-9)
    assert small.module_mm / dot >= 3 - 1e-9
    assert small.side_mm(symbol("A" * 50)) + small.step_mm <= 15 + 1e-9


def test_small_modules_are_warned_of_once_a_job() -> None:
    """With what a phone and what a hand scanner can read."""
    labels = [a_label(address="https://a-long-name.seeds.example.org/lots") for _ in range(2)]
    made = make_labels(labels, packet("address"), "a4-4x12", title="x")
    [warning] = [each for each in made.warnings if each.box == "code"]
    assert "0.34 mm: below the 0.396 mm" in warning.why
    assert made.proof.read == 2
    assert make_labels([a_label()], "packet", "a4-3x8", title="x").warnings == ()


def test_modules_of_ordinary_codes_are_as_large_as_before() -> None:
    """A sixtieth of an inch."""
    assert module_size([symbol("LEK25-0017-X")], 15, 300) == ModuleSize(25.4 / 60, 25.4 / 60)
    assert dot_mm(203) * 4 == module_size([symbol("LEK25-0017-X")], 15, 203).module_mm


def test_a_packet_with_all_its_words_lacks_nothing() -> None:
    """At or above the standard, tested this year."""
    assert (
        missing_words(
            "L", a_label().fields, germination_percent=86, standard_percent=70, months_since_test=10
        )
        == ()
    )


def test_missing_words_are_warned_of_with_their_source() -> None:
    """And with the advice to ask at home."""
    fields = dict(a_label(year="", germination="").fields)
    found = missing_words(
        "L", fields, germination_percent=50, standard_percent=70, months_since_test=13, is_treated=True
    )
    assert [each.box for each in found] == ["year", "below_standard", "germination", "treatment", "old_test"]
    assert all("check with your local authority" in each.why for each in found)
    assert "7 CFR 201.29" in found[1].why
    assert "8 point" in found[3].why
    fields["note"] = "Below Standard"
    assert "below_standard" not in {
        each.box for each in missing_words("L", fields, germination_percent=50, standard_percent=70)
    }


def test_every_asked_word_has_a_source() -> None:
    """Or says that it has none."""
    assert all(each.source for each in asked_words().values())


def test_treatment_is_set_in_eight_points_where_a_design_shows_it() -> None:
    """7 CFR 201.31a(a): type of at least 8 points."""
    boxes = [
        box
        for each in designs()
        for layout in each.layouts
        for box in layout.boxes
        if "treatment" in box.fields
    ]
    assert boxes
    assert all(box.keep and box.smallest_pt >= 8 for box in boxes)


@pytest.mark.parametrize(
    "name", [each.name for each in designs() if any(layout.code for layout in each.layouts)]
)
def test_codes_of_every_design_bear_blur_on_white_and_on_kraft_paper(name: str) -> None:
    """A fifth of a module on white, at 203 and 300 dpi; less on brown paper, but some."""
    plan = design(name)
    stock = fitting_stocks(plan)[0]
    for dpi in (203, 300):
        white = blur_margin(a_label(), plan, stock, dpi)
        kraft = blur_margin(a_label(), plan, stock, dpi, "kraft")
        assert white.blur_modules >= 0.25
        assert 0.1 <= kraft.blur_modules <= white.blur_modules
        assert white.blur_mm == pytest.approx(white.blur_modules * white.module_mm)


def test_an_unknown_paper_is_refused() -> None:
    """With those there are."""
    with pytest.raises(LabelError, match="no paper “pink” to try; there are white, kraft"):
        blur_margin(a_label(), design("packet"), label_stock("a4-3x8"), 300, "pink")
