"""The packing bench, as a keeper uses it: lot, packets, one press, pages."""

from datetime import date

import pytest

from hilum.benches import intake, packing, testing
from hilum.benches.lots import hold_lot, lot_story
from hilum.window.packing_figures import age_words
from hilum.window.packing_page import PackingPage
from tests.support.answers import Answers
from tests.support.keeper import Keeper
from tests.support.paper import MeasuringPaper, sheets_of

DAY = date(2026, 11, 25)
MADE_MS = 30_000


@pytest.fixture
def bench(qtbot, work_day, tmp_path):
    """Give the page, the keeper at it, and what it said."""
    answers = Answers(files=(tmp_path / "kept" / "mine.pdf",))
    page = PackingPage(work_day, answers)
    page.one.paper = MeasuringPaper()
    page.resize(1100, 900)
    said = []
    page.said.connect(lambda kind, words: said.append((kind, words)))
    keeper = Keeper(qtbot, page)
    page.refresh()
    page.focus_first()
    return page, keeper, said


def stock_of(work_day, number):
    """Give the stock of a lot as it is booked."""
    return lot_story(work_day.catalogue, number).lot.line.stock


def test_a_scanned_lot_shows_what_packing_takes(bench, work_day, lots):
    """Fill, draw, possible packets and reserve stand there at once, and are the bench's own figures."""
    _, keeper, _ = bench
    assert keeper.sees("Choose a lot first.")
    keeper.scans(lots["Grey Ferryman"])
    keeper.types("Seeds in each", "40")
    keeper.types("Packets", "12")
    plan = packing.plan_packing(work_day.catalogue, lots["Grey Ferryman"], seeds=40, on=DAY)
    assert keeper.sees("Leek “Grey Ferryman”, 2024")
    # 40 seeds × 2.577 g a thousand = 103 mg, up to the scale's step of 10 mg: 0.11 g; 12 packets: 1.32 g.
    assert keeper.reads("In each packet") == plan.fill_words == "0.11 g"
    assert keeper.reads("Drawn in all") == "1.32 g"
    assert keeper.reads("Possible above the reserve") == f"{plan.possible_packets} packets"
    assert keeper.reads("Reserve") == f"{plan.lot.reserve_seeds} seeds"
    assert keeper.reads("Germination") == "not tested"
    assert keeper.sees("never been tested")
    assert keeper.sees("check with your local authority what a packet must say")


def test_one_press_draws_the_seed_writes_the_batch_and_keeps_the_pages(qtbot, bench, work_day, lots):
    """Catalogue, file and list all show the same packets; the codes of the file read."""
    page, keeper, said = bench
    number = lots["Grey Ferryman"]
    before = stock_of(work_day, number)
    keeper.scans(number)
    keeper.types("Seeds in each", "40")
    keeper.types("Packets", "24")
    keeper.keys("Ctrl+Return")
    keeper.waits_to_see("24 labels on 2 pages. 24 codes, all read back at 300 dpi.", MADE_MS)
    story = lot_story(work_day.catalogue, number)
    [batch] = story.batches
    assert (batch.packets, batch.seeds_per_packet, batch.fill_mg, batch.packed_on) == (24, 40, 110, DAY)
    assert before - story.lot.line.stock == 24 * 110
    kind, words = said[-1]
    assert kind == "good"
    file = words.rpartition("kept in ")[2].removesuffix(".")
    with open(file, "rb") as kept:
        sheets = sheets_of(kept.read(), 300)
    assert [len(sheet.codes) for sheet in sheets] == [21, 3]
    assert {code for sheet in sheets for code in sheet.codes} == {number}
    keeper.presses("Print…")
    keeper.waits_to_see("Put in A4 sheets")
    keeper.presses("Print")
    keeper.waits_to_see("Sent to Bench printer at 100 %.")
    assert len(page.one.paper.printed) == 1
    keeper.presses("Close")
    keeper.waits_to_see("24 packets in 1 batch")
    assert page.one.today.rows()[0].lot == number
    # The last sheet has three labels used: the next job begins behind them.
    assert keeper.reads("First free") == "4"


