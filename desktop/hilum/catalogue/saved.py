"""Searches that are kept under a name of the keeper's own."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, select

from hilum.catalogue.find_records import saved_search
from hilum.catalogue.folding import fold, tidy
from hilum.catalogue.history import add, change, remove
from hilum.catalogue.opening import Job
from hilum.errors import BadInput

LONGEST_NAME = 60


@dataclass(frozen=True, slots=True)
class SavedLine:
    """One saved search: its name and what is wanted, as plain values."""

    name: str
    wanted: Mapping[str, Any]


def saved_searches(connection: Connection) -> tuple[SavedLine, ...]:
    """Give every saved search by name."""
    rows = connection.execute(
        select(saved_search.c.name, saved_search.c.wanted).order_by(saved_search.c.folded)
    )
    return tuple(SavedLine(row.name, row.wanted) for row in rows)


def saved_search_named(connection: Connection, name: str) -> SavedLine:
    """Give one saved search by its name, whatever the case and accents; refused with the names there are."""
    lines = saved_searches(connection)
    for line in lines:
        if fold(line.name) == fold(name):
            return line
    there = ", ".join(f"“{line.name}”" for line in lines)
    raise BadInput(
        f"There is no saved search “{tidy(name)}”. "
        + (f"There are: {there}." if there else "None is saved yet.")
    )


def save_search(job: Job, name: str, wanted: Mapping[str, Any]) -> bool:
    """Save a search under a name; says whether one of that name was put in its place."""
    shown = tidy(name)
    if not fold(shown):
        raise BadInput("A saved search needs a name, for example: beans to regrow.")
    if len(shown) > LONGEST_NAME:
        raise BadInput(f"The name of a saved search has at most {LONGEST_NAME} characters.")
    values = {"name": shown, "folded": fold(shown), "wanted": dict(wanted)}
    there = job.run(select(saved_search.c.id).where(saved_search.c.folded == values["folded"])).scalar()
    if there is None:
        add(job, saved_search, values)
        return False
    change(job, saved_search, there, values)
    return True


def forget_search(job: Job, name: str) -> str:
    """Remove a saved search; gives its name as it was written."""
    line = saved_search_named(job.connection, name)
    remove(
        job,
        saved_search,
        job.run(select(saved_search.c.id).where(saved_search.c.folded == fold(line.name))).scalar_one(),
    )
    return line.name
