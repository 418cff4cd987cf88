"""Design moves: things on a label moved and sized by the millimetre, from where they stand on one tried label.

A box of words lands where it is put: that is kept as its least distance from the edge its stack hangs on, and as its
distance from the left. When its foremost edge comes to the far edge of another box it changes places with it, in the
same stack or the other; until then it pushes what is in its way.
Code, pictures and gauges are kept by their distance from the nearest corner.
"""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from hilum.labels.design_edits import OnTable
from hilum.labels.design_files import LEAST_BOX_MM, LEAST_CODE_MM
from hilum.labels.design_values import CodeCorner, TextBox
from hilum.labels.errors import DesignError
from hilum.labels.geometry import TOLERANCE_MM, Box
from hilum.labels.trying import CODE, TriedLabel

GRID_MM = 1.0
_LEAST_HIGH_MM, _LEAST_BLOCK_MM = 2.0, 3.0


def on_grid(value_mm: float) -> float:
    """Give the nearest line of the millimetre grid."""
    return round(value_mm / GRID_MM) * GRID_MM


def _ground(name: str, tried: TriedLabel) -> Box:
    grounds = dict(tried.grounds)
    if name not in grounds:
        raise DesignError(
            f"“{name}” has nothing to show on label {tried.key}. Move it on one of the other labels, or type its place."
        )
    return grounds[name]


def _code_of(on: OnTable) -> CodeCorner:
    """Give the layout's code; the label that is looked at may be made by another layout, which has one."""
    if on.layout.code is None:
        raise DesignError("This layout has no code. Put one onto it first.")
    return on.layout.code


def moved(on: OnTable, name: str, right_mm: float, down_mm: float, tried: TriedLabel) -> OnTable:
    """Put something so far to the right and down of where it stands on a label; it comes to lie on the grid."""
    ground = _ground(name, tried)
    if name == CODE or on.block(name) is not None:
        return _corner_moved(on, name, ground.moved(right_mm, down_mm), tried)
    box = on.box(name)
    if right_mm:
        most_mm = _across_mm(on) - (box.width_mm or LEAST_BOX_MM)
        left_mm = min(max(0.0, on_grid(box.left_mm + right_mm)), float(int(most_mm)))
        on = on.with_box(name, left_mm=max(0.0, left_mm))
    return _put(on, name, ground.moved(0, down_mm), down_mm < 0, tried) if down_mm else on


def _across_mm(on: OnTable) -> float:
    """Give the printable width of the smallest label of the layout."""
    return on.layout.smallest_width_mm - 2 * on.design.padding_mm


def _put(on: OnTable, name: str, wanted: Box, is_up: bool, tried: TriedLabel) -> OnTable:
    """Put a box at another height: into its stack's order, or into the other stack."""
    box, grounds = on.box(name), dict(tried.grounds)
    foremost_mm = wanted.y_mm if is_up else wanted.bottom_mm
    stack = _stack_at(on, box, wanted, is_up, tried)
    others = [each for each in on.layout.boxes if each.name != name]
    above = [
        place
        for place, each in enumerate(others)
        if each.stack == stack and each.name in grounds and _passing(grounds[each.name], is_up) < foremost_mm
    ]
    place = above[-1] + 1 if above else _first_of(others, stack)
    order = [*(each.name for each in others[:place]), name, *(each.name for each in others[place:])]
    if stack != box.stack or order != [each.name for each in on.layout.boxes]:
        distance_mm = wanted.y_mm if stack == "top" else tried.area.height_mm - wanted.bottom_mm
        put = replace(box, stack=stack, from_edge_mm=max(0.0, on_grid(distance_mm)))
        return on.with_layout(boxes=(*others[:place], put, *others[place:]))
    if stack == "top":
        return _put_below(on, box, wanted.y_mm, grounds)
    return _put_above(on, box, tried.area.height_mm - wanted.bottom_mm, grounds, tried.area)


