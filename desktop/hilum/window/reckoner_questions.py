"""The questions of the Reckoner in a keeper's words: which sum answers each, and what it is asked with."""

import re
from collections.abc import Mapping
from typing import NamedTuple

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QColor, QFont, QIcon, QPixmap
from PySide6.QtWidgets import QListWidget, QListWidgetItem

from hilum.window.theme import theme

NAME_ROLE = Qt.ItemDataRole.UserRole
# Large enough to be hit with damp hands; small enough that most questions are seen at once.
ITEM_PX, INDENT_PX = 30, 8


class Question(NamedTuple):
    """One plain question: the sum behind it, inputs that stand open though they may be left out, other labels."""

    sum: str
    words: str
    also: tuple[str, ...] = ()
    labels: Mapping[str, str] = {}
    examples: Mapping[str, str] = {}


_ALIVE = {
    "initial": "Alive at the start", "seeds": "Seeds tested", "moisture": "Moisture of the seed",
    "c": "Store temperature", "crop": "Crop", "constants": "Own constants", "final": "Alive at the end",
    "years": "Years in store", "days": "Days in store",
}  # fmt: skip
_ALIVE_LIKE = {
    "moisture": "such as 6", "c": "such as 5", "initial": "such as 92", "final": "such as 75", "years": "such as 5",
    "constants": "KE, CW, CH, CQ",
}  # fmt: skip
_DISHES = {
    "of": "Seeds in each dish", "normal": "Normal in each dish", "abnormal": "Abnormal in each",
    "hard": "Hard in each dish", "fresh": "Fresh in each dish", "dead": "Dead in each dish",
    "standard": "Standard",
}  # fmt: skip
_DISHES_LIKE = {"of": "such as 50", "normal": "44, 46, 41, 45"}
_TSW = {"tsw": "Thousand-seed weight", "step": "Step of the scale", "grams": "Weight of the seed"}

# Labels are short enough to stand in one line where three fields lie beside each other.
GROUPS: tuple[tuple[str, tuple[Question, ...]], ...] = (
    ("In the store", (
        Question("storage-time", "How long will this jar last?", ("seeds",), _ALIVE, _ALIVE_LIKE),
        Question("viability", "How much will be alive then?", ("seeds", "years"), _ALIVE, _ALIVE_LIKE),
        Question("half-life", "When will half of it be dead?", ("seeds",), _ALIVE, _ALIVE_LIKE),
        Question("dryness-to-keep", "How dry must it be to last?", ("seeds",), _ALIVE, _ALIVE_LIKE),
        Question("cold-to-keep", "How cold must it lie to last?", ("seeds",), _ALIVE, _ALIVE_LIKE),
        Question("sigma", "How fast does seed age here?", (), _ALIVE, _ALIVE_LIKE),
    )),
    ("Dry enough?", (
        Question("moisture", "How wet is this seed?", (), {
            "container": "Empty container", "wet": "Before drying", "dry": "After drying",
        }, {"container": "with lid, or 0", "wet": "with container", "dry": "with container"}),
        Question("drying", "How much water must go?", (), {
            "from": "Moisture now", "to": "Moisture wanted", "grams": "Weight now", "step": "Step of the scale",
        }, {"to": "such as 7"}),
        Question("equilibrium", "How dry does it get in this air?", (), {
            "rh": "Air humidity", "c": "Air temperature", "oil": "Oil of the dry seed",
        }),
    )),
    ("Testing", (
        Question("germination", "What does this test say?", ("standard",), _DISHES, _DISHES_LIKE),
        Question("tolerance", "Do the dishes agree?", (), _DISHES, _DISHES_LIKE),
        Question("compare", "Is this difference real?", (), {"a": "First test", "b": "Second test"}, {
            "a": "45 of 50", "b": "38 of 50",
        }),
        Question("sequential", "Test on, or stop?", (), {
            "standard": "Bar for this lot", "tested": "Sown so far", "germinated": "Germinated so far",
            "group": "Seeds in a group",
        }, {"tested": "40, 80", "germinated": "35, 71"}),
        Question("germination-speed", "How fast does it come up?", ("of",), {
            "days": "Days of the counts", "counts": "New at each count", "of": "Seeds sown",
        }, {"days": "4, 6, 8", "counts": "12, 25, 6"}),
    )),
    ("Weights and packets", (
        Question("thousand-seed-weight", "What do 1000 seeds weigh?", (), {
            "seeds": "Seeds weighed at once", "grams": "Weight of each",
        }, {"seeds": "such as 100", "grams": "0.26, 0.261, 0.258"}),
        Question("seeds-from-weight", "How many seeds is that?", (), _TSW),
        Question("packet-fill", "What goes into a packet?", ("germination", "viable"), {
            **_TSW, "seeds": "Seeds in a packet",
        }),
    )),
    ("Growing", (
        Question("seeds-to-sow", "How many seeds do I sow?", ("losses",)),
        Question("plants-for-allele", "How many plants keep it whole?", (), {
            "frequency": "Rare form, in %", "chance": "Chance to keep it, %",
        }, {"frequency": "such as 5", "chance": "such as 95"}),
        Question("effective-size", "What did narrow years cost?", (), {"plants": "Seed parents by year"}, {
            "plants": "40, 3, 25",
        }),
        Question("parents-worth", "How many plants is this from?", (), {"seed": "Seed from each plant"}, {
            "seed": "37, 1, 1, 1",
        }),
    )),
    ("Numbers", (
        Question("check-character", "Is this number copied right?", (), {"text": "Whole lot number"}),
    )),
)  # fmt: skip

