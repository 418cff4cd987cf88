"""Onto paper: the print command, the drawing dot by dot, and the words when neither goes."""

import os
from datetime import date

import numpy
import pytest
import zxingcpp
from PySide6.QtCore import QMarginsF
from PySide6.QtPrintSupport import QPrinter

from hilum.benches.printing import LabelJob, LabelsStopped, dots_picture, lot_labels, stock_named
from hilum.window.paper_printing import Paper, PaperError, PaperJob, Printer, draw_dots
from tests.support.paper import PrintCommand, code_places_mm, module_dots, sheets_of


def job_for(work_day, lots, *, stock="a4-3x7-63.5x38.1", dpi=300, copies=30):
    """Make a proofed job of some copies of one lot's packet label."""
    wanted = LabelJob("packet", stock, copies=copies, dpi=dpi)
    made = lot_labels(work_day.catalogue, (lots["Grey Ferryman"],), wanted, on=date(2026, 11, 25))
    paper = stock_named(work_day.catalogue.settings(), stock)
    return PaperJob(
        made.pdf, "Labels", paper.page_w_mm, paper.page_h_mm, dpi, feed_edge=paper.feed_edge or "top"
    )  # fmt: skip


@pytest.fixture
def command(tmp_path, monkeypatch):
    """Give a way to put a print command of our own first in the search path."""

    def put(**more):
        made = PrintCommand(tmp_path / "bin", **more)
        monkeypatch.setenv("PATH", f"{made.folder}{os.pathsep}{os.environ['PATH']}")
        return made

    return put


@pytest.mark.skipif(os.name == "nt", reason="the print command is one of Linux and macOS")
class TestPrintCommand:
    """The system's own printing."""

    def test_printers_are_listed_with_the_usual_one_first(self, command):
        """The keeper mostly wants the usual printer."""
        command(printers=("attic", "bench"), usual="bench")
        assert [printer.name for printer in Paper().printers()] == ["bench", "attic"]

    def test_the_pdf_goes_out_unscaled_on_its_own_paper(self, command, work_day, lots):
        """The very bytes that were proofed arrive, with the wish not to scale and the name of the paper."""
        printer = command()
        job = job_for(work_day, lots)
        said = Paper().send(job, Printer("bench", "lp"))
        assert said == "Sent to bench at 100 %."
        assert printer.pdf == job.pdf
        assert "print-scaling=none" in printer.arguments
        assert "media=A4" in printer.arguments
        assert printer.arguments[:2] == ["-d", "bench"]

    def test_a_roll_names_its_own_size(self, command, work_day, lots):
        """A label printer is told how large one label is."""
        printer = command()
        Paper().send(job_for(work_day, lots, stock="roll-62x29", dpi=203, copies=2), Printer("bench", "lp"))
        assert "media=Custom.62x29mm" in printer.arguments

    @pytest.mark.parametrize(
        ("stock", "media"),
        [("envelope-220x110", "Custom.110x220mm"), ("envelope-63.5x108", "Custom.63.5x108mm")],
    )
    def test_envelopes_are_sent_as_they_are_fed(self, command, work_day, lots, stock, media):
        """Fed short edge first, the left edge is ahead: no printer of A4 takes paper 220 mm wide."""
        printer = command()
        job = job_for(work_day, lots, stock=stock, copies=1)
        Paper().send(job, Printer("bench", "lp"), tray="Manual")
        assert f"media={media}" in printer.arguments
        assert "InputSlot=Manual" in printer.arguments
        [sheet], [meant] = sheets_of(printer.pdf, 300), sheets_of(job.pdf, 300)
        width_mm, height_mm = job.fed_mm
        assert sheet.width_mm == pytest.approx(width_mm, abs=0.01)
        assert sheet.height_mm == pytest.approx(height_mm, abs=0.01)
        assert sheet.codes == meant.codes == (lots["Grey Ferryman"],)
        [was], [at] = code_places_mm(job.pdf), code_places_mm(printer.pdf)
        turned = (job.page_h_mm - was[1], was[0]) if job.is_fed_sideways else was
        assert at == pytest.approx(turned, abs=0.05)

    def test_a_printer_that_refuses_is_quoted(self, command, work_day, lots):
        """The keeper reads what the printing system said, and what to do."""
        command(fails="lp: The printer is on fire.")
        with pytest.raises(PaperError, match="did not take the labels: lp: The printer is on fire"):
            Paper().send(job_for(work_day, lots, copies=1), Printer("bench", "lp"))

    def test_no_printer_is_no_error(self, command):
        """A computer without printers has an empty list."""
        command(printers=())
        assert Paper().printers() == ()


