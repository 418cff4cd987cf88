"""More ways to print, by clicking: other sides, groups, copies by lot, labels measured with a ruler."""

import io

import pypdf
import pytest
from PySide6.QtWidgets import QWidget

from hilum.benches import packing, preparing
from hilum.benches.label_orders import LabelJob
from hilum.window.print_dialog import open_print_dialog
from tests.support.answers import Answers
from tests.support.keeper import Keeper
from tests.support.paper import MeasuringPaper

MADE_MS = 30_000


@pytest.fixture
def opened(qtbot, work_day, lots, tmp_path):
    """Open the print dialog for three lots; gives keeper, dialog and answers."""
    parent = QWidget()
    keeper = Keeper(qtbot, parent)
    answers = Answers(files=(tmp_path / "list.csv",))
    chosen = (lots["Grey Ferryman"], lots["Candlewick"], lots["Lantern Street"])
    return keeper, open_print_dialog(work_day, answers, parent, chosen, paper=MeasuringPaper()), answers


def words_of(dialog):
    """Give the words of each page that was made."""
    pdf = dialog.sheets._job.pdf
    return [page.extract_text() for page in pypdf.PdfReader(io.BytesIO(pdf)).pages]


def finds_stock(keeper, part):
    """Type a part of a label stock's name and confirm it."""
    keeper.field("Label stock").setFocus()
    keeper.keys("Ctrl+A")
    keeper.writes(part)
    keeper.keys("Return")


def test_a_stake_has_two_sides(opened):
    """Fronts and backs in turn, and the words that say how to turn the paper."""
    keeper, dialog, _ = opened
    keeper.chooses("Design", "Row stake")
    finds_stock(keeper, "2x7, 99.1 x 38.1")
    keeper.presses("More choices")
    keeper.chooses("Other side", "Row stake, back")
    assert keeper.sees("turned over on the long edge")
    keeper.presses("Make pages")
    keeper.waits_to_see("3 labels on 2 pages. 3 codes", MADE_MS)
    assert "sown:" in words_of(dialog)[1]
    assert dialog.sheets._job.is_two_sided


def test_groups_are_kept_apart_by_separators(opened):
    """One before each crop, in the order of the crops."""
    keeper, dialog, _ = opened
    keeper.presses("More choices")
    keeper.chooses("Separator before", "each crop")
    keeper.presses("Make pages")
    keeper.waits_to_see("3 labels on 1 page", MADE_MS)
    [words] = words_of(dialog)
    assert words.count("1 label") == 3
    assert words.index("Leek\n") < words.index("Lettuce\n") < words.index("Tomato\n")


def test_packets_are_folded_from_plain_paper(opened):
    """Front and back on one sheet, with the marks; nothing to choose on the sheet."""
    keeper, dialog, _ = opened
    keeper.chooses("Design", "Small packet")
    finds_stock(keeper, "Plain A4: small folding packet")
    assert keeper.sees("Plain paper, 2 a sheet: 2 sheets.")
    assert not dialog.choices.start.isEnabled()
    keeper.presses("Make pages")
    keeper.waits_to_see("3 labels on 2 pages. 3 codes", MADE_MS)
    assert "glue" in words_of(dialog)[0]
    assert not dialog.sheets._job.is_two_sided


def test_an_envelope_says_how_it_is_fed(opened):
    """Feed edge and flap, where the printing is done."""
    keeper, _, _ = opened
    keeper.chooses("Design", "Small packet")
    finds_stock(keeper, "No. 3, 63.5")
    assert keeper.sees("Feed it flap end first, the hatched flap on top")
    keeper.presses("Make pages")
    keeper.waits_to_see("3 labels on 3 pages", MADE_MS)


def test_copies_go_by_lot_typed_packed_or_listed(opened, work_day, lots, tmp_path):
    """As many as packets; then what a list says."""
    keeper, dialog, _ = opened
    leek = lots["Grey Ferryman"]
    preparing.count(
        work_day.catalogue, leek, on=work_day.today(), seeds=100, replicates_mg=[250, 251, 249, 250]
    )
    packing.pack(
        work_day.catalogue, leek, packets=7, seeds=40, job=LabelJob("packet", "a4-3x8"), on=work_day.today()
    )
    keeper.presses("By lot…")
    keeper.presses("As many as packets")
    assert keeper.sees("7 labels in all")
    (tmp_path / "list.csv").write_text(
        f"lot,labels\n{leek},4\n{lots['Candlewick']},\n{lots['Lantern Street']},2\n", encoding="utf-8"
    )
    keeper.presses("From a list…")
    assert keeper.sees("6 labels in all")
    keeper.presses("Take these numbers")
    assert keeper.sees("By lot, 6 labels in all.")
    keeper.presses("Make pages")
    keeper.waits_to_see("6 labels on 1 page. 6 codes", MADE_MS)
    assert lots["Candlewick"] not in words_of(dialog)[0]


