"""The store bench: boxes moved with all that is in them, readings, failures; the forecast and the due dates follow."""

from datetime import date
from pathlib import Path

import pytest

from hilum.benches import forecasting, lots, preparing, results, store, store_failures, store_readings
from hilum.benches.keeping import Catalogue
from hilum.errors import BadInput, KeeperError
from tests.benches.conftest import LEEK, ONION, TODAY, take_in

JAN, MAR, JUNE = date(2026, 1, 10), date(2026, 3, 5), date(2026, 6, 1)


@pytest.fixture
def stored(catalogue: Catalogue) -> tuple[Catalogue, str, dict[str, int]]:
    """Give a tested leek in a box on a cool shelf, beside a freezer."""
    [number] = take_in(catalogue, LEEK)
    ids = {}
    for name, kind, parent, c in (
        ("Shelf", "shelf", None, 5.0), ("Freezer", "freezer", None, -18.0), ("Box", "box", "Shelf", None),
    ):  # fmt: skip
        parent_id = ids.get(parent) if parent else None
        place = store.add_store_place(catalogue, name=name, kind=kind, parent_id=parent_id, temperature_c=c)
        ids[name] = place.id
    store.move_lot(catalogue, number, ids["Box"], on=JAN, container="jar", airtight=True)
    results.record_test(catalogue, number, on=MAR, seeds=[100], counts={"normal": [88]})
    return catalogue, number, ids


def dried(catalogue: Catalogue, number: str, on: date = TODAY) -> None:
    preparing.dry(catalogue, number, on=on, evidence="moisture reading", value=5.0, sealed=True)


def due(catalogue: Catalogue, number: str) -> date | None:
    return lots.lot_view(catalogue, number).line.due_on


def now_percent(catalogue: Catalogue, number: str) -> float:
    found = forecasting.lot_forecast(catalogue, number, on=TODAY)[1].now_percent
    assert found is not None
    return found


def test_a_box_goes_into_the_freezer_only_when_all_in_it_is_dry(stored):
    """The refusal names the lot and what is missing, and the box stays where it was."""
    catalogue, number, ids = stored
    with pytest.raises(BadInput, match=f"Lot {number} does not go into a place at -18 °C"):
        store.move_place(catalogue, ids["Box"], ids["Freezer"], on=TODAY)
    assert {line.path for line in store.store_places(catalogue)} == {"Shelf", "Freezer", "Shelf / Box"}
    dried(catalogue, number)
    done = store.move_place(catalogue, ids["Box"], ids["Freezer"], on=TODAY)
    assert (done.place.path, done.lots) == ("Freezer / Box", 1)
    [past] = store.place_history(catalogue, ids["Box"])
    assert (past.until_on, past.parent_id) == (TODAY, ids["Shelf"])


def test_what_lies_frozen_may_go_into_another_freezer(stored):
    """The guard asks before freezing; evidence that has grown old does not keep a box out of a second freezer."""
    catalogue, number, ids = stored
    preparing.dry(catalogue, number, on=JUNE, evidence="snap test")
    store.move_place(catalogue, ids["Box"], ids["Freezer"], on=JUNE)
    other = store.add_store_place(catalogue, name="Second freezer", kind="freezer", temperature_c=-20)
    store.move_place(catalogue, ids["Box"], other.id, on=TODAY)
    assert lots.lot_story(catalogue, number).stays[-1].path == "Second freezer / Box"


def test_the_due_date_follows_a_box_into_the_warm_and_back(stored):
    """A warmer place brings the next test nearer; taking the move back puts the old date again."""
    catalogue, number, ids = stored
    before = due(catalogue, number)
    attic = store.add_store_place(catalogue, name="Attic", kind="room", temperature_c=30)
    done = store.move_place(catalogue, ids["Box"], attic.id, on=JUNE)
    assert done.due_changed == 1
    assert due(catalogue, number) < before
    lots.take_back(catalogue, lots.recent_jobs(catalogue, limit=1)[0].id)
    assert due(catalogue, number) == before


def test_two_places_of_one_name_do_not_lie_side_by_side(stored):
    """A box is not moved beside its namesake."""
    catalogue, _number, ids = stored
    store.add_store_place(catalogue, name="box", kind="box", parent_id=ids["Freezer"])
    with pytest.raises(BadInput, match="There is a store place “Freezer / box” already"):
        store.move_place(catalogue, ids["Box"], ids["Freezer"], on=TODAY)


def test_several_lots_move_together_or_not_at_all(stored):
    """One mistyped number keeps all where they are; a lot keeps its jar when none is named."""
    catalogue, number, ids = stored
    [onion] = take_in(catalogue, ONION)
    with pytest.raises(KeeperError):
        store.move_lots(catalogue, [number, "NO-00-001-X"], ids["Shelf"], on=TODAY)
    assert lots.lot_story(catalogue, number).stays[-1].path == "Shelf / Box"
    store.move_lots(catalogue, [number, onion], ids["Shelf"], on=TODAY)
    stay = lots.lot_story(catalogue, number).stays[-1]
    assert (stay.path, stay.container, stay.airtight) == ("Shelf", "jar", True)


def test_a_box_is_divided_into_slots(stored):
    """Rows by letter, columns by number."""
    catalogue, _number, ids = stored
    made = store.add_slots(catalogue, ids["Box"], 2, 3)
    assert [line.name for line in made] == ["A1", "A2", "A3", "B1", "B2", "B3"]
    assert made[0].path == "Shelf / Box / A1"


