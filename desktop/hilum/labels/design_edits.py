"""Design edits: each takes a layout as it lies on the table and gives a new one, or refuses in words.

Every edit is written and read again by the rules of a design file, so nothing can be made on the table that its file
would not be allowed to say.
"""

import tomllib
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from hilum.labels.blocks import Block, GaugeBlock, PictureBlock, SpacingBlock
from hilum.labels.design_files import LEAST_CODE_MM, design_of, fields_in
from hilum.labels.design_values import CodeCorner, LabelDesign, Layout, Part, TextBox
from hilum.labels.design_writing import written
from hilum.labels.errors import DesignError
from hilum.labels.pictures import read_picture
from hilum.labels.trying import CODE, block_name

# What is laid on a label begins with these sizes.
_TYPE_PT = (7.0, 10.0)
_PICTURE_MM, _GAUGE_MM, _SPACING_MM = (12.0, 12.0), (17.0, 30.0), (30.0, 7.0)
_CORNERS = (("right", "bottom"), ("left", "bottom"), ("right", "top"), ("left", "top"))


@dataclass(frozen=True, slots=True)
class OnTable:
    """A design, the number of its layout that lies on the table (from 0), and the folder of its pictures."""

    design: LabelDesign
    number: int
    folder: Path

    @property
    def layout(self) -> Layout:
        """The layout on the table."""
        return self.design.layouts[self.number]

    @property
    def names(self) -> tuple[str, ...]:
        """Everything on it by name: boxes from top to bottom, then the code, then pictures and gauges."""
        code = (CODE,) if self.layout.code else ()
        blocks = (block_name(self.layout, number) for number in range(len(self.layout.blocks)))
        return (*(box.name for box in self.layout.boxes), *code, *blocks)

    def box(self, name: str) -> TextBox:
        """Give a box of words by its name."""
        for each in self.layout.boxes:
            if each.name == name:
                return each
        raise DesignError(f"There is no box “{name}” on this label; there are {', '.join(self.names)}.")

    def block(self, name: str) -> Block | None:
        """Give a picture or a gauge by its name; None where it is none."""
        for number, each in enumerate(self.layout.blocks):
            if block_name(self.layout, number) == name:
                return each
        return None

    def with_layout(self, **changes: Any) -> "OnTable":
        """Give the same with a changed layout; raises DesignError when a design may not be so."""
        layouts = list(self.design.layouts)
        layouts[self.number] = replace(self.layout, **changes)
        return self.with_design(layouts=tuple(layouts))

    def with_design(self, **changes: Any) -> "OnTable":
        """Give the same with a changed design."""
        values = tomllib.loads(written(replace(self.design, **changes)))
        return replace(self, design=design_of(values, self.design.name, self.folder))

    def with_box(self, called: str, /, **changes: Any) -> "OnTable":
        """Give the same with one box changed."""
        changed = replace(self.box(called), **changes)
        return self.with_layout(boxes=tuple(changed if b.name == called else b for b in self.layout.boxes))

    def with_block(self, name: str, **changes: Any) -> "OnTable":
        """Give the same with a picture or a gauge changed."""
        there = self.block(name)
        if there is None:
            raise DesignError(f"There is no “{name}” on this label; there are {', '.join(self.names)}.")
        changed = replace(there, **changes)
        return self.with_layout(blocks=tuple(changed if b is there else b for b in self.layout.blocks))


def part(template: str, face: str = "regular") -> Part:
    """Make a piece of words; raises DesignError when a field in it is none."""
    try:
        return Part(template, face, fields_in(template))
    except LookupError as fault:
        raise DesignError(str(fault.args[0])) from fault
    except ValueError as fault:
        raise DesignError(f"“{template}” cannot be read: a {{ or }} stands alone.") from fault


def retyped(on: OnTable, name: str, pieces: Sequence[tuple[str, str]]) -> OnTable:
    """Let a box say something else: pieces of words, each with its face; empty ones are left out."""
    parts = tuple(part(template, face) for template, face in pieces if template.strip())
    if not parts:
        raise DesignError(
            f"The box “{name}” would say nothing. Type words or a {{field}}, or take it off the label."
        )
    return on.with_box(name, parts=parts)


