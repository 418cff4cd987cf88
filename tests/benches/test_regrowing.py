"""Regrowing: reasons from figures that are there, sums, crossings, and the way from plan to harvest."""

import io
from datetime import date

import pytest

from hilum.benches import lots, preparing, testing
from hilum.benches import regrowing as bench
from hilum.benches.lots import LotFilter
from hilum.errors import KeeperError
from tests.benches.conftest import FOXGLOVE, LEEK, ONION, SQUASH, TODAY, take_in

SOWN = date(2027, 4, 10)
HARVESTED = date(2027, 9, 20)


@pytest.fixture
def leek(catalogue):
    """A leek lot with a weighed thousand-seed weight of 2.5 g."""
    [number] = take_in(catalogue, LEEK)
    preparing.count(catalogue, number, on=TODAY, seeds=100, replicates_mg=[250, 251, 249, 250])
    return number


def germinates(catalogue, number, percent, on):
    """Record a test of four times 100 seeds."""
    testing.record_test(catalogue, number, on=on, seeds=[100], counts={"normal": [percent] * 4})


def shorts(catalogue, **more):
    """Give the short reasons of the candidates by lot."""
    found = bench.candidates(catalogue, on=TODAY, **more)
    return {each.number: [reason.short for reason in each.reasons] for each in found.lots}


def test_a_lot_below_its_standard_and_its_first_result_is_a_candidate(catalogue, leek):
    """Leek: 90 % in 2025, 50 % now; 85 % of 90 is 77, the standard is 60 %."""
    germinates(catalogue, leek, 90, date(2025, 11, 1))
    assert leek not in shorts(catalogue)
    germinates(catalogue, leek, 50, TODAY)
    assert shorts(catalogue)[leek][:2] == ["below standard", "below 85 % of first"]
    [one] = bench.candidates(catalogue, on=TODAY).lots
    assert "below 77 %: that is 85 % of its first result (90 %, Nov 2025)" in one.reasons[1].words
    assert one.reasons[-1].short == "only lot"


def test_low_stock_is_a_reason_and_the_only_lot_alone_is_shown_when_asked(catalogue, leek):
    """40 squash seeds are not more than their reserve; the leek is fine but the only one of its variety."""
    [squash] = take_in(catalogue, SQUASH)
    assert shorts(catalogue) == {squash: ["low stock", "only lot"]}
    assert shorts(catalogue, with_only_lots=True)[leek] == ["only lot"]


def test_an_old_lot_that_a_newer_good_one_stands_for_is_left_out_and_counted(catalogue, leek):
    """Nobody regrows the 2025 lot when the one of 2026 is good."""
    germinates(catalogue, leek, 40, TODAY)
    assert leek in shorts(catalogue)
    [newer] = take_in(catalogue, "Leek | Fenlock Grey | 2026 | 30 g | | | 2026-10-20")
    germinates(catalogue, newer, 90, TODAY)
    found = bench.candidates(catalogue, on=TODAY)
    assert (found.lots, found.replaced) == ((), 1)


def test_the_forecast_alone_can_ask_for_new_seed(catalogue):
    """Onion just above its standard two years ago, on a warm shelf since: no figure is below yet, the forecast is."""
    [onion] = take_in(catalogue, "Onion | Sexton's Keeper | 2022 | 54 g | Sallow Farm | | 2022-10-02")
    germinates(catalogue, onion, 72, date(2023, 1, 10))
    [one] = bench.candidates(catalogue, on=TODAY).lots
    assert "forecast below standard" in [reason.short for reason in one.reasons]
    assert "chance of" in one.reasons[0].words


def test_plants_seeds_and_isolation_are_reckoned(catalogue, leek):
    """Leek: 100 plants; 80 % germination and 30 % losses give 0.56 plants a seed: 179 seeds on average."""
    germinates(catalogue, leek, 80, TODAY)
    sums = bench.regrowing_sums(catalogue, leek)
    assert (sums.plants, sums.losses_percent) == (100, 30)
    assert sums.sowing.seeds == 179
    assert sums.sowing.seeds_to_be_sure > 179
    assert sums.ways[0].startswith("distance, ")
    assert "cage" in sums.ways
    assert "over 99 %" in sums.keeping_words
    few = bench.regrowing_sums(catalogue, leek, plants=3)
    assert any("narrowed for good" in words for words in few.warnings)
    with pytest.raises(KeeperError, match="1 to 100,000 plants"):
        bench.regrowing_sums(catalogue, leek, plants=0)