def test_a_reading_moves_the_due_date(stored):
    """A shelf that is read warmer than it is set ages its seed faster, and the next test comes sooner."""
    catalogue, number, ids = stored
    before, percent = due(catalogue, number), now_percent(catalogue, number)
    for month in range(1, 12):
        kept = store_readings.note_reading(
            catalogue, ids["Shelf"], on=date(2026, month, 20), temperature_c=31.0
        )
    assert kept.days.new == 1
    assert due(catalogue, number) < before
    assert now_percent(catalogue, number) < percent
    newest = store_readings.place_readings(catalogue, ids["Shelf"], limit=1)
    assert [(line.on, line.temperature_c, line.origin) for line in newest] == [
        (date(2026, 11, 20), 31.0, "typed")
    ]


def test_a_reading_that_cannot_be_is_refused(stored):
    """No figure, a figure out of range, a day to come."""
    catalogue, _number, ids = stored
    for figures, on in (
        ({}, JAN),
        ({"temperature_c": 200.0}, JAN),
        ({"temperature_c": 4.0}, date(2030, 1, 1)),
    ):
        with pytest.raises(BadInput):
            store_readings.note_reading(catalogue, ids["Shelf"], on=on, **figures)


def test_a_logger_file_twice_changes_nothing_the_second_time(stored, tmp_path: Path):
    """Day figures are kept once; more readings for a day take the place of fewer."""
    catalogue, _number, ids = stored
    file = tmp_path / "shelf.csv"
    file.write_text("Time,Temp (C),RH %\n2026-03-01 06:00,3.0,40\n2026-03-01 18:00,9.0,50\n", "utf-8")
    store_readings.note_reading(catalogue, ids["Shelf"], on=date(2026, 3, 1), temperature_c=20.0)
    read = store_readings.read_logger(file, today=TODAY)
    first = store_readings.keep_logger(catalogue, ids["Shelf"], read)
    assert (first.days.new, first.days.replaced) == (0, 1)
    again = store_readings.keep_logger(catalogue, ids["Shelf"], read)
    assert (again.days.new, again.days.replaced, again.days.left) == (0, 0, 1)
    [line] = store_readings.place_readings(catalogue, ids["Shelf"])
    assert (line.temperature_c, line.lowest_c, line.highest_c, line.humidity_percent) == (6.0, 3.0, 9.0, 45.0)
    lots.take_back(catalogue, lots.recent_jobs(catalogue, limit=1)[0].id)
    [line] = store_readings.place_readings(catalogue, ids["Shelf"])
    assert (line.temperature_c, line.origin) == (20.0, "typed")


def test_a_freezer_failure_befalls_what_lay_in_it_and_is_taken_back_as_one(stored):
    """All lots in the place are listed; due dates move; one step takes it all back."""
    catalogue, number, ids = stored
    [onion] = take_in(catalogue, ONION)
    store.move_lot(catalogue, onion, ids["Shelf"], on=JAN)
    befallen = store_failures.lots_befallen(catalogue, ids["Shelf"], JUNE, JUNE)
    assert {shown.number for shown in befallen} == {number, onion}
    before, percent = due(catalogue, number), now_percent(catalogue, number)
    done = store_failures.record_failure(
        catalogue, ids["Shelf"], "too warm", from_on=JUNE, until_on=TODAY, temperature_c=38.0,
        note="door left open", leave_out=[onion],
    )  # fmt: skip
    assert [each.lot.number for each in done.lots] == [number]
    assert done.lots[0].due_moved
    assert due(catalogue, number) < before
    assert now_percent(catalogue, number) < percent
    [told] = lots.lot_story(catalogue, number).failures
    assert (told.kind, told.temperature_c, told.note) == ("too warm", 38.0, "door left open")
    assert lots.lot_story(catalogue, onion).failures == ()
    lots.take_back(catalogue, lots.recent_jobs(catalogue, limit=1)[0].id)
    assert due(catalogue, number) == before
    assert store_failures.failures_so_far(catalogue) == ()


def test_seed_that_was_opened_wet_is_not_frozen_on_its_old_evidence(stored):
    """Sealed evidence does not grow old, but damp gets past it; a new reading opens the freezer again."""
    catalogue, number, ids = stored
    dried(catalogue, number, JUNE)
    store_failures.record_failure(catalogue, ids["Box"], "opened wet", from_on=TODAY, until_on=TODAY)
    assert not preparing.may_freeze(catalogue, number, on=TODAY).allowed
    with pytest.raises(BadInput, match="does not go into a place"):
        store.move_place(catalogue, ids["Box"], ids["Freezer"], on=TODAY)


def test_a_failure_of_an_empty_place_or_without_a_figure_is_refused(stored):
    """Nothing befell nobody; too warm needs how warm."""
    catalogue, _number, ids = stored
    with pytest.raises(BadInput, match="No lot lay in Freezer"):
        store_failures.record_failure(
            catalogue, ids["Freezer"], "too warm", from_on=JUNE, until_on=JUNE, temperature_c=5.0
        )
    with pytest.raises(BadInput, match="Say how warm it got"):
        store_failures.record_failure(catalogue, ids["Box"], "too warm", from_on=JUNE, until_on=JUNE)