def renamed(on: OnTable, name: str, new: str) -> OnTable:
    """Give a box another name: it is what warnings call it."""
    wanted = new.strip()
    if wanted in (CODE, "gauge", "spacing") or wanted.startswith("picture"):
        raise DesignError(
            f"A box of words cannot be called “{wanted}”: something else on labels is. Choose another."
        )
    return on.with_box(name, name=wanted)


def free_name(on: OnTable, wanted: str) -> str:
    """Give a name that no box has: “notes”, then “notes 2”."""
    name, number = wanted, 2
    while name in on.names:
        name, number = f"{wanted} {number}", number + 1
    return name


def words_added(on: OnTable, pieces: Sequence[tuple[str, str]], called: str = "words") -> tuple[OnTable, str]:
    """Lay a new box of words below the others; gives its name too."""
    name = free_name(on, called)
    parts = tuple(part(template, face) for template, face in pieces)
    box = TextBox(name, parts, " · ", "top", *_TYPE_PT, 2, 0.5, False, False, "left", False)
    tops = [number for number, each in enumerate(on.layout.boxes) if each.stack == "top"]
    place = tops[-1] + 1 if tops else 0
    boxes = (*on.layout.boxes[:place], box, *on.layout.boxes[place:])
    return on.with_layout(boxes=boxes), name


def code_added(on: OnTable) -> OnTable:
    """Give the label a code where a corner is free."""
    if on.layout.code:
        raise DesignError("This label has a code already. Move it or make it larger.")
    return _in_free_corner(
        on, lambda side, edge: on.with_layout(code=CodeCorner(side, edge, max(LEAST_CODE_MM, 13.0)))
    )


def gauge_added(on: OnTable, kind: str) -> OnTable:
    """Lay a gauge of sowing depth (“gauge”) or of spacing (“spacing”) into a free corner."""
    if any(each.kind == kind for each in on.layout.blocks):
        raise DesignError(f"This label has a {kind} already. Move it or make it larger.")
    inner_mm = on.layout.smallest_height_mm - 2 * on.design.padding_mm

    def made(side: str, edge: str) -> OnTable:
        if kind == "spacing":
            block: Block = SpacingBlock(side, edge, *_SPACING_MM)
        else:
            width_mm, height_mm = _GAUGE_MM
            block = GaugeBlock(side, edge, width_mm, min(height_mm, float(int(inner_mm))))
        return on.with_layout(blocks=(*on.layout.blocks, block))

    return _in_free_corner(on, made)


def picture_added(on: OnTable, file: str) -> OnTable:
    """Lay a picture that lies beside the design into a free corner."""
    picture = read_picture(on.folder / file)

    def made(side: str, edge: str) -> OnTable:
        block = PictureBlock(side, edge, *_PICTURE_MM, 0.0, 0.0, file, picture)
        # Pictures stand before gauges in the file, and keep their order there.
        pictures = [each for each in on.layout.blocks if each.kind == "picture"]
        gauges = [each for each in on.layout.blocks if each.kind != "picture"]
        return on.with_layout(blocks=(*pictures, block, *gauges))

    return _in_free_corner(on, made)


def _in_free_corner(on: OnTable, made: Any) -> OnTable:
    """Try the four corners one after another; the last refusal is what is said."""
    refused: DesignError | None = None
    for side, edge in _CORNERS:
        try:
            found: OnTable = made(side, edge)
        except DesignError as fault:
            refused = fault
        else:
            return found
    assert refused is not None
    raise DesignError(f"No corner of this label is free for it: {refused}") from refused


def removed(on: OnTable, name: str) -> OnTable:
    """Take something off the label."""
    if name == CODE and on.layout.code:
        return on.with_layout(code=None)
    there = on.block(name)
    if there is not None:
        return on.with_layout(blocks=tuple(each for each in on.layout.blocks if each is not there))
    on.box(name)
    rest = tuple(each for each in on.layout.boxes if each.name != name)
    if not rest:
        raise DesignError(f"“{name}” is the last box of words on this label; one must stay.")
    return on.with_layout(boxes=rest)
