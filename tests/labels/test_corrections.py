"""Corrections: what a printer does is measured, solved and undone; codes keep their whole dots."""

import io
import re

import numpy
import pypdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hilum.labels.corrections import Correction, MeasuredCrosses, crosses, crosses_on, solve_calibration
from hilum.labels.errors import LabelError
from hilum.labels.geometry import MM_PER_POINT
from hilum.labels.job import make_labels
from hilum.labels.marks import calibration_page
from hilum.labels.proof import page_dots
from hilum.labels.stocks import label_stock
from tests.labels.builders import some_labels

CORRECTIONS = st.builds(
    Correction,
    st.floats(-9, 9), st.floats(-9, 9), st.floats(0.982, 1.018), st.floats(0.982, 1.018), st.floats(-0.009, 0.009),
)  # fmt: skip


def measured(printer: Correction) -> MeasuredCrosses:
    """Measure the A4 calibration page as a printer puts it on paper."""
    first, second, third, _ = (printer.printed(x, y) for x, y in crosses(210, 297))
    return MeasuredCrosses(210, 297, first, second, third)


@given(CORRECTIONS, st.floats(0, 210), st.floats(0, 297))
@settings(deadline=None)
def test_what_is_drawn_for_a_printer_lands_where_it_is_meant(printer: Correction, x: float, y: float) -> None:
    """Any point of the page."""
    assert printer.printed(*printer.drawn(x, y)) == pytest.approx((x, y), abs=1e-6)


@given(CORRECTIONS)
@settings(deadline=None)
def test_three_measured_crosses_give_back_the_printer(printer: Correction) -> None:
    """Offset, both scales, skew."""
    found = solve_calibration(measured(printer))
    for name in ("right_mm", "down_mm", "scale_x", "scale_y", "skew"):
        assert getattr(found, name) == pytest.approx(getattr(printer, name), abs=1e-6)


@given(CORRECTIONS, st.lists(st.floats(-0.1, 0.1), min_size=6, max_size=6))
@settings(deadline=None)
def test_a_ruler_read_to_a_tenth_corrects_to_a_third_of_a_millimetre(
    printer: Correction, slips: list[float]
) -> None:
    """At every corner of the page, whatever the reader's slips."""
    true = measured(printer)
    given_points = [
        (point[0] + slips[2 * n], point[1] + slips[2 * n + 1])
        for n, point in enumerate((true.top_left, true.top_right, true.bottom_left))
    ]
    try:
        found = solve_calibration(MeasuredCrosses(210, 297, *given_points))
    except LabelError:
        return  # a slip can push a value at the edge of what is corrected over it
    for x, y in ((0.0, 0.0), (210.0, 0.0), (0.0, 297.0), (210.0, 297.0)):
        assert printer.printed(*found.drawn(x, y)) == pytest.approx((x, y), abs=0.45)


@pytest.mark.parametrize(
    ("fault", "words"),
    [
        ({"right_mm": 12.0}, "12.0 mm off to the right; up to 10 mm"),
        ({"scale_y": 0.96}, "96.0 % of its true size.*not “fit to page”"),
        ({"skew": 0.03}, "turned by 3.0 mm in 100 mm"),
    ],
)
def test_what_no_printer_does_is_refused(fault: dict[str, float], words: str) -> None:
    """With what to look at instead."""
    with pytest.raises(LabelError, match=words):
        Correction(**fault)


def test_measures_that_contradict_each_other_are_refused() -> None:
    """Crosses an inch apart that should be 170 mm, and a page turned two ways."""
    with pytest.raises(
        LabelError, match=r"top crosses are 170\.0 mm apart on the page; 25\.4 mm was measured"
    ):
        solve_calibration(MeasuredCrosses(210, 297, (20, 20), (45.4, 20), (20, 277)))
    with pytest.raises(LabelError, match="turned one way, the left ones another"):
        solve_calibration(MeasuredCrosses(210, 297, (20, 20), (190, 24), (24, 277)))


