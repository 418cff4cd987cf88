"""Designs: readable files, checked key by key; faults name file, key and what is allowed."""

from pathlib import Path

import pytest

from hilum.labels.designs import FIELDS, PROTECTED, design, designs, read_design
from hilum.labels.errors import DesignError, LabelError
from hilum.labels.orders import fitting_stocks, layout_on
from hilum.labels.stocks import label_stock

GOOD = """
title = "Plain"
purpose = "For a test."
required = ["lot"]
[[layout]]
smallest_width_mm = 30
smallest_height_mm = 20
[layout.code]
side = "right"
edge = "bottom"
room_mm = 15
[[layout.box]]
name = "lot"
parts = ["{lot}", { text = "{botanical}", face = "botanical" }]
size_pt = [6, 9]
"""


def a_design_file(folder: Path, text: str = GOOD) -> Path:
    """Write a design file called plain.toml."""
    path = folder / "plain.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_designs_for_every_label_of_the_house_come_with_the_program() -> None:
    """And a packet must say crop, variety, year, place and lot number."""
    assert [each.name for each in designs()] == [
        "dish", "jar", "packet", "box", "counter", "incoming", "packet-back", "packet-small", "stake", "stake-back",
    ]  # fmt: skip
    assert design("packet").required == ("crop", "variety", "year", "place_grown", "lot")


def test_every_layout_of_every_design_has_a_place_for_a_caution() -> None:
    """A poisonous crop's caution can be printed whatever the label."""
    for each in designs():
        for layout in each.layouts:
            assert "caution" in layout.fields
            [box] = [box for box in layout.boxes if "caution" in box.fields]
            assert box.frame
            assert box.parts[0].face == "bold"


def test_a_good_file_is_read(tmp_path: Path) -> None:
    """The smallest label in words, the fields it shows."""
    plain = read_design(a_design_file(tmp_path))
    assert plain.smallest_words == "30 × 20 mm"
    assert plain.fields == ("lot", "botanical")


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ('title = "Plain"\n', "", r"plain\.toml: title is missing; allowed: a text in quotes"),
        ('side = "right"', 'side = "middle"', r"plain\.toml, line 9 \(layout 1, code\): side is 'middle'; allow"),
        ("room_mm = 15", "room_mm = 5", "room_mm is 5; allowed: a number from 12.5 to 200"),
        ("room_mm = 15", "room_mm = true", "room_mm is True"),
        ("room_mm = 15", "room_mm = 17", "room_mm is 17; allowed: up to 16, which the smallest label leaves"),
        ("size_pt = [6, 9]", "size_pt = [9, 6]", r"line 15 \(layout 1, box 1 “lot”\): size_pt is \[9, 6\]; allowed"),
        ("{lot}", "{lott}", r"\{lott\} is not a field of a label. Did you mean \{lot\}\?"),
        ("{lot}", "{lot!r}", r"is not a field"),
        ("{lot}", "{lot", "cannot be read"),
        ('face = "botanical"', 'face = "fancy"', "allowed: regular, bold, italic, botanical"),
        ('name = "lot"', 'name = "lot"\ncolour = "red"', "colour is not known; allowed: name"),
        ('required = ["lot"]', 'required = ["year"]', "no box shows year, which the design requires"),
        ('required = ["lot"]', 'required = "lot"', "required is 'lot'; allowed: a list of fields"),
        ("title", "= title", "not readable TOML"),
    ],
)  # fmt: skip
def test_a_fault_names_file_key_and_what_is_allowed(tmp_path: Path, old: str, new: str, words: str) -> None:
    """One fault at a time."""
    assert old in GOOD
    with pytest.raises(DesignError, match=words):
        read_design(a_design_file(tmp_path, GOOD.replace(old, new, 1)))


def test_two_boxes_of_one_name_are_refused(tmp_path: Path) -> None:
    """Warnings name boxes, so the names must differ."""
    box = GOOD[GOOD.index("[[layout.box]]") :]
    with pytest.raises(DesignError, match="two boxes are called “lot”"):
        read_design(a_design_file(tmp_path, GOOD + box))


def test_an_unknown_design_is_refused_with_those_there_are() -> None:
    """In words."""
    with pytest.raises(LabelError, match=r"no label design “poster”\. There are dish, jar, packet"):
        design("poster")


def test_a_label_too_small_is_refused_with_the_smallest_and_with_stocks_that_fit() -> None:
    """A sheet is answered with sheets, a roll with rolls."""
    with pytest.raises(
        LabelError, match=r"at least 45 × 21 mm; a4-7x27-25\.4x10 is 25\.4 × 10 mm\. It fits a4-3x8-70x37"
    ):
        layout_on(design("packet"), label_stock("a4-7x27-25.4x10"))
    with pytest.raises(LabelError, match=r"roll-29x90 is 29 × 90 mm\. It fits roll-57x32"):
        layout_on(design("packet"), label_stock("roll-29x90"))


def test_a_round_label_is_refused_with_what_its_shape_leaves() -> None:
    """A disc of 38.1 mm."""
    with pytest.raises(LabelError, match="of which its shape and the edge of the page leave"):
        layout_on(design("packet"), label_stock("a4-4x5"))


def test_larger_labels_get_roomier_layouts() -> None:
    """Three layouts of the packet, by size."""
    sizes = {
        name: layout_on(design("packet"), label_stock(name)).smallest_width_mm
        for name in ("a4-2x4-99.1x67.7", "a4-3x8", "letter-3x10", "a4-4x12")
    }
    assert sizes == {"a4-2x4-99.1x67.7": 85, "a4-3x8": 57, "letter-3x10": 45, "a4-4x12": 45}


def test_every_design_fits_common_sheets_and_rolls() -> None:
    """The five a keeper is likeliest to have, for the labels that are printed most; every other fits something."""
    common = {"a4-3x8-70x37", "a4-3x7-63.5x38.1", "letter-3x10-66.7x25.4", "roll-57x32", "roll-62x29"}
    for name in ("packet", "jar", "dish"):
        assert common <= {stock.name for stock in fitting_stocks(design(name))}
    assert all(len(fitting_stocks(each)) >= 5 for each in designs())


def test_what_is_protected_is_a_field() -> None:
    """The six that are never shortened."""
    assert set(PROTECTED) < set(FIELDS)
    assert set(PROTECTED) == {"crop", "variety", "year", "place_grown", "lot", "caution"}
