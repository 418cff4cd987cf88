"""Qt's calls give back every reference to None that they take.

The Qt binding 6.12.0 lost one at every call that returns nothing: under Python before 3.12 the process dies
after some 7,000 calls (seen). From 3.12 on None is immortal (PEP 683) and there is nothing to lose.
"""

import gc
import sys
from collections.abc import Callable

import pytest
from PySide6.QtCore import QObject
from PySide6.QtGui import QStandardItem, QStandardItemModel
from PySide6.QtWidgets import QLabel

CALLS = 1_000

pytestmark = pytest.mark.skipif(
    sys.version_info >= (3, 12), reason="None is immortal from Python 3.12 on (PEP 683)"
)


def drift(call: Callable[[], object]) -> int:
    """Count the references to None that a thousand calls leave behind or take away."""
    call()
    gc.collect()
    gc.disable()
    try:
        before = sys.getrefcount(None)
        for _ in range(CALLS):
            call()
        return sys.getrefcount(None) - before
    finally:
        gc.enable()


def test_setting_a_name_loses_no_reference():
    """A void call of the smallest object."""
    thing = QObject()
    assert drift(lambda: thing.setObjectName("jar")) == 0


def test_widget_calls_lose_no_reference(qtbot):
    """The calls a window makes all day long: new words, and a wish to be painted."""
    label = QLabel()
    qtbot.addWidget(label)
    assert drift(lambda: label.setText("leek")) == 0
    assert drift(label.update) == 0


def test_filling_a_model_loses_no_reference():
    """A void call that takes an object with it."""
    model = QStandardItemModel()
    assert drift(lambda: model.appendRow(QStandardItem("leek"))) == 0
    assert model.rowCount() == CALLS + 1
