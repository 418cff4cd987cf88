"""What every test of the window stands on: a real catalogue with a few lots, on a fixed day."""

from collections.abc import Callable, Iterator
from datetime import datetime
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication

from hilum.benches import intake, keeping
from hilum.window.theme import apply_theme
from hilum.window.work import WorkDay
from tests.support.answers import Answers

TODAY = datetime(2026, 11, 25, 9, 30)  # noqa: DTZ001 -- the keeper's own wall clock
# Crop, variety, year, weight, place grown, grower, received, plants, isolation, notes.
ROWS = (
    ("Leek", "Grey Ferryman", "2024", "42 g", "Ferry Reach", "Ada Quill", "2025-01-10", "24", "cage", ""),
    ("Broad bean", "Bannerman's Dwarf", "2026", "350 g", "Ferry Reach", "Ada Quill", "2026-10-02", "40", "",
     ""),
    ("Lettuce", "Candlewick", "2025", "6.5 g", "Upper Mill", "Tomas Reed", "2025-09-20", "12", "",
     "bolted late"),
    ("Tomato", "Lantern Street", "2023", "3 g", "Glass Lane", "", "2023-11-05", "6", "", ""),
    ("Pea", "Long Wharf", "2026", "", "Upper Mill", "Tomas Reed", "2026-11-20", "", "", "not weighed yet"),
)  # fmt: skip


@pytest.fixture
def clock() -> Callable[[], datetime]:
    """Give the clock that always shows the same morning."""
    return lambda: TODAY


@pytest.fixture
def answers() -> Answers:
    """Give someone who says yes to everything."""
    return Answers()


@pytest.fixture
def empty_day(qapp: QApplication, tmp_path: Path, clock: Callable[[], datetime]) -> Iterator[WorkDay]:
    """Give a working day on a catalogue without lots."""
    apply_theme(qapp, "light")
    catalogue = keeping.make(tmp_path / "library.hilum", clock=clock)
    work = WorkDay(catalogue, clock)
    yield work
    work.finish()
    catalogue.close()


@pytest.fixture
def work_day(empty_day: WorkDay) -> WorkDay:
    """Give a working day on a catalogue with a handful of lots, taken in like any list."""
    plan = intake.plan_rows(empty_day.catalogue, ROWS, today=TODAY.date())
    taken = intake.take_in(empty_day.catalogue, plan)
    assert not taken.refused, taken.refused
    return empty_day


@pytest.fixture
def lots(work_day: WorkDay) -> dict[str, str]:
    """Give the lot numbers of the working day by variety."""
    from hilum.benches.lots import LotFilter, find_lots

    page = find_lots(work_day.catalogue, LotFilter(), on=work_day.today())
    return {lot.line.variety: lot.number for lot in page.lots}
