"""Sampling: which three of many labels show best what a layout must bear, told by measuring what fills its boxes."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from hilum.labels.design_values import Layout
from hilum.labels.geometry import MM_PER_POINT
from hilum.labels.orders import LabelData
from hilum.labels.words import BoxWords, Paragraph, cleaned_fields

Kind = Literal["shortest", "longest", "oddest"]


@dataclass(frozen=True, slots=True)
class Chosen:
    """One of the labels chosen, and what it was chosen for."""

    kind: Kind
    label: LabelData


@dataclass(frozen=True, slots=True)
class _Measured:
    label: LabelData
    # Ground the words would cover at the largest type of each box.
    area_mm2: float
    letters: frozenset[str]
    missing: int


def choose_three(layout: Layout, labels: Sequence[LabelData], language: str = "en") -> tuple[Chosen, ...]:
    """Choose the labels whose words cover the least and the most, and the one with the oddest letters.

    The oddest is the one with the most letters that no font has, then with letters that hardly any other label
    has: each letter counts as one divided by the number of labels it is on. Of fewer than three labels each is
    given once. Where two are alike the first in the order given is chosen.
    """
    boxes = [BoxWords(box, language) for box in layout.boxes]
    measured = [_measured(label, boxes) for label in labels]
    if not measured:
        return ()
    shortest = min(measured, key=lambda each: each.area_mm2)
    rest = [each for each in measured if each is not shortest]
    longest = max(rest, key=lambda each: each.area_mm2, default=None)
    rest = [each for each in rest if each is not longest]
    found = [Chosen("shortest", shortest.label)]
    if rest:
        on_labels = Counter(letter for each in measured for letter in each.letters)
        oddest = max(
            rest, key=lambda each: (each.missing, sum(1 / on_labels[letter] for letter in each.letters))
        )
        found.append(Chosen("oddest", oddest.label))
    if longest is not None:
        found.append(Chosen("longest", longest.label))
    return tuple(found)


def _measured(label: LabelData, boxes: Sequence[BoxWords]) -> _Measured:
    fields = cleaned_fields(label.fields)
    paragraphs = [each for box in boxes if (each := box.paragraph(fields)) is not None]
    letters = frozenset(letter for each in paragraphs for letter in each.text.casefold())
    missing = len({letter for each in paragraphs for letter in each.missing})
    return _Measured(label, sum(map(_area_mm2, paragraphs)), letters, missing)


def _area_mm2(each: Paragraph) -> float:
    """Give the ground of a box's words on one line at its largest type."""
    em_mm = each.box.largest_pt * MM_PER_POINT
    return each.width_em * em_mm * (each.ascent_em + each.descent_em) * em_mm
