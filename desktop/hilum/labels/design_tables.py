"""Design tables: the keys of a design file, each checked as it is taken, with what is allowed in its place."""

from typing import Any

from hilum.labels.design_lines import DesignLines, Spot
from hilum.labels.errors import DesignError

# Type below 5 pt cannot be read at arm's length (common practice, no source).
SMALLEST_PT, LARGEST_PT = 5.0, 60.0


class DesignTable:
    """One table of a design file; every key is asked for once, what is left over is refused."""

    def __init__(
        self, file: str, values: Any, inside: str = "", spot: Spot = (), lines: DesignLines | None = None
    ) -> None:
        self.file, self.inside, self._spot, self._lines = file, inside, spot, lines or DesignLines()
        if not isinstance(values, dict):
            raise DesignError(f"{self.where}: must be a table of keys.")
        self._values, self._asked = values, list[str]()

    @property
    def where(self) -> str:
        """Where it stands: “packet.toml, line 12 (layout 1, box 2 “lot”)”."""
        return self._where()

    def _where(self, key: str = "") -> str:
        line = self._lines.line((*self._spot, key))
        at = f"{self.file}, line {line}" if line else self.file
        if not at:
            return self.inside or "this design"
        return f"{at} ({self.inside})" if self.inside else at

    def called(self, name: str) -> None:
        """Add a name to what messages call it."""
        self.inside = f"{self.inside} “{name}”"

    def within(self, values: Any, inside: str, *spot: str | int) -> "DesignTable":
        """Give a table that stands in this one."""
        where = f"{self.inside}, {inside}" if self.inside else inside
        return DesignTable(self.file, values, where, (*self._spot, *spot), self._lines)

    def fault(self, key: str, allowed: str) -> DesignError:
        """Give the error for a key, with what is allowed."""
        given = f"is {self._values[key]!r}" if key in self._values else "is missing"
        return self.wrong(key, f"{key} {given}; allowed: {allowed}.")

    def wrong(self, key: str, words: str) -> DesignError:
        """Give an error in other words, at the line of a key."""
        return DesignError(f"{self._where(key)}: {words}")

    def has(self, key: str) -> bool:
        """Tell whether a key is there."""
        return key in self._values

    def take(self, key: str, default: Any = None) -> Any:
        """Give a value unchecked."""
        self._asked.append(key)
        return self._values.get(key, default)

    def text(self, key: str, default: str | None = None) -> str:
        """Give a text."""
        value = self.take(key, default)
        if not isinstance(value, str):
            raise self.fault(key, "a text in quotes")
        return value

    def choice(self, key: str, options: tuple[str, ...], default: str | None = None) -> str:
        """Give one of some words."""
        value = self.take(key, default)
        if value not in options:
            raise self.fault(key, ", ".join(options))
        return str(value)

    def number(self, key: str, low: float, high: float, default: float | None = None) -> float:
        """Give a number within bounds."""
        value = self.take(key, default)
        if isinstance(value, bool) or not isinstance(value, int | float) or not low <= value <= high:
            raise self.fault(key, f"a number from {low:g} to {high:g}")
        return float(value)

    def zero_or(self, key: str, low: float, high: float) -> float:
        """Give a number within bounds, or 0 (also where it is left out)."""
        value = self.take(key, 0)
        if not isinstance(value, bool) and value == 0:
            return 0.0
        if isinstance(value, bool) or not isinstance(value, int | float) or not low <= value <= high:
            raise self.fault(key, f"0, or a number from {low:g} to {high:g}")
        return float(value)

    def whole(self, key: str, low: int, high: int, default: int) -> int:
        """Give a whole number within bounds."""
        value = self.number(key, low, high, default)
        if value != int(value):
            raise self.fault(key, f"a whole number from {low} to {high}")
        return int(value)

    def flag(self, key: str) -> bool:
        """Give true or false."""
        value = self.take(key, False)
        if not isinstance(value, bool):
            raise self.fault(key, "true, false")
        return value

    def sizes(self, key: str) -> tuple[float, float]:
        """Give the smallest and the largest type."""
        value = self.take(key)
        numbers = value if isinstance(value, list) else [value, value]
        if (
            len(numbers) != 2
            or any(isinstance(each, bool) or not isinstance(each, int | float) for each in numbers)
            or not SMALLEST_PT <= numbers[0] <= numbers[1] <= LARGEST_PT
        ):
            raise self.fault(key, f"[smallest, largest] in points, from {SMALLEST_PT:g} to {LARGEST_PT:g}")
        return float(numbers[0]), float(numbers[1])

    def tables(self, key: str) -> list["DesignTable"]:
        """Give the tables of a list."""
        value = self.take(key)
        if not isinstance(value, list) or not value:
            raise self.fault(key, f"one or more [[{key}]] tables")
        return [self.within(each, f"{key} {n}", key, n) for n, each in enumerate(value, start=1)]

    def table(self, key: str) -> "DesignTable":
        """Give the one table of a key."""
        return self.within(self.take(key), key, key)

    def done(self) -> None:
        """Refuse what was never asked for."""
        for key in self._values:
            if key not in self._asked:
                raise self.wrong(key, f"{key} is not known; allowed: {', '.join(self._asked)}.")
