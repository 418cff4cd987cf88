"""The dialogs that the menu Library opens on the catalogue at work; each is loaded when it is first asked for."""

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QDialog

if TYPE_CHECKING:
    from hilum.window.house_dialog import MoveHouseDialog
    from hilum.window.safety_dialog import SafetyCopiesDialog
    from hilum.window.shell import MainWindow
    from hilum.window.work import WorkDay


def print_book(work: "WorkDay", window: "MainWindow") -> QDialog:
    """Give what was printed, to be printed again."""
    from hilum.window.print_book_dialog import PrintBookDialog

    return PrintBookDialog(work, window.questions, window)


def calibration(work: "WorkDay", window: "MainWindow") -> QDialog:
    """Give the measuring of a printer."""
    from hilum.window.calibration_dialog import CalibrationDialog

    return CalibrationDialog(work, window.questions, window)


def settings(work: "WorkDay", window: "MainWindow") -> QDialog:
    """Give the library's own rules."""
    from hilum.window.settings_dialog import SettingsDialog

    return SettingsDialog(work, window)


def past_work(work: "WorkDay", window: "MainWindow") -> QDialog:
    """Give what was done, job by job."""
    from hilum.window.past_dialog import PastDialog

    return PastDialog(work, window.questions, window)


def hand_over(work: "WorkDay", window: "MainWindow", folder: Path) -> QDialog:
    """Give the question where the pack for the next keeper goes."""
    from hilum.window.hand_over_dialog import HandOverDialog

    return HandOverDialog(work, window.questions, window, folder)


def safety_copies(work: "WorkDay", window: "MainWindow") -> "SafetyCopiesDialog":
    """Give the safety copies, to bring one back."""
    from hilum.window.safety_dialog import SafetyCopiesDialog

    return SafetyCopiesDialog(work, window.questions, window)


def move_house(work: "WorkDay", window: "MainWindow") -> "MoveHouseDialog":
    """Give the question where the whole catalogue goes on."""
    from hilum.window.house_dialog import MoveHouseDialog

    return MoveHouseDialog(work, window)
