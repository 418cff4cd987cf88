"""Intake bench: a list of lots, typed in a grid or read from a file, is understood, shown, and taken in."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from hilum.benches.wording import partial_date
from hilum.catalogue import crops, names
from hilum.catalogue.amounts import shown_amount
from hilum.catalogue.due import recompute
from hilum.catalogue.duplicates import KnownLot, known_lots, lot_key, variety_ids
from hilum.catalogue.lots import NewLot, NumberGiver, add_lot, refresh_find_text
from hilum.catalogue.names import NameBook
from hilum.catalogue.opening import Catalogue, Job
from hilum.catalogue.records import person, place
from hilum.errors import BadInput
from hilum.exchange.columns import MEANINGS
from hilum.exchange.dates import DATE_ORDERS, PartialDate, date_words
from hilum.exchange.intake_rows import Choices, IntakeReading, ReadRow, Refusal, understand
from hilum.exchange.tables import Table, read_table, table_from_cells
from hilum.exchange.units import UNITS
from hilum.seedlore.crops import all_crops, crop, crop_index, crop_name

__all__ = [
    "DATE_ORDERS",
    "MEANINGS",
    "UNITS",
    "Choices",
    "IntakePlan",
    "PlannedRow",
    "Refusal",
    "Table",
    "crop_key_of",
    "plan_file",
    "plan_rows",
    "plan_table",
    "read_table",
    "row_words",
    "suggest",
    "take_in",
]

LANGUAGES = {"en_gb": ("en_gb", "en_us"), "en_us": ("en_us", "en_gb")}
NEW, ALREADY_HERE, ASK = "new", "already here", "ask"
# What the grid asks for, in its order; the words are those the reader knows as headings.
GRID_COLUMNS = (
    "Crop", "Variety", "Year", "Weight", "Place grown", "Grower", "Received", "Plants", "Isolation", "Notes",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class PlannedRow:
    """One understood row and what taking it in would mean."""

    read: ReadRow
    status: str
    lot: str | None
    words: str


@dataclass(frozen=True, slots=True)
class IntakePlan:
    """A list as it was understood: rows that would become lots, rows to ask about, rows refused with their reason."""

    reading: IntakeReading
    rows: tuple[PlannedRow, ...]

    @property
    def refused(self) -> tuple[Refusal, ...]:
        """Rows that could not be understood, and rows that are already here."""
        here = (
            Refusal(row=planned.read.row, column="", why=planned.words, suggestion=None)
            for planned in self.rows
            if planned.status == ALREADY_HERE
        )
        return tuple(sorted((*self.reading.refused, *here), key=lambda refusal: refusal.row))


@dataclass(frozen=True, slots=True)
class Accepted:
    """One row that has become a lot."""

    row: int
    lot: str
    taken_for: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TakenIn:
    """What an intake did, row by row; every row of the list is in one of the two."""

    accepted: tuple[Accepted, ...]
    refused: tuple[Refusal, ...]
    job: str | None


def plan_file(catalogue: Catalogue, file: Path, *, today: date, choices: Choices | None = None) -> IntakePlan:
    """Read a CSV or XLSX list and say what each row would become; nothing is written."""
    return plan_table(catalogue, read_table(file), today=today, choices=choices)


def plan_rows(
    catalogue: Catalogue, rows: Sequence[Sequence[str]], *, today: date, choices: Choices | None = None
) -> IntakePlan:
    """Understand rows typed in the grid, in the order of GRID_COLUMNS, by the same reader as a file."""
    return plan_table(
        catalogue, table_from_cells(GRID_COLUMNS, rows, first_number=1), today=today, choices=choices
    )


def plan_table(
    catalogue: Catalogue, table: Table, *, today: date, choices: Choices | None = None
) -> IntakePlan:
    """Understand a table and compare its rows with the lots that are here; nothing is written."""
    languages = LANGUAGES.get(
        catalogue.settings().language, (catalogue.settings().language, "en_gb", "en_us")
    )
    reading = understand(table, crops=crop_index(languages), today=today, choices=choices)
    return IntakePlan(reading, tuple(_compared(catalogue, reading.understood)))


def _compared(catalogue: Catalogue, rows: Iterable[ReadRow]) -> Iterable[PlannedRow]:
    rows = tuple(rows)
    with catalogue.look() as connection:
        varieties = variety_ids(connection, ((_crop_key(row), row.variety) for row in rows))
        known = known_lots(connection, set(varieties.values()))
    seen: dict[tuple[object, ...], int] = {}
    for row in rows:
        words = (_crop_key(row), names.compared(row.variety), row.year, names.compared(row.place_grown or ""),
                 names.compared(row.came_from or ""), row.amount, row.unit, row.received_on)  # fmt: skip
        if words in seen:
            yield PlannedRow(
                row, ALREADY_HERE, None, f"The same as row {seen[words]} of this list, word for word."
            )
            continue
        seen[words] = row.row
        variety = varieties.get((_crop_key(row), row.variety))
        candidates = (
            known.get(lot_key(variety, row.year, row.place_grown, row.came_from), []) if variety else []
        )
        yield _against(row, candidates)


def _against(row: ReadRow, candidates: Sequence[KnownLot]) -> PlannedRow:
    for lot in candidates:
        if (lot.amount, lot.unit, lot.received_on) == (row.amount, row.unit, row.received_on):
            return PlannedRow(
                row,
                ALREADY_HERE,
                lot.number,
                f"Already here as lot {lot.number}: nothing in this row is different.",
            )
    if candidates:
        lot = candidates[0]
        difference = (
            f"{shown_amount(row.amount, row.unit)}, {partial_date(row.received_on, row.received_precision)} here; "
            f"{shown_amount(lot.amount, lot.unit)}, {lot.received_on.isoformat()} there"
        )
        return PlannedRow(
            row, ASK, lot.number,
            f"Lot {lot.number} has the same crop, variety, year, place and grower ({difference}). "
            "Take it in only if it is another lot.",
        )  # fmt: skip
    return PlannedRow(row, NEW, None, "")


def _crop_key(row: ReadRow) -> str:
    return row.crop_key if row.crop_key is not None else crops.OPEN + (row.open_group or "")


def take_in(catalogue: Catalogue, plan: IntakePlan, *, anyway: frozenset[int] = frozenset()) -> TakenIn:
    """Make lots of the new rows, and of the rows to ask about that are named in `anyway`: all in one transaction."""
    wanted = [
        planned
        for planned in plan.rows
        if planned.status == NEW or (planned.status == ASK and planned.read.row in anyway)
    ]
    asked = tuple(
        Refusal(row=planned.read.row, column="", why=planned.words, suggestion=None)
        for planned in plan.rows
        if planned.status == ASK and planned.read.row not in anyway
    )
    refused = tuple(sorted((*plan.refused, *asked), key=lambda refusal: refusal.row))
    if not wanted:
        return TakenIn((), refused, None)
    with catalogue.job(f"take in {len(wanted)} lots" if len(wanted) != 1 else "take in a lot") as job:
        numbers, book = NumberGiver(job), NameBook(job)
        made = [(planned, *add_lot(job, _new_lot(job, book, planned.read), numbers)) for planned in wanted]
        ids = [lot_id for _, lot_id, _ in made]
        refresh_find_text(job, ids)
        recompute(job, ids)
        accepted = tuple(
            Accepted(planned.read.row, number, planned.read.taken_for) for planned, _, number in made
        )
        return TakenIn(accepted, refused, job.id)


def _new_lot(job: Job, book: NameBook, row: ReadRow) -> NewLot:
    crop_id = book.crop(row.crop_key) if row.crop_key else crops.open_group(job, row.open_group or "")
    return NewLot(
        crop_id=crop_id,
        variety_id=book.variety(crop_id, row.variety),
        year=row.year,
        unit=row.unit,
        amount=row.amount,
        amount_is_estimate=row.amount_is_estimate,
        received_on=row.received_on,
        received_precision=row.received_precision,
        place_id=book.place(row.place_grown),
        grower_id=book.person(row.grower),
        donor_id=book.person(row.donor),
        plants=row.plants,
        isolation=row.isolation or "",
        notes=row.notes or "",
    )


def suggest(
    catalogue: Catalogue, column: str, typed: str, *, crop: str = "", limit: int = 12
) -> tuple[str, ...]:
    """Give names to choose from while typing in a grid column: Crop, Variety (of a crop), Grower or Place grown."""
    if column == "Crop":
        return _crops_like(catalogue, typed, limit)
    with catalogue.look() as connection:
        if column == "Variety":
            found = crop_index(LANGUAGES["en_gb"]).match(crop, None) if crop else None
            key_id = (
                crops.crop_id(connection, found.crops[0].key) if found and len(found.crops) == 1 else None
            )
            return names.varieties_like(connection, key_id, typed, limit)
        if column == "Grower":
            return names.names_like(connection, person, typed, limit)
        if column == "Place grown":
            return names.names_like(connection, place, typed, limit)
    raise BadInput(f"There is nothing to suggest for {column}.")


def _crops_like(catalogue: Catalogue, typed: str, limit: int) -> tuple[str, ...]:
    key = names.compared(typed)
    language = catalogue.settings().language
    begins, holds = [], []
    for entry in all_crops():
        shown = crop_name(entry, language)
        spellings = [names.compared(text) for text in (shown, *entry.aliases.get(language, ()))]
        if any(text.startswith(key) for text in spellings):
            begins.append(shown)
        elif any(key in text for text in spellings):
            holds.append(shown)
    return tuple((*sorted(begins), *sorted(holds))[:limit])


def crop_key_of(catalogue: Catalogue, name: str) -> str | None:
    """Give the key of the one crop a suggested name stands for, or None when it names none or several."""
    language = catalogue.settings().language
    found = crop_index(LANGUAGES.get(language, (language, "en_gb", "en_us"))).match(name, None)
    return found.crops[0].key if found.kind == "exact" and found.crops else None


def row_words(row: ReadRow, language: str = "en_gb") -> str:
    """Say in one line what an understood row would become."""
    name = crop_name(crop(row.crop_key), language) if row.crop_key else f"{row.open_group} (group open)"
    amount = "not weighed yet" if row.amount is None else shown_amount(row.amount, row.unit)
    about = "about " if row.amount is not None and row.amount_is_estimate else ""
    received = date_words(PartialDate(row.received_on, row.received_precision))
    year = "year not known" if row.year is None else str(row.year)
    where = (row.place_grown, f"from {row.came_from}" if row.came_from else None)
    parts = [
        f"{name} “{row.variety}”",
        year,
        about + amount,
        *(text for text in where if text),
        f"received {received}",
    ]
    return ", ".join(parts)