def test_a_list_that_cannot_be_meant_says_where(opened, lots, tmp_path):
    """The row, and nothing is taken from it."""
    keeper, _, _ = opened
    (tmp_path / "list.csv").write_text(f"lot,labels\n{lots['Candlewick']},many\n", encoding="utf-8")
    keeper.presses("By lot…")
    keeper.presses("From a list…")
    assert keeper.sees("list.csv, row 2: “many” under “labels” is no number of labels")
    assert keeper.sees("3 labels in all")


def test_labels_in_no_list_are_measured_drawn_and_kept(opened, work_day):
    """Wrong figures are said while they are typed; what is kept is chosen, and printed on."""
    keeper, dialog, _ = opened
    keeper.presses("Other labels…")
    keeper.types("Name", "garden tags")
    keeper.types("Second column begins, from the left", "40")
    assert keeper.sees("they would overlap. Measure again from the paper's edge.")
    assert not keeper.can_press("Keep these labels")
    keeper.types("Second column begins, from the left", "74")
    keeper.types("Labels across", "2")
    assert keeper.sees("14 labels a sheet.")
    keeper.presses("Keep these labels")
    assert dialog.choices.stock.stock_name() == "own-garden-tags"
    keeper.presses("Make pages")
    keeper.waits_to_see("3 labels on 1 page", MADE_MS)
    assert [each["title"] for each in work_day.catalogue.settings().own_label_stocks] == ["garden tags"]
    keeper.presses("Other labels…")
    keeper.presses("Forget them")
    assert work_day.catalogue.settings().own_label_stocks == ()
    assert dialog.choices.stock.stock_name() != "own-garden-tags"


def test_the_code_leads_to_the_library(opened, work_day):
    """With an address set the code holds it; without one the job is refused and says so."""
    from hilum.benches.keeping import change_settings

    keeper, dialog, _ = opened
    keeper.presses("More choices")
    keeper.chooses("Code says", "the library's web address and the lot number")
    keeper.presses("Make pages")
    keeper.waits_to_see("web address, but none is set", MADE_MS)
    change_settings(work_day.catalogue, {"web_address": "seeds.example.org/lot"})
    finds_stock(keeper, "2x5, 99.1 x 57")
    keeper.presses("Make pages")
    keeper.waits_to_see("3 codes, all read back", MADE_MS)
    from tests.support.paper import sheets_of

    [sheet] = sheets_of(dialog.sheets._job.pdf, 300)
    assert all(code.startswith("HTTPS://SEEDS.EXAMPLE.ORG/LOT/") for code in sheet.codes)


def test_the_margin_of_the_codes_is_shown(opened):
    """How much blur they bear on white and on kraft paper."""
    keeper, _, _ = opened
    keeper.presses("Make pages")
    keeper.waits_to_see("Codes are read with a blur of up to", MADE_MS)
    assert keeper.sees("mm on kraft")


def test_a_poisonous_crop_without_its_caution_is_refused(qtbot, work_day):
    """The window says why, and offers nothing to print; with a design that has room for it the caution is there."""
    from hilum.benches import intake

    name = "Chapel White of the Upper Ferry Reach, as grown behind the glasshouse since the flood of the long winter"
    rows = [("Foxglove", name, "2025", "2.1 g", "Plot 9", "", "2025-08-18", "", "", "")]
    [taken] = intake.take_in(
        work_day.catalogue, intake.plan_rows(work_day.catalogue, rows, today=work_day.today())
    ).accepted
    parent = QWidget()
    keeper = Keeper(qtbot, parent)
    dialog = open_print_dialog(work_day, Answers(), parent, (taken.lot,), paper=MeasuringPaper())
    dialog.activateWindow()
    qtbot.waitUntil(dialog.isActiveWindow)
    finds_stock(keeper, "4x12, 45.7")
    keeper.presses("Make pages")
    keeper.waits_to_see("It may not be shortened. Choose a larger label stock.", MADE_MS)
    assert keeper.sees(f"Label {taken.lot}: the box")
    assert not keeper.can_press("Print…")
    keeper.chooses("Design", "Counter card")
    keeper.presses("Make pages")
    keeper.waits_to_see("1 code, read back", MADE_MS)
    assert "poison" in words_of(dialog)[0].casefold()
