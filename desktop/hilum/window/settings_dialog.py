"""The library's own rules: name, language, test season, reserve, scale, closed days, safety copies."""

from typing import Any

from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QDialog,
    QDialogButtonBox,
    QFormLayout,
    QLineEdit,
    QScrollArea,
    QSpinBox,
    QVBoxLayout,
    QWidget,
)

from hilum.window.flow import FlowLayout
from hilum.window.widgets import Heading, Notice, Quiet, Title, card, choice_line, form_row, primary
from hilum.window.work import WorkDay

LANGUAGES = (
    ("English, British crop names", "en_gb"),
    ("English, American crop names", "en_us"),
    ("Deutsch (crop names)", "de"),
    ("Español (crop names)", "es"),
    ("Français (crop names)", "fr"),
)
MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
    "December",
)  # fmt: skip
WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
# Setting, its words, least, most, what follows the figure, what it means.
FIGURES = (
    ("reserve", "field_survival_percent", "Seedlings that reach &harvest", 5, 100, " %",
     "Counts into the reserve of each lot. Common practice, no source."),
    ("reserve", "plants_unpublished", "Plants to &regrow, where none are published", 2, 5000, " plants",
     "Common practice, no source."),
    ("reserve", "germination_untested_percent", "Germination counted on before the first &test", 10, 100, " %",
     "Where the crop has no standard either."),
    ("reserve", "low_packets_seeds", "A lot is lo&w below", 0, 100_000, " seeds above the reserve", ""),
    ("testing", "smallest_test_seeds", "&Fewest seeds that make a test", 1, 400, " seeds",
     "A lot with fewer above its reserve is not called due."),
    ("packing", "scale_step_mg", "The &scale shows steps of", 1, 10_000, " mg",
     "Fills of packets are rounded up to this step."),
    ("copies", "safety_copies_kept", "Safety &copies kept", 2, 500, " copies",
     "One is made whenever the catalogue is closed."),
    ("people", "names_kept_months", "&Keep names for", 0, 1200, " months after the last dealings",
     "Names over the time are shown at the Counter (People) before they are blanked; 0 sets no limit. "
     "Common practice, no source: your local law may say less."),
)  # fmt: skip


BELOW_WORDS = (
    "In 8 point type beside the germination, as 7 CFR 201.29 asks of packets in trade between states of the US. "
    "Rules differ: check with your local authority."
)


