"""Day sheet: what is waiting, each under its own heading, with the reason."""

from dataclasses import dataclass
from datetime import date

from hilum.benches.promised import Promise, promised_returns
from hilum.benches.regrowing_rows import Regrowing, to_sow
from hilum.benches.testing import standing_tests
from hilum.benches.views import LotView, view
from hilum.benches.waiting import InHand, in_hand
from hilum.catalogue import listing, steps
from hilum.catalogue.germination_tests import GerminationTestLine
from hilum.catalogue.listing import LotFilter
from hilum.catalogue.opening import Catalogue
from hilum.catalogue.settings import read_settings

# Enough for a day's work; the catalogue bench shows the rest.
LONGEST_LIST = 500


@dataclass(frozen=True, slots=True)
class HeldLot:
    """A lot on hold with the kinds of its holds in force."""

    lot: LotView
    kinds: tuple[str, ...]

    @property
    def number(self) -> str:
        """The lot number."""
        return self.lot.number


@dataclass(frozen=True, slots=True)
class DaySheet:
    """What is waiting on a day; `due_total` counts beyond the listed ones."""

    on: date
    due: tuple[LotView, ...]
    due_total: int
    barred: tuple[LotView, ...]
    to_count: tuple[GerminationTestLine, ...]
    standing: tuple[GerminationTestLine, ...]
    to_be_weighed: tuple[LotView, ...]
    in_hand: tuple[InHand, ...]
    held: tuple[HeldLot, ...]
    group_open: tuple[LotView, ...]
    overdue: tuple[Promise, ...]
    to_sow: tuple[Regrowing, ...]
    lots: int


def day_sheet(catalogue: Catalogue, *, on: date) -> DaySheet:
    """Gather what is waiting on a day."""
    with catalogue.look() as connection:
        settings = read_settings(connection)

        def in_state(state: str) -> tuple[LotView, ...]:
            lines, _ = listing.list_lots(
                connection,
                LotFilter(state=state),
                on=on,
                sort="received",
                limit=LONGEST_LIST,
            )
            return tuple(view(line, settings) for line in lines)

        due, due_total = listing.list_lots(
            connection, LotFilter(due=True), on=on, sort="due", limit=LONGEST_LIST
        )
        sheet_due = tuple(view(line, settings) for line in due)
        barred = tuple(view(line, settings) for line in listing.barred_lots(connection, on))
        to_be_weighed, held = in_state("to be weighed"), in_state("held")
        group_open = tuple(view(line, settings) for line in listing.open_group_lots(connection))
        total = listing.count_lots(connection)
        kinds = steps.holds_in_force(connection)
    tests = standing_tests(catalogue)
    return DaySheet(
        on=on,
        due=sheet_due,
        due_total=due_total,
        barred=barred,
        to_count=tuple(row.test for row in tests if row.waits_on(on)),
        standing=tuple(row.test for row in tests),
        to_be_weighed=to_be_weighed,
        in_hand=in_hand(catalogue, on=on),
        held=tuple(HeldLot(lot, kinds.get(lot.line.id, ())) for lot in held),
        group_open=group_open,
        overdue=tuple(promise for promise in promised_returns(catalogue) if promise.is_overdue(on)),
        to_sow=to_sow(catalogue, on=on),
        lots=total,
    )
