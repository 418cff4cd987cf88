"""The printing dialog, as a keeper uses it: choose, make, look, print or save."""

from datetime import date
from io import BytesIO

import pytest
from PySide6.QtWidgets import QWidget

from hilum.benches import printing, testing
from hilum.window.paper_printing import PaperError
from hilum.window.print_dialog import open_dish_dialog, open_print_dialog
from hilum.window.print_memory import remembered
from tests.support.answers import Answers
from tests.support.keeper import Keeper
from tests.support.paper import MeasuringPaper, sheets_of

DAY = date(2026, 11, 25)
MADE_MS = 30_000


def texts_of(pdf):
    """Give the words of every page, by the same library the house proofs with."""
    import pypdfium2

    from hilum.labels.proof import PDFIUM

    with PDFIUM:
        document = pypdfium2.PdfDocument(BytesIO(pdf))
        try:
            return [page.get_textpage().get_text_range() for page in document]
        finally:
            document.close()


def finds_stock(keeper, part):
    """Type a part of a label stock's name and confirm it."""
    keeper.field("Label stock").setFocus()
    keeper.keys("Ctrl+A")
    keeper.writes(part)
    keeper.keys("Return")


@pytest.fixture
def paper():
    """Give a printer that measures."""
    return MeasuringPaper()


@pytest.fixture
def opened(qtbot, work_day, lots, paper, tmp_path):
    """Open the dialog for two lots; gives keeper, dialog and answers."""
    parent = QWidget()
    keeper = Keeper(qtbot, parent)
    answers = Answers(files=(tmp_path / "out" / "labels.pdf",))
    chosen = (lots["Grey Ferryman"], lots["Candlewick"])
    return keeper, open_print_dialog(work_day, answers, parent, chosen, paper=paper), answers


def test_labels_are_made_proofed_and_printed(opened, paper, lots):
    """Copies, first free and spoiled labels are kept; the printer gets whole dots at true size."""
    keeper, _, _ = opened
    keeper.types("Copies", "11")
    keeper.types("First free", "5")
    keeper.types("Spoiled", "8")
    keeper.presses("Make pages")
    keeper.waits_to_see("22 labels on 2 pages. 22 codes, all read back at 300 dpi.", MADE_MS)
    keeper.presses("Print…")
    keeper.waits_to_see("Put in A4 sheets (210 × 297 mm).")
    assert keeper.sees("Print at 100 % (“actual size”), never “fit to page”")
    keeper.chooses("Printer", "Roll printer")
    keeper.presses("Print")
    keeper.waits_to_see("Sent to Roll printer at 100 %.")
    [(printer, job, sheets)] = paper.printed
    assert (printer, job.dpi) == ("Roll printer", 300)
    # 21 labels a sheet; 5 to 21 without 8 are 16 on the first.
    assert [len(sheet.codes) for sheet in sheets] == [16, 6]
    assert {code for sheet in sheets for code in sheet.codes} == {lots["Grey Ferryman"], lots["Candlewick"]}
    assert remembered().printer == "Roll printer"


def test_the_saved_pdf_says_what_the_catalogue_says(opened, tmp_path, lots):
    """The file holds the words of the lots, and its codes read."""
    keeper, _, answers = opened
    keeper.presses("Make pages")
    keeper.waits_to_see("2 codes, all read back", MADE_MS)
    keeper.presses("Save as PDF…")
    keeper.waits_to_see("Saved as")
    assert answers.asked[-1].kind == "save"
    pdf = (tmp_path / "out" / "labels.pdf").read_bytes()
    [words] = texts_of(pdf)
    for wanted in ("Grey Ferryman", "Candlewick", "Ferry Reach", "Upper Mill", lots["Candlewick"]):
        assert wanted in words
    [sheet] = sheets_of(pdf, 300)
    assert sorted(sheet.codes) == sorted((lots["Grey Ferryman"], lots["Candlewick"]))


def test_nothing_can_be_printed_before_it_is_made_or_after_a_change(opened):
    """Pages of earlier choices are taken away."""
    keeper, _, _ = opened
    assert not keeper.can_press("Print…")
    assert not keeper.can_press("Save as PDF…")
    keeper.presses("Make pages")
    keeper.waits_to_see("all read back", MADE_MS)
    assert keeper.can_press("Print…")
    keeper.chooses("Design", "Jar")
    assert keeper.sees("Your choices have changed.")
    assert not keeper.can_press("Print…")


def test_a_refused_job_says_why_and_offers_nothing(opened):
    """When no label is free nothing is made, and the reason stands there."""
    keeper, _, _ = opened
    keeper.types("First free", "21")
    keeper.types("Spoiled", "21")
    keeper.presses("Make pages")
    keeper.waits_to_see("leave no free position on the first sheet", MADE_MS)
    assert not keeper.can_press("Print…")


def test_spoiled_labels_that_are_none_are_refused_at_once(opened):
    """A number beyond the sheet is said while it is typed, and no pages are made of it."""
    keeper, dialog, _ = opened
    keeper.types("Spoiled", "40")
    assert keeper.sees("“40” is not on this sheet: its labels are numbered 1 to 21.")
    keeper.presses("Make pages")
    assert not dialog.sheets.has_pages


