"""Blocks: a gauge as long as it says, pictures in their proportions, tints that need no grey."""

import io
from pathlib import Path

import numpy
import pypdf
import pytest
from PIL import Image

from hilum.labels.designs import read_design
from hilum.labels.errors import DesignError
from hilum.labels.job import LabelData, LabelSheets, make_labels
from hilum.labels.pictures import read_picture
from hilum.labels.proof import page_dots

DESIGN = """
title = "Block"
purpose = "For a test."
[[layout]]
smallest_width_mm = 60
smallest_height_mm = 40
{block}
[[layout.box]]
name = "sow"
parts = ["{{sow}}"]
size_pt = [8, 8]
{tint}
"""
GAUGE = '[layout.gauge]\nside = "left"\nedge = "bottom"\nwidth_mm = 17\nheight_mm = 40'
PICTURE = (
    '[[layout.picture]]\nside = "right"\nedge = "bottom"\nwidth_mm = 20\nheight_mm = 20\nfile = "{name}"'
)


def made_with(folder: Path, block: str = "", tint: str = "", **fields: str) -> LabelSheets:
    """Print one label of 100 x 50 mm with a block on it."""
    path = folder / "block.toml"
    path.write_text(DESIGN.format(block=block, tint=tint), encoding="utf-8")
    return make_labels([LabelData("L", fields)], read_design(path), "roll-100x50", title="x")


@pytest.mark.parametrize(
    ("words", "depth_mm"), [("sow 25 mm deep", 25), ("sow 3 mm deep", 3), ("12,5 mm", 12.5)]
)
def test_the_gauge_is_as_deep_as_it_says(tmp_path: Path, words: str, depth_mm: float) -> None:
    """From the middle of the soil line to the middle of the seed, measured on the drawn page at 1200 dots an inch."""
    dots = page_dots(made_with(tmp_path, GAUGE, sow=words).pdf, 0, 1200)
    per_mm = 1200 / 25.4
    left = round(2 * per_mm)
    soil = numpy.flatnonzero((dots < 128).sum(axis=1) > 13 * per_mm).mean()
    seed_column = dots[:, left + round((0.5 + 4.2) * per_mm)] < 128
    below = numpy.flatnonzero(seed_column)
    seed = below[below > soil + 0.8 * per_mm].mean()
    assert (seed - soil) / per_mm == pytest.approx(depth_mm, abs=0.1)


def test_a_depth_in_its_own_field_goes_before_words(tmp_path: Path) -> None:
    """And the words are printed as they are."""
    one = made_with(tmp_path, GAUGE, sow="sow in a furrow", sow_mm="20")
    assert one.warnings == ()


def test_a_depth_longer_than_the_gauge_is_warned_of_and_not_drawn(tmp_path: Path) -> None:
    """Half a gauge would be wrong."""
    long = made_with(tmp_path, GAUGE, sow="sow 60 mm deep")
    assert [(each.key, each.box) for each in long.warnings] == [("L", "gauge")]
    assert b"soil" not in long.pdf
    assert (page_dots(long.pdf, 0, 300)[200:] < 128).sum() == 0


def test_a_picture_keeps_its_proportions_and_stays_in_its_place(tmp_path: Path) -> None:
    """PNG: twice as wide as high, black; clear ground becomes white."""
    picture = Image.new("RGBA", (40, 20), (0, 0, 0, 0))
    picture.paste((0, 0, 0, 255), (0, 0, 40, 20))
    picture.save(tmp_path / "seed.png")
    dots = page_dots(made_with(tmp_path, PICTURE.format(name="seed.png"), sow="x").pdf, 0, 300)
    per_mm = 300 / 25.4
    dark = dots[:, round(70 * per_mm) :] < 128
    rows, columns = numpy.flatnonzero(dark.any(axis=1)), numpy.flatnonzero(dark.any(axis=0))
    assert len(columns) / per_mm == pytest.approx(20, abs=0.2)
    assert len(rows) / per_mm == pytest.approx(10, abs=0.2)


SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 100 100">{}</svg>'


@pytest.mark.parametrize(
    ("shape", "share"),
    [
        ('<rect x="0" y="0" width="100" height="50"/>', 0.5),
        ('<circle cx="50" cy="50" r="50"/>', 0.785),
        ('<path d="M0 0 h100 v100 z"/>', 0.5),
        ('<path d="M0,100 C0,0 100,0 100,100 Z" fill="#000"/>', 0.6),
        (
            '<polygon points="0,0 100,0 100,100 0,100" fill="none"/><g fill="white"><rect width="9" height="9"/></g>',
            0,
        ),
    ],
)
def test_plain_svg_shapes_cover_what_they_should(tmp_path: Path, shape: str, share: float) -> None:
    """Share of dark dots in the picture's place: half a square, a disc, a triangle, under a curve, none."""
    (tmp_path / "shape.svg").write_text(SVG.format(shape), encoding="utf-8")
    dots = page_dots(made_with(tmp_path, PICTURE.format(name="shape.svg"), sow="x").pdf, 0, 300)
    per_mm = 300 / 25.4
    dark = (dots[:, round(70 * per_mm) :] < 128).sum() / (20 * per_mm) ** 2
    assert dark == pytest.approx(share, abs=0.02)