def test_pages_that_cannot_be_kept_leave_everything_as_it_was(bench, work_day, lots, tmp_path):
    """No file, no batch, no draw."""
    page, keeper, said = bench
    number = lots["Grey Ferryman"]
    before = stock_of(work_day, number)
    keeper.scans(number)
    (tmp_path / "blocked").write_text("a file, no folder", encoding="utf-8")
    page.one.keep_in(tmp_path / "blocked" / "pages.pdf")
    keeper.presses("Pack and make labels")
    keeper_waits_for(keeper, said, "could not be written")
    assert stock_of(work_day, number) == before
    assert lot_story(work_day.catalogue, number).batches == ()


def keeper_waits_for(keeper, said, words):
    """Wait until the page has said these words."""
    keeper._bot.waitUntil(lambda: any(words in text for _, text in said), timeout=MADE_MS)


def test_stopping_packs_nothing(bench, work_day, lots):
    """A stopped job leaves stock, batches and folder as they were."""
    _, keeper, said = bench
    number = lots["Grey Ferryman"]
    before = stock_of(work_day, number)
    keeper.scans(number)
    keeper.types("Seeds in each", "5")
    keeper.types("Packets", "900")
    keeper.presses("Pack and make labels")
    keeper.presses("Stop")
    keeper_waits_for(keeper, said, "Nothing was packed.")
    assert said[-1][0] == "warn"
    assert stock_of(work_day, number) == before
    assert lot_story(work_day.catalogue, number).batches == ()


def test_the_keeper_chooses_where_the_pages_are_kept(bench, lots, tmp_path):
    """A chosen file is used for this packing, and its folder for the next."""
    page, keeper, _ = bench
    keeper.scans(lots["Candlewick"])
    keeper.types("Packets", "2")
    keeper.presses("Keep elsewhere…")
    assert keeper.sees(str(tmp_path / "kept" / "mine.pdf"))
    keeper.presses("Pack and make labels")
    keeper.waits_to_see("2 codes, all read back", MADE_MS)
    assert (tmp_path / "kept" / "mine.pdf").read_bytes().startswith(b"%PDF")
    keeper.presses("Close")
    keeper.waits_to_see(str(tmp_path / "kept" / "2026-11-25"))
    assert not page.one.today.isHidden()


def test_packing_into_the_reserve_is_barred_with_the_figure(bench, lots):
    """More packets than possible are refused before anything is pressed; one press gives all that is possible."""
    _, keeper, _ = bench
    keeper.scans(lots["Grey Ferryman"])
    keeper.types("Seeds in each", "40")
    keeper.types("Packets", "9999")
    assert keeper.sees("9,999 packets would eat into the reserve; 370 are possible.")
    assert not keeper.can_press("Pack and make labels")
    keeper.presses("All possible")
    assert keeper.reads("Packets") == "370"
    assert keeper.can_press("Pack and make labels")


def test_a_hold_bars_packing_with_its_reason(bench, work_day, lots):
    """The hold and its note are read on the page."""
    _, keeper, _ = bench
    hold_lot(work_day.catalogue, lots["Candlewick"], "insects", on=DAY, note="weevils in the bag")
    keeper.scans(lots["Candlewick"])
    assert keeper.sees("insects (weevils in the bag). Lift the hold with a reason before packing")
    assert not keeper.can_press("Pack and make labels")


def test_a_lot_that_was_never_weighed_is_barred(bench, lots):
    """What is not known is not packed."""
    _, keeper, _ = bench
    keeper.scans(lots["Long Wharf"])
    assert keeper.sees("has not been weighed yet. Weigh it before packing")
    assert not keeper.can_press("Pack and make labels")


def test_a_mistyped_number_names_the_nearest(bench, lots):
    """A wrong check character is refused with the real lot named."""
    _, keeper, _ = bench
    number = lots["Grey Ferryman"]
    keeper.scans(number[:-1] + ("2" if number[-1] != "2" else "3"))
    assert keeper.sees(number)
    assert not keeper.can_press("Pack and make labels")


