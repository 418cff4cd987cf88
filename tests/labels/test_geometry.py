"""Boxes and grids: labels lie where the arithmetic says, inside the page, never on each other."""

import itertools
import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hilum.labels.dots import dot_mm, snapped
from hilum.labels.geometry import TOLERANCE_MM, Box, Grid, inscribed_square
from hilum.labels.stocks import LabelStock, label_stocks


def a_grid(**changes: float) -> Grid:
    """Three by eight butt-cut labels on A4."""
    figures: dict[str, float] = {
        "page_w_mm": 210, "page_h_mm": 297, "columns": 3, "rows": 8, "label_w_mm": 70, "label_h_mm": 37,
        "margin_left_mm": 0, "margin_top_mm": 0.5, "pitch_x_mm": 70, "pitch_y_mm": 37,
    }  # fmt: skip
    return Grid(**(figures | changes))  # type: ignore[arg-type]


@given(st.sampled_from(label_stocks()))
@settings(deadline=None, max_examples=200)
def test_labels_of_a_stock_never_overlap_and_never_leave_the_page(stock: LabelStock) -> None:
    """Holds for every stock we ship, each pair of its labels."""
    grid = stock.grid()
    boxes = [grid.label_box(position) for position in range(1, grid.count + 1)]
    assert all(box.lies_in(grid.page) for box in boxes)
    if grid.count <= 70:
        pairs = itertools.combinations(boxes, 2)
    else:
        pairs = itertools.chain(itertools.pairwise(boxes), zip(boxes, boxes[grid.columns :], strict=False))
    assert not any(one.overlaps(other) for one, other in pairs)


@given(
    st.integers(1, 9), st.integers(1, 20), st.floats(8, 100), st.floats(8, 100), st.floats(0, 20), st.floats(0, 20),
    st.floats(0, 5), st.floats(0, 5),
)  # fmt: skip
@settings(deadline=None)
def test_any_grid_that_is_accepted_keeps_its_labels_apart(
    columns: int, rows: int, width: float, height: float, left: float, top: float, gap_x: float, gap_y: float
) -> None:
    """A page just large enough is accepted; the last label ends at its far corner."""
    page_w = left + columns * width + (columns - 1) * gap_x
    page_h = top + rows * height + (rows - 1) * gap_y
    grid = Grid(page_w, page_h, columns, rows, width, height, left, top, width + gap_x, height + gap_y)
    last = grid.label_box(grid.count)
    assert math.isclose(last.right_mm, page_w, abs_tol=1e-6)
    assert math.isclose(last.bottom_mm, page_h, abs_tol=1e-6)
    if columns > 1:
        assert not grid.label_box(1).overlaps(grid.label_box(2))


@given(st.sampled_from(label_stocks()))
@settings(deadline=None, max_examples=100)
def test_ink_keeps_five_millimetres_from_the_edge_of_a_sheet(stock: LabelStock) -> None:
    """On every position; and all labels of a sheet have areas of one size, inside the label."""
    grid = stock.grid()
    areas = [stock.ink_area(position, 2) for position in range(1, grid.count + 1)]
    assert len({(round(area.width_mm, 6), round(area.height_mm, 6)) for area in areas}) == 1
    edge = 5 if stock.kind == "sheet" else 2
    safe = Box(edge, edge, stock.page_w_mm - 2 * edge, stock.page_h_mm - 2 * edge)
    for position, area in enumerate(areas, start=1):
        assert area.lies_in(safe, 1e-6)
        label = grid.label_box(position)
        assert area.lies_in(
            Box(label.x_mm + 2, label.y_mm + 2, label.width_mm - 4, label.height_mm - 4), 1e-6
        )


def test_butt_cut_labels_keep_more_room_inside_than_the_worst_label_needs() -> None:
    """Outer columns lose 5 + 2 mm, so every column has 63 of 70 mm."""
    assert [a_grid().ink_area(n, 2, 5).x_mm for n in (1, 2, 3)] == [5.0, 73.5, 142.0]
    assert a_grid().ink_area(5, 2, 5).width_mm == 63


def test_positions_run_row_by_row() -> None:
    """The fourth label of three columns begins the second row."""
    assert a_grid().label_box(4) == Box(0, 37.5, 70, 37)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"label_w_mm": 71.0}, "overlap at a pitch of 70"),
        ({"rows": 9}, "end at 333.50 mm down, the page at 297"),
        ({"margin_left_mm": -1.0}, "outside the page"),
        ({"columns": 0}, "cannot be"),
    ],
)
def test_a_grid_that_cannot_be_is_refused_with_its_figures(changes: dict[str, float], words: str) -> None:
    """Overlapping labels, labels off the page, none at all."""
    with pytest.raises(ValueError, match=words):
        a_grid(**changes)


def test_a_sum_off_by_a_hundredth_is_still_on_the_page() -> None:
    """Seven rows of 42.43 mm end at 297.01 mm: published figures are rounded."""
    assert a_grid(rows=7, label_h_mm=42.43, pitch_y_mm=42.43, margin_top_mm=0).count == 21
    assert TOLERANCE_MM == 0.02


def test_the_square_in_a_disc_touches_it() -> None:
    """A round label of 38.1 mm takes a square of 26.9 mm, in its middle."""
    square = inscribed_square(Box(10, 10, 38.1, 38.1))
    assert round(square.width_mm, 1) == 26.9
    assert math.isclose(square.x_mm + square.right_mm, 2 * 10 + 38.1)
    assert math.isclose(math.hypot(square.width_mm, square.height_mm), 38.1)


@given(st.floats(-500, 500), st.sampled_from([0.125, 25.4 / 60]))
@settings(deadline=None)
def test_snapping_moves_half_a_step_at_most_onto_whole_steps(value: float, step: float) -> None:
    """And what lies on a step stays."""
    moved = snapped(value, step)
    assert abs(moved - value) <= step / 2 + 1e-9
    assert abs(moved / step - round(moved / step)) < 1e-6
    assert math.isclose(snapped(moved, step), moved)


def test_a_203_dpi_head_has_eight_dots_to_the_millimetre() -> None:
    """The name rounds 203.2."""
    assert dot_mm(203) == 0.125
    assert dot_mm(600) == 25.4 / 600
