"""The season's list at the window: scanned together, figures typed, packed by one press, taken back by one key."""

from datetime import date

import pytest
from PySide6.QtCore import QSettings, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication

from hilum.benches import season
from hilum.benches.lots import hold_lot, lot_story
from hilum.benches.season import WantedFigures
from hilum.errors import BadInput
from hilum.window.packing_page import PackingPage
from hilum.window.season_paste import understood
from hilum.window.session import Session
from hilum.window.shell import MainWindow
from tests.support.answers import Answers
from tests.support.keeper import Keeper
from tests.support.paper import MeasuringPaper, sheets_of

DAY = date(2026, 11, 25)
MADE_MS = 30_000


@pytest.fixture
def bench(qtbot, work_day, tmp_path):
    """Give the page with the season's list in front, the keeper at it, and what it said."""
    page = PackingPage(work_day, Answers(texts=("Swap day",), files=(tmp_path / "to fill.pdf",)))
    page.season.paper = MeasuringPaper()
    page.resize(1180, 820)
    said = []
    page.said.connect(lambda kind, words: said.append((kind, words)))
    keeper = Keeper(qtbot, page)
    page._tabs.setCurrentWidget(page.season)
    return page.season, keeper, said


def rows_of(work_day):
    """Give the planned rows of the only list by lot."""
    [one] = season.season_lists(work_day.catalogue)
    return {row.number: row for row in season.season_plan(work_day.catalogue, one.id, on=DAY).rows}


def shows(qtbot, tab, *numbers):
    """Wait until the table shows these lots, and nothing is being loaded."""
    qtbot.waitUntil(lambda: [row.number for row in tab.table.rows()] == list(numbers), timeout=5000)


def turns_to_the_table(qtbot, tab):
    """Go to the table; offscreen a list of suggestions that was closed does not give the window back by itself."""
    tab.window().activateWindow()
    qtbot.waitUntil(lambda: QApplication.activeWindow() is tab.window())
    tab.table.setFocus()


def stock_of(work_day, number):
    """Give the stock of a lot as it is booked."""
    return lot_story(work_day.catalogue, number).lot.line.stock


def test_a_scan_begins_the_season_s_list_and_figures_are_typed_into_cells(qtbot, bench, work_day, lots):
    """Lot, digits, Enter: the catalogue holds what the table shows."""
    tab, keeper, _ = bench
    keeper.scans(lots["Grey Ferryman"])
    shows(qtbot, tab, lots["Grey Ferryman"])
    keeper.scans(lots["Candlewick"])
    shows(qtbot, tab, lots["Grey Ferryman"], lots["Candlewick"])
    assert keeper.sees("Spring 2027")
    turns_to_the_table(qtbot, tab)
    keeper.keys("Up")
    keeper.writes("24")
    assert keeper.sees("24▏")
    keeper.keys("Return")
    keeper.writes("6")
    keeper.keys("Left")
    qtbot.waitUntil(lambda: rows_of(work_day)[lots["Candlewick"]].packets == 6)
    keeper.writes("30")
    keeper.keys("Escape")
    keeper.writes("35")
    keeper.keys("Return")
    rows = rows_of(work_day)
    assert (rows[lots["Grey Ferryman"]].packets, rows[lots["Candlewick"]].packets) == (24, 6)
    assert rows[lots["Candlewick"]].seeds_per_packet == 35
    keeper.waits_to_see("Pack 30 packets")


def test_one_press_packs_all_ticked_rows_and_one_key_takes_all_of_it_back(
    qtbot, work_day, lots, clock, tmp_path
):
    """Two lots ticked, one not: one PDF in the order of the table; Ctrl+Z brings all the seed back."""
    window = MainWindow(Answers())
    window.resize(1240, 860)
    window.take_up(work_day)
    session = Session(window, clock, QSettings(str(tmp_path / "w.ini"), QSettings.Format.IniFormat), tmp_path)
    numbers = [lots["Grey Ferryman"], lots["Candlewick"], lots["Lantern Street"]]
    window.send_lots("Packing", tuple(numbers))
    session._mark_beginning()
    tab = window.page("Packing").season
    tab.paper = MeasuringPaper()
    keeper = Keeper(qtbot, window)
    shows(qtbot, tab, *numbers)
    before = {number: stock_of(work_day, number) for number in numbers}
    keeper.picks(lots["Lantern Street"])
    keeper.keys("Space")
    keeper.waits_to_see("Pack 20 packets")
    keeper.keys("Ctrl+Return")
    keeper.waits_to_see("20 labels on 1 page. 20 codes, all read back at 300 dpi.", MADE_MS)
    keeper.presses("Close")
    keeper.waits_to_see("Packed 20 packets from 2 lots. Ctrl+Z takes all of it back.")
    [notice] = [words for words in keeper.words() if "kept in" in words]
    with open(notice.rpartition("kept in ")[2].removesuffix("."), "rb") as kept:
        [sheet] = sheets_of(kept.read(), 300)
    assert set(sheet.codes) == set(numbers[:2])
    assert len(sheet.codes) == 20
    after = {number: stock_of(work_day, number) for number in numbers}
    assert [before[number] > after[number] for number in numbers] == [True, True, False]
    keeper.waits_to_see("✓ packed")
    turns_to_the_table(qtbot, tab)
    keeper.keys("Ctrl+Z")
    keeper.waits_to_see("Taken back: pack 2 lots of the season's list.")
    assert {number: stock_of(work_day, number) for number in numbers} == before
    keeper.waits_to_see("Pack 20 packets")
    window.may_close = None
    window.let_go()


