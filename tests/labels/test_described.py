"""Described stock: a sheet told by a ruler is a stock like any other, or the faulty measure is named."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hilum.labels.described import DescribedStockError, StockMeasurements, described_stock
from hilum.labels.job import make_labels
from hilum.labels.stocks import label_stocks
from tests.labels.builders import some_labels

GOOD = StockMeasurements("garden tags", 210, 297, 3, 7, 7.2, 15.1, 63.5, 38.1, 73.2, 53.2)


def test_a_measured_sheet_is_printed_on() -> None:
    """Pitches come from where the second column and the second row begin."""
    stock = described_stock(GOOD)
    assert (stock.name, stock.pitch_x_mm, stock.pitch_y_mm) == ("own-garden-tags", 66.0, pytest.approx(38.1))
    assert make_labels(some_labels(21), "packet", stock, title="x").proof.read == 21


@pytest.mark.parametrize(
    "stock", [each for each in label_stocks() if each.kind == "sheet"], ids=lambda each: each.name
)
def test_every_known_sheet_can_be_described(stock: object) -> None:
    """Measured as a keeper would, it comes out with the same geometry."""
    known = stock
    made = described_stock(
        StockMeasurements(
            "known", known.page_w_mm, known.page_h_mm, known.columns, known.rows, known.margin_left_mm,  # type: ignore[attr-defined]
            known.margin_top_mm, known.label_w_mm, known.label_h_mm,  # type: ignore[attr-defined]
            known.margin_left_mm + known.pitch_x_mm, known.margin_top_mm + known.pitch_y_mm,  # type: ignore[attr-defined]
        )
    )  # fmt: skip
    for name in range(1, made.per_page + 1):
        one, other = made.grid().label_box(name), known.grid().label_box(name)  # type: ignore[attr-defined]
        assert (one.x_mm, one.y_mm) == pytest.approx((other.x_mm, other.y_mm), abs=0.01)


@pytest.mark.parametrize(
    ("change", "measure", "words"),
    [
        ({"title": " "}, "title", "has no name"),
        ({"page_w_mm": 2100}, "page_w_mm", "paper's width is 2100; it can be from 20 to 500"),
        ({"columns": 0}, "columns", "number of columns is 0"),
        ({"columns": 4}, "columns", r"last column ends at 268\.7 mm, beyond the paper's 210 mm"),
        ({"rows": 9}, "rows", "last row ends at"),
        ({"label_h_mm": 3}, "label_h_mm", "label's height is 3; it can be from 8"),
        ({"second_left_mm": None}, "second_left_mm", "second column is not measured"),
        (
            {"second_top_mm": 40},
            "second_top_mm",
            r"second row begins 24\.9 mm after the first.*would overlap",
        ),
        ({"corner_mm": 30}, "corner_mm", "corner's radius is 30"),
    ],
)
def test_a_faulty_measure_is_named(change: dict[str, object], measure: str, words: str) -> None:
    """So that a form can stand beside it."""
    with pytest.raises(DescribedStockError, match=words) as found:
        described_stock(replace(GOOD, **change))  # type: ignore[arg-type]
    assert found.value.measure == measure


@given(
    st.integers(1, 12),
    st.integers(1, 30),
    st.floats(8, 220),
    st.floats(8, 300),
    st.floats(0, 60),
    st.floats(0, 60),
)
@settings(deadline=None, max_examples=300)
def test_whatever_is_measured_is_a_sound_stock_or_refused(
    columns: int, rows: int, width: float, height: float, left: float, top: float
) -> None:
    """Never an error of arithmetic, never a label off the page."""
    measures = replace(
        GOOD, columns=columns, rows=rows, label_w_mm=width, label_h_mm=height, first_left_mm=left, first_top_mm=top,
        second_left_mm=left + width, second_top_mm=top + height,
    )  # fmt: skip
    try:
        stock = described_stock(measures)
    except DescribedStockError:
        return
    for position in range(1, stock.per_page + 1):
        assert stock.grid().label_box(position).lies_in(stock.grid().page)
