"""Every edit with its before and after: who, when, in which job; and the way back."""

from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import datetime
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

from hilum.catalogue import find_records, joining_records, records, season_records, store_records
from hilum.catalogue.changed_air import has_ring, lots_in, places_told_of
from hilum.catalogue.counter_records import event, hand_out, promised_return
from hilum.catalogue.noted_values import plain, restored
from hilum.catalogue.opening import Job
from hilum.catalogue.records import history, movement
from hilum.errors import KeeperError

# What a job may have made new and still be taken back by removing it.
_MARKS = (
    records.hold, records.preparing_step, records.stay, records.synonym, records.dish_count, records.grow_out,
    find_records.saved_search,
    season_records.spoon_count, season_records.season_list, season_records.season_row, season_records.regrowing,
    promised_return, store_records.place_past, store_records.reading, store_records.store_failure,
    store_records.store_failure_lot,
)  # fmt: skip
# Made on the spot beside other edits; one that something else uses by now stays.
_NAMES = (records.variety, records.crop, records.place, records.person, records.store_place, event)


# Rows of these are never removed, so no note of their removal is looked for.
_STAYING = (movement, records.germination_test, records.packet_batch, joining_records.lot_component)
# Undoes the making of one row that cannot be removed; gives the lot it belongs to.
Unmaking = Callable[[Job, Row[Any]], int]


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
    takes_back: str | None = None


@dataclass(frozen=True, slots=True)
class PastJob:
    """One job that left edits, with all of them in the order in which they were made.

    `takes_back` names the earlier job that it took back, if that was its work.
    """

    id: str
    what: str
    at: datetime
    person_id: int | None
    taken_back: bool
    edits: tuple[Edit, ...]
    takes_back: str | None = None


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


def note_movement(job: Job, movement_id: int, lot_id: int, repeats: int | None = None) -> None:
    """Note that the job moved stock; `repeats` is the movement that this one enters anew."""
    told = {"lot_id": lot_id} if repeats is None else {"lot_id": lot_id, "repeats": repeats}
    _note(job, movement, movement_id, None, told)


def note_hand_out(job: Job, line_id: int, batch_id: int, repeats: int | None = None) -> None:
    """Note that the job handed packets out; `repeats` is the line that this one enters anew."""
    told = {"batch_id": batch_id} if repeats is None else {"batch_id": batch_id, "repeats": repeats}
    _note(job, hand_out, line_id, None, told)


def take_back(
    job: Job, old_job: str, unmaking: Mapping[str, Unmaking] | None = None
) -> tuple[str, tuple[int, ...]]:
    """Undo the edits of one earlier job, newest first; gives its words and the lots it touched.

    Refused where a later edit stands on it, and where it made what cannot be unmade. `unmaking` says by table how
    rows that are never removed are unmade. Taking back a taking back puts the first job in force again.
    """
    others = unmaking or {}
    old_job, edits = _to_undo(job, old_job)
    what = edits[0].what
    for edit in reversed(edits):
        if not _is_made_in(edit, others):
            _refuse_unmaking(edit)
    work = replace(job, takes_back=old_job)
    touched: set[int] = set()
    for edit in edits:
        try:
            touched |= (
                {others[edit.table_name](work, edit)} if _is_made_in(edit, others) else _undo(work, edit)
            )
        except IntegrityError as error:
            raise stands_on(what) from error
    if places := places_told_of(edits):
        if has_ring(job.connection):
            raise stands_on(what)
        touched |= lots_in(job.connection, places)
    job.run(update(history).where(history.c.job == old_job).values(taken_back_by=job.id))
    if edits[0].takes_back is not None:
        job.run(update(history).where(history.c.job == edits[0].takes_back).values(taken_back_by=None))
    return what, tuple(sorted(touched))