class SettingsDialog(QDialog):
    """Shows the library's rules and changes those that were altered."""

    def __init__(self, work: WorkDay, parent: QWidget) -> None:
        super().__init__(parent)
        self.setWindowTitle("The library's settings")
        self._work = work
        self._settings = work.catalogue.settings()
        self._figures: dict[str, QSpinBox] = {}
        self.notice = Notice()
        self._name = QLineEdit(self._settings.library_name)
        self._address = QLineEdit(self._settings.web_address)
        self._address.setPlaceholderText("such as seeds.example.org/lot")
        self._below = QCheckBox("Packets below the standard say “Below S&tandard”")
        self._below.setChecked(self._settings.says_below_standard)
        self._language = choice_line(LANGUAGES, "")
        self._language.setCurrentIndex(max(0, self._language.findData(self._settings.language)))
        self._month = QComboBox()
        self._month.addItems(list(MONTHS))
        self._month.setCurrentIndex(self._settings.season_month - 1)
        self._day = QSpinBox()
        self._day.setRange(1, 28)
        self._day.setValue(self._settings.season_day)
        self._closed = [QCheckBox(name) for name in WEEKDAYS]
        for place, box in enumerate(self._closed):
            box.setChecked(place in self._settings.closed_weekdays)
        self._buttons = QDialogButtonBox(
            QDialogButtonBox.StandardButton.Save | QDialogButtonBox.StandardButton.Cancel
        )
        primary(self._buttons.button(QDialogButtonBox.StandardButton.Save))
        self._lay_out()
        self._connect()
        self.resize(760, 720)

    def _lay_out(self) -> None:
        inside = QVBoxLayout()
        inside.setSpacing(12)
        library = QFormLayout()
        form_row(library, "&Name of the library", self._name)
        form_row(library, "&Web address", self._address)
        form_row(library, "Crop names &in", self._language)
        library.addRow(
            Quiet(
                "The name stands on labels; codes may lead to the web address with the lot number behind it. Crops are "
                "renamed in the whole catalogue."
            )
        )
        inside.addWidget(_section("The library", library))
        testing = QFormLayout()
        form_row(testing, "The test season &opens in", self._month)
        form_row(testing, "on &day", self._day)
        self._add_figures(testing, "testing")
        days = FlowLayout(*self._closed, spacing=16)
        testing.addRow(
            Quiet("Days on which nobody counts; counting days are moved off them where the rules allow:")
        )
        testing.addRow(days)
        inside.addWidget(_section("Testing", testing))
        for part, title in (
            ("reserve", "Reserve and low stock"),
            ("packing", "Packing"),
            ("copies", "Safety copies"),
            ("people", "People"),
        ):
            form = QFormLayout()
            self._add_figures(form, part)
            if part == "packing":
                form.addRow(self._below)
                form.addRow(Quiet(BELOW_WORDS))
            inside.addWidget(_section(title, form))
        inside.addStretch(1)
        holder = QWidget()
        holder.setLayout(inside)
        scroll = QScrollArea()
        scroll.setWidgetResizable(True)
        scroll.setWidget(holder)
        layout = QVBoxLayout(self)
        layout.addWidget(Title("The library's settings"))
        layout.addWidget(self.notice)
        layout.addWidget(scroll, 1)
        layout.addWidget(self._buttons)

    def _add_figures(self, form: QFormLayout, part: str) -> None:
        for where, name, words, least, most, unit, meaning in FIGURES:
            if where != part:
                continue
            box = QSpinBox()
            box.setRange(least, most)
            box.setSuffix(unit)
            box.setMaximumWidth(320)
            box.setValue(self._shown(name))
            self._figures[name] = box
            form_row(form, words, box)
            if meaning:
                form.addRow(Quiet(meaning))

    def _shown(self, name: str) -> int:
        if name == "field_survival_percent":
            return round(self._settings.field_survival * 100)
        return int(getattr(self._settings, name))

    def _connect(self) -> None:
        self._buttons.accepted.connect(self.on_save)
        self._buttons.rejected.connect(self.reject)

    def changes(self) -> dict[str, Any]:
        """Give the settings that differ from what is stored."""
        wanted: dict[str, Any] = {
            "library_name": self._name.text().strip() or self._settings.library_name,
            "web_address": self._address.text().strip(),
            "says_below_standard": self._below.isChecked(),
            "language": self._language.currentData(),
            "season_month": self._month.currentIndex() + 1,
            "season_day": self._day.value(),
            "closed_weekdays": tuple(place for place, box in enumerate(self._closed) if box.isChecked()),
        }
        for name, box in self._figures.items():
            # Untouched figures are left as they are: the share may be finer than whole per cents.
            if box.value() != self._shown(name):
                key = "field_survival" if name == "field_survival_percent" else name
                wanted[key] = box.value() / 100 if name == "field_survival_percent" else box.value()
        return {name: value for name, value in wanted.items() if value != getattr(self._settings, name)}

    def on_save(self) -> None:
        """Write what was changed; every lot's due date is brought up to date with it."""
        changes = self.changes()
        if not changes:
            self.accept()
            return
        from hilum.benches import keeping

        self._buttons.setEnabled(False)
        self._work.run(
            keeping.change_settings,
            self._work.catalogue,
            changes,
            done=self.on_saved,
            failed=self.on_not_saved,
        )

    def on_saved(self, _settings: Any) -> None:
        """Close, and let the pages load anew."""
        self.accept()
        self._work.changes.tell("The library's settings were changed.")

    def on_not_saved(self, words: str) -> None:
        """Say what cannot be set."""
        self._buttons.setEnabled(True)
        self.notice.show_bad(words)


def _section(title: str, form: QFormLayout) -> QWidget:
    inside = QVBoxLayout()
    inside.addWidget(Heading(title))
    form.setContentsMargins(0, 0, 0, 0)
    form.setHorizontalSpacing(16)
    inside.addLayout(form)
    return card(inside)
