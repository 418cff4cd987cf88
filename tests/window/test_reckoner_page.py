"""The Reckoner, as a keeper uses it: a plain question, a lot at hand, an answer while one types."""

from datetime import date

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QApplication

from hilum.benches import preparing, store, testing
from hilum.benches.lots import lot_story
from hilum.window.rail import bench_key
from hilum.window.reckoner_page import ReckonerPage
from hilum.window.shell import MainWindow
from tests.support.answers import Answers
from tests.support.keeper import Keeper

DAY = date(2026, 11, 25)


@pytest.fixture
def bench(qtbot, work_day):
    """Give the page, the keeper at it, and what it said."""
    page = ReckonerPage(work_day, Answers())
    page.resize(1100, 900)
    said = []
    page.said.connect(lambda kind, words: said.append((kind, words)))
    return page, Keeper(qtbot, page), said


@pytest.fixture
def lettuce(work_day, lots):
    """Give the number of a lettuce of which everything is known: tested, dried, and lying in a cold room."""
    number = lots["Candlewick"]
    counts = {"normal": (44, 46), "abnormal": (2, 1), "dead": (4, 3)}
    testing.record_test(work_day.catalogue, number, on=date(2026, 10, 1), seeds=(50, 50), counts=counts)
    preparing.dry(work_day.catalogue, number, on=DAY, evidence="moisture reading", value=6.0)
    place = store.add_store_place(work_day.catalogue, name="Cool room", kind="room", temperature_c=8.0)
    store.move_lot(work_day.catalogue, number, place.id, on=DAY)
    return number


def test_the_first_thing_on_the_page_is_a_question(bench):
    """Questions stand in groups; the one asked says what it still needs, constants are folded away."""
    _, keeper, _ = bench
    assert keeper.sees("Is this difference real?")
    keeper.waits_to_see("Still needed: Alive at the start; Alive at the end; Moisture of the seed;")
    assert not keeper.sees("Own constants")
    keeper.presses("More…")
    assert keeper.sees("Own constants")


def test_a_scanned_lot_fills_the_question_and_the_answer_comes_by_itself(bench, lettuce):
    """Crop, germination, seeds tested, moisture and temperature come from the lot and are shown as such."""
    _, keeper, _ = bench
    keeper.field("Lot").setFocus()
    keeper.scans(lettuce)
    assert keeper.sees("Lettuce “Candlewick”, 2025")
    assert keeper.reads("Crop") == "Lettuce"
    assert keeper.reads("Alive at the start") == "90"
    assert keeper.reads("Seeds tested") == "100"
    assert keeper.reads("Moisture of the seed") == "6"
    assert keeper.reads("Store temperature") == "8"
    assert keeper.sees("From the lot: its test of 2026-10-01")
    assert keeper.sees("From the lot: it lies in Cool room")
    # The standard of lettuce is 80 %: the sum answers until when the lot is down to it.
    assert keeper.reads("Alive at the end") == "80"
    keeper.waits_to_see("80 % are alive after")
    assert keeper.sees("Source: Ellis ")
    assert keeper.sees("Open the lot with its forecast")


def test_what_is_typed_by_hand_is_no_longer_the_lots_and_stays(bench, work_day, lettuce):
    """Another moisture gives another answer; reading the catalogue again does not undo it."""
    page, keeper, _ = bench
    page.start_with((lettuce,))
    keeper.waits_to_see("80 % are alive after")
    before = page.answer.result.text()
    keeper.types("Moisture of the seed", "4,5")
    keeper._bot.waitUntil(lambda: page.answer.result.text() != before)
    assert not keeper.sees("its moisture as written")
    page.refresh()
    assert keeper.reads("Moisture of the seed") == "4,5"


def test_a_figure_out_of_range_is_refused_under_its_field_with_the_range(bench):
    """No answer stands beside a field that cannot be."""
    _, keeper, _ = bench
    keeper.picks("How dry does it get in this air?")
    keeper.types("Air humidity", "140")
    assert keeper.sees("✕ 140 is out of range. Give a figure: 0 or more and less than 100 %.")
    keeper.waits_to_see("The answer comes when the field marked ✕ is put right.")
    keeper.types("Air humidity", "30")
    keeper.types("Air temperature", "20")
    keeper.types("Oil of the dry seed", "20")
    keeper.waits_to_see("this seed comes to 7.0 % of fresh weight")


def test_an_answer_that_cannot_be_is_said_in_words_of_the_page(bench):
    """The sum's own refusal speaks of fields, not of keys of the command line."""
    _, keeper, _ = bench
    keeper.types("Crop", "Lettuce")
    keeper._bot.keyClick(QApplication.activePopupWidget(), Qt.Key.Key_Escape)
    for label, text in (
        ("Alive at the start", "60"), ("Alive at the end", "80"),
        ("Moisture of the seed", "6"), ("Store temperature", "8"),
    ):  # fmt: skip
        keeper.types(label, text)
    keeper.waits_to_see("Alive at the end 80 is not below alive at the start 60")


