"""Planning one regrowing: year, plants, losses, garden and bed; seeds, isolation and crossings are said meanwhile."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QComboBox, QLabel, QLineEdit, QSizePolicy, QSpinBox, QWidget

from hilum.benches import regrowing as bench
from hilum.benches.regrowing import Regrowing
from hilum.benches.regrowing_sums import MOST_PLANTS
from hilum.errors import KeeperError
from hilum.window.widgets import Quiet, SuggestLine, form_row, polish
from hilum.window.work import WorkDay
from hilum.window.work_dialog import WorkDialog


class PlanDialog(WorkDialog):
    """Plans a lot, or changes the plan in `row`; what was planned stands in `planned`."""

    def __init__(self, work: WorkDay, parent: QWidget, number: str, row: Regrowing | None = None) -> None:
        self._number, self._row = number, row
        self.planned: Regrowing | None = None
        sums = bench.regrowing_sums(work.catalogue, number)
        title = f"Regrow {sums.lot.name}" if row is None else f"Change the plan of {number}"
        super().__init__(work, parent, title, "", "&Plan it" if row is None else "&Keep")
        plan = work.attempt(bench.regrowings, work.catalogue, with_closed=True)
        self._gardens = () if plan is None else plan.gardens
        self.year, self.plants, self.losses = QSpinBox(), QSpinBox(), QSpinBox()
        self.year.setRange(bench.EARLIEST_YEAR, bench.LATEST_YEAR)
        self.plants.setRange(1, MOST_PLANTS)
        self.losses.setRange(0, 99)
        self.losses.setSuffix(" %")
        self.garden, self.bed, self.notes = SuggestLine(self.suggest), QLineEdit(), QLineEdit()
        self.garden.setPlaceholderText("such as Long Field")
        self.apart = QComboBox()
        self.apart.setEditable(True)
        self.apart.addItems(["", *sums.ways])
        self._plants_words, self._seeds_words, self._apart_words = Quiet(), Quiet(), Quiet()
        for words in (self._plants_words, self._seeds_words, self._apart_words):
            # In a form only what asks for room gets the width of the fields.
            words.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
            words.setMinimumWidth(500)
        self.apart.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self._care = QLabel()
        self._care.setWordWrap(True)
        self._care.setTextFormat(Qt.TextFormat.PlainText)
        self._fill(sums.plants, sums.losses_percent)
        self._lay_out()
        self._wire()
        self.reckon()

    def _fill(self, plants: int, losses: int) -> None:
        row = self._row.line if self._row is not None else None
        self.year.setValue(row.year if row else bench.usual_year(self.work.today()))
        self.plants.setValue(row.plants if row else plants)
        self.losses.setValue(row.losses_percent if row else losses)
        if row is not None:
            self.garden.setText(row.garden)
            self.bed.setText(row.bed)
            self.notes.setText(row.notes)
        self.apart.setCurrentText(row.isolation if row else self.apart.itemText(1))

    def _lay_out(self) -> None:
        form_row(self.form, "&Year of sowing", self.year)
        form_row(self.form, "Plan&ts", self.plants)
        self.form.addRow("", self._plants_words)
        form_row(self.form, "&Lost in the field", self.losses)
        self.form.addRow("", self._seeds_words)
        form_row(self.form, "&Garden", self.garden)
        form_row(self.form, "&Bed", self.bed)
        form_row(self.form, "Kept &apart by", self.apart)
        self.form.addRow("", self._apart_words)
        form_row(self.form, "&Notes", self.notes)
        self.form.addRow(self._care)
        self.resize(720, 700)

    def _wire(self) -> None:
        for box in (self.year, self.plants, self.losses):
            box.valueChanged.connect(self.reckon)
        self.garden.textChanged.connect(self.reckon)

    def suggest(self, text: str) -> tuple[str, ...]:
        """Give gardens that were named before."""
        return tuple(name for name in self._gardens if text.strip().casefold() in name.casefold())

    def reckon(self) -> None:
        """Reckon anew what was typed."""
        try:
            sums = bench.regrowing_sums(
                self.work.catalogue,
                self._number,
                plants=self.plants.value(),
                losses_percent=self.losses.value(),
            )
            crossings = bench.crossings_if(
                self.work.catalogue, self._number, self.garden.text(), self.year.value()
            )
        except KeeperError as error:
            self.notice.show_bad(str(error))
            return
        self.notice.clear()
        self._plants_words.setText(f"{sums.plants_words} {sums.keeping_words}")
        self._seeds_words.setText(sums.sowing_words)
        kept = sums.isolation
        ways = " ".join(way.words for way in kept.ways) if kept is not None else ""
        self._apart_words.setText(
            f"{kept.words} {ways}" if kept is not None else "No distance is known here."
        )
        said = [f"✕ {each.words}" for each in crossings if each.is_sure]
        said += [f"⚠ {each.words}" for each in crossings if not each.is_sure]
        said += [f"⚠ {words}" for words in sums.warnings]
        self._care.setText("\n".join(said))
        self._care.setVisible(bool(said))
        self._care.setProperty("tone", "bad" if any(each.is_sure for each in crossings) else "warn")
        polish(self._care)

    def on_go(self) -> None:
        """Write the plan."""
        values = {
            "year": self.year.value(), "plants": self.plants.value(), "losses_percent": self.losses.value(),
            "garden": self.garden.text(), "bed": self.bed.text(), "isolation": self.apart.currentText(),
            "notes": self.notes.text(),
        }  # fmt: skip
        if self._row is not None:
            self.planned = self.work.attempt(bench.change_plan, self.work.catalogue, self._row.id, values)
        else:
            self.planned = self.work.attempt(
                bench.plan_regrowing, self.work.catalogue, self._number, on=self.work.today(), **values
            )
        if self.planned is not None:
            self.accept()
