"""The air of the store: readings of thermometers and loggers, and failures of a freezer or fridge."""

from argparse import Namespace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from hilum.commands import figures
from hilum.commands.answer import Answer, answer
from hilum.commands.desk import Desk
from hilum.commands.parser import Verbs, add_day
from hilum.commands.store import place_named
from hilum.commands.terminal import Column, table, wrapped
from hilum.errors import BadInput

if TYPE_CHECKING:
    from hilum.benches.store_readings import LoggerFile, ReadingLine

_FAILURES = ("too warm", "opened wet")
_COLUMNS = (
    Column("Day", 10),
    Column("Mean °C", 7, right=True),
    Column("Lowest", 6, right=True),
    Column("Highest", 7, right=True),
    Column("Humidity", 8, right=True),
    Column("Readings", 8, right=True),
    Column("From", 30),
)
_SHOWN_DAYS = 31


def add_verbs(verbs: Verbs) -> None:
    """Put the verbs of this module into the parser."""
    readings = verbs.add(
        "readings", _readings, "list or take in the temperature and humidity of a store place",
        "Example: hilum readings Freezer logger.csv, or hilum readings Freezer --celsius -17.5",
    )  # fmt: skip
    readings.add_argument("place", metavar="PLACE", type=figures.words, help="as listed by: hilum place")
    readings.add_argument("file", metavar="FILE", nargs="?", type=Path, help="a logger's CSV or XLSX file")
    readings.add_argument("--celsius", metavar="T", type=figures.fraction, help="what the thermometer shows")
    readings.add_argument(
        "--humidity", metavar="PERCENT", type=figures.fraction, help="what the hygrometer shows"
    )
    readings.add_argument("--try", dest="only_try", action="store_true", help="only say how the file is read")
    readings.add_argument("--date-order", choices=("day-first", "month-first", "year-first"))
    readings.add_argument(
        "--decimal-mark", choices=("dot", "comma"), help="the mark before decimals in the file"
    )
    readings.add_argument("--unit", choices=("C", "F"), help="of the file's temperatures")
    add_day(readings)
    failure = verbs.add(
        "failure", _failure, "note that a freezer stood warm, or that jars were opened wet",
        "Example: hilum failure Freezer “too warm” --from 2026-08-02 --until 2026-08-05 --celsius 24",
    )  # fmt: skip
    failure.add_argument("place", metavar="PLACE", type=figures.words, help="as listed by: hilum place")
    failure.add_argument("kind", choices=_FAILURES)
    failure.add_argument("--from", dest="from_on", metavar="DATE", type=figures.day, required=True)
    failure.add_argument("--until", dest="until_on", metavar="DATE", type=figures.day, required=True)
    failure.add_argument(
        "--celsius", metavar="T", type=figures.fraction, help="the highest temperature reached"
    )
    failure.add_argument("--note", metavar="TEXT", type=figures.words, default="")
    failure.add_argument("--not", dest="leave_out", metavar="LOT,LOT", type=figures.listed, default=(),
                         help="lots that lay there and were not touched")  # fmt: skip


def _readings(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.store_readings import keep_logger, note_reading, place_readings

    typed = asked.celsius is not None or asked.humidity is not None
    if typed and asked.file is not None:
        raise BadInput("Give a logger's file or typed figures, not both at once.")
    words: list[str] = []
    read = None if asked.file is None else _read(asked, desk)
    with desk.catalogue(asked) as catalogue:
        place = place_named(catalogue, asked.place)
        if read is not None:
            words += _how_read(read)
            if not asked.only_try:
                words.append(keep_logger(catalogue, place.id, read).words)
        elif typed:
            kept = note_reading(
                catalogue,
                place.id,
                on=desk.day(asked),
                temperature_c=asked.celsius,
                humidity_percent=asked.humidity,
            )
            words.append(kept.words)
        days = place_readings(catalogue, place.id, limit=_SHOWN_DAYS)
    document: dict[str, Any] = {"place": place.path, "days": [_document(each) for each in days]}
    if read is not None:
        document |= {
            "rows": read.rows,
            "refused": [{"row": each.row, "why": each.why} for each in read.refused],
        }
    shown = table(_COLUMNS, [_cells(each) for each in days]) or [f"{place.path} has no readings yet."]
    changed = typed or (read is not None and not asked.only_try)
    return answer(document, words or shown, changed=changed)


def _read(asked: Namespace, desk: Desk) -> "LoggerFile":
    from hilum.benches.store_readings import LoggerChoices, read_logger

    choices = LoggerChoices(
        date_order=None if asked.date_order is None else asked.date_order.replace("-", " "),
        decimal_mark={"dot": ".", "comma": ",", None: None}[asked.decimal_mark],
        unit=None if asked.unit is None else f"°{asked.unit}",
    )
    return read_logger(asked.file, today=desk.clock().date(), choices=choices)


def _how_read(read: "LoggerFile") -> list[str]:
    lines = [f"{read.name}: {read.rows} rows, {len(read.days)} days."]
    lines += [f"  {each.what}: {each.value} ({each.proof})" for each in read.taken_for]
    for each in read.refused[:5]:
        lines += wrapped(f"Row {each.row}: {each.why}")
    if len(read.refused) > 5:
        lines.append(f"And {len(read.refused) - 5} more rows that were not taken.")
    return lines


def _failure(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.store_failures import CAUTION, record_failure

    with desk.catalogue(asked) as catalogue:
        done = record_failure(
            catalogue, place_named(catalogue, asked.place).id, asked.kind, from_on=asked.from_on,
            until_on=asked.until_on, temperature_c=asked.celsius, note=asked.note, leave_out=asked.leave_out,
        )  # fmt: skip
    lots = [
        {"lot": each.lot.number, "due_before": _day(each.due_before), "due_on": _day(each.lot.line.due_on)}
        for each in done.lots
    ]
    return answer({"place": done.place.path, "lots": lots}, [done.words, *wrapped(CAUTION)], changed=True)


def _day(day: Any) -> str | None:
    return None if day is None else str(day.isoformat())


def _figure(value: float | None) -> str:
    return "" if value is None else f"{value:.1f}"


def _cells(each: "ReadingLine") -> tuple[str, ...]:
    return (
        each.on.isoformat(), _figure(each.temperature_c), _figure(each.lowest_c), _figure(each.highest_c),
        _figure(each.humidity_percent), str(each.readings), each.origin,
    )  # fmt: skip


def _document(each: "ReadingLine") -> dict[str, Any]:
    return {
        "on": each.on.isoformat(),
        "temperature_c": each.temperature_c,
        "lowest_c": each.lowest_c,
        "highest_c": each.highest_c,
        "humidity_percent": each.humidity_percent,
        "readings": each.readings,
        "from": each.origin,
    }
