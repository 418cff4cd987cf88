"""Boxes: the words of one box set in their place, at one size, within the room a label leaves."""

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache

from hilum.labels.fonts import Run
from hilum.labels.geometry import MM_PER_POINT, TOLERANCE_MM, Box
from hilum.labels.lines import MOST_LINES, Room, SetLine, balanced, broken, line_em, ordered, shortened
from hilum.labels.words import Paragraph

# From one baseline to the next: just over ascent + descent, so that accents never touch.
_LEAD_EM = 0.006
STEP_PT = 0.25
FRAME_PAD_X_MM = 1.0
FRAME_PAD_Y_MM = 0.55
# What can vanish at the end of a line: a separator and the spaces beside it.
_BREAKS_EM = 2.0
# How far a box shrinks on its own to save a line: two thirds keep a headline a headline.
_A_LITTLE = 0.67


@dataclass(frozen=True, slots=True, eq=False)
class SetBox:
    """One box set: its lines, its ground, and whether all of its words are there."""

    paragraph: Paragraph
    lines: tuple[SetLine, ...]
    ground: Box
    size_pt: float
    is_whole: bool
    too_wide: bool

    @property
    def text(self) -> str:
        """The words as they stand."""
        return " ".join(line.text for line in self.lines)


def _set_at(
    paragraph: Paragraph, size_pt: float, top_mm: float, room: Room, lines_hint: int, even: bool
) -> SetBox:
    """Set a box from a height downwards at one size; framed boxes keep one width for `lines_hint` lines."""
    em_mm = size_pt * MM_PER_POINT
    step_mm = (paragraph.ascent_em + paragraph.descent_em + _LEAD_EM) * em_mm
    pad_x_mm, pad_y_mm = (FRAME_PAD_X_MM, FRAME_PAD_Y_MM) if paragraph.box.frame else (0.0, 0.0)
    whole = room.span(top_mm, top_mm + lines_hint * step_mm + 2 * pad_y_mm)

    def ends(number: int) -> tuple[float, float]:
        start_mm = top_mm + number * step_mm
        left, right = whole if paragraph.box.frame else room.span(start_mm, start_mm + step_mm)
        return left + pad_x_mm, right - pad_x_mm

    widths: dict[int, float] = {}

    def width_em(number: int) -> float:
        if number not in widths:
            left, right = ends(number)
            widths[number] = (right - left + 1e-6) / em_mm
        return widths[number]

    if paragraph.width_em <= width_em(0):
        broken_lines, too_wide = [list(paragraph.words)], False
    else:
        broken_lines, too_wide = broken(paragraph.words, width_em)
    if even and len(broken_lines) > 1 and not too_wide:
        broken_lines = balanced(paragraph.words, width_em, broken_lines)
    is_whole, most = True, _most_lines(paragraph, size_pt)
    if not paragraph.is_protected and (len(broken_lines) > most or too_wide):
        parted, still_too_wide = broken(paragraph.words, width_em, paragraph.language)
        if len(parted) <= most and not still_too_wide:
            broken_lines, too_wide = parted, False
    if not paragraph.is_protected and (len(broken_lines) > most or too_wide):
        rest = [word for line in broken_lines[most - 1 :] for word in line]
        last = shortened(rest, width_em(most - 1)) if len(broken_lines) >= most else []
        broken_lines = [*broken_lines[: most - 1], *([last] if last else [])]
        broken_lines = [
            line if line_em(line) <= width_em(n) else shortened(line, width_em(n))
            for n, line in enumerate(broken_lines)
        ]
        is_whole, too_wide = False, False
    lines = []
    for number, words in enumerate(broken_lines):
        left, right = ends(number)
        width_mm = line_em(words) * em_mm
        spare_mm = {"left": 0.0, "centre": (right - left - width_mm) / 2, "right": right - left - width_mm}
        baseline_mm = top_mm + pad_y_mm + number * step_mm + paragraph.ascent_em * em_mm
        drawn, read = ordered(paragraph, words)
        lines.append(
            SetLine(
                left + spare_mm[_side(paragraph)], baseline_mm, size_pt, width_mm, drawn, read,
                paragraph.ascent_em, paragraph.descent_em,
            )
        )  # fmt: skip
    height_mm = len(lines) * step_mm + 2 * pad_y_mm
    left, right = whole if paragraph.box.frame else room.span(top_mm, top_mm + height_mm)
    ground = Box(left, top_mm, right - left, height_mm)
    return SetBox(paragraph, tuple(lines), ground, size_pt, is_whole, too_wide)


def _step_mm(paragraph: Paragraph, size_pt: float) -> float:
    """Give the distance from one baseline to the next."""
    return (paragraph.ascent_em + paragraph.descent_em + _LEAD_EM) * size_pt * MM_PER_POINT