def test_corrected_words_move_and_codes_stay_on_whole_dots() -> None:
    """Two millimetres to the left and up for a printer that prints right and low; all codes read."""
    plain = make_labels(some_labels(24), "packet", "a4-3x8", title="x")
    moved = make_labels(some_labels(24), "packet", "a4-3x8", title="x", correction=Correction(2.0, 2.0))
    assert moved.proof.read == 24
    places = []
    for made in (plain, moved):
        contents = pypdf.PdfReader(io.BytesIO(made.pdf)).pages[0].get_contents()
        assert contents is not None
        found = re.findall(rb"q ([\d.]+) 0 0 \1 ([\d.]+) ([\d.]+) cm \d+ \d+ \d+ 1 re", contents.get_data())
        places.append([(float(x) * MM_PER_POINT, float(y) * MM_PER_POINT) for _, x, y in found])
    step_mm = 25.4 / 60
    for (x1, y1), (x2, y2) in zip(*places, strict=True):
        assert (x2 - x1, y2 - y1) == pytest.approx((-2.0, 2.0), abs=step_mm)
        assert abs(x2 / step_mm - round(x2 / step_mm)) < 1e-3
    one, other = (page_dots(made.pdf, 0, 300) < 128 for made in (plain, moved))
    shift = round(2 / 25.4 * 300)
    words = one[shift:, shift : 600 + shift]
    assert (words == other[:-shift, :600])[: 2 * shift].mean() > 0.97


def test_a_scaled_page_is_warned_of() -> None:
    """The driver is the place to mend it."""
    made = make_labels(some_labels(1), "packet", "a4-3x8", title="x", correction=Correction(scale_x=0.99))
    assert ["99.0 × 100.0 %" in each.why for each in made.warnings if each.key == "printer"] == [True]


@pytest.mark.parametrize("name", ["a4-3x8", "letter-3x10", "envelope-114x81"])
def test_the_calibration_page_has_its_crosses_where_it_says(name: str) -> None:
    """Dark arms and nothing beside them, at the places that are printed there."""
    stock = label_stock(name)
    pdf = calibration_page(stock)
    dots = page_dots(pdf, 0, 600)
    per_mm = 600 / 25.4
    text = pypdf.PdfReader(io.BytesIO(pdf)).pages[0].extract_text()
    for x, y in crosses_on(stock):
        assert f"{x:.1f} / {y:.1f}" in text
        column, row = round(x * per_mm), dots.shape[0] - round((stock.page_h_mm - y) * per_mm)
        for across, down in ((-60, 0), (60, 0), (0, 60)):
            here = dots[row + down - 2 : row + down + 3, column + across - 2 : column + across + 3]
            assert here.min() < 128


def test_the_rulers_of_the_calibration_page_are_true() -> None:
    """100 mm across on A4, read from the drawn page; 150 mm down."""
    pdf = calibration_page(label_stock("a4-2x4-99.1x67.7"))
    dots = page_dots(pdf, 0, 600)
    row = round(297 * 0.25 / 25.4 * 600) + 20
    dark = [n for n in range(dots.shape[1]) if dots[row - 2 : row + 3, n].max() < 200]
    ticks = [n for n in dark if 55 / 25.4 * 600 - 12 < n < 155 / 25.4 * 600 + 12]
    assert (ticks[-1] - ticks[0]) / 600 * 25.4 == pytest.approx(100, abs=0.3)
    words = pypdf.PdfReader(io.BytesIO(pdf)).pages[0].extract_text().split()
    assert "150" in words
    assert "160" not in words


def ink_left_mm(pdf: bytes, page: int) -> float:
    """Give where the leftmost ink of a page begins."""
    columns = numpy.flatnonzero((page_dots(pdf, page, 300) < 128).any(axis=0))
    return float(columns[0]) * 25.4 / 300


def test_backs_are_corrected_by_what_their_own_side_measured() -> None:
    """A back that comes out 3 mm to the right is drawn 3 mm to the left; the fronts stay where they are."""
    how = {"back": "packet-back", "title": "x"}
    plain = make_labels(some_labels(9), "packet", "a4-2x4-105x74", **how)
    moved = make_labels(
        some_labels(9), "packet", "a4-2x4-105x74", back_correction=Correction(right_mm=3.0), **how
    )
    assert moved.proof.read == 9
    for page, by_mm in ((0, 0.0), (1, -3.0), (2, 0.0), (3, -3.0)):
        assert ink_left_mm(moved.pdf, page) - ink_left_mm(plain.pdf, page) == pytest.approx(by_mm, abs=0.1)


def test_the_page_to_measure_a_back_by_is_the_second_side() -> None:
    """Words on the first, the crosses on the second."""
    pages = pypdf.PdfReader(io.BytesIO(calibration_page(label_stock("a4-3x8"), is_back=True))).pages
    assert "turned over on the long edge" in pages[0].extract_text()
    assert "top left" not in pages[0].extract_text()
    assert "top left" in pages[1].extract_text()
