"""Packing: whole or not at all, never into the reserve, never without its caution."""

import io

import pytest

from hilum.benches import lots, packing, preparing, printing, testing
from hilum.benches.printing import LabelJob
from hilum.errors import KeeperError
from tests.benches.conftest import FOXGLOVE, LEEK, RADISH, TODAY, take_in

SHEET = LabelJob("packet", "a4-3x8")


def text_of(pdf: bytes) -> str:
    """Give the words of a PDF as another library reads them."""
    from pypdf import PdfReader

    return "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages)


@pytest.fixture
def leek(catalogue):
    """A leek lot with a weighed thousand-seed weight of 2.5 g."""
    [number] = take_in(catalogue, LEEK)
    preparing.count(catalogue, number, on=TODAY, seeds=100, replicates_mg=[250, 251, 249, 250])
    return number


def test_packing_draws_stock_books_a_batch_and_prints(catalogue, leek):
    """Twelve packets of 40 seeds at 2.5 mg a seed are 100 mg each: 1.2 g leaves the lot."""
    done = packing.pack(catalogue, leek, packets=12, seeds=40, job=SHEET, on=TODAY)
    story = lots.lot_story(catalogue, leek)
    assert done.fill_mg == 100
    assert story.lot.line.stock == 38_500 - 1_200
    [batch] = story.batches
    assert (batch.packets, batch.packets_left, batch.seeds_per_packet) == (12, 12, 40)
    assert (done.sheets.labels, done.sheets.proof.codes, done.sheets.proof.unread) == (12, 12, ())
    words = text_of(done.sheets.pdf)
    for expected in ("Fenlock Grey", "Leek", "2025", "Ashmere plot 14", leek, "40 seeds"):
        assert expected in words


def test_an_unwritable_file_packs_nothing(catalogue, leek):
    """The PDF is written while the step is open, so a full disk leaves the stock as it was."""

    def full_disk(_pdf: bytes) -> None:
        raise OSError(28, "No space left on device")

    with pytest.raises(OSError, match="No space"):
        packing.pack(catalogue, leek, packets=12, seeds=40, job=SHEET, on=TODAY, keep=full_disk)
    story = lots.lot_story(catalogue, leek)
    assert (story.lot.line.stock, story.batches) == (38_500, ())


def test_the_reserve_is_never_packed(catalogue, leek):
    """Leek: 100 plants / (0.60 x 0.7) x 2 = 477 seeds stay; more packets than that leaves are refused."""
    plan = packing.plan_packing(catalogue, leek, seeds=100, on=TODAY)
    assert plan.lot.reserve_seeds == 477
    spare_mg = 38_500 - 477 * 2.5
    assert plan.possible_packets == int(spare_mg // 250)
    with pytest.raises(KeeperError, match="above its reserve"):
        packing.pack(catalogue, leek, packets=plan.possible_packets + 1, seeds=100, job=SHEET, on=TODAY)
    done = packing.pack(catalogue, leek, packets=2, seeds=100, job=SHEET, on=TODAY)
    assert done.packets == 2


def test_filling_for_germinating_seeds_needs_a_result(catalogue, leek):
    """At 80 % germination, 40 seedlings take 50 seeds: 125 mg, 130 mg on a scale in steps of 10 mg."""
    with pytest.raises(KeeperError, match="no germination result"):
        packing.plan_packing(catalogue, leek, seeds=40, on=TODAY, viable=True)
    testing.record_test(catalogue, leek, on=TODAY, seeds=[100], counts={"normal": [80, 80]})
    assert packing.plan_packing(catalogue, leek, seeds=40, on=TODAY, viable=True).fill_mg == 130


def test_a_held_lot_is_not_packed_until_the_hold_is_lifted_with_a_reason(catalogue, leek):
    """The refusal says what the hold is."""
    lots.hold_lot(catalogue, leek, "insects", on=TODAY, note="weevils")
    with pytest.raises(KeeperError, match=r"on hold since 2026-11-25: insects \(weevils\)"):
        packing.pack(catalogue, leek, packets=1, seeds=40, job=SHEET, on=TODAY)
    [mark] = lots.lot_story(catalogue, leek).holds
    with pytest.raises(KeeperError, match="with a reason"):
        lots.lift_hold(catalogue, mark.id, on=TODAY, why=" ")
    lots.lift_hold(catalogue, mark.id, on=TODAY, why="frozen two weeks, none alive")
    packing.pack(catalogue, leek, packets=1, seeds=40, job=SHEET, on=TODAY)


def test_a_lot_of_unknown_identity_is_never_packed_as_named(catalogue, leek):
    """Grow it out first."""
    lots.change_lot(catalogue, leek, {"identity": "unknown"})
    with pytest.raises(KeeperError, match=r"identity of lot .* is unknown"):
        packing.pack(catalogue, leek, packets=1, seeds=40, job=SHEET, on=TODAY)


def test_a_lot_never_weighed_is_not_packed(catalogue):
    """Unknown stock is not stock."""
    [number] = take_in(catalogue, RADISH)
    with pytest.raises(KeeperError, match="has not been weighed yet"):
        packing.pack(catalogue, number, packets=1, seeds=40, job=SHEET, on=TODAY)


def test_a_packet_of_a_poisonous_crop_carries_its_caution(catalogue):
    """Foxglove packets say so, in the words of the crop."""
    [number] = take_in(catalogue, FOXGLOVE)
    done = packing.pack(catalogue, number, packets=2, seeds=50, job=SHEET, on=TODAY)
    assert "POISONOUS" in text_of(done.sheets.pdf).upper()
    assert any("POISONOUS" in words for words in done.warnings)


def test_an_untested_lot_is_packed_with_a_warning_and_falls_due(catalogue):
    """A germination test is due before the first packing: from that day on the day sheet asks for it."""
    [number] = take_in(catalogue, "Leek | Ferry Pole | 2026 | 30 g | | | 2026-10-20")
    done = packing.pack(catalogue, number, packets=2, seeds=40, job=SHEET, on=TODAY)
    assert any("never been tested" in words for words in done.warnings)
    assert (done.lot.line.due_on, done.lot.line.due_why) == (TODAY, "packed without ever having been tested")


def test_a_forecast_is_never_printed_but_a_test_is_with_its_month_and_number(catalogue, leek):
    """A germination figure carries the month, the number of seeds and how it was found."""
    testing.record_test(catalogue, leek, on=TODAY, seeds=[100], counts={"normal": [86, 88, 84, 90]})
    sheets = printing.lot_labels(catalogue, [leek], LabelJob("jar", "a4-3x7-63.5x38.1"), on=TODAY)
    words = " ".join(text_of(sheets.pdf).split())
    assert "87 % of 400 seeds, Nov 2026, home test" in words


def test_tags_of_every_dish_say_when_to_count(catalogue, leek):
    """Leek laid on 25 November is counted on days 6 and 14."""
    test = testing.start_test(catalogue, leek, on=TODAY, dishes=(50, 50))
    sheets = printing.dish_labels(catalogue, [test.id], LabelJob("dish", "a4-5x13-38.1x21.2"))
    words = " ".join(text_of(sheets.pdf).split())
    assert sheets.labels == 2
    assert "dish 2 of 2" in words
    assert "1 Dec" in words
    assert "9 Dec" in words


def test_an_unknown_lot_number_names_the_nearest(catalogue, leek):
    """A mistyped number prints nothing and offers the right one."""
    wrong = leek[:-1] + ("A" if leek[-1] != "A" else "B")
    with pytest.raises(KeeperError, match=leek):
        printing.lot_labels(catalogue, [wrong], SHEET, on=TODAY)
