"""A lot's history as the forecast of viability hears it: its stays with their air, its dryness, its tests."""

from collections.abc import Iterable, Iterator, Mapping
from datetime import date, timedelta
from itertools import pairwise
from typing import Any

from sqlalchemy import Connection, select

from hilum.catalogue.crops import reference_crop
from hilum.catalogue.records import (
    crop,
    dish,
    dish_count,
    germination_test,
    lot,
    preparing_step,
    stay,
    variety,
)
from hilum.catalogue.store_air import StoreAir, read_store_air
from hilum.catalogue.store_records import FAILURE_KINDS, store_failure, store_failure_lot
from hilum.seedlore.counts import OTHER_CLASSES, CountError, GerminationCounts
from hilum.seedlore.forecast_input import DatedCounts, LotHistory
from hilum.seedlore.standards import Standard
from hilum.seedlore.storage_history import Stay

# More ids than this would not fit into one statement on SQLite.
_AT_ONCE = 5000
CLASSES = ("normal", *OTHER_CLASSES)
WARM, WET = FAILURE_KINDS
A_DAY = timedelta(days=1)


def lot_histories(
    connection: Connection, lot_ids: Iterable[int], standards: Mapping[int, Standard | None] | None = None
) -> dict[int, LotHistory]:
    """Give the histories of lots whose crop is in the reference table; the others have no forecast."""
    ids, found = tuple(lot_ids), dict[int, LotHistory]()
    air = read_store_air(connection)
    for start in range(0, len(ids), _AT_ONCE):
        part = ids[start : start + _AT_ONCE]
        stays, dry, tests = _stays(connection, part), _dryness(connection, part), _tests(connection, part)
        failures = _failures(connection, part)
        rows = connection.execute(
            select(lot.c.id, lot.c.received_on, crop.c.key)
            .join(variety, variety.c.id == lot.c.variety_id)
            .join(crop, crop.c.id == variety.c.crop_id)
            .where(lot.c.id.in_(part))
        )
        for row in rows:
            reference = reference_crop(row.key)
            if reference is None:
                continue
            counted = tests.get(row.id, ())
            # A result from elsewhere may be older than the day the lot came in: its ageing began before that.
            began = min([row.received_on, *(test.on for test in counted)])
            found[row.id] = LotHistory(
                crop=reference,
                stored_from=began,
                stays=tuple(
                    heard
                    for each in stays.get(row.id, ())
                    for heard in _as_heard(each, air, dry.get(row.id, ()), failures.get(row.id, ()))
                ),
                tests=counted,
                standard=standards.get(row.id) if standards else None,
            )
    return found


def heard_until(history: LotHistory) -> date:
    """Give the newest day on which anything in a lot's history began: the day a forecast kept for it is of."""
    return max(
        [history.stored_from, *(test.on for test in history.tests), *(each.from_on for each in history.stays)]
    )


def _stays(connection: Connection, ids: tuple[int, ...]) -> dict[int, list[Any]]:
    found: dict[int, list[Any]] = {}
    rows = connection.execute(select(stay).where(stay.c.lot_id.in_(ids)).order_by(stay.c.from_on, stay.c.id))
    for row in rows:
        found.setdefault(row.lot_id, []).append(row)
    return found


def _dryness(connection: Connection, ids: tuple[int, ...]) -> dict[int, list[Any]]:
    found: dict[int, list[Any]] = {}
    rows = connection.execute(
        select(preparing_step)
        .where(preparing_step.c.lot_id.in_(ids))
        .where(preparing_step.c.kind == "dried")
        .where(preparing_step.c.evidence_value.is_not(None))
        .order_by(preparing_step.c.on_date, preparing_step.c.id)
    )
    for row in rows:
        found.setdefault(row.lot_id, []).append(row)
    return found


def _failures(connection: Connection, ids: tuple[int, ...]) -> dict[int, list[Any]]:
    """Give the failures of the store that befell each lot, in the order of their dates."""
    found: dict[int, list[Any]] = {}
    rows = connection.execute(
        select(store_failure_lot.c.lot_id, store_failure)
        .join(store_failure, store_failure.c.id == store_failure_lot.c.failure_id)
        .where(store_failure_lot.c.lot_id.in_(ids))
        .order_by(store_failure.c.from_on, store_failure.c.id)
    )
    for row in rows:
        found.setdefault(row.lot_id, []).append(row)
    return found


