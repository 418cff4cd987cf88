"""Lists of lots to pack for a season, the spoons that were counted for them, and what was packed of each."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from sqlalchemy import Connection, func, insert, select

from hilum.catalogue import history
from hilum.catalogue.names import clean_name, compared
from hilum.catalogue.opening import Job
from hilum.catalogue.records import crop, lot, packet_batch
from hilum.catalogue.records import variety as variety_table
from hilum.catalogue.season_records import season_batch, season_list, season_row, spoon_count
from hilum.errors import BadInput


@dataclass(frozen=True, slots=True)
class SeasonList:
    """One list with its number of rows."""

    id: int
    name: str
    made_on: date
    rows: int


@dataclass(frozen=True, slots=True)
class SeasonRow:
    """One lot on a list: what is wanted of it, what has been packed, and its check weight."""

    id: int
    lot_id: int
    place: int
    seeds_per_packet: int
    packets: int
    by_germination: bool
    ten_empty_mg: int | None
    ten_filled_mg: int | None
    checked_on: date | None
    packed: int


@dataclass(frozen=True, slots=True)
class Spoon:
    """A measure whose five level fillings were counted once."""

    name: str
    seeds_in_five: int
    counted_on: date


def season_lists(connection: Connection) -> tuple[SeasonList, ...]:
    """Give every list, the newest first."""
    rows = connection.execute(
        select(season_list.c.id, season_list.c.name, season_list.c.made_on, func.count(season_row.c.id))
        .outerjoin(season_row, season_row.c.season_list_id == season_list.c.id)
        .group_by(season_list.c.id)
        .order_by(season_list.c.id.desc())
    )
    return tuple(SeasonList(*row) for row in rows)


def list_named(connection: Connection, name: str) -> int:
    """Give the id of a list by its name; refused with the names there are."""
    found = connection.execute(
        select(season_list.c.id).where(season_list.c.folded == compared(name))
    ).scalar()
    if found is None:
        known = ", ".join(f"“{each.name}”" for each in season_lists(connection))
        raise BadInput(
            f"There is no season's list “{name}”. {'There are: ' + known if known else 'There is none yet'}."
        )
    return int(found)


def make_list(job: Job, name: str, on: date) -> int:
    """Begin a list; refused where one has that name."""
    name = clean_name(name, "season's list")
    taken = job.run(select(season_list.c.name).where(season_list.c.folded == compared(name))).scalar()
    if taken is not None:
        raise BadInput(f"There is a season's list “{taken}” already. Choose another name.")
    return history.add(job, season_list, {"name": name, "folded": compared(name), "made_on": on})


def rename_list(job: Job, list_id: int, name: str) -> None:
    """Give a list another name; refused where another list has it."""
    name = clean_name(name, "season's list")
    taken = job.run(select(season_list.c.id).where(season_list.c.folded == compared(name))).scalar()
    if taken not in (None, list_id):
        raise BadInput(f"There is a season's list “{name}” already. Choose another name.")
    history.change(job, season_list, list_id, {"name": name, "folded": compared(name)})


def rows_of(connection: Connection, list_id: int) -> tuple[SeasonRow, ...]:
    """Give the rows of a list in the order in which they were put on it."""
    packed = (
        select(season_batch.c.season_row_id, func.sum(packet_batch.c.packets).label("packets"))
        .join(packet_batch, packet_batch.c.id == season_batch.c.batch_id)
        .where(packet_batch.c.taken_back_on.is_(None))
        .group_by(season_batch.c.season_row_id)
        .subquery()
    )
    statement: Any = (
        select(
            season_row.c.id, season_row.c.lot_id, season_row.c.place, season_row.c.seeds_per_packet,
            season_row.c.packets, season_row.c.by_germination, season_row.c.ten_empty_mg,
            season_row.c.ten_filled_mg, season_row.c.checked_on, func.coalesce(packed.c.packets, 0),
        )
        .outerjoin(packed, packed.c.season_row_id == season_row.c.id)
        .where(season_row.c.season_list_id == list_id)
        .order_by(season_row.c.place, season_row.c.id)
    )  # fmt: skip
    return tuple(SeasonRow(*row) for row in connection.execute(statement))


def add_row(job: Job, list_id: int, values: Mapping[str, Any]) -> int:
    """Put a lot on a list, below the others."""
    last = job.run(
        select(func.max(season_row.c.place)).where(season_row.c.season_list_id == list_id)
    ).scalar()
    return history.add(job, season_row, {"season_list_id": list_id, "place": (last or 0) + 1, **values})


def change_row(job: Job, row_id: int, values: Mapping[str, Any]) -> bool:
    """Change what is wanted of a row; says whether anything differed."""
    return history.change(job, season_row, row_id, values)


def remove_row(job: Job, row_id: int) -> None:
    """Take a lot off a list; refused where packets were filled for it."""
    if job.run(select(season_batch.c.batch_id).where(season_batch.c.season_row_id == row_id)).first():
        number = job.run(
            select(lot.c.number)
            .join(season_row, season_row.c.lot_id == lot.c.id)
            .where(season_row.c.id == row_id)
        ).scalar_one()
        raise BadInput(
            f"Lot {number} has been packed for this list and stays on it as the record of that. "
            "Set the packets wanted to what was packed instead."
        )
    history.remove(job, season_row, row_id)


def note_batch(job: Job, row_id: int, batch_id: int) -> None:
    """Note that a batch was packed for a row of a list."""
    job.run(insert(season_batch).values(batch_id=batch_id, season_row_id=row_id))


def add_spoon(job: Job, lot_id: int, name: str, seeds_in_five: int, on: date) -> int:
    """Write that five level fillings of a spoon were counted for a lot."""
    values = {
        "lot_id": lot_id,
        "spoon": clean_name(name, "spoon"),
        "seeds_in_five": seeds_in_five,
        "counted_on": on,
        "person_id": job.person_id,
    }
    return history.add(job, spoon_count, values)


def spoons(connection: Connection, lot_id: int | None = None) -> dict[int, Spoon]:
    """Give the newest counted spoon of each lot that has one, or of one lot only."""
    statement = select(
        spoon_count.c.lot_id, spoon_count.c.spoon, spoon_count.c.seeds_in_five, spoon_count.c.counted_on
    ).order_by(spoon_count.c.counted_on, spoon_count.c.id)
    if lot_id is not None:
        statement = statement.where(spoon_count.c.lot_id == lot_id)
    rows = connection.execute(statement)
    return {row.lot_id: Spoon(row.spoon, row.seeds_in_five, row.counted_on) for row in rows}


def packet_seeds_set(connection: Connection) -> dict[int, int]:
    """Give how many seeds the library puts into a packet, by lot, where it has set that for the lot's crop."""
    rows = connection.execute(
        select(lot.c.id, crop.c.packet_seeds)
        .join(variety_table, variety_table.c.id == lot.c.variety_id)
        .join(crop, crop.c.id == variety_table.c.crop_id)
        .where(crop.c.packet_seeds.is_not(None))
    )
    return {row.id: row.packet_seeds for row in rows}


def set_packet_seeds(job: Job, crop_id: int, seeds: int) -> None:
    """Set how many seeds the library puts into a packet of a crop."""
    history.change(job, crop, crop_id, {"packet_seeds": seeds})
