"""Every edit with its before and after: who, when, in which job; and the way back."""

from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import date, datetime
from functools import cache
from typing import Any

from sqlalchemy import (
    ColumnElement,
    Connection,
    Row,
    Table,
    and_,
    delete,
    func,
    insert,
    null,
    or_,
    select,
    update,
)
from sqlalchemy.exc import IntegrityError

from hilum.catalogue import records, store_records
from hilum.catalogue.opening import Job
from hilum.catalogue.records import history, movement
from hilum.catalogue.store_tree import lots_ever_at, read_store_tree
from hilum.errors import KeeperError

# What a job may have made new and still be taken back. A lot, a germination test or a batch has moved stock.
_MARKS = (
    records.hold, records.preparing_step, records.stay, records.synonym, records.dish_count, store_records.place_past,
    store_records.reading, store_records.store_failure, store_records.store_failure_lot,
)  # fmt: skip
# Rows that say how a store place is: lots hear of them through the air they lie in.
_AIR = (records.store_place, store_records.place_past, store_records.reading)
# Made on the spot beside other edits; one that something else uses by now stays.
_NAMES = (records.variety, records.crop, records.place, records.person, records.store_place)


class EditedMeanwhile(KeeperError):
    """Somebody else changed the row since it was shown; the words say what it is now."""


@dataclass(frozen=True, slots=True)
class Edit:
    """One row changed, added (no `before`) or removed (no `after`); dates stand as text."""

    job: str
    what: str
    at: datetime
    person_id: int | None
    taken_back: bool
    table: str
    row_id: int
    before: Mapping[str, Any] | None
    after: Mapping[str, Any] | None


@dataclass(frozen=True, slots=True)
class PastJob:
    """One job that left edits, with all of them in the order in which they were made."""

    id: str
    what: str
    at: datetime
    person_id: int | None
    taken_back: bool
    edits: tuple[Edit, ...]


def add(job: Job, table: Table, values: Mapping[str, Any]) -> int:
    """Insert one row and note it in the history; gives its id."""
    row_id = int(job.run(_inserting(table), dict(values)).scalar_one())
    _note(job, table, row_id, None, values)
    return row_id


@cache
def _inserting(table: Table) -> Any:
    # Putting a statement together costs more than running it; an intake runs thousands.
    return insert(table).returning(table.c.id)


def change(job: Job, table: Table, row_id: int, values: Mapping[str, Any]) -> bool:
    """Change one row where it differs and note before and after; says whether anything differed."""
    columns = [table.c[name] for name in values]
    # The row stays as it was read until the job ends, at another desk too.
    row = job.run(select(*columns).where(table.c.id == row_id).with_for_update()).one_or_none()
    if row is None:
        raise KeeperError(f"What was to be changed is no longer in the catalogue ({table.name} {row_id}).")
    before = {name: getattr(row, name) for name in values if getattr(row, name) != values[name]}
    if not before:
        return False
    after = {name: values[name] for name in before}
    job.run(update(table).where(table.c.id == row_id).values(**after))
    _note(job, table, row_id, before, after)
    return True


def remove(job: Job, table: Table, row_id: int) -> None:
    """Delete one row and note all of it, so that it can come back under its own id."""
    row = job.run(select(table).where(table.c.id == row_id)).one_or_none()
    if row is None:
        raise KeeperError(f"What was to be removed is no longer in the catalogue ({table.name} {row_id}).")
    job.run(delete(table).where(table.c.id == row_id))
    _note(job, table, row_id, row._asdict(), None)


def note_movement(job: Job, movement_id: int, lot_id: int) -> None:
    """Note that the job moved stock: it is corrected in the ledger and never taken back as an edit."""
    _note(job, movement, movement_id, None, {"lot_id": lot_id})


