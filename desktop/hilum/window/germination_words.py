"""What the testing bench says of tests: when the next count is, how far it has come, what a result means."""

from dataclasses import dataclass
from datetime import date

from hilum.benches.keeping import Catalogue
from hilum.benches.results import GerminationResult
from hilum.benches.testing import CLASSES, CountSheet, GerminationTestLine, count_sheet, running
from hilum.benches.wording import month_words


@dataclass(frozen=True, slots=True)
class StandingTest:
    """A running test with how far its counts have come."""

    test: GerminationTestLine
    last_count: date | None
    normal: int
    left: int

    @property
    def next_count_on(self) -> date | None:
        """The next counting day; the first one stays the next until it was counted, however late."""
        days = [day for day in (self.test.first_count_on, self.test.final_count_on) if day is not None]
        return next((day for day in days if self.last_count is None or self.last_count < day), None)


def standing(sheet: CountSheet) -> StandingTest:
    """Say how far the counts of a running test have come."""
    return StandingTest(
        sheet.test,
        max((day for day, _, _ in sheet.counts), default=None),
        sum(dish.totals["normal"] or 0 for dish in sheet.dishes),
        sum(dish.left for dish in sheet.dishes),
    )


def standing_tests(catalogue: Catalogue) -> tuple[StandingTest, ...]:
    """Give the running tests with how far they have come."""
    return tuple(standing(count_sheet(catalogue, test.id)) for test in running(catalogue))


def next_count(row: StandingTest, today: date) -> str:
    """Say when a running test is counted next, or since when that is overdue."""
    if row.test.final_count_on is None:
        return "no counting days set"
    day = row.next_count_on
    if day is None:
        return "all counted: finish it"
    if day == today:
        return "count today"
    year = "" if day.year == today.year else f" {day.year}"
    words = f"{day.day} {month_words(day)[:3]}{year}"
    return f"overdue since {words}" if day < today else f"count on {words}"


def tone_of_count(row: StandingTest, today: date) -> str:
    """Give the colour of those words: a warning from the counting day on."""
    day = row.next_count_on
    return "warn" if row.test.final_count_on is not None and (day is None or day <= today) else ""


def counted_words(sheet: CountSheet) -> str:
    """Say what has been found so far, class by class, and how many seeds are left."""
    totals = {name: [dish.totals[name] for dish in sheet.dishes] for name in CLASSES}
    told = [
        f"{sum(figure or 0 for figure in figures)} {name}"
        for name, figures in totals.items()
        if any(figure is not None for figure in figures)
    ]
    left = sum(dish.left for dish in sheet.dishes)
    return (
        ", ".join([*told, f"{left} of {sheet.test.seeds} seeds left"])
        if told
        else f"{left} seeds, none counted yet"
    )


def verdict_words(result: GerminationResult) -> str:
    """Give the verdict as the keeper reads it first."""
    return {
        "keep": "Keep",
        "retest": "Test again",
        "regrow": "Regrow",
        "too few seeds to say": "Too few seeds to say",
        "no standard": "No standard to judge by",
    }.get(result.verdict, result.verdict)


def classes_words(test: GerminationTestLine) -> str:
    """Give the classes of a finished test in whole percent; what was not looked at is left out."""
    named = [
        ("normal", test.normal_percent),
        ("abnormal", test.abnormal_percent),
        ("hard", test.hard_percent),
        ("fresh", test.fresh_percent),
        ("dead", test.dead_percent),
        ("not classed", test.not_classed_percent or None),
    ]
    return ", ".join(f"{percent} % {name}" for name, percent in named if percent is not None)


def tolerance_words(test: GerminationTestLine) -> str:
    """Say whether the dishes agree as well as they should."""
    if test.range_percent is None:
        return "One dish: there is nothing to compare it with."
    if test.allowed_percent is None:
        return f"The dishes differ by {test.range_percent:.0f} points; no limit is published for this mean."
    agree = "agree" if test.within_tolerance else "disagree"
    differ = f"they differ by {test.range_percent:.0f} points, {test.allowed_percent:.0f} are allowed"
    return f"The dishes {agree}: {differ}."
