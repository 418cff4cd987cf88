"""What the columns of a temperature logger's file are taken for: by their headings, and by what stands in them."""

import csv
import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from hilum.errors import BadInput
from hilum.exchange.dates import DateReadings, readings_of
from hilum.exchange.numerals import Numeral, read_numeral
from hilum.exchange.rows import TableRow
from hilum.exchange.words import folded, listed, shown

CELSIUS, FAHRENHEIT = "°C", "°F"
TEMPERATURE_UNITS = (CELSIUS, FAHRENHEIT)
# How many rows are looked at for the first one with a date and a figure: loggers write a head of their own.
_HEAD_ROWS = 200
_WARM = ("temp", "celsius", "fahrenheit", "grad", "probe", "t in", "°c", "ºc", "°f", "ºf", "℃", "℉")
_DAMP = ("humid", "feucht", "humed", "rh", "hr", "rel", "moist")
# Reckoned by the logger out of the other two, and no reading of the air.
_RECKONED = ("dew", "taupunkt", "rosee", "rocio", "vpd", "absolut")
_UNIT = re.compile(
    r"[°º˚]\s*([CF])\b|℃|℉|\(\s*([CF])\s*\)|\b(celsius|fahrenheit)\b|[\s_\[/]([CF])\]?$", re.IGNORECASE
)
_CLOCK = re.compile(
    r"(?:[T ]|,\s)\s*[0-9]{1,2}[:.][0-9]{2}(?:[:.][0-9]{2}(?:[.,][0-9]+)?)?\s*(?:[AaPp]\.?[Mm]\.?)?"
    r"(?:Z|[+-][0-9]{2}:?[0-9]{2})?$"
)


@dataclass(frozen=True, slots=True)
class LoggerColumns:
    """Positions of the date, temperature and humidity, the headings, and the first row with readings."""

    header: tuple[str, ...]
    first_row: int
    date_at: int
    temperature_at: int | None
    humidity_at: int | None
    unit: str | None
    unit_proof: str

    def heading(self, at: int) -> str:
        """Give a column's heading, or where it stands where it has none."""
        text = self.header[at] if at < len(self.header) else ""
        return text or f"column {at + 1}"


def day_text(cell: str) -> str:
    """Give a time stamp without its time of day, so that every day is understood once."""
    return _CLOCK.sub("", cell.strip()).strip()


def bare_figure(cell: str) -> tuple[str, int]:
    """Give a reading without its unit and sign, and the sign as 1 or -1."""
    text = cell.strip().rstrip("%°ºCcFf˚℃℉ \u00a0").replace("\u2212", "-").replace("\u2013", "-")
    if text.startswith("-"):
        return text[1:].strip(), -1
    return text.lstrip("+").strip(), 1


def is_figure(cell: str) -> bool:
    """Say whether a cell holds a figure, with or without sign and unit."""
    return bool(cell.strip()) and isinstance(read_numeral(bare_figure(cell)[0]), Numeral)


def is_day(cell: str, today: date) -> bool:
    """Say whether a cell holds a day, with or without a time."""
    read = readings_of(day_text(cell), None, today)
    return isinstance(read, DateReadings) and all(when.precision == "day" for _, when in read.by_order)


def readings_fit(text: str, separator: str, today: date) -> float:
    """Say how many of the first lines hold a date and a figure when their cells are parted by a separator."""
    lines = csv.reader(text.splitlines()[:_HEAD_ROWS], delimiter=separator)
    try:
        return sum(1.0 for cells in lines if _days_and_figures(cells, today)[1])
    except csv.Error:
        # A wrong separator may make one cell of half the file; the reader itself tells of a real fault.
        return 0.0


def _days_and_figures(cells: Sequence[str], today: date) -> tuple[list[int], list[int]]:
    """Give where days stand in a row, and figures beside them; none of these where there is no day."""
    days = [at for at, cell in enumerate(cells) if cell.strip() and is_day(cell, today)]
    figures = [at for at, cell in enumerate(cells) if at not in days and is_figure(cell)]
    return days, figures if days else []


