"""Lists of lots: by words, crop, year, place, state or due date, sorted, with their total."""

from dataclasses import dataclass, replace
from datetime import date
from functools import cache
from typing import Any

from sqlalchemy import ColumnElement, Connection, and_, bindparam, func, literal_column, or_, select, true

from hilum.catalogue.crops import OPEN
from hilum.catalogue.due import WITHDRAWN
from hilum.catalogue.find import matching
from hilum.catalogue.find_words import asked_words
from hilum.catalogue.folding import fold
from hilum.catalogue.lots import LotLine, lot_lines, read_lines
from hilum.catalogue.opening import hides_people
from hilum.catalogue.pages import ENTERED, PageEnd, newest_found, page_of_lots
from hilum.catalogue.records import crop, lot, movement, person, place, store_place, variety
from hilum.errors import BadInput


@dataclass(frozen=True, slots=True)
class LotFilter:
    """Which lots are wanted; what is empty does not narrow. Words are looked for in any order."""

    words: str = ""
    crop: str = ""
    year: int | None = None
    place: str = ""
    state: str = ""
    due: bool = False
    low: bool = False
    below: bool = False
    numbers: tuple[str, ...] = ()


def list_lots(
    connection: Connection,
    wanted: LotFilter,
    *,
    on: date,
    sort: str | None = None,
    descending: bool = False,
    limit: int | None = None,
) -> tuple[tuple[LotLine, ...], int]:
    """Give the wanted lots in order and how many there are in all; `limit` shortens the list, not the count."""
    lines, _end = page_of_wanted(connection, wanted, on=on, sort=sort, descending=descending, limit=limit)
    if limit is None or len(lines) < limit:
        return lines, len(lines)
    return lines, count_wanted(connection, wanted, on)


def page_of_wanted(
    connection: Connection,
    wanted: LotFilter,
    *,
    on: date,
    sort: str | None = None,
    descending: bool = False,
    limit: int | None = None,
    after: PageEnd | None = None,
) -> tuple[tuple[LotLine, ...], PageEnd | None]:
    """Give one page of the wanted lots, from `after` on, and where the next begins; nothing is counted.

    Without a sort, lots found by words come newest first, and others by number.
    """
    narrowed = _narrowed(wanted, on)
    has_words = bool(asked_words(wanted.words))
    if has_words and sort in (None, ENTERED) and (descending or sort is None) and limit is not None:
        also = and_(*narrowed) if narrowed else None
        return newest_found(connection, wanted.words, also, limit=limit, after=after)
    if sort is None:
        sort, descending = (ENTERED, True) if has_words else ("number", descending)
    condition = _condition(connection, wanted.words, narrowed)
    many = not (has_words or wanted.crop or wanted.year or wanted.place or wanted.state or wanted.numbers)
    return page_of_lots(
        connection, condition, sort=sort, descending=descending, limit=limit, after=after, many=many
    )


def count_wanted(connection: Connection, wanted: LotFilter, on: date) -> int:
    """Give how many lots are wanted in all; among a million lots this takes longer than their first page."""
    condition = _condition(connection, wanted.words, _narrowed(wanted, on))
    return int(connection.execute(select(func.count()).select_from(lot).where(condition)).scalar_one())


def _condition(
    connection: Connection, words: str, narrowed: list[ColumnElement[bool]]
) -> ColumnElement[bool]:
    found = matching(connection, words) if words.strip() else None
    return and_(true(), *narrowed) if found is None else and_(found, *narrowed)


def _narrowed(wanted: LotFilter, on: date) -> list[ColumnElement[bool]]:
    """Give the conditions on `lot` alone, words apart."""
    parts: list[ColumnElement[bool]] = []
    if wanted.state != WITHDRAWN and not wanted.numbers:
        parts.append(lot.c.withdrawn_on.is_(None))
    if wanted.crop:
        varieties = (
            select(variety.c.id).join(crop, crop.c.id == variety.c.crop_id).where(_is_crop(wanted.crop))
        )
        parts.append(lot.c.variety_id.in_(varieties))
    if wanted.year is not None:
        parts.append(lot.c.year == wanted.year)
    if wanted.place:
        parts.append(lot.c.place_id.in_(select(place.c.id).where(place.c.folded == fold(wanted.place))))
    if wanted.state:
        parts.append(lot.c.state == wanted.state)
    if wanted.due:
        parts.append(and_(lot.c.due_bar == literal_column("''"), lot.c.due_on <= on))
    if wanted.low:
        parts.append(lot.c.low.is_(True))
    if wanted.below:
        parts.append(lot.c.below_standard.is_(True))
    if wanted.numbers:
        parts.append(lot.c.number.in_(wanted.numbers))
    return parts


def barred_lots(connection: Connection, on: date) -> tuple[LotLine, ...]:
    """Give the lots whose test date has come but which cannot be called due: under test, or too few seeds."""
    statement = (
        lot_lines().where(lot.c.due_bar != "").where(lot.c.due_on <= on).order_by(lot.c.due_on, lot.c.id)
    )
    return read_lines(connection, statement)


