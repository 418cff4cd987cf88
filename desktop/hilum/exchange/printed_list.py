"""The printed list: a table on A4 pages to work from at the shelf, as a PDF with its fonts inside.

Words are set as they come, without shaping: labels set every script, a working list is read beside them.
"""

import io
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from hilum.exchange.words import one_line
from hilum.resources import resource

# ISO 216: A4 is 210 x 297 mm. A point is 1/72 inch: W3C, CSS 2.1, 2011, "Lengths".
_PAGE_MM, _POINTS_A_MM = (210.0, 297.0), 72 / 25.4
_MARGIN_MM, _LINE_MM, _SIZE_PT, _HEAD_PT = 15.0, 4.2, 9.0, 14.0
_FACES = {"List": "DejaVuSansCondensed.ttf", "ListBold": "DejaVuSansCondensed-Bold.ttf"}


@dataclass(frozen=True, slots=True)
class ListColumn:
    """One column: its heading and its share of the page's width."""

    heading: str
    share: float


def printed_list(
    title: str, below: str, columns: Sequence[ListColumn], rows: Sequence[Sequence[str]]
) -> bytes:
    """Set a table on as many A4 pages as it needs and give the PDF; the same input gives the same bytes."""
    from reportlab.pdfgen.canvas import Canvas

    _register_faces()
    target = io.BytesIO()
    size = tuple(side * _POINTS_A_MM for side in _PAGE_MM)
    canvas = Canvas(
        target,
        pagesize=size,
        invariant=1,
        pdfVersion=(1, 6),
        initialFontName="List",
        lang="en",
        pageCompression=1,
    )
    canvas.setTitle(one_line(title))
    canvas.setViewerPreference("PrintScaling", "None")
    _Pages(canvas, one_line(title), one_line(below), columns).set_rows(rows)
    canvas.save()
    return target.getvalue()


def _register_faces() -> None:
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    for name, file in _FACES.items():
        if name not in pdfmetrics.getRegisteredFontNames():
            pdfmetrics.registerFont(TTFont(name, str(resource("fonts", file))))


class _Pages:
    """Sets rows downwards and begins a page when one is full; every page has the title and its number."""

    def __init__(self, canvas: Any, title: str, below: str, columns: Sequence[ListColumn]) -> None:
        self._canvas, self._title, self._below = canvas, title, below
        self._columns, self._number, self._y_mm = columns, 0, 0.0
        room_mm = _PAGE_MM[0] - 2 * _MARGIN_MM
        whole = sum(column.share for column in columns)
        self._widths_mm = [room_mm * column.share / whole for column in columns]

    def set_rows(self, rows: Sequence[Sequence[str]]) -> None:
        """Set every row; one that does not fit the rest of the page goes to the next whole."""
        self._begin_page()
        for row in rows:
            cells = [self._broken(text, width) for text, width in zip(row, self._widths_mm, strict=True)]
            height_mm = max(len(lines) for lines in cells) * _LINE_MM + 1.6
            if self._y_mm + height_mm > _PAGE_MM[1] - _MARGIN_MM - 6:
                self._canvas.showPage()
                self._begin_page()
            self._set_row(cells, "List")
            self._y_mm += height_mm
            self._rule()

    def _begin_page(self) -> None:
        self._number += 1
        self._text(self._title, _MARGIN_MM, _MARGIN_MM + 4, "ListBold", _HEAD_PT)
        below = self._broken(self._below, _PAGE_MM[0] - 2 * _MARGIN_MM)
        for place, line in enumerate(below):
            self._text(line, _MARGIN_MM, _MARGIN_MM + 10 + place * _LINE_MM, "List", _SIZE_PT)
        self._text(
            f"page {self._number}", _PAGE_MM[0] - _MARGIN_MM - 14, _PAGE_MM[1] - _MARGIN_MM, "List", _SIZE_PT
        )
        self._y_mm = _MARGIN_MM + 16 + (len(below) - 1) * _LINE_MM
        self._set_row([[column.heading] for column in self._columns], "ListBold")
        self._y_mm += _LINE_MM + 1.6
        self._rule()

    def _broken(self, text: str, width_mm: float) -> list[str]:
        from reportlab.lib.utils import simpleSplit

        lines = simpleSplit(one_line(text), "List", _SIZE_PT, (width_mm - 2) * _POINTS_A_MM)
        return list(lines) or [""]

    def _set_row(self, cells: Sequence[Sequence[str]], face: str) -> None:
        left_mm = _MARGIN_MM
        for lines, width_mm in zip(cells, self._widths_mm, strict=True):
            for place, line in enumerate(lines):
                self._text(line, left_mm, self._y_mm + (place + 0.8) * _LINE_MM, face, _SIZE_PT)
            left_mm += width_mm

    def _rule(self) -> None:
        self._canvas.setLineWidth(0.3)
        y = (_PAGE_MM[1] - self._y_mm + 0.4) * _POINTS_A_MM
        self._canvas.line(_MARGIN_MM * _POINTS_A_MM, y, (_PAGE_MM[0] - _MARGIN_MM) * _POINTS_A_MM, y)

    def _text(self, text: str, x_mm: float, y_mm: float, face: str, size_pt: float) -> None:
        self._canvas.setFont(face, size_pt)
        self._canvas.drawString(x_mm * _POINTS_A_MM, (_PAGE_MM[1] - y_mm) * _POINTS_A_MM, text)
