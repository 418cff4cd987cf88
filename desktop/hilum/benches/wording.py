"""Figures and days in words, alike in every bench; nothing here needs an open catalogue."""

from datetime import date

from hilum.catalogue.amounts import shown_amount

__all__ = ["day_text", "month_words", "partial_date", "shown_amount"]


def day_text(day: date | None) -> str | None:
    """Give a date as ISO text, or None."""
    return None if day is None else day.isoformat()


def partial_date(day: date, precision: str) -> str:
    """Give a date as exactly as it is known: 2025-10-04, 2025-10 or 2025."""
    return day.isoformat()[: {"year": 4, "month": 7, "day": 10}[precision]]


def month_words(day: date) -> str:
    """Give a month as labels say it: “Jan 2026”."""
    names = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
    return f"{names[day.month - 1]} {day.year}"
