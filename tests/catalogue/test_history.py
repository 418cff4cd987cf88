"""The history: every edit with its before and after, and the way back, in a later session too."""

from datetime import date
from pathlib import Path

import pytest
from sqlalchemy import Table, insert, select, update

from hilum.catalogue import names, places, steps
from hilum.catalogue.history import add, change, job_edits, recent_jobs, remove, take_back
from hilum.catalogue.ledger import move
from hilum.catalogue.opening import Catalogue, open_catalogue
from hilum.catalogue.records import (
    dish,
    dish_count,
    germination_test,
    history,
    hold,
    lot,
    person,
    place,
    preparing_step,
    stay,
    store_place,
    synonym,
    variety,
)
from hilum.errors import KeeperError
from tests.catalogue.builders import A_DAY, TickingClock, a_lot


def edit(catalogue: Catalogue, lot_id: int, what: str = "change lot", **values: object) -> str:
    """Change some fields of a lot in a job of its own; gives the job's id."""
    with catalogue.job(what) as job:
        change(job, lot, lot_id, values)
        return job.id


def undo(catalogue: Catalogue, job_id: str) -> tuple[str, tuple[int, ...]]:
    with catalogue.job("take back") as job:
        return take_back(job, job_id)


def rows_of(catalogue: Catalogue, table: Table) -> list[dict[str, object]]:
    with catalogue.look() as connection:
        return [row._asdict() for row in connection.execute(select(table).order_by(table.c.id))]


def test_an_edit_keeps_before_and_after_who_and_when(catalogue: Catalogue) -> None:
    """Only what differs is noted, days as text, with the person at the bench."""
    lot_id = a_lot(catalogue)
    with catalogue.job("welcome") as job:
        catalogue_person = job.run(insert(person).values(name="Ida Fenn").returning(person.c.id)).scalar_one()
    catalogue.person_id = catalogue_person
    job_id = edit(catalogue, lot_id, notes="tall", year=2025, received_on=date(2025, 9, 3))
    with catalogue.look() as connection:
        made, last = job_edits(connection, lot_id)
    assert made.what == "take in seed"
    assert (last.job, last.what, last.person_id, last.taken_back) == (
        job_id,
        "change lot",
        catalogue_person,
        False,
    )
    assert (last.table, last.row_id) == ("lot", lot_id)
    assert last.before == {"notes": "", "received_on": "2025-10-01"}
    assert last.after == {"notes": "tall", "received_on": "2025-09-03"}
    assert last.at > made.at


def test_a_change_that_changes_nothing_leaves_no_trace(catalogue: Catalogue) -> None:
    """Saving a form as it was is no edit."""
    lot_id = a_lot(catalogue)
    with catalogue.job("change lot") as job:
        assert change(job, lot, lot_id, {"year": 2025, "notes": ""}) is False
    with catalogue.look() as connection:
        assert len(job_edits(connection, lot_id)) == 1


def test_an_edit_is_taken_back_in_a_later_session(catalogue: Catalogue, where: str | Path) -> None:
    """Whoever opens the catalogue next can still undo it, once, and undo the undoing."""
    lot_id = a_lot(catalogue)
    before = rows_of(catalogue, lot)
    job_id = edit(catalogue, lot_id, notes="tall", received_on=date(2025, 9, 3), year=None, plants=40)
    after = rows_of(catalogue, lot)
    with open_catalogue(where, clock=TickingClock()) as later:
        assert undo(later, job_id) == ("change lot", (lot_id,))
        assert rows_of(later, lot) == before
        with pytest.raises(KeeperError, match="“change lot” has already been taken back"):
            undo(later, job_id)
        with later.look() as connection:
            newest, taken, _ = recent_jobs(connection, 3)
        assert (newest.what, newest.taken_back) == ("take back", False)
        assert (taken.id, taken.taken_back) == (job_id, True)
        assert undo(later, newest.id) == ("take back", (lot_id,))
        assert rows_of(later, lot) == after
        assert undo(later, job_id) == ("change lot", (lot_id,))
        assert rows_of(later, lot) == before


