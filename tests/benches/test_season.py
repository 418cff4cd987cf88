"""The season's list: kept, planned, packed as one, taken back as one; a bad row is named and nothing is done."""

import io
from datetime import date

import pytest

from hilum.benches import lots, packing, preparing, season, season_packing, testing
from hilum.benches.printing import LabelJob, LabelsStopped
from hilum.benches.season import WantedFigures
from hilum.errors import KeeperError
from tests.benches.conftest import FOXGLOVE, LEEK, ONION, RADISH, SQUASH, TODAY, take_in

SHEET = LabelJob("packet", "a4-3x8")


@pytest.fixture
def leek(catalogue):
    """A leek lot with a weighed thousand-seed weight of 2.5 g."""
    [number] = take_in(catalogue, LEEK)
    preparing.count(catalogue, number, on=TODAY, seeds=100, replicates_mg=[250, 251, 249, 250])
    return number


@pytest.fixture
def spring(catalogue):
    """An empty list."""
    return season.make_list(catalogue, "Spring 2027", on=TODAY)


def rows_of(catalogue, spring):
    """Give the planned rows by lot."""
    return {row.number: row for row in season.season_plan(catalogue, spring.id, on=TODAY).rows}


def stock_of(catalogue, number):
    """Give the stock of a lot as booked."""
    return lots.lot_view(catalogue, number).line.stock


def test_a_list_is_named_for_the_season_and_its_name_is_its_own(catalogue, spring):
    """From August on one packs for the next year; no two lists have one name."""
    assert season.usual_name(TODAY) == "Spring 2027"
    assert season.usual_name(date(2027, 2, 1)) == "Spring 2027"
    with pytest.raises(KeeperError, match="“Spring 2027” already"):
        season.make_list(catalogue, "spring  2027", on=TODAY)
    season.rename_list(catalogue, spring.id, "Swap day")
    assert [each.name for each in season.season_lists(catalogue)] == ["Swap day"]
    with pytest.raises(KeeperError, match="There are: “Swap day”"):
        season.list_named(catalogue, "Autumn")


def test_lots_come_on_the_list_with_the_seeds_usual_for_their_crop(catalogue, leek, spring):
    """50 leek seeds, until the library keeps a figure of its own for the crop."""
    [onion] = take_in(catalogue, ONION)
    assert season.add_lots(catalogue, spring.id, [leek, onion]).added == (leek, onion)
    rows = rows_of(catalogue, spring)
    assert (rows[leek].seeds_per_packet, rows[leek].packets, rows[leek].left) == (50, 10, 10)
    assert season.keep_usual_seeds(catalogue, leek, 80) == "Leek"
    [other] = take_in(catalogue, "Leek | Ferry Pole | 2026 | 30 g | | | 2026-10-20")
    again = season.add_lots(catalogue, spring.id, [leek, other])
    assert (again.added, again.there) == ((other,), (leek,))
    assert rows_of(catalogue, spring)[other].seeds_per_packet == 80


def test_a_mistyped_lot_puts_none_on_the_list(catalogue, leek, spring):
    """The nearest is named, and the good number is not added either."""
    wrong = leek[:-1] + ("A" if leek[-1] != "A" else "B")
    with pytest.raises(KeeperError, match=leek):
        season.add_lots(catalogue, spring.id, [leek, wrong])
    assert rows_of(catalogue, spring) == {}


