"""A logger's file: readings of temperature and humidity by time, understood as a whole and thinned to days."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from itertools import pairwise
from pathlib import Path

from hilum.errors import BadInput
from hilum.exchange.dates import DATE_ORDERS, DateOrder, DateReadings, order_of, read_date, readings_of
from hilum.exchange.logger_columns import (
    CELSIUS,
    FAHRENHEIT,
    TEMPERATURE_UNITS,
    LoggerColumns,
    bare_figure,
    day_text,
    logger_columns,
    readings_fit,
)
from hilum.exchange.numerals import Marks, Numeral, marks_of, read_numeral
from hilum.exchange.rows import TableRow
from hilum.exchange.tables import read_rows
from hilum.exchange.trouble import ASKS_DATE_ORDER, ASKS_DECIMAL_MARK, ASKS_UNIT, Trouble
from hilum.exchange.words import shown
from hilum.seedlore.steady_warmth import steady_temperature_c

MOST_READINGS = 1_000_000
# What a store can be; a logger writes figures beyond when its probe is off.
_COLDEST_C, _WARMEST_C = Decimal(-100), Decimal(80)
# Days of a logger follow one another; a file read in the wrong order jumps by months.
_LONGEST_STEP_DAYS = 2


@dataclass(frozen=True, slots=True)
class LoggerChoices:
    """What the keeper has settled where a file proves nothing; columns are named by their headings."""

    date_order: str | None = None
    decimal_mark: str | None = None
    unit: str | None = None
    temperature_column: str | None = None
    humidity_column: str | None = None

    def __post_init__(self) -> None:
        for value, allowed, what in (
            (self.date_order, DATE_ORDERS, "The order of dates"),
            (self.decimal_mark, (".", ","), "The decimal mark"),
            (self.unit, TEMPERATURE_UNITS, "The unit"),
        ):
            if value is not None and value not in allowed:
                raise BadInput(f"{what} cannot be {value!r}. It can be {' or '.join(allowed)}.")


@dataclass(frozen=True, slots=True)
class DayReading:
    """The readings of one day: mean, lowest and highest temperature, the steady one that ages seed as much."""

    on: date
    temperature_c: float | None
    lowest_c: float | None
    highest_c: float | None
    ageing_c: float | None
    humidity_percent: float | None
    readings: int


@dataclass(frozen=True, slots=True)
class RefusedReading:
    """One row that was not taken, with the reason; `asks` names the choice that settles it."""

    row: int
    column: str
    why: str
    asks: str | None = None


@dataclass(frozen=True, slots=True)
class TakenFor:
    """What something in the file was taken for, and what proves it."""

    what: str
    value: str
    proof: str


@dataclass(frozen=True, slots=True)
class LoggerFile:
    """A logger's file as it was understood; nothing has been written anywhere."""

    name: str
    rows: int
    header: tuple[str, ...]
    taken_for: tuple[TakenFor, ...]
    days: tuple[DayReading, ...]
    refused: tuple[RefusedReading, ...]

    @property
    def asks(self) -> tuple[str, ...]:
        """The choices that would settle refused rows."""
        return tuple(sorted({each.asks for each in self.refused if each.asks}))


def read_logger(path: Path, *, today: date, choices: LoggerChoices | None = None) -> LoggerFile:
    """Read a logger's CSV or XLSX file; raises BadInput for a file in which no readings can be found."""
    chosen = choices or LoggerChoices()

    def fit(text: str, separator: str) -> float:
        return readings_fit(text, separator, today)

    rows, how = read_rows(path, most_rows=MOST_READINGS, fit=fit)
    columns = logger_columns(rows, path.name, today, chosen.temperature_column, chosen.humidity_column)
    below = [row for row in rows[columns.first_row :] if not row.is_empty]
    order, days = _days(below, columns, today, chosen.date_order)
    marks = _marks(below, columns, chosen.decimal_mark)
    reader = _Reader(columns, order, days, marks, chosen.unit or columns.unit, today)
    for row in below:
        reader.take(row)
    proof = "chosen by you" if chosen.unit else columns.unit_proof
    return LoggerFile(
        path.name,
        len(below),
        columns.header,
        _taken_for(columns, how.separator or "", order, marks, reader.unit, proof),
        reader.thinned(),
        tuple(reader.refused),
    )


