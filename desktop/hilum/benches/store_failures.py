"""Store: a freezer that stood warm or jars that were opened wet, as one event over every lot in the place."""

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date

from hilum.benches.store import place_of_id
from hilum.benches.views import LotView, view
from hilum.catalogue import failures, listing
from hilum.catalogue.due import recompute
from hilum.catalogue.failures import WARM, WET, FailureLine
from hilum.catalogue.folding import tidy
from hilum.catalogue.opening import Catalogue
from hilum.catalogue.places import StorePlaceLine
from hilum.catalogue.settings import read_settings
from hilum.catalogue.store_records import FAILURE_KINDS
from hilum.catalogue.store_tree import StoreTree, read_store_tree
from hilum.errors import BadInput

__all__ = [
    "CAUTION",
    "FAILURE_KINDS",
    "WARM",
    "WET",
    "Befallen",
    "FailureDone",
    "FailureLine",
    "failures_so_far",
    "lots_befallen",
    "record_failure",
]

# Rao et al. 2006, Manual of Seed Handling in Genebanks: containers warm to the room before they are opened.
CAUTION = (
    "Leave the jars closed until they are as warm as the room: air that reaches cold seed wets it. Seed that drew damp "
    "is dried and measured again before it is frozen; seed frozen wet dies."
)


@dataclass(frozen=True, slots=True)
class Befallen:
    """One lot of a failure, with the date its next test fell due before, and falls due now."""

    lot: LotView
    due_before: date | None

    @property
    def due_moved(self) -> bool:
        """Whether the next test is due on another day than before."""
        return self.due_before != self.lot.line.due_on


@dataclass(frozen=True, slots=True)
class FailureDone:
    """A failure as it was written, with every lot it befell."""

    id: int
    place: StorePlaceLine
    lots: tuple[Befallen, ...]

    @property
    def words(self) -> str:
        """What was written, in a sentence."""
        moved = sum(1 for each in self.lots if each.due_moved)
        return (
            f"{self.place.path}: the failure is noted for {len(self.lots)} lots; "
            f"{moved} of them are due for a test on another day than before."
        )


def lots_befallen(
    catalogue: Catalogue, store_place_id: int, from_on: date, until_on: date
) -> tuple[LotView, ...]:
    """Give the lots that lay in a place, or in a place within it, on any day of a failure."""
    _refuse_backwards(from_on, until_on)
    with catalogue.look() as connection:
        tree = read_store_tree(connection)
        settings = read_settings(connection)
        ids = failures.lots_lying(
            connection, _inside(tree, store_place_id, from_on, until_on), from_on, until_on
        )
        return tuple(view(listing.one_lot(connection, lot_id), settings) for lot_id in ids)


def record_failure(
    catalogue: Catalogue,
    store_place_id: int,
    kind: str,
    *,
    from_on: date,
    until_on: date,
    temperature_c: float | None = None,
    note: str = "",
    leave_out: Collection[str] = (),
) -> FailureDone:
    """Write a failure for every lot that lay in the place, but those that were not touched by it (`leave_out`).

    The forecast counts the days at the highest temperature reached, the careful reading; where jars were opened
    wet, no dryness measured before speaks for the seed any more. It is taken back as one.
    """
    _refuse_backwards(from_on, until_on)
    if kind not in FAILURE_KINDS:
        raise BadInput(f"A failure of the store is one of: {', '.join(FAILURE_KINDS)}.")
    if kind == WARM and temperature_c is None:
        raise BadInput(
            "Say how warm it got: the highest temperature reached, or the room's if nothing was read."
        )
    if temperature_c is not None and not -100 <= temperature_c <= 80:
        raise BadInput(f"{temperature_c:g} °C is no temperature of a store. Give -100 to 80 °C.")
    if until_on > catalogue.now().date():
        raise BadInput(f"{until_on.isoformat()} is in the future. Note the failure up to today.")
    with catalogue.job(f"note a failure of the store: {kind}") as job:
        place = place_of_id(job, store_place_id)
        tree = read_store_tree(job.connection)
        inside = _inside(tree, store_place_id, from_on, until_on)
        before = {
            lot_id: listing.one_lot(job.connection, lot_id)
            for lot_id in failures.lots_lying(job.connection, inside, from_on, until_on)
        }
        unknown = set(leave_out) - {line.number for line in before.values()}
        if unknown:
            raise BadInput(f"{', '.join(sorted(unknown))} did not lie in {place.path} on those days.")
        befallen = [lot_id for lot_id, line in before.items() if line.number not in leave_out]
        if not befallen:
            raise BadInput(f"No lot lay in {place.path} on those days, so there is nothing to note.")
        figure = temperature_c if kind == WARM else None
        failure_id = failures.add_failure(
            job, store_place_id, kind, from_on, until_on, figure, tidy(note), befallen
        )
        recompute(job, befallen)
        lots = tuple(
            Befallen(view(listing.one_lot(job.connection, lot_id), job.settings), before[lot_id].due_on)
            for lot_id in befallen
        )
        return FailureDone(failure_id, place, lots)


def failures_so_far(catalogue: Catalogue) -> tuple[FailureLine, ...]:
    """Give every failure of the store with the lots it befell, newest first."""
    with catalogue.look() as connection:
        return failures.all_failures(connection)


def _inside(tree: StoreTree, store_place_id: int, from_on: date, until_on: date) -> frozenset[int]:
    """Give the places that lay in a place on the first or the last day of a failure."""
    if store_place_id not in tree.spells:
        raise BadInput("That store place is not in the catalogue.")
    return tree.inside(store_place_id, from_on) | tree.inside(store_place_id, until_on)


def _refuse_backwards(from_on: date, until_on: date) -> None:
    if until_on < from_on:
        raise BadInput("The failure would end before it began. Correct one of the two days.")
