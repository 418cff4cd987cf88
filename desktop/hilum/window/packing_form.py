"""The left side of the packing bench: which lot, how many packets of how many seeds, what that takes."""

from datetime import date

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QGridLayout, QPushButton, QSpinBox, QVBoxLayout, QWidget

from hilum.benches.lots import lot_view
from hilum.benches.packing import MOST_PACKETS, PackingPlan, plan_packing, why_not
from hilum.benches.views import LotView
from hilum.errors import KeeperError
from hilum.window.packing_figures import PackingFigures
from hilum.window.packing_lot import LotChoice
from hilum.window.preparing_cautions import CautionLine
from hilum.window.print_memory import remembered
from hilum.window.widgets import Notice, form_row
from hilum.window.work import WorkDay

MOST_SEEDS = 100_000


class PackingForm(QWidget):
    """Reckons at once what was typed; says in `bar` why nothing can be packed."""

    changed = Signal()

    def __init__(self, work: WorkDay, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._work = work
        self.lot: LotView | None = None
        self.plan: PackingPlan | None = None
        self.bar = ""
        memory = remembered()
        self.choice = LotChoice(work)
        self.packets, self.seeds = QSpinBox(), QSpinBox()
        self.packets.setRange(1, MOST_PACKETS)
        self.packets.setValue(memory.packets)
        self.seeds.setRange(1, MOST_SEEDS)
        self.seeds.setValue(memory.seeds)
        self.viable = QCheckBox("&Germinating seeds")
        self.viable.setAccessibleName("Fill for germinating seeds")
        self.viable.setToolTip(
            "Fill so much that the number of seeds germinates, by the newest test of the lot"
        )
        self.all = QPushButton("All possi&ble")
        self.figures = PackingFigures()
        self.notice = Notice()
        self._lay_out()
        self._connect()
        self.show_lot("")

    def _lay_out(self) -> None:
        form = QGridLayout()
        form.setHorizontalSpacing(10)
        form.setVerticalSpacing(6)
        form.setColumnStretch(1, 1)
        form_row(form, "Pac&kets", self.packets)
        form.addWidget(self.all, form.rowCount() - 1, 2)
        form_row(form, "Seeds in &each", self.seeds)
        form.addWidget(self.viable, form.rowCount() - 1, 2)
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(10)
        layout.addWidget(self.choice)
        layout.addLayout(form)
        layout.addWidget(self.notice)
        layout.addWidget(self.figures)
        layout.addWidget(CautionLine("packing"))
        layout.addStretch(1)

    def _connect(self) -> None:
        self.choice.lot_chosen.connect(self.on_lot_chosen)
        self.choice.trouble_met.connect(self.on_trouble)
        self.packets.valueChanged.connect(self.on_figure)
        self.seeds.valueChanged.connect(self.on_figure)
        self.viable.toggled.connect(self.on_figure)
        self.all.clicked.connect(self.on_all_wanted)

    @property
    def can_pack(self) -> bool:
        """Whether what stands in the form can be packed."""
        return self.plan is not None and not self.bar

    def show_lot(self, number: str) -> None:
        """Load a lot and reckon; nothing for no lot."""
        self.lot, self.plan, self.bar = None, None, ""
        self.notice.clear()
        self.figures.show_nothing()
        if number:
            try:
                self.lot = lot_view(self._work.catalogue, number)
                self.bar = why_not(self._work.catalogue, number)
            except KeeperError as error:
                self.bar = str(error)
        if self.lot is not None:
            self.choice.show_lot(self.lot)
        self.reckon()

    def reckon(self) -> None:
        """Reckon anew what the packets take."""
        self.plan = None
        on: date = self._work.today()
        trouble = self.bar
        if self.lot is not None:
            self.figures.show_lot(self.lot, on)
            try:
                self.plan = plan_packing(
                    self._work.catalogue,
                    self.lot.number,
                    seeds=self.seeds.value(),
                    on=on,
                    viable=self.viable.isChecked(),
                )
                self.figures.show_plan(self.plan, self.packets.value(), on)
                trouble = trouble or self._too_many(self.plan)
            except KeeperError as error:
                trouble = trouble or str(error)
        if trouble:
            self.notice.show_bad(trouble)
            if not self.bar:
                self.plan = None
        else:
            self.notice.clear()
        self.all.setEnabled(self.lot is not None and not self.bar)
        self.changed.emit()

    def _too_many(self, plan: PackingPlan) -> str:
        possible = plan.possible_packets
        if possible is None or self.packets.value() <= possible:
            return ""
        if not possible:
            return "Nothing can be packed: the stock does not reach above the reserve."
        return f"{self.packets.value():,} packets would eat into the reserve; {possible:,} are possible."

    def on_lot_chosen(self, number: str) -> None:
        """Show the lot that was chosen, and go on to the packets."""
        self.show_lot(number)
        self.packets.setFocus()
        self.packets.selectAll()

    def on_trouble(self, words: str) -> None:
        """Say what is wrong with the lot that was typed."""
        self.show_lot("")
        self.notice.show_bad(words)

    def on_figure(self, *_: object) -> None:
        """Reckon at once."""
        self.reckon()

    def on_all_wanted(self) -> None:
        """Take as many packets as there are above the reserve."""
        if self.lot is None:
            return
        try:
            plan = plan_packing(
                self._work.catalogue,
                self.lot.number,
                seeds=self.seeds.value(),
                on=self._work.today(),
                viable=self.viable.isChecked(),
            )
        except KeeperError as error:
            self.notice.show_bad(str(error))
            return
        if plan.possible_packets:
            self.packets.setValue(min(plan.possible_packets, MOST_PACKETS))
        self.packets.setFocus()


def packets_words(lot: str, packets: int, seeds: int) -> str:
    """Say what was packed in one line."""
    return f"{packets:,} packet{'' if packets == 1 else 's'} of {seeds:,} from {lot}"
