"""Scripts: what our pages show beside what another shaping engine draws, dot by dot."""

import io
from pathlib import Path
from typing import Any

import numpy
import pypdf
import pytest
from PIL import Image, ImageDraw, ImageFont, features

from hilum.labels import system_fonts
from hilum.labels.cff import character_ids
from hilum.labels.designs import LabelDesign, read_design
from hilum.labels.directions import in_order
from hilum.labels.fonts import Face, Run, face, runs_of
from hilum.labels.job import LabelData, LabelSheets, make_labels
from hilum.labels.pdf import PdfFile, shown_runs
from hilum.labels.proof import page_dots
from hilum.resources import resource

DESIGN = """
title = "One line"
purpose = "For a test."
[[layout]]
smallest_width_mm = 60
smallest_height_mm = 30
[[layout.box]]
name = "words"
parts = ["{variety}"]
most_lines = 1
size_pt = [24, 24]
"""
DPI = 300
LATIN, CONDENSED = "DejaVuSans.ttf", "DejaVuSansCondensed.ttf"
DEVANAGARI, BENGALI, THAI = (f"NotoSans{name}-Regular.ttf" for name in ("Devanagari", "Bengali", "Thai"))


def one_line(folder: Path) -> LabelDesign:
    """A design of one box in 24 points."""
    path = folder / "line.toml"
    path.write_text(DESIGN, encoding="utf-8")
    return read_design(path)


def sheets(folder: Path, text: str) -> LabelSheets:
    """Print one text on a label of 100 x 50 mm."""
    return make_labels([LabelData("L", {"variety": text})], one_line(folder), "roll-100x50", title="x")


def ink(dots: Any) -> Any:
    """Cut a picture to what is dark in it."""
    dark = numpy.asarray(dots) < 128
    rows, columns = numpy.flatnonzero(dark.any(axis=1)), numpy.flatnonzero(dark.any(axis=0))
    return dark[rows[0] : rows[-1] + 1, columns[0] : columns[-1] + 1]


def elsewhere(text: str, file: str) -> Any:
    """Draw the text by another library, with its own shaping, ordering and rendering."""
    font = ImageFont.truetype(
        str(resource("fonts", file)), 24 * DPI / 72, layout_engine=ImageFont.Layout.RAQM
    )
    picture = Image.new("L", (1400, 400), 255)
    ImageDraw.Draw(picture).text((100, 100), text, font=font, fill=0, features=["-kern", "-liga", "-clig"])
    return ink(picture)


def likeness(one: Any, other: Any) -> float:
    """Shared dark dots over all dark dots, the one picture moved over the other by a few dots."""
    assert abs(one.shape[0] - other.shape[0]) <= 4
    assert abs(one.shape[1] - other.shape[1]) <= 6
    height, width = max(one.shape[0], other.shape[0]) + 8, max(one.shape[1], other.shape[1]) + 8
    best = 0.0
    for down in range(9):
        for right in range(9):
            first, second = numpy.zeros((height, width), bool), numpy.zeros((height, width), bool)
            first[4 : 4 + one.shape[0], 4 : 4 + one.shape[1]] = one[: height - 4, : width - 4]
            space = second[down : down + other.shape[0], right : right + other.shape[1]]
            space |= other[: space.shape[0], : space.shape[1]]
            best = max(best, float((first & second).sum() / (first | second).sum()))
    return best


@pytest.mark.parametrize(
    ("text", "file"),
    [
        ("Černá Ñandú Hành tây", CONDENSED),
        ("Πράσο Γίγας", CONDENSED),
        ("Лук-порей Їжак", CONDENSED),
        ("كراث عملاق", CONDENSED),
        ("كراث (شتوي) 2025 Leek", CONDENSED),
        ("כרשה ענקית (חורף) 2025", CONDENSED),
        ("Leek כרשה, ענקית 25", CONDENSED),
        ("बैंगनक्षेत्रीयमिर्चप्याज़", DEVANAGARI),
        ("বেগুনলঙ্কাশ্রীমতী", BENGALI),
        ("ผักกาดหอมพื้นเมืองใหญ่", THAI),
    ],
)
def test_words_look_as_another_engine_draws_them(tmp_path: Path, text: str, file: str) -> None:
    """Letters joined, stacked, reordered and running from the right, as in the witness's picture."""
    assert features.check("raqm")
    made = sheets(tmp_path, text)
    assert made.warnings == ()
    assert likeness(ink(page_dots(made.pdf, 0, DPI)), elsewhere(text, file)) > 0.85


def test_the_witness_would_see_letters_left_unshaped(tmp_path: Path) -> None:
    """The measure tells words of loose letters from joined ones, and a line in the wrong order from the right one."""
    made = ink(page_dots(sheets(tmp_path, "כרשה ענקית").pdf, 0, DPI))
    turned = elsewhere("תיקנע השרכ", CONDENSED)
    assert abs(made.shape[1] - turned.shape[1]) <= 6
    assert likeness(made, turned) < 0.6
    loose = elsewhere("ك\u200cر\u200cا\u200cث", CONDENSED)
    assert abs(ink(page_dots(sheets(tmp_path, "كراث").pdf, 0, DPI)).shape[1] - loose.shape[1]) > 6


def test_what_runs_from_the_right_begins_at_the_right(tmp_path: Path) -> None:
    """Its dark dots end where the printable area ends."""
    dots = page_dots(sheets(tmp_path, "כרשה").pdf, 0, DPI)
    columns = numpy.flatnonzero((dots < 128).any(axis=0))
    assert columns[-1] > dots.shape[1] - 40
    assert columns[0] > dots.shape[1] / 2


