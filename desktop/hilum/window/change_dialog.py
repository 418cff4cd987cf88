"""Changing what is written of a lot: its name, where it comes from, what is to be known of its seed, notes."""

from typing import Any

from PySide6.QtWidgets import QCheckBox, QLineEdit, QPlainTextEdit, QWidget

from hilum.benches.intake import suggest
from hilum.benches.lots import IDENTITIES, EditedMeanwhile, LotStory, change_lot
from hilum.benches.past_work import field_words, value_words
from hilum.errors import KeeperError
from hilum.window.choose_edits import ChooseEdits
from hilum.window.widgets import SuggestLine, choice_line, form_row
from hilum.window.work import WorkDay
from hilum.window.work_dialog import WorkDialog


class ChangeDialog(WorkDialog):
    """Shows what is written and writes what was altered; where another desk was quicker, the keeper chooses."""

    def __init__(self, work: WorkDay, parent: QWidget, story: LotStory) -> None:
        words = (
            "The lot number stays as it is, whatever the lot turns out to be. Every change can be taken back."
        )
        super().__init__(work, parent, f"Change what is written of {story.lot.number}", words, "&Keep")
        self._story, self._seen = story, story.written
        line = story.lot.line
        self._variety = SuggestLine(self._like_varieties)
        self._place = SuggestLine(self._like_places)
        self._grower = SuggestLine(self._like_growers)
        self._variety.setText(line.variety)
        self._place.setText(line.place_grown or "")
        self._grower.setText(line.grower or "")
        self._year = QLineEdit("" if line.year is None else str(line.year))
        self._year.setPlaceholderText("year of harvest")
        self._plants = QLineEdit("" if story.plants is None else str(story.plants))
        self._plants.setPlaceholderText("from how many plants")
        self._isolation = QLineEdit(story.isolation)
        self._identity = choice_line(tuple((word, word) for word in IDENTITIES), "")
        self._identity.setCurrentText(line.identity)
        self._treatment = QLineEdit(story.written.treatment)
        self._treatment.setPlaceholderText("substance it was dressed with; empty for untreated seed")
        self._is_f1 = QCheckBox("does not come true from saved seed")
        self._is_f1.setChecked(story.written.is_f1)
        self._rights = QLineEdit(story.written.rights_notice)
        self._rights.setPlaceholderText("variety protection, terms of the giver")
        self._batch = QLineEdit(story.written.supplier_batch)
        self._batch.setPlaceholderText("the number on the bought packet")
        self._notes = QPlainTextEdit(story.notes)
        self._notes.setMaximumHeight(84)
        self._notes.setTabChangesFocus(True)
        for label, editor in (
            ("&Variety", self._variety),
            ("&Year", self._year),
            ("&Place grown", self._place),
            ("&Grower", self._grower),
            ("P&lants", self._plants),
            ("&Isolation", self._isolation),
            ("I&dentity", self._identity),
            ("&Treated with", self._treatment),
            ("&F1 hybrid", self._is_f1),
            ("&Rights notice", self._rights),
            ("&Supplier's batch", self._batch),
            ("&Notes", self._notes),
        ):
            form_row(self.form, label, editor)

    def _like_varieties(self, typed: str) -> tuple[str, ...]:
        crop = self._story.lot.line.crop
        return self.work.attempt(suggest, self.work.catalogue, "Variety", typed, crop=crop) or ()

    def _like_places(self, typed: str) -> tuple[str, ...]:
        return self.work.attempt(suggest, self.work.catalogue, "Place grown", typed) or ()

    def _like_growers(self, typed: str) -> tuple[str, ...]:
        return self.work.attempt(suggest, self.work.catalogue, "Grower", typed) or ()

    def changes(self) -> dict[str, Any] | None:
        """Give what was altered; None where a figure cannot be meant."""
        figures = {}
        for name, editor, least, most in (
            ("year", self._year, 1800, 2200),
            ("plants", self._plants, 1, 1_000_000),
        ):
            text = editor.text().strip()
            if text and not (text.isdigit() and least <= int(text) <= most):
                self.notice.show_bad(f"“{text}” is no {name}: write a whole number from {least} to {most:,}.")
                editor.setFocus()
                return None
            figures[name] = int(text) if text else None
        wanted: dict[str, Any] = {
            "variety": self._variety.text().strip(),
            "year": figures["year"],
            "place_grown": self._place.text().strip() or None,
            "grower": self._grower.text().strip() or None,
            "plants": figures["plants"],
            "isolation": self._isolation.text().strip(),
            "identity": self._identity.currentText(),
            "notes": self._notes.toPlainText().strip(),
            "treatment": self._treatment.text().strip(),
            "is_f1": self._is_f1.isChecked(),
            "rights_notice": self._rights.text().strip(),
            "supplier_batch": self._batch.text().strip(),
        }
        stored = self._story.written
        return {name: value for name, value in wanted.items() if value != getattr(stored, name)}

    def on_go(self) -> None:
        """Write what was altered."""
        changes = self.changes()
        if changes is None:
            return
        if not changes:
            self.notice.show_warn("Nothing was altered.")
            return
        self.write(changes)

    def write(self, changes: dict[str, Any]) -> bool:
        """Write changes; says whether that was done. Where another desk was quicker, a dialog asks whose stand."""
        number = self._story.lot.number
        if not changes:
            # All was left to the other desk.
            self.accept()
            return True
        try:
            change_lot(self.work.catalogue, number, changes, seen=self._seen)
        except EditedMeanwhile as told:
            # What was told of is seen from now on: only what comes after it is asked about again.
            self._seen = told.now
            ChooseEdits(self.work, self, number, told, changes, self.write).open()
            return False
        except KeeperError as refused:
            self.notice.show_bad(str(refused))
            return False
        self.accept()
        said = ", ".join(f"{field_words(name)}: {value_words(value)}" for name, value in changes.items())
        self.work.changes.tell(f"Lot {number} changed ({said}).")
        return True
