"""Starting the window: the look, the log, the catalogue opened after the first paint."""

import gc
import sys
from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QSettings, QStandardPaths, QTimer
from PySide6.QtWidgets import QApplication

from hilum import __version__
from hilum.window.garbage import REST
from hilum.window.shell import MainWindow
from hilum.window.theme import MODES, Mode, apply_theme

# What is not needed for the first paint is loaded after it.
if TYPE_CHECKING:
    from datetime import datetime
    from pathlib import Path
    from types import TracebackType

    from PySide6.QtWidgets import QMessageBox

    from hilum.window.session import Session

LOG = "hilum"
# A window that is never painted, because it starts as an icon, opens its catalogue after this many milliseconds.
AT_LATEST_MS = 500
# Garbage is collected again when the first page is there, or after this many milliseconds.
GARBAGE_AFTER_MS = 10_000


def wall_clock() -> "datetime":
    """Give the moment by this computer's clock."""
    from datetime import datetime

    return datetime.now()  # noqa: DTZ005 -- the keeper's own day, whatever the zone


def run_window(where: str | None, *, demo: bool = False, clock: "Callable[[], datetime]" = wall_clock) -> int:
    """Open the window on a catalogue and stay until it is closed; gives the exit code.

    `where` is a file or a database address; None means the place of last time, or the usual one.
    """
    # Loading makes many objects that stay: looking for garbage among them takes a quarter of the time of the start.
    gc.disable()
    app = QApplication.instance()
    if not isinstance(app, QApplication):
        app = QApplication(sys.argv[:1])
    app.setApplicationName("Hilum")
    app.setApplicationVersion(__version__)
    app.setDesktopFileName("hilum")
    sys.excepthook = FaultBox().on_fault
    choices = window_choices()
    apply_theme(app, stored_mode(choices))
    window = MainWindow()
    start = Start(window, choices, clock, where, demo)
    window.show()
    code = app.exec()
    start.end()
    return code


def window_choices() -> QSettings:
    """Give the file of the window's own choices: its colours, and the catalogue of last time."""
    folder = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.GenericConfigLocation)
    return QSettings(f"{folder}/hilum/window.ini", QSettings.Format.IniFormat)


def stored_mode(choices: QSettings) -> Mode:
    """Give the colours chosen last time."""
    mode = choices.value("look/mode", "system")
    return next((known for known in MODES if known == mode), "system")


class Start(QObject):
    """What follows the first paint: the log, the session, the catalogue."""

    def __init__(
        self,
        window: MainWindow,
        choices: QSettings,
        clock: "Callable[[], datetime]",
        where: str | None,
        demo: bool,
    ) -> None:
        super().__init__(window)
        self._window, self._choices, self._clock = window, choices, clock
        self._where, self._demo = where, demo
        self.session: Session | None = None
        self._is_ended = False
        window.first_painted.connect(self.begin)
        window.page_shown.connect(self.end)
        QTimer.singleShot(AT_LATEST_MS, self.begin)
        QTimer.singleShot(GARBAGE_AFTER_MS, self.end)

    def begin(self) -> None:
        """Open the catalogue, once."""
        if self.session is not None:
            return
        from hilum.benches import folders
        from hilum.window.icons import program_icon
        from hilum.window.session import Session

        self.session = Session(self._window, self._clock, self._choices, folders.usual_catalogue())
        self.session.begin(self._where, demo=self._demo)
        QApplication.setWindowIcon(program_icon())
        begin_log(folders.log_file())

    def end(self) -> None:
        """Collect garbage again; what was loaded up to now stays and is not looked through any more."""
        if not self._is_ended:
            self._is_ended = True
            gc.freeze()
            REST.allow()


def begin_log(file: "Path") -> None:
    """Write faults of the program to a file from now on; the file is made when there is one to write."""
    import logging

    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        handler: logging.Handler = logging.FileHandler(file, encoding="utf-8", delay=True)
    except OSError:
        # Without a place to write, faults still show in the dialog and on the terminal.
        handler = logging.StreamHandler()
    handler.setFormatter(logging.Formatter("%(asctime)s %(levelname)s %(message)s"))
    log = logging.getLogger(LOG)
    log.addHandler(handler)
    log.setLevel(logging.INFO)


class FaultBox:
    """Shows a fault of the program and writes it whole to the log; one box at a time."""

    def __init__(self) -> None:
        self.box: QMessageBox | None = None

    def on_fault(
        self, kind: type[BaseException], error: BaseException, trace: "TracebackType | None"
    ) -> None:
        """Log the fault and tell the keeper; leaving by Ctrl+C in a terminal is no fault."""
        sys.__excepthook__(kind, error, trace)
        if issubclass(kind, KeyboardInterrupt):
            return
        import logging

        from PySide6.QtWidgets import QMessageBox

        log = logging.getLogger(LOG)
        log.critical("a fault of the program", exc_info=(kind, error, trace))
        if self.box is not None or QApplication.instance() is None:
            return
        files = [handler.baseFilename for handler in log.handlers if isinstance(handler, logging.FileHandler)]
        self.box = QMessageBox(QApplication.activeWindow())
        self.box.setIcon(QMessageBox.Icon.Critical)
        self.box.setWindowTitle("A fault of the program")
        self.box.setText(
            "Something went wrong in the program itself. What was being done was not done, and the catalogue is "
            "as it was."
        )
        where = f"The whole of it was written to {files[0]}." if files else "The terminal says more."
        self.box.setInformativeText(f"{kind.__name__}: {error}\n\n{where}")
        self.box.addButton(QMessageBox.StandardButton.Close)
        self.box.finished.connect(self.on_closed)
        self.box.open()

    def on_closed(self, _result: int) -> None:
        """Be ready for the next one."""
        self.box = None