def test_a_crop_without_constants_says_so_and_what_is_usual(bench, lots):
    """Leek has no published set: the page says how long it usually keeps."""
    page, keeper, _ = bench
    page.start_with((lots["Grey Ferryman"],))
    for label, text in (
        ("Alive at the start", "90"), ("Alive at the end", "60"), ("Moisture of the seed", "6"),
        ("Store temperature", "8"),
    ):  # fmt: skip
        keeper.types(label, text)
    keeper.waits_to_see("No constants of longevity are published for Leek")


def test_the_dishes_of_the_newest_test_are_held_against_each_other(bench, lettuce):
    """44 and 46 of 50 agree; the picture's figures also stand in a table."""
    page, keeper, _ = bench
    page.start_with((lettuce,))
    keeper.picks("Do the dishes agree?")
    assert keeper.reads("Normal in each dish") == "44, 46"
    keeper.waits_to_see("They agree")
    assert page.answer.picture.accessibleDescription() == "dish 1 88 %; dish 2 92 %"
    keeper.presses("As a table")
    keeper.waits_to_see("92 %")
    assert not page.answer.picture.isVisible()
    keeper.presses("As a picture")
    assert page.answer.picture.isVisible()


def test_the_newest_test_of_the_lot_is_read_with_all_its_classes(bench, lettuce):
    """What was counted beside normal seedlings is folded away, but counts."""
    page, keeper, _ = bench
    page.start_with((lettuce,))
    keeper.picks("What does this test say?")
    keeper.waits_to_see("90 % of 100 seeds germinated")
    keeper.waits_to_see("normal 90, abnormal 3, dead 7")
    keeper.presses("More…")
    assert keeper.reads("Dead in each dish") == "4, 3"


def test_how_fast_it_comes_up_is_drawn_by_day(bench):
    """12 + 25 + 6 of 50 by day 8; the mean is (4 x 12 + 6 x 25 + 8 x 6) / 43 = 5.72 days."""
    page, keeper, _ = bench
    keeper.picks("How fast does it come up?")
    for label, text in (
        ("Days of the counts", "4 6 8"),
        ("New at each count", "12 25 6"),
        ("Seeds sown", "50"),
    ):
        keeper.types(label, text)
    keeper.waits_to_see("5.72 days")
    assert page.answer.picture.accessibleDescription() == "day 0 0; day 4 24; day 6 74; day 8 86"


def test_drying_says_how_much_water_must_go(bench):
    """100 g at 14 % hold 86 g dry matter, which at 7 % weigh 92.47 g: 7.53 g of water go."""
    page, keeper, _ = bench
    keeper.picks("How much water must go?")
    for label, text in (("Moisture now", "14"), ("Moisture wanted", "7"), ("Weight now", "100")):
        keeper.types(label, text)
    keeper.waits_to_see("7.53 g of water")
    assert "at 7 % 92.47 g" in page.answer.picture.accessibleDescription()


def test_constants_of_ones_own_count_before_those_of_the_crop(bench):
    """Both typed: the page says which one counts."""
    page, keeper, _ = bench
    keeper.picks("How fast does seed age here?")
    keeper.presses("More…")
    for label, text in (
        ("Own constants", "8, 4, 0.03, 0.0005"), ("Moisture of the seed", "6"), ("Store temperature", "8"),
    ):  # fmt: skip
        keeper.types(label, text)
    keeper.waits_to_see("In this store a lot loses one deviate")
    page.form.fields["crop"].line.setText("Lettuce")
    page.form.fields["crop"].on_edited()
    assert keeper.sees("“Own constants” counts, not “Crop”.")
    assert "crop" not in page.form.typed()


def test_a_test_in_groups_says_to_go_on(bench):
    """71 of 80 against 85 % lie between the published limits of 64 and 76."""
    page, keeper, _ = bench
    keeper.picks("Test on, or stop?")
    keeper.types("Bar for this lot", "85")
    keeper.types("Sown so far", "40 80")
    assert keeper.sees("2 figures")
    keeper.types("Germinated so far", "35; 71")
    keeper.waits_to_see("Sow another group")
    assert (
        "of 80 seeds regrow at 64 or fewer, keep at 76 or more" in page.answer.picture.accessibleDescription()
    )


def test_a_difference_is_judged_from_two_tallies(bench):
    """A keeper may write “45 of 50”."""
    _, keeper, _ = bench
    keeper.picks("Is this difference real?")
    keeper.types("First test", "86 of 100")
    keeper.types("Second test", "70/100")
    keeper.waits_to_see("Real: −16.0 points")


def test_a_number_copied_wrong_is_found(bench, lots):
    """The lot's own number is right; with two digits exchanged it is not."""
    page, keeper, _ = bench
    page.start_with((lots["Grey Ferryman"],))
    keeper.picks("Is this number copied right?")
    keeper.waits_to_see("LEK-24-001-7 is copied right")
    keeper.types("Whole lot number", "LEK-42-001-7")
    keeper.waits_to_see("LEK-42-001-7 is not copied right")


