"""The store through time: what a lot lay in on each day, whatever was moved, cooled or read, on both engines."""

import shutil
from datetime import date, timedelta
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sqlalchemy import text

from hilum.catalogue import failures, history, places, steps
from hilum.catalogue.engines import make_engine
from hilum.catalogue.opening import NEWEST_REVISION, Catalogue, new_catalogue, place, revision_of, shown
from hilum.catalogue.outlook import lot_histories
from hilum.catalogue.places import StorePlaceLine
from hilum.catalogue.store_air import read_store_air
from hilum.catalogue.store_records import reading
from hilum.catalogue.store_tree import read_store_tree
from hilum.catalogue.upgrading import STEPS, create, upgrade
from hilum.errors import BadInput, KeeperError
from hilum.seedlore.steady_warmth import steady_temperature_c
from hilum.seedlore.storage_history import Stay
from tests.catalogue.builders import TickingClock, a_lot

JAN, MAR, MAY = date(2026, 1, 10), date(2026, 3, 5), date(2026, 5, 20)
A_DAY = timedelta(days=1)


def a_place(
    catalogue: Catalogue, name: str, parent: int | None = None, c: float | None = None, **more: float
) -> int:
    with catalogue.job(f"make {name}") as job:
        values = {"name": name, "kind": "box", "parent_id": parent, "temperature_c": c, **more}
        return places.add_store_place(job, values)


def put(catalogue: Catalogue, lot_id: int, place: int, on: date, airtight: bool | None = True) -> None:
    with catalogue.job("move") as job:
        steps.begin_stay(job, lot_id, place, on, container="jar", airtight=airtight)


def change(catalogue: Catalogue, place: int, on: date | None, **values: object) -> str:
    with catalogue.job("change a place") as job:
        places.change_store_place(job, place, values, on=on)
        return job.id


def read(catalogue: Catalogue, place: int, on: date, c: float | None, humidity: float | None = None) -> None:
    with catalogue.job("read") as job:
        values = {"store_place_id": place, "on_date": on, "temperature_c": c, "lowest_c": c, "highest_c": c}
        history.add(job, reading, {**values, "ageing_c": c, "humidity_percent": humidity, "readings": 1})


def heard(catalogue: Catalogue, lot_id: int) -> tuple[Stay, ...]:
    with catalogue.look() as connection:
        return lot_histories(connection, [lot_id])[lot_id].stays


def warmth(catalogue: Catalogue, lot_id: int) -> list[tuple[date, float | None]]:
    return [(stay.from_on, stay.storage_c) for stay in heard(catalogue, lot_id)]


def line_of(catalogue: Catalogue, place: int) -> StorePlaceLine:
    with catalogue.look() as connection:
        return next(line for line in places.store_places(connection) if line.id == place)


def test_a_moved_box_changes_what_is_heard_from_that_day_on(catalogue: Catalogue) -> None:
    """The stay goes on; the air of the shelf counts until the day before, that of the freezer from the day itself."""
    shelf, freezer = a_place(catalogue, "Shelf", c=18.0), a_place(catalogue, "Freezer", c=-18.0)
    box = a_place(catalogue, "Box", shelf)
    lot = a_lot(catalogue)
    put(catalogue, lot, box, JAN)
    change(catalogue, box, MAR, parent_id=freezer)
    assert warmth(catalogue, lot) == [(JAN, 18.0), (MAR, -18.0)]
    first, second = heard(catalogue, lot)
    assert (first.until_on, second.until_on) == (MAR, None)
    # Another freezer is another store: it has never been tested there.
    assert second.lain_from == MAR
    with catalogue.look() as connection:
        assert len(steps.stays_of(connection, lot)) == 1


def test_a_place_set_colder_is_colder_from_its_day_on_and_a_correction_always_was(
    catalogue: Catalogue,
) -> None:
    """Cooling has a day; a figure that was noted wrongly counts for the time before as well."""
    fridge = a_place(catalogue, "Fridge", c=8.0)
    lot = a_lot(catalogue)
    put(catalogue, lot, fridge, JAN)
    change(catalogue, fridge, MAR, temperature_c=4.0)
    assert warmth(catalogue, lot) == [(JAN, 8.0), (MAR, 4.0)]
    change(catalogue, fridge, None, temperature_c=5.0)
    assert warmth(catalogue, lot) == [(JAN, 8.0), (MAR, 5.0)]


