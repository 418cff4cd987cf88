"""Remake the pictures of the README from the real window and a real sheet, on the demo library.

    .venv-test/bin/python packaging/pictures.py

Needs the environment of packaging/test.py; writes into resources/pictures.
"""

import os
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT / "desktop"))

PICTURES = ROOT / "resources" / "pictures"
# A fixed day, so that a picture changes only when the program does.
DAY = datetime(2026, 11, 25, 9, 30)  # noqa: DTZ001 - the keeper's own wall clock
WINDOW = (1180, 760)
SHEET_WIDTH = 900
PATIENCE_S = 20.0


def clock() -> datetime:
    """Give the day on which the pictures are taken."""
    return DAY


def settle(ready: Callable[[], bool] | None = None) -> None:
    """Let the window draw itself, and wait until something is there."""
    from PySide6.QtWidgets import QApplication

    until = time.monotonic() + PATIENCE_S
    while time.monotonic() < until:
        for _ in range(20):
            QApplication.processEvents()
        if ready is None or ready():
            return
        time.sleep(0.02)
    raise SystemExit("The window did not come to rest; no picture was taken.")


def is_at_rest(window: "QWidget") -> bool:
    """Say whether the page shows its figures, not the words that stand there while it looks for them."""
    from PySide6.QtWidgets import QLabel

    shown = [label.text() for label in window.findChildren(QLabel) if label.isVisible()]
    return not any(text.endswith("…") and text.startswith("Looking") for text in shown)


def window_pictures(folder: Path, mode: str = "light", size: tuple[int, int] = WINDOW) -> None:
    """Take the day sheet and one lot's page."""
    from PySide6.QtWidgets import QApplication

    from hilum.benches import keeping, lots
    from hilum.benches.folders import ready_demo
    from hilum.window.shell import MainWindow
    from hilum.window.theme import apply_theme
    from hilum.window.work import WorkDay

    app = QApplication.instance() or QApplication([])
    assert isinstance(app, QApplication)
    apply_theme(app, mode)  # type: ignore[arg-type]
    with keeping.open_at(ready_demo(clock=clock), clock=clock) as catalogue:
        work = WorkDay(catalogue, clock)
        window = MainWindow()
        window.resize(*size)
        window.show()
        window.take_up(work)
        window.status.show_place(catalogue.where, "")
        settle(lambda: is_at_rest(window))
        window.grab().save(str(folder / "day-sheet.png"))
        story = lots.find_lots(catalogue, lots.LotFilter(), on=DAY.date(), sort="received")
        told = next(lot for lot in story.lots if len(lots.lot_story(catalogue, lot.number).tests) > 2)
        window.open_lot(told.number)
        settle(lambda: is_at_rest(window))
        window.grab().save(str(folder / "lot.png"))
        window.let_go()
        window.close()
        work.finish()


def sheet_picture(folder: Path) -> None:
    """Render the first page of a sheet of packet labels."""
    from PySide6.QtGui import QImage

    from hilum.benches import keeping, lots
    from hilum.benches.folders import ready_demo
    from hilum.benches.printing import LabelJob, lot_labels, page_picture

    with keeping.open_at(ready_demo(clock=clock), clock=clock) as catalogue:
        found = lots.find_lots(catalogue, lots.LotFilter(), on=DAY.date(), sort="crop").lots
        numbers = [lot.number for lot in found if lot.line.germination_percent is not None][:24]
        sheets = lot_labels(
            catalogue, numbers, LabelJob("packet", "a4-3x8"), on=DAY.date(), seeds_per_packet=30
        )
    page = page_picture(sheets.pdf, 0, SHEET_WIDTH)
    image = QImage(page.rgb, page.width, page.height, page.width * 3, QImage.Format.Format_RGB888)
    image.save(str(folder / "packet-labels.png"))


def main() -> None:
    """Take all pictures in a home of their own, so that nobody's catalogue is touched."""
    PICTURES.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as home:
        for name in ("XDG_DATA_HOME", "XDG_CONFIG_HOME", "HOME"):
            os.environ[name] = home
        window_pictures(PICTURES)
        sheet_picture(PICTURES)
    print("Pictures: " + ", ".join(sorted(path.name for path in PICTURES.glob("*.png"))))


if __name__ == "__main__":
    main()
