"""What every test stands on: no screen, no real home, and a PostgreSQL database where a test asks for one."""

import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

# Qt reads this when the first application object is made; set here, it is there before any test imports Qt.
os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from hypothesis import HealthCheck, settings

from tests.support.servers import IN_CI, NO_SERVER, empty_database

OFFSCREEN_CANNOT = (
    r"This plugin does not support raise\(\)",
    "This plugin does not support grabbing the keyboard",
)

# A machine under load is no fault of ours, so nothing here is measured by the clock.
SLOW_IS_FINE = [HealthCheck.too_slow, HealthCheck.function_scoped_fixture]
settings.register_profile("desk", deadline=None, suppress_health_check=SLOW_IS_FINE)
settings.register_profile("ci", deadline=None, suppress_health_check=SLOW_IS_FINE, derandomize=True)
settings.load_profile("ci" if IN_CI else "desk")


@pytest.fixture(autouse=True)
def keeper_home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Put the user's own folders into `tmp_path`: no test may see or touch the real ones."""
    home = tmp_path / "home"
    for name in ("DATA", "CONFIG", "CACHE", "STATE"):
        monkeypatch.setenv(f"XDG_{name}_HOME", str(home / name.lower()))
    for name in ("HOME", "USERPROFILE", "APPDATA", "LOCALAPPDATA"):
        monkeypatch.setenv(name, str(home))
    monkeypatch.delenv("HILUM_CATALOGUE", raising=False)
    return home


@pytest.fixture
def postgresql_url() -> Iterator[str]:
    """Give the URL of an empty database of this test's own; without a server skip, and in CI fail."""
    with empty_database() as url:
        yield url


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Leave out of the log check what the offscreen platform says whenever a list or menu pops up."""
    for item in items:
        item.add_marker(pytest.mark.qt_log_ignore(*OFFSCREEN_CANNOT, extend=True))


def pytest_terminal_summary(terminalreporter: Any) -> None:
    """Say loudly how many tests did not run for want of a server."""
    skipped = [
        report for report in terminalreporter.stats.get("skipped", []) if NO_SERVER in str(report.longrepr)
    ]
    if skipped:
        terminalreporter.section("NOT TESTED ON POSTGRESQL", sep="!", red=True, bold=True)
        terminalreporter.write_line(f"{len(skipped)} tests skipped: {NO_SERVER}")
