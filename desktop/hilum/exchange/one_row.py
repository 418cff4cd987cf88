"""One row of an intake table: all its cells read, or everything that is wrong with it."""

import re
from dataclasses import dataclass, field
from datetime import date
from typing import TypeVar

from hilum.exchange.amounts import Amount, UnitOfColumn, WrittenAmount, read_amount
from hilum.exchange.columns import (
    AMOUNT,
    BOTANICAL_NAME,
    CROP,
    DONOR,
    GROWER,
    ISOLATION,
    NOTES,
    PLACE_GROWN,
    PLANTS,
    RECEIVED,
    SEED_COUNT,
    UNIT,
    VARIETY,
    YEAR,
    heading_at,
)
from hilum.exchange.crop_cells import CropCells, CropReading
from hilum.exchange.dates import DateReadings, PartialDate, date_words, read_date
from hilum.exchange.file_facts import Figures, FileFacts, count_column
from hilum.exchange.intake_values import Problem, ReadRow, Refusal
from hilum.exchange.layout import Layout
from hilum.exchange.numerals import western_digits
from hilum.exchange.rows import TableRow
from hilum.exchange.trouble import Trouble
from hilum.exchange.units import SEEDS
from hilum.exchange.words import one_line, shown
from hilum.exchange.years import Year, read_year

_MAX_NAME = 200
_MAX_NOTES = 10_000
_PLANTS = re.compile("[1-9][0-9]{0,6}")
_LIKE_A_FORMULA = re.compile(r"[=@]|[+-](?=\S)")
_Read = TypeVar("_Read")


@dataclass(slots=True)
class _Account:
    """What is said and what is wrong, gathered while a row is read."""

    said: list[str] = field(default_factory=list)
    wrong: list[tuple[int, Problem]] = field(default_factory=list)