class TestDots:
    """The drawing through Qt, where there is no print command."""

    @staticmethod
    def drawn(tmp_path, job):
        device = QPrinter(QPrinter.PrinterMode.HighResolution)
        device.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
        device.setOutputFileName(str(tmp_path / "out.pdf"))
        draw_dots(device, job)
        return device, (tmp_path / "out.pdf").read_bytes()

    @pytest.mark.parametrize(
        ("stock", "dpi"),
        [("a4-3x7-63.5x38.1", 300), ("a4-3x7-63.5x38.1", 600), ("letter-3x10", 300), ("roll-62x29", 203)],
    )
    def test_pages_come_out_at_true_size_with_every_code_in_its_place(
        self, tmp_path, work_day, lots, stock, dpi
    ):
        """A drawn page has the size of its paper and reads like the proofed one."""
        job = job_for(work_day, lots, stock=stock, dpi=dpi, copies=4)
        device, pdf = self.drawn(tmp_path, job)
        assert device.fullPage()
        assert device.pageLayout().margins() == QMarginsF(0, 0, 0, 0)
        proofed, came_out = sheets_of(job.pdf, dpi), sheets_of(pdf, dpi)
        assert len(came_out) == len(proofed)
        for sheet, meant in zip(came_out, proofed, strict=True):
            # Qt rounds paper to whole points: 0.35 mm.
            assert sheet.width_mm == pytest.approx(job.page_w_mm, abs=0.36)
            assert sheet.height_mm == pytest.approx(job.page_h_mm, abs=0.36)
            assert sorted(sheet.codes) == sorted(meant.codes) == [lots["Grey Ferryman"]] * len(meant.codes)

    def test_one_dot_of_the_proof_is_one_dot_of_the_printer(self, tmp_path, work_day, lots):
        """The picture on the page is as many pixels as the page has dots: nothing is scaled."""
        import pypdfium2
        from pypdfium2 import raw

        job = job_for(work_day, lots, copies=2)
        device, pdf = self.drawn(tmp_path, job)
        assert device.resolution() == 300
        document = pypdfium2.PdfDocument(pdf)
        [picture] = [part for part in document[0].get_objects() if part.type == raw.FPDF_PAGEOBJ_IMAGE]
        left, bottom, right, top = picture.get_bounds()
        width, height = picture.get_px_size()
        # A dot is 72/300 point.
        assert (right - left) * 300 / 72 == pytest.approx(width, abs=0.5)
        assert (top - bottom) * 300 / 72 == pytest.approx(height, abs=0.5)
        assert left == pytest.approx(0, abs=0.05)
        document.close()

    @pytest.mark.parametrize(
        ("stock", "dpi"),
        [
            ("a4-3x7-63.5x38.1", 300), ("a4-3x7-63.5x38.1", 600), ("letter-3x10", 300), ("roll-62x29", 203),
            ("fold-c7-a4", 300), ("envelope-63.5x108", 300), ("envelope-220x110", 600),
        ],
    )  # fmt: skip
    def test_every_code_lands_where_the_page_has_it(self, tmp_path, work_day, lots, stock, dpi):
        """Read back from the printed page in millimetres, within 0.05 mm from its upper left corner."""
        job = job_for(work_day, lots, stock=stock, dpi=dpi, copies=4)
        meant = code_places_mm(job.pdf)
        if job.is_fed_sideways:
            meant = tuple((job.page_h_mm - down, across) for across, down in meant)
        if dpi == 203:
            # A head of 8 dots to the millimetre has 203.2 to the inch; this page was told 203.
            meant = tuple((across * 203.2 / 203, down * 203.2 / 203) for across, down in meant)
        came_out = code_places_mm(self.drawn(tmp_path, job)[1])
        assert len(came_out) == len(meant) == 4
        for (across, down), (x_mm, y_mm) in zip(sorted(came_out), sorted(meant), strict=True):
            assert across == pytest.approx(x_mm, abs=0.05)
            assert down == pytest.approx(y_mm, abs=0.05)

    @pytest.mark.parametrize(("dpi", "least"), [(203, 4), (300, 5), (600, 10)])
    def test_codes_are_whole_dots_on_the_picture_that_is_drawn(self, work_day, lots, dpi, least):
        """Across the whole sheet a module keeps its number of dots, to the last column."""
        job = job_for(work_day, lots, dpi=dpi, copies=21)
        drawn = dots_picture(job.pdf, 0, job.page_h_mm, dpi)
        rows = numpy.frombuffer(drawn.rgb, dtype=numpy.uint8).reshape(drawn.height, drawn.width, 3)
        grey = numpy.ascontiguousarray(rows[:, :, 0])
        kinds = zxingcpp.BarcodeFormats(zxingcpp.BarcodeFormat.QRCode)
        codes = zxingcpp.read_barcodes(grey, formats=kinds)
        assert len(codes) == 21
        [dots] = {module_dots(grey, code) for code in codes}
        assert dots >= least

    def test_stopping_leaves_words_and_no_more_pages(self, tmp_path, work_day, lots):
        """A stopped job says what may still come out."""
        device = QPrinter(QPrinter.PrinterMode.HighResolution)
        device.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
        device.setOutputFileName(str(tmp_path / "out.pdf"))
        with pytest.raises(LabelsStopped, match="Printing was stopped"):
            draw_dots(device, job_for(work_day, lots, copies=1), stop=lambda: True)
