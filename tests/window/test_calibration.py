"""Calibrating a printer: what it does to a page is typed, kept, and undone in every later job."""

import io
import os
import re

import pypdf
import pytest
from PySide6.QtWidgets import QWidget

from hilum.benches.calibrating import Correction, correct, correction_for, kept_corrections
from hilum.benches.printing import LabelJob, lot_labels
from hilum.window.calibration_dialog import CalibrationDialog
from hilum.window.paper_printing import Paper, PaperJob, Printer
from hilum.window.print_dialog import open_print_dialog
from tests.support.answers import Answers
from tests.support.keeper import Keeper
from tests.support.paper import MM_PER_POINT, MeasuringPaper, PrintCommand

MADE_MS = 30_000
# What this printer does: a millimetre to the right, eight tenths up, a little narrow, turned.
CROOKED = Correction(1.0, -0.8, 0.9985, 1.002, 0.003)
NAMES = ("top left", "top right", "bottom left")


@pytest.fixture
def paper():
    """Give a printer with two trays."""
    return MeasuringPaper(there=(Printer("Bench printer", "lp", True, ("Tray1", "Tray2")),))


def baselines(pdf, number=0):
    """Give where each line of text begins on a page, in mm from the top left, matrices applied."""
    page = pypdf.PdfReader(io.BytesIO(pdf)).pages[number]
    high = float(page.mediabox.height)
    found = []

    def seen(text, cm, tm, _font, _size):
        if text.strip():
            x = tm[4] * cm[0] + tm[5] * cm[2] + cm[4]
            y = tm[4] * cm[1] + tm[5] * cm[3] + cm[5]
            found.append((text.strip(), x * MM_PER_POINT, (high - y) * MM_PER_POINT))

    page.extract_text(visitor_text=seen)
    return found


def measures(keeper, printer):
    """Type where a printer puts the crosses, as read off a very good ruler."""
    for name, (x, y) in zip(NAMES, ((20.0, 20.0), (190.0, 20.0), (20.0, 277.0)), strict=True):
        across, down = printer.printed(x, y)
        keeper.types(f"Cross {name}, from the left edge", f"{across:.2f}")
        keeper.types(f"Cross {name}, from the top edge", f"{down:.2f}")


def calibrated(qtbot, work_day, paper, tray):
    """Open the dialog, print, measure, check, keep."""
    parent = QWidget()
    keeper = Keeper(qtbot, parent)
    CalibrationDialog(work_day, Answers(), parent, paper).open()
    keeper.waits_to_see("Not calibrated for this paper yet.")
    keeper.chooses("Tray", tray)
    keeper.presses("Print the page")
    keeper.waits_to_see("Sent to Bench printer at 100 %.")
    measures(keeper, CROOKED)
    assert keeper.sees(
        "1.00 mm to the right; 0.80 mm too high; 99.85 % wide and 100.20 % high; turned by 0.30 mm"
    )
    keeper.presses("Print a page to check")
    qtbot.waitUntil(lambda: len(paper.printed) == 2)
    keeper.presses("Keep")
    keeper.waits_to_see(f"Kept for Bench printer, {tray}, paper of 210 × 297 mm.")
    keeper.presses("Close")
    return parent, keeper


def test_a_page_to_check_lands_where_it_is_meant(qtbot, work_day, paper):
    """Printed by the crooked printer, the words of the corrected page stand within 0.05 mm of those meant."""
    calibrated(qtbot, work_day, paper, "Tray2")
    plain, check = (baselines(job.pdf) for _, job, _ in paper.printed)
    meant = {text: (x, y) for text, x, y in plain}
    compared = 0
    for text, x, y in check:
        if text in meant and text[:1].isalpha() and "/" in text:
            assert CROOKED.printed(x, y) == pytest.approx(meant[text], abs=0.05)
            compared += 1
    assert compared == 4


def test_every_later_job_of_that_tray_is_corrected(qtbot, work_day, lots, paper):
    """The other tray gets the pages as they are; the calibrated one gets every word moved to where it lands right."""
    parent, keeper = calibrated(qtbot, work_day, paper, "Tray2")
    paper.printed.clear()
    open_print_dialog(work_day, Answers(), parent, (lots["Candlewick"], lots["Grey Ferryman"]), paper=paper)
    keeper.presses("Make pages")
    keeper.waits_to_see("2 codes, all read back", MADE_MS)
    for pages, tray in enumerate(("Tray1", "Tray2"), start=1):
        keeper.presses("Print…")
        keeper.waits_to_see("Put in A4 sheets")
        keeper.chooses("Tray", tray)
        known = "Calibrated on 2026-11-25" if tray == "Tray2" else "not calibrated for this paper yet"
        assert keeper.sees(known)
        keeper.presses("Print")
        qtbot.waitUntil(lambda wanted=pages: len(paper.printed) == wanted, timeout=MADE_MS)
        qtbot.waitUntil(lambda: keeper.can_press("Print…"), timeout=MADE_MS)
    (_, plain, _), (_, moved, sheets) = paper.printed
    assert len(sheets[0].codes) == 2
    meant, drawn = baselines(plain.pdf), baselines(moved.pdf)
    assert len(meant) == len(drawn) > 6
    for (text, *place), (same, x, y) in zip(meant, drawn, strict=True):
        assert text == same
        assert CROOKED.printed(x, y) == pytest.approx(tuple(place), abs=0.05)