def test_a_later_edit_is_taken_back_first(catalogue: Catalogue) -> None:
    """What stands on an edit keeps it in place, and the refusal says so."""
    lot_id = a_lot(catalogue)
    first, second = edit(catalogue, lot_id, notes="tall"), edit(catalogue, lot_id, notes="very tall")
    elsewhere = edit(catalogue, lot_id, plants=12)
    with pytest.raises(KeeperError, match=r"a later change stands on it\. Take that back first"):
        undo(catalogue, first)
    assert rows_of(catalogue, lot)[0]["notes"] == "very tall"
    undo(catalogue, second)
    undo(catalogue, first)
    assert rows_of(catalogue, lot)[0]["notes"] == ""
    assert rows_of(catalogue, lot)[0]["plants"] == 12, "an edit of another field does not stand on it"
    undo(catalogue, elsewhere)


def test_moving_stock_does_not_stand_on_an_edit(catalogue: Catalogue) -> None:
    """Seed drawn after a note was written does not keep the note in place."""
    lot_id = a_lot(catalogue)
    job_id = edit(catalogue, lot_id, notes="tall")
    with catalogue.job("draw") as job:
        move(job, lot_id, "sown", -500, on=A_DAY)
    undo(catalogue, job_id)
    [row] = rows_of(catalogue, lot)
    assert (row["notes"], row["stock"]) == ("", 19_500)


def test_marks_made_new_are_taken_away_again(catalogue: Catalogue) -> None:
    """A hold, a dried step, a synonym and a stay go, and come again when that is taken back."""
    lot_id = a_lot(catalogue)
    with catalogue.job("many marks") as job:
        steps.add_hold(job, lot_id, "wet", A_DAY, "felt damp")
        steps.add_step(job, lot_id, "dried", A_DAY, {"evidence": "snap test", "replicates_mg": [1, 2]})
        of_variety = job.run(select(variety.c.id)).scalar_one()
        names.add_synonym(job, of_variety, "Fenland Long")
        shelf = places.add_store_place(job, {"kind": "shelf", "name": "A", "parent_id": None})
        steps.begin_stay(job, lot_id, shelf, A_DAY, container="jar", airtight=True)
        job_id = job.id
    tables = (hold, preparing_step, synonym, store_place, stay)
    made = [rows_of(catalogue, table) for table in tables]
    assert all(len(rows) == 1 for rows in made)
    assert undo(catalogue, job_id) == ("many marks", (lot_id,))
    assert [rows_of(catalogue, table) for table in tables] == [[]] * 5
    with catalogue.look() as connection:
        [newest] = recent_jobs(connection, 1)
    undo(catalogue, newest.id)
    assert [rows_of(catalogue, table) for table in tables] == made


def test_a_hold_that_was_lifted_since_stays(catalogue: Catalogue) -> None:
    """Lifting stands on the hold."""
    lot_id = a_lot(catalogue)
    with catalogue.job("hold") as job:
        hold_id = steps.add_hold(job, lot_id, "wet", A_DAY, "")
        held = job.id
    with catalogue.job("lift") as job:
        steps.lift_hold(job, hold_id, A_DAY, "dry now")
        lifted = job.id
    with pytest.raises(KeeperError, match="a later change stands on it"):
        undo(catalogue, held)
    undo(catalogue, lifted)
    undo(catalogue, held)
    assert rows_of(catalogue, hold) == []


def test_a_name_made_on_the_spot_goes_unless_it_is_used(catalogue: Catalogue) -> None:
    """Taking back “grown at New Fold” takes the new place away too, but not while another lot was grown there."""
    first, second = a_lot(catalogue), a_lot(catalogue)

    def grown_at(lot_id: int, name: str) -> str:
        with catalogue.job("place") as job:
            change(job, lot, lot_id, {"place_id": names.place_id(job, name)})
            return job.id

    alone = grown_at(first, "New Fold")
    undo(catalogue, alone)
    assert rows_of(catalogue, place) == []
    shared, other = grown_at(first, "New Fold"), grown_at(second, "New Fold")
    undo(catalogue, shared)
    assert [row["name"] for row in rows_of(catalogue, place)] == ["New Fold"]
    assert [row["place_id"] is None for row in rows_of(catalogue, lot)] == [True, False]
    undo(catalogue, other)


