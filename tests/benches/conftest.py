"""A real catalogue for the benches' tests, on both engines where a server is there, under a clock that stands still."""

from collections.abc import Iterator
from datetime import date, datetime
from pathlib import Path

import pytest

from hilum.benches import intake, keeping
from hilum.benches.keeping import Catalogue

TODAY = date(2026, 11, 25)


def clock() -> datetime:
    """Noon of the day on which all these tests play."""
    return datetime(2026, 11, 25, 12)  # noqa: DTZ001 - the keeper's own wall clock


@pytest.fixture
def catalogue(tmp_path: Path) -> Iterator[Catalogue]:
    """Give an empty catalogue in a file."""
    with keeping.make(tmp_path / "library.hilum", clock=clock) as opened:
        yield opened


def take_in(catalogue: Catalogue, *rows: str) -> list[str]:
    """Take in rows written as the grid's first cells parted by bars; gives the lot numbers."""
    cells = [tuple(cell.strip() for cell in row.split("|")) for row in rows]
    width = len(intake.GRID_COLUMNS)
    plan = intake.plan_rows(catalogue, [cell + ("",) * (width - len(cell)) for cell in cells], today=TODAY)
    done = intake.take_in(catalogue, plan)
    assert not done.refused, done.refused
    return [accepted.lot for accepted in done.accepted]


LEEK = "Leek | Fenlock Grey | 2025 | 38.5 g | Ashmere plot 14 | Marit | 2025-10-04"
ONION = "Onion | Sexton's Keeper | 2025 | 54 g | Sallow Farm | Sallow Farm | 2025-10-02"
FOXGLOVE = "Foxglove | Chapel White | 2025 | 2.1 g | Ashmere plot 9 | Benedek | 2025-08-18"
SQUASH = "Winter squash (maxima) | Lantern Hill | 2024 | 40 seeds | Hollin garden | Oduya | 2024-10-20"
RADISH = "Radish | Glass Plum | 2024 |  | Tunnel 2 | Oduya | 2024-08-22"
