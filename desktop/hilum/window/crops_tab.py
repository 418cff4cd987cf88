"""The crops: their list, and beside it one crop whole with its facts, sources, cautions and the library's own rules."""

from html import escape
from typing import Any

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QCheckBox,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QPushButton,
    QSpinBox,
    QSplitter,
    QTextBrowser,
    QVBoxLayout,
    QWidget,
)

from hilum.benches.reference import CropLine, CropPage, add_crop, crop_page, crops, set_for_crop
from hilum.window.lot_words import counted
from hilum.window.models import Column, RowsTable
from hilum.window.page import BenchPage
from hilum.window.questions import Questions
from hilum.window.widgets import Heading, Quiet, card, form_row, primary, row_of
from hilum.window.work import WorkDay

COLUMNS = (
    Column("Crop", lambda line: line.name),
    Column("Botanical name", lambda line: line.botanical_name, spare=True),
    Column("Lots", lambda line: f"{line.lots}", sort=lambda line: line.lots, right=True, least_px=56),
)
# Key of the rule, its words, what follows the figure, the most it can be.
RULES = (
    ("standard_percent", "Least &germination", " %", 100),
    ("interval_months", "Months &between tests", " months", 600),
    ("reserve_seeds", "&Reserve", " seeds", 1_000_000),
)


