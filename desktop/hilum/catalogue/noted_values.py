"""How the values of a row stand in a note of the history, and how they come back from it."""

from collections.abc import Mapping
from datetime import date
from typing import Any

from sqlalchemy import Table


def plain(value: Any) -> Any:
    """Give a value as a note keeps it: days and times as text."""
    return value.isoformat() if isinstance(value, date) else value


def restored(table: Table, values: Mapping[str, Any]) -> dict[str, Any]:
    """Turn a note back into a row's values: dates stand in it as text."""
    values_of_row: dict[str, Any] = {}
    for name, value in values.items():
        kind = table.c[name].type.python_type
        is_day = isinstance(value, str) and issubclass(kind, date)
        values_of_row[name] = kind.fromisoformat(value) if is_day else value
    return values_of_row
