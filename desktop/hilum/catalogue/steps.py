"""Preparing steps, holds, stays and packet batches of a lot, written and read as frozen rows."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from sqlalchemy import Connection, func, select, update

from hilum.catalogue.history import add, change
from hilum.catalogue.listing import place_path
from hilum.catalogue.opening import Job
from hilum.catalogue.records import hold, lot, packet_batch, preparing_step, stay, store_place
from hilum.errors import BadInput


@dataclass(frozen=True, slots=True)
class StepLine:
    """One step of preparing; what a step of its kind does not have is None."""

    id: int
    kind: str
    on: date
    until_on: date | None
    mass_mg: int | None
    evidence: str | None
    evidence_value: float | None
    evidence_passed: bool
    sealed: bool
    seeds: int | None
    replicates_mg: tuple[int, ...]
    thousand_seed_weight_ug: int | None
    cv_percent: float | None
    temperature_c: float | None
    note: str


@dataclass(frozen=True, slots=True)
class HoldLine:
    """A mark that bars a lot from packing and from the counter until it is lifted with a reason."""

    id: int
    kind: str
    note: str
    set_on: date
    lifted_on: date | None
    lifted_why: str


@dataclass(frozen=True, slots=True)
class StayLine:
    """A lot's time in one store place."""

    id: int
    store_place_id: int
    path: str
    temperature_c: float | None
    from_on: date
    until_on: date | None
    container: str
    airtight: bool | None
    tare_mg: int | None


@dataclass(frozen=True, slots=True)
class BatchLine:
    """Packets filled from a lot on one day."""

    id: int
    packed_on: date
    packets: int
    seeds_per_packet: int
    fill_mg: int | None
    packets_left: int


def add_step(job: Job, lot_id: int, kind: str, on: date, values: Mapping[str, Any]) -> int:
    """Write one dated step of preparing."""
    return add(
        job,
        preparing_step,
        {"lot_id": lot_id, "kind": kind, "on_date": on, "person_id": job.person_id, **values},
    )


def steps_of(connection: Connection, lot_id: int) -> tuple[StepLine, ...]:
    """Give a lot's preparing steps in the order of their dates."""
    rows = connection.execute(
        select(preparing_step)
        .where(preparing_step.c.lot_id == lot_id)
        .order_by(preparing_step.c.on_date, preparing_step.c.id)
    ).all()
    return tuple(
        StepLine(
            row.id, row.kind, row.on_date, row.until_on, row.mass_mg, row.evidence,
            row.evidence_value, row.evidence_passed, row.sealed, row.seeds,
            tuple(row.replicates_mg or ()), row.thousand_seed_weight_ug, row.cv_percent, row.temperature_c, row.note,
        )
        for row in rows
    )  # fmt: skip


def step_kinds(connection: Connection) -> dict[int, set[str]]:
    """Give which kinds of steps each lot that is still in hand has had."""
    found: dict[int, set[str]] = {}
    for lot_id, kind in connection.execute(
        select(preparing_step.c.lot_id, preparing_step.c.kind)
        .join(lot, lot.c.id == preparing_step.c.lot_id)
        .where(lot.c.state.in_(("in hand", "to be weighed", "held")))
    ):
        found.setdefault(lot_id, set()).add(kind)
    return found


def is_dried(connection: Connection, lot_id: int) -> bool:
    """Say whether a lot lies in the store or has a step of drying: something says that it is dry."""
    return lot_id not in undried_lots(connection, lot_id)


def undried_lots(connection: Connection, lot_id: int | None = None) -> set[int]:
    """Give the lots, or the one lot, that neither lie in the store nor have a step of drying."""
    dried = select(preparing_step.c.lot_id).where(preparing_step.c.kind == "dried")
    stored = select(stay.c.lot_id)
    statement = select(lot.c.id).where(lot.c.id.not_in(dried)).where(lot.c.id.not_in(stored))
    if lot_id is not None:
        statement = statement.where(lot.c.id == lot_id)
    return set(connection.execute(statement).scalars())


def add_hold(job: Job, lot_id: int, kind: str, on: date, note: str) -> int:
    """Put a hold on a lot."""
    return add(
        job, hold, {"lot_id": lot_id, "kind": kind, "note": note, "set_on": on, "set_by": job.person_id}
    )


def lift_hold(job: Job, hold_id: int, on: date, why: str) -> int:
    """Lift a hold with its reason; gives the lot's id."""
    row = job.run(
        select(hold.c.lot_id, hold.c.lifted_on, hold.c.set_on).where(hold.c.id == hold_id)
    ).one_or_none()
    if row is None or row.lifted_on is not None:
        raise BadInput("That hold is not in force any more.")
    if not why.strip():
        raise BadInput("A hold is lifted with a reason: say in a few words what was found.")
    change(
        job,
        hold,
        hold_id,
        {"lifted_on": max(on, row.set_on), "lifted_by": job.person_id, "lifted_why": why.strip()},
    )
    return int(row.lot_id)


def holds_of(connection: Connection, lot_id: int) -> tuple[HoldLine, ...]:
    """Give a lot's holds, lifted ones too, in the order of their dates."""
    rows = connection.execute(
        select(hold).where(hold.c.lot_id == lot_id).order_by(hold.c.set_on, hold.c.id)
    ).all()
    return tuple(
        HoldLine(row.id, row.kind, row.note, row.set_on, row.lifted_on, row.lifted_why) for row in rows
    )