@pytest.mark.parametrize(
    ("name", "content", "words"),
    [
        ("gone.png", None, "gone.png: this picture is not there"),
        ("bad.png", b"no picture", "bad.png: this is no PNG picture"),
        ("bad.gif", b"GIF", "a picture can be PNG or SVG"),
        (
            "turned.svg",
            SVG.format('<g transform="rotate(3)"><rect width="1" height="1"/></g>').encode(),
            "transform",
        ),
        ("arc.svg", SVG.format('<path d="M0 0 A1 1 0 0 0 5 5"/>').encode(), "arcs or smooth curves"),
        ("empty.svg", SVG.format("<text>x</text>").encode(), "nothing in this picture can be drawn"),
        ("odd.svg", b"<!DOCTYPE svg><svg/>", "without a document type"),
        ("cut.svg", b"<svg", "cannot be read"),
    ],
)
def test_a_picture_that_cannot_be_drawn_is_refused(
    tmp_path: Path, name: str, content: bytes | None, words: str
) -> None:
    """Naming the file and what to do."""
    if content is not None:
        (tmp_path / name).write_bytes(content)
    with pytest.raises(DesignError, match=words):
        read_picture(tmp_path / name)


def test_a_picture_outside_the_folder_of_its_design_is_refused(tmp_path: Path) -> None:
    """A design that travels must not read what lies elsewhere."""
    with pytest.raises(DesignError, match="allowed: a file beside the design"):
        made_with(tmp_path, PICTURE.format(name="../secret.png"), sow="x")


def test_a_tint_is_drawn_in_black_only(tmp_path: Path) -> None:
    """A fifth of the ground is dark, none of it by a grey that a black-only printer would scatter into dots."""
    made = made_with(tmp_path, tint="tint = 0.2", sow=".")
    dots = page_dots(made.pdf, 0, 1200)
    band = dots[110:130, 200:4000]
    assert (band < 128).mean() == pytest.approx(0.2, abs=0.03)
    contents = pypdf.PdfReader(io.BytesIO(made.pdf)).pages[0].get_contents()
    assert contents is not None
    assert b"0.2 g" not in contents.get_data()


SPACING = '[layout.spacing]\nside = "left"\nedge = "bottom"\nwidth_mm = 50\nheight_mm = 8'


@pytest.mark.parametrize(
    ("spacing", "length_mm", "times"), [("40", 40, 1), ("150", 37.5, 4), ("300", 300 / 7, 7)]
)
def test_the_gauge_of_spacing_is_as_long_as_it_says(
    tmp_path: Path, spacing: str, length_mm: float, times: int
) -> None:
    """From mark to mark, measured on the drawn page at 1200 dots an inch; long ones are laid several times."""
    made = made_with(tmp_path, SPACING, sow=".", spacing_mm=spacing)
    dots = page_dots(made.pdf, 0, 1200)
    per_mm = 1200 / 25.4
    # The marks are the tallest lines of the band the gauge stands in; words stand below it.
    top = round((50 - 2 - 6.4 + 0.4) * per_mm)
    band = dots[top : top + round(3.2 * per_mm)] < 128
    marks = numpy.flatnonzero(band.sum(axis=0) > 2.8 * per_mm)
    assert (marks[-1] - marks[0]) / per_mm == pytest.approx(length_mm + 0.35, abs=0.1)
    [page] = pypdf.PdfReader(io.BytesIO(made.pdf)).pages
    words = f"{spacing} mm apart"
    assert (words if times == 1 else f"{times} times this: {words}") in page.extract_text()


def test_a_spacing_that_no_gauge_can_show_is_warned_of(tmp_path: Path) -> None:
    """Two metres are more than twenty lengths."""
    made = made_with(tmp_path, SPACING, sow=".", spacing_mm="2000")
    assert [(each.box, "more than 20 lengths" in each.why) for each in made.warnings] == [("spacing", True)]


def test_a_block_away_from_its_corner_stands_on_the_millimetre(tmp_path: Path) -> None:
    """Words pass it on the wider side."""
    picture = Image.new("L", (20, 20), 0)
    picture.save(tmp_path / "dark.png")
    block = PICTURE.format(name="dark.png") + "\nfrom_side_mm = 5\nfrom_edge_mm = 10"
    dots = page_dots(made_with(tmp_path, block, sow="x").pdf, 0, 300)
    per_mm = 300 / 25.4
    dark = dots[:, round(60 * per_mm) :] < 128
    rows, columns = numpy.flatnonzero(dark.any(axis=1)), numpy.flatnonzero(dark.any(axis=0))
    # The label is 100 x 50 mm with a padding of 2 mm.
    assert rows[-1] / per_mm == pytest.approx(50 - 2 - 10, abs=0.15)
    assert columns[-1] / per_mm + 60 == pytest.approx(100 - 2 - 5, abs=0.15)