def test_something_removed_comes_back_under_its_own_id(catalogue: Catalogue) -> None:
    """A removed row is noted whole, so nothing of it is lost."""
    a_lot(catalogue)
    with catalogue.job("name") as job:
        synonym_id = names.add_synonym(job, job.run(select(variety.c.id)).scalar_one(), "Fenland Long")
    before = rows_of(catalogue, synonym)
    with catalogue.job("unname") as job:
        remove(job, synonym, synonym_id)
        job_id = job.id
    assert rows_of(catalogue, synonym) == []
    undo(catalogue, job_id)
    assert rows_of(catalogue, synonym) == before
    with pytest.raises(KeeperError, match="is no longer in the catalogue"), catalogue.job("unname") as job:
        remove(job, synonym, 999)


def test_what_a_removed_row_was_is_still_in_the_lots_story(catalogue: Catalogue) -> None:
    """A hold that is gone, and the counts of a lot's dishes, are told with the lot they belonged to."""
    lot_id, other = a_lot(catalogue), a_lot(catalogue)
    with catalogue.job("hold") as job:
        hold_id = steps.add_hold(job, lot_id, "wet", A_DAY, "")
        steps.add_hold(job, other, "disease", A_DAY, "")
    with catalogue.job("unhold") as job:
        remove(job, hold, hold_id)
    with catalogue.job("test") as job:
        test_id = add(
            job, germination_test, {"lot_id": lot_id, "state": "running", "started_on": A_DAY, "seeds": 50}
        )
        dish_id = add(job, dish, {"test_id": test_id, "number": 1, "seeds": 50})
        add(job, dish_count, {"dish_id": dish_id, "on_date": A_DAY, "normal": 3})
    with catalogue.look() as connection:
        story = job_edits(connection, lot_id)
    assert [(entry.what, entry.table) for entry in story] == [
        ("take in seed", "lot"),
        ("hold", "hold"),
        ("unhold", "hold"),
        ("test", "germination_test"),
        ("test", "dish"),
        ("test", "dish_count"),
    ]


def test_there_may_be_nothing_to_take_back(catalogue: Catalogue) -> None:
    """An unknown job is said to have left nothing."""
    with pytest.raises(KeeperError, match="no such job left edits"):
        undo(catalogue, "00000000-0000-0000-0000-000000000000")


def test_recent_jobs_come_newest_first_and_whole(catalogue: Catalogue) -> None:
    """Each job is told once with all its edits, up to the limit."""
    lot_id = a_lot(catalogue)
    for number in range(4):
        edit(catalogue, lot_id, what=f"edit {number}", notes=f"note {number}", plants=number + 1)
    with catalogue.look() as connection:
        jobs = recent_jobs(connection, 3)
    assert [job.what for job in jobs] == ["edit 3", "edit 2", "edit 1"]
    assert jobs[0].edits[0].after == {"notes": "note 3", "plants": 4}


def test_nothing_is_kept_as_nothing(catalogue: Catalogue) -> None:
    """A row made new has no before at all, which a question to the database can see."""
    a_lot(catalogue)
    with catalogue.look() as connection:
        assert connection.execute(select(history.c.id).where(history.c.before.is_(None))).all() != []


def test_changing_what_is_gone_is_said_so(catalogue: Catalogue) -> None:
    """A row that another desk removed cannot be changed."""
    with pytest.raises(KeeperError, match=r"is no longer in the catalogue \(lot 77\)"):
        edit(catalogue, 77, notes="tall")
    with catalogue.job("clear") as job:
        job.run(update(person).values(name=None))
