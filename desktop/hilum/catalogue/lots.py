"""Lots: born with a number, a first movement and their find text; read as frozen rows."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import cache
from typing import Any

from sqlalchemy import Connection, bindparam, select, update

from hilum.catalogue import numbering
from hilum.catalogue.crops import reference_crop
from hilum.catalogue.engines import begins_with
from hilum.catalogue.find_words import forget_words, index_text, note_words
from hilum.catalogue.folding import fold
from hilum.catalogue.history import add
from hilum.catalogue.ledger import move
from hilum.catalogue.opening import Job, hides_people
from hilum.catalogue.records import crop, lot, person, place, synonym, variety

ROW_BATCH = 500


@dataclass(frozen=True, slots=True)
class NewLot:
    """All that is known of a lot when it comes in; ids of names that are already in the catalogue."""

    crop_id: int
    variety_id: int
    year: int | None
    unit: str
    amount: int | None
    received_on: date
    received_precision: str = "day"
    place_id: int | None = None
    grower_id: int | None = None
    donor_id: int | None = None
    plants: int | None = None
    isolation: str = ""
    notes: str = ""
    amount_is_estimate: bool = False
    identity: str = "claimed"
    treatment: str = ""
    is_f1: bool = False
    rights_notice: str = ""
    supplier_batch: str = ""
    made_as: str = ""


class NumberGiver:
    """Hands out lot numbers inside one job, reading what is taken once for each crop and year."""

    def __init__(self, job: Job) -> None:
        self._job = job
        self._codes: dict[int, str] = {}
        self._last: dict[tuple[str, int | None], int] = {}

    def next(self, of_crop: int, year: int | None) -> str:
        """Give the next lot number of a crop and year; serials with a check that misleads are skipped."""
        if of_crop not in self._codes:
            self._codes[of_crop] = self._job.run(select(crop.c.code).where(crop.c.id == of_crop)).scalar_one()
        code = self._codes[of_crop]
        if (code, year) not in self._last:
            self._last[code, year] = self._highest(code, year)
        serial = self._last[code, year] + 1
        while (number := numbering.compose(code, year, serial)) is None:
            serial += 1
        self._last[code, year] = serial
        return number

    def _highest(self, code: str, year: int | None) -> int:
        begins = begins_with(self._job.connection, lot.c.number, numbering.beginning(code, year))
        taken = self._job.run(select(lot.c.number).where(begins)).scalars()
        return max((numbering.serial_of(number) for number in taken), default=0)


def add_lot(job: Job, new: NewLot, numbers: NumberGiver, *, why: str = "") -> tuple[int, str]:
    """Give a lot its number, write it and its receipt in the ledger; gives its id and number."""
    number = numbers.next(new.crop_id, new.year)
    lot_id = add(
        job,
        lot,
        {
            "number": number,
            "variety_id": new.variety_id,
            "year": new.year,
            "place_id": new.place_id,
            "grower_id": new.grower_id,
            "donor_id": new.donor_id,
            "received_on": new.received_on,
            "received_precision": new.received_precision,
            "plants": new.plants,
            "isolation": new.isolation,
            "notes": new.notes,
            "identity": new.identity,
            "unit": new.unit,
            "stock_is_estimate": new.amount_is_estimate,
            "treatment": new.treatment,
            "is_f1": new.is_f1,
            "rights_notice": new.rights_notice,
            "supplier_batch": new.supplier_batch,
            "made_as": new.made_as,
        },
    )
    move(job, lot_id, "received", new.amount, on=new.received_on, why=why)
    return lot_id, number


def refresh_find_text(job: Job, lot_ids: Iterable[int]) -> None:
    """Bring the text that find looks through up to date for some lots."""
    ids = tuple(lot_ids)
    gone: set[str] = set()
    for start in range(0, len(ids), ROW_BATCH):
        part = ids[start : start + ROW_BATCH]
        rows = job.run(
            select(
                lot.c.id, lot.c.number, lot.c.year, lot.c.notes, lot.c.supplier_batch, lot.c.find_text,
                variety.c.id.label("variety_id"),
                variety.c.name.label("variety"), crop.c.name.label("crop"), crop.c.key, crop.c.botanical_name,
                person.c.name.label("grower"), place.c.name.label("place"),
            )
            .join(variety, variety.c.id == lot.c.variety_id).join(crop, crop.c.id == variety.c.crop_id)
            .outerjoin(person, person.c.id == lot.c.grower_id).outerjoin(place, place.c.id == lot.c.place_id)
            .where(lot.c.id.in_(part))
        ).all()  # fmt: skip
        others: dict[int, list[str]] = {}
        wanted = {row.variety_id for row in rows}
        for of_variety, name in job.run(
            select(synonym.c.variety_id, synonym.c.name).where(synonym.c.variety_id.in_(wanted))
        ):
            others.setdefault(of_variety, []).append(name)
        texts, noted = [], set[str]()
        for row in rows:
            reference = reference_crop(row.key)
            names = [
                row.variety, *others.get(row.variety_id, ()), row.crop,
                *(reference.names.values() if reference else ()), row.botanical_name, row.grower or "",
                row.place or "", row.notes, row.supplier_batch,
            ]  # fmt: skip
            named = fold(" ".join(names)).split()
            noted.update(named)
            figures = fold(f"{numbering.as_typed(row.number)} {row.number} {row.year or ''}").split()
            text = index_text([*figures, *named])
            gone |= set(row.find_text.split()) - set(text.split())
            texts.append({"of_lot": row.id, "text": text})
        if texts:
            note_words(job, noted)
            job.run(
                update(lot).where(lot.c.id == bindparam("of_lot")).values(find_text=bindparam("text")), texts
            )
    # A name that was erased must not live on as a suggestion.
    forget_words(job, gone)


@dataclass(frozen=True, slots=True)
class LotLine:
    """A lot as lists show it; a figure that is not known is None."""

    id: int
    number: str
    crop: str
    crop_key: str
    botanical_name: str
    variety: str
    year: int | None
    place_grown: str | None
    grower: str | None
    received_on: date
    received_precision: str
    unit: str
    stock: int | None
    stock_is_estimate: bool
    thousand_seed_weight_ug: int | None
    germination_percent: int | None
    tested_on: date | None
    due_on: date | None
    due_why: str
    due_bar: str
    below_standard: bool | None
    low: bool
    state: str
    identity: str
    version: int
    standard_set: int | None
    interval_set: int | None
    reserve_set: int | None
    treatment: str
    is_f1: bool
    rights_notice: str
    supplier_batch: str
    made_as: str
    withdrawn_on: date | None
    # Of its variety, in the library's own words.
    growing_notes: str


@cache
def lot_lines() -> Any:
    """Give the statement that lists lots as `LotLine` columns; callers add their own conditions and order."""
    return (
        select(
            lot.c.id, lot.c.number, crop.c.name.label("crop"), crop.c.key.label("crop_key"), crop.c.botanical_name,
            variety.c.name.label("variety"), lot.c.year, place.c.name.label("place_grown"),
            person.c.name.label("grower"), lot.c.received_on, lot.c.received_precision, lot.c.unit, lot.c.stock,
            lot.c.stock_is_estimate, lot.c.thousand_seed_weight_ug, lot.c.germination_percent, lot.c.tested_on,
            lot.c.due_on, lot.c.due_why, lot.c.due_bar, lot.c.below_standard, lot.c.low, lot.c.state,
            lot.c.identity, lot.c.version, crop.c.standard_percent.label("standard_set"),
            crop.c.interval_months.label("interval_set"), crop.c.reserve_seeds.label("reserve_set"),
            lot.c.treatment, lot.c.is_f1, lot.c.rights_notice, lot.c.supplier_batch, lot.c.made_as, lot.c.withdrawn_on,
            variety.c.note.label("growing_notes"),
        )
        .join(variety, variety.c.id == lot.c.variety_id).join(crop, crop.c.id == variety.c.crop_id)
        .outerjoin(place, place.c.id == lot.c.place_id).outerjoin(person, person.c.id == lot.c.grower_id)
    )  # fmt: skip


def read_lines(connection: Connection, statement: Any) -> tuple[LotLine, ...]:
    """Run a listing made from `lot_lines`; the visitors' view leaves the growers out."""
    return shown_lines(connection, connection.execute(statement))


def shown_lines(connection: Connection, rows: Iterable[Sequence[Any]]) -> tuple[LotLine, ...]:
    """Make lines of rows that hold the columns of `lot_lines`; the visitors' view leaves the growers out."""
    lines = tuple(LotLine(*row) for row in rows)
    return tuple(replace(line, grower=None) for line in lines) if hides_people(connection) else lines


def lines_of(connection: Connection, lot_ids: Iterable[int]) -> tuple[LotLine, ...]:
    """Give some lots by their ids."""
    ids, found = tuple(lot_ids), list[LotLine]()
    for start in range(0, len(ids), ROW_BATCH):
        found += read_lines(connection, lot_lines().where(lot.c.id.in_(ids[start : start + ROW_BATCH])))
    return tuple(found)
