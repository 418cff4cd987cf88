"""Packets: blanks that fit the page, panels that lie where they fold, marks that can be left out."""

import io
import itertools
import re

import pypdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hilum.labels.errors import LabelError
from hilum.labels.folding import (
    FoldingPacket,
    blanks_on,
    folding_packet,
    folding_packets,
    lines_of,
    panels_on,
)
from hilum.labels.geometry import MM_PER_POINT, Box
from hilum.labels.packets import make_packets
from hilum.labels.proof import page_dots
from tests.labels.builders import LONG_VARIETY, a_label


def blanks_page(page: str) -> tuple[float, float]:
    """The size of plain paper."""
    return {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}[page]


@given(
    st.floats(45, 120), st.floats(60, 150), st.floats(8, 14), st.floats(8, 16), st.floats(10, 25), st.floats(0, 2),
    st.sampled_from(["a4", "letter"]),
)  # fmt: skip
@settings(deadline=None, max_examples=200)
def test_blanks_never_overlap_or_leave_the_printable_page(
    width: float, height: float, side: float, bottom: float, closing: float, clearance: float, page: str
) -> None:
    """Of any size that fits at all; front and back lie within their blank, side by side."""
    packet = FoldingPacket("any", width, height, side, bottom, closing, clearance)
    try:
        blanks = blanks_on(packet, page)
    except LabelError:
        assert packet.blank_w_mm > blanks_page(page)[0] - 10 or packet.blank_h_mm > blanks_page(page)[1] - 10
        return
    grid = blanks.grid()
    boxes = [grid.label_box(n) for n in range(1, grid.count + 1)]
    printable = Box(5, 5, blanks.page_w_mm - 10, blanks.page_h_mm - 10)
    assert all(box.lies_in(printable) for box in boxes)
    assert not any(one.overlaps(other) for one, other in itertools.combinations(boxes, 2))
    fronts, backs = panels_on(packet, page)
    for number, box in enumerate(boxes, start=1):
        front, back = fronts.grid().label_box(number), backs.grid().label_box(number)
        assert front.lies_in(box)
        assert back.lies_in(box)
        assert back.x_mm == pytest.approx(front.right_mm)
        assert front.width_mm - back.width_mm == pytest.approx(clearance)


def test_flaps_do_not_stand_out_once_folded() -> None:
    """The tapered ends lie within the front's width; the outline is the whole blank's size."""
    for packet in folding_packets():
        points = packet.outline().points
        xs, ys = [x for x, _ in points], [y for _, y in points]
        assert (min(xs), max(xs)) == pytest.approx((0, packet.blank_w_mm))
        assert (min(ys), max(ys)) == pytest.approx((0, packet.blank_h_mm))
        front = packet.front
        assert all(front.x_mm < x < front.right_mm for x, y in points if y in (0, packet.blank_h_mm))


@pytest.mark.parametrize("page", ["a4", "letter"])
@pytest.mark.parametrize("name", ["c7", "small"])
def test_packets_are_proofed_and_say_their_words_on_front_and_back(name: str, page: str) -> None:
    """Each lot's words lie within its own panels; the code is read."""
    labels = [a_label(f"LEK25-{n:04d}-X", notes="Sow in March.") for n in range(1, 4)]
    made = make_packets(labels, name, page, title="Packets")
    per_page = blanks_on(folding_packet(name), page).per_page
    assert (made.labels, made.pages, made.proof.read) == (3, -(-3 // per_page), 3)
    assert made.warnings == ()
    fronts, backs = panels_on(folding_packet(name), page)
    done = 0
    for sheet in pypdf.PdfReader(io.BytesIO(made.pdf)).pages:
        seen: list[tuple[str, Box]] = []

        def note(text: str, cm: list[float], tm: list[float], *_: object, seen: list = seen) -> None:  # type: ignore[type-arg]
            at = Box((cm[4] + tm[4]) * MM_PER_POINT, fronts.page_h_mm - (cm[5] + tm[5]) * MM_PER_POINT, 0, 0)
            seen.extend((lot, at) for lot in re.findall(r"LEK25-\d{4}-X", text))

        sheet.extract_text(visitor_text=note)
        for position in range(1, per_page + 1):
            lot = f"LEK25-{done + 1:04d}-X"
            places = [box for found, box in seen if found == lot]
            if done == 3:
                break
            assert any(box.lies_in(fronts.grid().label_box(position)) for box in places)
            assert any(box.lies_in(backs.grid().label_box(position)) for box in places)
            done += 1
    assert done == 3


def test_lines_are_drawn_round_the_packets_that_are_there_and_cut_lines_can_be_left_out() -> None:
    """Two packets fit the page, one is asked for: the lower half stays white."""
    made = make_packets([a_label()], "c7", "a4", title="x")
    dots = page_dots(made.pdf, 0, 203)
    middle = dots.shape[0] // 2 + 20
    assert dots[:middle].min() == 0
    assert dots[middle:].min() == 255
    bare = make_packets([a_label()], "c7", "a4", title="x", cut=False)
    assert (
        len(lines_of(folding_packet("c7"), "a4", 1))
        == len(lines_of(folding_packet("c7"), "a4", 1, cut=False)) + 1
    )
    assert (page_dots(bare.pdf, 0, 203) < 128).sum() < (dots < 128).sum()


def test_a_long_name_and_a_caution_stand_whole_on_a_small_packet() -> None:
    """On both panels."""
    label = a_label(variety=LONG_VARIETY, caution="Poisonous. Do not eat any part.")
    text = pypdf.PdfReader(io.BytesIO(make_packets([label], "small", "letter", title="x").pdf)).pages[0]
    words = " ".join(text.extract_text().split())
    assert words.count("Poisonous.") == 2
    assert words.count("Grandmother") == 2


def test_what_cannot_be_folded_is_refused() -> None:
    """An unknown size, an unknown page, a blank larger than the page."""
    with pytest.raises(LabelError, match=r"no folding packet “c5”\. There are c7, small"):
        make_packets([a_label()], "c5", "a4", title="x")
    with pytest.raises(LabelError, match="folded from a4 or letter paper, not from “a5”"):
        make_packets([a_label()], "c7", "a5", title="x")
    with pytest.raises(LabelError, match=r"blank of 311 × 326 mm does not fit on a4 paper"):
        blanks_on(FoldingPacket("big", 150, 300, 12, 12, 14), "a4")
