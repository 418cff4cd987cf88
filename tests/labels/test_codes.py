"""Codes: small, upper case, at the highest level that keeps them small, in modules a printer can draw."""

import itertools
import random

import pytest
import zxingcpp
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy import array, full, uint8, zeros
from qrcode.util import MODE_ALPHA_NUM

from hilum.labels.codes import ALPHANUMERIC, DPI, _shaped, module_size, symbol
from hilum.labels.dots import dot_mm
from hilum.labels.errors import LabelError
from hilum.labels.masks import _packed, penalties


def read_back(payload: str, scale: int = 4) -> str:
    """Draw a symbol's runs as dots and let the independent reader have a look."""
    code = symbol(payload)
    dots = zeros((code.side_modules, code.side_modules), uint8)
    for column, row, length in code.runs:
        assert not dots[row, column : column + length].any()
        dots[row, column : column + length] = 1
    picture = full([code.quiet_side_modules * scale] * 2, 255, uint8)
    big = dots.repeat(scale, 0).repeat(scale, 1)
    picture[4 * scale : -4 * scale, 4 * scale : -4 * scale] -= big * uint8(255)
    [found] = zxingcpp.read_barcodes(picture)
    assert found.extra["Version"] == str(code.version)
    assert found.ec_level == code.level
    return str(found.text)


def test_a_lot_number_gives_a_version_1_symbol_in_alphanumeric_mode() -> None:
    """21 modules a side, and the mode asserted in the encoder's own list."""
    code = symbol("LEK25-0017-X")
    assert (code.version, code.side_modules, code.quiet_side_modules) == (1, 21, 29)
    encoder = _shaped("LEK25-0017-X", "M")
    assert [chunk.mode for chunk in encoder.data_list] == [MODE_ALPHA_NUM]


@pytest.mark.parametrize(
    ("characters", "version", "level"),
    [(10, 1, "H"), (11, 1, "Q"), (16, 1, "Q"), (17, 1, "M"), (20, 1, "M"), (21, 2, "Q"), (39, 3, "Q")],
)
def test_the_level_is_raised_while_the_version_stays(characters: int, version: int, level: str) -> None:
    """At the edges of the published capacities."""
    code = symbol("A" * characters)
    assert (code.version, code.level) == (version, level)


@given(st.text(alphabet=ALPHANUMERIC, min_size=1, max_size=40))
@settings(deadline=None, max_examples=60)
def test_every_payload_is_read_back_by_another_reader(payload: str) -> None:
    """Whatever the 45 characters spell."""
    assert read_back(payload) == payload


def plain_penalty(dots: list[list[int]]) -> int:
    """Weigh a symbol by the standard's four rules, cell by cell: the slow witness."""
    side, total = len(dots), 0
    for lines in (dots, [list(column) for column in zip(*dots, strict=True)]):
        for line in lines:
            for _, run in itertools.groupby(line):
                length = len(list(run))
                total += length - 2 if length >= 5 else 0
            wide = [0] * 4 + line + [0] * 4
            for start in range(4, 4 + side - 6):
                if wide[start : start + 7] == [1, 0, 1, 1, 1, 0, 1]:
                    free_before, free_after = (
                        not any(wide[start - 4 : start]),
                        not any(wide[start + 7 : start + 11]),
                    )
                    total += 40 if free_before or free_after else 0
    for row, column in itertools.product(range(side - 1), repeat=2):
        total += 3 if len({dots[row + y][column + x] for y in (0, 1) for x in (0, 1)}) == 1 else 0
    dark = sum(map(sum, dots))
    return total + 10 * (abs(2 * dark - side * side) * 10 // (side * side))


@given(st.integers(21, 41), st.randoms(use_true_random=False))
@settings(deadline=None, max_examples=40)
def test_penalties_by_bits_equal_those_by_cells(side: int, chance: random.Random) -> None:
    """Two ways to the same number."""
    dots = array([[chance.random() < 0.5 for _ in range(side)] for _ in range(side)], uint8)
    found = penalties(_packed(dots), _packed(dots.T), side)
    assert int(found) == plain_penalty(dots.tolist())


@given(st.text(alphabet=ALPHANUMERIC, min_size=1, max_size=60))
@settings(deadline=None, max_examples=60)
def test_modules_equal_the_librarys_own_for_the_chosen_mask(payload: str) -> None:
    """Only the choice of the mask is ours; what is drawn for it is the encoder's."""
    code = symbol(payload)
    encoder = _shaped(payload, code.level)
    encoder.version = code.version
    encoder.makeImpl(False, code.mask)
    dots = zeros((code.side_modules, code.side_modules), uint8)
    for column, row, length in code.runs:
        dots[row, column : column + length] = 1
    assert dots.tolist() == [[int(bool(each)) for each in row] for row in encoder.modules]


def test_masks_are_those_an_independent_encoder_chooses() -> None:
    """zxing-cpp at the same level gives the same modules, one by one."""
    for number in range(60):
        payload = f"LEK25-{number * 37:04d}-X"
        code = symbol(payload)
        other = zxingcpp.create_barcode(payload, zxingcpp.BarcodeFormat.QRCode, ec_level=code.level)
        theirs = array(other.to_image(scale=1, add_quiet_zones=False)) < 128
        ours = zeros(theirs.shape, bool)
        for column, row, length in code.runs:
            ours[row, column : column + length] = True
        assert (ours == theirs).all()


def test_a_short_code_after_a_long_one_is_small_again() -> None:
    """No version is carried over from one code to the next."""
    assert symbol("B" * 60).version == 3
    assert symbol("B").version == 1


def test_a_code_is_made_once() -> None:
    """Reprints and copies share it."""
    assert symbol("LEK25-0018-3") is symbol("LEK25-0018-3")


@pytest.mark.parametrize(
    ("payload", "words"),
    [("lek25", "has “l”"), ("", "is empty"), ("A_B", "has “_”"), ("A" * 5000, "a label's code may have 154")],
)
def test_a_payload_that_would_double_the_code_is_refused(payload: str, words: str) -> None:
    """Naming the character."""
    with pytest.raises(LabelError, match=words):
        symbol(payload)


@pytest.mark.parametrize("dpi", DPI)
def test_modules_are_whole_dots_at_every_resolution(dpi: int) -> None:
    """And at least four of them, and at least 0.396 mm."""
    size = module_size([symbol("LEK25-0017-X")], 15, dpi)
    dots = size.module_mm / dot_mm(dpi)
    assert abs(dots - round(dots)) < 1e-9
    assert round(dots) >= 4
    assert size.module_mm >= 0.396
    steps = size.step_mm / dot_mm(dpi)
    assert abs(steps - round(steps)) < 1e-9


def test_a_larger_corner_gets_larger_modules() -> None:
    """Two sixtieths of an inch on a big jar label; five dots of a thermal head."""
    assert module_size([symbol("A")], 25.2, 300).module_mm == pytest.approx(2 * 25.4 / 60)
    assert module_size([symbol("A")], 18.5, 203).module_mm == pytest.approx(0.625)


def test_a_code_too_large_for_its_corner_is_refused() -> None:
    """With both sizes."""
    with pytest.raises(
        LabelError, match=r"codes are 15\.5 mm wide with their white border, but the design has 15 mm"
    ):
        module_size([symbol("A" * 80)], 15, 203)


def test_an_odd_resolution_is_refused() -> None:
    """Modules would not be whole dots."""
    with pytest.raises(LabelError, match="250 dpi is not a resolution"):
        module_size([symbol("A")], 15, 250)
