"""Counts the checks of tests/published by what stands behind them, and says how many hold.

A plugin of pytest, loaded by packaging/published.py. A check that is a row of a table takes the row's
`status`; other checks take what their module says in `KIND` (for all of it) or `KINDS` (by function).
"""

from collections import Counter

import pytest

PUBLISHED, DERIVED, FROM_MEMORY = "published", "derived", "from memory"
PRACTICE, OWN, UNMARKED = "common practice", "of our own", "not marked"
LIBRARY = "reference library"
WORDS = {
    PUBLISHED: "published figures (printed, with source)",
    DERIVED: "derived figures (follow from a printed formula; they check numerics, not truth)",
    FROM_MEMORY: "figures quoted from memory (paper named, not looked up)",
    LIBRARY: "answers of an independent library (named, with its version)",
    PRACTICE: "common practice, no source",
    OWN: "of our own (the tables are whole, bad records are kept back)",
    UNMARKED: "not marked with a kind",
}


def kind_of(item: pytest.Item) -> str:
    """Say what stands behind one check."""
    row = getattr(item, "callspec", None)
    given = row.params.get("row") if row is not None else None
    if isinstance(given, dict) and "status" in given:
        return str(given["status"])
    module = getattr(item, "module", None)
    kinds: dict[str, str] = getattr(module, "KINDS", {})
    return kinds.get(getattr(item, "originalname", item.name), getattr(module, "KIND", UNMARKED))


class KindCounter:
    """Remembers the kind of every check and whether it held."""

    def __init__(self) -> None:
        self.kinds: dict[str, str] = {}
        self.failed: set[str] = set()

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        """Note the kinds; an unknown word is a fault in a table."""
        for item in items:
            kind = kind_of(item)
            if kind not in WORDS:
                raise pytest.UsageError(f"{item.nodeid}: {kind!r} is no kind of check")
            if kind == UNMARKED:
                raise pytest.UsageError(f"{item.nodeid}: say in KIND or KINDS what stands behind it")
            self.kinds[item.nodeid] = kind

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """Note what did not hold; a check that was skipped did not hold either."""
        if report.failed or report.skipped:
            self.failed.add(report.nodeid)

    def pytest_terminal_summary(self, terminalreporter: pytest.TerminalReporter) -> None:
        """Print the count of each kind."""
        terminalreporter.section("checks against the world")
        for line in summary(self.kinds, self.failed):
            terminalreporter.line(line)


def summary(kinds: dict[str, str], failed: set[str]) -> list[str]:
    """Give one line for each kind that is there, and one for all."""
    counts, misses = Counter(kinds.values()), Counter(kinds[one] for one in failed if one in kinds)
    lines = [
        f"{counts[kind]:5d}  {words}" + (f"  {misses[kind]} DO NOT HOLD" if misses[kind] else "")
        for kind, words in WORDS.items()
        if counts[kind]
    ]
    holding = f"{sum(misses.values())} do not hold" if failed else "all hold"
    return [*lines, f"{len(kinds):5d}  checks; {holding}"]


def pytest_configure(config: pytest.Config) -> None:
    """Put the counter beside pytest's own reporter."""
    config.pluginmanager.register(KindCounter(), "hilum-kinds")
