"""The first paint waits for no library that only later work needs."""

import os
import subprocess
import sys

import pytest

from tests.support.sources import HOUSE

HEAVY = "PIL alembic bidi numpy openpyxl psycopg pypdfium2 pyphen qrcode reportlab scipy sqlalchemy uharfbuzz zxingcpp"


def loaded_after(import_line: str) -> set[str]:
    """Give the heavy libraries that a fresh Python holds after one import."""
    question = (
        f"{import_line}\nimport sys\nprint(*[name for name in {HEAVY!r}.split() if name in sys.modules])"
    )
    answer = subprocess.run(
        [sys.executable, "-P", "-c", question],
        check=False,
        capture_output=True,
        text=True,
        env={**os.environ, "PYTHONPATH": str(HOUSE), "QT_QPA_PLATFORM": "offscreen"},
    )
    assert answer.returncode == 0, answer.stderr
    return set(answer.stdout.split())


@pytest.mark.parametrize("module", ["hilum.__main__", "hilum.window.shell"])
def test_the_window_opens_without_heavy_libraries(module: str):
    """What is imported before the first paint brings none of the slow ones along."""
    assert loaded_after(f"import {module}") == set()


@pytest.mark.parametrize(
    "module", ["hilum.benches.glance", "hilum.window.glance_page", "hilum.window.session"]
)
def test_the_first_rows_wait_for_no_heavy_library(module: str):
    """The lots due are on screen before the library of the database begins to load."""
    assert loaded_after(f"import {module}") == set()


def test_a_heavy_library_would_be_noticed():
    """The question itself can be answered with yes."""
    assert "numpy" in loaded_after("import numpy")
