"""The intake grid as a keeper uses it: keys, type-ahead, pasting, and what becomes of the rows."""

from datetime import date

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QListWidget

from hilum.benches.lots import LotFilter, find_lots
from hilum.window.intake_page import IntakePage
from hilum.window.work import WorkDay
from tests.support.answers import Answers
from tests.support.keeper import Keeper


@pytest.fixture
def page(work_day: WorkDay, answers: Answers) -> IntakePage:
    """Give the bench over a catalogue with five lots."""
    return IntakePage(work_day, answers)


@pytest.fixture
def keeper(qtbot, page: IntakePage) -> Keeper:
    """Give someone sitting before the grid."""
    page.resize(1100, 720)
    keeper = Keeper(qtbot, page)
    page.focus_first()
    return keeper


def types(keeper: Keeper, text: str) -> None:
    """Type key by key: the first opens the cell, the others go into it."""
    for letter in text:
        keeper.writes(letter)


def types_row(keeper: Keeper, *cells: str) -> None:
    """Type cells, Enter after each, and go on to the next row."""
    for cell in cells:
        types(keeper, cell)
        keeper.keys("Return")
    keeper.keys("Ctrl+Return")


def number_of_lots(work: WorkDay) -> int:
    """Give how many lots the catalogue holds."""
    return find_lots(work.catalogue, LotFilter(), on=work.today()).total


def test_a_typed_row_becomes_a_lot(keeper: Keeper, page: IntakePage, work_day: WorkDay, qtbot):
    """Enter goes from cell to cell, the row is said in words, and the button makes the lot."""
    types_row(keeper, "Leek", "Fenlock Grey", "2025", "38.5 g", "Ashmere", "Marit", "2025-10-04")
    assert keeper.sees("Leek “Fenlock Grey”, 2025, 38.5 g, Ashmere, from Marit, received 4 Oct 2025")
    before = number_of_lots(work_day)
    keeper.presses("Take in 1 lot")
    keeper.waits_to_see("1 lot taken in")
    assert number_of_lots(work_day) == before + 1
    [lot] = find_lots(work_day.catalogue, LotFilter(words="fenlock"), on=work_day.today()).lots
    assert lot.stock_mg == 38_500
    assert lot.line.received_on == date(2025, 10, 4)
    assert keeper.sees(lot.number)
    assert page.typing.grid.sheet_model.sheet.told == ()


def test_type_ahead_offers_crops_and_the_arrow_key_takes_one(keeper: Keeper, page: IntakePage):
    """Names stand below the cell while it is typed in; the arrow key and Enter take one over."""
    types(keeper, "broa")
    names = [
        widget for widget in page.window().findChildren(QListWidget) if widget.objectName() == "suggestions"
    ]
    assert [n.item(0).text() for n in names if n.isVisible()] == ["Broad bean"]
    keeper.keys("Down", "Return")
    assert page.typing.grid.sheet_model.sheet.rows[0][0] == "Broad bean"
    assert page.typing.grid.currentIndex().column() == 1


def test_type_ahead_offers_only_varieties_of_the_crop(keeper: Keeper, page: IntakePage):
    """The varieties offered are those of the crop in the same row; another name is kept as it is typed."""
    assert page.typing.suggest(0, 1, "Lantern") == ("Lantern Street",)
    types(keeper, "Leek")
    keeper.keys("Return")
    assert page.typing.suggest(0, 1, "Grey") == ("Grey Ferryman",)
    assert page.typing.suggest(0, 1, "Lantern") == ()


def test_a_misspelt_crop_is_mended_by_one_key(keeper: Keeper, page: IntakePage):
    """F2 writes the suggestion into the cell; nothing is mended without it."""
    types_row(keeper, "Letuce", "Dapple Oak", "2025", "12 g")
    assert keeper.can_press("Take in 0 lots") is False
    assert keeper.sees("F2 writes “Lettuce”")
    keeper.keys("Up", "F2")
    assert page.typing.grid.sheet_model.sheet.rows[0][0] == "Lettuce"
    assert keeper.sees("Lettuce “Dapple Oak”, 2025, 12 g")
    assert keeper.can_press("Take in 1 lot")


def test_enter_on_the_reading_takes_the_suggestion_over_too(keeper: Keeper, page: IntakePage):
    """The list of readings does the same for those who went there."""
    types_row(keeper, "Letuce", "Dapple Oak", "2025", "12 g")
    page.typing.readings.setFocus()
    keeper.keys("Home", "Return")
    assert page.typing.grid.sheet_model.sheet.rows[0][0] == "Lettuce"


