"""Counter: a keeper with a scanner at a swap; every look is at the screen and at the catalogue."""

from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication

from hilum.benches import counter, keeping, packing, people, returns
from hilum.benches.lots import change_lot, hold_lot, lot_story, lot_view
from hilum.window.counter_page import CounterPage
from hilum.window.lot_events import events_of
from hilum.window.shell import MainWindow
from hilum.window.work import WorkDay
from tests.support.answers import Answers
from tests.support.keeper import Keeper


def pack(work_day: WorkDay, number: str, packets: int = 6, seeds: int = 20) -> str:
    """Put some packets of a lot on the shelf."""
    with work_day.catalogue.job("pack") as job:
        lot_id = packing.resolve_lot(job.connection, number)
        packing.book_packets(job, lot_id, packets=packets, seeds=seeds, on=work_day.today())
    return number


@pytest.fixture
def leek(work_day: WorkDay, lots: dict[str, str]) -> str:
    """A leek with six packets on the shelf."""
    return pack(work_day, lots["Grey Ferryman"])


@pytest.fixture
def page(work_day: WorkDay, answers: Answers, leek: str) -> CounterPage:
    """The counter's page."""
    return CounterPage(work_day, answers)


@pytest.fixture
def keeper(qtbot, page: CounterPage) -> Keeper:
    """Somebody at the page, as the window shows it."""
    keeper = Keeper(qtbot, page)
    page.work.changes.catalogue_changed.connect(page.refresh)
    page.refresh()
    page.focus_first()
    return keeper


def left(work_day: WorkDay, number: str) -> int:
    return counter.packets_left(work_day.catalogue, number)


def test_scan_after_scan_goes_out_without_touching_anything_else(keeper, page, work_day, leek):
    """Two scans, two packets; the line keeps the cursor and the words say what is left."""
    keeper.scans(leek)
    keeper.scans(leek.replace("-", ""))
    assert left(work_day, leek) == 4
    assert keeper.sees("1 packet out: Leek “Grey Ferryman”, 2024. 4 left.")
    assert keeper.sees("2 packets of 1 lot")
    assert QApplication.focusWidget() is page.hand_out.scan


def test_several_packets_go_by_one_scan_and_the_number_falls_back_to_one(keeper, work_day, leek):
    """Three for this scan; the next scan is one again."""
    keeper.types("Packets, next scan", "3")
    keeper.types("Scan", "")
    page_scan(keeper, leek)
    assert left(work_day, leek) == 3
    page_scan(keeper, leek)
    assert left(work_day, leek) == 2


def page_scan(keeper: Keeper, code: str) -> None:
    keeper.field("Scan").setFocus()
    keeper.scans(code)


def test_f9_takes_the_last_scan_back(keeper, work_day, leek):
    """The packet is on the shelf again, and the line is marked."""
    keeper.scans(leek)
    keeper.keys("F9")
    assert left(work_day, leek) == 6
    assert keeper.sees("Taken back: 1 packet of Leek")
    assert keeper.sees("taken back")
    assert not keeper.can_press("Take back the last scan (F9)")


def test_a_wrong_code_is_told_and_the_next_scan_works(keeper, work_day, leek):
    """A code that is no lot changes nothing."""
    keeper.scans("LEK-99-001-A")
    assert keeper.sees("Not handed out. LEK-99-001-A is not a lot number")
    keeper.scans(leek)
    assert left(work_day, leek) == 5


def test_a_hold_bars_the_packet(keeper, work_day, leek):
    """What is held stays on the shelf, with the reason."""
    hold_lot(work_day.catalogue, leek, "insects", on=work_day.today())
    keeper.scans(leek)
    assert keeper.sees("is on hold since 2026-11-25: insects")
    assert left(work_day, leek) == 6


def test_the_last_packets_wait_for_a_reason_while_scanning_goes_on(keeper, page, work_day, leek, lots):
    """The question stays open; another scan is done meanwhile; the reason then lets them go."""
    bean = pack(work_day, lots["Bannerman's Dwarf"], 3, 5)
    page.hand_out.packets.setValue(6)
    page_scan(keeper, leek)
    assert keeper.sees("These are the last packets of lot")
    page_scan(keeper, bean)
    assert (left(work_day, leek), left(work_day, bean)) == (6, 2)
    keeper.types("Reason, " + leek, "asked for by the sister library")
    keeper.presses("Hand out nevertheless")
    assert left(work_day, leek) == 0
    assert counter.out_today(work_day.catalogue, on=work_day.today())[0].line.why.startswith("asked for")


def test_the_event_and_who_are_kept_with_the_scan(keeper, work_day, leek):
    """A named event is a swap day of this year unless said otherwise."""
    keeper.types("Event", "Mill Lane swap")
    keeper.types("Given to", "Wren Hollis")
    page_scan(keeper, leek)
    [out] = counter.out_today(work_day.catalogue, on=work_day.today())
    assert (out.line.event, out.line.event_kind, out.line.season, out.to) == (
        "Mill Lane swap", "swap day", 2026, "Wren Hollis",
    )  # fmt: skip


