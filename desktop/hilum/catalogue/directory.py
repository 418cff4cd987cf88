"""Crops, varieties, growers and places as lists, and the few things that are changed of them."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sqlalchemy import Connection, func, select

from hilum.catalogue import history, names
from hilum.catalogue.opening import Job, hides_people
from hilum.catalogue.records import crop, lot, person, place, synonym, variety
from hilum.errors import BadInput


@dataclass(frozen=True, slots=True)
class CropLine:
    """A crop of this library; a figure the library has not set is None."""

    id: int
    key: str
    code: str
    name: str
    botanical_name: str
    standard_set: int | None
    interval_set: int | None
    reserve_set: int | None
    varieties: int
    lots: int


@dataclass(frozen=True, slots=True)
class VarietyLine:
    """A variety with its other names."""

    id: int
    name: str
    crop: str
    crop_key: str
    synonyms: tuple[str, ...]
    lots: int
    growing_notes: str


@dataclass(frozen=True, slots=True)
class NameLine:
    """A grower or a place grown."""

    id: int
    name: str
    note: str
    lots: int


def crop_lines(connection: Connection, *, with_lots_only: bool = False) -> tuple[CropLine, ...]:
    """Give every crop, or those that have lots, by name."""
    statement = _crops()
    if with_lots_only:
        statement = statement.having(func.count(lot.c.id) > 0)
    return tuple(CropLine(*row) for row in connection.execute(statement))


def crop_line(connection: Connection, key: str) -> CropLine:
    """Give one crop by its key."""
    row = connection.execute(_crops().where(crop.c.key == key)).one_or_none()
    if row is None:
        raise BadInput(f"There is no crop {key!r} in this catalogue.")
    return CropLine(*row)


def _crops() -> Any:
    return (
        select(
            crop.c.id, crop.c.key, crop.c.code, crop.c.name, crop.c.botanical_name, crop.c.standard_percent,
            crop.c.interval_months, crop.c.reserve_seeds, func.count(variety.c.id.distinct()), func.count(lot.c.id),
        )
        .outerjoin(variety, variety.c.crop_id == crop.c.id).outerjoin(lot, lot.c.variety_id == variety.c.id)
        .group_by(crop.c.id).order_by(crop.c.folded)
    )  # fmt: skip


def crop_key(connection: Connection, crop_id: int) -> str:
    """Give a crop's key by its id."""
    return str(connection.execute(select(crop.c.key).where(crop.c.id == crop_id)).scalar_one())


def change_crop(job: Job, crop_id: int, changes: Mapping[str, int | None]) -> None:
    """Change what the library sets for a crop."""
    history.change(job, crop, crop_id, changes)


def lots_of_crop(connection: Connection, key: str) -> tuple[int, ...]:
    """Give the ids of a crop's lots."""
    statement = (
        select(lot.c.id)
        .join(variety, variety.c.id == lot.c.variety_id)
        .join(crop, crop.c.id == variety.c.crop_id)
    )
    return tuple(connection.execute(statement.where(crop.c.key == key)).scalars())


def lots_of_variety(connection: Connection, variety_id: int) -> tuple[int, ...]:
    """Give the ids of a variety's lots."""
    return tuple(connection.execute(select(lot.c.id).where(lot.c.variety_id == variety_id)).scalars())


def variety_lines(connection: Connection, *, crop: str = "", words: str = "") -> tuple[VarietyLine, ...]:
    """Give varieties by crop and name, of one crop key or of all, narrowed by words of a name or synonym."""
    from hilum.catalogue.records import crop as crop_table

    others: dict[int, list[str]] = {}
    for row in connection.execute(select(synonym.c.variety_id, synonym.c.name).order_by(synonym.c.folded)):
        others.setdefault(row.variety_id, []).append(row.name)
    statement = (
        select(
            variety.c.id,
            variety.c.name,
            crop_table.c.name,
            crop_table.c.key,
            func.count(lot.c.id),
            variety.c.note,
        )
        .join(crop_table, crop_table.c.id == variety.c.crop_id)
        .outerjoin(lot, lot.c.variety_id == variety.c.id)
        .group_by(variety.c.id, crop_table.c.id)
        .order_by(crop_table.c.folded, variety.c.folded)
    )
    if crop:
        statement = statement.where(crop_table.c.key == crop)
    lines = [
        VarietyLine(row[0], row[1], row[2], row[3], tuple(others.get(row[0], ())), row[4], row[5])
        for row in connection.execute(statement)
    ]
    key = names.compared(words) if words.strip() else ""
    return tuple(
        line for line in lines if any(key in names.compared(name) for name in (line.name, *line.synonyms))
    )


def variety_of_lot(connection: Connection, lot_id: int) -> int:
    """Give the variety of a lot."""
    return int(connection.execute(select(lot.c.variety_id).where(lot.c.id == lot_id)).scalar_one())


def write_variety_note(job: Job, variety_id: int, text: str) -> None:
    """Write the growing notes of a variety."""
    history.change(job, variety, variety_id, {"note": text})


def rename_variety(job: Job, variety_id: int, name: str) -> None:
    """Correct a variety's name and keep the old one as a synonym."""
    name = names.clean_name(name, "variety")
    row = job.run(select(variety).where(variety.c.id == variety_id)).one()
    taken = names.find_variety(job.connection, row.crop_id, name)
    if taken is not None and taken != variety_id:
        raise BadInput(f"There is another variety “{name}” of that crop already.")
    if taken == variety_id and names.compared(name) != row.folded:
        raise BadInput(f"“{name}” is already a synonym of “{row.name}”.")
    history.change(job, variety, variety_id, {"name": name, "folded": names.compared(name)})
    if names.compared(name) != row.folded:
        history.add(job, synonym, {"variety_id": variety_id, "name": row.name, "folded": row.folded})


def move_variety(job: Job, variety_id: int, crop_id: int) -> None:
    """Move a variety to another crop; refused where that crop has one of the same name."""
    row = job.run(select(variety).where(variety.c.id == variety_id)).one()
    if names.find_variety(job.connection, crop_id, row.name) not in (None, variety_id):
        raise BadInput(f"That crop already has a variety “{row.name}”. Rename one of the two first.")
    history.change(job, variety, variety_id, {"crop_id": crop_id})


def grower_lines(connection: Connection) -> tuple[NameLine, ...]:
    """Give growers and donors, by name, with the lots they grew; nobody in the visitors' view."""
    if hides_people(connection):
        return ()
    rows = connection.execute(
        select(person.c.id, person.c.name, person.c.note, func.count(lot.c.id))
        .outerjoin(lot, lot.c.grower_id == person.c.id)
        .where(person.c.name.is_not(None))
        .group_by(person.c.id)
        .order_by(person.c.folded)
    )
    return tuple(NameLine(*row) for row in rows)


def place_lines(connection: Connection) -> tuple[NameLine, ...]:
    """Give the places grown, by name."""
    rows = connection.execute(
        select(place.c.id, place.c.name, place.c.note, func.count(lot.c.id))
        .outerjoin(lot, lot.c.place_id == place.c.id)
        .group_by(place.c.id)
        .order_by(place.c.folded)
    )
    return tuple(NameLine(*row) for row in rows)
