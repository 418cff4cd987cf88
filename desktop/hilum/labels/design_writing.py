"""Design writing: a design back into the text of its file, in one plain form, with the remarks it was read with."""

import json
from collections.abc import Iterator

from hilum.labels.blocks import Block, PictureBlock
from hilum.labels.design_lines import DesignLines, Spot
from hilum.labels.design_values import CodeCorner, LabelDesign, Layout, Part, TextBox


def written(
    design: LabelDesign, remarks: DesignLines | None = None, before: LabelDesign | None = None
) -> str:
    """Write a design as `read_design` reads it; remarks whose table or key is gone are gone too.

    `before` is the design the remarks were read with: a box that has another place now keeps its own.
    """
    text = _Text(remarks or DesignLines())
    text.key((), "title", design.title)
    text.key((), "purpose", design.purpose)
    text.key((), "padding_mm", design.padding_mm)
    text.key((), "required", list(design.required))
    if design.payload != "lot":
        text.key((), "payload", design.payload)
    for number, layout in enumerate(design.layouts, start=1):
        there = before.layouts[number - 1] if before and number <= len(before.layouts) else layout
        _layout(text, ("layout", number), layout, there)
    return text.whole()


class _Text:
    """Lines in the making, each with the remarks of its spot."""

    def __init__(self, remarks: DesignLines) -> None:
        self._remarks, self._lines = remarks, list[str]()

    def header(self, spot: Spot, words: str) -> None:
        if self._lines:
            self._lines.append("")
        self._add(spot, words)

    def key(self, spot: Spot, name: str, value: object) -> None:
        self._add((*spot, name), f"{name} = {_value(value)}")

    def _add(self, spot: Spot, line: str) -> None:
        self._lines += self._remarks.above.get(spot, ())
        behind = self._remarks.behind.get(spot)
        self._lines.append(f"{line}  {behind}" if behind else line)

    def whole(self) -> str:
        return "\n".join([*self._lines, *self._remarks.above.get((), ())]) + "\n"


def _value(value: object) -> str:
    """Write one value as TOML."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, float):
        return str(int(value)) if value.is_integer() else repr(value)
    if isinstance(value, int):
        return str(value)
    if isinstance(value, list):
        return f"[{', '.join(map(_value, value))}]"
    if isinstance(value, Part):
        return f'{{ text = {_value(value.template)}, face = "{value.face}" }}'
    # JSON's strings are TOML's but for one sign that JSON leaves as it is.
    return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007F")


def _place(names: list[str], name: str) -> int:
    """Give the place a name had in a file, from 1; 0, where nothing stands, for one that was not there."""
    return names.index(name) + 1 if name in names else 0


def _layout(text: _Text, spot: Spot, layout: Layout, before: Layout) -> None:
    text.header(spot, "[[layout]]")
    text.key(spot, "smallest_width_mm", layout.smallest_width_mm)
    text.key(spot, "smallest_height_mm", layout.smallest_height_mm)
    if layout.code:
        text.header((*spot, "code"), "[layout.code]")
        _corner(text, (*spot, "code"), layout.code)
        text.key((*spot, "code"), "room_mm", layout.code.room_mm)
    files = [each.file for each in before.blocks if isinstance(each, PictureBlock)]
    for block in layout.blocks:
        if isinstance(block, PictureBlock):
            here = (*spot, "picture", _place(files, block.file))
            _block(text, here, "[[layout.picture]]", block)
            text.key(here, "file", block.file)
        else:
            _block(text, (*spot, block.kind), f"[layout.{block.kind}]", block)
    names = [each.name for each in before.boxes]
    for box in layout.boxes:
        here = (*spot, "box", _place(names, box.name))
        text.header(here, "[[layout.box]]")
        for name, value in _keys(box):
            text.key(here, name, value)


def _corner(text: _Text, spot: Spot, each: CodeCorner | Block) -> None:
    text.key(spot, "side", each.side)
    text.key(spot, "edge", each.edge)
    if each.from_side_mm:
        text.key(spot, "from_side_mm", each.from_side_mm)
    if each.from_edge_mm:
        text.key(spot, "from_edge_mm", each.from_edge_mm)


def _block(text: _Text, spot: Spot, header: str, block: Block) -> None:
    text.header(spot, header)
    _corner(text, spot, block)
    text.key(spot, "width_mm", block.width_mm)
    text.key(spot, "height_mm", block.height_mm)


def _keys(box: TextBox) -> Iterator[tuple[str, object]]:
    """Give the keys of a box that are not as they would be anyway."""
    yield "name", box.name
    if box.stack != "top":
        yield "stack", box.stack
    faces = {part.face for part in box.parts}
    # A face that all parts share stands once; else each part that is not regular names its own.
    face = next(iter(faces)) if len(faces) == 1 else "regular"
    yield "parts", [part.template if part.face == face else part for part in box.parts]
    if face != "regular":
        yield "face", face
    if box.between != " · ":
        yield "between", box.between
    yield "size_pt", [box.smallest_pt, box.largest_pt]
    for name, usual in (
        ("most_lines", 2), ("gap_mm", 0), ("align", "left"), ("rule", False), ("frame", False), ("tint", 0),
        ("keep", False), ("left_mm", 0), ("width_mm", 0), ("height_mm", 0), ("from_edge_mm", 0),
        ("only_with", ""), ("only_without", ""),
    ):  # fmt: skip
        value = getattr(box, name)
        if value != usual:
            yield name, value