class RowReader:
    """Reads rows of one table, once the facts of the whole file are settled."""

    def __init__(self, layout: Layout, facts: FileFacts, crops: CropCells, today: date) -> None:
        self._layout = layout
        self._facts = facts
        self._crops = crops
        self._today = today
        self._count_column = count_column(layout)

    def read(self, figures: Figures) -> ReadRow | Refusal:
        """Give the row as understood, or every problem it has."""
        row, account = figures.row, _Account()
        self._refuse_overlong(row, account)
        crop = self._crop(row, account)
        variety = self._variety(row, account)
        year = self._year(row, account)
        names = {
            meaning: self._name(row, meaning, account) for meaning in (PLACE_GROWN, GROWER, DONOR, ISOLATION)
        }
        received = self._received(figures, year, account)
        amount, further = self._amount(figures, account)
        plants, as_note = self._plants(row, account)
        notes = self._notes(row, [*further, *as_note], account)
        if account.wrong or crop is None or amount is None or received is None:
            return self._refusal(row, account)
        return ReadRow(
            row=row.number,
            crop_key=crop.key,
            crop_written=one_line(self._layout.text(row, CROP) or self._layout.text(row, BOTANICAL_NAME)),
            taken_for=tuple(account.said),
            variety=variety,
            year=year.year if year else None,
            place_grown=names[PLACE_GROWN],
            grower=names[GROWER],
            donor=names[DONOR],
            received_on=received.on,
            received_precision=received.precision,
            amount=amount.amount,
            unit=amount.unit,
            amount_is_estimate=amount.is_estimate,
            plants=plants,
            isolation=names[ISOLATION],
            notes=notes,
            cells=row.cells,
            open_group=crop.open_group,
            open_crops=crop.open_crops,
        )

    def _refusal(self, row: TableRow, account: _Account) -> Refusal:
        """Name the problems in the order of the file's columns."""
        problems = tuple(problem for _, problem in sorted(account.wrong, key=lambda each: each[0]))
        first, *rest = problems
        why = " ".join([first.why, *(f"Also, in {shown(other.column)}: {other.why}" for other in rest)])
        suggestion = next((problem.suggestion for problem in problems if problem.suggestion), None)
        return Refusal(row.number, first.column, why, suggestion, problems)

    def _unless_wrong(self, read: _Read | Trouble, account: _Account, *meanings: str) -> _Read | None:
        """Give what was read, or note the trouble under the first of these meanings that has a column."""
        if not isinstance(read, Trouble):
            return read
        at = min(
            (self._layout.position[each] for each in meanings if each in self._layout.position), default=0
        )
        column = self._layout.heading(*meanings)
        account.wrong.append((at, Problem(column, read.why, read.suggestion, read.asks, read.options)))
        return None

    def _refuse_overlong(self, row: TableRow, account: _Account) -> None:
        width = len(self._layout.header)
        beyond = [cell for cell in row.cells[width:] if cell.strip()]
        if beyond:
            why = (
                f"The row goes on behind the last heading with {shown(beyond[0])}: a separator inside a cell "
                "without quotation marks, perhaps. Mend the row, or give the column a heading."
            )
            account.wrong.append((-1, Problem(heading_at(self._layout.header, width), why)))

    def _crop(self, row: TableRow, account: _Account) -> CropReading | None:
        name = one_line(self._layout.text(row, CROP))
        botanical = one_line(self._layout.text(row, BOTANICAL_NAME))
        meanings = (CROP, BOTANICAL_NAME) if name or not botanical else (BOTANICAL_NAME, CROP)
        read = self._unless_wrong(self._crops.read(name, botanical), account, *meanings)
        account.said.extend(read.said if read else ())
        return read

    def _variety(self, row: TableRow, account: _Account) -> str:
        variety = self._name(row, VARIETY, account)
        if variety is None:
            trouble = Trouble('No variety. Write its name, or "unknown".')
            self._unless_wrong(trouble, account, VARIETY)
        return variety or ""

    def _name(self, row: TableRow, meaning: str, account: _Account) -> str | None:
        """Read a cell that is words on one line."""
        name = one_line(self._layout.text(row, meaning))
        if len(name) > _MAX_NAME:
            trouble = Trouble(f"{shown(name)} has {len(name)} letters; at most {_MAX_NAME} fit. Shorten it.")
            return self._unless_wrong(trouble, account, meaning)
        _say_formula(name, self._layout.heading(meaning), account)
        return name or None

    def _year(self, row: TableRow, account: _Account) -> Year | None:
        read = read_year(self._layout.text(row, YEAR), self._layout.typed(row, YEAR), self._today)
        year = self._unless_wrong(read, account, YEAR)
        account.said.extend(year.said if year else ())
        return year

    def _received(self, figures: Figures, year: Year | None, account: _Account) -> PartialDate | None:
        cell = figures.received
        if cell is None:
            when = PartialDate(self._today)
            account.said.append(f"no date received: taken as today, {date_words(when)}")
            return when
        read: PartialDate | Trouble = (
            read_date(cell, self._facts.order, self._today) if isinstance(cell, DateReadings) else cell
        )
        if isinstance(read, PartialDate) and year and year.year and read.on.year < year.year:
            read = Trouble(
                f"Received in {read.on.year}, but harvested later, in {year.year}. Correct one of the two."
            )
        settled = self._unless_wrong(read, account, RECEIVED)
        if settled and isinstance(cell, DateReadings):
            _say_date(cell, settled, account)
        return settled

    def _amount(self, figures: Figures, account: _Account) -> tuple[Amount | None, list[str]]:
        """Read weight or count; where both are given the weight is the stock and the count a note."""
        if isinstance(figures.unit, Trouble):
            self._unless_wrong(figures.unit, account, UNIT)
            return None, []
        weighed = self._one_amount(figures.amount, self._facts.unit, AMOUNT, account)
        counted = self._one_amount(figures.seed_count, self._count_column, SEED_COUNT, account)
        if figures.amount is None and figures.seed_count is None:
            account.said.append("amount not known: to be weighed or counted")
            only_counts = SEED_COUNT in self._layout.position and AMOUNT not in self._layout.position
            return Amount(None, SEEDS if only_counts or figures.unit == SEEDS else "mg"), []
        if figures.amount is None:
            return counted, []
        if counted is not None and isinstance(figures.seed_count, WrittenAmount):
            return weighed, [f"{self._layout.heading(SEED_COUNT)}: {figures.seed_count.text}"]
        return weighed, []

    def _one_amount(
        self, cell: WrittenAmount | Trouble | None, column: UnitOfColumn, meaning: str, account: _Account
    ) -> Amount | None:
        if cell is None:
            return None
        read = cell if isinstance(cell, Trouble) else read_amount(cell, self._facts.marks, column)
        amount = self._unless_wrong(read, account, meaning)
        account.said.extend(amount.said if amount else ())
        return amount

    def _plants(self, row: TableRow, account: _Account) -> tuple[int | None, list[str]]:
        """Read the number of plants; what is no plain number is kept as a note."""
        text = one_line(self._layout.text(row, PLANTS))
        if not text:
            return None, []
        if _PLANTS.fullmatch(western_digits(text)):
            return int(western_digits(text)), []
        heading = self._layout.heading(PLANTS)
        account.said.append(f"{heading} {shown(text)} is not a plain number: kept in the notes")
        return None, [f"{heading}: {text}"]

    def _notes(self, row: TableRow, further: list[str], account: _Account) -> str | None:
        """Join the notes with everything that has no column of its own."""
        parts = []
        for column in self._layout.notes:
            text = row.cells[column.position].strip() if column.position < len(row.cells) else ""
            if text:
                _say_formula(text, column.heading, account)
                parts.append(text if column.meaning == NOTES else f"{column.heading}: {text}")
        notes = "\n".join([*parts, *further])
        if len(notes) > _MAX_NOTES:
            trouble = Trouble(
                f"The notes have {len(notes):,} letters; at most {_MAX_NOTES:,} fit. Shorten them."
            )
            return self._unless_wrong(trouble, account, NOTES)
        return notes or None


def _say_formula(text: str, heading: str, account: _Account) -> None:
    if _LIKE_A_FORMULA.match(text):
        account.said.append(
            f"a cell that looks like a spreadsheet formula was kept as plain text ({heading})"
        )


def _say_date(cell: DateReadings, when: PartialDate, account: _Account) -> None:
    """Say how a date was taken unless it is written as an ISO date."""
    words = date_words(when)
    if cell.written not in {when.on.isoformat(), words}:
        account.said.append(f"{cell.written} taken as {words}")
    if when.precision != "day":
        account.said.append(f"only the {when.precision} of receipt is known ({words})")