def test_a_lot_that_came_after_the_move_hears_only_the_new_place(catalogue: Catalogue) -> None:
    """What the box was before a lot lay in it is nothing to the lot."""
    shelf, freezer = a_place(catalogue, "Shelf", c=18.0), a_place(catalogue, "Freezer", c=-18.0)
    box = a_place(catalogue, "Box", shelf)
    change(catalogue, box, MAR, parent_id=freezer)
    lot = a_lot(catalogue)
    put(catalogue, lot, box, MAY)
    assert warmth(catalogue, lot) == [(MAY, -18.0)]


def test_no_place_lies_in_itself(catalogue: Catalogue) -> None:
    """A room is not put into its own shelf, not even on another day."""
    room = a_place(catalogue, "Room")
    shelf = a_place(catalogue, "Shelf", room)
    with pytest.raises(BadInput, match="cannot lie in itself"):
        change(catalogue, room, MAR, parent_id=shelf)
    assert line_of(catalogue, room).parent_id is None


def test_a_place_does_not_change_before_it_last_changed(catalogue: Catalogue) -> None:
    """The past of a place is told in order, and the refusal says what to do."""
    fridge = a_place(catalogue, "Fridge", c=8.0)
    change(catalogue, fridge, MAR, temperature_c=4.0)
    with pytest.raises(BadInput, match="cannot have changed before that"):
        change(catalogue, fridge, JAN, temperature_c=2.0)
    change(catalogue, fridge, MAR, temperature_c=3.0)
    with catalogue.look() as connection:
        [past] = places.past_of(connection, fridge)
    assert (past.until_on, past.temperature_c) == (MAR, 8.0)


def test_a_move_is_taken_back_with_its_past(catalogue: Catalogue) -> None:
    """What was before comes back, and the lots in the place are told to be reckoned anew."""
    shelf, freezer = a_place(catalogue, "Shelf", c=18.0), a_place(catalogue, "Freezer", c=-18.0)
    box = a_place(catalogue, "Box", shelf)
    lot = a_lot(catalogue)
    put(catalogue, lot, box, JAN)
    moved = change(catalogue, box, MAR, parent_id=freezer)
    with catalogue.job("take back") as job:
        assert history.take_back(job, moved)[1] == (lot,)
    assert warmth(catalogue, lot) == [(JAN, 18.0)]


def test_a_move_with_a_later_change_on_it_is_not_taken_back(catalogue: Catalogue) -> None:
    """Taking back the move alone would tell a past that never was."""
    shelf, freezer = a_place(catalogue, "Shelf", c=18.0), a_place(catalogue, "Freezer", c=-18.0)
    box = a_place(catalogue, "Box", shelf)
    moved = change(catalogue, box, MAR, parent_id=freezer)
    change(catalogue, box, MAY, temperature_c=-20.0)
    with pytest.raises(KeeperError, match="a later change stands on it"), catalogue.job("take back") as job:
        history.take_back(job, moved)


def test_taking_back_never_puts_a_place_into_itself(catalogue: Catalogue) -> None:
    """The box came out of the crate, the crate went into the box: the first is not undone alone."""
    crate = a_place(catalogue, "Crate")
    box = a_place(catalogue, "Box", crate)
    came_out = change(catalogue, box, JAN, parent_id=None)
    change(catalogue, crate, MAR, parent_id=box)
    with pytest.raises(KeeperError, match="a later change stands on it"), catalogue.job("take back") as job:
        history.take_back(job, came_out)


def test_a_month_with_readings_counts_as_they_say(catalogue: Catalogue) -> None:
    """Two days of February are February; the newest month counts up to its newest day; then as the place is set."""
    fridge = a_place(catalogue, "Fridge", c=4.0, humidity_percent=40.0)
    lot = a_lot(catalogue)
    put(catalogue, lot, fridge, JAN, airtight=None)
    read(catalogue, fridge, date(2026, 2, 3), 2.0, 50.0)
    read(catalogue, fridge, date(2026, 2, 20), 12.0, 60.0)
    read(catalogue, fridge, date(2026, 3, 11), 6.0)
    steady = round(steady_temperature_c([2.0, 12.0]), 1)
    assert steady > 7.0
    assert warmth(catalogue, lot) == [
        (JAN, 4.0), (date(2026, 2, 1), steady), (date(2026, 2, 20), steady), (date(2026, 3, 1), 6.0),
        (date(2026, 3, 11), 4.0),
    ]  # fmt: skip
    assert [stay.humidity_percent for stay in heard(catalogue, lot)] == [40.0, 55.0, 40.0, 40.0, 40.0]
    # The same fridge all along, however it is read.
    assert {stay.lain_from for stay in heard(catalogue, lot)} == {JAN}


