"""Fitting: the words of one label brought into its area, shrunk together, shortened only where they may be.

All boxes start at their largest type. While they do not fit, all shrink alike, each between its own
two sizes, so the order of importance stays visible. At the smallest sizes unprotected words are
shortened at a word, then left out from the last box on, each with a warning. What is protected is
never touched: when it does not fit the label is refused.
"""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import lru_cache

from hilum.labels.art import Art, tinted
from hilum.labels.boxes import STEP_PT, SetBox, set_downwards, set_upwards
from hilum.labels.designs import Layout
from hilum.labels.errors import LabelWarning, UnfitLabels
from hilum.labels.geometry import TOLERANCE_MM, Box
from hilum.labels.lines import Room, SetLine, column
from hilum.labels.words import BoxWords, Paragraph, paragraph

# Type from this size on is what a packet is found by.
_HEADLINE_PT = 12.5


@dataclass(frozen=True, slots=True)
class FittedWords:
    """Everything but the code, in its place within the printable area; lines are kept by their boxes."""

    boxes: tuple[tuple[SetLine, ...], ...]
    frames: tuple[Box, ...]
    rules: tuple[Box, ...]
    art: tuple[Art, ...] = ()
    # Where each box stands, by its name; boxes without words are not there.
    grounds: tuple[tuple[str, Box], ...] = ()

    @property
    def lines(self) -> tuple[SetLine, ...]:
        """Every line of every box."""
        return tuple(line for box in self.boxes for line in box)


@dataclass(frozen=True, slots=True)
class _Trial:
    boxes: tuple[SetBox, ...]
    rules: tuple[Box, ...]
    excess_mm: float

    @property
    def fits(self) -> bool:
        return self.excess_mm <= TOLERANCE_MM and not any(box.too_wide for box in self.boxes)

    @property
    def is_whole(self) -> bool:
        return self.fits and all(box.is_whole for box in self.boxes)


class _Taken:
    """How far the columns of a label are taken, from its top downwards or from its bottom upwards."""

    def __init__(self, area: Box, nearer: Callable[[float, float], float]) -> None:
        self._area, self._nearer = area, nearer
        # The extreme of all columns: what a box over the whole width has to do with.
        self.edge_mm = area.y_mm if nearer is max else area.bottom_mm
        self.columns: list[tuple[Box, float]] = []

    def take(self, own: Box, edge_mm: float) -> None:
        """Take a column up to a height."""
        self.columns.append((own, edge_mm))
        self.edge_mm = self._nearer(self.edge_mm, edge_mm)

    def edge_of(self, own: Box) -> float:
        """Give the height up to which a column is taken."""
        if own is self._area:
            return self.edge_mm
        edge_mm = self._area.y_mm if self._nearer is max else self._area.bottom_mm
        for other, taken_mm in self.columns:
            if other.x_mm < own.right_mm - TOLERANCE_MM and own.x_mm < other.right_mm - TOLERANCE_MM:
                edge_mm = self._nearer(edge_mm, taken_mm)
        return edge_mm


def _size_pt(each: Paragraph, step: int, steps: int) -> float:
    """Give a box's size at one degree of shrinking; what is set large gives way last."""
    if step == 0:
        return each.box.largest_pt
    span_pt = each.box.largest_pt - each.box.smallest_pt
    degree = (step / steps) ** (2 if each.box.largest_pt >= _HEADLINE_PT else 1) if steps else 0.0
    shrink_pt = math.ceil(span_pt * degree / STEP_PT - 1e-9) * STEP_PT
    return max(each.box.smallest_pt, each.box.largest_pt - shrink_pt)


