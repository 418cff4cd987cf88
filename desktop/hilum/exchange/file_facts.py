"""File facts: the decimal mark, unit of bare figures and date order of a whole table, and their proof."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from hilum.exchange.amounts import (
    UnitOfColumn,
    WrittenAmount,
    take_apart,
    unit_of,
    unit_of_column,
)
from hilum.exchange.choices import Choices
from hilum.exchange.columns import AMOUNT, RECEIVED, SEED_COUNT, UNIT, ColumnReading
from hilum.exchange.dates import DateOrder, DateReadings, order_of, readings_of
from hilum.exchange.intake_values import Fact
from hilum.exchange.layout import Layout
from hilum.exchange.numerals import Marks, marks_of
from hilum.exchange.rows import HowRead, TableRow
from hilum.exchange.trouble import Trouble
from hilum.exchange.units import SEEDS, UNITS
from hilum.exchange.words import listed, shown


@dataclass(frozen=True, slots=True)
class Figures:
    """The cells of one row that only the whole file can settle, taken apart."""

    row: TableRow
    amount: WrittenAmount | Trouble | None
    seed_count: WrittenAmount | Trouble | None
    unit: str | Trouble | None
    received: DateReadings | Trouble | None


@dataclass(frozen=True, slots=True)
class FileFacts:
    """The decimal mark, the unit of bare figures and the date order of one table."""

    marks: Marks
    unit: UnitOfColumn
    order: DateOrder


def figures_of(row: TableRow, layout: Layout, today: date) -> Figures:
    """Take the figures and the date of one row apart, before the file is known."""
    unit = _unit_cell(layout.text(row, UNIT))
    amount = take_apart(layout.text(row, AMOUNT), layout.typed(row, AMOUNT))
    if isinstance(amount, WrittenAmount) and isinstance(unit, str):
        if amount.unit is None:
            amount = replace(amount, unit=unit)
        elif amount.unit != unit:
            amount = Trouble(
                f"{shown(amount.text)} is in {amount.unit}, but the column {shown(layout.heading(UNIT))} "
                f"says {unit}. Correct one of the two."
            )
    return Figures(
        row=row,
        amount=amount,
        seed_count=take_apart(layout.text(row, SEED_COUNT), layout.typed(row, SEED_COUNT)),
        unit=unit,
        received=readings_of(layout.text(row, RECEIVED), layout.typed(row, RECEIVED), today),
    )


def _unit_cell(text: str) -> str | Trouble | None:
    if not text:
        return None
    return unit_of(text) or Trouble(
        f"{shown(text)} is not a unit known here. Use {listed(list(UNITS), 'or')}."
    )


def settle(
    figures: Sequence[Figures], layout: Layout, columns: Sequence[ColumnReading], choices: Choices
) -> FileFacts:
    """Find what the rows together prove; the keeper's choices go before."""
    amounts = [each.amount for each in figures if isinstance(each.amount, WrittenAmount)]
    written = [
        (f"row {each.row.number}", cell.figure)
        for each in figures
        for cell in (each.amount, each.seed_count)
        if isinstance(cell, WrittenAmount) and not cell.is_typed
    ]
    heading_unit = next((column.unit for column in columns if column.meaning == AMOUNT), None)
    received = next((column for column in columns if column.meaning == RECEIVED), None)
    dates = [
        (f"row {each.row.number}", each.received)
        for each in figures
        if isinstance(each.received, DateReadings)
    ]
    return FileFacts(
        marks=marks_of(written, choices.decimal_mark),
        unit=unit_of_column(heading_unit, layout.heading(AMOUNT), amounts, choices.unit),
        order=_order(dates, received, choices.date_order),
    )


def _order(
    dates: Sequence[tuple[str, DateReadings]], received: ColumnReading | None, chosen: str | None
) -> DateOrder:
    """Hold what the heading asks for against what the cells prove; neither is believed against the other."""
    found = order_of(dates, chosen)
    asked = received.date_order if received else None
    if received is None or asked is None or chosen is not None or found.order == asked:
        return found
    says = f"the heading {shown(received.heading)} says {asked}"
    if found.order is None and not found.is_contradicted:
        return DateOrder(asked, says)
    return DateOrder(None, f"{says}, but {found.proof}", is_contradicted=True)


def count_column(layout: Layout) -> UnitOfColumn:
    """Give the unit of a column that holds numbers of seeds."""
    return UnitOfColumn(SEEDS, f"the heading {shown(layout.heading(SEED_COUNT))} says so")


def worded(how: HowRead, facts: FileFacts) -> tuple[Fact, ...]:
    """Put everything that was taken to hold for the file into words, to be shown before writing."""
    found = []
    if how.encoding:
        found.append(Fact("encoding", how.encoding, how.encoding_proof or ""))
        separator = how.separator or "none: one column"
        found.append(Fact("separator", separator, "the rows have as many cells as the header with it"))
    if how.sheet is not None:
        others = (
            f"not read: {listed(list(how.other_sheets))}" if how.other_sheets else "the only one with cells"
        )
        found.append(Fact("sheet", how.sheet, others))
    found.append(Fact("decimal mark", facts.marks.value, facts.marks.proof))
    found.append(Fact("date order", facts.order.order or "not settled", facts.order.proof))
    found.append(Fact("unit", facts.unit.unit or "each cell's own", facts.unit.proof))
    return tuple(found)