def test_a_place_without_a_figure_goes_on_as_it_was_read(catalogue: Catalogue) -> None:
    """One reading is better than none; with a figure of its own the place needs most of a year of readings."""
    shed, cellar = a_place(catalogue, "Shed"), a_place(catalogue, "Cellar", c=9.0)
    for each in (shed, cellar):
        read(catalogue, each, JAN, 7.0)
    with catalogue.look() as connection:
        air = read_store_air(connection)
    assert [piece.storage_c for piece in air.of(shed)] == [7.0]
    assert air.of(cellar)[-1].storage_c == 9.0
    for month in range(2, 12):
        read(catalogue, cellar, date(2026, month, 15), 7.0)
    with catalogue.look() as connection:
        assert read_store_air(connection).of(cellar)[-1].storage_c == 7.0


def test_a_reading_in_the_freezer_counts_for_the_box_in_it(catalogue: Catalogue) -> None:
    """A box without a figure of its own takes what was read around it, one with a figure keeps to that."""
    freezer = a_place(catalogue, "Freezer", c=-18.0)
    plain, cooler = a_place(catalogue, "Plain", freezer), a_place(catalogue, "Cooler", freezer, -25.0)
    read(catalogue, freezer, date(2026, 2, 27), -12.0)
    with catalogue.look() as connection:
        air = read_store_air(connection)
    in_february = [piece.storage_c for piece in air.during(plain, date(2026, 2, 1), date(2026, 2, 28))]
    assert in_february == [-12.0, -18.0]
    assert {piece.storage_c for piece in air.of(cooler)} == {-25.0}


def test_a_failure_counts_for_its_days_and_for_its_lots_alone(catalogue: Catalogue) -> None:
    """From the first day to the last; the lot that was elsewhere hears nothing of it."""
    freezer = a_place(catalogue, "Freezer", c=-18.0)
    lot, other = a_lot(catalogue), a_lot(catalogue, variety="Other")
    for each in (lot, other):
        put(catalogue, each, freezer, JAN)
    with catalogue.job("failure") as job:
        failures.add_failure(job, freezer, "too warm", MAR, MAR + A_DAY, 21.0, "", [lot])
    assert warmth(catalogue, lot) == [(JAN, -18.0), (MAR, 21.0), (MAR + 2 * A_DAY, -18.0)]
    assert warmth(catalogue, other) == [(JAN, -18.0)]
    assert heard(catalogue, lot)[-1].lain_from == JAN


def test_what_was_measured_before_a_jar_got_wet_is_heard_no_more(catalogue: Catalogue) -> None:
    """The reading speaks until the jar was opened cold; a reading after that speaks from then on."""
    freezer = a_place(catalogue, "Freezer", c=-18.0)
    lot = a_lot(catalogue)
    with catalogue.job("dry") as job:
        steps.add_step(job, lot, "dried", JAN, {"evidence": "moisture reading", "evidence_value": 5.5})
    put(catalogue, lot, freezer, JAN)
    with catalogue.job("failure") as job:
        failures.add_failure(job, freezer, "opened wet", MAR, MAR, None, "", [lot])
    assert [stay.moisture_percent_wb for stay in heard(catalogue, lot)] == [5.5, None]
    with catalogue.job("dry") as job:
        steps.add_step(job, lot, "dried", MAY, {"evidence": "moisture reading", "evidence_value": 6.5})
    assert [stay.moisture_percent_wb for stay in heard(catalogue, lot)] == [5.5, 6.5]