QUESTIONS: dict[str, Question] = {each.sum: each for _, group in GROUPS for each in group}


def plain(words: str, labels: Mapping[str, str]) -> str:
    """Say in words of the window what a sum says in words of the command line ("initial=40" and the like)."""
    for name, label in labels.items():
        said = label[:1].lower() + label[1:]
        words = re.sub(rf"\b{name}= \([^)]*\)", said, words)
        words = re.sub(rf"\b{name}=(?=[\s,.;]|$)", said, words)
        words = re.sub(rf"\b{name}=", f"{said} ", words)
    words = words.partition(" It is written:")[0]
    return words[:1].upper() + words[1:]


class QuestionList(QListWidget):
    """The questions in groups; the arrow keys go from one to the next."""

    question_chosen = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName("Questions")
        self.setUniformItemSizes(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        # An empty sign before each question sets it in under its heading.
        self.setIconSize(QSize(INDENT_PX, 1))
        empty = QPixmap(INDENT_PX, 1)
        empty.fill(Qt.GlobalColor.transparent)
        indent = QIcon(empty)
        bold = QFont(self.font())
        bold.setBold(True)
        self._headings: list[QListWidgetItem] = []
        for title, questions in GROUPS:
            heading = QListWidgetItem(title)
            heading.setFlags(Qt.ItemFlag.NoItemFlags)
            heading.setFont(bold)
            self._headings.append(heading)
            heading.setSizeHint(QSize(0, ITEM_PX))
            self.addItem(heading)
            for each in questions:
                item = QListWidgetItem(indent, each.words)
                item.setData(NAME_ROLE, each.sum)
                item.setData(Qt.ItemDataRole.AccessibleTextRole, f"{each.words} ({title})")
                item.setSizeHint(QSize(0, ITEM_PX))
                self.addItem(item)
        self.colour()
        self.currentItemChanged.connect(self.on_current_changed)

    def colour(self) -> None:
        """Draw the headings in the colours now in force."""
        for heading in self._headings:
            heading.setForeground(QColor(theme().coat))

    def ask(self, name: str) -> None:
        """Go to the question that a sum answers."""
        for place in range(self.count()):
            if self.item(place).data(NAME_ROLE) == name:
                self.setCurrentRow(place)

    def on_current_changed(self, item: QListWidgetItem | None) -> None:
        """Tell which question is asked."""
        name = None if item is None else item.data(NAME_ROLE)
        if name:
            self.question_chosen.emit(name)
