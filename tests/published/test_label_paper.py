"""Sizes of paper and labels against published ones."""

import math

import pytest

from hilum.labels.geometry import MM_PER_INCH, MM_PER_POINT
from hilum.labels.stocks import label_stock, label_stocks

KIND = "published"
# ISO 216:2007, A series (also the legend of The Document Foundation's labels.xml measurement table).
A4_MM = (210, 297)
# ANSI letter, 8 1/2 × 11 inches (same legend).
LETTER_INCH = (8.5, 11)


def test_a4_sheets_are_iso_216() -> None:
    """Every A4 stock."""
    assert {(each.page_w_mm, each.page_h_mm) for each in label_stocks() if each.name.startswith("a4-")} == {
        A4_MM
    }


def test_a4_has_the_iso_ratio() -> None:
    """1 to the square root of 2, within the rounding to whole millimetres (ISO 216:2007)."""
    stock = label_stock("a4-3x8")
    assert abs(stock.page_h_mm - stock.page_w_mm * math.sqrt(2)) < 0.5


def test_letter_sheets_are_eight_and_a_half_by_eleven_inches() -> None:
    """Every Letter stock."""
    inches = {
        (each.page_w_mm / MM_PER_INCH, each.page_h_mm / MM_PER_INCH)
        for each in label_stocks()
        if each.name.startswith("letter-")
    }
    assert len(inches) == 1
    assert inches.pop() == pytest.approx(LETTER_INCH, abs=1e-9)


def test_the_letter_address_sheet_is_the_published_one_in_inches() -> None:
    """Left 3/16, top 1/2, pitch 2 3/4 × 1 inch.

    The Document Foundation, labels.xml measurement table: 478, 1270, 6985, 2540 in 1/100 mm.
    """
    stock = label_stock("letter-3x10")
    published_mm = (4.78, 12.70, 69.85, 25.40)
    ours_mm = (stock.margin_left_mm, stock.margin_top_mm, stock.pitch_x_mm, stock.pitch_y_mm)
    assert ours_mm == pytest.approx(published_mm, abs=0.02)
    inches = [value / MM_PER_INCH for value in ours_mm]
    assert inches == pytest.approx([3 / 16, 1 / 2, 2.75, 1])


def test_a_point_is_a_72nd_of_an_inch() -> None:
    """W3C, CSS 2.1 (2011), section 4.3.2, "Lengths"; A4 is then 595.276 × 841.890 pt (computed)."""
    assert pytest.approx(25.4) == 72 * MM_PER_POINT
    assert [round(side / MM_PER_POINT, 3) for side in A4_MM] == [595.276, 841.89]
