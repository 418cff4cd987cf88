"""The steps of a regrowing: sowing draws the seed, selecting counts the plants kept, the harvest becomes a lot."""

from PySide6.QtWidgets import QLineEdit, QSpinBox, QWidget

from hilum.benches import regrowing as bench
from hilum.benches.intake import suggest
from hilum.benches.regrowing import Harvest, Regrowing, harvest_as_planned, harvest_words
from hilum.benches.regrowing_sums import MOST_PLANTS
from hilum.window import lot_words
from hilum.window.widgets import DateEdit, GramsEdit, SuggestLine, form_row
from hilum.window.work import WorkDay
from hilum.window.work_dialog import WorkDialog

MOST_SEEDS = 10_000_000


class SowDialog(WorkDialog):
    """Asks how many seeds or grams are sown; with a figure in both, the grams count."""

    def __init__(self, work: WorkDay, parent: QWidget, row: Regrowing) -> None:
        words = (
            f"{row.line.seeds:,} seeds are planned for {row.line.plants:,} plants. In stock: "
            f"{lot_words.stock(row.lot)}. What is sown is drawn from it, from the reserve too."
        )
        super().__init__(work, parent, f"Sow {row.lot.name}", words, "&Sow it")
        self._row = row
        self.planned: Regrowing | None = None
        self.on_day = DateEdit(work.today())
        self.seeds, self.weight = QSpinBox(), GramsEdit()
        self.seeds.setRange(0, MOST_SEEDS)
        self.seeds.setValue(row.line.seeds)
        self.weight.setPlaceholderText("grams, where they were weighed")
        form_row(self.form, "Sown &on", self.on_day)
        form_row(self.form, "S&eeds", self.seeds)
        if row.lot.line.unit == "mg":
            form_row(self.form, "or &weighed", self.weight)

    def on_go(self) -> None:
        """Draw the seed."""
        mass = self.weight.mass_mg()
        if self.weight.trouble():
            self.notice.show_bad(self.weight.trouble())
            return
        given = {"mass_mg": mass} if mass is not None else {"seeds": self.seeds.value()}
        self.planned = self.work.attempt(
            bench.sow, self.work.catalogue, self._row.id, on=self.on_day.day(), **given
        )
        if self.planned is not None:
            self.accept()


class SelectDialog(WorkDialog):
    """Asks how many plants were kept, and what was seen."""

    def __init__(self, work: WorkDay, parent: QWidget, row: Regrowing) -> None:
        words = "Plants that are not true to the variety, sick or too early in seed are taken out before they flower."
        super().__init__(work, parent, f"Select {row.lot.name}", words, "&Keep")
        self._row = row
        self.planned: Regrowing | None = None
        self.on_day, self.kept = DateEdit(work.today()), QSpinBox()
        self.kept.setRange(1, MOST_PLANTS)
        self.kept.setValue(row.line.plants_kept or row.line.plants)
        self.notes = QLineEdit(row.line.notes)
        self.notes.setPlaceholderText("what was taken out and why, what was true")
        form_row(self.form, "Selected &on", self.on_day)
        form_row(self.form, "Plants &kept", self.kept)
        form_row(self.form, "&Notes", self.notes)

    def on_go(self) -> None:
        """Write the plants kept."""
        self.planned = self.work.attempt(
            bench.select, self.work.catalogue, self._row.id, on=self.on_day.day(), plants_kept=self.kept.value(),
            notes=self.notes.text(),
        )  # fmt: skip
        if self.planned is not None:
            self.accept()


class HarvestDialog(WorkDialog):
    """Takes in the new lot: parents, plants, isolation and place are filled in from the regrowing."""

    def __init__(self, work: WorkDay, parent: QWidget, row: Regrowing) -> None:
        super().__init__(work, parent, f"Harvest of {row.lot.name}", harvest_words(row), "&Take it in")
        self._row = row
        self.planned: Regrowing | None = None
        known = harvest_as_planned(row)
        self.on_day, self.weight, self.plants = DateEdit(work.today()), GramsEdit(), QSpinBox()
        self.place, self.grower = SuggestLine(self.suggest_place), SuggestLine(self.suggest_grower)
        self.apart, self.notes = QLineEdit(known.isolation), QLineEdit(known.notes)
        self.plants.setRange(1, MOST_PLANTS)
        self.plants.setValue(known.plants or 1)
        self.place.setText(known.place_grown)
        self.grower.setText(known.grower)
        for caption, field in (
            ("Harvested &on", self.on_day), ("&Weight", self.weight), ("P&lace grown", self.place),
            ("&Grower", self.grower), ("Plan&ts", self.plants), ("&Isolation", self.apart), ("&Notes", self.notes),
        ):  # fmt: skip
            form_row(self.form, caption, field)

    def suggest_place(self, text: str) -> tuple[str, ...]:
        """Give places that were named before."""
        return self.work.attempt(suggest, self.work.catalogue, "Place grown", text) or ()

    def suggest_grower(self, text: str) -> tuple[str, ...]:
        """Give growers that were named before."""
        return self.work.attempt(suggest, self.work.catalogue, "Grower", text) or ()

    def on_go(self) -> None:
        """Make the new lot."""
        if self.weight.trouble():
            self.notice.show_bad(self.weight.trouble())
            return
        brought = Harvest(
            mass_mg=self.weight.mass_mg(), grower=self.grower.text(), place_grown=self.place.text(),
            plants=self.plants.value(), isolation=self.apart.text(), notes=self.notes.text(),
        )  # fmt: skip
        self.planned = self.work.attempt(
            bench.harvest, self.work.catalogue, self._row.id, brought, on=self.on_day.day()
        )
        if self.planned is not None:
            self.accept()