def one_lot(connection: Connection, lot_id: int) -> LotLine:
    """Give one lot by its id."""
    [row] = connection.execute(_one_line(), {"wanted_id": lot_id}).all()
    line = LotLine(*row)
    return replace(line, grower=None) if hides_people(connection) else line


@cache
def _one_line() -> Any:
    # Every bench asks for single lots all day long: the statement is put together once.
    return lot_lines().where(lot.c.id == bindparam("wanted_id"))


@dataclass(frozen=True, slots=True)
class MovementLine:
    """One line of a lot's ledger with the running stock after it."""

    id: int
    kind: str
    amount: int | None
    on: date
    person_id: int | None
    why: str
    corrects_id: int | None
    stock_after: int | None


def movements(connection: Connection, lot_id: int) -> tuple[MovementLine, ...]:
    """Give a lot's ledger in the order in which it was written."""
    rows = connection.execute(
        select(
            movement.c.id, movement.c.kind, movement.c.amount, movement.c.on_date, movement.c.person_id,
            movement.c.why, movement.c.corrects_id,
        )
        .where(movement.c.lot_id == lot_id)
        .order_by(movement.c.id)
    ).all()  # fmt: skip
    running: int | None = None
    lines = []
    for row in rows:
        if row.amount is not None:
            running = (running or 0) + row.amount
        lines.append(
            MovementLine(
                row.id, row.kind, row.amount, row.on_date, row.person_id, row.why, row.corrects_id, running
            )
        )
    return tuple(lines)


def moved_amount(connection: Connection, movement_id: int) -> tuple[int, int | None]:
    """Give the lot of one movement and what it moved, signed, in the lot's own unit."""
    row = connection.execute(
        select(movement.c.lot_id, movement.c.amount).where(movement.c.id == movement_id)
    ).one_or_none()
    if row is None:
        raise BadInput(f"There is no movement {movement_id} in this catalogue.")
    return int(row.lot_id), row.amount


def place_path(connection: Connection, store_place_id: int) -> str:
    """Give a store place with all that it lies in: “Cold room / Freezer 1 / Box 4”."""
    names: list[str] = []
    current: int | None = store_place_id
    while current is not None:
        row = connection.execute(
            select(store_place.c.name, store_place.c.parent_id).where(store_place.c.id == current)
        ).one()
        names.append(row.name)
        current = row.parent_id
    return " / ".join(reversed(names))


@dataclass(frozen=True, slots=True)
class OwnFields:
    """What is written of a lot beside its listed figures."""

    isolation: str
    notes: str
    plants: int | None
    donor: str | None
    moisture_percent_wb: float | None


def own_fields(connection: Connection, lot_id: int) -> OwnFields:
    """Give what is written of a lot beside its listed figures."""
    row = connection.execute(
        select(lot.c.isolation, lot.c.notes, lot.c.plants, person.c.name, lot.c.moisture_percent_wb)
        .outerjoin(person, person.c.id == lot.c.donor_id)
        .where(lot.c.id == lot_id)
    ).one()
    donor = None if hides_people(connection) else row.name
    return OwnFields(row.isolation, row.notes, row.plants, donor, row.moisture_percent_wb)


def crop_of(connection: Connection, lot_id: int) -> int:
    """Give the id of a lot's crop."""
    return int(
        connection.execute(
            select(variety.c.crop_id).join(lot, lot.c.variety_id == variety.c.id).where(lot.c.id == lot_id)
        ).scalar_one()
    )


def crop_named(connection: Connection, words: str) -> int:
    """Give the id of the crop with that key, name or code."""
    found = connection.execute(select(crop.c.id).where(_is_crop(words)).order_by(crop.c.id)).scalars().all()
    if len(found) != 1:
        trouble = "There is no crop" if not found else "More than one crop is called"
        raise BadInput(f"{trouble} “{words}”. The tab Crops of the Catalogue bench lists them all.")
    return int(found[0])


def _is_crop(words: str) -> ColumnElement[bool]:
    return or_(crop.c.key == words, crop.c.folded == fold(words), func.lower(crop.c.code) == words.lower())


def open_group_lots(connection: Connection) -> tuple[LotLine, ...]:
    """Give the lots whose crop group is still to be chosen."""
    open_crop = lot_lines().where(crop.c.key.startswith(OPEN)).where(lot.c.withdrawn_on.is_(None))
    return read_lines(connection, open_crop.order_by(lot.c.id))


def count_lots(connection: Connection) -> int:
    """Give the number of lots in the catalogue, without those that were withdrawn."""
    counted = select(func.count()).select_from(lot).where(lot.c.withdrawn_on.is_(None))
    return int(connection.execute(counted).scalar_one())


def lots_of_person(connection: Connection, person_id: int) -> tuple[LotLine, ...]:
    """Give the lots a person grew or gave."""
    of = or_(lot.c.grower_id == person_id, lot.c.donor_id == person_id)
    return read_lines(connection, lot_lines().where(of).order_by(lot.c.id))


def movements_by(connection: Connection, person_id: int) -> int:
    """Give how many movements a person entered."""
    return int(
        connection.execute(
            select(func.count()).select_from(movement).where(movement.c.person_id == person_id)
        ).scalar_one()
    )