def test_a_mistyped_lot_is_refused_and_nothing_of_the_one_before_stays(bench, lettuce):
    """What another lot had filled in must not be taken for the wanted one's."""
    page, keeper, said = bench
    page.start_with((lettuce,))
    assert keeper.reads("Crop") == "Lettuce"
    keeper.field("Lot").selectAll()
    keeper.field("Lot").setFocus()
    keeper.scans("LET-25-001-Q")
    assert said[-1][0] == "bad"
    assert keeper.reads("Crop") == ""


def test_without_a_lot_fields_keep_only_what_was_typed(bench, lettuce):
    """The button lets the lot go."""
    page, keeper, _ = bench
    page.start_with((lettuce,))
    keeper.types("Alive at the end", "50")
    keeper.presses("Without a lot")
    assert keeper.reads("Crop") == ""
    assert keeper.reads("Alive at the end") == "50"
    assert not keeper.sees("Open the lot with its forecast")


def test_a_weighing_is_written_into_the_lot_by_one_press(bench, work_day, lots):
    """The replicates themselves go into the lot's count; nothing is written before the press."""
    page, keeper, said = bench
    number = lots["Grey Ferryman"]
    page.start_with((number,))
    keeper.picks("What do 1000 seeds weigh?")
    keeper.types("Seeds weighed at once", "100")
    keeper.types("Weight of each", "0.26, 0.261, 0.259, 0.26")
    keeper.waits_to_see("2.600 g")
    assert lot_story(work_day.catalogue, number).steps == ()
    keeper.presses(f"Write into {number}")
    [step] = lot_story(work_day.catalogue, number).steps
    assert (step.kind, step.seeds, step.replicates_mg) == ("counted", 100, (260, 261, 259, 260))
    assert said[-1][0] == "good"
    assert said[-1][1].startswith(f"Written into {number}: A thousand seeds weigh 2.600 g")
    keeper.picks("How many seeds is that?")
    assert keeper.reads("Thousand-seed weight") == "2.6"
    assert keeper.sees("From the lot: counted and weighed")


def test_a_moisture_is_written_as_evidence_of_dryness(bench, work_day, lots):
    """Ctrl+Return does what the button does; the lot's moisture then fills the other questions."""
    page, keeper, said = bench
    number = lots["Candlewick"]
    page.start_with((number,))
    keeper.picks("How wet is this seed?")
    for label, text in (("Empty container", "10"), ("Before drying", "20"), ("After drying", "19.4")):
        keeper.types(label, text)
    keeper.waits_to_see("Moisture 6.0 % of fresh weight")
    page.carry.setFocus()
    keeper.keys("Ctrl+Return")
    [step] = lot_story(work_day.catalogue, number).steps
    assert (step.kind, step.evidence, step.evidence_value) == ("dried", "moisture reading", 6.0)
    assert said[-1][0] == "good"
    keeper.picks("How long will this jar last?")
    assert keeper.reads("Moisture of the seed") == "6"


def test_a_verdict_is_only_shown(bench, lettuce):
    """What is nothing to be written of a lot has no button for it."""
    page, keeper, _ = bench
    page.start_with((lettuce,))
    keeper.picks("Do the dishes agree?")
    keeper.waits_to_see("They agree")
    assert not keeper.sees("Write into")


def test_the_result_is_copied_with_its_question_and_source(bench):
    """Ctrl+Shift+C; the text can go into a letter as it is."""
    page, keeper, said = bench
    keeper.picks("How many seeds do I sow?")
    keeper.types("Plants wanted", "20")
    keeper.types("Germination", "80")
    keeper.waits_to_see("Sow 25 seeds for 20 plants on average")
    page.copy.setFocus()
    keeper.keys("Ctrl+Shift+C")
    text = QGuiApplication.clipboard().text()
    assert text.startswith("How many seeds do I sow?\nPlants wanted\t20 plants\nGermination\t80 %\n")
    assert "Result\t25 seeds" in text
    assert text.rstrip().splitlines()[-1].startswith("Source: ")
    assert said == [("good", "Copied: the question, its figures, the result and its source.")]


def test_each_question_keeps_what_was_typed_for_it(bench):
    """Going to another question and back loses nothing."""
    _, keeper, _ = bench
    keeper.types("Alive at the start", "92")
    keeper.picks("Do the dishes agree?")
    keeper.picks("How long will this jar last?")
    assert keeper.reads("Alive at the start") == "92"


def test_the_bench_is_the_last_on_the_rail_and_tells_its_writing_in_the_window(
    qtbot, answers, work_day, lots
):
    """The window's notice confirms what was written."""
    window = MainWindow(answers)
    window.take_up(work_day)
    keeper = Keeper(qtbot, window)
    keeper.keys(f"Ctrl+{bench_key(len(window._benches))}")
    keeper.waits_to_see("How long will this jar last?")
    page = window.findChild(ReckonerPage)
    page.start_with((lots["Grey Ferryman"],))
    keeper.picks("What do 1000 seeds weigh?")
    keeper.types("Seeds weighed at once", "100")
    keeper.types("Weight of each", "0.26, 0.261")
    keeper.waits_to_see("Write into LEK-24-001-7")
    keeper.presses("Write into LEK-24-001-7")
    assert "Written into LEK-24-001-7" in window.notice.words()
