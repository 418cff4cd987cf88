"""The menus: every action of the window with its key, and those of the page that is shown."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import QObject, Signal
from PySide6.QtGui import QAction, QActionGroup, QKeySequence
from PySide6.QtWidgets import QMenu, QMenuBar, QWidget

from hilum.window.rail import Bench, bench_key
from hilum.window.theme import MODES, Mode

MODE_WORDS: dict[Mode, str] = {
    "system": "Colours of the &desktop",
    "light": "&Light colours",
    "dark": "&Dark colours",
}


class Menus(QObject):
    """Fills the menu bar; what is wanted is told by signal. Titles carry no access keys: pages need those."""

    bench_wanted = Signal(str)
    find_wanted = Signal()
    take_back_wanted = Signal()
    again_wanted = Signal()
    past_wanted = Signal()
    hand_over_wanted = Signal()
    open_wanted = Signal()
    new_wanted = Signal()
    demo_wanted = Signal()
    copy_wanted = Signal()
    copies_wanted = Signal()
    move_wanted = Signal()
    check_wanted = Signal()
    print_book_wanted = Signal()
    calibration_wanted = Signal()
    who_wanted = Signal()
    settings_wanted = Signal()
    designs_wanted = Signal()
    mode_wanted = Signal(str)
    keys_wanted = Signal()
    about_wanted = Signal()
    leave_wanted = Signal()

    def __init__(self, bar: QMenuBar, benches: Sequence[Bench], parent: QWidget) -> None:
        super().__init__(parent)
        self._bar, self._parent = bar, parent
        self._of_catalogue: list[QAction] = []
        self._modes: dict[str, QAction] = {}
        self._fill_library()
        self._fill_benches(benches)
        self._fill_edit()
        self.page_menu = bar.addMenu("This page")
        self._fill_view()
        self._fill_help()
        self.set_open(False)

    def _fill_library(self) -> None:
        menu = self._bar.addMenu("Library")
        self._add(menu, "&Open another catalogue…", self.open_wanted.emit, "Ctrl+O")
        self._add(menu, "&Make a new catalogue…", self.new_wanted.emit)
        self._add(menu, "Look at the &demo library", self.demo_wanted.emit)
        menu.addSeparator()
        self._of_catalogue += [
            self._add(menu, "&Write a copy to a file…", self.copy_wanted.emit, "Ctrl+Shift+S"),
            self._add(menu, "B&ring back a safety copy…", self.copies_wanted.emit),
            self._add(menu, "Mo&ve to another file or a server…", self.move_wanted.emit),
            self._add(menu, "&Check the whole catalogue", self.check_wanted.emit),
            self._add(menu, "A pack for the &next keeper…", self.hand_over_wanted.emit),
        ]
        menu.addSeparator()
        self._of_catalogue += [
            self._add(menu, "&Print book…", self.print_book_wanted.emit, "Ctrl+Shift+P"),
            self._add(menu, "Calibrate a pr&inter…", self.calibration_wanted.emit),
        ]
        menu.addSeparator()
        self._of_catalogue += [
            self._add(menu, "Who is at the &bench…", self.who_wanted.emit, "Ctrl+B"),
            self._add(menu, "The library's &settings…", self.settings_wanted.emit, "Ctrl+,"),
            self._add(menu, "La&bel designs…", self.designs_wanted.emit, "Ctrl+Shift+D"),
        ]
        menu.addSeparator()
        self._add(menu, "&Leave", self.leave_wanted.emit, "Ctrl+Q")

    def _fill_benches(self, benches: Sequence[Bench]) -> None:
        menu = self._bar.addMenu("Benches")
        for place, bench in enumerate(benches, start=1):
            key = bench_key(place)
            action = self._add(menu, f"&{key} {bench.title}", self._on_bench, f"Ctrl+{key}", f"Alt+{key}")
            action.setData(bench.title)
            self._of_catalogue.append(action)

    def _fill_edit(self) -> None:
        menu = self._bar.addMenu("Edit")
        self._of_catalogue += [
            self._add(menu, "&Find or scan a lot", self.find_wanted.emit, "F3", "Ctrl+F"),
            self._add(menu, "&Take back my newest edit", self.take_back_wanted.emit, "Ctrl+Z"),
            self._add(menu, "Do it &once more", self.again_wanted.emit, "Ctrl+Shift+Z", "Ctrl+Y"),
            self._add(menu, "&What was done…", self.past_wanted.emit, "Ctrl+H"),
        ]

    def _fill_view(self) -> None:
        menu = self._bar.addMenu("View")
        group = QActionGroup(self)
        for mode in MODES:
            action = self._add(menu, MODE_WORDS[mode], self._on_mode)
            action.setCheckable(True)
            action.setData(mode)
            group.addAction(action)
            self._modes[mode] = action

    def _fill_help(self) -> None:
        menu = self._bar.addMenu("Help")
        self._add(menu, "&Keys", self.keys_wanted.emit, "F1")
        self._add(menu, "&About Hilum", self.about_wanted.emit)

    def _add(self, menu: QMenu, words: str, wanted: Callable[[], object], *keys: str) -> QAction:
        action = QAction(words, self._parent)
        action.setShortcuts([QKeySequence(key) for key in keys])
        action.triggered.connect(wanted)
        menu.addAction(action)
        return action

    def set_open(self, is_open: bool) -> None:
        """Allow what needs an open catalogue, or not."""
        for action in self._of_catalogue:
            action.setEnabled(is_open)
        self.page_menu.setEnabled(is_open)

    def show_mode(self, mode: str) -> None:
        """Mark the colours in force."""
        self._modes[mode].setChecked(True)

    def show_page(self, page: QWidget | None) -> None:
        """Put the actions of a page into its menu."""
        self.page_menu.clear()
        actions = page.actions() if page is not None else []
        self.page_menu.addActions(actions)
        self.page_menu.menuAction().setVisible(bool(actions))

    def keys(self) -> tuple[tuple[str, str], ...]:
        """Give every action of the menus with its keys, for the page of keys."""
        found = []
        for top in self._bar.actions():
            menu = top.menu()
            for action in menu.actions() if isinstance(menu, QMenu) else ():
                keys = " or ".join(
                    key.toString(QKeySequence.SequenceFormat.NativeText) for key in action.shortcuts()
                )
                if keys:
                    found.append((action.text().replace("&", ""), keys))
        return tuple(found)

    def _on_bench(self) -> None:
        action = self.sender()
        if isinstance(action, QAction):
            self.bench_wanted.emit(action.data())

    def _on_mode(self) -> None:
        action = self.sender()
        if isinstance(action, QAction):
            self.mode_wanted.emit(action.data())
