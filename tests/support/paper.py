"""Printers that are not there: one that measures every page it is given, and a print command that keeps what it got."""

import sys
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy
import pypdfium2
import zxingcpp

from hilum.labels.proof import PDFIUM
from hilum.window.paper_printing import Paper, PaperJob, Printer

MM_PER_POINT = 25.4 / 72
# Sold as "203 dpi": 8 dots to the millimetre (Denso Wave, https://www.qrcode.com/en/howto/cell.html).
DOTS_PER_MM_203 = 8.0


@dataclass(frozen=True)
class Sheet:
    """One page as it came out: its size on paper and the codes that can be read on it."""

    width_mm: float
    height_mm: float
    codes: tuple[str, ...]
    module_dots: tuple[int, ...]


def sheets_of(pdf: bytes, dpi: int) -> tuple[Sheet, ...]:
    """Measure and read every page of a PDF with a decoder of its own."""
    # PDFium is not made for two threads, and the window draws its preview in one of its own.
    with PDFIUM:
        document = pypdfium2.PdfDocument(pdf)
        try:
            return tuple(_sheet(page, dpi) for page in document)
        finally:
            document.close()


def _sheet(page: Any, dpi: int) -> Sheet:
    per_mm = DOTS_PER_MM_203 if dpi == 203 else dpi / 25.4
    pixels = page.render(scale=per_mm * MM_PER_POINT, grayscale=True).to_numpy().copy()
    found = zxingcpp.read_barcodes(pixels, formats=zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode))
    size = (page.get_width() * MM_PER_POINT, page.get_height() * MM_PER_POINT)
    page.close()
    return Sheet(
        *size, tuple(code.text for code in found), tuple(module_dots(pixels, code) for code in found)
    )


def _extent(code: Any) -> tuple[int, int, int, int]:
    """Give the pixels that a code spans: left, top, right, bottom."""
    names = ("top_left", "top_right", "bottom_right", "bottom_left")
    corners = [getattr(code.position, name) for name in names]
    xs, ys = [corner.x for corner in corners], [corner.y for corner in corners]
    return min(xs), min(ys), max(xs), max(ys)


def module_dots(pixels: Any, code: Any) -> int:
    """Give the dots of one module, and see that the finder pattern is drawn in whole modules: 1-1-3-1-1.

    ISO/IEC 18004: the position detection pattern is dark-light-dark-light-dark as 1:1:3:1:1.
    """
    left, top, right, _ = _extent(code)
    side = (right - left) / 21
    # Through the middle of the upper left finder, three and a half modules down; a code that is turned a
    # quarter clockwise has one there as well.
    row = pixels[int(top + 3.5 * side), max(0, int(left - 2 * side)) : int(left + 10 * side)]
    dark = numpy.flatnonzero(row < 128)
    ends = numpy.flatnonzero(numpy.diff(row < 128)) + 1
    runs = numpy.diff(ends[ends >= dark[0]])[:5].tolist()
    step = runs[0]
    assert runs == [step, step, 3 * step, step, step], f"modules are no whole dots: {runs}"
    return int(step)


# Fine enough that a tenth of a dot, which is what the reading leaves, is 2 micrometres.
FINE_DPI = 1200


def code_places_mm(pdf: bytes) -> tuple[tuple[float, float], ...]:
    """Give the middle of every code from the upper left corner of its page, page by page."""
    found: list[tuple[float, float]] = []
    with PDFIUM:
        document = pypdfium2.PdfDocument(pdf)
        try:
            for page in document:
                found += _places_mm(page)
        finally:
            document.close()
    return tuple(found)


def _places_mm(page: Any) -> list[tuple[float, float]]:
    height_mm = page.get_height() * MM_PER_POINT
    pixels = page.render(scale=FINE_DPI / 72, grayscale=True).to_numpy().copy()
    # The renderer rounds the page up to whole dots and stretches it over them.
    per_mm = (pixels.shape[1] / (page.get_width() * MM_PER_POINT), pixels.shape[0] / height_mm)
    page.close()
    read = zxingcpp.read_barcodes(pixels, formats=zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode))
    return [_middle_mm(pixels, code, per_mm) for code in read]


