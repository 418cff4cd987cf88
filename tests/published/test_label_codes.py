"""QR symbols against published figures and an independent encoder."""

import io
import re

import pypdf
import pytest
import segno

from hilum.labels.codes import ALPHANUMERIC, QUIET_MODULES, module_size, symbol
from hilum.labels.dots import dot_mm
from hilum.labels.job import LabelData, make_labels
from hilum.labels.proof import Proof

KIND = "published"
KINDS = {
    "test_an_independent_encoder_chooses_the_same_size_and_level": "reference library",
    "test_an_independent_decoder_reads_every_code_of_a_sheet": "reference library",
}

# Alphanumeric capacity of versions 1 to 6 at M, Q, H: ISO/IEC 18004, table of capacities; the figures below
# were confirmed by bisection with segno 1.6.6 (each mode forced).
CAPACITY = {
    1: {"M": 20, "Q": 16, "H": 10},
    2: {"M": 38, "Q": 29, "H": 20},
    3: {"M": 61, "Q": 47, "H": 35},
    4: {"M": 90, "Q": 67, "H": 50},
    5: {"M": 122, "Q": 87, "H": 64},
    6: {"M": 154, "Q": 108, "H": 84},
}  # fmt: skip


@pytest.mark.parametrize("version", CAPACITY)
def test_versions_hold_what_the_standard_says(version: int) -> None:
    """The longest payload at M still has this version, one character less than the shortest of the next."""
    at = CAPACITY[version]
    assert symbol("A" * at["M"]).version == version
    assert symbol("A" * at["M"]).level == "M"
    if version < 6:
        assert symbol("A" * (at["M"] + 1)).version == version + 1
    before = CAPACITY[version - 1]["M"] if version > 1 else 0
    if at["Q"] > before:
        assert (symbol("A" * at["Q"]).version, symbol("A" * at["Q"]).level) == (version, "Q")
    if at["H"] > before:
        assert symbol("A" * at["H"]).level == "H"


@pytest.mark.parametrize("characters", [1, 10, 11, 16, 17, 20, 21, 29, 30, 38, 39, 61, 90, 122, 154])
def test_an_independent_encoder_chooses_the_same_size_and_level(characters: int) -> None:
    """segno 1.6.6, level M at least, raised while the version stays (matrices may differ by their mask)."""
    payload = (ALPHANUMERIC * 4)[:characters]
    other = segno.make_qr(payload, error="m", boost_error=True, mode="alphanumeric")
    ours = symbol(payload)
    side_modules, _ = other.symbol_size(border=0)
    assert (ours.version, ours.level, ours.side_modules) == (other.version, other.error, side_modules)


@pytest.mark.parametrize("version", range(1, 7))
def test_the_side_is_17_and_4_times_the_version(version: int) -> None:
    """Denso Wave, https://www.denso-wave.com/qrcode/qrgene2-e.html: version 1 has 21 modules, each next 4 more."""
    assert symbol("A" * CAPACITY[version]["M"]).side_modules == 17 + 4 * version


def test_the_alphanumeric_set_has_45_characters() -> None:
    """ISO/IEC 18004: digits, capital letters, space and $ % * + - . / : ."""
    assert len(ALPHANUMERIC) == len(set(ALPHANUMERIC)) == 45


def test_the_quiet_zone_is_four_modules_and_nothing_else_is_drawn_in_it() -> None:
    """GS1 UK, "How big should a QR code powered by GS1 be": four modules on every side; seen on the drawn page."""
    import pypdfium2

    assert QUIET_MODULES == 4
    fields = {
        "crop": "Leek", "variety": "Winter Keeper of the High Terraces", "year": "2025", "lot": "LEK25-0017-X",
        "place_grown": "Upper Mill Garden by the long canal", "library": "Threeways Valley Seed Library of all",
        "germination": "86 % of 100 seeds, Jan 2026, home test", "caution": "Poisonous. Do not eat the seed.",
    }  # fmt: skip
    made = make_labels([LabelData("L", fields, "LEK25-0017-X")], "packet", "a4-3x8", title="Quiet", dpi=600)
    contents = pypdf.PdfReader(io.BytesIO(made.pdf)).pages[0].get_contents()
    assert contents is not None
    found = re.search(
        rb"q ([\d.]+) 0 0 [\d.]+ ([\d.]+) ([\d.]+) cm (?:\d+ \d+ \d+ 1 re)", contents.get_data()
    )
    assert found
    module, left, low = (float(each) for each in found.groups())
    with pypdfium2.PdfDocument(made.pdf) as document:
        per_pt, page = 600 / 72, document[0]
        dots = page.render(scale=per_pt, grayscale=True).to_numpy()
        height_pt = page.get_height()
    top, quiet, side = height_pt - low - 21 * module, 4 * module, 21 * module
    part = dots[
        round((top - quiet) * per_pt) + 1 : round((top + side + quiet) * per_pt) - 1,
        round((left - quiet) * per_pt) + 1 : round((left + side + quiet) * per_pt) - 1,
    ]
    rim = round(quiet * per_pt) - 3
    assert part.shape[0] > 20 * rim / 4
    for edge in (part[:rim], part[-rim:], part[:, :rim], part[:, -rim:]):
        assert edge.min() == 255
    assert part[rim:-rim, rim:-rim].min() == 0


@pytest.mark.parametrize(("dpi", "dots"), [(203, 4), (300, 5), (360, 6), (600, 10), (720, 12), (1200, 20)])
def test_modules_are_whole_printer_dots(dpi: int, dots: int) -> None:
    """Denso Wave, https://www.qrcode.com/en/howto/cell.html: at least four dots a module; 1/60 inch is computed."""
    size = module_size([symbol("LEK25-0017-X")], 15, dpi)
    assert size.module_mm / dot_mm(dpi) == pytest.approx(dots)
    # GS1 General Specifications, 5.12.3.1: 0.396 to 0.990 mm at the retail point of sale.
    assert 0.396 <= size.module_mm <= 0.990


@pytest.mark.parametrize("dpi", [203, 300, 600])
def test_an_independent_decoder_reads_every_code_of_a_sheet(dpi: int) -> None:
    """zxing-cpp on pages drawn by PDFium at the printer's resolution."""
    lots = [f"BEA{year}-{number:04d}-K" for year in (24, 25) for number in range(12)]
    fields = {"crop": "Bean", "variety": "Copper Bridge", "year": "2025", "place_grown": "Mill Garden"}
    labels = [LabelData(lot, fields | {"lot": lot}, lot) for lot in lots]
    assert make_labels(labels, "packet", "a4-3x8", title="Sheet", dpi=dpi).proof == Proof(24, 24, ())
