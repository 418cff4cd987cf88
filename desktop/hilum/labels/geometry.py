"""Boxes, grids and dots in millimetres: where labels lie on a page. Pure arithmetic, no paper and no ink.

Every position is measured from the top left corner of the page, x to the right and y downwards.
"""

import math
from dataclasses import dataclass

MM_PER_INCH = 25.4
# 1 pt = 1/72 inch: W3C, CSS 2.1, 2011, "Lengths", https://www.w3.org/TR/CSS21/syndata.html#length-units
MM_PER_POINT = MM_PER_INCH / 72
# Published stock sizes are rounded to a hundredth of a millimetre, so sums over a sheet may be off by two.
TOLERANCE_MM = 0.02


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle in millimetres.

    Parameters
    ----------
    x_mm, y_mm : float
        The top left corner, from the top left corner of whatever it lies on.
    width_mm, height_mm : float
        Size, 0 or more.

    Raises
    ------
    ValueError
        A width or height below 0.

    Examples
    --------
    >>> Box(10, 20, 70, 37).right_mm
    80
    """

    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float

    def __post_init__(self) -> None:
        if self.width_mm < 0 or self.height_mm < 0:
            raise ValueError(f"A box cannot be {self.width_mm} × {self.height_mm} mm.")

    @property
    def right_mm(self) -> float:
        """Right edge.

        Returns
        -------
        float
            Millimetres from the left edge of the page.
        """
        return self.x_mm + self.width_mm

    @property
    def bottom_mm(self) -> float:
        """Bottom edge.

        Returns
        -------
        float
            Millimetres from the top edge of the page.
        """
        return self.y_mm + self.height_mm

    def moved(self, right_mm: float, down_mm: float) -> "Box":
        """Give the same box in another place.

        Parameters
        ----------
        right_mm, down_mm : float
            How far; negative is left or up.

        Returns
        -------
        Box
            Same size.

        Examples
        --------
        >>> Box(0, 0, 5, 5).moved(10, 2)
        Box(x_mm=10, y_mm=2, width_mm=5, height_mm=5)
        """
        return Box(self.x_mm + right_mm, self.y_mm + down_mm, self.width_mm, self.height_mm)

    def overlaps(self, other: "Box", tolerance_mm: float = TOLERANCE_MM) -> bool:
        """Tell whether two boxes share any ground.

        Parameters
        ----------
        other : Box
            On the same page.
        tolerance_mm : float
            Overlap up to this much, in either direction, counts as touching only.

        Returns
        -------
        bool
            Touching edges do not overlap.

        Examples
        --------
        >>> Box(0, 0, 70, 37).overlaps(Box(70, 0, 70, 37))
        False
        >>> Box(0, 0, 70, 37).overlaps(Box(69, 36, 70, 37))
        True
        """
        across = min(self.right_mm, other.right_mm) - max(self.x_mm, other.x_mm)
        down = min(self.bottom_mm, other.bottom_mm) - max(self.y_mm, other.y_mm)
        return across > tolerance_mm and down > tolerance_mm

    def lies_in(self, outer: "Box", tolerance_mm: float = TOLERANCE_MM) -> bool:
        """Tell whether this box lies wholly inside another.

        Parameters
        ----------
        outer : Box
            On the same page.
        tolerance_mm : float
            How far an edge may stand out and still count as inside.

        Returns
        -------
        bool
            Equal boxes lie in each other.

        Examples
        --------
        >>> Box(0, 0, 210, 297.01).lies_in(Box(0, 0, 210, 297))
        True
        """
        return (
            self.x_mm >= outer.x_mm - tolerance_mm
            and self.y_mm >= outer.y_mm - tolerance_mm
            and self.right_mm <= outer.right_mm + tolerance_mm
            and self.bottom_mm <= outer.bottom_mm + tolerance_mm
        )


@dataclass(frozen=True, slots=True)
class Grid:
    """How labels of one size stand on a page.

    Parameters
    ----------
    page_w_mm, page_h_mm : float
        The page.
    columns, rows : int
        At least 1 of each.
    label_w_mm, label_h_mm : float
        One label.
    margin_left_mm, margin_top_mm : float
        From the corner of the page to the first label.
    pitch_x_mm, pitch_y_mm : float
        From one label's left (top) edge to the next one's; at least the label's own size.

    Raises
    ------
    ValueError
        The labels overlap or do not fit on the page; the message gives the figures.

    Examples
    --------
    >>> Grid(210, 297, 3, 8, 70, 37, 0, 0.5, 70, 37).label_box(24)
    Box(x_mm=140.0, y_mm=259.5, width_mm=70, height_mm=37)
    """

    page_w_mm: float
    page_h_mm: float
    columns: int
    rows: int
    label_w_mm: float
    label_h_mm: float
    margin_left_mm: float
    margin_top_mm: float
    pitch_x_mm: float
    pitch_y_mm: float

    def __post_init__(self) -> None:
        if self.columns < 1 or self.rows < 1 or min(self.label_w_mm, self.label_h_mm) <= 0:
            raise ValueError(f"{self.columns} columns and {self.rows} rows of labels cannot be.")
        if self.margin_left_mm < 0 or self.margin_top_mm < 0:
            raise ValueError("Labels begin outside the page.")
        for count, pitch, size, margin, page, way in (
            (self.columns, self.pitch_x_mm, self.label_w_mm, self.margin_left_mm, self.page_w_mm, "across"),
            (self.rows, self.pitch_y_mm, self.label_h_mm, self.margin_top_mm, self.page_h_mm, "down"),
        ):
            if count > 1 and pitch < size - TOLERANCE_MM:
                raise ValueError(f"Labels {size} mm {way} overlap at a pitch of {pitch} mm.")
            end = margin + (count - 1) * pitch + size
            if end > page + TOLERANCE_MM:
                raise ValueError(f"Labels end at {end:.2f} mm {way}, the page at {page} mm.")

    @property
    def page(self) -> Box:
        """The page as a box.

        Returns
        -------
        Box
            With its corner at 0, 0.
        """
        return Box(0, 0, self.page_w_mm, self.page_h_mm)

    @property
    def count(self) -> int:
        """Labels on one page.

        Returns
        -------
        int
            Columns times rows.
        """
        return self.columns * self.rows

    def label_box(self, position: int) -> Box:
        """Give the place of one label.

        Parameters
        ----------
        position : int
            Counted from 1 at the top left, along the first row, then the next.

        Returns
        -------
        Box
            On the page.

        Raises
        ------
        ValueError
            There is no such position on the page.

        Examples
        --------
        >>> Grid(210, 297, 3, 8, 70, 37, 0, 0.5, 70, 37).label_box(2).x_mm
        70.0
        """
        if not 1 <= position <= self.count:
            raise ValueError(f"Position {position} is not on a page of {self.count} labels.")
        row, column = divmod(position - 1, self.columns)
        return Box(
            self.margin_left_mm + column * float(self.pitch_x_mm),
            self.margin_top_mm + row * float(self.pitch_y_mm),
            self.label_w_mm,
            self.label_h_mm,
        )

    def ink_area(self, position: int, padding_mm: float, page_edge_mm: float) -> Box:
        """Give the part of one label that may be printed on.

        Ink keeps `padding_mm` from the label's edge and `page_edge_mm` from the page's. Where labels
        reach the page's edge the area is smaller, and then it is equally small on every label of the
        sheet, so that all of them look alike; it moves within the label instead.

        Parameters
        ----------
        position : int
            As in `label_box`.
        padding_mm : float
            Free strip inside each label.
        page_edge_mm : float
            Free strip inside the page; 0 on a roll, where the page is the label.

        Returns
        -------
        Box
            On the page; of one size for all positions; of size 0 where nothing is left.

        Examples
        --------
        >>> butt_cut = Grid(210, 297, 3, 8, 70, 37, 0, 0.5, 70, 37)
        >>> [butt_cut.ink_area(n, 2, 5).x_mm for n in (1, 2, 3)]
        [5.0, 73.5, 142.0]
        >>> butt_cut.ink_area(2, 2, 5).width_mm
        63.0
        """
        label = self.label_box(position)
        column, row = (position - 1) % self.columns, (position - 1) // self.columns
        x_mm, width_mm = _free_span(
            [(self.label_box(n + 1).x_mm, self.label_w_mm) for n in range(self.columns)],
            column, self.page_w_mm, padding_mm, page_edge_mm,
        )  # fmt: skip
        y_mm, height_mm = _free_span(
            [(self.label_box(n * self.columns + 1).y_mm, self.label_h_mm) for n in range(self.rows)],
            row, self.page_h_mm, padding_mm, page_edge_mm,
        )  # fmt: skip
        return Box(label.x_mm + x_mm, label.y_mm + y_mm, width_mm, height_mm)


def _free_span(
    spans: list[tuple[float, float]], which: int, page_mm: float, padding_mm: float, edge_mm: float
) -> tuple[float, float]:
    """Give start (within the label) and length of the printable part along one axis."""
    pads = [
        (max(padding_mm, edge_mm - start), max(padding_mm, edge_mm - (page_mm - start - size)))
        for start, size in spans
    ]
    length = max(
        0.0, min(size - before - after for (_, size), (before, after) in zip(spans, pads, strict=True))
    )
    before, after = pads[which]
    spare = max(0.0, spans[which][1] - before - after - length)
    return before + spare / 2, length


def inscribed_square(box: Box) -> Box:
    """Give the largest upright square inside the circle that fills a box.

    Parameters
    ----------
    box : Box
        The round label's outer box; the smaller side is taken as the diameter.

    Returns
    -------
    Box
        Centred in it.

    Source
    ------
    Side = diameter / square root of 2 (Pythagoras).

    Examples
    --------
    >>> round(inscribed_square(Box(0, 0, 38.1, 38.1)).width_mm, 1)
    26.9
    """
    side_mm = min(box.width_mm, box.height_mm) / math.sqrt(2)
    return Box(
        box.x_mm + (box.width_mm - side_mm) / 2, box.y_mm + (box.height_mm - side_mm) / 2, side_mm, side_mm
    )
