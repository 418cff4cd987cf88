"""Choices: what the keeper has settled for one file where the file itself proves nothing."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from hilum.errors import BadInput
from hilum.exchange.dates import DATE_ORDERS
from hilum.exchange.units import UNITS
from hilum.exchange.words import listed


@dataclass(frozen=True, slots=True)
class Choices:
    """Meanings by heading, the decimal mark ("." or ","), the date order, the unit of bare figures, and
    the key of the crop meant by each name as it is written."""

    columns: Mapping[str, str] = field(default_factory=dict)
    decimal_mark: str | None = None
    date_order: str | None = None
    unit: str | None = None
    crops: Mapping[str, str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        for value, allowed, what in (
            (self.decimal_mark, (".", ","), "The decimal mark"),
            (self.date_order, DATE_ORDERS, "The order of dates"),
            (self.unit, UNITS, "The unit"),
        ):
            if value is not None and value not in allowed:
                raise BadInput(f"{what} cannot be {value!r}. It can be {listed(list(allowed), 'or')}.")