def test_a_hold_put_on_meanwhile_is_named_and_nothing_is_packed(qtbot, bench, work_day, lots):
    """The other desk was quicker: the lot is named, the table shows it, the stock is whole."""
    tab, keeper, said = bench
    for name in ("Grey Ferryman", "Candlewick"):
        keeper.scans(lots[name])
    shows(qtbot, tab, lots["Grey Ferryman"], lots["Candlewick"])
    before = stock_of(work_day, lots["Grey Ferryman"])
    hold_lot(work_day.catalogue, lots["Candlewick"], "insects", on=DAY, note="weevils")
    keeper.presses("Pack 20 packets")
    qtbot.waitUntil(
        lambda: any("1 of 2 lots cannot be packed" in words for _, words in said), timeout=MADE_MS
    )
    assert lots["Candlewick"] in said[-1][1]
    keeper.waits_to_see("✕ on hold: insects")
    keeper.waits_to_see("Pack 10 packets")
    assert stock_of(work_day, lots["Grey Ferryman"]) == before


def test_ten_packets_weighed_say_that_the_fill_is_wrong(qtbot, bench, work_day, lots):
    """50 leek seeds of 2.577 g a thousand are 0.13 g: ten packets with 2 g of seed hold too much."""
    tab, keeper, said = bench
    keeper.scans(lots["Grey Ferryman"])
    shows(qtbot, tab, lots["Grey Ferryman"])
    keeper.types("Ten empty", "21.5")
    keeper.types("Ten filled", "23.5")
    keeper.presses("Check")
    assert said[-1][0] == "bad"
    keeper.waits_to_see("too much: empty them and fill again")
    keeper.waits_to_see("ten packets: too much")
    keeper.types("Ten filled", "22.8")
    keeper.presses("Check")
    keeper.waits_to_see("✓ Ten packets hold 1.30 g")
    assert rows_of(work_day)[lots["Grey Ferryman"]].check.verdict == "right"


def test_a_spoon_is_counted_once_for_seed_too_light_to_weigh(qtbot, bench, work_day):
    """The table asks for it, and shows spoons afterwards."""
    from hilum.benches import intake

    row = ("Foxglove", "Tall Bell", "2024", "2 g", "Ferry Reach", "Ada Quill", "2025-01-10", "24", "", "")
    [taken] = intake.take_in(
        work_day.catalogue, intake.plan_rows(work_day.catalogue, (row,), today=DAY)
    ).accepted
    tab, keeper, _ = bench
    keeper.scans(taken.lot)
    shows(qtbot, tab, taken.lot)
    assert keeper.sees("! count five spoons, never tested")
    assert keeper.sees("POISONOUS")
    keeper.types("Spoon", "small brass")
    keeper.types("Seeds in five", "400")
    keeper.presses("Keep spoon")
    keeper.waits_to_see("2 spoons")
    assert rows_of(work_day)[taken.lot].spoon.seeds_in_five == 400


def test_lots_are_found_and_added_from_a_search(qtbot, bench, lots):
    """With none chosen, all that are shown go on the list."""
    tab, keeper, _ = bench
    keeper.presses("Add lots…")
    keeper.waits_to_see("5 lots.")
    keeper.types("Find", "ferry reach")
    keeper.waits_to_see("2 lots.")
    keeper.types("Packets of each", "4")
    keeper.presses("Add 2 lots")
    qtbot.waitUntil(lambda: len(tab.table.rows()) == 2, timeout=5000)
    assert {row.number for row in tab.table.rows()} == {lots["Grey Ferryman"], lots["Bannerman's Dwarf"]}
    assert {row.packets for row in tab.table.rows()} == {4}