def _middle_mm(pixels: Any, code: Any, per_mm: tuple[float, float]) -> tuple[float, float]:
    """Measure the ink of a code: the decoder's own corners are whole dots of a coarser picture."""
    left, top, right, bottom = _extent(code)
    # A module and a half of the four that stay white around a code.
    side = int((right - left) / 21 * 1.5)
    left, top = max(0, left - side), max(0, top - side)
    ink = pixels[top : bottom + side, left : right + side] < 128
    across, down = numpy.flatnonzero(ink.any(axis=0)), numpy.flatnonzero(ink.any(axis=1))
    return (
        (left + (across[0] + across[-1] + 1) / 2) / per_mm[0],
        (top + (down[0] + down[-1] + 1) / 2) / per_mm[1],
    )


@dataclass
class MeasuringPaper(Paper):
    """A printer that measures what it is handed: the page at true size, the codes in whole dots."""

    there: tuple[Printer, ...] = (Printer("Bench printer", "lp", True), Printer("Roll printer", "lp"))
    refusal: Exception | None = None
    printed: list[tuple[str, PaperJob, tuple[Sheet, ...]]] = field(default_factory=list)
    trays: list[str] = field(default_factory=list)

    def printers(self) -> tuple[Printer, ...]:
        """Give the printers that are not there."""
        return self.there

    def send(
        self,
        job: PaperJob,
        printer: Printer,
        *,
        tray: str = "",
        progress: Callable[[int, int], None] | None = None,
        stop: Callable[[], bool] | None = None,
    ) -> str:
        """Measure a job."""
        if self.refusal is not None:
            raise self.refusal
        sheets = sheets_of(job.pdf, job.dpi)
        for sheet in sheets:
            # A tenth of a millimetre is less than any printer's feed.
            assert abs(sheet.width_mm - job.page_w_mm) < 0.1, sheet
            assert abs(sheet.height_mm - job.page_h_mm) < 0.1, sheet
        self.printed.append((printer.name, job, sheets))
        self.trays.append(tray)
        return f"Sent to {printer.name} at 100 %."


class PrintCommand:
    """A folder with `lp` and `lpstat` of our own, written to stand first in the search path."""

    def __init__(
        self,
        folder: Path,
        printers: tuple[str, ...] = ("bench",),
        usual: str = "",
        fails: str = "",
        trays: tuple[str, ...] = (),
    ) -> None:
        self.folder = folder
        folder.mkdir(parents=True)
        names = "\n".join(printers)
        default = f"system default destination: {usual}" if usual else "no system default destination"
        self._write(
            "lpstat",
            f"print({names!r} if sys.argv[1] == '-e' else {default!r})\nsys.exit({int(not printers)})",
        )
        options = f"InputSlot/Paper source: *{' '.join(trays)}" if trays else "Duplex/Both sides: *None On"
        self._write("lpoptions", f"print({options!r})")
        keep = (
            f"folder = {str(folder)!r}\n"
            "open(folder + '/arguments', 'w').write('\\n'.join(sys.argv[1:]))\n"
            "open(folder + '/pages.pdf', 'wb').write(sys.stdin.buffer.read())\n"
        )
        self._write("lp", f"{keep}sys.exit({fails!r} or 0)")

    def _write(self, name: str, body: str) -> None:
        path = self.folder / name
        path.write_text(f"#!{sys.executable}\nimport sys\n{body}\n", encoding="utf-8")
        path.chmod(0o755)

    @property
    def arguments(self) -> list[str]:
        """What `lp` was called with."""
        return (self.folder / "arguments").read_text(encoding="utf-8").splitlines()

    @property
    def pdf(self) -> bytes:
        """What `lp` was given to print."""
        return (self.folder / "pages.pdf").read_bytes()
