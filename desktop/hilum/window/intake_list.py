"""A list being taken in from a file: how it was read, what the keeper has settled, what was mended in it."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path

from hilum.benches import intake
from hilum.benches.keeping import Catalogue
from hilum.errors import KeeperError


@dataclass(frozen=True, slots=True)
class ListRequest:
    """What is asked of one reading: the file and everything the keeper has settled about it so far.

    `mended` holds cells written over, by row number and heading; the file itself stays as it is.
    """

    file: Path
    encoding: str | None = None
    sheet: str | None = None
    choices: intake.Choices = field(default_factory=intake.Choices)
    mended: Mapping[tuple[int, str], str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class ListReading:
    """A list as read; `plan` is None and `trouble` says why where no row can be understood yet."""

    request: ListRequest
    table: intake.Table
    plan: intake.IntakePlan | None
    trouble: str = ""


def read_list(catalogue: Catalogue, request: ListRequest, today: date) -> ListReading:
    """Read a list under what was settled; nothing is written, neither to the catalogue nor to the file."""
    table = intake.read_table(request.file, encoding=request.encoding, sheet=request.sheet)
    table = _with_mends(table, request.mended)
    try:
        plan = intake.plan_table(catalogue, table, today=today, choices=request.choices)
    except KeeperError as error:
        return ListReading(request, table, None, str(error))
    return ListReading(request, table, plan)


def _with_mends(table: intake.Table, mended: Mapping[tuple[int, str], str]) -> intake.Table:
    if not mended:
        return table
    rows = []
    for row in table.rows:
        cells, typed = list(row.cells), dict(row.typed or {})
        for (number, heading), text in mended.items():
            if number == row.number and heading in table.header:
                at = table.header.index(heading)
                cells += [""] * (at + 1 - len(cells))
                cells[at] = text
                typed.pop(at, None)
        rows.append(replace(row, cells=tuple(cells), typed=typed or None))
    return replace(table, rows=tuple(rows))


def accepting(
    catalogue: Catalogue, reading: ListReading, refusals: tuple[intake.Refusal, ...]
) -> ListRequest:
    """Give the request under which the suggestions for some refused rows hold.

    A crop's name is settled for the whole list; anything else is written over in its one cell.
    """
    crops, mended = dict(reading.request.choices.crops), dict(reading.request.mended)
    for refusal in refusals:
        for problem in refusal.problems:
            if not problem.suggestion:
                continue
            key = intake.crop_key_of(catalogue, problem.suggestion) if problem.asks == "crop" else None
            written = _cell(reading.table, refusal.row, problem.column)
            if key is not None and written:
                crops[written] = key
            elif problem.asks != "crop":
                mended[refusal.row, problem.column] = problem.suggestion
    return replace(reading.request, choices=replace(reading.request.choices, crops=crops), mended=mended)


def settling_crop(reading: ListReading, refusals: tuple[intake.Refusal, ...], key: str) -> ListRequest:
    """Give the request under which the names written in some refused rows mean one crop."""
    crops = dict(reading.request.choices.crops)
    for refusal in refusals:
        for problem in refusal.problems:
            written = _cell(reading.table, refusal.row, problem.column)
            if problem.asks == "crop" and written:
                crops[written] = key
    return replace(reading.request, choices=replace(reading.request.choices, crops=crops))


def _cell(table: intake.Table, number: int, heading: str) -> str:
    if heading not in table.header:
        return ""
    at = table.header.index(heading)
    for row in table.rows:
        if row.number == number and at < len(row.cells):
            return " ".join(row.cells[at].split())
    return ""