def _tried(paragraphs: list[Paragraph], room: Room, step: int, steps: int) -> _Trial:
    """Set every box at one degree of shrinking.

    A box of the top stack begins below all before it whose columns it shares; one of the bottom stack ends above
    all after it. Both keep their least distance from the edge.
    """
    low, high = _Taken(room.area, min), _Taken(room.area, max)
    boxes, rules = list[SetBox](), list[Box]()
    for each in reversed([one for one in paragraphs if one.box.stack == "bottom"]):
        own = column(room, each.box.left_mm, each.box.width_mm)
        bottom_mm = min(low.edge_of(own.area), room.area.bottom_mm - each.box.from_edge_mm)
        setting = set_upwards(each, _size_pt(each, step, steps), bottom_mm, own)
        boxes.append(setting)
        low.take(own.area, setting.ground.y_mm - each.box.gap_mm)
        if each.box.rule:
            rules.append(_rule(setting, each, own))
    for each in (one for one in paragraphs if one.box.stack == "top"):
        own = column(room, each.box.left_mm, each.box.width_mm)
        above_mm = high.edge_of(own.area)
        is_first = above_mm == room.area.y_mm
        top_mm = above_mm + (0.0 if is_first else each.box.gap_mm)
        setting = set_downwards(
            each, _size_pt(each, step, steps), max(top_mm, room.area.y_mm + each.box.from_edge_mm), own
        )
        boxes.append(setting)
        if each.box.rule and not is_first:
            rules.append(_rule(setting, each, own))
        high.take(own.area, setting.ground.bottom_mm)
    # Words beside nothing but the code may end lower than the bottom stack begins only if they collide.
    ends = (edge_mm - low.edge_of(own) for own, edge_mm in high.columns)
    excess_mm = max(room.area.y_mm - low.edge_mm, *ends)
    return _Trial(tuple(boxes), tuple(rules), excess_mm)


@lru_cache(maxsize=5_000)
def _rule(setting: SetBox, each: Paragraph, room: Room) -> Box:
    y_mm = setting.ground.y_mm - each.box.gap_mm / 2
    left_mm, right_mm = room.span(y_mm - 0.2, y_mm + 0.2)
    return Box(left_mm, y_mm, right_mm - left_mm, 0)


def _largest_that(paragraphs: list[Paragraph], room: Room, *, whole: bool) -> _Trial | None:
    """Find the least shrinking at which all fits (and, if asked, nothing is shortened)."""
    span_pt = max((each.box.largest_pt - each.box.smallest_pt for each in paragraphs), default=0.0)
    steps = round(span_pt / STEP_PT)

    def suits(trial: _Trial) -> bool:
        return trial.is_whole if whole else trial.fits

    best = _tried(paragraphs, room, 0, steps)
    if suits(best):
        return best
    smallest = _tried(paragraphs, room, steps, steps)
    if not suits(smallest):
        return None
    low, high, best = 0, steps, smallest
    while high - low > 1:
        middle = (low + high) // 2
        trial = _tried(paragraphs, room, middle, steps)
        if suits(trial):
            high, best = middle, trial
        else:
            low = middle
    return best


# The layouts set so far, by identity: comparing two would take longer than setting a label.
_layouts: dict[tuple[int, str], tuple[Layout, tuple[BoxWords, ...]]] = {}
_MOST_LAYOUTS = 50


def _box_words(layout: Layout, language: str) -> tuple[BoxWords, ...]:
    found = _layouts.get((id(layout), language))
    if found is None:
        if len(_layouts) > _MOST_LAYOUTS:
            _layouts.clear()
        found = layout, tuple(BoxWords(box, language) for box in layout.boxes)
        _layouts[id(layout), language] = found
    return found[1]


def _present(
    layout: Layout, fields: Mapping[str, str], gone: frozenset[str], language: str
) -> list[Paragraph]:
    """Give the words of every box; boxes named in `gone` keep only what is protected."""
    found = []
    if not gone:
        return [each for box in _box_words(layout, language) if (each := box.paragraph(fields)) is not None]
    for box in layout.boxes:
        spare = (number for number, part in enumerate(box.parts) if not (part.is_protected or box.keep))
        each = paragraph(box, fields, frozenset(spare) if box.name in gone else frozenset(), language)
        if each is not None:
            found.append(each)
    return found


