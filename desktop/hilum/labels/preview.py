"""Preview: a page of the very PDF that will be printed, as pixels for a window."""

from dataclasses import dataclass
from typing import Any

from hilum.labels.errors import LabelError
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