def test_figures_go_out_to_a_spreadsheet_and_come_back(qtbot, bench, work_day, lots):
    """Copied rows are pasted with changed figures, and a lot that was not on the list comes on it."""
    tab, keeper, said = bench
    keeper.scans(lots["Grey Ferryman"])
    shows(qtbot, tab, lots["Grey Ferryman"])
    turns_to_the_table(qtbot, tab)
    keeper.keys("Ctrl+C")
    copied = QGuiApplication.clipboard().text()
    assert copied.splitlines()[0].startswith("Lot\tCrop and variety\tSeeds each\tPackets")
    QGuiApplication.clipboard().setText(
        copied.replace("\t50\t10\t", "\t25\t8\t") + f"\n{lots['Candlewick']}\t\t\t3"
    )
    keeper.keys("Ctrl+V")
    shows(qtbot, tab, lots["Grey Ferryman"], lots["Candlewick"])
    rows = rows_of(work_day)
    assert (rows[lots["Grey Ferryman"]].seeds_per_packet, rows[lots["Grey Ferryman"]].packets) == (25, 8)
    assert rows[lots["Candlewick"]].packets == 3
    assert ("good", "Figures of 2 lots pasted, 1 lot of them new.") in said
    QGuiApplication.clipboard().setText("12\t7")
    tab.table.go_to(lots["Grey Ferryman"])
    keeper.keys("Left", "Ctrl+V")
    qtbot.waitUntil(lambda: rows_of(work_day)[lots["Grey Ferryman"]].packets == 7)


def test_lots_come_off_the_list_and_germinating_seeds_are_chosen_by_key(qtbot, bench, work_day, lots):
    """Delete and G; without a test the row says why it is not packed."""
    tab, keeper, said = bench
    for name in ("Grey Ferryman", "Candlewick"):
        keeper.scans(lots[name])
    shows(qtbot, tab, lots["Grey Ferryman"], lots["Candlewick"])
    turns_to_the_table(qtbot, tab)
    keeper.keys("Delete")
    shows(qtbot, tab, lots["Grey Ferryman"])
    assert said[-1] == ("good", "1 lot taken off the list. Ctrl+Z brings them back.")
    tab.table.selectRow(0)
    keeper.keys("G")
    keeper.waits_to_see("50 germ.")
    keeper.waits_to_see("has no germination result")
    assert rows_of(work_day)[lots["Grey Ferryman"]].by_germination


def test_another_list_is_begun_and_the_filling_list_is_kept(qtbot, bench, work_day, lots, tmp_path):
    """Two lists in one catalogue; the paper to fill by holds the rows of the one in front."""
    tab, keeper, said = bench
    keeper.presses("New list…")
    keeper.waits_to_see("Swap day")
    tab.focus_first()
    keeper.scans(lots["Candlewick"])
    shows(qtbot, tab, lots["Candlewick"])
    keeper.presses("Print the filling list…")
    assert (tmp_path / "to fill.pdf").read_bytes().startswith(b"%PDF")
    assert said[-1][0] == "good"
    assert [each.name for each in season.season_lists(work_day.catalogue)] == ["Swap day"]


def test_the_model_of_the_list_behaves_as_qt_wants(qtmodeltester, bench, work_day, lots, qtbot):
    """Rows, ticks and flags."""
    tab, keeper, _ = bench
    keeper.scans(lots["Candlewick"])
    shows(qtbot, tab, lots["Candlewick"])
    qtmodeltester.check(tab.table.season)
    first = tab.table.season.index(0, 0)
    assert tab.table.season.data(first, Qt.ItemDataRole.CheckStateRole) == Qt.CheckState.Checked
    assert tab.table.season.setData(first, Qt.CheckState.Unchecked.value, Qt.ItemDataRole.CheckStateRole)
    assert tab.table.ticked() == ()


@pytest.mark.parametrize(
    ("text", "figures"),
    [
        ("LEK-25-001-S\t12", [WantedFigures("LEK-25-001-S", None, 12)]),
        ("lek25001s\t40\t1,200", [WantedFigures("lek25001s", 40, 1200)]),
        ("Lot\tPackets\nLEK-25-001-S\t3\n", [WantedFigures("LEK-25-001-S", None, 3)]),
        ("Packets\tLot\n\tLEK-25-001-S", [WantedFigures("LEK-25-001-S", None, None)]),
    ],
)
def test_pasted_lines_speak_for_their_lots(text, figures):
    """With headings or without, one figure is packets, two are seeds and packets."""
    assert list(understood(text, (), -1, -1)) == figures


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "nothing to paste"),
        ("LEK-25-001-S\t1\t2\t3", "comes with 3 figures"),
        ("Lot\tPackets\nLEK-25-001-S\tmany", "“many” is no whole number"),
        ("12", "Put the cursor into"),
    ],
)
def test_what_cannot_be_meant_is_refused(text, words):
    """One clear message; nothing is pasted."""
    with pytest.raises(BadInput, match=words):
        understood(text, (), -1, -1)