def test_without_a_printer_saving_is_offered(opened, paper):
    """A computer without printers says so and leaves the PDF."""
    keeper, _, _ = opened
    paper.there = ()
    keeper.presses("Make pages")
    keeper.waits_to_see("all read back", MADE_MS)
    keeper.presses("Print…")
    keeper.waits_to_see("No printer is set up on this computer. Save the pages as a PDF")
    assert keeper.can_press("Save as PDF…")


def test_what_the_printer_answers_is_shown(opened, paper):
    """A job that is not taken can be sent again."""
    keeper, _, _ = opened
    paper.refusal = PaperError("Bench printer did not take the labels: no paper. Nothing was printed.")
    keeper.presses("Make pages")
    keeper.waits_to_see("all read back", MADE_MS)
    keeper.presses("Print…")
    keeper.waits_to_see("Put in A4 sheets")
    keeper.presses("Print")
    keeper.waits_to_see("no paper. Nothing was printed.")
    assert keeper.can_press("Print…")


def test_making_can_be_stopped(opened):
    """A long job that is stopped leaves no pages."""
    keeper, dialog, _ = opened
    keeper.types("Copies", "900")
    keeper.presses("Make pages")
    keeper.presses("Stop")
    keeper.waits_to_see("Making labels was stopped. No PDF was made.", MADE_MS)
    assert not dialog.sheets.has_pages
    assert keeper.can_press("Make pages")


def test_closing_while_pages_are_made_leaves_no_trace(qtbot, opened, work_day):
    """The dialog may be closed at any time."""
    keeper, _, _ = opened
    keeper.types("Copies", "200")
    keeper.presses("Make pages")
    keeper.keys("Esc")
    qtbot.waitUntil(lambda: not work_day.is_busy, timeout=MADE_MS)


def test_stocks_that_do_not_fit_are_greyed_with_the_reason(opened):
    """The list offers what fits first; the others say what is lacking."""
    _, dialog, _ = opened
    box = dialog.choices.stock
    entries = [box.itemText(place) for place in range(box.count())]
    first_grey = entries.index("Too small for this design")
    greyed = [place for place in range(box.count()) if "too small" in box.itemText(place)]
    assert min(greyed) > first_grey
    assert all(not box.model().item(place).isEnabled() for place in greyed)
    assert "A4 7x27, 25.4 x 10 mm: too small, Packet needs 45 × 21 mm" in entries
    fits = {stock.title for stock in printing.fitting_stocks(printing.design("packet"))}
    assert len(greyed) == len(printing.label_stocks()) - len(fits)


def test_a_stock_is_found_by_typing_a_part_of_it(opened):
    """A part that only one stock has chooses it; one that fits none leaves the choice as it was."""
    keeper, dialog, _ = opened
    finds_stock(keeper, "62 x 29")
    assert dialog.choices.stock.stock_name() == "roll-62x29"
    assert not dialog.choices.start.isEnabled()
    finds_stock(keeper, "no such stock")
    assert dialog.choices.stock.stock_name() == "roll-62x29"
    assert keeper.reads("Label stock") == "Roll 62 x 29 mm"


def test_choices_come_back_the_next_day(qtbot, opened, work_day, lots, paper):
    """Design, stock and dots are remembered."""
    keeper, dialog, _ = opened
    keeper.chooses("Design", "Jar")
    finds_stock(keeper, "2x5, 99.1")
    keeper.chooses("Printer dots", "600 dpi")
    keeper.presses("Make pages")
    keeper.waits_to_see("all read back at 600 dpi", MADE_MS)
    dialog.close()
    parent = QWidget()
    keeper = Keeper(qtbot, parent)
    again = open_print_dialog(work_day, Answers(), parent, (lots["Candlewick"],), "", paper=paper)
    assert again.choices.design_title() == "Jar"
    assert again.choices.stock.stock_name() == "a4-2x5-99.1x57"
    assert keeper.reads("Printer dots") == "600 dpi"


def test_dish_tags_are_printed_for_running_tests(qtbot, work_day, lots, paper):
    """Each dish of a running test gets a tag of its own."""
    test = testing.start_test(work_day.catalogue, lots["Grey Ferryman"], on=DAY, dishes=(50, 50))
    parent = QWidget()
    keeper = Keeper(qtbot, parent)
    dialog = open_dish_dialog(work_day, Answers(), parent, (test.id,), paper=paper)
    keeper.presses("Make pages")
    keeper.waits_to_see("2 labels on 1 page. 2 codes, all read back", MADE_MS)
    keeper.presses("Print…")
    keeper.waits_to_see("Put in A4 sheets")
    keeper.presses("Print")
    keeper.waits_to_see("Sent to Bench printer")
    [(_, job, _)] = paper.printed
    [words] = texts_of(job.pdf)
    assert "dish 1 of 2" in words
    assert "dish 2 of 2" in words
    assert words.count("laid 2026-11-25") == 2
    sheet = testing.count_sheet(work_day.catalogue, test.id).test
    assert f"count {sheet.first_count_on.day} Dec, {sheet.final_count_on.day} Dec" in words
    dialog.close()
