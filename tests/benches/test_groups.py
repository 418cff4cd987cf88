"""Tests in groups: laid, counted, and after each group told whether another is needed."""

from datetime import date, timedelta

import pytest

from hilum.benches import keeping, lots, testing
from hilum.benches.groups import ANOTHER, COUNT_ON, KEEP, REGROW, lay_group
from hilum.errors import BadInput
from tests.benches.conftest import FOXGLOVE, LEEK, TODAY, take_in

# A counted lot of leek: its standard is 60 % with hard seed (7 CFR 201.31).
COUNTED = "Leek | Fenlock Grey | 2023 | 4000 seeds | | | 2023-10-04"
FINAL = TODAY + timedelta(days=14)


def once_tested(catalogue):
    """Take in a lot whose first result was 100 %."""
    [number] = take_in(catalogue, COUNTED)
    testing.record_test(
        catalogue,
        number,
        on=date(2023, 12, 1),
        seeds=[100],
        counts={"normal": [100]},
        origin="Hollin library",
    )
    return number


def laid(catalogue, number, dishes=(40,), bar="first result"):
    """Lay the first group; gives the test's id."""
    return testing.start_test(catalogue, number, on=TODAY, dishes=dishes, bar=bar).id


def count(catalogue, test_id, on, **by_dish):
    """Write normal seedlings (and the rest dead) of some dishes; gives how the groups stand."""
    counts = {int(key[1:]): {"normal": normal, "dead": dead} for key, (normal, dead) in by_dish.items()}
    return testing.enter_counts(catalogue, test_id, on=on, counts=counts).standing.groups


def test_the_bar_is_named_and_the_first_group_is_drawn(catalogue):
    """85 % of a first result of 100 % is 85 %; only one group of seed leaves the stock."""
    number = once_tested(catalogue)
    plan = testing.plan_test(catalogue, number, on=TODAY, in_groups=True)
    assert plan.dishes == (40,)
    assert [(bar.key, bar.percent) for bar in plan.bars] == [("first result", 85), ("standard", 60)]
    test = testing.count_sheet(catalogue, laid(catalogue, number)).test
    assert (test.seeds, test.group_seeds, test.bar_percent) == (40, 40, 85)
    assert test.bar_words == "85 %, which is 85 % of its first result (100 %)"
    assert lots.lot_view(catalogue, number).line.stock == 3960


def test_another_group_is_asked_for_drawn_and_counted_on_its_own_days(catalogue):
    """35 of 40 is not clear against 85 %; the next 40 are laid from stock and make 76 of 80: keep."""
    number = once_tested(catalogue)
    test_id = laid(catalogue, number)
    standing = count(catalogue, test_id, FINAL, d1=(35, 5))
    assert standing.word == ANOTHER
    assert "Sow another 40 seeds" in standing.why
    test, warnings = lay_group(catalogue, test_id, on=FINAL)
    assert (test.seeds, warnings) == (80, ())
    assert lots.lot_view(catalogue, number).line.stock == 3920
    sheet = testing.count_sheet(catalogue, test_id)
    assert [dish.days.final_count_on for dish in sheet.dishes] == [FINAL, FINAL + timedelta(days=14)]
    assert sheet.standing.groups.word == COUNT_ON
    assert sheet.standing.next_count_on == FINAL + timedelta(days=6)
    standing = count(catalogue, test_id, FINAL + timedelta(days=14), d2=(40, 0))
    # 75 of 80 lies one below the printed limit of 76.
    assert standing.word == ANOTHER
    standing = count(catalogue, test_id, FINAL, d1=(36, 4))
    assert (standing.word, standing.seeds_saved) == (KEEP, 280)
    assert 0 < standing.wrong_chance < 0.25
    assert standing.below_chance < 0.01