def test_a_catalogue_of_the_first_version_keeps_its_stays(where: str | Path, tmp_path: Path) -> None:
    """The step adds what a place was before and what a container weighs; nothing that was written changes."""
    first = tmp_path / "first"
    shutil.copytree(STEPS, first, ignore=shutil.ignore_patterns("__pycache__", "000[2-9]*", "00[1-9]?_*"))
    url = place(where)
    with Catalogue(make_engine(url, 10), shown(url), TickingClock()) as catalogue:
        create(catalogue, steps=first)
        with catalogue.job("write by hand") as job:
            for statement in (
                "INSERT INTO store_place (id, kind, name, temperature_c) VALUES (1, 'fridge', 'Fridge', 4)",
                "INSERT INTO crop (id, key, code, name, folded) VALUES (1, 'own:x', 'OWN', 'X', 'x')",
                "INSERT INTO variety (id, crop_id, name, folded) VALUES (1, 1, 'Y', 'y')",
                "INSERT INTO lot (id, number, variety_id, received_on, unit) VALUES (1, 'A', 1, '2026-01-01', 'mg')",
                "INSERT INTO stay (lot_id, store_place_id, from_on, container) VALUES (1, 1, '2026-01-02', 'jar')",
            ):
                job.run(text(statement))
        upgrade(catalogue, "0001")
        with catalogue.look() as connection:
            [stay] = steps.stays_of(connection, 1)
            assert (stay.container, stay.tare_mg, stay.temperature_c) == ("jar", None, 4.0)
            assert [air.storage_c for air in read_store_air(connection).of(1)] == [4.0]
            assert revision_of(connection) == NEWEST_REVISION


FIRST = date(2026, 1, 1)
DEEDS = st.lists(
    st.tuples(
        st.integers(0, 40),
        st.sampled_from(("lot", "box", "set", "read")),
        st.integers(0, 3),
        st.integers(0, 3),
        st.sampled_from((None, -18.0, 4.0, 17.0)),
    ),
    max_size=14,
)


@settings(max_examples=40)
@given(deeds=DEEDS)
def test_whatever_is_moved_each_day_is_heard_once_and_as_it_was(
    tmp_path_factory: pytest.TempPathFactory, deeds: list[tuple[int, str, int, int, float | None]]
) -> None:
    """No gap, no overlap, and on every day the air in which the lot lay on that day, told by a day-by-day diary."""
    file = tmp_path_factory.mktemp("store") / "library.hilum"
    with new_catalogue(file, clock=TickingClock()) as catalogue:
        ids = [a_place(catalogue, name) for name in "ABCD"]
        lot = a_lot(catalogue, received_on=FIRST)
        put(catalogue, lot, ids[0], FIRST)
        days = [FIRST + day * A_DAY for day in range(45)]
        parents: dict[date, dict[int, int | None]] = {day: dict.fromkeys(ids) for day in days}
        figures: dict[date, dict[int, float | None]] = {day: dict.fromkeys(ids) for day in days}
        lies: dict[date, int] = dict.fromkeys(days, ids[0])
        for number, kind, which, to, c in sorted(deeds, key=lambda deed: deed[0]):
            on = FIRST + number * A_DAY
            later = [day for day in days if day >= on]
            try:
                if kind == "lot":
                    put(catalogue, lot, ids[to], on)
                    lies.update(dict.fromkeys(later, ids[to]))
                elif kind == "box":
                    change(catalogue, ids[which], on, parent_id=ids[to])
                    for day in later:
                        parents[day][ids[which]] = ids[to]
                elif kind == "set":
                    change(catalogue, ids[which], on, temperature_c=c)
                    for day in later:
                        figures[day][ids[which]] = c
            except BadInput:
                # A place would lie in itself: nothing changes, in the diary as in the catalogue.
                continue

        def expected(day: date) -> float | None:
            current: int | None = lies[day]
            while current is not None:
                if figures[day][current] is not None:
                    return figures[day][current]
                current = parents[day][current]
            return None

        with catalogue.look() as connection:
            assert not read_store_tree(connection).has_ring()
            lines = steps.stays_of(connection, lot)
        for before, after in pairwise(lines):
            assert before.until_on == after.from_on
        told = heard(catalogue, lot)
        assert told[0].from_on == FIRST
        assert told[-1].until_on is None
        for first, then in pairwise(told):
            assert first.until_on == then.from_on
        for day in days:
            [piece] = [s for s in told if s.from_on <= day and (s.until_on is None or day < s.until_on)]
            assert piece.storage_c == expected(day), day
