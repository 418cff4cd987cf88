"""Preview: a page of the very PDF that will be printed, as pixels for a window."""

from dataclasses import dataclass
from typing import Any

from hilum.labels.errors import LabelError
from hilum.labels.geometry import MM_PER_POINT, Box
from hilum.labels.proof import PDFIUM, opened


@dataclass(frozen=True, slots=True)
class PagePicture:
    """One page as rows of red, green, blue bytes without padding."""

    width: int
    height: int
    rgb: bytes


def page_count(pdf: bytes) -> int:
    """Count the pages of a PDF."""
    with PDFIUM, opened(pdf) as document:
        return len(document)


def page_picture(pdf: bytes, page: int, width: int) -> PagePicture:
    """Draw one page, counted from 0, on white, so that it is about `width` pixels wide."""
    if not 1 <= width <= 20_000:
        raise LabelError(f"A preview {width} pixels wide cannot be drawn; 1 to 20000 can.")
    with PDFIUM, opened(pdf) as document:
        if not 0 <= page < len(document):
            raise LabelError(f"There is no page {page + 1}; the job has {len(document)}.")
        sheet: Any = document[page]
        try:
            bitmap = sheet.render(scale=width / sheet.get_width(), rev_byteorder=True)
            pixels = bitmap.to_numpy()[:, :, :3].copy()
            bitmap.close()
        finally:
            sheet.close()
    return PagePicture(int(pixels.shape[1]), int(pixels.shape[0]), pixels.tobytes())


def part_picture(pdf: bytes, page: int, part: Box, px_per_mm: float) -> PagePicture:
    """Draw a part of one page, counted from 0, in whole pixels from its top left corner."""
    if not 0.5 <= px_per_mm <= 100:
        raise LabelError(f"A preview of {px_per_mm:g} pixels a millimetre cannot be drawn; 0.5 to 100 can.")
    with PDFIUM, opened(pdf) as document:
        sheet: Any = document[page]
        try:
            width_pt, height_pt = sheet.get_size()
            crop = (
                part.x_mm / MM_PER_POINT,
                height_pt - part.bottom_mm / MM_PER_POINT,
                width_pt - part.right_mm / MM_PER_POINT,
                part.y_mm / MM_PER_POINT,
            )
            bitmap = sheet.render(scale=px_per_mm * MM_PER_POINT, crop=crop, rev_byteorder=True)
            pixels = bitmap.to_numpy()[:, :, :3].copy()
            bitmap.close()
        finally:
            sheet.close()
    return PagePicture(int(pixels.shape[1]), int(pixels.shape[0]), pixels.tobytes())
