"""Proof: every page drawn at the printer's resolution, every code read back where it must stand."""

import math
import threading
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from hilum.labels.dots import dot_mm
from hilum.labels.geometry import MM_PER_POINT

if TYPE_CHECKING:
    import numpy as np

    from hilum.labels.ink import PlacedCode

    Pixels = np.ndarray[tuple[int, ...], np.dtype[np.uint8]]

# PDFium takes one call at a time in a process, even for different documents; whoever calls it, here
# or in the preview, holds this lock.
PDFIUM = threading.Lock()
# A page of 1200 dpi has 139 million dots; modules are whole dots at 600 as well. 720 is drawn at 600 too.
_MOST_DPI = 600


@dataclass(frozen=True, slots=True)
class Proof:
    """What the reading machine found: codes asked for, codes read as meant, keys of labels unread."""

    codes: int
    read: int
    unread: tuple[str, ...]


@contextmanager
def opened(pdf: bytes) -> Iterator[Any]:
    """Open a PDF for drawing; hold PDFIUM around this."""
    import pypdfium2

    document = pypdfium2.PdfDocument(pdf)
    try:
        yield document
    finally:
        document.close()


def page_dots(pdf: bytes, page: int, dpi: int) -> "Pixels":
    """Draw one page as a printer would: whole dots counted from the lower left corner, nothing stretched."""
    with PDFIUM, opened(pdf) as document:
        return _dots(document, page, dpi)


def _dots(document: Any, page: int, dpi: int) -> "Pixels":
    """Draw one page of an open document; hold PDFIUM around this.

    The library's own drawing rounds the page up to whole dots and stretches it over them; on a page that
    is not a whole number of dots this blurs codes that a printer draws cleanly (seen on Letter at 203 dpi).
    """
    import pypdfium2
    from pypdfium2 import raw

    sheet = document[page]
    scale = MM_PER_POINT / dot_mm(dpi)
    width, height = (side * scale for side in sheet.get_size())
    columns, rows = math.ceil(width - 1e-3), math.ceil(height - 1e-3)
    bitmap = pypdfium2.PdfBitmap.new_native(columns, rows, raw.FPDFBitmap_Gray)
    bitmap.fill_rect((255, 255, 255, 255), 0, 0, columns, rows)
    onto_dots = raw.FS_MATRIX(scale, 0, 0, scale, 0, rows - height)
    raw.FPDF_RenderPageBitmapWithMatrix(bitmap, sheet, onto_dots, raw.FS_RECTF(0, 0, columns, rows), 0)
    pixels: Pixels = bitmap.to_numpy().copy()
    bitmap.close()
    sheet.close()
    return pixels


def _reads(pixels: "Pixels", code: "PlacedCode", page_h_mm: float, dpi: int) -> bool:
    """Read the one code whose place is known; a label's neighbour cannot answer for it."""
    import numpy
    import zxingcpp

    per_mm, box = 1 / dot_mm(dpi), code.box
    left, right = round(box.x_mm * per_mm), round(box.right_mm * per_mm)
    low = pixels.shape[0] - round((page_h_mm - box.bottom_mm) * per_mm)
    high = low - round(box.height_mm * per_mm)
    crop = numpy.ascontiguousarray(pixels[max(0, high) : low, max(0, left) : right])
    kinds = zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode)
    found = zxingcpp.read_barcodes(
        crop, formats=kinds, try_rotate=False, try_downscale=False, try_invert=False
    )
    return [each.text for each in found] == [code.symbol.payload]


def proofed(
    pdf: bytes,
    codes: Sequence["PlacedCode"],
    page_h_mm: float,
    dpi: int,
    each: Callable[[int], None] = lambda done: None,
) -> Proof:
    """Read every code of a PDF back; `each` hears how many were tried."""
    drawn_dpi = min(dpi, _MOST_DPI)
    unread: list[str] = []
    pages: dict[int, list[PlacedCode]] = {}
    for code in codes:
        pages.setdefault(code.page, []).append(code)
    if not pages:
        return Proof(0, 0, ())
    done = 0
    with PDFIUM:
        reading = _opened_once(pdf)
    try:
        for page, here in sorted(pages.items()):
            with PDFIUM:
                pixels = _dots(reading, page, drawn_dpi)
            for code in here:
                if not _reads(pixels, code, page_h_mm, drawn_dpi):
                    unread.append(code.key)
                done += 1
                each(done)
    finally:
        with PDFIUM:
            reading.close()
    return Proof(len(codes), len(codes) - len(unread), tuple(unread))


def _opened_once(pdf: bytes) -> Any:
    """Open a PDF for a whole proof: opening it anew for each page would take as long as reading it."""
    import pypdfium2

    return pypdfium2.PdfDocument(pdf)
