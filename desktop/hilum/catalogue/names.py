"""Varieties, growers and places by name: found as they are spelt or folded, made on the spot where new."""

from collections.abc import Callable

from sqlalchemy import Connection, Table, insert, select

from hilum.catalogue.crops import crop_id
from hilum.catalogue.folding import fold, tidy
from hilum.catalogue.history import add
from hilum.catalogue.opening import Job, hides_people
from hilum.catalogue.records import person, place, synonym, variety
from hilum.errors import BadInput

LONGEST_NAME = 300


def clean_name(text: str, what: str) -> str:
    """Give a name as it is stored, or refuse one that is empty or absurdly long."""
    name = tidy(text)
    if not name:
        raise BadInput(f"The {what} has no name.")
    if len(name) > LONGEST_NAME:
        raise BadInput(
            f"The {what} has a name of {len(name)} letters; at most {LONGEST_NAME} are kept. Shorten it."
        )
    return name


def variety_id(job: Job, of_crop: int, name: str) -> int:
    """Give the variety of a crop by its name or by one of its synonyms, made on the spot where new."""
    name = clean_name(name, "variety")
    found = find_variety(job.connection, of_crop, name)
    return (
        found
        if found is not None
        else add(job, variety, {"crop_id": of_crop, "name": name, "folded": compared(name)})
    )


def find_variety(connection: Connection, of_crop: int, name: str) -> int | None:
    """Give the variety of a crop by name or synonym, or None."""
    key = compared(name)
    found = connection.execute(
        select(variety.c.id).where(variety.c.crop_id == of_crop).where(variety.c.folded == key)
    ).scalar()
    if found is None:
        found = connection.execute(
            select(variety.c.id)
            .join(synonym, synonym.c.variety_id == variety.c.id)
            .where(variety.c.crop_id == of_crop)
            .where(synonym.c.folded == key)
        ).scalar()
    return None if found is None else int(found)


def add_synonym(job: Job, of_variety: int, name: str) -> int:
    """Add another name of a variety; refused where the crop already has a variety of that name."""
    name = clean_name(name, "synonym")
    crop_of = job.run(select(variety.c.crop_id).where(variety.c.id == of_variety)).scalar_one()
    taken = find_variety(job.connection, crop_of, name)
    if taken is not None:
        shown = job.run(select(variety.c.name).where(variety.c.id == taken)).scalar_one()
        raise BadInput(f"“{name}” is already a name of the variety “{shown}”.")
    return add(job, synonym, {"variety_id": of_variety, "name": name, "folded": compared(name)})


def person_id(job: Job, name: str) -> int:
    """Give the person or garden of that name, made on the spot where new."""
    return _named(job, person, clean_name(name, "grower"))


def place_id(job: Job, name: str) -> int:
    """Give the place grown of that name, made on the spot where new."""
    return _named(job, place, clean_name(name, "place grown"))


def find_named(connection: Connection, table: Table, name: str) -> int | None:
    """Give the person or place of that name, or None."""
    found = connection.execute(select(table.c.id).where(table.c.folded == compared(name))).scalar()
    return None if found is None else int(found)


class NameBook:
    """Names looked up or made inside one job, each asked of the database once: a list repeats them row after row."""

    def __init__(self, job: Job) -> None:
        self._job = job
        self._known: dict[tuple[object, ...], int] = {}

    def crop(self, key: str) -> int:
        """Give the crop of that key."""
        return self._once(("crop", key), lambda: crop_id(self._job.connection, key))

    def variety(self, of_crop: int, name: str) -> int:
        """Give the variety of a crop, made on the spot where new."""
        return self._once(("variety", of_crop, compared(name)), lambda: variety_id(self._job, of_crop, name))

    def person(self, name: str | None) -> int | None:
        """Give the person of that name, made on the spot where new; None for no name."""
        return self._once(("person", compared(name)), lambda: person_id(self._job, name)) if name else None

    def place(self, name: str | None) -> int | None:
        """Give the place grown of that name, made on the spot where new; None for no name."""
        return self._once(("place", compared(name)), lambda: place_id(self._job, name)) if name else None

    def _once(self, key: tuple[object, ...], ask: Callable[[], int]) -> int:
        if key not in self._known:
            self._known[key] = ask()
        return self._known[key]


def _named(job: Job, table: Table, name: str) -> int:
    found = find_named(job.connection, table, name)
    if found is not None:
        return found
    values = {"name": name, "folded": compared(name)}
    if table is person:
        # A person's name never goes into the history, which outlives an erasure.
        return int(job.run(insert(person).values(**values).returning(person.c.id)).scalar_one())
    return add(job, table, values)


def compared(name: str) -> str:
    """Give a name as it is compared with others."""
    # A name of marks alone, such as “+”, folds to nothing and is compared as it is.
    return fold(name) or tidy(name)


def names_like(connection: Connection, table: Table, typed: str, limit: int) -> tuple[str, ...]:
    """Give names that hold what was typed, those that begin with it first."""
    if table is person and hides_people(connection):
        return ()
    key = fold(typed).replace("\\", "\\\\").replace("%", "\\%").replace("_", "\\_")
    query = select(table.c.name, table.c.folded).where(table.c.folded.like(f"%{key}%", escape="\\"))
    if table is person:
        query = query.where(person.c.name.is_not(None))
    rows = connection.execute(query.order_by(table.c.folded).limit(200)).all()
    ordered = sorted(rows, key=lambda row: (not row.folded.startswith(fold(typed)), row.folded))
    return tuple(row.name for row in ordered[:limit])


def varieties_like(
    connection: Connection, crop_key_id: int | None, typed: str, limit: int
) -> tuple[str, ...]:
    """Give variety names of a crop (of every crop where None) that hold what was typed, nearest first."""
    key = fold(typed)
    query = select(variety.c.name, variety.c.folded)
    if crop_key_id is not None:
        query = query.where(variety.c.crop_id == crop_key_id)
    rows = connection.execute(query.where(variety.c.folded.contains(key, autoescape=True)).limit(400)).all()
    ordered = sorted(set(rows), key=lambda row: (not row.folded.startswith(key), row.folded))
    return tuple(dict.fromkeys(row.name for row in ordered))[:limit]
