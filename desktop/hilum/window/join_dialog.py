"""Joining lots: poured together where they are of one variety, or mixed; whole in one job."""

import itertools

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QGridLayout, QLabel, QLineEdit, QPushButton, QWidget

from hilum.benches.joining import BULKED, MIXED, Component, join, plan_joining
from hilum.benches.lots import lot_view
from hilum.errors import KeeperError
from hilum.window.notice import Heading
from hilum.window.widgets import GramsEdit, Quiet, choice_line, form_row, row_of
from hilum.window.work import WorkDay
from hilum.window.work_dialog import WorkDialog

PAUSE_MS = 200
KINDS = (
    ("poured together: one variety, one lot from now on", BULKED),
    ("mixed: several, in their shares", MIXED),
)


class JoinDialog(WorkDialog):
    """Asks for the lots, how much of each, and the name of a mix; says the shares before anything is written."""

    def __init__(self, work: WorkDay, parent: QWidget, lots: tuple[str, ...]) -> None:
        words = (
            "A new lot is made and seed is drawn from each of these in the same step. Poured together they cannot be "
            "parted again; on paper it can all be taken back. Without grams, all of a lot goes in."
        )
        super().__init__(work, parent, "Join lots", words, "&Join them")
        self._kind = choice_line(KINDS, "")
        self._name, self._crop, self._notes = QLineEdit(), QLineEdit(), QLineEdit()
        self._name.setPlaceholderText("what the mix is called")
        self._crop.setPlaceholderText("the crop it is filed under, where there are several")
        self._rows: list[tuple[QLineEdit, GramsEdit, QLabel]] = []
        # A number is looked up once it is typed to its end.
        self._pause = QTimer(self)
        self._pause.setSingleShot(True)
        self._pause.setInterval(PAUSE_MS)
        self._grid = QGridLayout()
        self._grid.setHorizontalSpacing(12)
        self._grid.setVerticalSpacing(8)
        for column, heading in enumerate(("Lot", "Grams", "Share")):
            self._grid.addWidget(Heading(heading), 0, column)
        self._grid.setColumnStretch(2, 1)
        self._more = QPushButton("One lot &more")
        self._plan = Quiet()
        form_row(self.form, "&Are to be", self._kind)
        self.form.addRow(self._grid)
        self.form.addRow(row_of(self._more))
        form_row(self.form, "&Name", self._name)
        form_row(self.form, "&Crop", self._crop)
        form_row(self.form, "N&otes", self._notes)
        self.form.addRow(self._plan)
        for number in lots:
            self._add_row(number)
        while len(self._rows) < 2:
            self._add_row("")
        self.setMinimumWidth(860)
        self._connect()
        self.on_changed()

    def _add_row(self, number: str) -> None:
        line, grams, share = QLineEdit(number), GramsEdit(), QLabel()
        row = len(self._rows) + 1
        line.setPlaceholderText("scan or type a lot number")
        line.setMinimumWidth(190)
        grams.setMaximumWidth(130)
        line.setAccessibleName(f"Lot {row}")
        grams.setAccessibleName(f"Grams of lot {row}")
        share.setTextFormat(Qt.TextFormat.PlainText)
        for column, widget in enumerate((line, grams, share)):
            self._grid.addWidget(widget, row, column)
        self._rows.append((line, grams, share))
        line.textChanged.connect(self._pause.start)
        grams.textChanged.connect(self._pause.start)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._order_keys()
        empty = next((line for line, _, _ in self._rows if not line.text()), None)
        if empty is not None:
            empty.setFocus()

    def _order_keys(self) -> None:
        lots = [widget for line, grams, _ in self._rows for widget in (line, grams)]
        chain: list[QWidget] = [self._kind, *lots, self._more, self._name, self._crop, self._notes, self.go]
        for before, after in itertools.pairwise(chain):
            QWidget.setTabOrder(before, after)

    def _connect(self) -> None:
        self._pause.timeout.connect(self.on_changed)
        self._more.clicked.connect(self.on_more)
        self._kind.currentIndexChanged.connect(self.on_changed)

    def on_more(self) -> None:
        """Make room for another lot."""
        self._add_row("")
        self._order_keys()
        self._rows[-1][0].setFocus()

    def components(self) -> tuple[Component, ...]:
        """Give the lots that were named, each with its amount."""
        return tuple(
            Component(line.text().strip(), mass_mg=grams.mass_mg())
            for line, grams, _ in self._rows
            if line.text().strip()
        )

    def on_changed(self) -> None:
        """Say what it would make, or what stands in the way."""
        is_mix = self._kind.currentData() == MIXED
        self._name.setEnabled(is_mix)
        self._crop.setEnabled(is_mix)
        for line, _, share in self._rows:
            share.setText(self._lot_words(line.text().strip()))
        components = self.components()
        self._plan.setText("")
        if len(components) < 2:
            return
        try:
            plan = plan_joining(self.work.catalogue, self._kind.currentData(), components)
        except KeeperError as trouble:
            self._plan.setText(str(trouble))
            return
        by = "by seeds" if plan.shares[0].share_by == "seeds" else "by weight"
        filled = [share for line, _, share in self._rows if line.text().strip()]
        for label, each in zip(filled, plan.shares, strict=True):
            label.setText(f"{each.share_ppm / 10_000:.1f} % {by}: {each.lot.name}, {each.lot.stock_words}")
        self._plan.setText(" ".join((f"It makes {plan.amount_words}.", *plan.warnings)))

    def _lot_words(self, number: str) -> str:
        if not number:
            return ""
        try:
            lot = lot_view(self.work.catalogue, number)
        except KeeperError as trouble:
            return str(trouble)
        return f"{lot.name}, {lot.stock_words}"

    def on_go(self) -> None:
        """Join the lots."""
        trouble = next((grams.trouble() for _, grams, _ in self._rows if grams.trouble()), "")
        if trouble:
            self.notice.show_bad(trouble)
            return
        made = self.work.attempt(
            join,
            self.work.catalogue,
            self._kind.currentData(),
            self.components(),
            on=self.work.today(),
            name=self._name.text().strip(),
            crop=self._crop.text().strip(),
            notes=self._notes.text().strip(),
        )
        if made is not None:
            self.accept()
            self.work.changes.tell(f"Lot {made.number} was made: {made.name}, {made.stock_words}.")
