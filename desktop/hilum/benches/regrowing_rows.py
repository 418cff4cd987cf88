"""Regrowings as every bench shows them: what is written, with the lot it renews and the lot it became."""

from dataclasses import dataclass
from datetime import date
from typing import Any

from hilum.benches.views import LotView, view
from hilum.catalogue import lots, regrowing
from hilum.catalogue.opening import Catalogue
from hilum.catalogue.regrowing import RegrowingLine
from hilum.catalogue.settings import read_settings

_NEXT = {"planned": "sow", "sown": "select", "selected": "harvest"}


@dataclass(frozen=True, slots=True)
class Regrowing:
    """One regrowing with the lot it renews, and the new lot once there is one."""

    line: RegrowingLine
    lot: LotView
    new_lot: str | None

    @property
    def id(self) -> int:
        """The regrowing's own id."""
        return self.line.id

    @property
    def number(self) -> str:
        """The number of the lot that is regrown."""
        return self.lot.number

    @property
    def next_step(self) -> str:
        """What comes next: sow, select, harvest, or nothing."""
        return _NEXT.get(self.line.state, "")

    @property
    def flowers_in(self) -> int:
        """The year in which it flowers."""
        return flowering_year(self.lot, self.line.year)

    @property
    def where(self) -> str:
        """Garden and bed in one line."""
        return ", ".join(part for part in (self.line.garden, self.line.bed) if part)


def flowering_year(shown: LotView, sown_in: int) -> int:
    """Give the year in which a lot flowers: a biennial does so in the year after it was sown."""
    reference = shown.reference
    return sown_in + (1 if reference is not None and reference.life_cycle == "biennial" else 0)


def read_regrowings(connection: Any, states: tuple[str, ...]) -> tuple[Regrowing, ...]:
    """Give the regrowings in some states, the earliest year first."""
    settings = read_settings(connection)
    found = regrowing.regrowings(connection, states)
    ids = {each.lot_id for each in found} | {each.new_lot_id for each in found if each.new_lot_id is not None}
    shown = {line.id: view(line, settings) for line in lots.lines_of(connection, ids)}
    return tuple(
        Regrowing(each, shown[each.lot_id], shown[each.new_lot_id].number if each.new_lot_id else None)
        for each in found
    )


def to_sow(catalogue: Catalogue, *, on: date) -> tuple[Regrowing, ...]:
    """Give what is planned and is to be sown this year."""
    with catalogue.look() as connection:
        return tuple(row for row in read_regrowings(connection, ("planned",)) if row.line.year <= on.year)