def _to_undo(job: Job, old_job: str) -> tuple[str, list[Row[Any]]]:
    """Give the job that is meant and its edits, newest first; what put a job in force again stands for that job."""
    while True:
        edits = job.run(select(history).where(history.c.job == old_job).order_by(history.c.id.desc())).all()
        if not edits:
            raise KeeperError("There is nothing to take back: no such job left edits in the catalogue.")
        if any(edit.taken_back_by for edit in edits):
            raise KeeperError(f"“{edits[0].what}” has already been taken back.")
        first = None if edits[0].takes_back is None else _taken_by(job, edits[0].takes_back)
        if first is None:
            return old_job, edits
        old_job = first


def _taken_by(job: Job, job_id: str) -> str | None:
    found: str | None = job.run(select(history.c.takes_back).where(history.c.job == job_id).limit(1)).scalar()
    return found


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
        PastJob(
            job,
            edits[0].what,
            edits[0].at,
            edits[0].person_id,
            edits[0].taken_back,
            tuple(edits),
            edits[0].takes_back,
        )
        for job, edits in found.items()
    )


def later_edits(connection: Connection, lot_id: int, edit: Row[Any]) -> tuple[Row[Any], ...]:
    """Give the edits of a lot by other jobs than an edit's own that came after it and are in force, oldest first."""
    rows = connection.execute(
        select(history)
        .where(_of_lot(lot_id))
        .where(history.c.id > edit.id, history.c.job != edit.job)
        .where(history.c.taken_back_by.is_(None), history.c.takes_back.is_(None))
        .order_by(history.c.id)
    )
    return tuple(rows)


def newest_change(connection: Connection, table: Table, row_id: int, column: str) -> Edit | None:
    """Give the newest edit that changed one column of a row, or None where it is as it was made."""
    rows = connection.execute(
        select(history)
        .where(history.c.table_name == table.name, history.c.row_id == row_id)
        .where(history.c.before.is_not(None), history.c.after.is_not(None))
        .order_by(history.c.id.desc())
    )
    return next((_edit(row) for row in rows if column in row.after), None)


def _is_made_in(edit: Row[Any], tables: Mapping[str, Unmaking]) -> bool:
    return edit.before is None and edit.table_name in tables


def _refuse_unmaking(edit: Row[Any]) -> None:
    table = records.metadata.tables[edit.table_name]
    if table is movement:
        raise KeeperError(
            f"“{edit.what}” moved stock and cannot be taken back as an edit. Correct its movement instead."
        )
    if table is hand_out:
        raise KeeperError(
            f"“{edit.what}” handed packets out and cannot be taken back as an edit. Take it back at the Counter."
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
            raise stands_on(edit.what)
        values = restored(table, edit.before)
        job.run(insert(table).values(**values))
        _note(job, table, edit.row_id, None, values)
    elif (
        row is None
        or any(plain(getattr(row, name)) != value for name, value in edit.after.items())
        or (edit.before is None and _changed_since(job, edit))
    ):
        raise stands_on(edit.what)
    elif edit.before is None and table in _NAMES:
        with suppress(IntegrityError), job.connection.begin_nested():
            remove(job, table, edit.row_id)
    elif edit.before is None:
        remove(job, table, edit.row_id)
    else:
        change(job, table, edit.row_id, restored(table, edit.before))
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
    later = (
        select(history.c.after)
        .where(history.c.table_name == table, history.c.row_id == row_id)
        .where(history.c.id > edit.id, history.c.job.not_in((edit.job, job.id)))
        .where(history.c.taken_back_by.is_(None), history.c.takes_back.is_(None))
    )
    found: Sequence[Row[Any]] = job.run(later).all()
    return found


def stands_on(what: str, later: str = "") -> KeeperError:
    """Give the refusal to take back what a later change stands on."""
    named = f"a later change (“{later}”)" if later else "a later change"
    return KeeperError(f"“{what}” cannot be taken back: {named} stands on it. Take that back first.")


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
            if table in _STAYING:
                parts.append(and_(history.c.table_name == table.name, history.c.row_id.in_(now)))
                continue
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
        takes_back=row.takes_back,
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
            "before": None if before is None else {name: plain(value) for name, value in before.items()},
            "after": None if after is None else {name: plain(value) for name, value in after.items()},
            "takes_back": job.takes_back,
        },
    )


@cache
def _noting() -> Any:
    return insert(history)
