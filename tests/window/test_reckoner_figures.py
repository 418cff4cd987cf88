"""What the Reckoner makes of typed figures, its questions and axes, and what it loads before the first answer."""

import os
import subprocess
import sys

import pytest

from hilum.benches.reckoning import all_sums, seed_sum
from hilum.window.reckoner_field import as_typed
from hilum.window.reckoner_plot import ticks
from hilum.window.reckoner_questions import QUESTIONS, plain
from tests.support.sources import HOUSE


def test_every_sum_has_its_question():
    """No sum is left to the command line alone, and no question leads nowhere."""
    assert set(QUESTIONS) == {one.name for one in all_sums()}
    for name, question in QUESTIONS.items():
        assert set(question.also) <= {one.name for one in seed_sum(name).inputs}


@pytest.mark.parametrize(
    ("kind", "text", "read"),
    [
        ("number", " 6,5 ", "6.5"),
        ("number", "1,200", "1,200"),
        ("numbers", "0.26 0.261", "0.26,0.261"),
        ("numbers", "0,26; 0,27", "0.26,0.27"),
        ("numbers", "0,26 0,27", "0.26,0.27"),
        ("numbers", "0.26, 0.27,", "0.26,0.27"),
        ("whole numbers", "40  80", "40,80"),
        ("numbers", "1,200 1,300", "1,200;1,300"),
        ("tally", "45 of 50", "45/50"),
        ("tally", "45 out of 50", "45/50"),
    ],
)
def test_figures_are_read_as_keepers_write_them(kind, text, read):
    """Decimal commas, blanks and semicolons; a comma before three digits stays, and is refused."""
    assert as_typed(kind, text) == read


def test_axes_bear_round_figures():
    """Ticks lie within the axis."""
    assert ticks(0, 100) == (0, 20, 40, 60, 80, 100)
    assert ticks(0, 0.7) == (0, 0.2, 0.4, 0.6)
    assert ticks(3, 3) == (3,)


def test_no_arithmetic_library_is_loaded_before_the_first_answer(tmp_path):
    """The page comes up without numpy; only reckoning brings it."""
    lines = f"""
import sys
from datetime import datetime
from pathlib import Path
from PySide6.QtWidgets import QApplication
app = QApplication([])
from hilum.benches import keeping
from hilum.window.questions import Questions
from hilum.window.reckoner_page import ReckonerPage
from hilum.window.work import WorkDay
clock = lambda: datetime(2026, 11, 25, 9)
work = WorkDay(keeping.make(Path({str(tmp_path / "library.hilum")!r}), clock=clock), clock)
page = ReckonerPage(work, Questions())
page.show()
app.processEvents()
print([name for name in ("numpy", "scipy") if name in sys.modules])
"""
    environment = {**os.environ, "PYTHONPATH": str(HOUSE), "QT_QPA_PLATFORM": "offscreen"}
    answer = subprocess.run(
        [sys.executable, "-P", "-c", lines], check=False, capture_output=True, text=True, env=environment
    )
    assert answer.returncode == 0, answer.stderr
    assert answer.stdout.strip() == "[]"


def test_refusals_of_the_command_line_are_said_with_the_labels_of_the_page():
    """No key with an equals sign is left in what a keeper reads."""
    labels = {"initial": "Alive at the start", "final": "Alive at the end", "of": "Seeds sown"}
    said = "final=80 is not below initial=60: stored seed only loses life. It is written: storage-time final="
    assert (
        plain(said, labels)
        == "Alive at the end 80 is not below alive at the start 60: stored seed only loses life."
    )
    assert plain("Without of= (seeds sown) there is no percentage.", labels) == (
        "Without seeds sown there is no percentage."
    )
