"""Described stock: labels that are in no table, told by a ruler, checked figure by figure."""

from dataclasses import dataclass
from typing import Literal

from hilum.labels.errors import LabelError
from hilum.labels.geometry import TOLERANCE_MM
from hilum.labels.stocks import LabelStock

_LEAST_LABEL_MM, _LARGEST_PAGE_MM = 8.0, 500.0


class DescribedStockError(LabelError):
    """A measurement that cannot be; `measure` names the one to look at again."""

    def __init__(self, measure: str, words: str) -> None:
        super().__init__(words)
        self.measure = measure


@dataclass(frozen=True, slots=True)
class StockMeasurements:
    """What a keeper reads off a ruler laid on a sheet, from its left and top edge, in millimetres.

    `second_left_mm` and `second_top_mm` are the left edge of the second column and the top edge of the second
    row; with one column or row they are not asked for.
    """

    title: str
    page_w_mm: float
    page_h_mm: float
    columns: int
    rows: int
    first_left_mm: float
    first_top_mm: float
    label_w_mm: float
    label_h_mm: float
    second_left_mm: float | None = None
    second_top_mm: float | None = None
    corner_mm: float = 0.0
    shape: Literal["rectangle", "circle"] = "rectangle"


def _range(measure: str, value: float, low: float, high: float, what: str) -> None:
    if not low <= value <= high:
        raise DescribedStockError(measure, f"{what} is {value:g}; it can be from {low:g} to {high:g}.")


def _pitch(
    measure: str, count: int, first_mm: float, second_mm: float | None, label_mm: float, what: str
) -> float:
    if count == 1:
        return label_mm
    if second_mm is None:
        raise DescribedStockError(
            measure,
            f"The second {what} is not measured: give the distance from the paper's edge to its beginning.",
        )
    pitch_mm = second_mm - first_mm
    if pitch_mm < label_mm - TOLERANCE_MM:
        raise DescribedStockError(
            measure,
            f"The second {what} begins {pitch_mm:g} mm after the first, but a label is {label_mm:g} mm there: they "
            "would overlap. Measure again from the paper's edge.",
        )
    return pitch_mm


def described_stock(measured: StockMeasurements) -> LabelStock:
    """Make a label stock of ruler measurements; raises DescribedStockError naming the measure that cannot be."""
    m = measured
    if not m.title.strip():
        raise DescribedStockError("title", "The label stock has no name: give it one, such as “garden tags”.")
    _range("page_w_mm", m.page_w_mm, 20, _LARGEST_PAGE_MM, "The paper's width")
    _range("page_h_mm", m.page_h_mm, 20, _LARGEST_PAGE_MM, "The paper's height")
    _range("columns", m.columns, 1, 50, "The number of columns")
    _range("rows", m.rows, 1, 100, "The number of rows")
    _range("label_w_mm", m.label_w_mm, _LEAST_LABEL_MM, m.page_w_mm, "A label's width")
    _range("label_h_mm", m.label_h_mm, _LEAST_LABEL_MM, m.page_h_mm, "A label's height")
    _range("first_left_mm", m.first_left_mm, 0, m.page_w_mm, "The first label's left edge")
    _range("first_top_mm", m.first_top_mm, 0, m.page_h_mm, "The first label's top edge")
    _range("corner_mm", m.corner_mm, 0, min(m.label_w_mm, m.label_h_mm) / 2, "The corner's radius")
    pitch_x_mm = _pitch(
        "second_left_mm", m.columns, m.first_left_mm, m.second_left_mm, m.label_w_mm, "column"
    )
    pitch_y_mm = _pitch("second_top_mm", m.rows, m.first_top_mm, m.second_top_mm, m.label_h_mm, "row")
    for measure, first, count, pitch, size, page, what in (
        ("columns", m.first_left_mm, m.columns, pitch_x_mm, m.label_w_mm, m.page_w_mm, "column ends"),
        ("rows", m.first_top_mm, m.rows, pitch_y_mm, m.label_h_mm, m.page_h_mm, "row ends"),
    ):
        end_mm = first + (count - 1) * pitch + size
        if end_mm > page + TOLERANCE_MM:
            raise DescribedStockError(
                measure,
                f"The last {what} at {end_mm:.1f} mm, beyond the paper's {page:g} mm. Count again, or measure the "
                "second one again: its error is multiplied.",
            )
    name = "-".join(m.title.lower().split())
    return LabelStock(
        f"own-{name}", m.title.strip(), m.page_w_mm, m.page_h_mm, m.columns, m.rows, m.label_w_mm, m.label_h_mm,
        m.first_left_mm, m.first_top_mm, pitch_x_mm, pitch_y_mm, m.corner_mm, m.shape, "sheet",
        "measured by the keeper",
    )  # fmt: skip