def test_numbers_inside_a_line_from_the_right_keep_their_order() -> None:
    """Runs from left to right: the figures first, then the words before them, backwards."""
    runs, _ = runs_of("כרשה 25", "regular")
    assert [(run.text, run.backwards) for run in in_order(runs, True)] == [("25", False), ("כרשה ", True)]


def test_plain_letters_are_not_shaped() -> None:
    """Latin, Greek and Cyrillic are each their own glyph, so that words can be copied out."""
    for text in ("office fluff", "Πράσο", "Лук"):
        [run] = runs_of(text, "regular")[0]
        assert run.glyphs() is None
    [run] = runs_of("कि", "regular")[0]
    assert [glyph.text for glyph in run.glyphs() or ()] == ["कि", ""]


def test_a_mark_goes_with_its_letter_into_one_face() -> None:
    """Even where another face would have come first for the letter alone."""
    runs, missing = runs_of("क\u094d\u200dष a\u0323\u0308", "regular")
    assert missing == ()
    assert [run.face.name for run in runs] == ["Hilum-devanagari", "Hilum-condensed"]


def test_fonts_of_the_system_are_found_by_file_and_by_language(tmp_path: Path) -> None:
    """Kana ask a Japanese file first, Hangul a Korean one, Han alone a general one; unusable files are passed over."""
    outlines = resource("fonts", LATIN).read_bytes()
    for name in ("ipagp.ttf", "NanumGothic.ttf", "DroidSansFallbackFull.ttf"):
        (tmp_path / name).write_bytes(outlines)
    (tmp_path / "malgun.ttf").write_bytes(b"no font")

    def first(text: str) -> str:
        return system_fonts.found(text, (tmp_path,))[0][0].name

    assert (first("ネギ"), first("배추"), first("大蒜")) == (
        "ipagp.ttf", "NanumGothic.ttf", "DroidSansFallbackFull.ttf",
    )  # fmt: skip
    assert "malgun.ttf" not in {path.name for path, _ in system_fonts.found("배추", (tmp_path,))}
    assert system_fonts.found("大蒜", ()) == ()


FEW = Path(__file__).parents[1] / "data" / "fonts" / "NotoSansCJK-few.otf"


@pytest.mark.parametrize("text", ["練馬大根 かぶ カボチャ", "小白菜", "청상추"])
def test_a_system_font_with_postscript_outlines_is_embedded(text: str) -> None:
    """As most Linux systems have for Chinese, Japanese and Korean: drawn like the witness draws, and copied out."""
    file = PdfFile("Few", "ja")
    shown, _ = shown_runs(file, (Run(Face("System-few", FEW), text),), 24, "")
    file.page(400, 100, [f"BT 1 0 0 1 20 40 Tm {shown} ET"])
    pdf = file.finished()
    font = ImageFont.truetype(str(FEW), 24 * DPI / 72)
    picture = Image.new("L", (1700, 400), 255)
    ImageDraw.Draw(picture).text((100, 100), text, font=font, fill=0)
    assert likeness(ink(page_dots(pdf, 0, DPI)), ink(picture)) > 0.85
    page = pypdf.PdfReader(io.BytesIO(pdf)).pages[0]
    assert page.extract_text().strip() == text
    [held] = page["/Resources"]["/Font"].values()  # type: ignore[index]
    inner = held["/DescendantFonts"][0]
    assert (inner["/Subtype"], "/FontFile3" in inner["/FontDescriptor"]) == ("/CIDFontType0", True)


def test_character_ids_are_read_from_ranges_and_operands_of_every_length() -> None:
    """A table put together by the note's own words; a font keyed by names has the numbers of its glyphs."""

    def table(top: bytes, charset: bytes) -> bytes:
        names = b"\0\1\1\1\2N"
        tops = b"\0\1\1\1" + bytes([1 + len(top)]) + top
        return b"\1\0\4\1" + names + tops + charset

    keyed = bytes([28, 0, 1, 247, 0, 139, 12, 30])
    real = bytes([30, 0x1E, 0x2F, 17])
    for charset in (b"\0\0\7\1\4\1\5", b"\1\0\7\0\1\4\1", b"\2\0\7\0\0\1\4\0\1"):
        start = 4 + 6 + 5 + len(keyed) + len(real) + 6
        top = keyed + real + b"\x1d" + start.to_bytes(4, "big") + b"\x0f"
        assert character_ids(table(top, charset), 4) == [0, 7, 260, 261]
        assert character_ids(table(top[len(keyed) :], charset), 4) == range(4)


def test_widths_are_those_of_the_font_file() -> None:
    """An em of the witness for a few words, plain and shaped."""
    for text, key, file in (("Hollow Lane", "condensed", CONDENSED), ("क्षेत्रीय", "devanagari", DEVANAGARI)):
        font = ImageFont.truetype(str(resource("fonts", file)), 2048, layout_engine=ImageFont.Layout.RAQM)
        told = font.getlength(text, features=["-kern", "-liga", "-clig"]) / 2048
        assert face(key).width_em(text) == pytest.approx(told, abs=0.01)


def test_a_run_says_whether_it_runs_from_the_right() -> None:
    """Brackets in such a run are mirrored by the shaping."""
    condensed = face("condensed")
    forwards = condensed.shaped("(", backwards=False)
    assert Run(condensed, "(", True).glyphs() != forwards
    assert [glyph.number for glyph in Run(condensed, "(", True).glyphs() or ()] == [condensed.number_of(")")]