def test_a_calibration_belongs_to_its_paper_and_can_be_forgotten(qtbot, work_day, paper):
    """Letter paper out of the same tray was never measured."""
    parent, keeper = calibrated(qtbot, work_day, paper, "Tray1")
    settings = work_day.catalogue.settings()
    assert correction_for(settings, "Bench printer", "Tray1", 215.9, 279.4) is None
    kept = correction_for(settings, "Bench printer", "Tray1", 210, 297)
    assert kept is not None
    assert kept.correction.right_mm == pytest.approx(1.0, abs=0.02)
    CalibrationDialog(work_day, Answers(), parent, paper, begin_with=("Bench printer", "Tray1")).open()
    keeper.waits_to_see("Calibrated on 2026-11-25")
    keeper.presses("Forget what is kept")
    assert kept_corrections(work_day.catalogue.settings()) == ()
    keeper.presses("Close")


def test_figures_no_printer_gives_are_refused_in_words(qtbot, work_day, paper):
    """An inch typed for a millimetre is not kept."""
    parent = QWidget()
    keeper = Keeper(qtbot, parent)
    CalibrationDialog(work_day, Answers(), parent, paper).open()
    keeper.waits_to_see("Not calibrated for this paper yet.")
    keeper.types("Cross top right, from the left edge", "45.4")
    assert keeper.sees("The two top crosses are 170.0 mm apart on the page; 25.4 mm was measured.")
    assert not keeper.can_press("Keep")


@pytest.mark.skipif(os.name == "nt", reason="the print command is one of Linux and macOS")
def test_the_print_command_is_told_the_tray_and_both_sides(tmp_path, monkeypatch):
    """Trays are asked of the printing system; the chosen one and the turning are handed on."""
    command = PrintCommand(tmp_path / "bin", trays=("Auto", "Tray1"))
    monkeypatch.setenv("PATH", f"{command.folder}{os.pathsep}{os.environ['PATH']}")
    [printer] = Paper().printers()
    assert printer.trays == ("Auto", "Tray1")
    Paper().send(PaperJob(b"%PDF", "x", 210, 297, 300, True), printer, tray="Tray1")
    assert "InputSlot=Tray1" in command.arguments
    assert "sides=two-sided-long-edge" in command.arguments
    assert not any(re.match("fit", each) for each in command.arguments)


def test_the_back_of_a_sheet_is_measured_on_its_own(qtbot, work_day, lots, paper):
    """Kept apart from the front; a job on both sides says what is known of each and moves its backs alone."""
    parent = QWidget()
    keeper = Keeper(qtbot, parent)
    CalibrationDialog(work_day, Answers(), parent, paper, begin_with=("Bench printer", "Tray1")).open()
    keeper.waits_to_see("Not calibrated for this paper yet.")
    keeper.chooses("Side", "the back, for printing on both sides")
    keeper.presses("Print the page")
    keeper.waits_to_see("Sent to Bench printer at 100 %.")
    [(_, page, _)] = paper.printed
    assert page.is_two_sided
    measures(keeper, Correction(right_mm=2.0))
    keeper.presses("Keep")
    keeper.waits_to_see("Kept for Bench printer")
    keeper.presses("Close")
    settings = work_day.catalogue.settings()
    assert correction_for(settings, "Bench printer", "Tray1", 210, 297) is None
    kept = correction_for(settings, "Bench printer", "Tray1", 210, 297, "back")
    assert kept is not None
    assert kept.correction.right_mm == pytest.approx(2.0, abs=0.02)
    order = lot_labels(
        work_day.catalogue, [lots["Candlewick"]], LabelJob("packet", "a4-2x4-105x74", back="packet-back"),
        on=work_day.today(),
    ).order  # fmt: skip
    plain = correct(work_day.catalogue, order, None)
    moved = correct(work_day.catalogue, order, None, kept.correction)
    for page, by_mm in ((0, 0.0), (1, -2.0)):
        meant, drawn = baselines(plain.pdf, page), baselines(moved.pdf, page)
        assert len(meant) == len(drawn) > 3
        for (text, x, y), (same, *there) in zip(meant, drawn, strict=True):
            assert text == same
            assert tuple(there) == pytest.approx((x + by_mm, y), abs=0.05)
