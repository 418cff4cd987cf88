"""A lot's history as the forecast of viability hears it: its stays with their air, its dryness, its tests."""

from collections.abc import Iterable, Mapping
from datetime import date
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
    store_place,
    variety,
)
from hilum.seedlore.counts import OTHER_CLASSES, CountError, GerminationCounts
from hilum.seedlore.forecast_input import DatedCounts, LotHistory
from hilum.seedlore.standards import Standard
from hilum.seedlore.storage_history import Stay

# More ids than this would not fit into one statement on SQLite.
_AT_ONCE = 5000
CLASSES = ("normal", *OTHER_CLASSES)


def lot_histories(
    connection: Connection, lot_ids: Iterable[int], standards: Mapping[int, Standard | None] | None = None
) -> dict[int, LotHistory]:
    """Give the histories of lots whose crop is in the reference table; the others have no forecast."""
    ids, found = tuple(lot_ids), dict[int, LotHistory]()
    air = _air_of_places(connection)
    for start in range(0, len(ids), _AT_ONCE):
        part = ids[start : start + _AT_ONCE]
        stays, dry, tests = _stays(connection, part), _dryness(connection, part), _tests(connection, part)
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
                stays=tuple(_as_heard(each, air, dry.get(row.id, ())) for each in stays.get(row.id, ())),
                tests=counted,
                standard=standards.get(row.id) if standards else None,
            )
    return found


def heard_until(history: LotHistory) -> date:
    """Give the newest day on which anything in a lot's history began: the day a forecast kept for it is of."""
    return max(
        [history.stored_from, *(test.on for test in history.tests), *(each.from_on for each in history.stays)]
    )


def _air_of_places(connection: Connection) -> dict[int, tuple[float | None, float | None]]:
    """Give temperature and humidity of each store place, a place without taking those of the place around it."""
    rows = {row.id: row for row in connection.execute(select(store_place))}

    def reading(place: Any, name: str) -> float | None:
        while place is not None:
            value: float | None = getattr(place, name)
            if value is not None:
                return value
            place = rows.get(place.parent_id)
        return None

    return {
        row.id: (reading(row, "temperature_c"), reading(row, "humidity_percent")) for row in rows.values()
    }


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


def _as_heard(each: Any, air: Mapping[int, tuple[float | None, float | None]], dry: Iterable[Any]) -> Stay:
    storage_c, room_humidity = air[each.store_place_id]
    moisture: float | None = None
    jar_humidity: float | None = None
    for reading in dry:
        # A reading speaks for the stay it was taken in, and for a closed jar that was filled after it.
        if reading.on_date > (each.until_on or date.max) or not (
            each.airtight or reading.on_date >= each.from_on
        ):
            continue
        if reading.evidence == "moisture reading":
            moisture, jar_humidity = reading.evidence_value, None
        elif reading.evidence == "jar humidity":
            moisture, jar_humidity = None, reading.evidence_value
    return Stay(
        from_on=each.from_on,
        until_on=each.until_on,
        storage_c=storage_c,
        moisture_percent_wb=moisture,
        humidity_percent=_possible(jar_humidity if each.airtight else jar_humidity or room_humidity),
        airtight=each.airtight,
    )


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
