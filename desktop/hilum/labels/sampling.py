"""Sampling: which three of many labels show best what a layout must bear, told by measuring what fills its boxes."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from hilum.labels.design_values import FIELDS, Layout
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

    Words that no font can show count for nothing as short. The oddest is the one with the most letters that no font
    has, then with letters beyond plain Latin that hardly any other label has, then with plain ones: each counts as
    one divided by the number of labels it is on. Of fewer than three labels each is given once; the longest goes
    before the oddest, and that before the shortest. Where two are alike the first in the order given is chosen.
    """
    boxes = [BoxWords(box, language) for box in layout.boxes]
    measured = [_measured(label, boxes) for label in labels]
    if not measured:
        return ()
    longest = max(measured, key=lambda each: each.area_mm2)
    found = [Chosen("longest", longest.label)]
    rest = [each for each in measured if each is not longest]
    if len(rest) > 1:
        on_labels = Counter(letter for each in measured for letter in each.letters)
        oddest = max(rest, key=lambda each: _oddness(each, on_labels))
        found.insert(0, Chosen("oddest", oddest.label))
        rest = [each for each in rest if each is not oddest]
    if rest:
        shortest = min(rest, key=lambda each: (bool(each.missing), each.area_mm2))
        found.insert(0, Chosen("shortest", shortest.label))
    return tuple(found)


def _oddness(each: _Measured, on_labels: Mapping[str, int]) -> tuple[int, float, float]:
    plain = sum(1 / on_labels[letter] for letter in each.letters if letter.isascii())
    others = sum(1 / on_labels[letter] for letter in each.letters if not letter.isascii())
    return each.missing, others, plain


def _measured(label: LabelData, boxes: Sequence[BoxWords]) -> _Measured:
    fields = cleaned_fields(label.fields, FIELDS)
    paragraphs = [each for box in boxes if (each := box.paragraph(fields)) is not None]
    letters = frozenset(letter for each in paragraphs for letter in each.text.casefold())
    missing = len({letter for each in paragraphs for letter in each.missing})
    return _Measured(label, sum(map(_area_mm2, paragraphs)), letters, missing)


def _area_mm2(each: Paragraph) -> float:
    """Give the ground of a box's words on one line at its largest type."""
    em_mm = each.box.largest_pt * MM_PER_POINT
    return each.width_em * em_mm * (each.ascent_em + each.descent_em) * em_mm