class CropsTab(BenchPage):
    """A list of crops and the page of the one under the cursor."""

    title = "Crops"
    words_wanted = Signal(str)

    def __init__(self, work: WorkDay, questions: Questions, parent: QWidget | None = None) -> None:
        super().__init__(work, questions, parent)
        self._page: CropPage | None = None
        self._lines: tuple[CropLine, ...] = ()
        self._words = QLineEdit()
        self._words.setPlaceholderText("part of a name")
        self._words.setClearButtonEnabled(True)
        self._with_lots = QCheckBox("with &lots only")
        self._with_lots.setChecked(True)
        self.table = RowsTable(COLUMNS, "Crops", "No crop fits.", key=lambda line: line.key)
        self.table.setSelectionMode(RowsTable.SelectionMode.SingleSelection)
        self._add = QPushButton("&Add a crop of our own…")
        self._facts = QTextBrowser()
        self._facts.setOpenLinks(False)
        self._facts.setAccessibleName("Facts of the crop")
        self._name = Heading("Choose a crop")
        self._rules: dict[str, QSpinBox] = {}
        self._published: dict[str, Quiet] = {}
        self._save = primary(QPushButton("&Keep these rules"))
        self._show_lots = QPushButton("Sho&w its lots")
        self._lay_out()
        self._connect()
        self._show(None)

    def _lay_out(self) -> None:
        left = QVBoxLayout()
        left.setContentsMargins(0, 10, 8, 0)
        narrow = QHBoxLayout()
        label = QLabel("&Narrow by")
        label.setBuddy(self._words)
        for widget in (label, self._words):
            narrow.addWidget(widget)
        left.addLayout(narrow)
        left.addWidget(self.table, 1)
        left.addWidget(self._with_lots)
        left.addLayout(row_of(self._add))
        right = QVBoxLayout()
        right.setContentsMargins(8, 10, 0, 0)
        right.addWidget(self._name)
        right.addWidget(self._facts, 1)
        right.addWidget(card(self._rules_layout()))
        split = QSplitter(Qt.Orientation.Horizontal)
        for side in (left, right):
            holder = QWidget()
            holder.setLayout(side)
            split.addWidget(holder)
        split.setStretchFactor(0, 4)
        split.setStretchFactor(1, 5)
        split.setChildrenCollapsible(False)
        split.setSizes([320, 560])
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.addWidget(split)

    def _rules_layout(self) -> QVBoxLayout:
        inside = QVBoxLayout()
        inside.addWidget(Heading("The library's own rules for this crop"))
        beside = QHBoxLayout()
        beside.setSpacing(16)
        for key, words, unit, most in RULES:
            box = QSpinBox()
            # One below the least real figure stands for "as published".
            box.setRange(-1 if key != "interval_months" else 0, most)
            box.setSpecialValueText("as published")
            box.setSuffix(unit)
            box.setMinimumWidth(150)
            self._rules[key] = box
            self._published[key] = Quiet()
            column = QVBoxLayout()
            column.setSpacing(3)
            form_row(column, words, box)
            column.addWidget(self._published[key])
            column.addStretch(1)
            beside.addLayout(column, 1)
        inside.addLayout(beside)
        inside.addLayout(row_of(self._save, self._show_lots))
        return inside

    def _connect(self) -> None:
        self._words.textChanged.connect(self.on_narrowed)
        self._with_lots.toggled.connect(self.refresh)
        self.table.choice_changed.connect(self.on_choice)
        self.table.row_opened.connect(self.on_row_opened)
        self._add.clicked.connect(self.on_add)
        self._save.clicked.connect(self.on_save)
        self._show_lots.clicked.connect(self.on_show_lots)

    def focus_first(self) -> None:
        """Put the cursor where the list is narrowed."""
        self._words.setFocus()

    def refresh(self) -> None:
        """Load the crops anew."""
        lines = self.work.attempt(crops, self.work.catalogue, with_lots_only=self._with_lots.isChecked())
        self._lines = lines or ()
        self.on_narrowed()

    def on_narrowed(self) -> None:
        """Show the crops whose name, code or botanical name holds what was typed."""
        wanted = self._words.text().casefold().split()
        self.table.set_rows(
            [
                line
                for line in self._lines
                if all(word in f"{line.name} {line.botanical_name} {line.code}".casefold() for word in wanted)
            ]
        )

    def on_choice(self) -> None:
        """Show the crop under the cursor."""
        chosen = self.table.chosen()
        self._show(self.work.attempt(crop_page, self.work.catalogue, chosen[0].key) if chosen else None)

    def _show(self, page: CropPage | None) -> None:
        self._page = page
        for widget in (self._save, self._show_lots, *self._rules.values()):
            widget.setEnabled(page is not None)
        if page is None:
            self._name.setText("Choose a crop")
            self._facts.clear()
            return
        self._name.setText(page.line.name)
        self._facts.setHtml(_facts(page))
        for key, stored in (
            ("standard_percent", page.line.standard_set),
            ("interval_months", page.line.interval_set),
            ("reserve_seeds", page.line.reserve_set),
        ):
            box = self._rules[key]
            box.setValue(box.minimum() if stored is None else stored)
        standard = "none" if page.standard_percent is None else f"{page.standard_percent} %"
        why = page.standard_words[:1].upper() + page.standard_words[1:]
        self._published["standard_percent"].setText(f"in force: {standard}. {why}")
        self._published["interval_months"].setText(f"in force: {page.interval_months}. {page.interval_words}")
        self._published["reserve_seeds"].setText(f"in force: {page.reserve_seeds:,} before the first test")

    def on_save(self) -> None:
        """Write the rules that were changed; due dates and states of the crop's lots follow."""
        if self._page is None:
            return
        line = self._page.line
        stored = {
            "standard_percent": line.standard_set,
            "interval_months": line.interval_set,
            "reserve_seeds": line.reserve_set,
        }
        wanted = {
            key: None if box.value() == box.minimum() else box.value() for key, box in self._rules.items()
        }
        changes = {key: value for key, value in wanted.items() if value != stored[key]}
        if not changes:
            self.said.emit("warn", "None of the three figures was changed.")
            return
        if self.work.attempt(set_for_crop, self.work.catalogue, line.key, changes) is not None:
            self.said.emit("good", f"The rules for {line.name} were kept.")
            self.work.changes.tell(f"Rules for {line.name} changed.")

    def on_add(self) -> None:
        """Ask for the name of a crop that the reference table does not have."""
        words = "Name of the crop. It will have no published facts: no method, no standard, no seed weight."
        self.questions.ask_text(self, "A crop of our own", words, self._add_crop)

    def _add_crop(self, name: str) -> None:
        page = self.work.attempt(add_crop, self.work.catalogue, name)
        if page is not None:
            self._with_lots.setChecked(False)
            self._words.clear()
            self.work.changes.tell(f"Crop {page.line.name} added.")
            self.refresh()
            self.table.choose(lambda line: line.key == page.line.key)

    def on_show_lots(self) -> None:
        """List the lots of the crop."""
        if self._page is not None:
            self.words_wanted.emit(self._page.line.name)

    def on_row_opened(self, line: Any) -> None:
        """List the lots of the crop that was opened."""
        self.words_wanted.emit(line.name)


