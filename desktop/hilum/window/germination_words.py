"""What the testing bench says of tests: when the next count is, how far it has come, what a result means."""

import re
from datetime import date

from hilum.benches.groups import COUNT_ON, KEEP, REGROW
from hilum.benches.results import GerminationResult
from hilum.benches.testing import CLASSES, CountSheet, GerminationTestLine, StandingTest
from hilum.benches.wording import month_words


def next_count(row: StandingTest, today: date) -> str:
    """Say when a running test is counted next or since when that is overdue, and in groups what comes next."""
    if row.groups is not None and row.groups.word != COUNT_ON:
        return {KEEP: "clear: keep", REGROW: "clear: regrow"}.get(row.groups.word, row.groups.word)
    if not row.has_days:
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
    asks = row.groups is not None and row.groups.word != COUNT_ON
    return "warn" if asks or row.waits_on(today) else ""


def short_reason(due_why: str) -> str:
    """Give the reason of a due date in a few words; the whole of it stands in the tip and on the lot's page."""
    return re.split(r"[;:(]", due_why, maxsplit=1)[0].strip()


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
