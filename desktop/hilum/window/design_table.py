"""The design table: a label design lies on three of the library's own lots, and what is changed on one is on all."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QCloseEvent, QKeySequence, QShortcut
from PySide6.QtWidgets import QComboBox, QDialog, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from hilum.benches import design_table as bench
from hilum.benches.design_changes import OnTable
from hilum.benches.design_table import CODE, LaidDesign, TriedLabel
from hilum.benches.printing import LabelDesign, LabelStock, design, designs, stock_named, stocks_offered
from hilum.errors import KeeperError
from hilum.window.design_doings import Doings
from hilum.window.design_history import DesignHistory
from hilum.window.design_label import Anchors
from hilum.window.design_lots import LotsOnTable
from hilum.window.design_picked import Picked
from hilum.window.design_trials import Trials, Wish
from hilum.window.label_preview import MM_PER_INCH
from hilum.window.print_memory import remembered
from hilum.window.print_stocks import StockBox
from hilum.window.questions import Questions
from hilum.window.widgets import Heading, Notice, Quiet, form_row, primary
from hilum.window.work import WorkDay

SIZES = (("As large as on paper", 1.0), ("Twice as large", 2.0), ("Three times as large", 3.0))
PICTURES = "Pictures (*.svg *.png)"


def open_design_table(
    work: WorkDay, questions: Questions, parent: QWidget, name: str = "packet", stock: str = ""
) -> "DesignTable":
    """Open the design table with a design on it."""
    table = DesignTable(work, questions, parent)
    table.lay(name, stock)
    table.open()
    return table


class DesignTable(QDialog):
    """The table, and under it the sentences about what was picked."""

    # A design was saved; its name.
    design_saved = Signal(str)

    def __init__(self, work: WorkDay, questions: Questions, parent: QWidget) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle("Design table")
        self._work, self._questions = work, questions
        self._laid: LaidDesign | None = None
        self._history: DesignHistory | None = None
        self._name = ""
        self._may_go = False
        self._had_labels = False
        self._trials = Trials(work, self)
        self._doings = Doings(self)
        self._title, self._about = Heading(""), Quiet("")
        self.design = QComboBox()
        self.stock = StockBox()
        self.size_shown = QComboBox()
        for words, times in SIZES:
            self.size_shown.addItem(words, times)
        self.size_shown.setToolTip("Ctrl+1, Ctrl+2, Ctrl+3")
        self.notice = Notice()
        self.lots = LotsOnTable()
        self.picked = Picked()
        self._anew = QPushButton("Other &lots")
        self._anew.setToolTip("Choose the three lots anew by what the design shows now")
        self._back, self._again = QPushButton("Take &back"), QPushButton("Do a&gain")
        self._save, self._save_as = primary(QPushButton("&Save")), QPushButton("Save &as…")
        self._close = QPushButton("Clos&e")
        for button in (self._back, self._again, self._save, self._save_as, self._close, self._anew):
            # Return belongs to the fields of the sentences.
            button.setAutoDefault(False)
        self._lay_out()
        self._connect()
        window = parent.window()
        self.resize(max(1000, window.width() - 40), max(640, window.height() - 40))

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.setSpacing(8)
        form_row(head, "&Design", self.design)
        form_row(head, "Label s&tock", self.stock)
        form_row(head, "Sho&wn", self.size_shown)
        head.addWidget(self._anew)
        head.setStretchFactor(self.stock, 1)
        titles = QHBoxLayout()
        titles.setSpacing(12)
        titles.addWidget(self._title)
        titles.addWidget(self._about, 1)
        for button in (self._save, self._save_as, self._close):
            titles.addWidget(button)
        for button in (self._back, self._again):
            self.picked.head.addWidget(button)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(18, 14, 18, 14)
        layout.setSpacing(8)
        layout.addLayout(titles)
        layout.addLayout(head)
        layout.addWidget(self.notice)
        layout.addWidget(self.lots, 1)
        layout.addWidget(self.picked)

    def _connect(self) -> None:
        # What lies there.
        self.design.activated.connect(self.on_design_chosen)
        self.stock.stock_chosen.connect(self.on_stock_chosen)
        self.size_shown.currentIndexChanged.connect(self._try)
        self._anew.clicked.connect(self.on_other_lots)
        self._trials.made.connect(self.on_made)
        self._trials.failed.connect(self.on_trial_failed)
        # What is done on the labels, and said under them.
        self.lots.picked.connect(self.pick)
        self._doings.hear(self.lots, self.picked)
        self.picked.name_picked.connect(self.pick)
        self.picked.picture_wanted.connect(self.on_picture_wanted)
        # The ways back and out.
        self._back.clicked.connect(self.on_back)
        self._again.clicked.connect(self.on_again)
        self._save.clicked.connect(self.on_save)
        self._save_as.clicked.connect(self.on_save_as)
        self._close.clicked.connect(self.reject)
        for keys, slot in (
            ("Ctrl+Z", self.on_back), ("Ctrl+Y", self.on_again), ("Ctrl+Shift+Z", self.on_again),
            ("Ctrl+S", self.on_save),
        ):  # fmt: skip
            QShortcut(QKeySequence(keys), self).activated.connect(slot)
        for place in range(len(SIZES)):
            QShortcut(QKeySequence(f"Ctrl+{place + 1}"), self).activated.connect(self._size_slot(place))

    def _size_slot(self, place: int) -> Callable[[], None]:
        def show() -> None:
            self.size_shown.setCurrentIndex(place)

        return show

    # Laying a design on the table.

    def lay(self, name: str, stock: str = "") -> None:
        """Lay a design on the table; what lay there before is gone."""
        try:
            chosen = design(name)
            self.stock.blockSignals(True)
            offered = stocks_offered(self._work.catalogue.settings())
            self.stock.show_design(chosen, stock or remembered().stock_for(name), offered)
            self.stock.blockSignals(False)
            self._laid = bench.lay(self._work.catalogue, name, self._stock())
        except KeeperError as error:
            self.notice.show_bad(str(error))
            return
        self._history = DesignHistory(self._laid.on)
        self._name = self._laid.on.names[0]
        self._offer(chosen)
        self.lots.show_waiting("Choosing three lots: the shortest, the oddest and the longest words…")
        self._trials.choose_anew()
        self._show()
        faulty = bench.faulty_designs(self._work.catalogue)
        if faulty:
            self.notice.show_warn("\n".join(f"Left out: {each.why}" for each in faulty))

    def _offer(self, chosen: LabelDesign) -> None:
        self.design.clear()
        for each in designs():
            own = "" if bench.is_shipped(each.name) else " (our own)"
            self.design.addItem(f"{each.title}{own}", each.name)
        self.design.setCurrentIndex(self.design.findData(chosen.name))

    def on_design_chosen(self, place: int) -> None:
        """Lay another design on the table; changes that are not saved are asked about."""
        wanted = self.design.itemData(place)
        if self._laid is None or wanted == self._laid.on.design.name:
            return
        self.design.setCurrentIndex(self.design.findData(self._laid.on.design.name))

        def go() -> None:
            self.notice.clear()
            self.lay(wanted)

        self._ask_and(go)

    def on_stock_chosen(self, _name: str) -> None:
        """Turn to the layout that a label stock gets."""
        if self._history is None:
            return
        try:
            self._history.turn_to(bench.lay_on(self._history.now, self._stock()).number)
        except KeeperError as error:
            self.notice.show_bad(str(error))
            return
        if self._name not in self._history.now.names:
            self._name = self._history.now.names[0]
        self._trials.choose_anew()
        self._show()

    def on_other_lots(self) -> None:
        """Choose the lots anew by what the design shows now."""
        self._trials.choose_anew()
        self._try()

    # Showing.

    def _show(self) -> None:
        """Show the state of the design everywhere, and have it tried."""
        history, laid = self._history, self._laid
        if history is None or laid is None:
            return
        on = history.now
        self._title.setText(laid.on.design.title)
        smallest = f"{on.layout.smallest_width_mm:g} × {on.layout.smallest_height_mm:g} mm"
        whose = "Our own" if laid.is_own else "It came with the program and stays as it is"
        state = "" if history.is_saved else ". Your changes are not saved yet"
        whose += "; a back, for it has no code" if on.design.is_back else ""
        self._about.setText(f"{whose}; for labels from {smallest} up{state}.")
        self._back.setEnabled(bool(history.back_words))
        self._back.setToolTip(f"Take back: {history.back_words} (Ctrl+Z)" if history.back_words else "")
        self._again.setEnabled(bool(history.again_words))
        self._again.setToolTip(f"Do again: {history.again_words} (Ctrl+Y)" if history.again_words else "")
        self._save.setEnabled(not history.is_saved or not laid.is_own)
        if self._name not in on.names:
            self._name = on.names[0]
        self.picked.show_picked(on, self._name)
        self.lots.pick(self._name)
        self._try()

    def _stock(self) -> LabelStock:
        return stock_named(self._work.catalogue.settings(), self.stock.stock_name())

    def _px_per_mm(self) -> float:
        return float(self.logicalDpiX() / MM_PER_INCH * self.size_shown.currentData())

    def _try(self) -> None:
        if self._history is not None:
            px_per_mm = self._px_per_mm() * self.devicePixelRatioF()
            self._trials.wish(self._history.now, self._stock(), px_per_mm)

    def on_made(self, wish: Wish) -> None:
        """Show the labels that were made."""
        ratio = self.devicePixelRatioF()
        self.lots.show_lots(self._trials.laid, wish.px_per_mm / ratio, ratio, _anchors(wish.on))
        self.lots.pick(self._name)
        if not self._had_labels:
            # The keys of the table work from the beginning.
            self._had_labels = True
            self.lots.lots[0].label.setFocus()

    def on_trial_failed(self, words: str) -> None:
        """Say why nothing lies there."""
        self.lots.show_waiting(words)

    @property
    def picked_name(self) -> str:
        """What is picked, by its name."""
        return self._name

    def pick(self, name: str) -> None:
        """Pick something on the label."""
        if self._history is not None and name in self._history.now.names:
            self._name = name
            self.picked.show_picked(self._history.now, name)
            self.lots.pick(name)

    # Changing.

    def do(self, words: str, edit: Callable[[OnTable], OnTable]) -> bool:
        """Do one edit; a refusal is said, and the design stays as it is."""
        if self._history is None:
            return False
        now = self._history.now
        try:
            found = edit(now)
        except KeeperError as error:
            self.notice.show_warn(f"Not done: {error}")
            # Fields that were typed into show again what holds.
            self.picked.show_picked(now, self._name)
            return False
        self.notice.clear()
        if found.design == now.design:
            return False
        self._history.add(found, words)
        self._show()
        return True

    def current(self, tried: TriedLabel) -> TriedLabel:
        """Give the trial of a label by the state on the table; the one shown may be a step behind."""
        shown, history = self._trials.shown, self._history
        if history is None or shown is None or shown.chosen is None or shown.on == history.now:
            return tried
        chosen = [each for each in shown.chosen if each.label.key == tried.key]
        return bench.try_lots(chosen, history.now, self._stock())[0]

    def on_picture_wanted(self) -> None:
        """Ask for a picture."""
        self._questions.ask_open_file(self, "A picture for the label", PICTURES, self.add_picture)

    def add_picture(self, file: Path) -> None:
        """Lay a picture on the label; a copy of it is kept beside the designs."""
        if self.do(f"laying on {file.name}", lambda on: bench.add_picture(on, file)) and self._history:
            pictures = [name for name in self._history.now.names if name.startswith("picture")]
            self.pick(pictures[-1])

    def on_back(self) -> None:
        """Take the last change back."""
        if self._history is not None and self._history.back():
            self.notice.clear()
            self._show()

    def on_again(self) -> None:
        """Do again what was taken back."""
        if self._history is not None and self._history.again():
            self.notice.clear()
            self._show()

    # Saving.

    def on_save(self) -> None:
        """Save a design of one's own; a shipped one is saved under a title of one's own."""
        if self._laid is None or not self._save.isEnabled():
            return
        if self._laid.is_own:
            self.save_as(self._laid.on.design.title)
        else:
            self.on_save_as()

    def on_save_as(self) -> None:
        """Ask for a title, and save."""
        if self._laid is None:
            return
        title = self._laid.on.design.title
        start = title if self._laid.is_own else f"Our {title[:1].lower()}{title[1:]}"
        words = "The title of your design. It is kept beside the catalogue and offered wherever labels are printed."
        self._questions.ask_text(self, "Save the design", words, self.save_as, start)

    def save_as(self, title: str) -> None:
        """Save under a title."""
        history, laid = self._history, self._laid
        if history is None or laid is None:
            return
        # States from before an earlier saving still carry the name and title of then.
        own = replace(history.now.design, name=laid.on.design.name, title=laid.on.design.title)
        try:
            self._laid = bench.save(
                self._work.catalogue, replace(laid, on=replace(history.now, design=own)), title
            )
        except KeeperError as error:
            self.notice.show_bad(str(error))
            return
        history.mark_saved(self._laid.on)
        self._offer(self._laid.on.design)
        self._show()
        name = self._laid.on.design.name
        self.notice.show_good(
            f"Saved as “{self._laid.title}” in {self._laid.on.folder}. Commands know it as --design {name}."
        )
        self.design_saved.emit(name)

    # Leaving.

    def _ask_and(self, go: Callable[[], None]) -> None:
        if self._history is None or self._history.is_saved:
            go()
            return
        title = self._laid.title if self._laid else ""
        words = f"The changes to “{title}” are not saved. Without saving they are lost."
        self._questions.confirm(self, "Changes are not saved", words, "Leave without saving", go)

    def _leave(self) -> None:
        self._may_go = True
        self._trials.finish()
        super().reject()

    def reject(self) -> None:
        self._ask_and(self._leave)

    def closeEvent(self, event: QCloseEvent) -> None:
        if self._may_go or self._history is None or self._history.is_saved:
            self._trials.finish()
            super().closeEvent(event)
            return
        event.ignore()
        self._ask_and(self._leave)


def _anchors(on: OnTable) -> Anchors:
    """Tell what grows upwards and leftwards on a label."""
    corners = {name: each for name in on.names if (each := on.block(name)) is not None}
    code = {CODE: on.layout.code} if on.layout.code else {}
    both = {**corners, **code}
    upward = {each.name for each in on.layout.boxes if each.stack == "bottom"}
    upward |= {name for name, each in both.items() if each.edge == "bottom"}
    return Anchors(frozenset(upward), frozenset(name for name, each in both.items() if each.side == "right"))
