"""Paper: hands a PDF of labels to the system's own printing at 100 %, or draws it dot by dot where there is none.

A page that is fitted to the printable area shrinks by some percent: the last row misses its labels and the codes
lose their whole dots. So every way here says plainly that nothing is to be scaled.
"""

import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from hilum.benches.printing import LabelsStopped, dots_picture, page_count, turned_pages
from hilum.errors import KeeperError

# How the paper is called in the system's printing (PWG 5101.1, media standardised names, in their short form).
NAMED_MEDIA = {(210.0, 297.0): "A4", (215.9, 279.4): "Letter"}
# The print command's own word for a tray (the name most printer descriptions use for it).
TRAY_OPTION = "InputSlot"
# Seconds after which a print command that says nothing is given up.
PATIENCE_S = 60
FULL_SIZE_WORDS = (
    "Print at 100 % (“actual size”), never “fit to page”: a page that is shrunk misses its labels."
)


class PaperError(KeeperError):
    """A job that did not reach a printer; says what the system's printing answered."""


@dataclass(frozen=True, slots=True)
class PaperJob:
    """A PDF to print: its title, the size of its pages, the dots its codes were made for."""

    pdf: bytes
    title: str
    page_w_mm: float
    page_h_mm: float
    dpi: int
    # Fronts and backs in turn, the paper turned over on its long edge.
    is_two_sided: bool = False
    # The edge, as the page is read, that goes into the printer first.
    feed_edge: str = "top"

    @property
    def is_fed_sideways(self) -> bool:
        """Whether the paper goes through the printer lying on its side, as envelopes fed short edge first do."""
        return self.feed_edge == "left"

    @property
    def fed_mm(self) -> tuple[float, float]:
        """Width and length of the paper as it goes through the printer."""
        size = (self.page_w_mm, self.page_h_mm)
        return size[::-1] if self.is_fed_sideways else size

    def as_fed(self) -> "PaperJob":
        """Give the job with its pages lying as they go through the printer."""
        if not self.is_fed_sideways:
            return self
        width_mm, height_mm = self.fed_mm
        return replace(
            self, pdf=turned_pages(self.pdf), page_w_mm=width_mm, page_h_mm=height_mm, feed_edge="top"
        )

    @property
    def media(self) -> str:
        """The name of its paper in the system's printing."""
        size = (self.page_w_mm, self.page_h_mm)
        return NAMED_MEDIA.get(size) or f"Custom.{self.page_w_mm:g}x{self.page_h_mm:g}mm"


@dataclass(frozen=True, slots=True)
class Printer:
    """One printer and the way to it: "lp" (the print command), "open" (the program for PDF files) or "dots".

    `trays` are its trays by the names the print command knows them by; none where that cannot be told.
    """

    name: str
    way: str
    is_usual: bool = False
    trays: tuple[str, ...] = ()


class Paper:
    """The printers of this computer."""

    def printers(self) -> tuple[Printer, ...]:
        """Give the printers, the usual one first; none where none is set up."""
        found = self._by_command() if shutil.which("lp") and shutil.which("lpstat") else ()
        found = found or self._by_qt("open" if sys.platform == "win32" else "dots")
        return tuple(sorted(found, key=lambda one: (not one.is_usual, one.name.casefold())))

    def send(
        self,
        job: PaperJob,
        printer: Printer,
        *,
        tray: str = "",
        progress: Callable[[int, int], None] | None = None,
        stop: Callable[[], bool] | None = None,
    ) -> str:
        """Hand a job to a printer; gives what was done in words, raises PaperError when it was not taken."""
        if printer.way == "lp":
            return self._send_by_command(job, printer, tray)
        if printer.way == "open":
            return self._open_to_print(job)
        return self._send_dots(job, printer, progress, stop)

    # The print command of Linux and macOS.

    def _by_command(self) -> tuple[Printer, ...]:
        # Says one name a line, and fails where no printer is set up.
        names = _answer("lpstat", "-e")
        if names.returncode:
            return ()
        usual = _answer("lpstat", "-d").stdout.decode("utf-8", "replace").rpartition(":")[2].strip()
        lines = names.stdout.decode("utf-8", "replace").splitlines()
        there = [name.strip() for name in lines if name.strip()]
        return tuple(Printer(name, "lp", name == usual, _trays(name)) for name in there)

    def _send_by_command(self, job: PaperJob, printer: Printer, tray: str) -> str:
        job = job.as_fed()
        options = ["print-scaling=none", f"media={job.media}", f"printer-resolution={job.dpi}dpi"]
        options.append(f"sides={'two-sided-long-edge' if job.is_two_sided else 'one-sided'}")
        if tray:
            options.append(f"{TRAY_OPTION}={tray}")
        named = [part for option in options for part in ("-o", option)]
        done = _answer("lp", "-d", printer.name, "-t", job.title, *named, "-", given=job.pdf)
        if done.returncode:
            said = done.stderr.decode("utf-8", "replace").strip() or "it gave no reason"
            raise PaperError(
                f"{printer.name} did not take the labels: {said}. Nothing was printed. "
                "See to the printer, or save the pages as a PDF."
            )
        return f"Sent to {printer.name}{f', {tray}' if tray else ''} at 100 %."

    # The program that opens PDF files, on Windows.

    def _open_to_print(self, job: PaperJob) -> str:
        file = Path(tempfile.mkdtemp(prefix="hilum-")) / "labels.pdf"
        file.write_bytes(job.as_fed().pdf)
        try:
            os.startfile(file, "print")  # type: ignore[attr-defined, unused-ignore]
        except OSError as error:
            raise PaperError(
                "No program on this computer prints PDF files. Save the pages as a PDF and print them where "
                "there is one."
            ) from error
        return f"Handed to the program that prints PDF files. {FULL_SIZE_WORDS}"

    # Dot by dot, through Qt.

    def _by_qt(self, way: str) -> tuple[Printer, ...]:
        from PySide6.QtPrintSupport import QPrinterInfo

        usual = QPrinterInfo.defaultPrinterName()
        if way == "open":
            return (Printer(usual, way, True),) if usual else ()
        return tuple(Printer(name, way, name == usual) for name in QPrinterInfo.availablePrinterNames())

    def _send_dots(
        self,
        job: PaperJob,
        printer: Printer,
        progress: Callable[[int, int], None] | None,
        stop: Callable[[], bool] | None,
    ) -> str:
        from PySide6.QtPrintSupport import QPrinter, QPrinterInfo

        device = QPrinter(QPrinterInfo.printerInfo(printer.name), QPrinter.PrinterMode.HighResolution)
        draw_dots(device, job, progress=progress, stop=stop)
        return f"Sent to {printer.name} at 100 %, drawn in {job.dpi} dots to the inch."