def _passing(ground: Box, is_up: bool) -> float:
    """Give the height at which a box is passed: just short of its far edge, seen from where one comes."""
    return ground.y_mm + (0.1 if is_up else 0.9) * ground.height_mm


def _first_of(others: list[TextBox], stack: str) -> int:
    places = [place for place, each in enumerate(others) if each.stack == stack]
    return places[0] if places else (0 if stack == "top" else len(others))


def _stack_at(on: OnTable, box: TextBox, wanted: Box, is_up: bool, tried: TriedLabel) -> str:
    """Tell whether a box put there hangs from the top or stands on the bottom."""
    other = "bottom" if box.stack == "top" else "top"
    if is_up == (box.stack == "top"):
        return box.stack
    grounds, area = dict(tried.grounds), tried.area
    ends = [
        _passing(grounds[each.name], is_up)
        for each in on.layout.boxes
        if each.stack == other and each.name in grounds and each.name != box.name
    ]
    if is_up:
        is_past = wanted.y_mm < max(ends, default=0.0)
    else:
        is_past = wanted.bottom_mm > min(ends, default=area.height_mm)
    return other if is_past else box.stack


def _shares(one: TextBox, other: TextBox) -> bool:
    """Tell whether two boxes share a part of the width."""
    ends = [each.left_mm + (each.width_mm or float("inf")) for each in (one, other)]
    return one.left_mm < ends[1] - TOLERANCE_MM and other.left_mm < ends[0] - TOLERANCE_MM


def _put_below(on: OnTable, box: TextBox, top_mm: float, grounds: Mapping[str, Box]) -> OnTable:
    """Put a box of the top stack at a height, below what stands before it."""
    before = on.layout.boxes[: on.layout.boxes.index(box)]
    above = [each for each in before if each.stack == "top" and each.name in grounds and _shares(each, box)]
    above_mm = max((grounds[each.name].bottom_mm for each in above), default=0.0)
    wanted_mm = max(0.0, on_grid(top_mm))
    if not above:
        return on.with_box(box.name, from_edge_mm=wanted_mm)
    if wanted_mm <= above_mm:
        return on.with_box(box.name, from_edge_mm=0.0, gap_mm=0.0)
    if wanted_mm < above_mm + box.gap_mm:
        return on.with_box(box.name, from_edge_mm=0.0, gap_mm=round(wanted_mm - above_mm, 2))
    return on.with_box(box.name, from_edge_mm=wanted_mm)


def _put_above(on: OnTable, box: TextBox, low_mm: float, grounds: Mapping[str, Box], area: Box) -> OnTable:
    """Put a box of the bottom stack at a distance from the bottom, above what stands after it."""
    after = on.layout.boxes[on.layout.boxes.index(box) + 1 :]
    below = [each for each in after if each.stack == "bottom" and each.name in grounds and _shares(each, box)]
    taken_mm = max((area.height_mm - grounds[each.name].y_mm + each.gap_mm for each in below), default=0.0)
    wanted_mm = max(0.0, on_grid(low_mm))
    return on.with_box(box.name, from_edge_mm=wanted_mm if wanted_mm > taken_mm else 0.0)


def passed(on: OnTable, name: str, by: int) -> OnTable:
    """Let a box change places with the one above (-1) or below (1); past the end of its stack it joins the other."""
    box = on.box(name)
    fellows = [each for each in on.layout.boxes if each.stack == box.stack]
    place = fellows.index(box) + by
    others = [each for each in on.layout.boxes if each.name != name]
    free = replace(box, from_edge_mm=0.0)
    if 0 <= place < len(fellows):
        at = others.index(fellows[place]) + (1 if by > 0 else 0)
    elif (by > 0) == (box.stack == "top"):
        free = replace(free, stack="bottom" if by > 0 else "top")
        ends = [number for number, each in enumerate(others) if each.stack == free.stack]
        at = (ends[0] if by > 0 else ends[-1] + 1) if ends else (len(others) if by > 0 else 0)
    else:
        raise DesignError(f"“{name}” stands at the {box.stack} already.")
    return on.with_layout(boxes=(*others[:at], free, *others[at:]))