def test_refused_rows_stay_in_the_grid(keeper: Keeper, page: IntakePage, work_day: WorkDay):
    """The good row goes in, the bad one stays with its reason."""
    types_row(keeper, "Leek", "Fenlock Grey", "2025", "38.5 g")
    types_row(keeper, "Leek", "Fenlock Blue", "2025", "plenty")
    before = number_of_lots(work_day)
    keeper.presses("Take in 1 lot")
    keeper.waits_to_see("1 lot taken in")
    keeper.presses("Take in more")
    assert number_of_lots(work_day) == before + 1
    assert page.typing.grid.sheet_model.sheet.rows[0][1] == "Fenlock Blue"
    assert keeper.sees("is not an amount")
    keeper.keys("Ctrl+Z")
    assert page.typing.grid.sheet_model.sheet.rows[0][1] == "Fenlock Blue", (
        "undo must not bring back a taken row"
    )


def test_a_row_like_a_known_lot_is_asked_about(keeper: Keeper, work_day: WorkDay, qtbot, page: IntakePage):
    """The same but for its weight goes in only when it is ticked."""
    types_row(keeper, "Leek", "Grey Ferryman", "2024", "55 g", "Ferry Reach", "Ada Quill", "2025-01-10")
    assert keeper.sees("Tick to take it in anyway")
    assert keeper.can_press("Take in 0 lots") is False
    page.typing.readings.setFocus()
    keeper.keys("Home", "Space")
    before = number_of_lots(work_day)
    keeper.presses("Take in 1 lot")
    keeper.waits_to_see("1 lot taken in")
    assert number_of_lots(work_day) == before + 1


def test_a_row_that_is_here_already_is_refused(keeper: Keeper, lots: dict[str, str]):
    """The same in everything names the lot it is."""
    types_row(keeper, "Leek", "Grey Ferryman", "2024", "42 g", "Ferry Reach", "Ada Quill", "2025-01-10")
    assert keeper.sees(f"Already here as lot {lots['Grey Ferryman']}")


def test_ctrl_d_copies_the_cell_above(keeper: Keeper, page: IntakePage):
    """Three varieties of one crop need its name once."""
    types_row(keeper, "Tomato", "Kiln Yellow", "2025")
    keeper.keys("Ctrl+D")
    assert page.typing.grid.sheet_model.sheet.rows[1][0] == "Tomato"


def test_a_block_from_a_spreadsheet_is_pasted_and_copied(keeper: Keeper, page: IntakePage):
    """Rows and columns fall into place from the current cell; a row of headings is left out."""
    QApplication.clipboard().setText(
        'Crop\tVariety\tYear\tWeight\nPea\t"Widow ""Tall"""\t2025\t410 g\nCarrot\tHollin Long\t2025\t210 g\n'
    )
    keeper.keys("Ctrl+V")
    sheet = page.typing.grid.sheet_model.sheet
    assert sheet.rows[0][:4] == ("Pea", 'Widow "Tall"', "2025", "410 g")
    assert sheet.rows[1][:4] == ("Carrot", "Hollin Long", "2025", "210 g")
    assert keeper.can_press("Take in 2 lots")
    page.typing.grid.selectAll()
    keeper.keys("Ctrl+C")
    assert QApplication.clipboard().text().splitlines()[1].startswith("Carrot\tHollin Long\t2025\t210 g")


def test_edits_can_be_taken_back(keeper: Keeper, page: IntakePage):
    """Ctrl+Z takes back one edit, Ctrl+Y does it again, Delete clears a cell."""
    types(keeper, "Tomato")
    keeper.keys("Return")
    sheet = page.typing.grid.sheet_model.sheet
    keeper.keys("Ctrl+Z")
    assert sheet.rows[0][0] == ""
    keeper.keys("Ctrl+Y")
    assert sheet.rows[0][0] == "Tomato"
    keeper.keys("Left", "Delete")
    assert sheet.rows[0][0] == ""


def test_tab_leaves_the_grid_from_its_empty_last_row(keeper: Keeper, page: IntakePage):
    """The keyboard is never caught in the grid."""
    types_row(keeper, "Tomato", "Kiln Yellow", "2025")
    assert page.typing.grid.hasFocus()
    keeper.keys("Tab")
    assert not page.typing.grid.hasFocus()


def test_the_model_keeps_qt_s_rules(page: IntakePage, qtmodeltester):
    """Rows come and go in pairs of begin and end."""
    model = page.typing.grid.sheet_model
    qtmodeltester.check(model)
    model.setData(model.index(0, 0), "Pea", Qt.ItemDataRole.EditRole)
    qtmodeltester.check(model)
    assert model.rowCount() == 2
