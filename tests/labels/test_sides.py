"""Sides and order: backs behind their fronts, marks to cut by, groups kept apart, envelopes fed as they are."""

import io
import re

import pypdf
import pytest

from hilum.labels.collation import Separator, collated
from hilum.labels.errors import LabelError
from hilum.labels.geometry import MM_PER_POINT, Box
from hilum.labels.job import make_labels
from hilum.labels.marks import cut_marks
from hilum.labels.stocks import label_stock
from tests.labels.builders import a_label, some_labels


def places_of_lots(pdf: bytes, page: int, high_mm: float) -> dict[str, tuple[float, float]]:
    """Where each lot number begins on a page, from the top left corner."""
    seen: dict[str, tuple[float, float]] = {}

    def note(text: str, cm: list[float], tm: list[float], *_: object) -> None:
        for lot in re.findall(r"LEK25-\d{4}-X", text):
            seen[lot] = ((cm[4] + tm[4]) * MM_PER_POINT, high_mm - (cm[5] + tm[5]) * MM_PER_POINT)

    pypdf.PdfReader(io.BytesIO(pdf)).pages[page].extract_text(visitor_text=note)
    return seen


@pytest.mark.parametrize("name", ["a4-3x8", "a4-2x5-90x52", "letter-3x10", "a4-3x7-63.5x38.1"])
def test_each_back_lies_behind_its_front(name: str) -> None:
    """Held against the light: the back's place, mirrored on the sheet's middle, is the front's label."""
    stock = label_stock(name)
    made = make_labels(some_labels(5), "packet", stock, start=2, title="x", back="packet-back")
    assert (made.labels, made.pages, made.proof.codes) == (5, 2, 5)
    back = places_of_lots(made.pdf, 1, stock.page_h_mm)
    assert len(back) == 5
    for number, lot in enumerate(sorted(back), start=2):
        x_mm, y_mm = back[lot]
        front = stock.grid().label_box(number)
        mirrored = Box(stock.page_w_mm - front.right_mm, front.y_mm, front.width_mm, front.height_mm)
        assert Box(x_mm, y_mm, 0, 0).lies_in(mirrored)


def test_fronts_and_backs_take_turns() -> None:
    """Page by page, as a printer for both sides takes them."""
    made = make_labels(some_labels(30), "packet", "a4-3x8", title="x", back="packet-back")
    assert made.pages == 4
    pages = [sorted(places_of_lots(made.pdf, page, 297)) for page in range(4)]
    assert pages[0] == pages[1]
    assert pages[2] == pages[3]
    assert len(pages[3]) == 6


def test_a_back_does_not_warn_of_what_the_front_says() -> None:
    """Only of what neither side shows."""
    made = make_labels(some_labels(1), "packet", "a4-2x5-90x52", title="x", back="packet-back")
    assert made.warnings == ()


def test_a_roll_or_an_envelope_has_no_back_here() -> None:
    """In words."""
    for name in ("roll-62x29", "envelope-114x81"):
        with pytest.raises(LabelError, match="is no sheet: only sheets are printed on both sides"):
            make_labels(some_labels(1), "packet", name, title="x", back="packet-back")


def test_cut_marks_stand_in_the_margins_at_every_edge_of_a_label() -> None:
    """Never on a label, never where a printer cannot print."""
    for name in ("a4-2x5-90x52", "letter-2x4-90x60"):
        stock = label_stock(name)
        grid = stock.grid()
        labels = [grid.label_box(n) for n in range(1, grid.count + 1)]
        marks = cut_marks(stock)
        for mark in marks:
            (x1, y1), (x2, y2) = mark.points
            ground = Box(min(x1, x2), min(y1, y2), abs(x2 - x1), abs(y2 - y1))
            assert ground.lies_in(Box(4, 4, stock.page_w_mm - 8, stock.page_h_mm - 8))
            assert not any(
                label.x_mm < x < label.right_mm and label.y_mm < y < label.bottom_mm
                for label in labels
                for x, y in mark.points
            )
        upright = {round(mark.points[0][0], 2) for mark in marks if mark.points[0][0] == mark.points[1][0]}
        assert upright == {round(x, 2) for box in labels for x in (box.x_mm, box.right_mm)}


def test_a_sheet_without_margins_takes_no_cut_marks() -> None:
    """Refused rather than drawn off the page."""
    with pytest.raises(LabelError, match="a4-3x8-70x37 has no room for cut marks"):
        make_labels(some_labels(1), "packet", "a4-3x8", title="x", marks=True)
    made = make_labels(some_labels(1), "packet", "a4-2x5-90x52", title="x", marks=True)
    assert made.proof.read == 1


def test_copies_come_together_or_in_whole_sets() -> None:
    """One number for all, or one a label."""
    first, second = a_label("A"), a_label("B")
    assert [each.key for each in collated([first, second], 2) if not isinstance(each, Separator)] == list(
        "AABB"
    )
    sets = collated([first, second], [3, 1], whole_sets=True)
    assert [each.key for each in sets if not isinstance(each, Separator)] == list("ABAA")
    with pytest.raises(ValueError, match="1 numbers of copies for 2 labels"):
        collated([first, second], [1])


def test_groups_are_kept_apart_by_a_separator_that_says_what_follows() -> None:
    """It takes a place on the sheet, has no code, and is no label."""
    labels = [a_label("A", crop="Leek"), a_label("B", crop="Bean"), a_label("C", crop="Leek")]
    ordered = collated(labels, 2, group=lambda label: label.fields["crop"])
    names = [each.group if isinstance(each, Separator) else each.key for each in ordered]
    assert names == ["Leek", "A", "A", "C", "C", "Bean", "B", "B"]
    made = make_labels(ordered, "packet", "a4-3x8", title="x")
    assert (made.labels, made.proof.codes, made.pages) == (6, 6, 1)
    text = pypdf.PdfReader(io.BytesIO(made.pdf)).pages[0].extract_text()
    assert "4 labels" in text
    assert "2 labels" in text


def test_a_separator_fits_the_small_labels_too() -> None:
    """Wherever a dish tag is printed."""
    for name in ("a4-5x13", "a4-4x12", "letter-3x10"):
        made = make_labels([Separator("Leek", "4 labels"), a_label()], "dish", name, title="x")
        assert (made.labels, made.warnings) == (1, ())


def test_envelopes_are_printed_one_a_page_clear_of_flap_and_seam() -> None:
    """The page is the envelope; no word in the strip that its row names; no start."""
    for name in ("envelope-63.5x108", "envelope-114x81", "envelope-57.2x88.9"):
        stock = label_stock(name)
        design = "packet-small" if stock.page_h_mm > stock.page_w_mm else "packet"
        made = make_labels(some_labels(2), design, stock, title="x")
        assert (made.pages, made.proof.read) == (2, 2)
        for x_mm, y_mm in places_of_lots(made.pdf, 0, stock.page_h_mm).values():
            assert Box(x_mm, y_mm, 0, 0).lies_in(stock.grid().label_box(1))
        assert stock.feed_edge in ("top", "left")
        assert stock.flap_side == "top"
    with pytest.raises(LabelError, match="is an envelope: each label is a page of its own"):
        make_labels(some_labels(1), "packet", "envelope-114x81", title="x", start=2)