def treated_lots(connection: Connection) -> dict[int, str]:
    """Give what is noted of each lot that was ever put on hold as treated seed: lifting a hold does not wash seed."""
    rows = connection.execute(
        select(hold.c.lot_id, hold.c.note).where(hold.c.kind == "treated seed").order_by(hold.c.id)
    )
    return {row.lot_id: row.note for row in rows}


def holds_in_force(connection: Connection) -> dict[int, tuple[str, ...]]:
    """Give the kinds of holds in force, by lot."""
    found: dict[int, tuple[str, ...]] = {}
    for lot_id, kind in connection.execute(
        select(hold.c.lot_id, hold.c.kind).where(hold.c.lifted_on.is_(None))
    ):
        found[lot_id] = (*found.get(lot_id, ()), kind)
    return found


def begin_stay(
    job: Job,
    lot_id: int,
    store_place_id: int,
    on: date,
    *,
    container: str,
    airtight: bool | None,
    tare_mg: int | None = None,
) -> int:
    """Move a lot to a store place: its open stay ends on that day and a new one begins."""
    end_stay(job, lot_id, on)
    return add(
        job,
        stay,
        {
            "lot_id": lot_id,
            "store_place_id": store_place_id,
            "from_on": on,
            "container": container,
            "airtight": airtight,
            "tare_mg": tare_mg,
        },
    )


def end_stay(job: Job, lot_id: int, on: date) -> None:
    """End a lot's open stay on a day, if it has one; the lot lies in no store place from then on."""
    open_stay = job.run(
        select(stay.c.id, stay.c.from_on).where(stay.c.lot_id == lot_id).where(stay.c.until_on.is_(None))
    )
    for row in open_stay.all():
        if row.from_on > on:
            raise BadInput(
                f"The lot has been where it is since {row.from_on.isoformat()}; it cannot have moved before that."
            )
        change(job, stay, row.id, {"until_on": on})
    ended = job.run(select(func.max(stay.c.until_on)).where(stay.c.lot_id == lot_id)).scalar()
    if ended is not None and ended > on:
        raise BadInput(f"The lot lay elsewhere until {ended.isoformat()}; it cannot have moved before that.")


def note_tare(job: Job, lot_id: int, tare_mg: int) -> None:
    """Keep what the empty container of a lot weighs with its open stay, if it lies in a store place."""
    for row in job.run(select(stay.c.id).where(stay.c.lot_id == lot_id, stay.c.until_on.is_(None))).all():
        change(job, stay, row.id, {"tare_mg": tare_mg})


def stays_of(connection: Connection, lot_id: int) -> tuple[StayLine, ...]:
    """Give where a lot has been, in the order of its dates."""
    rows = connection.execute(
        select(stay, store_place.c.temperature_c)
        .join(store_place, store_place.c.id == stay.c.store_place_id)
        .where(stay.c.lot_id == lot_id)
        .order_by(stay.c.from_on, stay.c.id)
    ).all()
    return tuple(
        StayLine(
            row.id, row.store_place_id, place_path(connection, row.store_place_id), row.temperature_c, row.from_on,
            row.until_on, row.container, row.airtight, row.tare_mg,
        )
        for row in rows
    )  # fmt: skip


def stored_lots(connection: Connection) -> set[int]:
    """Give the lots that lie in a store place now."""
    return set(connection.execute(select(stay.c.lot_id).where(stay.c.until_on.is_(None))).scalars())


def add_batch(
    job: Job, lot_id: int, on: date, *, packets: int, seeds_per_packet: int, fill_mg: int | None
) -> int:
    """Write a batch of packets."""
    return add(
        job,
        packet_batch,
        {
            "lot_id": lot_id,
            "packed_on": on,
            "packets": packets,
            "seeds_per_packet": seeds_per_packet,
            "fill_mg": fill_mg,
            "packets_left": packets,
        },
    )


def batches_of(connection: Connection, lot_id: int) -> tuple[BatchLine, ...]:
    """Give a lot's packet batches in the order of their dates; those that were taken back are none any more."""
    rows = connection.execute(
        select(packet_batch)
        .where(packet_batch.c.lot_id == lot_id)
        .where(packet_batch.c.taken_back_on.is_(None))
        .order_by(packet_batch.c.packed_on, packet_batch.c.id)
    ).all()
    return tuple(
        BatchLine(row.id, row.packed_on, row.packets, row.seeds_per_packet, row.fill_mg, row.packets_left)
        for row in rows
    )


def batches_on(connection: Connection, on: date) -> tuple[tuple[int, BatchLine], ...]:
    """Give the packet batches of a day at every desk, each with its lot's id, the newest first."""
    rows = connection.execute(
        select(packet_batch).where(packet_batch.c.packed_on == on).order_by(packet_batch.c.id.desc())
    )
    return tuple(
        (
            row.lot_id,
            BatchLine(
                row.id, row.packed_on, row.packets, row.seeds_per_packet, row.fill_mg, row.packets_left
            ),
        )
        for row in rows
    )


def set_lot(job: Job, lot_id: int, values: Mapping[str, Any]) -> bool:
    """Change a lot's own fields with history and raise its version; says whether anything changed."""
    changed = change(job, lot, lot_id, values)
    if changed:
        job.run(update(lot).where(lot.c.id == lot_id).values(version=lot.c.version + 1))
    return changed