def logger_columns(
    rows: Sequence[TableRow], name: str, today: date, temperature: str | None, humidity: str | None
) -> LoggerColumns:
    """Find the columns of a logger's file; `temperature` and `humidity` name headings the keeper has chosen."""
    first, date_at = _first_reading(rows, name, today)
    header = _header_above(rows, first)
    figures = [at for at, cell in enumerate(rows[first].cells) if at != date_at and is_figure(cell)]
    headed = {
        at: header[at] if at < len(header) else "" for at in range(len(rows[first].cells)) if at != date_at
    }
    warm = _chosen(headed, temperature) if temperature else _named(headed, _WARM)
    damp = _chosen(headed, humidity) if humidity else _named(headed, _DAMP, also_percent=True)
    warm = [at for at in warm if at not in damp] if temperature is None else warm
    if not warm and not damp:
        # A file without helpful headings: one figure beside the date can only be the temperature.
        warm = figures if len(figures) == 1 else []
    for found, what in ((warm, "temperature"), (damp, "humidity")):
        if len(found) > 1:
            several = listed([shown(headed[at]) for at in found])
            raise BadInput(
                f"{name} has several columns of {what}: {several}. Say which one is of this place."
            )
    if not warm and not damp:
        raise BadInput(
            f"No column of {name} is headed as a temperature or a humidity; the headings are "
            f"{listed([shown(text) for text in header if text]) or 'missing'}. Say which column it is."
        )
    unit, proof = _unit(rows, header, first, warm[0]) if warm else (None, "")
    return LoggerColumns(
        header, first, date_at, warm[0] if warm else None, damp[0] if damp else None, unit, proof
    )


def _first_reading(rows: Sequence[TableRow], name: str, today: date) -> tuple[int, int]:
    for index, row in enumerate(rows[:_HEAD_ROWS]):
        days, figures = _days_and_figures(row.cells, today)
        if figures:
            return index, days[0]
    raise BadInput(
        f"{name} holds no row with a date and a figure among its first {_HEAD_ROWS}. Export the readings of the "
        "logger as CSV, one reading a row with its date."
    )


def _header_above(rows: Sequence[TableRow], first: int) -> tuple[str, ...]:
    width = len(rows[first].cells)
    for row in reversed(rows[:first]):
        filled = sum(1 for cell in row.cells if cell.strip())
        if filled > 1 and len(row.cells) >= min(width, 2):
            return tuple(" ".join(cell.split()) for cell in row.cells)
    return ()


def _named(headed: dict[int, str], words: tuple[str, ...], *, also_percent: bool = False) -> list[int]:
    found = []
    for at, heading in headed.items():
        plain = f"{heading.casefold()} {folded(heading)}"
        if any(word in plain for word in _RECKONED):
            continue
        starts = any(part.startswith(word) for word in words for part in plain.split()) or any(
            word in plain for word in words if len(word) > 3 or not word.isalpha()
        )
        if starts or (also_percent and "%" in heading):
            found.append(at)
    return found


def _chosen(headed: dict[int, str], wanted: str) -> list[int]:
    found = [at for at, heading in headed.items() if folded(heading) == folded(wanted)]
    if not found:
        raise BadInput(
            f"No column is headed {shown(wanted)}; there are {listed([shown(text) for text in headed.values()])}."
        )
    return found[:1]


def _unit(rows: Sequence[TableRow], header: tuple[str, ...], first: int, at: int) -> tuple[str | None, str]:
    heading = header[at] if at < len(header) else ""
    for text, where in (
        (heading, f"the heading {shown(heading)}"),
        (rows[first].cells[at], f"row {rows[first].number}"),
    ):
        if found := _UNIT.search(text.strip()):
            letter = found.group(0).casefold()
            is_fahrenheit = "f" in letter.replace("celsius", "") or "℉" in letter
            return (FAHRENHEIT if is_fahrenheit else CELSIUS), where
    return None, "neither the heading nor the figures name °C or °F"