def take_back(job: Job, old_job: str) -> tuple[str, tuple[int, ...]]:
    """Undo the edits of one earlier job, newest first; gives its words and the lots it touched.

    Refused where a later edit stands on it, where it moved stock (a movement is corrected instead), and where
    it made what cannot be unmade: a lot, a germination test, a packet batch.
    """
    edits = job.run(select(history).where(history.c.job == old_job).order_by(history.c.id.desc())).all()
    if not edits:
        raise KeeperError("There is nothing to take back: no such job left edits in the catalogue.")
    what = edits[0].what
    if any(edit.taken_back_by for edit in edits):
        raise KeeperError(f"“{what}” has already been taken back.")
    for edit in reversed(edits):
        _refuse_unmaking(edit)
    touched: set[int] = set()
    for edit in edits:
        try:
            touched |= _undo(job, edit)
        except IntegrityError as error:
            raise _stands_on(what) from error
    touched |= _in_changed_air(job, edits)
    job.run(update(history).where(history.c.job == old_job).values(taken_back_by=job.id))
    # Taking back a taking back puts the first job in force again, so it may be taken back anew.
    job.run(update(history).where(history.c.taken_back_by == old_job).values(taken_back_by=None))
    return what, tuple(sorted(touched))


def job_edits(connection: Connection, lot_id: int) -> tuple[Edit, ...]:
    """Give every edit of a lot and of what belongs to it, oldest first; the ledger shows its movements itself."""
    edits = select(history).where(_of_lot(lot_id)).where(history.c.table_name != movement.name)
    rows = connection.execute(edits.order_by(history.c.id))
    return tuple(_edit(row) for row in rows)


def recent_jobs(connection: Connection, limit: int) -> tuple[PastJob, ...]:
    """Give the newest jobs that left edits, newest first, each with all of its edits."""
    newest = (
        select(history.c.job, func.max(history.c.id).label("last"))
        .group_by(history.c.job)
        .order_by(func.max(history.c.id).desc())
        .limit(limit)
        .subquery()
    )
    rows = connection.execute(
        select(history)
        .join(newest, newest.c.job == history.c.job)
        .order_by(newest.c.last.desc(), history.c.id)
    )
    found: dict[str, list[Edit]] = {}
    for row in rows:
        found.setdefault(row.job, []).append(_edit(row))
    return tuple(
        PastJob(job, edits[0].what, edits[0].at, edits[0].person_id, edits[0].taken_back, tuple(edits))
        for job, edits in found.items()
    )


def _refuse_unmaking(edit: Row[Any]) -> None:
    table = records.metadata.tables[edit.table_name]
    if table is movement:
        raise KeeperError(
            f"“{edit.what}” moved stock and cannot be taken back as an edit. Correct its movement instead."
        )
    if edit.before is None and table not in _MARKS + _NAMES:
        raise KeeperError(
            f"“{edit.what}” made something new in the catalogue and cannot be taken back as an edit. "
            "Correct its movements, or discard the lot, instead."
        )


def _undo(job: Job, edit: Row[Any]) -> set[int]:
    """Undo one edit if the row is still as the edit left it; gives the lots it belongs to."""
    table = records.metadata.tables[edit.table_name]
    row = job.run(select(table).where(table.c.id == edit.row_id).with_for_update()).one_or_none()
    if edit.after is None:
        if row is not None:
            raise _stands_on(edit.what)
        values = _restored(table, edit.before)
        job.run(insert(table).values(**values))
        _note(job, table, edit.row_id, None, values)
    elif (
        row is None
        or any(_plain(getattr(row, name)) != value for name, value in edit.after.items())
        or (edit.before is None and _changed_since(job, edit))
    ):
        raise _stands_on(edit.what)
    elif edit.before is None and table in _NAMES:
        with suppress(IntegrityError), job.connection.begin_nested():
            remove(job, table, edit.row_id)
    elif edit.before is None:
        remove(job, table, edit.row_id)
    else:
        change(job, table, edit.row_id, _restored(table, edit.before))
    if table is records.lot:
        return {edit.row_id}
    known = row._mapping if row is not None else edit.before
    return {int(known["lot_id"])} if "lot_id" in table.c else set()


def _changed_since(job: Job, edit: Row[Any]) -> bool:
    """Say whether another job's edit of the same row is in force, or of the place whose past the row tells."""
    if _later(job, edit, edit.table_name, edit.row_id):
        return True
    if edit.table_name != store_records.place_past.name or edit.after is None:
        return False
    place = _later(job, edit, records.store_place.name, edit.after["store_place_id"])
    dated = {"parent_id", "temperature_c", "humidity_percent"}
    return any(dated & set(row.after or {}) for row in place)


