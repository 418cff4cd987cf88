"""The regrowing bench, as a keeper uses it: why, plan, sow, select, harvest."""

from datetime import date

import pytest
from PySide6.QtWidgets import QApplication

from hilum.benches import regrowing as bench
from hilum.benches import testing
from hilum.benches.lots import lot_story
from hilum.window.day_sheet_page import DaySheetPage
from hilum.window.regrowing_page import RegrowingPage
from tests.support.answers import Answers
from tests.support.keeper import Keeper

DAY = date(2026, 11, 25)


@pytest.fixture
def page(qtbot, work_day, tmp_path):
    """Give the page, the keeper at it, and what it said."""
    page = RegrowingPage(work_day, Answers(texts=("slugs ate all",), files=(tmp_path / "plan.pdf",)))
    page.resize(1180, 820)
    said = []
    page.said.connect(lambda kind, words: said.append((kind, words)))
    keeper = Keeper(qtbot, page)
    page.refresh()
    return page, keeper, said


def test_a_lot_below_its_standard_comes_with_reasons_and_sums_and_is_planned(qtbot, page, work_day, lots):
    """The reasons and what it takes are read before the plan is made; the plan stands in the catalogue."""
    _, keeper, said = page
    number = lots["Candlewick"]
    testing.record_test(
        work_day.catalogue, number, on=DAY, seeds=(50, 50), counts={"normal": (30, 31), "dead": (20, 19)}
    )
    page[0].refresh()
    keeper.waits_to_see("• Germination is 61 %, below the standard of 80 %.")
    assert keeper.sees("50 plants are recommended")
    assert keeper.sees("Keep 4 to 46 m from others")
    keeper.presses("Plan to regrow…")
    keeper.types("Plants", "20")
    keeper.types("Garden", "Long Field")
    keeper.types("Bed", "3")
    assert keeper.sees("in 95 of 100 sowings")
    keeper.presses("Plan it")
    [row] = bench.regrowings(work_day.catalogue).rows
    assert (row.number, row.line.year, row.line.plants, row.where) == (number, 2027, 20, "Long Field, 3")
    assert row.line.why == "below standard"
    assert said[-1][0] == "good"
    assert f"{number} is planned for 2027 in Long Field, 3: 20 plants" in said[-1][1]


def test_any_lot_is_planned_by_scan_and_a_mistyped_one_is_refused(qtbot, page, work_day, lots):
    """The nearest number is named."""
    tabs, keeper, said = page
    tabs.need.line.setFocus()
    number = lots["Grey Ferryman"]
    keeper.scans(number[:-1] + ("2" if number[-1] != "2" else "3"))
    assert number in said[-1][1]
    keeper.scans(number)
    keeper.waits_to_see("Regrow Leek “Grey Ferryman”, 2024")
    keeper.presses("Plan it")
    assert [row.number for row in bench.regrowings(work_day.catalogue).rows] == [number]


def test_a_crossing_is_said_while_it_is_planned_and_above_the_plan(qtbot, page, work_day, lots):
    """Two leeks in one garden; a third in another is no matter."""
    from hilum.benches import intake

    tabs, keeper, _ = page
    row = ("Leek", "Ferry Pole", "2025", "30 g", "Ferry Reach", "", "2025-10-10", "24", "", "")
    plan = intake.plan_rows(work_day.catalogue, (row,), today=DAY)
    [other] = intake.take_in(work_day.catalogue, plan).accepted
    bench.plan_regrowing(work_day.catalogue, lots["Grey Ferryman"], year=2027, on=DAY, garden="Long Field")
    tabs.start_with((other.lot,))
    keeper.types("Garden", "Long Field")
    # Leaving the line closes its suggestions; offscreen they stay.
    QApplication.activePopupWidget().hide()
    keeper.waits_to_see("which crosses freely")
    keeper.presses("Plan it")
    tabs._tabs.setCurrentWidget(tabs.plan)
    keeper.waits_to_see("2 lots planned or growing")
    keeper.waits_to_see("in Long Field: Leek: one species (Allium ampeloprasum), which crosses freely.")


def test_sown_selected_and_harvested_by_typing(qtbot, page, work_day, lots):
    """Seed is drawn, plants are counted, and the harvest is a lot that remembers."""
    tabs, keeper, said = page
    number = lots["Grey Ferryman"]
    bench.plan_regrowing(
        work_day.catalogue, number, year=2026, on=DAY, garden="Long Field", isolation="cage", plants=40
    )
    before = lot_story(work_day.catalogue, number).lot.line.stock
    tabs.start_with((number,))
    keeper.waits_to_see("planned")
    keeper.presses("Sow…")
    keeper.types("or weighed", "0.6")
    keeper.presses("Sow it")
    keeper.waits_to_see("sown 2026-11-25")
    assert before - lot_story(work_day.catalogue, number).lot.line.stock == 600
    keeper.presses("Select…")
    keeper.types("Plants kept", "36")
    keeper.types("Notes", "four with red stems taken out")
    keeper.presses("Keep")
    keeper.waits_to_see("36 plants kept")
    keeper.presses("Harvest…")
    assert keeper.reads("Place grown") == "Long Field"
    assert keeper.reads("Plants") == "36"
    assert keeper.reads("Isolation") == "cage"
    keeper.types("Weight", "61.5")
    keeper.presses("Take it in")
    keeper.waits_to_see("0 lots planned or growing")
    [row] = bench.regrowings(work_day.catalogue, with_closed=True).rows
    new = lot_story(work_day.catalogue, row.new_lot)
    assert new.parents == (number,)
    assert (new.plants, new.isolation, new.lot.line.stock) == (36, "cage", 61_500)
    assert f"is lot {row.new_lot}; it remembers what it was grown from" in said[-1][1]
    keeper.presses("with those that are done")
    keeper.waits_to_see(f"harvested as {row.new_lot}")


def test_a_plan_is_changed_given_up_and_kept_on_paper(qtbot, page, work_day, lots, tmp_path):
    """Each by its button; what cannot be done next is greyed out."""
    tabs, keeper, _ = page
    number = lots["Candlewick"]
    bench.plan_regrowing(work_day.catalogue, number, year=2027, on=DAY)
    tabs.start_with((number,))
    keeper.waits_to_see("planned")
    assert not keeper.can_press("Harvest…")
    keeper.presses("Change…")
    keeper.types("Garden", "Orchard Strip")
    keeper.presses("Keep")
    keeper.waits_to_see("Orchard Strip")
    keeper.presses("Print the plan…")
    assert (tmp_path / "plan.pdf").read_bytes().startswith(b"%PDF")
    keeper.presses("Give up…")
    keeper.waits_to_see("0 lots planned or growing")
    [row] = bench.regrowings(work_day.catalogue, with_closed=True).rows
    assert (row.line.state, row.line.notes) == ("given up", "given up: slugs ate all")


def test_the_day_sheet_says_what_is_to_be_sown(qtbot, work_day, lots, answers):
    """Planned for this year; the button leads to the bench."""
    bench.plan_regrowing(work_day.catalogue, lots["Candlewick"], year=2026, on=DAY, garden="Long Field")
    sheet = DaySheetPage(work_day, answers)
    sheet.resize(1100, 900)
    keeper = Keeper(qtbot, sheet)
    wanted = []
    sheet.send_lots.connect(lambda title, numbers: wanted.append((title, numbers)))
    sheet.refresh()
    keeper.waits_to_see("To be sown for regrowing (1)")
    keeper.presses("Sow")
    assert wanted == [("Regrowing", (lots["Candlewick"],))]
