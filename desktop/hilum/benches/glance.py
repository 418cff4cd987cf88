"""The first look at the day: which lots are due, before the whole day sheet can be had."""

from dataclasses import dataclass
from datetime import date

from hilum.catalogue.amounts import shown_stock
from hilum.catalogue.glance import DueLine, due_at_a_glance

# More than a screen shows; the day sheet itself follows within the second.
FIRST_ROWS = 100


@dataclass(frozen=True, slots=True)
class DueLot:
    """A lot due for a test, read like the `LotView` that takes its place."""

    line: DueLine

    @property
    def number(self) -> str:
        """The lot number."""
        return self.line.number

    @property
    def stock_mg(self) -> int | None:
        """The stock of a lot kept by weight, in milligrams."""
        return self.line.stock if self.line.unit == "mg" else None

    @property
    def stock_words(self) -> str:
        """The stock as it is booked, in words."""
        return shown_stock(self.line.stock, self.line.unit, is_estimate=self.line.stock_is_estimate)


@dataclass(frozen=True, slots=True)
class Glance:
    """The first lots due on a day; `due_total` counts beyond them."""

    on: date
    due: tuple[DueLot, ...]
    due_total: int


def glance(where: str, *, on: date) -> Glance | None:
    """Look at a catalogue's file for the lots due; None where only opening it can tell (a server, an older file)."""
    found = due_at_a_glance(where, on, FIRST_ROWS)
    if found is None:
        return None
    lines, total = found
    return Glance(on, tuple(DueLot(line) for line in lines), total)
