"""The day in the heading of the day sheet."""

from datetime import date

WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


def day_title(on: date) -> str:
    """Give a day with its weekday: Wednesday, 2026-11-25."""
    return f"{WEEKDAYS[on.weekday()]}, {on.isoformat()}"
