"""Intake rows: a table of lots understood row by row; what cannot be known is refused, never guessed."""

from collections.abc import Sequence
from datetime import date

from hilum.errors import BadInput
from hilum.exchange.choices import Choices
from hilum.exchange.columns import read_columns
from hilum.exchange.crop_cells import CropCells
from hilum.exchange.file_facts import figures_of, settle, worded
from hilum.exchange.intake_values import (
    Fact,
    IntakeReading,
    Problem,
    ReadRow,
    Refusal,
    Skipped,
)
from hilum.exchange.layout import Layout
from hilum.exchange.one_row import RowReader
from hilum.exchange.rows import TableRow
from hilum.exchange.tables import Table
from hilum.exchange.words import one_line, shown
from hilum.seedlore.crops import CropIndex

__all__ = [
    "Choices",
    "Fact",
    "IntakeReading",
    "Problem",
    "ReadRow",
    "Refusal",
    "Skipped",
    "understand",
]


def understand(
    table: Table,
    *,
    crops: CropIndex,
    today: date,
    choices: Choices | None = None,
    language: str = "en_gb",
) -> IntakeReading:
    """Say of every row of a table what it was taken for, or why it is refused; nothing is written.

    `choices` holds what the keeper settled for this file; `language` is the one crops are named in. Raises
    `BadInput` when the table lacks a column without which no row can be a lot.
    """
    choices = choices or Choices()
    skipped, rows = _sift(table)
    if not rows:
        raise BadInput(
            "The list has a header, but no row below it says anything. Choose another file or sheet."
        )
    columns = read_columns(table.header, rows, choices.columns)
    layout = Layout.of(table.header, columns)
    figures = [figures_of(row, layout, today) for row in rows]
    facts = settle(figures, layout, columns, choices)
    reader = RowReader(layout, facts, CropCells(crops, choices.crops, language), today)
    readings = [reader.read(each) for each in figures]
    return IntakeReading(
        understood=tuple(reading for reading in readings if isinstance(reading, ReadRow)),
        refused=tuple(reading for reading in readings if isinstance(reading, Refusal)),
        skipped=skipped,
        columns=columns,
        facts=worded(table.how, facts),
    )


def _sift(table: Table) -> tuple[tuple[Skipped, ...], Sequence[TableRow]]:
    """Part the rows that say something from empty ones, repeated headers and titles."""
    header = _compared(table.header)
    skipped = [Skipped(row.number, f"above the header: {shown(' '.join(row.cells))}") for row in table.above]
    told = []
    for row in table.rows:
        if row.is_empty:
            skipped.append(Skipped(row.number, "the row is empty"))
        elif _compared(row.cells) == header:
            skipped.append(Skipped(row.number, "the header again"))
        else:
            told.append(row)
    return tuple(skipped), told


def _compared(cells: Sequence[str]) -> tuple[str, ...]:
    compared = [one_line(cell).casefold() for cell in cells]
    while compared and not compared[-1]:
        compared.pop()
    return tuple(compared)
