"""The print book: what was printed, when and by whom, and what each label said."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from sqlalchemy import Connection, func, insert, select

from hilum.catalogue.opening import Job
from hilum.catalogue.print_records import print_job, print_label
from hilum.catalogue.records import lot, person
from hilum.errors import BadInput

_GROWER = "grower"


@dataclass(frozen=True, slots=True)
class BookedLabel:
    """One label as it was printed: its words, how often, and the lot it belongs to."""

    key: str
    fields: Mapping[str, str]
    code: str | None
    copies: int
    lot_id: int | None
    behind: str = ""


@dataclass(frozen=True, slots=True)
class PrintedJob:
    """One job of the print book."""

    id: int
    at: datetime
    on: date
    person_id: int | None
    title: str
    design: str
    label_stock: str
    choices: Mapping[str, Any]
    labels: int
    pages: int
    sha256: str
    went_to: str
    again_id: int | None


def add_print(
    job: Job,
    values: Mapping[str, Any],
    labels: Sequence[BookedLabel],
) -> int:
    """Write one print job with its labels; gives its id. It is a log of its own, so the history does not hold it."""
    own = {"at": job.at, "person_id": job.person_id, **values}
    job_id = int(job.run(insert(print_job).values(own).returning(print_job.c.id)).scalar_one())
    growers = dict(job.run(select(lot.c.id, lot.c.grower_id).where(_any_of(labels))).all()) if labels else {}
    rows = [
        {
            "print_job_id": job_id,
            "place": place,
            "lot_id": each.lot_id,
            "grower_id": growers.get(each.lot_id) if each.fields.get(_GROWER) else None,
            "key": each.key,
            "fields": {name: text for name, text in each.fields.items() if name != _GROWER},
            "code": each.code,
            "copies": each.copies,
            "behind": each.behind,
        }
        for place, each in enumerate(labels, start=1)
    ]
    job.run(insert(print_label), rows)
    return job_id


def _any_of(labels: Sequence[BookedLabel]) -> Any:
    wanted = sorted({each.lot_id for each in labels if each.lot_id is not None})
    # An engine takes some thousands of values a statement; beyond that all lots are as quickly read.
    return lot.c.id.in_(wanted) if len(wanted) <= _MOST_NAMED else lot.c.id > 0


_MOST_NAMED = 500


def print_jobs(
    connection: Connection, *, lot_id: int | None = None, limit: int = 200
) -> tuple[PrintedJob, ...]:
    """Give the newest print jobs, newest first; with a lot only those that printed a label of it."""
    statement = select(print_job).order_by(print_job.c.id.desc()).limit(limit)
    if lot_id is not None:
        with_it = select(print_label.c.print_job_id).where(print_label.c.lot_id == lot_id)
        statement = statement.where(print_job.c.id.in_(with_it))
    return tuple(_job(row) for row in connection.execute(statement))


def one_print(connection: Connection, job_id: int) -> PrintedJob:
    """Give one print job by its number."""
    row = connection.execute(select(print_job).where(print_job.c.id == job_id)).one_or_none()
    if row is None:
        newest = connection.execute(select(func.max(print_job.c.id))).scalar()
        there = "It is empty." if newest is None else f"Its newest job is {newest}."
        raise BadInput(f"The print book has no job {job_id}. {there}")
    return _job(row)


def booked_labels(connection: Connection, job_id: int) -> tuple[BookedLabel, ...]:
    """Give the labels of one job in their order; a grower who was erased since has no name."""
    rows = connection.execute(
        select(print_label, person.c.name.label("grower"))
        .outerjoin(person, person.c.id == print_label.c.grower_id)
        .where(print_label.c.print_job_id == job_id)
        .order_by(print_label.c.place)
    )
    return tuple(
        BookedLabel(
            row.key, {**row.fields, _GROWER: row.grower or ""}, row.code, row.copies, row.lot_id, row.behind
        )
        for row in rows
    )


def _job(row: Any) -> PrintedJob:
    return PrintedJob(
        row.id, row.at, row.on_date, row.person_id, row.title, row.design, row.label_stock, row.choices, row.labels,
        row.pages, row.sha256, row.went_to, row.again_id,
    )  # fmt: skip
