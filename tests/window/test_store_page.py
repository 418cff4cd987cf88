"""The Store, as a keeper uses it: places, moves by mouse and menu, the map, readings, failures, a stocktake."""

import pytest
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt
from PySide6.QtGui import QDropEvent
from PySide6.QtWidgets import QAbstractButton, QApplication, QComboBox

from hilum.benches import lots as lots_bench
from hilum.benches import stocktake, store, store_failures, store_readings
from hilum.window.store_lots import lots_dragged
from hilum.window.store_page import StorePage
from hilum.window.store_tree import PLACE_MIME
from tests.support.answers import Answers
from tests.support.keeper import Keeper
from tests.support.photos import Shot, photograph, sheet

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def places(work_day, lots):
    """A cool room with two boxes, a freezer beside it; three lots in box 1."""
    ids = {}
    for name, kind, parent, cold in (
        ("Cool room", "room", None, 9), ("Box 1", "box", "Cool room", None), ("Box 2", "box", "Cool room", None),
        ("Freezer", "freezer", None, -18),
    ):  # fmt: skip
        ids[name] = store.add_store_place(
            work_day.catalogue, name=name, kind=kind, parent_id=ids.get(parent), temperature_c=cold
        ).id
    for name in ("Grey Ferryman", "Candlewick", "Lantern Street"):
        store.move_lot(work_day.catalogue, lots[name], ids["Box 1"], on=work_day.today(), container="jar")
    return ids


@pytest.fixture
def answers():
    return Answers()


@pytest.fixture
def page(qtbot, work_day, places, answers):
    page = StorePage(work_day, answers)
    work_day.changes.catalogue_changed.connect(lambda _what: page.refresh())
    page.resize(1000, 640)
    page.refresh()
    return page


@pytest.fixture
def keeper(qtbot, page):
    return Keeper(qtbot, page)


def where(work_day, number):
    stays = [stay for stay in lots_bench.lot_story(work_day.catalogue, number).stays if stay.until_on is None]
    return stays[-1].path if stays else None


def drop(widget, carried: QMimeData, at: QPoint) -> None:
    event = QDropEvent(QPointF(at), Qt.DropAction.MoveAction, carried, LEFT, Qt.KeyboardModifier.NoModifier)
    widget.dropEvent(event)


def goes_to(qtbot, page, name):
    [item] = page.tree.findItems(name, Qt.MatchFlag.MatchRecursive | Qt.MatchFlag.MatchExactly)
    page.tree.scrollToItem(item)
    qtbot.mouseClick(page.tree.viewport(), LEFT, pos=page.tree.visualItemRect(item).center())


def opens(qtbot, page, title):
    bar = page.tabs.tabBar()
    [place] = [n for n in range(bar.count()) if bar.tabText(n) == title]
    qtbot.mouseClick(bar, LEFT, pos=bar.tabRect(place).center())


def of_place(page, words):
    [action] = [each for each in page.this_place.menu().actions() if each.text().replace("&", "") == words]
    assert action.isEnabled(), words
    action.trigger()


def test_the_tree_tells_what_lies_where_and_how_cold(qtbot, keeper, page, places, lots):
    """Counts of all within, the temperature taken from around, and the lots of the chosen place."""
    assert [page.tree.topLevelItem(n).text(1) for n in range(2)] == ["3", "0"]
    goes_to(qtbot, page, "Box 1")
    assert keeper.sees("Cool room / Box 1")
    assert keeper.sees("box, 9 °C; 3 lots in it")
    assert {row.number for row in page.lots.rows()} == {
        lots["Grey Ferryman"], lots["Candlewick"], lots["Lantern Street"],
    }  # fmt: skip
    goes_to(qtbot, page, "Freezer")
    assert page.lots.rows() == ()