def _days(
    rows: Sequence[TableRow], columns: LoggerColumns, today: date, chosen: str | None
) -> tuple[DateOrder, dict[str, DateReadings | Trouble | None]]:
    """Understand every day that is written once, and find the order of day and month."""
    known: dict[str, DateReadings | Trouble | None] = {}
    where: list[tuple[str, DateReadings]] = []
    for row in rows:
        text = day_text(_cell(row, columns.date_at))
        if text not in known:
            read = known[text] = readings_of(text, row.typed_at(columns.date_at), today)
            if isinstance(read, DateReadings):
                where.append((f"row {row.number}", read))
    order = order_of(where, chosen)
    if order.order is None and not order.is_contradicted:
        order = _by_sequence([read for _, read in where]) or order
    return order, known


def _by_sequence(written: list[DateReadings]) -> DateOrder | None:
    """Find the one order in which the days follow one another, as they do in a logger's file."""
    fits = []
    for order in {order for read in written for order, _ in read.by_order if order}:
        days = [dict(read.by_order).get(order) or dict(read.by_order).get("") for read in written]
        steps = [abs((b.on - a.on).days) for a, b in pairwise(days) if a is not None and b is not None]
        if len(days) > 1 and None not in days and all(step <= _LONGEST_STEP_DAYS for step in steps):
            fits.append(order)
    if len(fits) != 1:
        return None
    return DateOrder(fits[0], "in no other order do the days follow one another")


def _marks(rows: Sequence[TableRow], columns: LoggerColumns, chosen: str | None) -> Marks:
    seen: dict[str, str] = {}
    for at in (columns.temperature_at, columns.humidity_at):
        if at is not None:
            for row in rows:
                seen.setdefault(bare_figure(_cell(row, at))[0], f"row {row.number}")
    return marks_of(((where, text) for text, where in seen.items() if text), chosen)


def _cell(row: TableRow, at: int) -> str:
    return row.cells[at] if at < len(row.cells) else ""


