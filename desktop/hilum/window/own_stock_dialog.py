"""Labels that are in no list, described by what a ruler says: checked and drawn while it is typed."""

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QCheckBox,
    QDialog,
    QDialogButtonBox,
    QDoubleSpinBox,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QSpinBox,
    QVBoxLayout,
    QWidget,
)

from hilum.benches.label_stocks import (
    DescribedStockError,
    LabelStock,
    StockMeasurements,
    described_stock,
    forget_stock,
    keep_stock,
    measurements_of,
    stock_named,
)
from hilum.errors import KeeperError
from hilum.window.position_picker import PositionPicker
from hilum.window.widgets import Notice, Quiet, Title, choice_line, polish, primary
from hilum.window.work import WorkDay

HELP_WORDS = (
    "Lay the sheet upright before you, a ruler along its top and left edge. Every distance is from the paper's left or "
    "top edge, so a small slip is not multiplied by the number of labels."
)
PAPERS = (
    ("A4, 210 × 297 mm", (210.0, 297.0)),
    ("US Letter, 215.9 × 279.4 mm", (215.9, 279.4)),
    ("other", None),
)
# Measure, its words; those that need a second column or row say of which.
MILLIMETRES = (
    ("page_w_mm", "Paper wide"), ("page_h_mm", "Paper high"), ("label_w_mm", "One label wide"),
    ("label_h_mm", "One label high"), ("first_left_mm", "First label begins, from the left"),
    ("first_top_mm", "First label begins, from the top"), ("second_left_mm", "Second column begins, from the left"),
    ("second_top_mm", "Second row begins, from the top"), ("corner_mm", "Radius of the corners"),
)  # fmt: skip


