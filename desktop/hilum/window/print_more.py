"""More ways to print: the other side, lines to cut by, the order, groups with separators, what codes say."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QComboBox, QFormLayout, QVBoxLayout, QWidget

from hilum.benches.label_orders import FOLDED_BACK, GROUPS, NO_BACK, SORTS, LabelJob, back_of
from hilum.benches.printing import LabelStock, designs, fits
from hilum.window.widgets import Quiet, choice_line, form_row

PAYLOAD_WORDS = (
    ("what the design says", ""),
    ("the lot number: the smallest code", "lot"),
    ("the library's web address and the lot number", "address"),
    ("the words of the label, in capitals", "words"),
)
TURNED_WORDS = "Print on both sides, turned over on the long edge: each back then lies behind its front."
FOLDED_WORDS = "Front and back are printed on the same side of plain paper; cut, fold along the dashes, glue."


class PrintMore(QWidget):
    """Choices that most jobs do without; what a label stock cannot do is greyed out."""

    changed = Signal()

    def __init__(self, *, with_order: bool, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._with_order = with_order
        self._stock: LabelStock | None = None
        self.back = QComboBox()
        self.marks = QCheckBox("Lines to c&ut by")
        self.payload = choice_line(PAYLOAD_WORDS, "")
        self.sort = choice_line((("as they are listed", ""), *((f"by {name}", name) for name in SORTS)), "")
        self.group = choice_line((("no groups", ""), *((f"each {name}", name) for name in GROUPS)), "")
        self.sets = QCheckBox("&Whole sets: one of each lot, then the next")
        self._said = Quiet("")
        form = QFormLayout()
        form.setContentsMargins(0, 0, 0, 0)
        form.setHorizontalSpacing(10)
        form.setVerticalSpacing(6)
        form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        for box in (self.back, self.payload, self.sort, self.group):
            box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
            box.setMinimumContentsLength(12)
        form_row(form, "Othe&r side", self.back)
        form_row(form, "Code s&ays", self.payload)
        if with_order:
            form_row(form, "In &order", self.sort)
            form_row(form, "Separator before", self.group)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(6)
        layout.addLayout(form)
        layout.addWidget(self.marks)
        if with_order:
            layout.addWidget(self.sets)
        layout.addWidget(self._said)
        self._connect()

    def _connect(self) -> None:
        self.back.currentIndexChanged.connect(self.on_chosen)
        for box in (self.payload, self.sort, self.group):
            box.currentIndexChanged.connect(self.on_chosen)
        for tick in (self.marks, self.sets):
            tick.toggled.connect(self.on_chosen)

    def show_stock(self, stock: LabelStock) -> None:
        """Offer the other sides that fit a stock; a folding packet begins with its usual one."""
        before = (
            self.back.currentData() if self._stock is not None and stock.kind == self._stock.kind else None
        )
        self._stock = stock
        has_back = stock.kind in ("sheet", "fold")
        backs = [each for each in designs() if each.is_back and has_back and fits(each, stock)]
        usual = FOLDED_BACK if stock.kind == "fold" else NO_BACK
        self.back.blockSignals(True)
        self.back.clear()
        self.back.addItem("stays white", NO_BACK)
        for each in backs:
            self.back.addItem(each.title, each.name)
        wanted = before if before is not None and self.back.findData(before) >= 0 else usual
        self.back.setCurrentIndex(max(0, self.back.findData(wanted)))
        self.back.blockSignals(False)
        self.back.setEnabled(bool(backs))
        self.marks.setEnabled(stock.kind == "sheet")
        self._show_words()

    def choices(self) -> dict[str, object]:
        """Give what a job takes from here."""
        return {
            "back": self.back.currentData() or NO_BACK,
            "marks": self.marks.isChecked() and self.marks.isEnabled(),
            "payload": self.payload.currentData(),
            "sort_by": self.sort.currentData() if self._with_order else "",
            "group_by": self.group.currentData() if self._with_order else "",
            "whole_sets": self.sets.isChecked() and self._with_order,
        }

    def show_choices(self, job: LabelJob) -> None:
        """Show the choices of a job that was printed."""
        self.back.setCurrentIndex(max(0, self.back.findData(back_of(job) or NO_BACK)))
        self.payload.setCurrentIndex(max(0, self.payload.findData(job.payload)))
        self.marks.setChecked(job.marks)
        self.sets.setChecked(job.whole_sets)

    @property
    def is_two_sided(self) -> bool:
        """Whether sheets are to be turned over."""
        sheet = self._stock is not None and self._stock.kind == "sheet"
        return sheet and self.back.currentData() not in (None, NO_BACK)

    def on_chosen(self) -> None:
        """Say what a choice means, and that pages would be others."""
        self._show_words()
        self.changed.emit()

    def _show_words(self) -> None:
        fold = self._stock is not None and self._stock.kind == "fold"
        words = TURNED_WORDS if self.is_two_sided else FOLDED_WORDS if fold else ""
        self._said.setText(words)
        self._said.setVisible(bool(words))
