"""When a lot's next germination test falls due, and why: one rule, kept on the lot as a date and its words."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from functools import cache
from typing import Any

from sqlalchemy import Connection, bindparam, func, select, update

from hilum.catalogue.opening import Job
from hilum.catalogue.records import MIXED, crop, germination_test, hold, lot, packet_batch, stay, variety
from hilum.catalogue.settings import Settings, read_settings
from hilum.seedlore.crops import Crop
from hilum.seedlore.standards import Standard, standard
from hilum.seedlore.weights import reserve_seeds, seeds_in

# FAO Genebank Standards 2014, 4.3.1: first germination test at latest 12 months after receipt.
FIRST_TEST_WITHIN_MONTHS = 12
# Hanson 1985, Procedures for Handling Seeds in Genebanks, section VIII: active collections every five years.
LONGEST_INTERVAL_MONTHS = 60
# Where a crop has no published storage life; the shortest published interval for non-oily seed in active storage,
# Kameswara Rao et al. 2006, Manual of Seed Handling in Genebanks, table 8.1.
INTERVAL_UNPUBLISHED_MONTHS = 36
UNDER_TEST, NO_STOCK, TOO_FEW = "under test", "no stock", "too few seeds"
# The state of a lot whose intake or joining was taken back.
WITHDRAWN = "withdrawn"


@dataclass(frozen=True, slots=True)
class LotFacts:
    """What the rule needs to know of one lot."""

    received_on: date
    received_precision: str
    tested_on: date | None
    under_test: bool
    stock: int | None
    stock_seeds: int | None
    first_packed_on: date | None
    reserve_seeds: int
    reference: Crop | None
    interval_months: int | None
    # What the forecast of viability says, for a lot that has been tested; None where there can be none.
    forecast_on: date | None = None


@dataclass(frozen=True, slots=True)
class Due:
    """The date of the next test and its reason; `bar` names what keeps the lot from being due, if anything."""

    on: date | None
    why: str
    bar: str


def months_later(start: date, months: int) -> date:
    """Give the same day some months on, or the last day of a month that is too short."""
    year, month = divmod(start.year * 12 + start.month - 1 + months, 12)
    for day in range(start.day, 27, -1):
        try:
            return date(year, month + 1, day)
        except ValueError:
            continue
    return date(year, month + 1, start.day)


def interval_months(reference: Crop | None, set_by_library: int | None) -> tuple[int, str]:
    """Give the months between two tests of a crop, and where they come from in words.

    Half the crop's typical storage life (common practice, no source), at most five years and at least three
    months; a short-lived crop has no floor of a year. The forecast of viability will stand before this rule.
    """
    if set_by_library is not None:
        return set_by_library, "the library's interval for the crop"
    life_years = reference.storage_life_years if reference else None
    if not life_years:
        return INTERVAL_UNPUBLISHED_MONTHS, "no storage life is published for the crop"
    months = max(3, min(LONGEST_INTERVAL_MONTHS, round(life_years * 6)))
    return (
        months,
        f"half the crop's usual storage life of {life_years:g} {'year' if life_years == 1 else 'years'}",
    )


def next_test(facts: LotFacts, settings: Settings) -> Due:
    """Apply the rule to one lot: the earliest of the dates that hold for it, and what bars it from being due."""
    bar = ""
    if facts.under_test:
        bar = UNDER_TEST
    elif facts.stock == 0:
        bar = NO_STOCK
    elif (
        facts.stock_seeds is not None
        and facts.stock_seeds - facts.reserve_seeds < settings.smallest_test_seeds
    ):
        bar = TOO_FEW
    on, why = _date_and_reason(facts, settings)
    return Due(None if bar == NO_STOCK else on, why, bar)


def _date_and_reason(facts: LotFacts, settings: Settings) -> tuple[date, str]:
    if facts.tested_on is not None:
        return _after_a_test(facts, facts.tested_on)
    received = facts.received_on
    season = date(received.year, settings.season_month, settings.season_day)
    if season < received:
        season = season.replace(year=received.year + 1)
    came_in = str(received.year) if facts.received_precision == "year" else _month(received)
    choices = [
        (season, f"never tested; first test season after receipt in {came_in}"),
        (months_later(received, FIRST_TEST_WITHIN_MONTHS), "never tested; twelve months after receipt"),
    ]
    if facts.first_packed_on is not None:
        choices.append((facts.first_packed_on, "packed without ever having been tested"))
    return min(choices)


def _after_a_test(facts: LotFacts, tested_on: date) -> tuple[date, str]:
    """Give the forecast's date or the library's interval, whichever comes first; an interval alone without forecast."""
    tested = f"last tested {_month(tested_on)}"
    months, source = interval_months(facts.reference, facts.interval_months)
    choices = []
    if facts.forecast_on is not None:
        # A date before the last test is the forecast's way of saying that the next one cannot wait.
        choices.append(
            (
                max(facts.forecast_on, tested_on),
                f"{tested}; the forecast of its viability asks for the next test",
            )
        )
    if facts.forecast_on is None or facts.interval_months is not None:
        choices.append((months_later(tested_on, months), f"{tested}; {months} months on ({source})"))
    return min(choices)


def _month(day: date) -> str:
    names = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
    return f"{names[day.month - 1]} {day.year}"


def reserve_of(
    reference: Crop | None, set_by_library: int | None, germination_percent: int | None, settings: Settings
) -> int:
    """Give the seeds of a lot that must not be packed: enough to regrow the variety twice over, unless set."""
    if set_by_library is not None:
        return set_by_library
    plants = (reference.plants_recommended if reference else None) or settings.plants_unpublished
    # A lot of which nothing came up would need endless seed: it counts as 1 %.
    percent = (
        max(1, germination_percent) if germination_percent is not None else _counted_on(reference, settings)
    )
    return reserve_seeds(plants, percent / 100, settings.field_survival)


def _counted_on(reference: Crop | None, settings: Settings) -> float:
    published = published_standard(reference)
    return published.percent if published else settings.germination_untested_percent


def published_standard(reference: Crop | None) -> Standard | None:
    """Give the published least germination of a crop, or None where there is none."""
    return standard(reference.standard_kind) if reference and reference.standard_kind else None


def stock_in_seeds(
    stock: int | None, unit: str, own_tsw_ug: int | None, reference: Crop | None
) -> tuple[int | None, bool]:
    """Give a stock as seeds and whether that is an estimate; None where it cannot be said."""
    if stock is None:
        return None, False
    if unit == "seeds":
        return stock, False
    tsw_ug, _ = weight_of_thousand(own_tsw_ug, reference)
    return (None, False) if tsw_ug is None else (seeds_in(stock, tsw_ug), True)


def weight_of_thousand(own_tsw_ug: int | None, reference: Crop | None) -> tuple[int | None, bool]:
    """Give the thousand-seed weight in micrograms and whether it is only the crop's figure."""
    if own_tsw_ug is not None:
        return own_tsw_ug, False
    if reference is not None and reference.thousand_seed_weight_g:
        return round(reference.thousand_seed_weight_g * 1_000_000), True
    return None, False


