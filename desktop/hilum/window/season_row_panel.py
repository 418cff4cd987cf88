"""Below the season's list: the lot under the cursor, its check weight of ten packets, its spoon."""

from datetime import date

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QScrollArea,
    QSpinBox,
    QVBoxLayout,
    QWidget,
)

from hilum.benches.season import PlannedRow
from hilum.window import lot_words
from hilum.window.packing_figures import germination_words
from hilum.window.preparing_cautions import CautionLine
from hilum.window.widgets import GramsEdit, Heading, Quiet, card, form_row, row_of

MOST_IN_FIVE = 100_000
TEN_WORDS = "Weigh ten empty packets and ten filled ones."
SPOON_WORDS = "Fill a small measure level five times, and count all of it once."


class RowPanel(QWidget):
    """Shows one row; what is wanted with it is told by signal."""

    germination_chosen = Signal(bool)
    usual_wanted = Signal()
    lot_opened = Signal()
    # Milligrams of ten packets, empty and filled.
    ten_weighed = Signal(int, int)
    # Name of the spoon, seeds in five of them.
    spoon_counted = Signal(str, int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._name, self._facts = Heading(), Quiet("")
        self._warnings = QLabel()
        self._warnings.setWordWrap(True)
        self._warnings.setTextFormat(Qt.TextFormat.PlainText)
        self._warnings.setAlignment(Qt.AlignmentFlag.AlignTop)
        self._warnings.setAccessibleName("Look at")
        self.germinating = QCheckBox("Ger&minating seeds")
        self.germinating.setToolTip(
            "Fill so much that the number of seeds germinates, by the newest test (G)"
        )
        self.usual = QPushButton("Keep as &usual")
        self.open = QPushButton("&Open the lot")
        self.empty, self.filled = GramsEdit(), GramsEdit()
        self.weigh = QPushButton("Chec&k")
        self._ten = Quiet("")
        self.spoon, self.in_five = QLineEdit(), QSpinBox()
        self.spoon.setPlaceholderText("such as small brass")
        self.in_five.setRange(0, MOST_IN_FIVE)
        self.count = QPushButton("Keep spoo&n")
        self._spoon_words = Quiet("")
        self._lay_out()
        self._connect()
        self.show_row(None, date.min)

    def _lay_out(self) -> None:
        about = QVBoxLayout()
        about.addWidget(self._name)
        about.addWidget(self._facts)
        scroll = QScrollArea()
        scroll.setWidgetResizable(True)
        inside = QWidget()
        said = QVBoxLayout(inside)
        said.setContentsMargins(0, 0, 6, 0)
        said.addWidget(self._warnings)
        said.addWidget(CautionLine("packing"))
        said.addStretch(1)
        scroll.setWidget(inside)
        # On the ground of the card, not on one of its own.
        inside.setAutoFillBackground(False)
        scroll.viewport().setAutoFillBackground(False)
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        about.addWidget(scroll, 1)
        about.addLayout(row_of(self.germinating, self.usual, self.open))
        self._about = card(about)
        across = QHBoxLayout(self)
        across.setContentsMargins(0, 0, 0, 0)
        across.setSpacing(10)
        across.addWidget(self._about, 5)
        ten = self._small_form("Ten packets", (("Ten &empty", self.empty), ("Ten &filled", self.filled)),
                               self.weigh, self._ten)  # fmt: skip
        self._spoon_card = self._small_form(
            "Spoon", (("&Spoon", self.spoon), ("Seeds &in five", self.in_five)), self.count, self._spoon_words
        )
        across.addWidget(ten, 3)
        across.addWidget(self._spoon_card, 3)
        self._ten_card = ten

    def _small_form(
        self, title: str, fields: tuple[tuple[str, QWidget], ...], button: QPushButton, words: Quiet
    ) -> QWidget:
        form = QGridLayout()
        form.setHorizontalSpacing(8)
        form.setVerticalSpacing(4)
        for caption, field in fields:
            form_row(form, caption, field)
        form.addWidget(button, form.rowCount() - 1, 2)
        inside = QVBoxLayout()
        inside.setSpacing(6)
        inside.addWidget(Heading(title))
        inside.addLayout(form)
        inside.addWidget(words)
        inside.addStretch(1)
        return card(inside)

    def _connect(self) -> None:
        self.germinating.clicked.connect(self.germination_chosen)
        self.usual.clicked.connect(self.usual_wanted)
        self.open.clicked.connect(self.lot_opened)
        self.weigh.clicked.connect(self.on_weighed)
        self.filled.returnPressed.connect(self.on_weighed)
        self.empty.textChanged.connect(self.on_typed)
        self.filled.textChanged.connect(self.on_typed)
        self.count.clicked.connect(self.on_counted)
        self.spoon.textChanged.connect(self.on_typed)
        self.in_five.valueChanged.connect(self.on_typed)
        self._shown: int | None = None

    def show_row(self, row: PlannedRow | None, on: date) -> None:
        """Show one row, or nothing."""
        is_other = (row.id if row is not None else None) != self._shown
        self._shown = None if row is None else row.id
        self.setEnabled(row is not None)
        self._name.setText("" if row is None else f"{row.number}  {row.lot.name}")
        self._facts.setText("Choose a lot of the list." if row is None else _facts(row, on))
        self._show_warnings(row)
        self.germinating.setChecked(row is not None and row.by_germination)
        words = "Keep as &usual" if row is None else f"Keep {row.seeds_per_packet} as &usual"
        self.usual.setText(words)
        self.usual.setToolTip(
            "" if row is None else f"Packets of {row.lot.line.crop} get that many seeds from now on"
        )
        self._show_ten(row, is_other)
        self._show_spoon(row, is_other)
        self.on_typed()

    def _show_warnings(self, row: PlannedRow | None) -> None:
        said = (
            [] if row is None else [f"✕ {row.bar}"] * bool(row.bar) + [f"⚠ {words}" for words in row.warnings]
        )
        self._warnings.setText("\n".join(said))
        self._warnings.setVisible(bool(said))
        self._warnings.setProperty("tone", "bad" if row is not None and row.bar else "warn")
        self._warnings.style().unpolish(self._warnings)
        self._warnings.style().polish(self._warnings)

    def _show_ten(self, row: PlannedRow | None, is_other: bool) -> None:
        if is_other:
            self.empty.set_mass_mg(None if row is None else row.ten_empty_mg)
            self.filled.set_mass_mg(None if row is None else row.ten_filled_mg)
        check = None if row is None else row.check
        sign = "" if check is None else ("✓ " if check.verdict == "right" else "✕ ")
        self._ten.setText(TEN_WORDS if check is None else f"{sign}{check.words}")
        self._ten.set_tone("" if check is None else "good" if check.verdict == "right" else "bad")

    def _show_spoon(self, row: PlannedRow | None, is_other: bool) -> None:
        needs = row is not None and row.plan is not None and (row.plan.needs_spoon or row.spoon is not None)
        self._spoon_card.setVisible(needs)
        spoon = None if row is None else row.spoon
        if is_other:
            self.spoon.setText("" if spoon is None else spoon.name)
            self.in_five.setValue(0 if spoon is None else spoon.seeds_in_five)
        counted = "" if spoon is None else f"Counted {spoon.counted_on.isoformat()}. "
        self._spoon_words.setText(counted or SPOON_WORDS)

    def on_typed(self) -> None:
        """Let what is complete be kept."""
        self.weigh.setEnabled(self.empty.mass_mg() is not None and self.filled.mass_mg() is not None)
        self.count.setEnabled(bool(self.spoon.text().strip()) and self.in_five.value() > 0)

    def on_weighed(self) -> None:
        """Hand on the two weights."""
        empty, filled = self.empty.mass_mg(), self.filled.mass_mg()
        if empty is not None and filled is not None:
            self.ten_weighed.emit(empty, filled)

    def on_counted(self) -> None:
        """Hand on the spoon."""
        self.spoon_counted.emit(self.spoon.text().strip(), self.in_five.value())


def _facts(row: PlannedRow, on: date) -> str:
    return (
        f"Stock {lot_words.stock(row.lot)}, reserve {lot_words.seeds(row.lot.reserve_seeds)}, germination "
        f"{germination_words(row.lot, on)}."
    )