class _Reader:
    """Takes row by row what can be read in one way only, and keeps the reasons for the rest."""

    def __init__(
        self,
        columns: LoggerColumns,
        order: DateOrder,
        days: dict[str, DateReadings | Trouble | None],
        marks: Marks,
        unit: str | None,
        today: date,
    ) -> None:
        self._columns, self._marks, self.unit = columns, marks, unit
        self._on = {text: _settled(read, order, today) for text, read in days.items()}
        self._figures: dict[str, Decimal | Trouble | None] = {}
        self._warm: dict[date, list[float]] = {}
        self._damp: dict[date, list[float]] = {}
        self._count: dict[date, int] = {}
        self.refused: list[RefusedReading] = []

    def take(self, row: TableRow) -> None:
        """Take one row whole, or refuse it with its reason."""
        columns = self._columns
        on = self._on[day_text(_cell(row, columns.date_at))]
        if isinstance(on, Trouble):
            self._refuse(row, columns.date_at, on)
            return
        warm = damp = None
        if columns.temperature_at is not None:
            warm = self._temperature(_cell(row, columns.temperature_at))
        if columns.humidity_at is not None:
            damp = self._humidity(_cell(row, columns.humidity_at))
        for found, at in ((warm, columns.temperature_at), (damp, columns.humidity_at)):
            if isinstance(found, Trouble) and at is not None:
                self._refuse(row, at, found)
                return
        if warm is None and damp is None:
            at = columns.temperature_at if columns.temperature_at is not None else columns.humidity_at
            self._refuse(row, at or 0, Trouble("There is no figure in this row."))
            return
        if isinstance(warm, Decimal):
            self._warm.setdefault(on, []).append(float(warm))
        if isinstance(damp, Decimal):
            self._damp.setdefault(on, []).append(float(damp))
        self._count[on] = self._count.get(on, 0) + 1

    def thinned(self) -> tuple[DayReading, ...]:
        """Give what was taken, day by day."""
        return tuple(
            day_reading(on, self._warm.get(on, ()), self._damp.get(on, ()), self._count[on])
            for on in sorted(self._count)
        )

    def _temperature(self, cell: str) -> Decimal | Trouble | None:
        figure = self._figure(cell)
        if not isinstance(figure, Decimal):
            return figure
        if self.unit is None:
            return Trouble(
                f"{shown(cell)} may be °C or °F: {self._columns.unit_proof}. Say which it is.", asks=ASKS_UNIT
            )
        celsius = (figure - 32) * 5 / 9 if self.unit == FAHRENHEIT else figure
        if not _COLDEST_C <= celsius <= _WARMEST_C:
            return Trouble(
                f"{shown(cell)} {self.unit} is no temperature of a store (-100 to 80 °C). Was the probe off?"
            )
        return celsius

    def _humidity(self, cell: str) -> Decimal | Trouble | None:
        figure = self._figure(cell)
        if isinstance(figure, Decimal) and not 0 <= figure <= 100:
            return Trouble(f"{shown(cell)} is no relative humidity (0 to 100 %). Was the probe off?")
        return figure

    def _figure(self, cell: str) -> Decimal | Trouble | None:
        if cell not in self._figures:
            self._figures[cell] = self._read(cell)
        return self._figures[cell]

    def _read(self, cell: str) -> Decimal | Trouble | None:
        text, sign = bare_figure(cell)
        if not text and sign > 0:
            return None
        read = read_numeral(text)
        if not isinstance(read, Numeral):
            return Trouble(f"{shown(cell)} is not a figure.")
        value = read.under(self._marks)
        if value is None:
            return Trouble(
                f"{shown(cell)} can be read in two ways, {read.as_decimal} or {read.as_grouped}: "
                f"{self._marks.proof}. Say what the decimal mark is.",
                asks=ASKS_DECIMAL_MARK,
            )
        return sign * value

    def _refuse(self, row: TableRow, at: int, trouble: Trouble) -> None:
        self.refused.append(RefusedReading(row.number, self._columns.heading(at), trouble.why, trouble.asks))


def day_reading(on: date, warm: Sequence[float], damp: Sequence[float], count: int) -> DayReading:
    """Thin the readings of one day, in °C and percent, to what is kept of it."""
    return DayReading(
        on=on,
        temperature_c=round(sum(warm) / len(warm), 2) if warm else None,
        lowest_c=round(min(warm), 2) if warm else None,
        highest_c=round(max(warm), 2) if warm else None,
        ageing_c=round(steady_temperature_c(warm), 2) if warm else None,
        humidity_percent=round(sum(damp) / len(damp), 1) if damp else None,
        readings=count,
    )


def _settled(read: DateReadings | Trouble | None, order: DateOrder, today: date) -> date | Trouble:
    if read is None:
        return Trouble("There is no date in this row.")
    if isinstance(read, Trouble):
        return read
    when = read_date(read, order, today)
    if isinstance(when, Trouble):
        return when
    if when.precision != "day":
        return Trouble(f"{shown(read.written)} is no day.", asks=ASKS_DATE_ORDER)
    return when.on


def _taken_for(
    columns: LoggerColumns, separator: str, order: DateOrder, marks: Marks, unit: str | None, unit_proof: str
) -> tuple[TakenFor, ...]:
    found = [TakenFor("Cells parted by", separator or "nothing", "so most rows hold a date and a figure")]
    for what, at in (
        ("Date", columns.date_at), ("Temperature", columns.temperature_at), ("Humidity", columns.humidity_at),
    ):  # fmt: skip
        if at is not None:
            found.append(TakenFor(what, columns.heading(at), "by its heading and what stands in it"))
    found.append(TakenFor("Order of dates", order.order or "no matter", order.proof))
    found.append(TakenFor("Decimal mark", marks.value, marks.proof))
    if columns.temperature_at is not None:
        found.append(TakenFor("Unit", unit or "not settled", unit_proof))
    return tuple(found)


__all__ = [
    "CELSIUS", "FAHRENHEIT", "DayReading", "LoggerChoices", "LoggerFile", "RefusedReading", "TakenFor", "day_reading",
    "read_logger",
]  # fmt: skip
