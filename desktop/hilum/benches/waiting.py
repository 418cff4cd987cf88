"""Lots in hand: not in the store yet, with what has been done to each and what comes next."""

from dataclasses import dataclass
from datetime import date

from hilum.benches.views import LotView, view
from hilum.catalogue import listing, steps
from hilum.catalogue.listing import LotFilter
from hilum.catalogue.opening import Catalogue
from hilum.catalogue.settings import read_settings

# The usual order of the steps; a lot in hand is offered the first it has not had.
ORDER = ("cleaned", "dried", "weighed", "counted", "frozen")


@dataclass(frozen=True, slots=True)
class InHand:
    """A lot that is not in the store yet: what has been done to it, what comes next."""

    lot: LotView
    done: tuple[str, ...]
    next_step: str | None
    holds: tuple[str, ...]


def in_hand(catalogue: Catalogue, *, on: date) -> tuple[InHand, ...]:
    """Give the lots that are in hand, the ones that came in first on top."""
    with catalogue.look() as connection:
        settings = read_settings(connection)
        kinds = steps.step_kinds(connection)
        holds = steps.holds_in_force(connection)
        stored = steps.stored_lots(connection)
        found = []
        for state in ("to be weighed", "in hand", "held"):
            lines, _ = listing.list_lots(connection, LotFilter(state=state), on=on, sort="received")
            found += [line for line in lines if line.id not in stored]
    return tuple(
        InHand(
            view(line, settings),
            tuple(kind for kind in ORDER if kind in kinds.get(line.id, ())),
            next((kind for kind in ORDER if kind not in kinds.get(line.id, ())), None),
            holds.get(line.id, ()),
        )
        for line in sorted(found, key=lambda line: (line.received_on, line.id))
    )
