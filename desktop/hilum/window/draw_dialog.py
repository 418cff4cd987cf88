"""Taking seed out of a lot: sown, discarded or otherwise used, by weight or by number."""

from PySide6.QtWidgets import QLineEdit, QSpinBox, QWidget

from hilum.benches.lots import draw
from hilum.benches.views import LotView
from hilum.window.widgets import DateEdit, GramsEdit, choice_line, form_row
from hilum.window.work import WorkDay
from hilum.window.work_dialog import WorkDialog

KINDS = (("sown", "sown"), ("discarded", "discarded"))


class DrawDialog(WorkDialog):
    """Asks how much goes out, and why; packing and testing have benches of their own."""

    def __init__(self, work: WorkDay, parent: QWidget, lot: LotView) -> None:
        words = f"{lot.name}. Stock: {lot.stock_words}. Say grams or seeds, not both."
        super().__init__(work, parent, f"Take seed out of {lot.number}", words, "&Take out")
        self._lot = lot
        self._kind = choice_line(KINDS, "")
        self._grams = GramsEdit()
        self._seeds = QSpinBox()
        self._seeds.setRange(0, 10_000_000)
        self._seeds.setSpecialValueText("not counted")
        self._seeds.setMaximumWidth(180)
        self._day = DateEdit(work.today())
        self._why = QLineEdit()
        self._why.setPlaceholderText("for whom, or why")
        for label, editor in (
            ("&As", self._kind),
            ("&Grams", self._grams),
            ("or &seeds", self._seeds),
            ("&On", self._day),
            ("&Why", self._why),
        ):
            form_row(self.form, label, editor)
        self._grams.trouble_changed.connect(self.on_grams_trouble)

    def on_grams_trouble(self, words: str) -> None:
        """Say what is wrong with the weight."""
        if words:
            self.notice.show_bad(words)
        else:
            self.notice.clear()

    def on_go(self) -> None:
        """Write the movement."""
        if self._grams.trouble():
            self.notice.show_bad(self._grams.trouble())
            return
        day = self.work.attempt(self._day.day)
        if day is None:
            return
        done = self.work.attempt(
            draw,
            self.work.catalogue,
            self._lot.number,
            self._kind.currentData(),
            on=day,
            mass_mg=self._grams.mass_mg(),
            seeds=self._seeds.value() or None,
            why=self._why.text().strip(),
        )
        if done is not None:
            self.accept()
            self.work.changes.tell(f"Lot {done.number}: {self._kind.currentText()}, {done.stock_words} left.")
