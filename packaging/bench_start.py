"""How long the window takes to its first paint and to its first page, beside a bare PySide6 window with a table.

Each start is a fresh Python; the three kinds take turns, and the middle one of each counts. Run it with the
program's own environment: `python packaging/bench_start.py [rounds]`.
"""

import argparse
import os
import statistics
import subprocess
import sys
import tempfile
from pathlib import Path

DESKTOP = Path(__file__).resolve().parents[1] / "desktop"

BARE = """
import sys, time
begun = time.perf_counter()
from PySide6.QtCore import QAbstractTableModel
from PySide6.QtWidgets import QApplication, QMainWindow, QTableView

class Empty(QAbstractTableModel):
    def rowCount(self, parent=None):
        return 0

    def columnCount(self, parent=None):
        return 6

class Bare(QMainWindow):
    def paintEvent(self, event):
        super().paintEvent(event)
        print(time.perf_counter() - begun)
        app.quit()

app = QApplication(sys.argv[:1])
window = Bare()
table = QTableView()
table.setModel(Empty(table))
window.setCentralWidget(table)
window.resize(1200, 780)
window.show()
app.exec()
"""

PAINT = """
import sys, time
begun = time.perf_counter()
from pathlib import Path
from PySide6.QtCore import QTimer
from hilum.window import app, shell
from hilum.window.app import run_window

class Watched(shell.MainWindow):
    def paintEvent(self, event):
        super().paintEvent(event)
        print(time.perf_counter() - begun, flush=True)
        import os
        os._exit(0)

app.MainWindow = Watched
run_window(sys.argv[1])
"""

PAGE = """
import os, sys, time
begun = time.perf_counter()
from PySide6.QtCore import QTimer
from hilum.window import app, shell

class Watched(shell.MainWindow):
    def take_up(self, work):
        from hilum.window.day_sheet_page import DaySheetPage

        plain = DaySheetPage.show_sheet

        def shown(page, sheet):
            plain(page, sheet)
            self.repaint()
            print(time.perf_counter() - begun, flush=True)
            os._exit(0)

        DaySheetPage.show_sheet = shown
        super().take_up(work)

app.MainWindow = Watched
app.run_window(sys.argv[1])
"""

ROWS = """
import os, sys, time
begun = time.perf_counter()
from hilum.window import app, shell

class Watched(shell.MainWindow):
    def show_glance(self, seen):
        super().show_glance(seen)
        self.repaint()
        print(time.perf_counter() - begun, flush=True)
        os._exit(0)

app.MainWindow = Watched
app.run_window(sys.argv[1])
"""

DEMO = """
import sys
from datetime import datetime
from hilum.benches import keeping
keeping.make(sys.argv[1], clock=datetime.now, demo=True).close()
"""


def seconds(script: str, catalogue: Path, home: Path) -> float:
    """Start a fresh Python on a script and give the seconds it prints."""
    environment = {
        **{name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"},
        # Compiled once, as in any installed program, and kept out of the checkout.
        "PYTHONPYCACHEPREFIX": str(home / "bytecode"),
        "PYTHONPATH": str(DESKTOP),
        "QT_QPA_PLATFORM": os.environ.get("QT_QPA_PLATFORM", "offscreen"),
        "XDG_DATA_HOME": str(home),
        "XDG_STATE_HOME": str(home),
        "HOME": str(home),
    }
    answer = subprocess.run(
        [sys.executable, "-P", "-c", script, str(catalogue)],
        check=True,
        timeout=60,
        capture_output=True,
        text=True,
        env=environment,
    )
    return float(answer.stdout.split()[-1]) if answer.stdout.split() else 0.0


def main() -> int:
    """Measure, and print the three figures with their ratios."""
    asked = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    asked.add_argument("rounds", type=int, nargs="?", default=7)
    asked.add_argument(
        "--catalogue", type=Path, help="a catalogue to open; the demo library is made if none is given"
    )
    chosen = asked.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder)
        catalogue = chosen.catalogue or home / "demo.hilum"
        if chosen.catalogue is None:
            seconds(DEMO, catalogue, home)
        kinds = {
            "bare PySide6 window": BARE,
            "first paint": PAINT,
            "first lots shown": ROWS,
            "day sheet whole": PAGE,
        }
        found: dict[str, list[float]] = {name: [] for name in kinds}
        for script in kinds.values():
            seconds(script, catalogue, home)
        for _ in range(chosen.rounds):
            for name, script in kinds.items():
                found[name].append(seconds(script, catalogue, home))
    bare = statistics.median(found["bare PySide6 window"])
    for name, figures in found.items():
        middle = statistics.median(figures)
        print(
            f"{name:22} {middle:6.3f} s  {middle / bare:5.2f} times bare  ({min(figures):.3f} to {max(figures):.3f})"
        )
    return 0


if __name__ == "__main__":
    sys.exit(main())