def test_the_plan_decides_the_verdict_and_the_standard_is_named_for_packing(catalogue):
    """76 of 80 keeps against the first result; the sentence says both bars by name."""
    number = once_tested(catalogue)
    test_id = laid(catalogue, number, dishes=(20, 20))
    count(catalogue, test_id, FINAL, d1=(19, 1), d2=(19, 1))
    lay_group(catalogue, test_id, on=FINAL)
    count(catalogue, test_id, FINAL + timedelta(days=14), d3=(19, 1), d4=(19, 1))
    done = testing.finish_test(catalogue, test_id, on=FINAL + timedelta(days=14))
    assert (done.verdict, done.test.normal_percent, done.test.seeds) == ("keep", 95, 80)
    assert "76 of 80 seeds against 85 %, which is 85 % of its first result (100 %): keep" in done.verdict_why
    assert "exactly at it is mostly sent to regrowing" in done.verdict_why
    assert "For packing: germination 95 % of 80 seeds against the standard for Leek" in done.verdict_why


def test_a_group_that_can_no_longer_save_the_lot_is_clear_before_its_last_count(catalogue):
    """20 dead of 40 leave at most 20 germinated: regrow, whatever the rest does; another group is refused."""
    number = once_tested(catalogue)
    test_id = laid(catalogue, number)
    standing = count(catalogue, test_id, TODAY + timedelta(days=6), d1=(5, 20))
    assert standing.word == REGROW
    with pytest.raises(BadInput, match=r"No other group is needed .* stop and regrow"):
        lay_group(catalogue, test_id, on=FINAL)
    done = testing.finish_test(catalogue, test_id, on=FINAL)
    assert done.verdict == "regrow"


def test_a_group_is_not_laid_while_one_stands(catalogue):
    """Seed is not spent before it is known to be needed; nothing is drawn."""
    number = once_tested(catalogue)
    test_id = laid(catalogue, number)
    count(catalogue, test_id, TODAY + timedelta(days=6), d1=(30, 0))
    with pytest.raises(BadInput, match="count the group that stands first"):
        lay_group(catalogue, test_id, on=FINAL)
    assert lots.lot_view(catalogue, number).line.stock == 3960


def test_groups_need_a_bar(catalogue):
    """Foxglove has no standard and was never tested: said, and nothing is laid."""
    [number] = take_in(catalogue, FOXGLOVE)
    with pytest.raises(BadInput, match="never tested, and its crop has no standard"):
        testing.start_test(catalogue, number, on=TODAY, dishes=(40,), bar="first result")
    assert lots.lot_view(catalogue, number).line.state != "under test"


def test_hard_seed_counts_where_the_standard_counts_it(catalogue):
    """Against the standard for leek hard seed counts as grown; against its own first result it does not."""
    number = once_tested(catalogue)
    test_id = laid(catalogue, number, bar="standard")
    counts = {1: {"normal": 20, "hard": 18, "dead": 2}}
    groups = testing.enter_counts(catalogue, test_id, on=FINAL, counts=counts).standing.groups
    assert groups.groups[0].germinated == 38
    assert groups.word == KEEP


def test_a_later_group_finds_its_own_open_days(catalogue):
    """With Sundays closed each group's counting days move by themselves, never twice."""
    keeping.change_settings(catalogue, {"closed_weekdays": (6,)})
    number = once_tested(catalogue)
    start = date(2026, 11, 22)  # a Sunday: day 14 is one too
    test = testing.start_test(catalogue, number, on=start, dishes=(40,), bar="first result")
    assert test.final_count_on == date(2026, 12, 7)
    count(catalogue, test.id, date(2026, 12, 7), d1=(35, 5))
    lay_group(catalogue, test.id, on=date(2026, 12, 8))
    dishes = testing.count_sheet(catalogue, test.id).dishes
    assert dishes[1].days.final_count_on == date(2026, 12, 22)
    assert dishes[1].days.first_count_on == date(2026, 12, 14)


def test_a_changed_method_is_said(catalogue):
    """Another warmth than the published one is kept with the test as a change."""
    [number] = take_in(catalogue, LEEK)
    test = testing.start_test(catalogue, number, on=TODAY, dishes=(50,), temperature="15 °C")
    assert (test.temperature, test.note) == ("15 °C", "changed from the published method: 15 °C")


def test_counting_days_in_the_wrong_order_are_refused(catalogue):
    """A final count before the first one cannot be."""
    [number] = take_in(catalogue, LEEK)
    with pytest.raises(BadInput, match="comes after the first one"):
        testing.start_test(catalogue, number, on=TODAY, dishes=(50,), first_count_days=9, final_count_days=5)