def test_a_garden_with_two_leeks_warns_and_one_variety_twice_does_not(catalogue, leek):
    """Two varieties cross freely; two lots of one variety may."""
    other, same, squash, onion = take_in(
        catalogue, "Leek | Ferry Pole | 2026 | 30 g | | | 2026-10-20",
        "Leek | Fenlock Grey | 2024 | 30 g | | | 2024-10-20", SQUASH, ONION,
    )  # fmt: skip
    plan = {"year": 2027, "on": TODAY}
    bench.plan_regrowing(catalogue, leek, garden="Long Field", **plan)
    bench.plan_regrowing(catalogue, same, garden="long  field", **plan)
    bench.plan_regrowing(catalogue, squash, garden="Long Field", **plan)
    assert bench.regrowings(catalogue).crossings == ()
    [rare] = bench.crossings_if(catalogue, onion, "Long Field", 2027)[:1]
    assert (rare.is_sure, "different species of Allium" in rare.words) == (False, True)
    [warned] = [
        each for each in bench.crossings_if(catalogue, other, "Long Field", 2027) if each.first == leek
    ]
    assert warned.is_sure
    assert "crosses freely" in warned.words
    assert bench.crossings_if(catalogue, other, "Long Field", 2028) == ()
    bench.plan_regrowing(catalogue, other, garden="Long Field", **plan)
    assert len(bench.regrowings(catalogue).crossings) == 2


def test_a_biennial_flowers_a_year_after_it_was_sown(catalogue):
    """A beet sown in 2026 crosses with a leaf beet sown in 2026, not with one of 2027."""
    beet, chard = take_in(
        catalogue,
        "Beetroot | Drum | 2025 | 40 g | | | 2025-10-04",
        "Chard | Rhubarb Light | 2025 | 40 g | | | 2025-10-04",
    )
    row = bench.plan_regrowing(catalogue, beet, year=2026, on=TODAY, garden="Long Field")
    assert (row.line.year, row.flowers_in) == (2026, 2027)
    [pair] = bench.crossings_if(catalogue, chard, "Long Field", 2026)
    assert pair.is_sure
    assert bench.crossings_if(catalogue, chard, "Long Field", 2027) == ()


def test_from_plan_to_harvest_the_new_lot_remembers(catalogue, leek):
    """Planned, sown (drawn), selected, harvested: parents, plants, isolation and place stand on the new lot."""
    germinates(catalogue, leek, 80, TODAY)
    row = bench.plan_regrowing(
        catalogue,
        leek,
        year=2027,
        on=TODAY,
        garden="Long Field",
        bed="3",
        isolation="cage",
        notes="blue leaves",
    )
    assert (row.line.state, row.next_step, row.where) == ("planned", "sow", "Long Field, 3")
    assert [each.id for each in bench.to_sow(catalogue, on=SOWN)] == [row.id]
    assert bench.to_sow(catalogue, on=TODAY) == ()
    stock = lots.lot_view(catalogue, leek).line.stock
    row = bench.sow(catalogue, row.id, on=SOWN, seeds=row.line.seeds)
    assert (row.line.state, row.line.seeds_sown) == ("sown", row.line.seeds)
    story = lots.lot_story(catalogue, leek)
    assert stock - story.lot.line.stock == round(row.line.seeds * 2.5)
    assert (story.movements[-1].kind, story.movements[-1].why) == ("sown", "regrowing 2027 in Long Field, 3")
    row = bench.select(catalogue, row.id, on=date(2027, 7, 1), plants_kept=84)
    brought = bench.harvest_as_planned(row)
    assert (brought.plants, brought.isolation, brought.place_grown) == (84, "cage", "Long Field")
    from dataclasses import replace

    row = bench.harvest(catalogue, row.id, replace(brought, mass_mg=61_000), on=HARVESTED)
    assert row.new_lot is not None
    new = lots.lot_story(catalogue, row.new_lot)
    assert new.parents == (leek,)
    assert (new.plants, new.isolation, new.notes) == (84, "cage", "blue leaves")
    assert (new.lot.line.variety, new.lot.line.year, new.lot.line.stock) == ("Fenlock Grey", 2027, 61_000)
    assert new.lot.line.place_grown == "Long Field"
    assert lots.lot_story(catalogue, leek).children == (row.new_lot,)
    assert bench.regrowings(catalogue).rows == ()
    assert [each.new_lot for each in bench.regrowings(catalogue, with_closed=True).rows] == [row.new_lot]