def _facts(page: CropPage) -> str:
    """Give all that is known of a crop as a page to read."""
    parts = []
    for caution in page.cautions:
        parts.append(f"<p><b>Take care:</b> {escape(caution[:1].upper() + caution[1:])}.</p>")
    if page.cautions:
        parts.append("<p><i>Rules differ by country: check with your local authority.</i></p>")
    rows = "".join(
        f"<tr><td style='padding-right:14px'>{escape(name)}</td><td><b>{escape(words)}</b></td></tr>"
        for name, words in _fact_rows(page)
        if words
    )
    parts.append(f"<table cellspacing='0' cellpadding='3'>{rows}</table>")
    if page.method_words:
        source = f" <i>({escape(page.method_source)})</i>" if page.method_source else ""
        parts.append(f"<p><b>Germination test:</b> {escape(page.method_words)}{source}</p>")
    if page.practice:
        known = "".join(f"<li>{escape(one.words[:1].upper() + one.words[1:])}.</li>" for one in page.practice)
        parts.append(f"<p><b>From practice</b> <i>(common practice, no source)</i></p><ul>{known}</ul>")
    if page.reference is None:
        parts.append("<p>A crop of the library's own: nothing about it is published here.</p>")
    elif page.reference.sources:
        listed = "".join(f"<li>{escape(source.citation)}</li>" for source in page.reference.sources)
        parts.append(f"<p><b>Sources</b></p><ul>{listed}</ul>")
    return "".join(parts)


def _fact_rows(page: CropPage) -> tuple[tuple[str, str], ...]:
    line, crop = page.line, page.reference
    rows = [
        ("Botanical name", line.botanical_name),
        ("Code in lot numbers", line.code),
        (
            "In this library",
            f"{counted(line.varieties, 'variety', 'varieties')}, {counted(line.lots, 'lot')}",
        ),
    ]
    if crop is None:
        return tuple(rows)
    rows += [
        ("Family", crop.family),
        ("Life cycle", crop.life_cycle),
        ("Mating", crop.mating or ""),
        ("Pollination", crop.pollination or ""),
        ("Isolation", _range(crop.isolation_m_min, crop.isolation_m_max, "m")),
        ("Plants for seed", _range(crop.plants_min, crop.plants_recommended, "plants")),
        ("A thousand seeds weigh", _tsw(crop)),
        ("Keeps for", f"about {crop.storage_life_years:g} years" if crop.storage_life_years else ""),
        ("Sow", f"{crop.sowing_depth_mm:g} mm deep" if crop.sowing_depth_mm else ""),
        ("Seed behaviour", crop.seed_behaviour),
        ("Oily seed", "" if crop.oily is None else ("yes" if crop.oily else "no")),
        ("Words on its packets", crop.label_caution or ""),
    ]
    return tuple(rows)


def _tsw(crop: Any) -> str:
    if crop.thousand_seed_weight_g is None:
        return "not published: count and weigh a sample"
    source = f" ({crop.thousand_seed_weight_source})" if crop.thousand_seed_weight_source else ""
    return f"about {crop.thousand_seed_weight_g:g} g{source}"


def _range(low: float | None, high: float | None, unit: str) -> str:
    if low is None and high is None:
        return ""
    if low is None or high is None or low == high:
        return f"{high if low is None else low:g} {unit}"
    return f"{low:g} to {high:g} {unit}"
