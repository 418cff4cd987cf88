"""A library with the autumn list in it, made once and copied for each test."""

import shutil
from pathlib import Path

import pytest

from tests.commands.calling import DATA, document


@pytest.fixture(scope="session")
def autumn_library(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Make the library; it is only copied, never changed."""
    file = tmp_path_factory.mktemp("autumn") / "library.hilum"
    document("new", file)
    taken = document("intake", DATA / "autumn_intake.csv", "--catalogue", file)
    assert len(taken["accepted"]) == 30
    return file


@pytest.fixture
def library(autumn_library: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Give a copy of the library, named to the program by the environment."""
    file = tmp_path / "library.hilum"
    shutil.copy(autumn_library, file)
    monkeypatch.setenv("HILUM_CATALOGUE", str(file))
    return file