def _pads_mm(paragraph: Paragraph) -> float:
    return 2 * FRAME_PAD_Y_MM if paragraph.box.frame else 0.0


def _most_lines(paragraph: Paragraph, size_pt: float) -> int:
    """Give how many lines a box may have: what it is allowed, and what its height holds, but one always."""
    most = paragraph.box.most_lines
    if paragraph.box.height_mm:
        room_mm = paragraph.box.height_mm - _pads_mm(paragraph) + TOLERANCE_MM
        most = max(1, min(most, int(room_mm / _step_mm(paragraph, size_pt))))
    return most


def _capped_pt(paragraph: Paragraph, size_pt: float) -> float:
    """Give the largest size, not above the one asked for, at which one line stands in the height of the box."""
    if not paragraph.box.height_mm:
        return size_pt
    room_mm = paragraph.box.height_mm - _pads_mm(paragraph) + TOLERANCE_MM
    most_pt = room_mm / _step_mm(paragraph, 1.0)
    if size_pt <= most_pt:
        return size_pt
    return max(paragraph.box.smallest_pt, size_pt - math.ceil((size_pt - most_pt) / STEP_PT) * STEP_PT)


def _side(paragraph: Paragraph) -> str:
    """Give the side a box's lines stand on: what begins from the right begins at the right."""
    return "right" if paragraph.begins_right and paragraph.box.align == "left" else paragraph.box.align


def _sized(
    paragraph: Paragraph, size_pt: float, across_mm: float, place: Callable[[float, bool], SetBox]
) -> SetBox:
    """Let a box try its own smaller sizes before it takes more lines than it should, or loses words.

    A protected box that needs the lines anyway keeps its size and takes them.
    """
    asked = setting = place(size_pt, False)
    if paragraph.is_protected and len(asked.lines) > 1:
        asked = setting = _fewer_lines(asked, across_mm, place)
    least_pt, most = paragraph.box.smallest_pt, paragraph.box.most_lines
    while not setting.is_whole or len(setting.lines) > _most_lines(paragraph, setting.size_pt):
        if setting.size_pt - STEP_PT < least_pt:
            return asked if paragraph.is_protected else setting
        setting = place(_next_size(paragraph, setting.size_pt, most, across_mm, least_pt), False)
    return setting


def _next_size(paragraph: Paragraph, size_pt: float, lines: int, across_mm: float, least_pt: float) -> float:
    """Give the next smaller size; sizes at which so many lines surely cannot hold the words are passed over."""
    pt_per_mm = 1 / MM_PER_POINT
    most_pt = (lines * across_mm + TOLERANCE_MM) * pt_per_mm / (paragraph.width_em - _BREAKS_EM * lines)
    down = max(1, math.ceil((size_pt - most_pt) / STEP_PT)) if paragraph.width_em > _BREAKS_EM * lines else 1
    # Never below the smallest, and always on the same steps.
    return size_pt - min(down, int((size_pt - least_pt) / STEP_PT + 1e-9)) * STEP_PT


def _fewer_lines(asked: SetBox, across_mm: float, place: Callable[[float, bool], SetBox]) -> SetBox:
    """Give the largest setting with fewer lines, if a little shrinking gets there; else the one asked for."""
    least_pt = max(asked.paragraph.box.smallest_pt, _A_LITTLE * asked.size_pt)
    size_pt, fewer = asked.size_pt, len(asked.lines) - 1
    while size_pt - STEP_PT >= least_pt:
        size_pt = _next_size(asked.paragraph, size_pt, fewer, across_mm, least_pt)
        setting = place(size_pt, False)
        if len(setting.lines) <= fewer and not setting.too_wide:
            return setting
    return asked


def _evened(setting: SetBox, place: Callable[[float, bool], SetBox]) -> SetBox:
    """Make the lines of a protected box more even, once its size is settled: their number stays."""
    if not setting.paragraph.is_protected or len(setting.lines) < 2 or setting.too_wide:
        return setting
    return place(setting.size_pt, True)


@lru_cache(maxsize=5_000)
def _one_line(paragraph: Paragraph) -> tuple[tuple[Run, ...], tuple[Run, ...] | None]:
    return ordered(paragraph, list(paragraph.words))