def stepped(on: OnTable, name: str, right: int, down: int, tried: TriedLabel) -> OnTable:
    """Move by steps of the grid, as an arrow key does; a box that is held by its neighbour passes it."""
    found = moved(on, name, right * GRID_MM, down * GRID_MM, tried)
    is_words = name != CODE and on.block(name) is None
    if found.design == on.design and down and is_words:
        return passed(on, name, down)
    return found


def _corner_moved(on: OnTable, name: str, wanted: Box, tried: TriedLabel) -> OnTable:
    """Put code, picture or gauge by its nearest corner, within the label."""
    area = tried.area
    right_mm, below_mm = area.width_mm - wanted.right_mm, area.height_mm - wanted.bottom_mm
    side, edge = (
        "left" if wanted.x_mm <= right_mm else "right",
        "top" if wanted.y_mm <= below_mm else "bottom",
    )
    # On the smallest label of the layout there may be less room than on this one.
    most_x_mm = _across_mm(on) - wanted.width_mm
    most_y_mm = on.layout.smallest_height_mm - 2 * on.design.padding_mm - wanted.height_mm
    from_side_mm = min(max(0.0, on_grid(min(wanted.x_mm, right_mm))), max(0.0, most_x_mm))
    from_edge_mm = min(max(0.0, on_grid(min(wanted.y_mm, below_mm))), max(0.0, most_y_mm))
    changes: dict[str, Any] = {
        "side": side,
        "edge": edge,
        "from_side_mm": round(from_side_mm, 2),
        "from_edge_mm": round(from_edge_mm, 2),
    }
    if name == CODE:
        return on.with_layout(code=replace(_code_of(on), **changes))
    return on.with_block(name, **changes)


def sized(on: OnTable, name: str, wider_mm: float, taller_mm: float, tried: TriedLabel) -> OnTable:
    """Make something wider and taller by so much; a box of words as wide as the label takes all there is."""
    ground = _ground(name, tried)
    if name == CODE:
        code = _code_of(on)
        by_mm = wider_mm if abs(wider_mm) >= abs(taller_mm) else taller_mm
        return on.with_layout(code=replace(code, room_mm=max(LEAST_CODE_MM, on_grid(code.room_mm + by_mm))))
    block = on.block(name)
    if block is not None:
        width_mm, height_mm = block.width_mm, block.height_mm
        return on.with_block(
            name,
            width_mm=max(_LEAST_BLOCK_MM, on_grid(width_mm + wider_mm)) if wider_mm else width_mm,
            height_mm=max(_LEAST_BLOCK_MM, on_grid(height_mm + taller_mm)) if taller_mm else height_mm,
        )
    box = on.box(name)
    width_mm, height_mm = box.width_mm, box.height_mm
    if wider_mm:
        most_mm = _across_mm(on) - box.left_mm
        now_mm = box.width_mm or tried.area.width_mm - box.left_mm
        width_mm = max(LEAST_BOX_MM, on_grid(now_mm + wider_mm))
        if width_mm > most_mm - TOLERANCE_MM:
            # A width of its own has to lie on the smallest label of the layout.
            width_mm = 0.0 if wider_mm > 0 else max(LEAST_BOX_MM, float(int(most_mm - TOLERANCE_MM)))
    if taller_mm:
        most_mm = on.layout.smallest_height_mm - 2 * on.design.padding_mm
        height_mm = on_grid((box.height_mm or ground.height_mm) + taller_mm)
        height_mm = min(max(_LEAST_HIGH_MM, height_mm), most_mm)
    return on.with_box(name, width_mm=width_mm, height_mm=round(height_mm, 2))