def test_a_name_that_one_lot_has_chooses_it(bench, lots):
    """A keeper without a scanner types the variety."""
    page, keeper, _ = bench
    keeper.writes("candlewick")
    keeper.keys("Return")
    assert page.one.form.choice.number == lots["Candlewick"]


def test_filling_for_germinating_seeds_needs_and_uses_a_test(bench, work_day, lots):
    """Without a result it is refused in words; with 80 % a packet of 40 holds 50 seeds."""
    _, keeper, _ = bench
    number = lots["Grey Ferryman"]
    keeper.scans(number)
    keeper.types("Seeds in each", "40")
    keeper.presses("Germinating seeds")
    assert keeper.sees("has no germination result, so packets cannot be filled by germinating seeds")
    assert not keeper.can_press("Pack and make labels")
    testing.record_test(
        work_day.catalogue, number, on=date(2026, 1, 20), seeds=(50, 50),
        counts={"normal": (40, 40), "abnormal": (2, 3), "dead": (8, 7)},
    )  # fmt: skip
    keeper.field("Lot").setFocus()
    keeper.keys("Ctrl+A")
    keeper.scans(number)
    # 50 seeds × 2.577 g a thousand = 128.9 mg, up to 0.13 g.
    assert keeper.reads("In each packet") == "0.13 g"
    assert keeper.reads("Germination") == "80 %, Jan 2026 (10 months ago)"


def test_a_lot_below_standard_says_so_with_the_law_note(bench, work_day, lots):
    """The figure, the standard, and whom to ask."""
    _, keeper, _ = bench
    number = lots["Candlewick"]
    testing.record_test(
        work_day.catalogue, number, on=date(2026, 9, 20), seeds=(50, 50),
        counts={"normal": (30, 31), "abnormal": (5, 5), "dead": (15, 14)},
    )  # fmt: skip
    keeper.scans(number)
    # Lettuce 80 %: 7 CFR 201.31.
    assert keeper.sees("Germination is 61 %, below the standard of 80 %.")
    assert keeper.sees("“Below Standard” on the packet: check with your local authority")


def test_a_poisonous_crop_says_so_and_its_packets_carry_it(bench, work_day):
    """The caution stands on the page and on every label."""
    page, keeper, _ = bench
    row = ("Foxglove", "Tall Bell", "2024", "2 g", "Ferry Reach", "Ada Quill", "2025-01-10", "24", "", "")
    plan = intake.plan_rows(work_day.catalogue, (row,), today=DAY)
    [taken] = intake.take_in(work_day.catalogue, plan).accepted
    keeper.scans(taken.lot)
    assert keeper.sees("POISONOUS")
    assert keeper.sees("spoon")
    keeper.types("Packets", "3")
    keeper.presses("Pack and make labels")
    keeper.waits_to_see("3 codes, all read back", MADE_MS)
    keeper.presses("Print…")
    keeper.waits_to_see("Put in A4 sheets")
    keeper.presses("Print")
    keeper.waits_to_see("Sent to Bench printer")
    import pypdfium2

    from hilum.labels.proof import PDFIUM

    [(_, job, _)] = page.one.paper.printed
    with PDFIUM:
        document = pypdfium2.PdfDocument(job.pdf)
        assert document[0].get_textpage().get_text_range().count("POISONOUS") == 3
        document.close()


def test_one_lot_from_another_bench_comes_up_alone(bench, lots):
    """Several go on the season's list instead."""
    page, keeper, _ = bench
    page.start_with((lots["Grey Ferryman"],))
    assert keeper.sees("Leek “Grey Ferryman”, 2024")


@pytest.mark.parametrize(
    ("tested_on", "words"),
    [
        (date(2026, 11, 1), "less than a month ago"),
        (date(2026, 10, 25), "1 month ago"),
        (date(2026, 10, 26), "less than a month ago"),
        (date(2026, 1, 20), "10 months ago"),
        (date(2024, 11, 26), "23 months ago"),
        (date(2023, 11, 1), "3 years ago"),
    ],
)
def test_the_age_of_a_test_is_said_in_whole_months(tested_on, words):
    """Months are full ones."""
    assert age_words(tested_on, DAY) == words
