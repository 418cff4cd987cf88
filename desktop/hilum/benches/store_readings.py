"""Store: readings of temperature and humidity, typed or out of a logger's file."""

from dataclasses import asdict, dataclass
from datetime import date
from pathlib import Path

from hilum.benches.store import place_of_id
from hilum.catalogue import readings
from hilum.catalogue.due import recompute
from hilum.catalogue.opening import Catalogue, Job
from hilum.catalogue.places import StorePlaceLine
from hilum.catalogue.readings import DaysKept, ReadingLine
from hilum.catalogue.store_tree import lots_ever_at
from hilum.errors import BadInput
from hilum.exchange import logger
from hilum.exchange.dates import DATE_ORDERS
from hilum.exchange.logger import DayReading, LoggerChoices, LoggerFile
from hilum.exchange.logger_columns import TEMPERATURE_UNITS

__all__ = [
    "DATE_ORDERS",
    "HOW_READINGS_COUNT",
    "TEMPERATURE_UNITS",
    "DaysKept",
    "LoggerChoices",
    "LoggerFile",
    "ReadingLine",
    "ReadingsKept",
    "keep_logger",
    "note_reading",
    "place_readings",
    "read_logger",
]

# Said wherever readings are shown or taken in.
HOW_READINGS_COUNT = (
    "Readings are kept by day: mean, lowest, highest, and the steady temperature at which seed would age as much. "
    "In the forecast a month with readings counts as they say; a month without counts as the place is set. Once "
    "ten of the last twelve months have readings, they also speak for the time to come."
)
TYPED = "typed"


@dataclass(frozen=True, slots=True)
class ReadingsKept:
    """What became of readings: days written, replaced and left, and how many due dates moved."""

    place: StorePlaceLine
    days: DaysKept
    due_changed: int

    @property
    def words(self) -> str:
        """What became of them, in a sentence."""
        parts = [f"{self.days.new} days of readings are new"]
        if self.days.replaced:
            parts.append(f"{self.days.replaced} took the place of fewer readings")
        if self.days.left:
            parts.append(f"{self.days.left} were there already and stay")
        due = "no due date moved" if not self.due_changed else f"{self.due_changed} lots were reckoned anew"
        return f"{self.place.path}: {'; '.join(parts)}; {due}."


def note_reading(
    catalogue: Catalogue,
    store_place_id: int,
    *,
    on: date,
    temperature_c: float | None = None,
    humidity_percent: float | None = None,
) -> ReadingsKept:
    """Write down what a thermometer or hygrometer showed on a day."""
    if temperature_c is None and humidity_percent is None:
        raise BadInput("Type a temperature, a humidity, or both.")
    if temperature_c is not None and not -100 <= temperature_c <= 80:
        raise BadInput(f"{temperature_c:g} °C is no temperature of a store. Give -100 to 80 °C.")
    if humidity_percent is not None and not 0 <= humidity_percent <= 100:
        raise BadInput(f"{humidity_percent:g} % is no relative humidity. Give 0 to 100 %.")
    if on > catalogue.now().date():
        raise BadInput(f"{on.isoformat()} is in the future. Correct the date.")
    warm = () if temperature_c is None else (temperature_c,)
    damp = () if humidity_percent is None else (humidity_percent,)
    with catalogue.job("note a reading of a store place") as job:
        kept = _keep(job, store_place_id, (logger.day_reading(on, warm, damp, 1),), TYPED)
        if kept.days.left and not kept.days.new:
            raise BadInput(
                f"{kept.place.path} has this reading of {on.isoformat()} already, or more readings from a logger. "
                "Nothing was changed."
            )
        return kept


def read_logger(file: Path, *, today: date, choices: LoggerChoices | None = None) -> LoggerFile:
    """Understand a logger's file and show what it was taken for; nothing is written."""
    return logger.read_logger(file, today=today, choices=choices)


def keep_logger(catalogue: Catalogue, store_place_id: int, read: LoggerFile) -> ReadingsKept:
    """Write the days of a logger's file as readings of a place; the same file again changes nothing."""
    if not read.days:
        why = read.refused[0].why if read.refused else ""
        raise BadInput(f"No reading of {read.name} could be taken. {why}".strip())
    with catalogue.job(f"take in readings of {read.name}") as job:
        return _keep(job, store_place_id, read.days, read.name)


def _keep(job: Job, store_place_id: int, days: tuple[DayReading, ...], origin: str) -> ReadingsKept:
    place = place_of_id(job, store_place_id)
    rows = []
    for day in days:
        row = asdict(day)
        row["on_date"] = row.pop("on")
        rows.append(row)
    kept = readings.keep_days(job, store_place_id, rows, origin)
    changed = kept.new or kept.replaced
    moved = recompute(job, lots_ever_at(job.connection, [store_place_id])) if changed else 0
    return ReadingsKept(place, kept, moved)


def place_readings(
    catalogue: Catalogue, store_place_id: int, *, limit: int | None = None
) -> tuple[ReadingLine, ...]:
    """Give the daily figures of a place, newest first."""
    with catalogue.look() as connection:
        return readings.readings_of(connection, store_place_id, limit)