def test_what_went_out_is_written_as_csv(keeper, page, work_day, answers, leek, tmp_path: Path):
    """The table of the season, in a file."""
    keeper.scans(leek)
    page.tabs.setCurrentIndex(2)
    keeper.waits_to_see("1 packet of 1 variety")
    answers.files.append(tmp_path / "out.csv")
    keeper.presses("Write as CSV…")
    assert "Grey Ferryman" in (tmp_path / "out.csv").read_text(encoding="utf-8-sig")


def test_counts_are_taken_and_bad_rows_stay(keeper, page, work_day, leek):
    """A pasted list: the good row is taken once, the bad one stays with its reason."""
    page.tabs.setCurrentIndex(3)
    keeper.types("Event", "Away day")
    table = page.tab().table
    table.setCurrentCell(0, 0)
    QApplication.clipboard().setText(f"{leek}\t2\nLEK-99-001-A\t1")
    table.setFocus()
    keeper.keys("Ctrl+V")
    keeper.presses("Take the counts")
    assert left(work_day, leek) == 4
    assert table.item(0, 2).text() == f"taken: 2 of {leek}"
    assert table.rows()[1] == ("LEK-99-001-A", "1")
    assert table.item(1, 2).text().startswith("not taken: LEK-99-001-A is not a lot number")


def test_a_promise_is_noted_and_comes_back_as_a_lot(keeper, page, work_day, leek):
    """Noted, chosen, taken in: the new lot has its parent and nothing is waited for."""
    page.tabs.setCurrentIndex(1)
    keeper.types("Lot", leek)
    keeper.types("From", "Wren Hollis")
    keeper.presses("Note a promise")
    [promise] = returns.promised_returns(work_day.catalogue)
    assert promise.who == "Wren Hollis"
    page.returns.table.choose(lambda row: row.id == promise.id)
    keeper.types("Weight or seeds", "9 g")
    keeper.presses("Take in what came back")
    assert returns.promised_returns(work_day.catalogue) == ()
    [child] = lot_story(work_day.catalogue, leek).children
    assert lot_story(work_day.catalogue, child).lot.line.stock == 9_000


def test_a_recall_shows_what_is_out_and_what_is_here(keeper, page, leek):
    """One packet out, five on the shelf."""
    keeper.scans(leek)
    page.start_with((leek,))
    assert keeper.sees("1 packet out, 5 on the shelf")


def test_a_name_is_erased_after_asking(keeper, page, work_day, leek):
    """The chosen person's name goes; the hand-out stays in the ledger."""
    counter.hand_out(work_day.catalogue, leek, on=work_day.today(), to="Wren Hollis")
    page.tabs.setCurrentIndex(5)
    page.tab().table.choose(lambda row: row.name == "Wren Hollis")
    keeper.presses("Erase the chosen names…")
    names = [each.name for each in people.people_kept(work_day.catalogue, on=work_day.today()).people]
    assert "Wren Hollis" not in names
    assert left(work_day, leek) == 5
    assert keeping.check(work_day.catalogue).ok


def test_the_visitors_view_hides_people_in_the_whole_window(qtbot, work_day, answers, leek):
    """After one press no page shows a name that was there before, nor does the status line."""
    counter.hand_out(work_day.catalogue, leek, on=work_day.today(), to="Wren Hollis")
    window = MainWindow(answers)
    keeper = Keeper(qtbot, window)
    window.take_up(work_day)
    window.status.show_place("here", "")
    window.status.show_person("Ines Marlow")
    window.show_bench("Counter")
    assert keeper.sees("Wren Hollis")
    assert keeper.sees("Ines Marlow")
    keeper.presses("Visitors' view")
    assert not keeper.sees("Wren Hollis")
    assert not keeper.sees("Ines Marlow")
    window.open_lot(leek)
    assert not keeper.sees("Ada Quill")
    window.show_bench("Counter")
    keeper.presses("Visitors' view")
    assert keeper.sees("Wren Hollis")
    change_lot(work_day.catalogue, leek, {"grower": "Ada Quill"})
    window.let_go()


def test_hand_outs_stand_on_the_lots_life_line(work_day, leek):
    """One event a day and occasion, without what was taken back."""
    occasion = counter.Occasion("Mill Lane swap", "swap day")
    for _ in range(3):
        given = counter.hand_out(work_day.catalogue, leek, on=work_day.today(), occasion=occasion)
    counter.take_back(work_day.catalogue, given.lines, on=work_day.today())
    events = events_of(lot_story(work_day.catalogue, leek))
    assert [event.words for event in events if event.what == "Handed out"] == ["2 packets, Mill Lane swap"]


def test_loose_seed_goes_with_the_next_scan_and_comes_back(keeper, page, leek):
    """Typed beside the scan line, it draws on the lot once; the next scan is a packet again; F9 brings it back."""
    tab = page.hand_out
    before = lot_view(page.work.catalogue, leek).line.stock
    keeper.types("or loose seed", "0,5")
    tab.focus_first()
    keeper.scans(leek)
    assert lot_view(page.work.catalogue, leek).line.stock == before - 500
    assert keeper.sees("0.5 g loose out")
    assert tab.loose.text() == ""
    keeper.keys("F9")
    assert lot_view(page.work.catalogue, leek).line.stock == before
    assert keeper.sees("In the lot's stock again.")
    keeper.types("or loose seed", "a pinch")
    tab.focus_first()
    keeper.scans(leek)
    assert keeper.sees("is no weight")
    assert lot_view(page.work.catalogue, leek).line.stock == before
