"""Desk: what a verb works with: the clock, and the catalogue that was named."""

import os
from argparse import Namespace
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, date, datetime
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from hilum.benches.keeping import Catalogue

CATALOGUE_VARIABLE = "HILUM_CATALOGUE"


def local_time() -> datetime:
    """Give the time on the wall."""
    return datetime.now(UTC).astimezone().replace(tzinfo=None)


@dataclass(frozen=True, slots=True)
class Desk:
    """Knows what day it is and opens the catalogue."""

    clock: Callable[[], datetime] = local_time

    def day(self, asked: Namespace) -> date:
        """Give the day that was named, or today."""
        named: date | None = getattr(asked, "on", None)
        return self.clock().date() if named is None else named

    def where(self, asked: Namespace) -> str:
        """Give the place of the catalogue: as named, else from the environment, else the user's own."""
        named = named_place(asked)
        if named is not None:
            return named
        from hilum.benches.folders import usual_catalogue

        return str(usual_catalogue())

    def catalogue(self, asked: Namespace) -> "Catalogue":
        """Open the catalogue; to be closed by a `with` block."""
        from hilum.benches import keeping

        return keeping.open_at(self.where(asked), clock=self.clock)


def named_place(asked: Namespace) -> str | None:
    """Give the place of the catalogue that was named by option or environment, or None."""
    return getattr(asked, "catalogue", None) or os.environ.get(CATALOGUE_VARIABLE) or None
