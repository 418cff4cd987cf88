"""Fitting: the words of one label brought into its area, shrunk together, shortened only where they may be.

All boxes start at their largest type. While they do not fit, all shrink alike, each between its own
two sizes, so the order of importance stays visible. At the smallest sizes unprotected words are
shortened at a word, then left out from the last box on, each with a warning. What is protected is
never touched: when it does not fit the label is refused.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from hilum.labels.art import Art, tinted
from hilum.labels.boxes import STEP_PT, SetBox, set_downwards, set_upwards
from hilum.labels.designs import Layout
from hilum.labels.errors import LabelError, LabelWarning
from hilum.labels.geometry import TOLERANCE_MM, Box
from hilum.labels.lines import Room, SetLine
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


def _size_pt(each: Paragraph, step: int, steps: int) -> float:
    """Give a box's size at one degree of shrinking; what is set large gives way last."""
    if step == 0:
        return each.box.largest_pt
    span_pt = each.box.largest_pt - each.box.smallest_pt
    degree = (step / steps) ** (2 if each.box.largest_pt >= _HEADLINE_PT else 1) if steps else 0.0
    shrink_pt = math.ceil(span_pt * degree / STEP_PT - 1e-9) * STEP_PT
    return max(each.box.smallest_pt, each.box.largest_pt - shrink_pt)


def _tried(paragraphs: list[Paragraph], room: Room, step: int, steps: int) -> _Trial:
    """Set every box at one degree of shrinking."""
    low_mm, boxes, rules = room.area.bottom_mm, list[SetBox](), list[Box]()
    for each in reversed(paragraphs):
        if each.box.stack != "bottom":
            continue
        setting = set_upwards(each, _size_pt(each, step, steps), low_mm, room)
        boxes.append(setting)
        low_mm = setting.ground.y_mm - each.box.gap_mm
        if each.box.rule:
            rules.append(_rule(setting, each, room))
    high_mm, is_first = room.area.y_mm, True
    for each in paragraphs:
        if each.box.stack != "top":
            continue
        top_mm = high_mm + (0.0 if is_first else each.box.gap_mm)
        setting = set_downwards(each, _size_pt(each, step, steps), top_mm, room)
        boxes.append(setting)
        if each.box.rule and not is_first:
            rules.append(_rule(setting, each, room))
        high_mm, is_first = setting.ground.bottom_mm, False
    # Words beside nothing but the code may end lower than the bottom stack begins only if they collide.
    return _Trial(tuple(boxes), tuple(rules), high_mm - low_mm)


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
    )


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


def _refusal(key: str, layout: Layout, fields: Mapping[str, str], room: Room) -> LabelError:
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
    return LabelError(
        f"Label {key}: the box “{worst.paragraph.box.name}” (“{shown}”) does not fit, even at "
        f"{worst.size_pt:g} pt: {why}. It may not be shortened. Choose a larger label stock. "
        "No labels were made."
    )