def test_places_are_made_changed_moved_divided_and_closed(qtbot, keeper, page, work_day, places):
    """From the menu of the place under the cursor; a place with lots is not closed, and an empty one comes back."""
    goes_to(qtbot, page, "Cool room")
    keeper.presses("Add a place…")
    keeper.types("Name", "Shelf A")
    keeper.chooses("Kind", "shelf")
    keeper.presses("Make it")
    goes_to(qtbot, page, "Box 1")
    of_place(page, "Change it…")
    keeper.types("Temperature", "4,5")
    keeper.presses("Keep")
    line = next(each for each in store.store_places(work_day.catalogue) if each.name == "Box 1")
    assert line.temperature_c == 4.5
    [past] = store.place_history(work_day.catalogue, places["Box 1"])
    assert past.until_on == work_day.today()
    of_place(page, "Move it with all in it…")
    keeper.chooses("Into", "Cool room / Shelf A")
    keeper.presses("Move")
    assert keeper.sees("Cool room / Shelf A / Box 1")
    of_place(page, "Divide it into slots…")
    keeper.presses("Divide")
    assert sum(each.kind == "slot" for each in store.store_places(work_day.catalogue)) == 24
    heard = []
    work_day.trouble.connect(heard.append)
    of_place(page, "Close it…")
    assert "3 lots lie in" in heard[0]
    goes_to(qtbot, page, "Box 2")
    of_place(page, "Close it…")
    assert "Cool room / Box 2" not in {each.path for each in store.store_places(work_day.catalogue)}
    keeper.presses("Show closed places")
    goes_to(qtbot, page, "Box 2 (closed)")
    of_place(page, "Use it again")
    assert "Cool room / Box 2" in {each.path for each in store.store_places(work_day.catalogue)}


def test_lots_and_boxes_are_dropped_onto_places(keeper, page, work_day, places, lots):
    """A lot goes alone, a box with all in it; what is not dry is refused by the freezer and stays."""
    heard = []
    work_day.trouble.connect(heard.append)
    tree = page.tree

    def middle(place_id):
        return tree.visualItemRect(tree._items()[place_id]).center()

    number = lots["Candlewick"]
    drop(tree, lots_dragged([number]), middle(places["Box 2"]))
    assert where(work_day, number) == "Cool room / Box 2"
    drop(tree, lots_dragged([number]), middle(places["Freezer"]))
    assert "does not go into a place at -18 °C" in heard[0]
    assert where(work_day, number) == "Cool room / Box 2"
    carried = QMimeData()
    carried.setData(PLACE_MIME, str(places["Box 1"]).encode())
    drop(tree, carried, middle(places["Box 2"]))
    assert where(work_day, lots["Lantern Street"]) == "Cool room / Box 2 / Box 1"


def test_chosen_lots_are_moved_elsewhere(qtbot, keeper, page, work_day, places, lots):
    """Those chosen in the list stand in the dialog already."""
    goes_to(qtbot, page, "Box 1")
    page.lots.choose(lambda row: row.number == lots["Candlewick"])
    keeper.presses("Move the chosen elsewhere…")
    keeper.chooses("Place", "Cool room / Box 2")
    keeper.presses("Move")
    assert where(work_day, lots["Candlewick"]) == "Cool room / Box 2"
    assert len(page.lots.rows()) == 2


def test_the_map_shows_slots_ages_and_takes_drops(qtbot, keeper, page, work_day, places, lots):
    """Chosen by click and arrows, opened by Enter; a lot is dropped into another slot."""
    made = store.add_slots(work_day.catalogue, places["Box 2"], 2, 3)
    for name, slot in (("Candlewick", made[0]), ("Lantern Street", made[4])):
        store.move_lot(work_day.catalogue, lots[name], slot.id, on=work_day.today())
    page.refresh()
    page.tree.choose(places["Box 2"])
    opens(qtbot, page, "Map")
    view = page.map
    cells = {cell.place.name: cell for cell in view._map.cells}
    assert (view._map.rows, view._map.columns, len(cells)) == (2, 3, 6)
    assert cells["A1"].age_years(work_day.today()) == 1
    qtbot.mouseClick(view, LEFT, pos=view.box(cells["A2"]).center())
    assert view.accessibleDescription() == "A2: empty"
    qtbot.keyClick(view, Qt.Key.Key_Down)
    assert lots["Lantern Street"] in view.accessibleDescription()
    assert "3 years old" in view.accessibleDescription()
    with qtbot.waitSignal(page.lot_wanted) as wanted:
        qtbot.keyClick(view, Qt.Key.Key_Return)
    assert wanted.args == [lots["Lantern Street"]]
    drop(view, lots_dragged([lots["Candlewick"]]), view.box(cells["B3"]).center())
    assert where(work_day, lots["Candlewick"]) == "Cool room / Box 2 / B3"


