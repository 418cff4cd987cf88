"""Each test of the catalogue runs on a file and, where there is a server, on PostgreSQL."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from hilum.catalogue.opening import Catalogue, new_catalogue
from tests.catalogue.builders import TickingClock

ENGINES = ("file", pytest.param("server", marks=pytest.mark.postgresql))


@pytest.fixture
def clock() -> TickingClock:
    """Give a clock that moves a second at every look."""
    return TickingClock()


@pytest.fixture(params=ENGINES)
def where(request: pytest.FixtureRequest, tmp_path: Path) -> str | Path:
    """Give a place for a catalogue: a file, then an empty database on a server."""
    if request.param == "file":
        return tmp_path / "library.hilum"
    url: str = request.getfixturevalue("postgresql_url")
    return url


@pytest.fixture
def catalogue(where: str | Path, clock: TickingClock) -> Iterator[Catalogue]:
    """Give a new catalogue with the reference crops, on each engine."""
    with new_catalogue(where, clock=clock) as opened:
        yield opened


@pytest.fixture
def file_catalogue(tmp_path: Path, clock: TickingClock) -> Iterator[Catalogue]:
    """Give a new catalogue in a file, for what only a file can do."""
    with new_catalogue(tmp_path / "library.hilum", clock=clock) as opened:
        yield opened