def test_a_row_says_fill_draw_possible_and_what_to_know(catalogue, leek, spring):
    """40 seeds at 2.5 mg are 100 mg; above the reserve of 477 seeds (1193 mg) there are 373 packets."""
    season.add_lots(catalogue, spring.id, [leek], seeds=40, packets=12)
    row = rows_of(catalogue, spring)[leek]
    assert row.plan is not None
    assert (row.plan.fill_mg, row.draw, row.plan.possible_packets) == (100, 1200, (38_500 - 1193) // 100)
    assert row.can_pack
    assert any("never been tested" in words for words in row.warnings)
    assert any("Nothing says that this seed is dry" in words for words in row.warnings)
    preparing.dry(catalogue, leek, on=TODAY, evidence="jar humidity", value=20, sealed=True)
    assert not any("dry" in words for words in rows_of(catalogue, spring)[leek].warnings)


def test_an_old_test_and_one_below_standard_are_pointed_out(catalogue, leek, spring):
    """Tested in 2021 with 30 %: both are said before packing."""
    testing.record_test(
        catalogue, leek, on=date(2025, 10, 20), seeds=[100], counts={"normal": [30, 30, 30, 30]}
    )
    season.add_lots(catalogue, spring.id, [leek])
    later = season.season_plan(catalogue, spring.id, on=date(2031, 1, 10))
    said = " ".join(later.rows[0].warnings)
    assert "below the standard of 60 %" in said
    assert "Last tested Oct 2025, and its next test has been due since" in said


def test_what_bars_a_row_is_said_on_it(catalogue, leek, spring):
    """A hold, no weight, and more packets than there is seed for."""
    radish, squash = take_in(catalogue, RADISH, SQUASH)
    season.add_lots(catalogue, spring.id, [leek, radish, squash], packets=200)
    lots.hold_lot(catalogue, leek, "wet", on=TODAY)
    rows = rows_of(catalogue, spring)
    assert rows[leek].bar == "On hold: wet. Lift the hold with a reason first."
    assert "has not been weighed yet" in rows[radish].bar
    assert rows[squash].bar == "200 packets would eat into the reserve; 0 are possible."
    assert not any(row.can_pack for row in rows.values())


def test_all_rows_are_packed_as_one_sorted_as_listed_and_taken_back_as_one(catalogue, leek, spring):
    """Stock, batches and one PDF; then all seed is back, and the packets are none any more."""
    onion, squash = take_in(catalogue, ONION, SQUASH)
    season.add_lots(catalogue, spring.id, [leek, onion], seeds=40, packets=3)
    before = {number: stock_of(catalogue, number) for number in (leek, onion)}
    rows = rows_of(catalogue, spring)
    due = lots.lot_view(catalogue, leek).line.due_why
    done = season_packing.pack_rows(catalogue, spring.id, [rows[onion].id, rows[leek].id], SHEET, on=TODAY)
    assert [row.lot for row in done.rows] == [onion, leek]
    assert (done.packets, done.sheets.labels, done.sheets.proof.read) == (6, 6, 6)
    from pypdf import PdfReader

    words = PdfReader(io.BytesIO(done.sheets.pdf)).pages[0].extract_text()
    assert words.rindex("Sexton's Keeper") < words.index("Fenlock Grey")
    assert stock_of(catalogue, leek) == before[leek] - 300
    assert [row.left for row in rows_of(catalogue, spring).values()] == [0, 0]
    assert len(lots.lot_story(catalogue, leek).batches) == 1

    assert lots.take_back(catalogue, done.job) == "pack 2 lots of the season's list"
    assert {number: stock_of(catalogue, number) for number in before} == before
    assert [row.left for row in rows_of(catalogue, spring).values()] == [3, 3]
    story = lots.lot_story(catalogue, leek)
    assert story.batches == ()
    assert story.lot.line.due_why == due
    assert [line.kind for line in story.movements] == ["received", "packed", "corrected"]
    with pytest.raises(KeeperError, match="already been taken back"):
        lots.take_back(catalogue, done.job)
    assert squash not in rows


def test_a_single_packing_is_taken_back_too(catalogue, leek):
    """One way for both."""
    packing.pack(catalogue, leek, packets=2, seeds=40, job=SHEET, on=TODAY)
    [job] = [job for job in lots.recent_jobs(catalogue) if job.what.startswith("pack 2")]
    lots.take_back(catalogue, job.id)
    assert stock_of(catalogue, leek) == 38_500


def test_bad_rows_are_all_named_and_nothing_is_done(catalogue, leek, spring):
    """A hold put on meanwhile and a stock that is gone: two names, and the good row is not packed either."""
    onion, other = take_in(catalogue, ONION, "Leek | Ferry Pole | 2026 | 30 g | | | 2026-10-20")
    season.add_lots(catalogue, spring.id, [leek, onion, other], seeds=40, packets=3)
    rows = rows_of(catalogue, spring)
    lots.hold_lot(catalogue, onion, "insects", on=TODAY)
    lots.draw(catalogue, other, "discarded", on=TODAY, mass_mg=29_999)
    with pytest.raises(season_packing.RowsRefused) as refused:
        season_packing.pack_rows(catalogue, spring.id, [row.id for row in rows.values()], SHEET, on=TODAY)
    assert [bad.lot for bad in refused.value.rows] == [onion, other]
    assert "2 of 3 lots cannot be packed" in str(refused.value)
    assert "on hold since 2026-11-25: insects" in str(refused.value)
    assert stock_of(catalogue, leek) == 38_500
    assert lots.lot_story(catalogue, leek).batches == ()


def test_a_full_disk_or_a_stop_packs_nothing(catalogue, leek, spring):
    """The PDF is written while the step is open."""
    season.add_lots(catalogue, spring.id, [leek], seeds=40, packets=3)
    [row] = rows_of(catalogue, spring).values()

    def full_disk(_pdf: bytes) -> None:
        raise OSError(28, "No space left on device")

    with pytest.raises(OSError, match="No space"):
        season_packing.pack_rows(catalogue, spring.id, [row.id], SHEET, on=TODAY, keep=full_disk)
    with pytest.raises(LabelsStopped):
        season_packing.pack_rows(catalogue, spring.id, [row.id], SHEET, on=TODAY, stop=lambda: True)
    assert stock_of(catalogue, leek) == 38_500
    assert [each.left for each in rows_of(catalogue, spring).values()] == [3]


def test_ten_packets_weighed_point_out_a_wrong_fill_and_the_check_goes_with_its_fill(catalogue, leek, spring):
    """Ten times 100 mg: 1.00 g; 0.5 g more is too much, and another number of seeds is not checked yet."""
    season.add_lots(catalogue, spring.id, [leek], seeds=40)
    [row] = rows_of(catalogue, spring).values()
    weigh = {"on": TODAY, "empty_mg": 12_000}
    assert season.weigh_ten(catalogue, spring.id, row.id, filled_mg=13_010, **weigh).verdict == "right"
    assert season.weigh_ten(catalogue, spring.id, row.id, filled_mg=13_500, **weigh).verdict == "too much"
    assert rows_of(catalogue, spring)[leek].check.verdict == "too much"
    season.change_rows(catalogue, [row.id], {"seeds_per_packet": 60})
    assert rows_of(catalogue, spring)[leek].check is None


def test_seed_too_light_to_weigh_is_filled_by_a_spoon_counted_once(catalogue, spring):
    """Foxglove: the scale is too coarse; five spoons of 400 seeds are 80 a spoon, two for a packet of 100."""
    [foxglove] = take_in(catalogue, FOXGLOVE)
    season.add_lots(catalogue, spring.id, [foxglove], packets=5)
    row = rows_of(catalogue, spring)[foxglove]
    assert row.seeds_per_packet == 100
    assert row.plan.needs_spoon
    season.count_spoon(catalogue, foxglove, "small brass", 400, on=TODAY)
    row = rows_of(catalogue, spring)[foxglove]
    assert not row.plan.needs_spoon
    assert row.plan.fill_words == "2 level spoons of “small brass”, about 160 seeds"
    assert packing.plan_packing(catalogue, foxglove, seeds=100, on=TODAY).fill_words == row.plan.fill_words


def test_filling_for_germinating_seeds_is_a_choice_of_the_row(catalogue, leek, spring):
    """Refused in words on the row until there is a test; at 80 % 40 seedlings take 50 seeds, 130 mg."""
    season.add_lots(catalogue, spring.id, [leek], seeds=40)
    [row] = rows_of(catalogue, spring).values()
    season.change_rows(catalogue, [row.id], {"by_germination": True})
    assert "no germination result" in rows_of(catalogue, spring)[leek].bar
    testing.record_test(catalogue, leek, on=TODAY, seeds=[100], counts={"normal": [80, 80]})
    assert rows_of(catalogue, spring)[leek].plan.fill_mg == 130


def test_figures_of_a_spreadsheet_are_put_in_one_step_or_not_at_all(catalogue, leek, spring):
    """A lot that is not on the list comes on it; one figure out of range leaves all as it was."""
    [onion] = take_in(catalogue, ONION)
    season.add_lots(catalogue, spring.id, [leek])
    with pytest.raises(KeeperError, match="Packets go from 0 to 10,000"):
        season.put_figures(
            catalogue, spring.id, [WantedFigures(leek, 30, 5), WantedFigures(onion, None, 1_000_000)]
        )
    assert rows_of(catalogue, spring)[leek].seeds_per_packet == 50
    done = season.put_figures(
        catalogue, spring.id, [WantedFigures(leek, 30, 5), WantedFigures(onion, None, 7)]
    )
    assert done.added == (onion,)
    rows = rows_of(catalogue, spring)
    assert [(row.seeds_per_packet, row.packets) for row in rows.values()] == [(30, 5), (50, 7)]


def test_a_packed_row_stays_as_the_record_and_an_unpacked_one_goes_and_comes_back(catalogue, leek, spring):
    """Removing is an edit like any other."""
    season.add_lots(catalogue, spring.id, [leek], seeds=40, packets=3)
    [row] = rows_of(catalogue, spring).values()
    season.remove_rows(catalogue, [row.id])
    assert rows_of(catalogue, spring) == {}
    lots.take_back(catalogue, lots.recent_jobs(catalogue)[0].id)
    season_packing.pack_rows(catalogue, spring.id, [row.id], SHEET, on=TODAY)
    with pytest.raises(KeeperError, match="stays on it as the record"):
        season.remove_rows(catalogue, [row.id])
    with pytest.raises(KeeperError, match="packed already"):
        season_packing.pack_rows(catalogue, spring.id, [row.id], SHEET, on=TODAY)


def test_the_filling_list_on_paper_says_what_to_weigh(catalogue, leek, spring):
    """Lot, packets, seeds and fill, in the order asked for; nothing left is refused."""
    season.add_lots(catalogue, spring.id, [leek], seeds=40, packets=3)
    [row] = rows_of(catalogue, spring).values()
    from pypdf import PdfReader

    pdf = season.filling_list(catalogue, spring.id, [row.id], on=TODAY)
    words = " ".join(PdfReader(io.BytesIO(pdf)).pages[0].extract_text().split())
    for expected in ("Packets to fill: Spring 2027", leek, "0.1 g", "0.3 g", "1 lot, 3 packets"):
        assert expected in words
    season.change_rows(catalogue, [row.id], {"packets": 0})
    with pytest.raises(KeeperError, match="nothing left to fill"):
        season.filling_list(catalogue, spring.id, [row.id], on=TODAY)