def test_readings_are_noted_and_taken_from_a_file(qtbot, keeper, page, work_day, places, answers, tmp_path):
    """What the file was taken for is shown first; it is drawn afterwards; a reading is typed."""
    file = tmp_path / "logger.csv"
    file.write_text("Time;Temp\n01/02/2026 08:00;8,5\n02/02/2026 08:00;9,5\n", "utf-8")
    answers.files.append(file)
    goes_to(qtbot, page, "Cool room")
    opens(qtbot, page, "Air")
    assert keeper.sees("No readings have been taken here yet.")
    keeper.presses("Take in a logger's file…")
    qtbot.waitUntil(lambda: QApplication.activeModalWidget() is not None)
    keeper.chooses("Order of dates", "day first")
    keeper.chooses("Unit", "°C")
    assert keeper.sees("2 rows, 2 days, 2026-02-01 to 2026-02-02")
    keeper.presses("Take them in")
    days = store_readings.place_readings(work_day.catalogue, places["Cool room"])
    assert [each.temperature_c for each in days] == [9.5, 8.5]
    assert page.air._warm.isVisible()
    keeper.presses("Note a reading…")
    keeper.types("Humidity", "55 %")
    keeper.presses("Note it")
    assert len(store_readings.place_readings(work_day.catalogue, places["Cool room"])) == 3


def test_a_failure_is_noted_with_its_cautions(qtbot, keeper, page, work_day, places, lots):
    """It says how many lots it befell before it is written, and stands in the list of the place afterwards."""
    goes_to(qtbot, page, "Cool room")
    opens(qtbot, page, "Air")
    keeper.presses("Something went wrong…")
    assert keeper.sees("Leave the jars closed until they are as warm as the room")
    assert keeper.sees("3 lots lay there")
    keeper.types("How warm", "31")
    keeper.types("Note", "the plug was out")
    keeper.presses("Note it")
    [line] = store_failures.failures_so_far(work_day.catalogue)
    assert (line.temperature_c, len(line.lots)) == (31.0, 3)
    assert [row.note for row in page.air._failures.rows()] == ["the plug was out"]


def test_a_stocktake_by_scan_scale_and_photo(qtbot, keeper, page, work_day, places, lots, answers, tmp_path):
    """Begun, scanned, weighed, photographed; proposals are accepted one by one, written, and taken back as one."""
    goes_to(qtbot, page, "Box 1")
    opens(qtbot, page, "Stocktake")
    keeper.presses("Begin to count")
    keeper.types("Lot", lots["Candlewick"][:-1] + "!")
    keeper.presses("Note it")
    assert keeper.sees("is not a lot number")
    keeper.types("With container", "204")
    keeper.types("Empty", "200")
    field = keeper.field("Lot")
    field.selectAll()
    qtbot.keyClicks(field, lots["Candlewick"])
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert keeper.sees("seen.")
    picture, _ = photograph(sheet([lots["Grey Ferryman"], lots["Long Wharf"]]), Shot(4), tmp_path / "box.jpg")
    answers.files.append(picture)
    keeper.presses("Photo…")
    keeper.waits_to_see("box.jpg: 2 lots seen for the first time.", 20_000)
    kinds = [finding.kind for finding in page.count.findings._findings]
    assert kinds == ["missing", "elsewhere", "differs"]
    keeper.presses("Settle all as proposed")
    keeper.presses("Write the corrections")
    assert lots_bench.lot_view(work_day.catalogue, lots["Candlewick"]).line.stock == 4_000
    assert where(work_day, lots["Long Wharf"]) == "Cool room / Box 1"
    assert where(work_day, lots["Lantern Street"]) is None
    assert stocktake.stocktakes_open(work_day.catalogue) == ()
    lots_bench.take_back(work_day.catalogue, lots_bench.recent_jobs(work_day.catalogue, limit=1)[0].id)
    page.refresh()
    assert keeper.sees("2 of 3 lots of the book seen")
    box = page.count.findings.cellWidget(0, 1)
    assert isinstance(box, QComboBox)
    keeper.presses("Drop the count")
    assert lots_bench.lot_view(work_day.catalogue, lots["Candlewick"]).line.stock == 6_500
    assert keeper.can_press("Begin to count")


def test_an_empty_store_says_where_to_begin(qtbot, work_day):
    """No place yet: the words tell what to make first, and only that can be pressed."""
    page = StorePage(work_day, Answers())
    keeper = Keeper(qtbot, page)
    page.refresh()
    assert keeper.sees("No store place has been made yet.")
    enabled = [b.text() for b in page.findChildren(QAbstractButton) if b.isVisible() and b.isEnabled()]
    assert [text.replace("&", "") for text in enabled if text] == ["Show closed places", "Add a place…"]