def _later(job: Job, edit: Row[Any], table: str, row_id: int) -> Sequence[Row[Any]]:
    """Give later edits of a row that are in force; one taken back is not, nor is its taking back."""
    taking_back = select(history.c.taken_back_by).where(history.c.taken_back_by.is_not(None))
    later = (
        select(history.c.after)
        .where(history.c.table_name == table, history.c.row_id == row_id)
        .where(history.c.id > edit.id, history.c.job.not_in((edit.job, job.id)))
        .where(history.c.taken_back_by.is_(None), history.c.job.not_in(taking_back))
    )
    found: Sequence[Row[Any]] = job.run(later).all()
    return found


def _in_changed_air(job: Job, edits: Sequence[Row[Any]]) -> set[int]:
    """Give the lots that lie or have lain in store places whose air was changed; no place may lie in itself."""
    names = {table.name for table in _AIR}
    places = set()
    for edit in edits:
        if edit.table_name in names:
            told = edit.after or edit.before or {}
            places.add(edit.row_id if edit.table_name == records.store_place.name else told["store_place_id"])
    if not places:
        return set()
    if read_store_tree(job.connection).has_ring():
        raise _stands_on(edits[0].what)
    return set(lots_ever_at(job.connection, places))


def _stands_on(what: str) -> KeeperError:
    return KeeperError(f"“{what}” cannot be taken back: a later change stands on it. Take that back first.")


def _of_lot(lot_id: int) -> ColumnElement[bool]:
    """Give the condition for edits of a lot, of rows that name it, and of its tests' dishes and counts."""
    tests = select(records.germination_test.c.id).where(records.germination_test.c.lot_id == lot_id)
    dishes = select(records.dish.c.id).where(records.dish.c.test_id.in_(tests))
    counts = select(records.dish_count.c.id).where(records.dish_count.c.dish_id.in_(dishes))
    parts: list[ColumnElement[bool]] = [and_(history.c.table_name == "lot", history.c.row_id == lot_id)]
    parts += [
        and_(history.c.table_name == name, history.c.row_id.in_(ids))
        for name, ids in (("dish", dishes), ("dish_count", counts))
    ]
    for table in records.metadata.sorted_tables:
        if "lot_id" in table.c and "id" in table.c:
            now = select(table.c.id).where(table.c.lot_id == lot_id)
            # A removed row is no longer in its table: its own words name the lot.
            gone = (
                select(history.c.row_id)
                .where(history.c.table_name == table.name)
                .where(history.c.after.is_(null()))
                .where(history.c.before["lot_id"].as_integer() == lot_id)
            )
            parts.append(
                and_(
                    history.c.table_name == table.name,
                    or_(history.c.row_id.in_(now), history.c.row_id.in_(gone)),
                )
            )
    return or_(*parts)


def _edit(row: Row[Any]) -> Edit:
    return Edit(
        job=row.job,
        what=row.what,
        at=row.at,
        person_id=row.person_id,
        taken_back=row.taken_back_by is not None,
        table=row.table_name,
        row_id=row.row_id,
        before=row.before,
        after=row.after,
    )


def _note(
    job: Job, table: Table, row_id: int, before: Mapping[str, Any] | None, after: Mapping[str, Any] | None
) -> None:
    # A JSON column would keep Python's None as the JSON text "null", which is not the same as nothing.
    job.run(
        _noting(),
        {
            "job": job.id,
            "what": job.what,
            "at": job.at,
            "person_id": job.person_id,
            "table_name": table.name,
            "row_id": row_id,
            "before": None if before is None else {name: _plain(value) for name, value in before.items()},
            "after": None if after is None else {name: _plain(value) for name, value in after.items()},
        },
    )


@cache
def _noting() -> Any:
    return insert(history)


def _plain(value: Any) -> Any:
    return value.isoformat() if isinstance(value, date) else value


def _restored(table: Table, values: Mapping[str, Any]) -> dict[str, Any]:
    """Turn a note back into a row's values: dates stand in it as text."""
    restored: dict[str, Any] = {}
    for name, value in values.items():
        kind = table.c[name].type.python_type
        is_day = isinstance(value, str) and issubclass(kind, date)
        restored[name] = kind.fromisoformat(value) if is_day else value
    return restored