class OwnStockDialog(QDialog):
    """A form on the left, the sheet it describes on the right; nothing that cannot be is kept."""

    def __init__(
        self, work: WorkDay, parent: QWidget, begin_with: str, on_kept: Callable[[str], None]
    ) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle("Labels that are not in the list")
        self._work, self._on_kept = work, on_kept
        self._stock: LabelStock | None = None
        self.name = QLineEdit()
        self.name.setPlaceholderText("such as “garden tags”")
        self.paper = choice_line(PAPERS, "")
        self.columns, self.rows = QSpinBox(), QSpinBox()
        self.columns.setRange(1, 50)
        self.rows.setRange(1, 100)
        self.round = QCheckBox("&Round labels")
        self.figures = {name: _millimetres() for name, _ in MILLIMETRES}
        self._labels: dict[str, QLabel] = {}
        self.sheet = PositionPicker()
        self.sheet.setEnabled(False)
        self.sheet.setAccessibleName("The sheet as it is described")
        self._said = Quiet("")
        self.notice = Notice()
        self._buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Cancel)
        self._keep = primary(
            self._buttons.addButton("&Keep these labels", QDialogButtonBox.ButtonRole.AcceptRole)
        )
        self._forget = QPushButton("&Forget them")
        self._buttons.addButton(self._forget, QDialogButtonBox.ButtonRole.DestructiveRole)
        self._lay_out()
        self._begin(begin_with)
        self._connect()
        self.on_typed()
        self.resize(920, 640)

    def _lay_out(self) -> None:
        form = QGridLayout()
        form.setHorizontalSpacing(12)
        form.setVerticalSpacing(6)
        rows: list[tuple[str, str, QWidget]] = [
            ("title", "&Name", self.name), ("paper", "&Paper", self.paper),
            *((name, words, self.figures[name]) for name, words in MILLIMETRES[:2]),
            ("columns", "Labels &across", self.columns), ("rows", "Labels &down", self.rows),
            *((name, words, self.figures[name]) for name, words in MILLIMETRES[2:]),
        ]  # fmt: skip
        for row, (name, words, editor) in enumerate(rows):
            label = self._labels[name] = QLabel(words)
            label.setBuddy(editor)
            form.addWidget(label, row, 0)
            form.addWidget(editor, row, 1)
        form.addWidget(self.round, len(rows), 1)
        left = QVBoxLayout()
        left.addLayout(form)
        left.addStretch(1)
        right = QVBoxLayout()
        right.addWidget(self.sheet, 1)
        right.addWidget(self._said)
        across = QHBoxLayout()
        across.setSpacing(22)
        across.addLayout(left, 1)
        across.addLayout(right, 1)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(22, 18, 22, 18)
        layout.setSpacing(10)
        layout.addWidget(Title("Labels that are not in the list"))
        layout.addWidget(Quiet(HELP_WORDS))
        layout.addWidget(self.notice)
        layout.addLayout(across, 1)
        layout.addWidget(self._buttons)

    def _begin(self, name: str) -> None:
        """Begin with the labels chosen in the list: most sheets differ little from one that is there."""
        settings = self._work.catalogue.settings()
        own = measurements_of(settings, name)
        self._forget.setVisible(own is not None)
        if own is None and name:
            stock = stock_named(settings, name)
            own = StockMeasurements(
                "", stock.page_w_mm, stock.page_h_mm, stock.columns, stock.rows, stock.margin_left_mm,
                stock.margin_top_mm, stock.label_w_mm, stock.label_h_mm, stock.margin_left_mm + stock.pitch_x_mm,
                stock.margin_top_mm + stock.pitch_y_mm, stock.corner_mm, stock.shape,
            )  # fmt: skip
        if own is not None:
            self._show(own)
        self._own_name = name if self._forget.isVisibleTo(self) else ""

    def _show(self, m: StockMeasurements) -> None:
        self.name.setText(m.title)
        self.columns.setValue(m.columns)
        self.rows.setValue(m.rows)
        self.round.setChecked(m.shape == "circle")
        for name, box in self.figures.items():
            box.setValue(getattr(m, name) or 0.0)
        sizes = [size for _, size in PAPERS]
        size = (m.page_w_mm, m.page_h_mm)
        self.paper.setCurrentIndex(sizes.index(size) if size in sizes else len(sizes) - 1)

    def _connect(self) -> None:
        self.name.textChanged.connect(self.on_typed)
        self.paper.currentIndexChanged.connect(self.on_paper)
        for box in (self.columns, self.rows):
            box.valueChanged.connect(self.on_typed)
        for figure in self.figures.values():
            figure.valueChanged.connect(self.on_typed)
        self.round.toggled.connect(self.on_typed)
        self._buttons.accepted.connect(self.on_keep)
        self._buttons.rejected.connect(self.reject)
        self._forget.clicked.connect(self.on_forget)

    def measured(self) -> StockMeasurements:
        """Give what stands in the form."""
        figures = {name: box.value() for name, box in self.figures.items()}
        if self.round.isChecked():
            figures["label_h_mm"] = figures["label_w_mm"]
            figures["corner_mm"] = figures["label_w_mm"] / 2
        return StockMeasurements(
            title=self.name.text(),
            columns=self.columns.value(),
            rows=self.rows.value(),
            shape="circle" if self.round.isChecked() else "rectangle",
            **figures,
        )

    def on_paper(self) -> None:
        """Put in the size of a paper that has a name."""
        size = self.paper.currentData()
        if size is not None:
            self.figures["page_w_mm"].setValue(size[0])
            self.figures["page_h_mm"].setValue(size[1])
        self.on_typed()

    def on_typed(self) -> None:
        """Draw what is described, or say which figure cannot be."""
        named = self.paper.currentData() is None
        for name, is_asked in (
            ("page_w_mm", named), ("page_h_mm", named), ("second_left_mm", self.columns.value() > 1),
            ("second_top_mm", self.rows.value() > 1), ("label_h_mm", not self.round.isChecked()),
            ("corner_mm", not self.round.isChecked()),
        ):  # fmt: skip
            self.figures[name].setEnabled(is_asked)
            self._labels[name].setEnabled(is_asked)
        try:
            self._stock = described_stock(self.measured())
        except DescribedStockError as error:
            self._stock = None
            self._show_trouble(error.measure, str(error))
            return
        self._show_trouble("", "")
        self.sheet.set_stock(self._stock)
        self.sheet.set_need(self._stock.per_page)
        self._said.setText(self._words(self._stock))

    def _words(self, stock: LabelStock) -> str:
        right = stock.page_w_mm - stock.grid().label_box(stock.per_page).right_mm
        below = stock.page_h_mm - stock.grid().label_box(stock.per_page).bottom_mm
        return (
            f"{stock.per_page} labels a sheet. Check: {right:.1f} mm are left at the right edge, {below:.1f} mm at the "
            f"bottom; {stock.pitch_x_mm - stock.label_w_mm:.1f} mm between columns, "
            f"{stock.pitch_y_mm - stock.label_h_mm:.1f} mm between rows."
        )

    def _show_trouble(self, measure: str, words: str) -> None:
        editors: dict[str, QWidget] = {
            **self.figures, "title": self.name, "columns": self.columns, "rows": self.rows
        }  # fmt: skip
        for name, editor in editors.items():
            editor.setProperty("wrong", "true" if name == measure else "false")
            editor.setAccessibleDescription(words if name == measure else "")
            polish(editor)
        # A name is the last thing one types: the sheet is drawn without it.
        self._keep.setEnabled(not words)
        self._said.set_tone("bad" if words else "")
        if words:
            self._said.setText(words)
            if measure == "title":
                self._draw_unnamed()

    def _draw_unnamed(self) -> None:
        self.sheet.set_stock(described_stock(replace(self.measured(), title="unnamed")))
        self.sheet.set_need(self.sheet.per_page)

    def on_keep(self) -> None:
        """Keep the stock for every desk, and choose it."""
        try:
            kept = keep_stock(self._work.catalogue, self.measured())
        except KeeperError as error:
            self.notice.show_bad(str(error))
            return
        self.accept()
        self._on_kept(kept.name)

    def on_forget(self) -> None:
        """Forget a stock that was described here."""
        try:
            forget_stock(self._work.catalogue, self._own_name)
        except KeeperError as error:
            self.notice.show_bad(str(error))
            return
        self.accept()
        self._on_kept("")


def _millimetres() -> QDoubleSpinBox:
    box = QDoubleSpinBox()
    box.setRange(0, 600)
    box.setDecimals(2)
    box.setSingleStep(0.1)
    box.setSuffix(" mm")
    return box
