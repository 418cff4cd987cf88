"""Changing what is written of a lot: variety, year, place, grower, plants, isolation, identity, notes."""

from typing import Any

from PySide6.QtWidgets import QLineEdit, QPlainTextEdit, QWidget

from hilum.benches.intake import suggest
from hilum.benches.lots import IDENTITIES, LotStory, change_lot
from hilum.window.lot_words import NOT_KNOWN
from hilum.window.widgets import SuggestLine, choice_line, form_row
from hilum.window.work import WorkDay
from hilum.window.work_dialog import WorkDialog


class ChangeDialog(WorkDialog):
    """Shows what is written and writes what was altered; refused when another desk was quicker."""

    def __init__(self, work: WorkDay, parent: QWidget, story: LotStory) -> None:
        words = (
            "The lot number stays as it is, whatever the lot turns out to be. Every change can be taken back."
        )
        super().__init__(work, parent, f"Change what is written of {story.lot.number}", words, "&Keep")
        self._story = story
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
        self._notes = QPlainTextEdit(story.notes)
        self._notes.setMaximumHeight(110)
        self._notes.setTabChangesFocus(True)
        for label, editor in (
            ("&Variety", self._variety),
            ("&Year", self._year),
            ("&Place grown", self._place),
            ("&Grower", self._grower),
            ("P&lants", self._plants),
            ("&Isolation", self._isolation),
            ("I&dentity", self._identity),
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
        line, story = self._story.lot.line, self._story
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
        }
        stored: dict[str, Any] = {
            "variety": line.variety,
            "year": line.year,
            "place_grown": line.place_grown,
            "grower": line.grower,
            "plants": story.plants,
            "isolation": story.isolation,
            "identity": line.identity,
            "notes": story.notes,
        }
        return {name: value for name, value in wanted.items() if value != stored[name]}

    def on_go(self) -> None:
        """Write what was altered."""
        changes = self.changes()
        if changes is None:
            return
        if not changes:
            self.notice.show_warn("Nothing was altered.")
            return
        lot = self._story.lot
        done = self.work.attempt(
            change_lot, self.work.catalogue, lot.number, changes, seen=self._story.written
        )
        if done is not None:
            self.accept()
            said = ", ".join(
                f"{name.replace('_', ' ')}: {value or NOT_KNOWN}" for name, value in changes.items()
            )
            self.work.changes.tell(f"Lot {lot.number} changed ({said}).")
