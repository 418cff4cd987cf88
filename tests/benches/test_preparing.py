"""Preparing: each step leaves a dated record, the stock follows the scale, and damp seed is not frozen."""

from datetime import date

import pytest

from hilum.benches import lots, preparing, store
from hilum.errors import BadInput, KeeperError
from tests.benches.conftest import LEEK, RADISH, SQUASH, TODAY, take_in


def test_cleaning_takes_the_loss_out_of_stock(catalogue):
    """38.5 g before, 35 g after: 3.5 g leave as one movement."""
    [number] = take_in(catalogue, LEEK)
    done = preparing.clean(catalogue, number, on=TODAY, mass_mg=35_000)
    assert done.lot.line.stock == 35_000
    assert "3.5 g lost in cleaning (9.1 %)" in done.words
    assert lots.lot_story(catalogue, number).movements[-1].kind == "cleaned"


def test_a_lot_does_not_grow_in_cleaning(catalogue):
    """A weight above the one before is refused and nothing is written."""
    [number] = take_in(catalogue, LEEK)
    with pytest.raises(BadInput, match="cannot weigh 40 g after cleaning"):
        preparing.clean(catalogue, number, on=TODAY, mass_mg=40_000)
    story = lots.lot_story(catalogue, number)
    assert (story.lot.line.stock, story.steps) == (38_500, ())


def test_the_first_weighing_makes_an_unknown_stock_known(catalogue):
    """A jar half full becomes 60 g; the lot is no longer "to be weighed"."""
    [number] = take_in(catalogue, RADISH)
    done = preparing.weigh(catalogue, number, on=TODAY, mass_mg=60_000)
    assert (done.lot.line.stock, done.lot.line.state) == (60_000, "in hand")


def test_a_counted_lot_is_not_weighed(catalogue):
    """Stock has one unit a lot."""
    [number] = take_in(catalogue, SQUASH)
    with pytest.raises(BadInput, match="booked in counted seeds"):
        preparing.weigh(catalogue, number, on=TODAY, mass_mg=60_000)


def test_a_thousand_seed_weight_turns_stock_into_seeds(catalogue):
    """Four hundreds of 0.25 g are 2.5 g a thousand; 38.5 g are then 15,400 seeds."""
    [number] = take_in(catalogue, LEEK)
    done = preparing.count(catalogue, number, on=TODAY, seeds=100, replicates_mg=[250, 250, 250, 250])
    assert done.step.thousand_seed_weight_ug == 2_500_000
    assert (done.lot.stock_seeds, done.lot.stock_seeds_is_estimate) == (15_400, True)


def test_damp_seed_is_not_frozen(catalogue):
    """Without evidence of dryness the freezer is refused with what to do; with it, allowed."""
    [number] = take_in(catalogue, LEEK)
    with pytest.raises(KeeperError, match="was not frozen"):
        preparing.freeze(catalogue, number, on=TODAY, temperature_c=-18)
    preparing.dry(catalogue, number, on=TODAY, evidence="moisture reading", value=14.0)
    with pytest.raises(KeeperError, match="was not frozen"):
        preparing.freeze(catalogue, number, on=TODAY, temperature_c=-18)
    preparing.dry(catalogue, number, on=TODAY, evidence="moisture reading", value=4.5)
    done = preparing.freeze(catalogue, number, on=TODAY, until=date(2026, 12, 2), temperature_c=-18)
    assert "Frozen for 7 days at -18 °C" in done.words
    assert "closed jar warm up" in done.words


def test_a_freezing_of_the_past_is_recorded_as_a_fact(catalogue):
    """What was done before the library knew is written down, with the guard's words as a warning."""
    [number] = take_in(catalogue, LEEK)
    done = preparing.freeze(catalogue, number, on=date(2025, 11, 1), temperature_c=-18, already_done=True)
    assert done.step.kind == "frozen"
    assert done.warnings


def test_recalcitrant_seed_is_never_frozen(catalogue):
    """Chayote seed dies when it is dried or frozen, however dry."""
    [number] = take_in(catalogue, "Chayote | Hill Green | 2025 | 200 g | | | 2025-10-04")
    preparing.dry(catalogue, number, on=TODAY, evidence="moisture reading", value=5.0)
    with pytest.raises(KeeperError, match="recalcitrant"):
        preparing.freeze(catalogue, number, on=TODAY, temperature_c=-18)


def test_the_guard_stands_at_the_freezer_door_too(catalogue):
    """Moving damp seed into a place at -18 °C is refused, and so is cooling the place it lies in."""
    [number] = take_in(catalogue, LEEK)
    freezer = store.add_store_place(catalogue, name="Freezer", kind="freezer", temperature_c=-18)
    box = store.add_store_place(catalogue, name="Box 1", kind="box", parent_id=freezer.id)
    with pytest.raises(KeeperError, match="does not go into a place at -18 °C"):
        store.move_lot(catalogue, number, box.id, on=TODAY)
    room = store.add_store_place(catalogue, name="Room", kind="room", temperature_c=16)
    store.move_lot(catalogue, number, room.id, on=TODAY, container="jar", airtight=True)
    with pytest.raises(KeeperError, match="does not go into a place at -20 °C"):
        store.change_store_place(catalogue, room.id, {"temperature_c": -20.0}, on=TODAY)
    assert [place.temperature_c for place in store.store_places(catalogue) if place.name == "Room"] == [16]


def test_a_lot_in_hand_leaves_the_list_when_it_is_stored(catalogue):
    """The list shows what was done and what comes next until the lot has its place."""
    [number] = take_in(catalogue, LEEK)
    preparing.clean(catalogue, number, on=TODAY, mass_mg=35_000)
    [waiting] = preparing.in_hand(catalogue, on=TODAY)
    assert (waiting.done, waiting.next_step) == (("cleaned",), "dried")
    shelf = store.add_store_place(catalogue, name="Shelf", kind="shelf")
    shown = store.move_lot(catalogue, number, shelf.id, on=TODAY)
    assert preparing.in_hand(catalogue, on=TODAY) == ()
    assert shown.line.state == "stored"


def test_moving_on_ends_the_stay_before(catalogue):
    """A lot is in one place at a time, and its stays have no gap."""
    [number] = take_in(catalogue, LEEK)
    first = store.add_store_place(catalogue, name="Shelf A", kind="shelf")
    second = store.add_store_place(catalogue, name="Shelf B", kind="shelf")
    store.move_lot(catalogue, number, first.id, on=date(2026, 1, 2))
    store.move_lot(catalogue, number, second.id, on=date(2026, 3, 4))
    stays = lots.lot_story(catalogue, number).stays
    assert [(stay.path, stay.from_on, stay.until_on) for stay in stays] == [
        ("Shelf A", date(2026, 1, 2), date(2026, 3, 4)),
        ("Shelf B", date(2026, 3, 4), None),
    ]
    with pytest.raises(BadInput, match="since 2026-03-04"):
        store.move_lot(catalogue, number, first.id, on=date(2026, 2, 1))
