"""The start of the window: where its choices and its log lie, what happens on a fault, and what was painted first."""

import gc
import logging
import os
import subprocess
import sys
from collections.abc import Callable, Iterator
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtWidgets import QApplication

from hilum.window.app import LOG, FaultBox, Start, begin_log, stored_mode, window_choices
from hilum.window.shell import MainWindow
from tests.support.sources import HOUSE


@pytest.fixture
def log_file(tmp_path: Path) -> Iterator[Path]:
    """Give the file of the log, and take its handler away again."""
    file = tmp_path / "log" / "hilum.log"
    before = list(logging.getLogger(LOG).handlers)
    begin_log(file)
    yield file
    for handler in set(logging.getLogger(LOG).handlers) - set(before):
        handler.close()
        logging.getLogger(LOG).removeHandler(handler)


def test_a_fault_of_the_program_is_logged_whole_and_shown(qtbot: Any, log_file: Path, capsys: Any):
    """The keeper reads one plain sentence and where the rest stands; the log has the trace."""
    faults = FaultBox()
    try:
        raise ZeroDivisionError("three by nothing")
    except ZeroDivisionError as error:
        faults.on_fault(type(error), error, error.__traceback__)
    assert faults.box is not None
    assert "the catalogue is as it was" in faults.box.text()
    assert str(log_file) in faults.box.informativeText()
    assert "ZeroDivisionError: three by nothing" in log_file.read_text(encoding="utf-8")
    assert "three by nothing" in capsys.readouterr().err
    faults.box.close()
    qtbot.waitUntil(lambda: faults.box is None)


def test_one_fault_after_the_other_opens_one_box(qtbot: Any, log_file: Path, capsys: Any):
    """A fault that comes with every paint must not bury the window under boxes."""
    faults = FaultBox()
    for _ in range(3):
        faults.on_fault(ValueError, ValueError("again"), None)
    boxes = [widget for widget in QApplication.topLevelWidgets() if widget is faults.box]
    assert len(boxes) == 1
    assert log_file.read_text(encoding="utf-8").count("ValueError: again") == 3
    capsys.readouterr()
    assert faults.box is not None
    faults.box.close()


def test_no_log_is_written_without_a_fault(log_file: Path):
    """The file is made when there is something to write."""
    assert not log_file.exists()


def test_an_unknown_colour_choice_is_the_desktops(keeper_home: Path):
    """A choices file from another version does no harm."""
    choices = window_choices()
    choices.setValue("look/mode", "striped")
    assert stored_mode(choices) == "system"
    assert Path(choices.fileName()).is_relative_to(keeper_home)


def test_the_catalogue_is_opened_after_the_first_paint(qtbot: Any, clock: Callable[[], datetime]):
    """Nothing exists at the place given: the window is there first, then the question where the catalogue lies."""
    window = MainWindow()
    qtbot.addWidget(window)
    start = Start(window, window_choices(), clock, "nowhere/library.hilum", False)
    assert start.session is None
    window.show()
    qtbot.waitUntil(lambda: start.session is not None and start.session.dialog is not None)
    assert start.session is not None
    assert start.session.dialog is not None
    assert start.session.dialog.isVisible()
    start.session.dialog.reject()
    start.end()
    assert gc.isenabled()
    window.may_close = None


def test_nothing_slow_is_loaded_before_the_first_paint():
    """Neither the session nor any bench that knows the catalogue is there when the window can be seen."""
    script = (
        "import sys\n"
        "from PySide6.QtWidgets import QApplication\n"
        "from hilum.window.shell import MainWindow\n"
        "from hilum.window.theme import apply_theme\n"
        "app = QApplication([])\n"
        "apply_theme(app, 'system')\n"
        "window = MainWindow()\n"
        "window.first_painted.connect(app.quit)\n"
        "window.show()\n"
        "app.exec()\n"
        "slow = ('sqlalchemy', 'numpy', 'PIL', 'hilum.benches.keeping', 'hilum.window.session')\n"
        "print([name for name in slow if name in sys.modules])\n"
    )
    environment = {**os.environ, "PYTHONPATH": str(HOUSE), "QT_QPA_PLATFORM": "offscreen"}
    answer = subprocess.run(
        [sys.executable, "-P", "-c", script],
        check=True,
        capture_output=True,
        text=True,
        env=environment,
        timeout=60,
    )
    assert answer.stdout.strip() == "[]"
