"""The print book in the window: what went out stands there, and is printed again."""

from datetime import date
from hashlib import sha256

import pytest
from PySide6.QtWidgets import QWidget

from hilum.benches import lots as lots_bench
from hilum.benches import print_book
from hilum.benches.printing import LabelJob, lot_labels
from hilum.window.lot_page import LotPage
from hilum.window.print_book_dialog import PrintBookDialog
from hilum.window.print_dialog import open_print_dialog
from tests.support.answers import Answers
from tests.support.keeper import Keeper
from tests.support.paper import MeasuringPaper, Printer

DAY = date(2026, 11, 25)
MADE_MS = 30_000


@pytest.fixture
def paper():
    """Give a printer that measures, with two trays."""
    return MeasuringPaper(there=(Printer("Bench printer", "lp", True, ("Tray1", "Tray2")),))


@pytest.fixture
def printed(work_day, lots):
    """Book a job of two lots; gives its pages."""
    chosen = (lots["Grey Ferryman"], lots["Candlewick"])
    sheets = lot_labels(work_day.catalogue, chosen, LabelJob("packet", "a4-3x8", copies=2, start=4), on=DAY)
    print_book.book(work_day.catalogue, sheets, on=DAY, went_to="Bench printer")
    return sheets


def opened(qtbot, work_day, paper, lot=""):
    """Open the print book; gives the keeper and the dialog."""
    parent = QWidget()
    keeper = Keeper(qtbot, parent)
    dialog = PrintBookDialog(work_day, Answers(), parent, lot, paper)
    dialog.open()
    dialog.activateWindow()
    qtbot.waitUntil(dialog.isActiveWindow)
    return keeper, dialog


def test_what_is_printed_stands_in_the_book(qtbot, work_day, lots, paper, tmp_path):
    """A job sent to a tray, and the same pages saved, are two lines with the hash of the pages."""
    parent = QWidget()
    keeper = Keeper(qtbot, parent)
    answers = Answers(files=(tmp_path / "out.pdf",))
    open_print_dialog(work_day, answers, parent, (lots["Candlewick"],), paper=paper)
    keeper.presses("Make pages")
    keeper.waits_to_see("1 code, read back", MADE_MS)
    keeper.presses("Print…")
    keeper.waits_to_see("This printer was not calibrated for this paper yet.")
    keeper.chooses("Tray", "Tray2")
    keeper.presses("Print")
    keeper.waits_to_see("Sent to Bench printer at 100 %.")
    keeper.presses("Save as PDF…")
    keeper.waits_to_see("Saved as")
    qtbot.waitUntil(lambda: len(print_book.printed_jobs(work_day.catalogue)) == 2)
    saved, sent = print_book.printed_jobs(work_day.catalogue)
    assert (sent.job.went_to, saved.job.went_to) == ("Bench printer, Tray2", "file out.pdf")
    assert saved.job.sha256 == sha256((tmp_path / "out.pdf").read_bytes()).hexdigest() == sent.job.sha256
    assert paper.trays == ["Tray2"]


def test_the_whole_job_is_printed_again_to_the_byte(qtbot, work_day, paper, printed):
    """Open the book, press once, make, print: the printer gets what it got then."""
    keeper, _ = opened(qtbot, work_day, paper)
    assert keeper.sees("Packet, 4 labels")
    keeper.presses("Print all of it again…")
    keeper.presses("Make pages")
    keeper.waits_to_see("4 labels on 1 page. 4 codes, all read back", MADE_MS)
    keeper.presses("Print…")
    keeper.waits_to_see("Put in A4 sheets")
    keeper.presses("Print")
    keeper.waits_to_see("Sent to Bench printer at 100 %.")
    [(_, job, _)] = paper.printed
    assert job.pdf == printed.pdf
    qtbot.waitUntil(lambda: len(print_book.printed_jobs(work_day.catalogue)) == 2)
    newest, first = print_book.printed_jobs(work_day.catalogue)
    assert newest.job.again_id == first.id
    assert newest.job.sha256 == first.job.sha256


def test_one_label_is_printed_again_as_it_was(qtbot, work_day, paper, printed, lots):
    """The lot was renamed since: the list says so, and so do the pages made of the old words."""
    lots_bench.change_lot(work_day.catalogue, lots["Candlewick"], {"variety": "Lamplighter"})
    keeper, _ = opened(qtbot, work_day, paper)
    assert keeper.sees("1 lot changed since")
    assert keeper.sees("variety: “Candlewick”, now “Lamplighter”")
    assert not keeper.can_press("Print the chosen labels again…")
    keeper.picks("Candlewick")
    keeper.presses("Print the chosen labels again…")
    keeper.types("Copies", "3")
    keeper.presses("Make pages")
    keeper.waits_to_see("3 labels on 1 page. 3 codes, all read back", MADE_MS)
    assert keeper.sees("printed as then; the lot says otherwise now")


def test_jobs_are_found_by_lot(qtbot, work_day, paper, printed, lots):
    """A lot number typed or scanned leaves its jobs; one that is mistyped says what is near."""
    keeper, dialog = opened(qtbot, work_day, paper)
    keeper.types("Lot", lots["Lantern Street"])
    assert dialog.jobs.rows() == ()
    keeper.types("Lot", lots["Candlewick"])
    assert [line.id for line in dialog.jobs.rows()] == [1]
    assert [row.key for row in dialog.labels.chosen()] == [lots["Candlewick"]]
    keeper.types("Lot", "LET-25-001-8")
    assert keeper.sees(lots["Candlewick"])


def test_a_lots_page_leads_to_what_was_printed_of_it(qtbot, work_day, printed, lots):
    """From the lot: its jobs only."""
    page = LotPage(work_day, Answers())
    keeper = Keeper(qtbot, page)
    page.open(lots["Candlewick"])
    keeper.presses("Print again…")
    assert keeper.sees("Packet, 4 labels")
    assert keeper.reads("Lot") == lots["Candlewick"]
    keeper.presses("Close")
