"""Which lots should be regrown, each with its reasons from figures the catalogue has already."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from hilum.benches.views import LotView, view
from hilum.benches.wording import month_words
from hilum.catalogue import listing, regrowing
from hilum.catalogue.listing import LotFilter
from hilum.catalogue.opening import Catalogue
from hilum.catalogue.outlook import lot_histories
from hilum.catalogue.settings import read_settings
from hilum.seedlore.forecast import forecast_each
from hilum.seedlore.germination import regrowing_bar_percent

# A forecast that is as likely below the standard as above it asks for new seed; our own choice.
CHANCE_THAT_ASKS = 0.5
_WEIGHTS = {"below standard": 8, "below 85 % of first": 6, "forecast below standard": 4,
            "low stock": 4, "only lot": 3}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Reason:
    """Why a lot should be regrown: a few words for a table, and the figures it rests on."""

    short: str
    words: str


@dataclass(frozen=True, slots=True)
class Candidate:
    """A lot that should be regrown, the most pressing reason first."""

    lot: LotView
    reasons: tuple[Reason, ...]

    @property
    def number(self) -> str:
        """The lot number."""
        return self.lot.number

    @property
    def weight(self) -> int:
        """How pressing it is, by its reasons together."""
        return sum(_WEIGHTS[reason.short] for reason in self.reasons)


@dataclass(frozen=True, slots=True)
class Candidates:
    """The lots that should be regrown, and how many were left out because a newer good lot of them is here."""

    lots: tuple[Candidate, ...]
    replaced: int


def candidates(catalogue: Catalogue, *, on: date, with_only_lots: bool = False) -> Candidates:
    """Give the lots that should be regrown, the most pressing first; those under way are left out.

    `with_only_lots` also gives lots whose one reason is that their variety has no other lot.
    """
    with catalogue.look() as connection:
        settings = read_settings(connection)
        lines, _ = listing.list_lots(connection, LotFilter(), on=on, sort="crop")
        lots = [view(line, settings) for line in lines if line.stock != 0]
        varieties = regrowing.varieties_of_lots(connection)
        under_way = {each.lot_id for each in regrowing.regrowings(connection, regrowing.OPEN_STATES)}
        first = regrowing.first_results(connection)
        chances = _chances(connection, lots, on)
    found, replaced = [], 0
    good = _good_by_variety(lots, varieties, chances)
    of_variety: dict[int, int] = {}
    for variety in varieties.values():
        of_variety[variety] = of_variety.get(variety, 0) + 1
    for shown in lots:
        if shown.line.id in under_way:
            continue
        variety = varieties[shown.line.id]
        reasons = _reasons(shown, first.get(shown.line.id), chances.get(shown.line.id))
        if of_variety[variety] == 1 and (reasons or with_only_lots):
            words = "It is the only lot of its variety with seed here: with it the variety would be lost."
            reasons.append(Reason("only lot", words))
        if reasons and _is_replaced(shown, good.get(variety, ())):
            replaced += 1
        elif reasons:
            found.append(Candidate(shown, tuple(reasons)))
    found.sort(key=lambda each: (-each.weight, each.lot.name))
    return Candidates(tuple(found), replaced)


def reasons_of(catalogue: Catalogue, typed: str, *, on: date) -> tuple[Reason, ...]:
    """Give the reasons of one lot, none where nothing asks for new seed."""
    from hilum.catalogue.find import resolve_lot

    with catalogue.look() as connection:
        shown = view(listing.one_lot(connection, resolve_lot(connection, typed)), read_settings(connection))
        first = regrowing.first_results(connection).get(shown.line.id)
        chance = _chances(connection, [shown], on).get(shown.line.id)
    return tuple(_reasons(shown, first, chance))


def _chances(connection: Any, lots: Sequence[LotView], on: date) -> dict[int, float]:
    """Give the chance that a lot is below its standard, for the lots that have a forecast."""
    tested = {shown.line.id: shown.standard for shown in lots if shown.line.tested_on is not None}
    histories = lot_histories(connection, tested, tested)
    found = forecast_each(list(histories.values()), on)
    return {
        lot_id: each.below_standard_chance
        for lot_id, each in zip(histories, found, strict=True)
        if each.below_standard_chance is not None
    }


def _reasons(shown: LotView, first: tuple[int, date] | None, chance: float | None) -> list[Reason]:
    line, found = shown.line, []
    percent = line.germination_percent
    if line.below_standard:
        found.append(
            Reason(
                "below standard",
                f"Germination is {percent} %, below the standard of {shown.standard_percent} %.",
            )
        )
    if first is not None and first[0] > 0 and percent is not None:
        bar = regrowing_bar_percent(first[0])
        if percent < bar:
            found.append(
                Reason(
                    "below 85 % of first",
                    f"Germination is {percent} %, below {bar} %: that is 85 % of its first result "
                    f"({first[0]} %, {month_words(first[1])}).",
                )
            )
    if not line.below_standard and chance is not None and chance >= CHANCE_THAT_ASKS:
        found.append(
            Reason(
                "forecast below standard",
                f"By the forecast there is a chance of {100 * chance:.0f} % that it is below the standard of "
                f"{shown.standard_percent} % by now.",
            )
        )
    if line.low:
        about = "about " if shown.stock_seeds_is_estimate else ""
        found.append(
            Reason(
                "low stock",
                f"Stock is {about}{shown.stock_seeds:,} seeds, not more than the reserve of {shown.reserve_seeds:,}.",
            )
        )
    return found


def _good_by_variety(
    lots: Sequence[LotView], varieties: Mapping[int, int], chances: Mapping[int, float]
) -> dict[int, tuple[LotView, ...]]:
    """Give the lots of each variety that nothing speaks against, tested and with seed above the reserve."""
    found: dict[int, tuple[LotView, ...]] = {}
    for shown in lots:
        line = shown.line
        if line.germination_percent is None or line.below_standard or line.low or line.stock is None:
            continue
        if line.state == "held" or chances.get(line.id, 0.0) >= CHANCE_THAT_ASKS:
            continue
        variety = varieties[line.id]
        found[variety] = (*found.get(variety, ()), shown)
    return found


def _is_replaced(shown: LotView, good: Sequence[LotView]) -> bool:
    return any((other.line.year or 0) > (shown.line.year or 0) for other in good)