def recompute(job: Job, lot_ids: Iterable[int] | None = None) -> int:
    """Bring the due date, the flags and the state of some lots (or of all) up to date; gives how many changed."""
    changes = [
        {"lot_id": row.id, **fresh}
        for row, fresh in _worked_out(job.connection, job.settings, lot_ids, job.at.date())
        if any(getattr(row, name) != value for name, value in fresh.items())
    ]
    if changes:
        kept: dict[str, Any] = {name: bindparam(name) for name in changes[0] if name != "lot_id"}
        job.run(update(lot).where(lot.c.id == bindparam("lot_id")).values(kept), changes)
    return len(changes)


def stale_lots(connection: Connection, on: date) -> tuple[str, ...]:
    """Give the numbers of lots whose kept due date, flags or state are not what their records say."""
    return tuple(
        row.number
        for row, fresh in _worked_out(connection, read_settings(connection), None, on)
        if any(not _is_same(getattr(row, name), value) for name, value in fresh.items())
    )


def _is_same(kept: Any, fresh: Any) -> bool:
    # A forecast's date is a whole day cut from a sum of floats: on another day it may fall on the next one.
    if isinstance(kept, date) and isinstance(fresh, date):
        return abs((kept - fresh).days) <= 1
    return bool(kept == fresh)


def _worked_out(
    connection: Connection, settings: Settings, lot_ids: Iterable[int] | None, on: date
) -> Iterator[tuple[Any, dict[str, Any]]]:
    """Yield each lot as it is kept, and what its due date, flags and state should be."""
    rows = list(_kept_rows(connection, lot_ids))
    forecasts = _forecast_dates(connection, rows, on)
    for row in rows:
        reference = _reference(row.key)
        seeds, _ = stock_in_seeds(row.stock, row.unit, row.thousand_seed_weight_ug, reference)
        reserve = reserve_of(reference, row.reserve_seeds, row.germination_percent, settings)
        due = next_test(
            LotFacts(
                received_on=row.received_on,
                received_precision=row.received_precision,
                tested_on=row.tested_on,
                under_test=row.running is not None,
                stock=row.stock,
                stock_seeds=seeds,
                first_packed_on=row.first_packed_on,
                reserve_seeds=reserve,
                reference=reference,
                interval_months=row.interval_months,
                forecast_on=forecasts.get(row.id),
            ),
            settings,
        )
        if row.withdrawn_on is not None:
            due = Due(None, "", WITHDRAWN)
        yield (
            row,
            {
                "due_on": due.on,
                "due_why": due.why,
                "due_bar": due.bar,
                "below_standard": is_below_standard(
                    row.germination_percent,
                    row.hard_percent,
                    accepted_standard(reference, row.standard_percent),
                ),
                "low": seeds is not None and seeds <= reserve and row.withdrawn_on is None,
                "state": _state(row),
            },
        )