def test_a_sowing_is_taken_back_with_its_seed(catalogue, leek):
    """The regrowing is planned again and the stock is whole."""
    row = bench.plan_regrowing(catalogue, leek, year=2027, on=TODAY)
    stock = lots.lot_view(catalogue, leek).line.stock
    bench.sow(catalogue, row.id, on=SOWN, mass_mg=500)
    [job] = [job for job in lots.recent_jobs(catalogue) if job.what == "sow for regrowing"]
    lots.take_back(catalogue, job.id)
    assert lots.lot_view(catalogue, leek).line.stock == stock
    [again] = bench.regrowings(catalogue).rows
    assert (again.line.state, again.line.sown_on, again.line.seeds_sown) == ("planned", None, None)


def test_steps_out_of_order_are_refused_in_words(catalogue, leek):
    """A plan is not harvested, a lot is not planned twice, a date is not before its sowing."""
    row = bench.plan_regrowing(catalogue, leek, year=2027, on=TODAY)
    with pytest.raises(KeeperError, match="planned to be regrown in 2027 already"):
        bench.plan_regrowing(catalogue, leek, year=2028, on=TODAY)
    with pytest.raises(KeeperError, match="cannot be harvested: its regrowing in 2027 is planned"):
        bench.harvest(catalogue, row.id, bench.harvest_as_planned(row), on=HARVESTED)
    bench.sow(catalogue, row.id, on=SOWN, seeds=200)
    with pytest.raises(KeeperError, match="sown on 2027-04-10"):
        bench.select(catalogue, row.id, on=TODAY, plants_kept=20)
    with pytest.raises(KeeperError, match="At least one plant"):
        bench.select(catalogue, row.id, on=HARVESTED, plants_kept=0)
    with pytest.raises(KeeperError, match="why the regrowing is given up"):
        bench.give_up(catalogue, row.id, why="  ")
    gone = bench.give_up(catalogue, row.id, why="slugs ate all")
    assert (gone.line.state, gone.line.notes) == ("given up", "given up: slugs ate all")
    assert len(lots.find_lots(catalogue, LotFilter(), on=TODAY).lots) == 1


def test_a_plan_is_changed_and_its_seeds_follow(catalogue, leek):
    """Half the plants take about half the seeds."""
    row = bench.plan_regrowing(catalogue, leek, year=2027, on=TODAY)
    changed = bench.change_plan(catalogue, row.id, {"plants": 50, "garden": " Long  Field ", "year": 2028})
    assert (changed.line.garden, changed.line.year, changed.line.plants) == ("Long Field", 2028, 50)
    assert changed.line.seeds < row.line.seeds
    with pytest.raises(KeeperError, match="of a year from"):
        bench.change_plan(catalogue, row.id, {"year": 12})


def test_the_printed_plan_names_gardens_and_crossings(catalogue, leek):
    """Paper for the garden gate; nothing planned is refused."""
    from pypdf import PdfReader

    with pytest.raises(KeeperError, match="Nothing is planned"):
        bench.plan_on_paper(catalogue, on=TODAY)
    [other] = take_in(catalogue, "Leek | Ferry Pole | 2026 | 30 g | | | 2026-10-20")
    for number in (leek, other):
        bench.plan_regrowing(catalogue, number, year=2027, on=TODAY, garden="Long Field")
    words = PdfReader(io.BytesIO(bench.plan_on_paper(catalogue, on=TODAY))).pages[0].extract_text()
    words = " ".join(words.split())
    for expected in ("Long Field", leek, other, "TAKE CARE", "crosses freely"):
        assert expected in words


def test_a_poisonous_crop_and_a_hold_are_warned_of_where_it_is_planned(catalogue):
    """Foxglove, on hold as treated seed."""
    [foxglove] = take_in(catalogue, FOXGLOVE)
    lots.hold_lot(catalogue, foxglove, "treated seed", on=TODAY)
    said = " ".join(bench.regrowing_sums(catalogue, foxglove).warnings)
    assert "POISONOUS" in said
    assert "gloves on when sowing" in said
    assert "Biennial" in said
