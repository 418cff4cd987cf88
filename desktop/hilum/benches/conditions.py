"""What a test is laid on, how warm and when it is counted: the published method, or the keeper's own."""

from dataclasses import dataclass
from datetime import date, timedelta

from hilum.catalogue.germination_tests import DishDays
from hilum.errors import BadInput
from hilum.seedlore.methods import GerminationMethod

# 7 CFR 201.58(a)(1): the first count may shift by 1 to 3 days; the test may run 2 days past the final one.
FIRST_MAY_SHIFT, FINAL_MAY_SHIFT = 3, 2


@dataclass(frozen=True, slots=True)
class Conditions:
    """What a keeper asked for; what is empty is filled in from the published method."""

    substrate: str = ""
    temperature: str = ""
    first_count_days: int | None = None
    final_count_days: int | None = None
    prechill_days: int = 0

    def filled_in(self, published: GerminationMethod | None) -> "Conditions":
        """Give the conditions with the gaps filled; refuses counting days that cannot be."""
        first, final = self.first_count_days, self.final_count_days
        if published is not None and not (first or final):
            first, final = published.first_count_days, published.final_count_days
        if first is not None and final is None:
            first, final = None, first
        if first is not None and final is not None and first >= final:
            raise BadInput(
                f"The final count (day {final}) comes after the first one (day {first}). Correct one of the two days."
            )
        substrate = published.substrates[0].name if published is not None else ""
        return Conditions(
            self.substrate.strip() or substrate,
            self.temperature.strip() or (published.warmth.words if published is not None else ""),
            first, final, self.prechill_days,
        )  # fmt: skip

    def changed_words(self, published: GerminationMethod | None) -> str:
        """Say what differs from the published method; empty where nothing does or none is published."""
        if published is None:
            return ""
        said = []
        if self.substrate not in {entry.name for entry in published.substrates}:
            said.append(self.substrate)
        if self.temperature not in {each.words for each in (published.warmth, *published.alternates)}:
            said.append(self.temperature)
        days = tuple(day for day in (self.first_count_days, self.final_count_days) if day is not None)
        if days != published.count_days:
            said.append("counted on day " + " and day ".join(str(day) for day in days))
        return f"changed from the published method: {', '.join(said)}" if said else ""

    def days_from(self, laid_on: date, closed_weekdays: tuple[int, ...]) -> DishDays:
        """Give the counting days of dishes laid on a day, moved off closed days as far as the rules allow."""
        warm_from = laid_on + timedelta(days=self.prechill_days)
        first = _open_day(warm_from, self.first_count_days, FIRST_MAY_SHIFT, closed_weekdays)
        final = _open_day(warm_from, self.final_count_days, FINAL_MAY_SHIFT, closed_weekdays)
        if first is not None and final is not None and first >= final:
            # Close together: better a count on a closed day than two on one.
            first = warm_from + timedelta(days=self.first_count_days or 0)
        return DishDays(laid_on, first, final)


def _open_day(start: date, days: int | None, may_shift: int, closed_weekdays: tuple[int, ...]) -> date | None:
    if days is None:
        return None
    day = start + timedelta(days=days)
    later = (day + timedelta(days=shift) for shift in range(may_shift + 1))
    return next((each for each in later if each.weekday() not in closed_weekdays), day)