def _trays(printer: str) -> tuple[str, ...]:
    """Ask the print command for a printer's trays, such as “InputSlot/Media Source: *Auto Tray1 Tray2”."""
    if not shutil.which("lpoptions"):
        return ()
    told = _answer("lpoptions", "-p", printer, "-l")
    for line in told.stdout.decode("utf-8", "replace").splitlines() if not told.returncode else ():
        name, _, choices = line.partition(":")
        if name.partition("/")[0].strip() == TRAY_OPTION:
            return tuple(choice.lstrip("*") for choice in choices.split())
    return ()


def draw_dots(
    device: Any,
    job: PaperJob,
    *,
    progress: Callable[[int, int], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> None:
    """Draw every page onto a QPrinter so that one dot of the proof is a whole number of the printer's dots."""
    from PySide6.QtCore import QPoint, QRect
    from PySide6.QtGui import QImage, QPainter, QTransform

    times = _set_up(device, job)
    pages = page_count(job.pdf)
    painter = QPainter()
    if not painter.begin(device):
        raise PaperError("The printer does not answer. Nothing was printed; save the pages as a PDF.")
    try:
        for page in range(pages):
            if stop is not None and stop():
                device.abort()
                raise LabelsStopped("Printing was stopped. Pages already at the printer may still come out.")
            if page:
                device.newPage()
            seen = dots_picture(job.pdf, page, job.page_h_mm, job.dpi)
            image = QImage(seen.rgb, seen.width, seen.height, seen.width * 3, QImage.Format.Format_RGB888)
            if job.is_fed_sideways:
                # The picture is turned, not the page before it is drawn: so every dot stays one dot.
                image = image.transformed(QTransform().rotate(90))
            place = QRect(QPoint(0, 0), image.size() * times)
            painter.drawImage(place, image)
            if progress is not None:
                progress(page + 1, pages)
    finally:
        painter.end()


def _set_up(device: Any, job: PaperJob) -> int:
    """Set paper, dots and a full page without margins; gives how many printer dots one dot of the proof takes."""
    from PySide6.QtCore import QMarginsF, QSizeF
    from PySide6.QtGui import QPageLayout, QPageSize

    size = QPageSize(
        QSizeF(*job.fed_mm),
        QPageSize.Unit.Millimeter,
        "",
        QPageSize.SizeMatchPolicy.ExactMatch,
    )
    upright = QPageLayout.Orientation.Portrait
    device.setResolution(job.dpi)
    if not device.setPageLayout(QPageLayout(size, upright, QMarginsF(0, 0, 0, 0))):
        raise PaperError(
            f"This printer does not take paper of {job.fed_mm[0]:g} × {job.fed_mm[1]:g} mm. "
            "Save the pages as a PDF and print them elsewhere."
        )
    # Only now: a new page layout brings its own mode along.
    device.setFullPage(True)
    device.setDocName(job.title)
    if job.is_two_sided:
        device.setDuplex(type(device).DuplexMode.DuplexLongSide)
    times, left = divmod(device.resolution(), job.dpi)
    if left or not times:
        raise PaperError(
            f"This printer prints {device.resolution()} dots to the inch, the labels were made for {job.dpi}. "
            "Choose other printer dots and make the pages again."
        )
    return int(times)


def _answer(*command: str, given: bytes | None = None) -> "subprocess.CompletedProcess[bytes]":
    try:
        return subprocess.run(
            command,
            input=given,
            stdin=subprocess.DEVNULL if given is None else None,
            capture_output=True,
            check=False,
            timeout=PATIENCE_S,
        )
    except (OSError, subprocess.TimeoutExpired) as error:
        raise PaperError(
            f"The system's printing ({command[0]}) does not answer: {error}. Nothing was printed."
        ) from error
