"""From opening to closing: the catalogue is opened beside the window, and copied for safety before it is let go."""

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, QSettings, Qt, QTimer
from PySide6.QtWidgets import QApplication, QDialog, QMessageBox, QProgressDialog

from hilum.benches.glance import glance
from hilum.window import library_dialogs
from hilum.window.first_start import FILTERS, FirstStart, WhoIsHere
from hilum.window.my_edits import MyEdits
from hilum.window.openings import (
    Clock,
    copy_for_safety,
    make_there,
    open_demo,
    open_there,
    restore_there,
)
from hilum.window.shell import MainWindow
from hilum.window.theme import MODES, Mode, apply_theme
from hilum.window.work import Pool, WorkDay

if TYPE_CHECKING:
    from hilum.benches.keeping import Catalogue

MODE, PLACE = "look/mode", "catalogue/place"


class Session(QObject):
    """What stands between the program's start and its end: which catalogue is open, who works, and the safe way out."""

    def __init__(self, window: MainWindow, clock: Clock, choices: QSettings, usual: Path) -> None:
        super().__init__(window)
        self.window, self._clock, self._choices, self._usual = window, clock, choices, usual
        self._pool = Pool(self)
        self._closing = False
        self._copied = False
        # What is to be done once the present catalogue is closed: opening another, or nothing but leaving.
        self._afterwards: Callable[[], None] | None = None
        self._edits = MyEdits()
        self.dialog: QDialog | None = None
        window.may_close = self.may_close
        self._connect()
        self.window.menus.show_mode(str(choices.value(MODE, "system")))

    def _connect(self) -> None:
        menus = self.window.menus
        menus.open_wanted.connect(self.on_open_wanted)
        menus.new_wanted.connect(self.on_new_wanted)
        menus.demo_wanted.connect(self.on_demo_wanted)
        menus.copy_wanted.connect(self.on_copy_wanted)
        menus.copies_wanted.connect(self.on_copies_wanted)
        menus.move_wanted.connect(self.on_move_wanted)
        menus.check_wanted.connect(self.on_check_wanted)
        menus.print_book_wanted.connect(partial(self._open, library_dialogs.print_book))
        menus.calibration_wanted.connect(partial(self._open, library_dialogs.calibration))
        menus.who_wanted.connect(self.ask_who)
        menus.settings_wanted.connect(partial(self._open, library_dialogs.settings))
        menus.designs_wanted.connect(self.on_designs_wanted)
        menus.take_back_wanted.connect(self.on_take_back_wanted)
        menus.again_wanted.connect(self.on_again_wanted)
        menus.past_wanted.connect(partial(self._open, library_dialogs.past_work))
        menus.hand_over_wanted.connect(partial(self._open, library_dialogs.hand_over, self._usual.parent))
        menus.mode_wanted.connect(self.on_mode_wanted)
        menus.keys_wanted.connect(self.on_keys_wanted)
        menus.about_wanted.connect(self.on_about_wanted)
        self.window.status.who_wanted.connect(self.ask_who)
        self._pool.trouble.connect(self.window.on_trouble)

    # Opening.

    def begin(self, where: str | None, *, demo: bool = False) -> None:
        """Open what was asked for, else the catalogue of last time, else the usual one, else ask."""
        if demo:
            self.on_demo_wanted()
            return
        place = where or str(self._choices.value(PLACE, "")) or str(self._usual)
        if "://" in place or Path(place).exists():
            self.open_place(place)
        elif where is not None:
            self.ask_where(f"There is no catalogue at {place} yet.", Path(place))
        else:
            self.ask_where("")

    def ask_where(self, why: str, place: Path | None = None) -> None:
        """Ask where the catalogue lies."""
        self.window.wait_with("No catalogue is open. The menu Library opens one or makes a new one.")
        dialog = FirstStart(place or self._usual, self.window.questions, self.window, why=why)
        dialog.new_wanted.connect(self.make_place)
        dialog.open_wanted.connect(self.open_place)
        dialog.demo_wanted.connect(self.on_demo_wanted)
        self._show(dialog)

    def _show(self, dialog: QDialog) -> None:
        # Kept, or Python would let go of it while it is open.
        self.dialog = dialog
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
        dialog.open()

    def open_place(self, where: str) -> None:
        """Open the catalogue at a place."""
        self._change_to(f"Opening {where}…", where, open_there, where, self._clock)

    def make_place(self, where: str) -> None:
        """Make a new catalogue at a place and open it."""
        self._change_to(f"Making a new catalogue at {where}…", where, make_there, where, self._clock)

    def on_demo_wanted(self) -> None:
        """Open the demo library; the keeper's own place is remembered as it was."""
        words = "Opening the demo library; the first time it is made, which takes a little while…"
        self._change_to(words, "", open_demo, self._clock)

    def _change_to(self, words: str, place: str, function: Callable[..., Any], *arguments: Any) -> None:
        def opened(catalogue: "Catalogue") -> None:
            if place:
                self._choices.setValue(PLACE, place)
            self.take_up(catalogue)

        def begin() -> None:
            self._pool.run(function, *arguments, done=opened, failed=self.on_not_opened)

        def go() -> None:
            self.window.wait_with(words)
            seen = glance(place, on=self._clock().date()) if place else None
            if seen is not None and seen.due:
                self.window.show_glance(seen)
            # After the paint: loading what opens a catalogue keeps the interpreter busy.
            QTimer.singleShot(0, begin)

        if self.window.work is None:
            go()
        else:
            self._close_catalogue(go)

    def on_not_opened(self, words: str) -> None:
        """Say why a catalogue could not be opened, and ask again where it lies."""
        if isinstance(self.dialog, FirstStart) and self.dialog.isVisible():
            self.dialog.notice.show_bad(words)
        else:
            self.ask_where("The catalogue could not be opened.")
            if isinstance(self.dialog, FirstStart):
                self.dialog.notice.show_bad(words)

    def take_up(self, catalogue: "Catalogue") -> None:
        """Begin the working day on a catalogue that was opened."""
        if isinstance(self.dialog, FirstStart):
            self.dialog.accept()
        from hilum.benches import keeping

        work = WorkDay(catalogue, self._clock, self)
        self._copied = False
        self.window.take_up(work)
        words = work.attempt(keeping.where_it_lies, catalogue) or catalogue.where
        self.window.status.show_place(catalogue.where, words)
        self.window.status.show_person(None)
        self._mark_beginning()
        self.ask_who()

    # Who is here.

    def ask_who(self) -> None:
        """Ask who is at the bench."""
        work = self.window.work
        if work is None:
            return
        from hilum.benches import keeping

        people = work.attempt(keeping.bench_people, work.catalogue) or ()
        now = next((name for who, name in people if who == work.catalogue.person_id), "")
        dialog = WhoIsHere(tuple(name for _, name in people), self.window, now=now)
        dialog.person_named.connect(self.on_person_named)
        self._show(dialog)

    def on_person_named(self, name: str) -> None:
        """Let everything from now on carry that person's id."""
        work = self.window.work
        if work is None:
            return
        from hilum.benches import keeping

        if work.attempt(keeping.come_to_bench, work.catalogue, name) is not None:
            self.window.status.show_person(name)
            self._mark_beginning()

    def _mark_beginning(self) -> None:
        if self.window.work is not None:
            self._edits.begin(self.window.work)

    def on_take_back_wanted(self) -> None:
        """Take back the newest edit of this session that is still in force."""
        if self.window.work is not None:
            self._say(self._edits.take_back(self.window.work))

    def on_again_wanted(self) -> None:
        """Do once more what was taken back last."""
        if self.window.work is not None:
            self._say(self._edits.again(self.window.work))

    def _say(self, said: tuple[str, str] | None) -> None:
        if said is not None:
            self.window.say(*said)

    # What the menus ask for.

    def _open(self, dialog_for: Callable[..., QDialog], *more: Any) -> None:
        """Open one of the library's dialogs while a catalogue is open."""
        work = self.window.work
        if work is not None:
            self._show(dialog_for(work, self.window, *more))

    def on_open_wanted(self) -> None:
        """Ask for another catalogue."""
        self.window.questions.ask_open_file(self.window, "Open a catalogue", FILTERS, self._open_file)

    def _open_file(self, file: Path) -> None:
        self.open_place(str(file))

    def on_new_wanted(self) -> None:
        """Ask where a new catalogue should lie."""
        self.window.questions.ask_save_file(
            self.window, "A new catalogue", self._usual, FILTERS, self._make_file
        )

    def _make_file(self, file: Path) -> None:
        self.make_place(str(file))

    def on_copy_wanted(self) -> None:
        """Ask where to write a copy of the whole catalogue."""
        start = self._usual.with_name(f"library {self._clock().date().isoformat()}.hilum")
        self.window.questions.ask_save_file(
            self.window, "Write a copy of the catalogue", start, FILTERS, self._copy_to
        )

    def _copy_to(self, file: Path) -> None:
        work = self.window.work
        if work is None:
            return
        from hilum.benches import keeping

        def written(copy: Path) -> None:
            self.window.say("good", f"A copy of the whole catalogue was written to {copy} and read back.")

        work.run(keeping.backup, work.catalogue, file, done=written)

    def on_copies_wanted(self) -> None:
        """Show the safety copies, to bring one back."""
        work = self.window.work
        if work is not None:
            dialog = library_dialogs.safety_copies(work, self.window)
            dialog.restore_wanted.connect(self._bring_back)
            self._show(dialog)

    def _bring_back(self, copy: Path, where: Path) -> None:
        self._change_to(f"Bringing back {copy.name}…", str(where), restore_there, copy, where, self._clock)

    def on_move_wanted(self) -> None:
        """Ask where the whole catalogue goes on."""
        work = self.window.work
        if work is not None:
            dialog = library_dialogs.move_house(work, self.window)
            dialog.open_wanted.connect(self.open_place)
            self._show(dialog)

    def on_check_wanted(self) -> None:
        """Look through the whole catalogue."""
        work = self.window.work
        if work is None:
            return
        from hilum.benches import keeping

        def checked(report: Any) -> None:
            if report.ok:
                self.window.say("good", "The whole catalogue was checked: nothing is wrong.")
            else:
                found = "\n".join(report.findings[:40])
                self.window.questions.tell(self.window, "Check of the catalogue", found)

        self.window.status.say("Checking the whole catalogue…")
        work.run(keeping.check, work.catalogue, done=checked)

    def on_designs_wanted(self) -> None:
        """Show the design table."""
        work = self.window.work
        if work is not None:
            from hilum.window.design_table import open_design_table

            self.dialog = open_design_table(work, self.window.questions, self.window)

    def on_mode_wanted(self, mode: str) -> None:
        """Change the colours, now and for the next start."""
        chosen: Mode = next((known for known in MODES if known == mode), "system")
        self._choices.setValue(MODE, chosen)
        app = QApplication.instance()
        if isinstance(app, QApplication):
            apply_theme(app, chosen)
        self.window.menus.show_mode(chosen)
        self.window.rail.draw_anew()
        page = self.window.current_page()
        if page is not None:
            page.refresh()

    def on_keys_wanted(self) -> None:
        """Show every key."""
        from hilum.window.help import KeysDialog

        self._show(KeysDialog(self.window.menus.keys(), self.window))

    def on_about_wanted(self) -> None:
        """Say what the program is."""
        from hilum.window.help import about

        about(self.window)

    # Closing.

    def may_close(self) -> bool:
        """Say whether the window may go; if not yet, the safety copy is on its way and the window goes after it."""
        if self.window.work is None or self._copied:
            return True
        if not self._closing:
            self._close_catalogue(self._leave)
        return False

    def _leave(self) -> None:
        self.window.close()

    def _close_catalogue(self, afterwards: Callable[[], None]) -> None:
        work = self.window.work
        if work is None:
            afterwards()
            return
        if work.is_busy:
            words = "Work is still going on. Closing stops it; nothing of it is kept half done."
            self._afterwards = afterwards
            self.window.questions.confirm(
                self.window, "Work is still going on", words, "Stop it and close", self._stop_work
            )
            return
        self._closing, self._afterwards = True, afterwards
        self._progress = QProgressDialog("Making the safety copy…", "", 0, 0, self.window)
        self._progress.setCancelButton(None)
        self._progress.setWindowTitle("Closing the catalogue")
        self._progress.setWindowModality(Qt.WindowModality.WindowModal)
        self._progress.setMinimumDuration(200)
        self._pool.run(copy_for_safety, work.catalogue, done=self.on_copied, failed=self.on_copy_failed)

    def _stop_work(self) -> None:
        if self.window.work is not None:
            self.window.work.finish()
            # The ends of what was stopped are heard before anything is closed.
            QApplication.sendPostedEvents()
        if self._afterwards is not None:
            self._close_catalogue(self._afterwards)

    def on_copied(self, _copy: Path | None) -> None:
        """Go on once the copy is there."""
        self._end()

    def on_copy_failed(self, words: str) -> None:
        """Say why there is no safety copy; closing without one is the keeper's own choice."""
        self._progress.reset()
        self._closing = False
        box = QMessageBox(self.window)
        box.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        box.setIcon(QMessageBox.Icon.Warning)
        box.setWindowTitle("No safety copy was made")
        box.setText(f"{words}\n\nThe catalogue itself is as it was.")
        anyway = box.addButton("Close without a copy", QMessageBox.ButtonRole.DestructiveRole)
        stay = box.addButton("Stay", QMessageBox.ButtonRole.RejectRole)
        box.setDefaultButton(stay)
        box.setEscapeButton(stay)
        anyway.clicked.connect(self._end)
        box.open()

    def _end(self) -> None:
        self._progress.reset()
        work, afterwards = self.window.work, self._afterwards
        self._closing, self._copied, self._afterwards = False, True, None
        self.window.let_go()
        self.window.status.show_place("", "")
        if work is not None:
            work.finish()
            work.catalogue.close()
            if work.parent() is self:
                work.deleteLater()
        if afterwards is not None:
            afterwards()
