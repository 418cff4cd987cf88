"""What labels are printed on: design, label stock, copies, the first free label, spoiled ones, printer dots."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QComboBox,
    QGridLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QSpinBox,
    QVBoxLayout,
    QWidget,
)

from hilum.benches.label_orders import LabelJob
from hilum.benches.printing import LabelDesign, LabelStock, designs, stock_named, stocks_offered
from hilum.errors import BadInput, KeeperError
from hilum.window.copies_dialog import CopiesDialog
from hilum.window.own_stock_dialog import OwnStockDialog
from hilum.window.position_picker import PositionPicker, positions_of, positions_text
from hilum.window.print_memory import DPI, PrintMemory, remember, remembered
from hilum.window.print_more import PrintMore
from hilum.window.print_stocks import StockBox
from hilum.window.questions import Questions
from hilum.window.widgets import Quiet, polish, row_of
from hilum.window.work import WorkDay

PICKER_HELP = "Click or arrow keys: first free label. Ctrl+click, or Space (Ctrl+arrows to move): spoiled."
MOST_COPIES = 1_000


def lot_designs() -> tuple[LabelDesign, ...]:
    """Give the designs for lots, the packet first; a back side is no design of its own."""
    found = [each for each in designs() if "dish" not in each.required and not each.is_back]
    return tuple(sorted(found, key=lambda each: (each.name != "packet", each.title)))


def dish_designs() -> tuple[LabelDesign, ...]:
    """Give the designs for dishes of a germination test."""
    return tuple(each for each in designs() if "dish" in each.required)


class PrintChoices(QWidget):
    """The form of a print job. Copies can be left out where another figure says how many labels there are."""

    changed = Signal()

    def __init__(
        self,
        work: WorkDay,
        offered: tuple[LabelDesign, ...],
        design: str = "",
        *,
        with_copies: bool = True,
        begin: LabelJob | None = None,
        parent: QWidget | None = None,
    ) -> None:
        """Begin with what was chosen last, or with the choices of a job that is printed again."""
        super().__init__(parent)
        self._work = work
        # The number of labels by lot where they differ; see `offer_lots`.
        self.copies_of: dict[str, int] | None = None
        self._lots: tuple[str, ...] = ()
        self._designs = {each.name: each for each in offered}
        self._memory = remembered()
        self._labels = 1
        self.design = QComboBox()
        for each in offered:
            self.design.addItem(each.title, each.name)
        self._purpose = Quiet("")
        self.stock = StockBox()
        self.other_stock = QPushButton("Other labels…")
        self.other_stock.setToolTip("Describe labels that are not in the list, from what a ruler says")
        self.more_shown = QPushButton("More c&hoices")
        self.more_shown.setCheckable(True)
        self.more = PrintMore(with_order=with_copies)
        self.more.hide()
        self.copies, self.start = QSpinBox(), QSpinBox()
        self.copies.setRange(1, MOST_COPIES)
        self.copies.setVisible(with_copies)
        self.by_lot = QPushButton("B&y lot…")
        self.by_lot.setToolTip(
            "Another number of labels for each lot: typed, as many as packets, or from a list"
        )
        self.by_lot.hide()
        self.start.setMinimum(1)
        self.skip = QLineEdit()
        self.skip.setPlaceholderText("none")
        self.dpi = QComboBox()
        for dots in DPI:
            self.dpi.addItem(f"{dots} dpi", dots)
        self.picker = PositionPicker()
        self._said = Quiet("")
        self._help = Quiet(PICKER_HELP)
        self._lay_out(with_copies)
        wanted = design if design in self._designs else self._memory.design
        self.design.setCurrentIndex(max(0, self.design.findData(wanted)))
        self.dpi.setCurrentIndex(max(0, self.dpi.findData(self._memory.dpi)))
        self._connect()
        self.on_design(self.design.currentIndex())
        if begin is not None:
            self._begin(begin)

    def _begin(self, job: LabelJob) -> None:
        """Show the choices of a job that was printed."""
        self.stock.choose(stock_named(self._work.catalogue.settings(), job.label_stock).name)
        self.on_stock(self.stock.stock_name())
        self.dpi.setCurrentIndex(max(0, self.dpi.findData(job.dpi)))
        self.picker.set_skip(job.skip)
        self.picker.set_start(job.start)
        self.more.show_choices(job)
        self._show_skip()

    def start_new_sheet(self) -> None:
        """Begin with a whole sheet."""
        self.picker.set_skip(())
        self.picker.set_start(1)

    def offer_lots(self, questions: Questions, lots: tuple[str, ...]) -> None:
        """Let each lot have a number of labels of its own."""
        self._questions, self._lots = questions, lots
        self.by_lot.show()

    def _lay_out(self, with_copies: bool) -> None:
        form = QGridLayout()
        form.setHorizontalSpacing(10)
        form.setVerticalSpacing(6)
        form.setColumnStretch(1, 2)
        form.setColumnStretch(3, 3)
        _beside(form, 0, 0, "&Design", self.design, 3)
        form.addWidget(self._purpose, 1, 1, 1, 3)
        _beside(form, 2, 0, "&Label stock", self.stock, 3)
        _beside(form, 3, 2 if with_copies else 0, "Printer do&ts", self.dpi)
        if with_copies:
            _beside(form, 3, 0, "&Copies", self.copies)
        _beside(form, 4, 0, "First &free", self.start)
        _beside(form, 4, 2, "Spo&iled", self.skip)
        self.start.setToolTip("The first free label of the sheet, counted row by row")
        self.skip.setToolTip("Labels of the first sheet that are left out, such as 5, 9, 12-14")
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(6)
        layout.addLayout(form)
        layout.addLayout(row_of(self.more_shown, self.by_lot, self.other_stock))
        layout.addWidget(self.more)
        layout.addWidget(self.picker, 1)
        layout.addWidget(self._said)
        layout.addWidget(self._help)
        # Takes the room of the drawn sheet where there is none.
        layout.addStretch(0)

    def _connect(self) -> None:
        self.design.currentIndexChanged.connect(self.on_design)
        self.stock.stock_chosen.connect(self.on_stock)
        self.copies.valueChanged.connect(self.on_copies)
        self.dpi.currentIndexChanged.connect(self.on_dpi)
        self.start.valueChanged.connect(self.picker.set_start)
        self.skip.textEdited.connect(self.on_skip_typed)
        self.skip.editingFinished.connect(self.on_skip_left)
        self.picker.changed.connect(self.on_picked)
        self.more.changed.connect(self.changed)
        self.more_shown.toggled.connect(self.more.setVisible)
        self.other_stock.clicked.connect(self.on_other_stock)
        self.by_lot.clicked.connect(self.on_by_lot)

    def offer_design(self, name: str) -> None:
        """Offer a design that was just saved, and choose it."""
        saved = next((each for each in designs() if each.name == name), None)
        if saved is None or (name not in self._designs and not self._suits(saved)):
            return
        self._designs[name] = saved
        place = self.design.findData(name)
        if place < 0:
            self.design.addItem(saved.title, name)
            place = self.design.count() - 1
        self.design.setItemText(place, saved.title)
        if place == self.design.currentIndex():
            self.on_design(place)
        else:
            self.design.setCurrentIndex(place)
        self.changed.emit()

    def _suits(self, saved: LabelDesign) -> bool:
        """Tell whether a design is for the same things, lots or dishes, as those offered."""
        return ("dish" in saved.required) == any("dish" in each.required for each in self._designs.values())

    # What is chosen.

    def job(self) -> LabelJob:
        """Give the job as it is chosen; raises BadInput when the spoiled labels cannot be read."""
        skip = positions_of(self.skip.text(), self.picker.per_page)
        return LabelJob(
            design=self.design.currentData(),
            label_stock=self.stock.stock_name(),
            copies=self.copies.value() if not self.copies.isHidden() else 1,
            start=self.picker.start,
            skip=skip,
            dpi=self.dpi.currentData(),
            **self.more.choices(),  # type: ignore[arg-type]
        )

    def design_title(self) -> str:
        """Give the title of the chosen design."""
        return self.design.currentText()

    def set_labels(self, labels: int) -> None:
        """Say how many labels one copy of the job has."""
        self._labels = max(1, labels)
        by_all = self._labels * (1 if self.copies.isHidden() else self.copies.value())
        self.picker.set_need(by_all if self.copies_of is None else sum(self.copies_of.values()))
        self._show_words()

    def move_on(self, labels: int) -> None:
        """Begin behind the labels just made: what is left of their last sheet comes first, whole sheets after it."""
        picker, here = self.picker, self.picker.printed()
        if picker.is_fixed or not here:
            return
        left = labels - len(here)
        last = here[-1] if left <= 0 else left % picker.per_page
        spoiled = picker.skip if left <= 0 else ()
        picker.set_skip(spoiled)
        free = [each for each in range(last + 1, picker.per_page + 1) if each not in spoiled]
        if not free or not last:
            picker.set_skip(())
        picker.set_start(free[0] if free and last else 1)

    def keep(self) -> None:
        """Remember the choices for the next time; raises KeeperError when they cannot be written."""
        memory: PrintMemory = remembered()
        name = self.design.currentData()
        if "dish" not in self._designs[name].required:
            memory.design = name
        memory.stocks = {**memory.stocks, name: self.stock.stock_name()}
        memory.dpi = self.dpi.currentData()
        remember(memory)
        self._memory = memory

    # What follows from a choice.

    def on_design(self, _place: int) -> None:
        """Say what the design is for, and offer the stocks that it fits."""
        design = self._designs[self.design.currentData()]
        self._purpose.setText(design.purpose)
        wanted = self.stock.stock_name() or self._memory.stock_for(design.name)
        self.stock.show_design(design, wanted, stocks_offered(self._work.catalogue.settings()))
        self.on_stock(self.stock.stock_name())

    def on_other_stock(self) -> None:
        """Let the keeper describe labels by a ruler; what is kept is chosen."""
        OwnStockDialog(self._work, self, self.stock.stock_name(), self.on_stock_kept).open()

    def on_stock_kept(self, name: str) -> None:
        """Offer a stock that was just described, and choose it where the design fits it."""
        design = self._designs[self.design.currentData()]
        self.stock.show_design(design, name, stocks_offered(self._work.catalogue.settings()))
        self.on_stock(self.stock.stock_name())

    def on_stock(self, name: str) -> None:
        """Draw the chosen stock."""
        if not name:
            return
        stock: LabelStock = stock_named(self._work.catalogue.settings(), name)
        self.picker.set_stock(stock)
        self.more.show_stock(stock)
        self.start.setMaximum(self.picker.per_page)
        for widget in (self.start, self.skip, self.picker):
            widget.setEnabled(not self.picker.is_fixed)
        self.picker.setVisible(stock.kind != "roll")
        self._help.setVisible(not self.picker.is_fixed)
        self.on_picked()

    def on_copies(self, _copies: int) -> None:
        """Show how far the copies reach."""
        self.set_labels(self._labels)
        self.changed.emit()

    def on_by_lot(self) -> None:
        """Ask how many labels each lot has."""
        usual = dict.fromkeys(self._lots, self.copies.value())
        CopiesDialog(
            self._work, self._questions, self, self._lots, self.copies_of or usual, self.on_copies_of
        ).open()

    def on_copies_of(self, copies_of: dict[str, int]) -> None:
        """Take a number of labels for each lot; the same for all of them stands in the field again."""
        numbers = set(copies_of.values())
        if len(numbers) == 1:
            self.copies_of = None
            self.copies.setValue(numbers.pop())
        else:
            self.copies_of = copies_of
        self.copies.setEnabled(self.copies_of is None)
        self.set_labels(self._labels)
        self.changed.emit()

    def on_dpi(self, _place: int) -> None:
        """Let who listens know that the pages would be others."""
        self.changed.emit()

    def on_picked(self) -> None:
        """Write into the fields what was chosen on the drawn sheet."""
        self.start.blockSignals(True)
        self.start.setValue(self.picker.start)
        self.start.blockSignals(False)
        if not self.skip.hasFocus():
            self._show_skip()
        self._show_words()
        self.changed.emit()

    def on_skip_typed(self, text: str) -> None:
        """Cross out on the drawn sheet what was typed."""
        try:
            self.picker.set_skip(positions_of(text, self.picker.per_page))
            self._show_trouble("")
        except BadInput as error:
            self._show_trouble(str(error))
        self.changed.emit()

    def on_skip_left(self) -> None:
        """Write the spoiled labels in order."""
        try:
            self.picker.set_skip(positions_of(self.skip.text(), self.picker.per_page))
        except KeeperError:
            # What is wrong stands there to be mended; the words below say what it is.
            return
        self._show_skip()

    def _show_skip(self) -> None:
        self.skip.setText(positions_text(self.picker.skip))
        self._show_trouble("")

    def _show_trouble(self, words: str) -> None:
        self.skip.setProperty("wrong", "true" if words else "false")
        self.skip.setAccessibleDescription(words)
        polish(self.skip)
        self._show_words(words)

    def _show_words(self, trouble: str = "") -> None:
        by_lot = "" if self.copies_of is None else f"By lot, {sum(self.copies_of.values())} labels in all. "
        self._said.setText(trouble or by_lot + self.picker.words())
        self._said.set_tone("bad" if trouble or not (self.picker.printed() or self.picker.is_fixed) else "")


def _beside(form: QGridLayout, row: int, column: int, words: str, editor: QWidget, across: int = 1) -> None:
    """Put a field with its label beside another one."""
    label = QLabel(words)
    label.setBuddy(editor)
    form.addWidget(label, row, column)
    form.addWidget(editor, row, column + 1, 1, across)