def _best(paragraphs: list[Paragraph], room: Room) -> _Trial | None:
    return _largest_that(paragraphs, room, whole=True) or _largest_that(paragraphs, room, whole=False)


def fit_words(
    key: str, layout: Layout, fields: Mapping[str, str], room: Room, language: str = "en"
) -> tuple[FittedWords, tuple[LabelWarning, ...]]:
    """Bring one label's words into its room, or refuse, naming the label and the box."""
    every = _present(layout, fields, frozenset(), language)
    trial = _best(every, room)
    if trial is not None:
        return _fitted(trial), _warnings(key, trial, [])
    giving = [each.box.name for each in reversed(every) if each.has_spare]
    for count in range(1, len(giving) + 1):
        gone = giving[:count]
        trial = _best(_present(layout, fields, frozenset(gone), language), room)
        if trial is None:
            continue
        # What had to go first may have room again now that a larger box is gone.
        for name in reversed(gone[:-1]):
            again = _best(_present(layout, fields, frozenset(gone) - {name}, language), room)
            if again is not None:
                trial = again
                gone.remove(name)
        return _fitted(trial), _warnings(key, trial, gone)
    raise _refusal(key, layout, fields, room)


def _fitted(trial: _Trial) -> FittedWords:
    return FittedWords(
        tuple(box.lines for box in trial.boxes),
        tuple(box.ground for box in trial.boxes if box.paragraph.box.frame),
        trial.rules,
        tuple(
            line
            for box in trial.boxes
            if box.paragraph.box.tint
            for line in tinted(box.ground, box.paragraph.box.tint)
        ),
        _grounds(trial),
    )


def _grounds(trial: _Trial) -> tuple[tuple[str, Box], ...]:
    return tuple((box.paragraph.box.name, box.ground) for box in trial.boxes)


def smallest_grounds(
    layout: Layout, fields: Mapping[str, str], room: Room, language: str = "en"
) -> tuple[tuple[str, Box], ...]:
    """Give where the boxes of a label that is refused would stand at their smallest, beyond its edges or not."""
    return _grounds(_tried(_present(layout, fields, frozenset(), language), room, 1, 1))


def _warnings(key: str, trial: _Trial, gone: list[str]) -> tuple[LabelWarning, ...]:
    found = []
    for box in trial.boxes:
        name = box.paragraph.box.name
        if not box.is_whole:
            found.append(
                LabelWarning(key, name, f"shortened to “{box.text}” (in full: “{box.paragraph.text}”)")
            )
        for character in box.paragraph.missing:
            found.append(
                LabelWarning(
                    key, name, f"no font here has the character {character} (U+{ord(character):04X})"
                )
            )
    for name in gone:
        found.append(LabelWarning(key, name, "left out in part or whole, for want of room"))
    return tuple(found)


def _refusal(key: str, layout: Layout, fields: Mapping[str, str], room: Room) -> UnfitLabels:
    """Word why the protected words do not fit: the box with a word too wide, or else the tallest."""
    every = frozenset(box.name for box in layout.boxes)
    trial = _tried(_present(layout, fields, every, "en"), room, 1, 1)
    wide = [box for box in trial.boxes if box.too_wide]
    worst = wide[0] if wide else max(trial.boxes, key=lambda box: box.ground.height_mm)
    why = (
        "a word in it is wider than the label"
        if wide
        else f"all that must be on this label is {trial.excess_mm:.1f} mm too high together"
    )
    text = worst.paragraph.text
    shown = text if len(text) <= 40 else f"{text[:40]}…"
    return UnfitLabels(
        f"Label {key}: the box “{worst.paragraph.box.name}” (“{shown}”) does not fit, even at "
        f"{worst.size_pt:g} pt: {why}. It may not be shortened. Choose a larger label stock. "
        "No labels were made.",
        (key,),
    )