def _as_heard(each: Any, air: StoreAir, dry: Iterable[Any], failures: Iterable[Any]) -> Iterator[Stay]:
    """Cut one stay where its air changed and where a failure of the store began or ended; no day is lost or doubled."""
    ends = each.until_on or date.max
    warm = [failure for failure in failures if failure.kind == WARM]
    wet = [failure.from_on for failure in failures if failure.kind == WET]
    days = {each.from_on, ends, *wet}
    days |= {day for failure in warm for day in (failure.from_on, failure.until_on + A_DAY)}
    pieces = tuple(air.during(each.store_place_id, each.from_on, each.until_on))
    days |= {piece.from_on for piece in pieces}
    cuts = sorted(day for day in days if each.from_on <= day <= ends)
    for begins, until in pairwise(cuts):
        piece = next(piece for piece in reversed(pieces) if piece.from_on <= begins)
        reached = [failure.temperature_c for failure in warm if failure.from_on <= begins <= failure.until_on]
        dry_since = max((day for day in wet if day <= begins), default=date.min)
        dry_until = min((day for day in wet if day > begins), default=date.max)
        moisture, jar_humidity = _dryness_heard(
            each, [one for one in dry if dry_since < one.on_date <= dry_until]
        )
        yield Stay(
            from_on=begins,
            until_on=None if until == date.max else until,
            storage_c=max(reached) if reached else piece.storage_c,
            moisture_percent_wb=moisture,
            humidity_percent=_possible(
                jar_humidity if each.airtight else jar_humidity or piece.humidity_percent
            ),
            airtight=each.airtight,
            lain_from=piece.since,
        )


def _dryness_heard(each: Any, dry: Iterable[Any]) -> tuple[float | None, float | None]:
    """Give the moisture and the jar's humidity that speak for a stay, out of readings between two wettings.

    A reading speaks for the stay it was taken in, and for a closed jar that was filled after it.
    """
    moisture: float | None = None
    jar_humidity: float | None = None
    for reading in dry:
        if reading.on_date > (each.until_on or date.max) or not (
            each.airtight or reading.on_date >= each.from_on
        ):
            continue
        if reading.evidence == "moisture reading":
            moisture, jar_humidity = reading.evidence_value, None
        elif reading.evidence == "jar humidity":
            moisture, jar_humidity = None, reading.evidence_value
    return moisture, jar_humidity


def _possible(percent: float | None) -> float | None:
    """Give a humidity as the forecast takes it: a place noted as 0 or 100 % is taken for one not measured."""
    return percent if percent is not None and 0 < percent < 100 else None


def _tests(connection: Connection, ids: tuple[int, ...]) -> dict[int, tuple[DatedCounts, ...]]:
    """Give the finished tests of lots with the final counts of their dishes."""
    tests: dict[int, tuple[int, date]] = {}
    dishes: dict[int, dict[int, int]] = {}
    counted: dict[int, dict[str, dict[int, int]]] = {}
    rows = connection.execute(
        select(
            germination_test.c.id, germination_test.c.lot_id, germination_test.c.finished_on,
            dish.c.id.label("dish_id"), dish.c.seeds, *(dish_count.c[name] for name in CLASSES),
        )
        .join(dish, dish.c.test_id == germination_test.c.id)
        .outerjoin(dish_count, dish_count.c.dish_id == dish.c.id)
        .where(germination_test.c.lot_id.in_(ids))
        .where(germination_test.c.state == "finished")
        .order_by(germination_test.c.finished_on, germination_test.c.id, dish.c.number)
    )  # fmt: skip
    for row in rows:
        tests[row.id] = (row.lot_id, row.finished_on)
        dishes.setdefault(row.id, {})[row.dish_id] = row.seeds
        for name in CLASSES:
            number = getattr(row, name)
            if number is not None:
                of_class = counted.setdefault(row.id, {}).setdefault(name, {})
                of_class[row.dish_id] = of_class.get(row.dish_id, 0) + number
    found: dict[int, list[DatedCounts]] = {}
    for test_id, (lot_id, on) in tests.items():
        counts = _counts(dishes[test_id], counted.get(test_id, {}))
        if counts is not None:
            found.setdefault(lot_id, []).append(DatedCounts(on, counts))
    return {lot_id: tuple(dated) for lot_id, dated in found.items()}


def _counts(seeds: Mapping[int, int], counted: Mapping[str, Mapping[int, int]]) -> GerminationCounts | None:
    others = {
        name: tuple(counted[name].get(dish_id, 0) for dish_id in seeds) if name in counted else None
        for name in OTHER_CLASSES
    }
    try:
        return GerminationCounts(
            sown=tuple(seeds.values()),
            normal=tuple(counted.get("normal", {}).get(dish_id, 0) for dish_id in seeds),
            **others,
        )
    except CountError:
        # Counts that `check` reports as more than was sown are not evidence of anything.
        return None
