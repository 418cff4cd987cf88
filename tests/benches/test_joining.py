"""Joining lots: poured together or mixed, with parents and shares; and what may not be joined."""

from datetime import date

import pytest

from hilum.benches import forecasting, joining, lots, packing, preparing, reference
from hilum.benches.joining import BULKED, MIXED, Component
from hilum.benches.testing import record_test
from hilum.errors import BadInput, KeeperError
from tests.benches.conftest import FOXGLOVE, LEEK, ONION, SQUASH, TODAY, take_in

OTHER_LEEK = "Leek | Fenlock Grey | 2024 | 11.5 g | Hollin garden | Oduya | 2024-10-04"
BLUE_LEEK = "Leek | Harrow Blue | 2025 | 20 g | Ashmere plot 14 | Marit | 2025-10-04"


def test_one_variety_is_poured_together(catalogue):
    """The new lot holds both, remembers both and its shares, and has no year where they differ."""
    first, second = take_in(catalogue, LEEK, OTHER_LEEK)
    plan = joining.plan_joining(catalogue, BULKED, (Component(first), Component(second, mass_mg=1_500)))
    assert plan.amount_words == "40 g"
    assert any("different years" in words for words in plan.warnings)
    made = joining.join(catalogue, BULKED, (Component(first), Component(second, mass_mg=1_500)), on=TODAY)
    story = lots.lot_story(catalogue, made.number)
    assert (made.line.variety, made.line.year, made.line.stock) == ("Fenlock Grey", None, 40_000)
    assert story.parents == tuple(sorted((first, second)))
    assert [(each.lot, each.share_ppm) for each in story.components] == [(first, 962_500), (second, 37_500)]
    assert [lots.lot_view(catalogue, at).line.stock for at in (first, second)] == [0, 10_000]
    assert "poured together" in forecasting.lot_forecast(catalogue, made.number, on=TODAY)[1].why


def test_a_joining_is_taken_back_as_one(catalogue):
    """From the history, all the seed is where it was, and the joined lot is in no list."""
    first, second = take_in(catalogue, LEEK, OTHER_LEEK)
    made = joining.join(catalogue, BULKED, (Component(first), Component(second)), on=TODAY)
    lots.take_back(catalogue, lots.recent_jobs(catalogue, limit=1)[0].id)
    assert [lots.lot_view(catalogue, at).line.stock for at in (first, second)] == [38_500, 11_500]
    assert lots.lot_view(catalogue, made.number).line.state == "withdrawn"
    assert lots.find_lots(catalogue, lots.LotFilter(), on=TODAY).total == 2
    with pytest.raises(BadInput, match="was withdrawn"):
        joining.join(catalogue, BULKED, (Component(made.number), Component(first)), on=TODAY)


def test_two_varieties_make_a_mix_and_are_not_poured_together(catalogue):
    """A mix keeps its components' shares and the oldest of their tests, and has no forecast."""
    first, blue = take_in(catalogue, LEEK, BLUE_LEEK)
    parts = (Component(first, mass_mg=3_000), Component(blue, mass_mg=1_000))
    with pytest.raises(BadInput, match="Only lots of one variety are poured together"):
        joining.join(catalogue, BULKED, parts, on=TODAY)
    with pytest.raises(BadInput, match="A mix needs a name"):
        joining.join(catalogue, MIXED, parts, on=TODAY)
    for number, on in ((first, date(2026, 1, 10)), (blue, date(2026, 3, 1))):
        record_test(catalogue, number, on=on, seeds=[50], counts={"normal": [45, 44]}, origin="a seed house")
    made = joining.join(catalogue, MIXED, parts, on=TODAY, name="Fen and Harrow")
    assert (made.line.variety, made.line.tested_on, made.line.germination_percent) == (
        "Fen and Harrow",
        date(2026, 1, 10),
        None,
    )
    assert "the lot is a mix" in forecasting.lot_forecast(catalogue, made.number, on=TODAY)[1].why
    plan = packing.plan_packing(catalogue, made.number, seeds=20, on=TODAY)
    assert any("oldest test of its components counts (Jan 2026)" in words for words in plan.warnings)


def test_shares_are_by_seeds_where_every_seed_weight_is_known(catalogue):
    """Equal weights of large and small seed are not equal shares of plants."""
    first, blue = take_in(catalogue, LEEK, BLUE_LEEK)
    for number, mass_mg in ((first, 300), (blue, 100)):
        preparing.count(catalogue, number, on=TODAY, seeds=100, replicates_mg=[mass_mg] * 8)
    parts = (Component(first, mass_mg=3_000), Component(blue, mass_mg=3_000))
    plan = joining.plan_joining(catalogue, MIXED, parts)
    assert [(share.share_ppm, share.share_by) for share in plan.shares] == [
        (250_000, "seeds"),
        (750_000, "seeds"),
    ]


def test_what_may_not_be_joined(catalogue):
    """Held, treated, unknown or too little seed; poisonous seed with other crops; one lot alone."""
    first, second, foxglove, onion = take_in(catalogue, LEEK, OTHER_LEEK, FOXGLOVE, ONION)

    def refused(kind, *numbers, **more):
        with pytest.raises(KeeperError) as refusal:
            joining.join(catalogue, kind, [Component(number) for number in numbers], on=TODAY, **more)
        return str(refusal.value)

    assert "two different lots" in refused(BULKED, first, first)
    assert "poisonous" in refused(MIXED, foxglove, onion, name="Border")
    assert "under which crop" in refused(MIXED, first, onion, name="Alliums")
    lots.change_lot(catalogue, second, {"identity": "unknown"})
    assert "identity of lot" in refused(BULKED, first, second)
    lots.change_lot(catalogue, second, {"identity": "claimed", "treatment": "thiram"})
    assert "is on hold" in refused(BULKED, first, second)
    [mark] = [hold for hold in lots.lot_story(catalogue, second).holds if hold.lifted_on is None]
    lots.lift_hold(catalogue, mark.id, on=TODAY, why="gloves are there")
    assert "is treated seed (thiram)" in refused(BULKED, first, second)
    assert lots.lot_view(catalogue, first).line.stock == 38_500


def test_a_mix_of_crops_is_filed_under_a_crop_of_the_librarys_own(catalogue):
    """Counted seed goes in by its weight; the stock is then an estimate."""
    reference.add_crop(catalogue, "Border mix")
    leek, squash = take_in(catalogue, LEEK, SQUASH)
    made = joining.join(
        catalogue,
        MIXED,
        (Component(leek, mass_mg=2_000), Component(squash, seeds=10)),
        on=TODAY,
        name="By the wall",
        crop="Border mix",
    )
    assert (made.line.crop, made.line.unit, made.line.stock_is_estimate) == ("Border mix", "mg", True)
    assert lots.lot_view(catalogue, squash).line.stock == 30