def _on_one_line(
    paragraph: Paragraph, size_pt: float, room: Room, top_mm: float | None, bottom_mm: float = 0.0
) -> SetBox | None:
    """Set a box on one line where it fits on one: most boxes do, and then nothing needs to be tried."""
    em_mm, box = size_pt * MM_PER_POINT, paragraph.box
    width_mm = paragraph.width_em * em_mm
    if box.frame or width_mm > room.area.width_mm:
        return None
    height_mm = (paragraph.ascent_em + paragraph.descent_em + _LEAD_EM) * em_mm
    start_mm = bottom_mm - height_mm if top_mm is None else top_mm
    left, right = room.span(start_mm, start_mm + height_mm)
    spare_mm = right - left - width_mm
    if spare_mm < -1e-6:
        return None
    side = _side(paragraph)
    x_mm = left if side == "left" else left + (spare_mm if side == "right" else spare_mm / 2)
    drawn, read = _one_line(paragraph)
    baseline_mm = start_mm + paragraph.ascent_em * em_mm
    line = SetLine(
        x_mm, baseline_mm, size_pt, width_mm, drawn, read, paragraph.ascent_em, paragraph.descent_em
    )
    ground = Box(left, start_mm, right - left, height_mm)
    return SetBox(paragraph, (line,), ground, size_pt, True, False)


def _simply(
    paragraph: Paragraph, size_pt: float, room: Room, top_mm: float | None, bottom_mm: float = 0.0
) -> SetBox | None:
    """Set a box on one line: at the size asked for or, where it may not be cut, a little smaller."""
    line = _on_one_line(paragraph, size_pt, room, top_mm, bottom_mm)
    if line is not None or not paragraph.is_protected or paragraph.width_em <= 0:
        return line
    most_pt = room.area.width_mm / MM_PER_POINT / paragraph.width_em
    smaller_pt = size_pt - math.ceil((size_pt - most_pt) / STEP_PT) * STEP_PT
    if smaller_pt >= size_pt or smaller_pt < max(paragraph.box.smallest_pt, _A_LITTLE * size_pt):
        return None
    return _on_one_line(paragraph, smaller_pt, room, top_mm, bottom_mm)


@lru_cache(maxsize=5_000)
def set_downwards(paragraph: Paragraph, size_pt: float, top_mm: float, room: Room) -> SetBox:
    """Set a box whose top is known; it takes at least its own height."""
    setting = _set_downwards(paragraph, _capped_pt(paragraph, size_pt), top_mm, room)
    spare_mm = paragraph.box.height_mm - setting.ground.height_mm
    if spare_mm <= 0:
        return setting
    return replace(setting, ground=replace(setting.ground, height_mm=paragraph.box.height_mm))


def _set_downwards(paragraph: Paragraph, size_pt: float, top_mm: float, room: Room) -> SetBox:
    simple = _simply(paragraph, size_pt, room, top_mm)
    if simple is not None:
        return simple

    def place(at_pt: float, even: bool) -> SetBox:
        line = None if even else _on_one_line(paragraph, at_pt, room, top_mm)
        if line is not None:
            return line
        setting = _set_at(paragraph, at_pt, top_mm, room, 1, even)
        while paragraph.box.frame and _crosses(setting, room):
            more = _set_at(paragraph, at_pt, top_mm, room, len(setting.lines), even)
            if more.ground.width_mm == setting.ground.width_mm:
                break
            setting = more
        return setting

    return _evened(_sized(paragraph, size_pt, room.area.width_mm, place), place)


def _crosses(setting: SetBox, room: Room) -> bool:
    left, right = room.span(setting.ground.y_mm, setting.ground.bottom_mm)
    return setting.ground.x_mm < left - TOLERANCE_MM or setting.ground.right_mm > right + TOLERANCE_MM


@lru_cache(maxsize=5_000)
def set_upwards(paragraph: Paragraph, size_pt: float, bottom_mm: float, room: Room) -> SetBox:
    """Set a box whose bottom is known: the fewest lines that, begun high enough, end there.

    A box with a height of its own begins that high, unless its words need more.
    """
    height_mm, size_pt = paragraph.box.height_mm, _capped_pt(paragraph, size_pt)
    if height_mm:
        setting = set_downwards(paragraph, size_pt, bottom_mm - height_mm, room)
        if setting.ground.height_mm <= height_mm + TOLERANCE_MM and not setting.too_wide:
            return setting
    simple = _simply(paragraph, size_pt, room, None, bottom_mm)
    if simple is not None:
        return simple

    def place(at_pt: float, even: bool) -> SetBox:
        step_mm = (paragraph.ascent_em + paragraph.descent_em + _LEAD_EM) * at_pt * MM_PER_POINT
        pads_mm = 2 * FRAME_PAD_Y_MM if paragraph.box.frame else 0.0
        for count in range(1, MOST_LINES):
            setting = _set_at(paragraph, at_pt, bottom_mm - count * step_mm - pads_mm, room, count, even)
            if len(setting.lines) <= count:
                break
        return setting

    return _evened(_sized(paragraph, size_pt, room.area.width_mm, place), place)