def _forecast_dates(connection: Connection, rows: list[Any], on: date) -> dict[int, date]:
    """Give when the forecast asks for the next test of the lots that have been tested, where there is a forecast.

    The date rests on the lot's own records alone: whatever day it is asked on, it comes out the same.
    """
    # Seed of several lots ages in several ways; a mix is tested by the interval.
    tested = [row.id for row in rows if row.tested_on is not None and row.made_as != MIXED]
    if not tested:
        return {}
    # numpy is loaded only where something has been tested.
    from hilum.catalogue.outlook import heard_until, lot_histories
    from hilum.seedlore.forecast import forecast_each

    bars = {row.id: accepted_standard(_reference(row.key), row.standard_percent) for row in rows}
    histories = lot_histories(connection, tested, bars)
    until = max([on, *(heard_until(history) for history in histories.values())])
    found = forecast_each(list(histories.values()), until)
    dated = zip(histories, found, strict=True)
    return {lot_id: each.test_next_on for lot_id, each in dated if each.test_next_on is not None}


# More ids than this would not fit into one statement on SQLite.
_IDS_AT_ONCE = 5000


def _kept_rows(connection: Connection, lot_ids: Iterable[int] | None) -> Iterator[Any]:
    if lot_ids is None:
        yield from connection.execute(_kept()).all()
        return
    ids = tuple(lot_ids)
    wanted = _kept_of_some()
    for start in range(0, len(ids), _IDS_AT_ONCE):
        yield from connection.execute(wanted, {"ids": ids[start : start + _IDS_AT_ONCE]}).all()


@cache
def _kept_of_some() -> Any:
    return _kept().where(lot.c.id.in_(bindparam("ids", expanding=True)))


@cache
def _kept() -> Any:
    return (
        select(
            lot.c.id, lot.c.number, lot.c.received_on, lot.c.received_precision, lot.c.tested_on,
            lot.c.germination_percent, lot.c.hard_percent, lot.c.stock, lot.c.unit, lot.c.thousand_seed_weight_ug,
            lot.c.due_on, lot.c.due_why, lot.c.due_bar, lot.c.below_standard, lot.c.low, lot.c.state,
            lot.c.made_as, lot.c.withdrawn_on, crop.c.key, crop.c.standard_percent, crop.c.interval_months,
            crop.c.reserve_seeds,
            select(germination_test.c.id).where(germination_test.c.lot_id == lot.c.id)
            .where(germination_test.c.state == "running").limit(1).scalar_subquery().label("running"),
            select(func.min(packet_batch.c.packed_on)).where(packet_batch.c.lot_id == lot.c.id)
            .where(packet_batch.c.taken_back_on.is_(None)).scalar_subquery().label("first_packed_on"),
            select(hold.c.id).where(hold.c.lot_id == lot.c.id).where(hold.c.lifted_on.is_(None))
            .limit(1).scalar_subquery().label("held"),
            select(stay.c.id).where(stay.c.lot_id == lot.c.id).where(stay.c.until_on.is_(None))
            .limit(1).scalar_subquery().label("stored"),
        )
        .join(variety, variety.c.id == lot.c.variety_id).join(crop, crop.c.id == variety.c.crop_id)
    )  # fmt: skip


def accepted_standard(reference: Crop | None, set_by_library: int | None) -> Standard | None:
    """Give the least germination the library accepts: its own figure, else the published one, else None.

    Whether hard seed counts towards it is taken from the published standard in both cases.
    """
    published = published_standard(reference)
    if set_by_library is None:
        return published
    kind = reference.names["en_gb"] if reference else "this crop"
    counts_hard = published.counts_hard_seed if published else False
    return Standard(kind, set_by_library, counts_hard, "set by the library")


def is_below_standard(
    germination_percent: int | None, hard_percent: int | None, least: Standard | None
) -> bool | None:
    """Say whether a result is under the accepted least; None where there is no result or no standard."""
    if germination_percent is None or least is None:
        return None
    hard = (hard_percent or 0) if least.counts_hard_seed else 0
    return germination_percent + hard < least.percent


def _reference(key: str) -> Crop | None:
    from hilum.catalogue.crops import reference_crop

    return reference_crop(key)


def _state(row: Any) -> str:
    if row.withdrawn_on is not None:
        return WITHDRAWN
    if row.held is not None:
        return "held"
    if row.running is not None:
        return "under test"
    if row.stock is None:
        return "to be weighed"
    if row.stock == 0:
        return "empty"
    return "in hand" if row.stored is None else "stored"
