"""Design files: a design read from its file, every key checked; faults name file, line, key and what is allowed."""

import difflib
import string
import tomllib
from pathlib import Path
from typing import Any

from hilum.labels.blocks import Block, blocks_of
from hilum.labels.design_lines import DesignLines, design_lines
from hilum.labels.design_tables import DesignTable
from hilum.labels.design_values import (
    FACES,
    FIELDS,
    PAYLOADS,
    PROTECTED,
    CodeCorner,
    LabelDesign,
    Layout,
    Part,
    TextBox,
)
from hilum.labels.errors import DesignError
from hilum.labels.geometry import TOLERANCE_MM, Box

LEAST_CODE_MM = 12.5
# A narrower column holds no word.
LEAST_BOX_MM = 5.0


def fields_in(template: str) -> tuple[str, ...]:
    """Give the fields of a template in their order; raises ValueError in words when it cannot be meant."""
    names = []
    for _, name, form, conversion in string.Formatter().parse(template):
        if name is None:
            continue
        if name not in FIELDS or form or conversion:
            near = difflib.get_close_matches(name, FIELDS, n=1)
            hint = f" Did you mean {{{near[0]}}}?" if near else ""
            raise LookupError(f"{{{name}}} is not a field of a label.{hint} Allowed: {', '.join(FIELDS)}.")
        names.append(name)
    return tuple(names)


def _part(table: DesignTable, key: str, template: str, face: str) -> Part:
    try:
        names = fields_in(template)
    except LookupError as fault:
        raise table.wrong(key, str(fault.args[0])) from fault
    except ValueError as fault:
        raise table.wrong(key, f"the template “{template}” cannot be read ({fault}).") from fault
    if not template.strip():
        raise table.wrong(key, "an empty template shows nothing; allowed: words and {fields}.")
    return Part(template, face, names)


def _parts(table: DesignTable) -> tuple[Part, ...]:
    face = table.choice("face", FACES, "regular")
    value = table.take("parts")
    if not isinstance(value, list) or not value:
        raise table.fault("parts", 'a list such as ["{crop}", { text = "{botanical}", face = "botanical" }]')
    parts = []
    for number, each in enumerate(value, start=1):
        if isinstance(each, str):
            parts.append(_part(table, "parts", each, face))
            continue
        inner = table.within(each, f"part {number}", "parts", number)
        parts.append(_part(inner, "text", inner.text("text"), inner.choice("face", FACES, face)))
        inner.done()
    return tuple(parts)


def _box(table: DesignTable) -> TextBox:
    name = table.text("name")
    table.called(name)
    if not name.strip():
        raise table.fault("name", "a short name")
    parts = _parts(table)
    smallest_pt, largest_pt = table.sizes("size_pt")
    box = TextBox(
        name=name,
        parts=parts,
        between=table.text("between", " · "),
        stack=table.choice("stack", ("top", "bottom"), "top"),
        smallest_pt=smallest_pt,
        largest_pt=largest_pt,
        most_lines=table.whole("most_lines", 1, 20, 2),
        gap_mm=table.number("gap_mm", 0, 50, 0),
        frame=table.flag("frame"),
        rule=table.flag("rule"),
        align=table.choice("align", ("left", "centre", "right"), "left"),
        keep=table.flag("keep"),
        tint=table.number("tint", 0, 0.5, 0),
        left_mm=table.number("left_mm", 0, 500, 0),
        width_mm=table.zero_or("width_mm", LEAST_BOX_MM, 500),
        height_mm=table.zero_or("height_mm", 2, 500),
        from_edge_mm=table.number("from_edge_mm", 0, 500, 0),
        only_with=table.choice("only_with", ("", *FIELDS), ""),
        only_without=table.choice("only_without", ("", *FIELDS), ""),
    )
    _check_condition(table, box)
    table.done()
    return box


def _check_condition(table: DesignTable, box: TextBox) -> None:
    """What protects people and names may hang on nothing."""
    for key, asked in (("only_with", box.only_with), ("only_without", box.only_without)):
        guarded = [name for name in box.fields if name in PROTECTED]
        if asked and (guarded or box.keep):
            what = guarded[0] if guarded else "keep"
            raise table.wrong(
                key,
                f"{key} is {asked!r}, but the box holds {what}, which may never be left out; allowed: no condition.",
            )


def _code(table: DesignTable) -> CodeCorner | None:
    if not table.has("code"):
        table.take("code")
        return None
    inner = table.table("code")
    corner = CodeCorner(
        inner.choice("side", ("left", "right")),
        inner.choice("edge", ("top", "bottom")),
        inner.number("room_mm", LEAST_CODE_MM, 200),
        inner.number("from_side_mm", 0, 500, 0),
        inner.number("from_edge_mm", 0, 500, 0),
    )
    inner.done()
    return corner


def _layout(table: DesignTable, required: tuple[str, ...], padding_mm: float, folder: Path) -> Layout:
    layout = Layout(
        table.number("smallest_width_mm", 10, 500),
        table.number("smallest_height_mm", 8, 500),
        _code(table),
        tuple(_box(each) for each in table.tables("box")),
        blocks_of(table, folder),
    )
    table.done()
    inner_mm = min(layout.smallest_width_mm, layout.smallest_height_mm) - 2 * padding_mm
    if layout.code and layout.code.room_mm > inner_mm:
        raise table.within({}, "code", "code").wrong(
            "room_mm",
            f"room_mm is {layout.code.room_mm:g}; allowed: up to {inner_mm:g}, which the smallest label leaves "
            "inside its padding.",
        )
    _check_columns(table, layout, padding_mm)
    _check_places(table, layout, padding_mm)
    names = [box.name for box in layout.boxes]
    twice = [name for name in names if names.count(name) > 1]
    if twice:
        raise DesignError(f"{table.where}: two boxes are called “{twice[0]}”; allowed: one box of each name.")
    unseen = [name for name in required if name not in layout.fields]
    if unseen:
        raise DesignError(f"{table.where}: no box shows {', '.join(unseen)}, which the design requires.")
    return layout


def _check_columns(table: DesignTable, layout: Layout, padding_mm: float) -> None:
    """Every column lies on the smallest label."""
    across_mm = layout.smallest_width_mm - 2 * padding_mm
    for number, box in enumerate(layout.boxes, start=1):
        if box.left_mm + (box.width_mm or LEAST_BOX_MM) > across_mm + TOLERANCE_MM:
            inner = table.within({}, f"box {number} “{box.name}”", "box", number)
            raise inner.wrong(
                "width_mm" if box.width_mm else "left_mm",
                f"it begins {box.left_mm:g} mm from the left"
                + (f" and is {box.width_mm:g} mm wide" if box.width_mm else "")
                + f"; allowed: all within the {across_mm:g} mm that the smallest label leaves inside its padding.",
            )


def _check_places(table: DesignTable, layout: Layout, padding_mm: float) -> None:
    """Code, pictures and gauges lie on the smallest label and not on each other."""
    area = Box(0, 0, layout.smallest_width_mm - 2 * padding_mm, layout.smallest_height_mm - 2 * padding_mm)
    found: list[tuple[str, Box]] = []
    corners: list[tuple[str, CodeCorner | Block]] = [(each.kind, each) for each in layout.blocks]
    if layout.code:
        corners.insert(0, ("code", layout.code))
    for name, each in corners:
        place = placed_corner(each, area)
        if each.from_side_mm and (
            place.x_mm < -TOLERANCE_MM or place.right_mm > area.width_mm + TOLERANCE_MM
        ):
            raise table.wrong(name, f"the {name} lies beyond the side of the smallest label; allowed: on it.")
        if each.from_edge_mm and (
            place.y_mm < -TOLERANCE_MM or place.bottom_mm > area.height_mm + TOLERANCE_MM
        ):
            raise table.wrong(name, f"the {name} lies beyond the edge of the smallest label; allowed: on it.")
        for other, taken in found:
            if place.overlaps(taken):
                raise table.wrong(name, f"the {name} lies on the {other}; allowed: side by side.")
        found.append((name, place))


def placed_corner(each: CodeCorner | Block, area: Box) -> Box:
    """Give the most room a code, a picture or a gauge takes in a printable area."""
    width_mm, height_mm = (
        (each.room_mm, each.room_mm) if isinstance(each, CodeCorner) else (each.width_mm, each.height_mm)
    )
    left = each.side == "left"
    x_mm = each.from_side_mm if left else area.width_mm - width_mm - each.from_side_mm
    top = each.edge == "top"
    y_mm = each.from_edge_mm if top else area.height_mm - height_mm - each.from_edge_mm
    return Box(area.x_mm + x_mm, area.y_mm + y_mm, width_mm, height_mm)


def design_of(
    values: dict[str, Any], name: str, folder: Path, file: str = "", lines: DesignLines | None = None
) -> LabelDesign:
    """Check the values of a design; `file` is what messages call it."""
    table = DesignTable(file, values, lines=lines)
    title, purpose = table.text("title"), table.text("purpose")
    required = table.take("required", [])
    if not isinstance(required, list) or any(each not in FIELDS for each in required):
        raise table.fault("required", f"a list of fields out of {', '.join(FIELDS)}")
    padding_mm = table.number("padding_mm", 1, 20, 2)
    payload = table.choice("payload", PAYLOADS, "lot")
    layouts = tuple(_layout(each, tuple(required), padding_mm, folder) for each in table.tables("layout"))
    table.done()
    return LabelDesign(name, title, purpose, padding_mm, tuple(required), layouts, payload)


def design_in(text: str, name: str, folder: Path, file: str = "") -> LabelDesign:
    """Read and check the text of a design whose pictures lie in a folder."""
    try:
        values = tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        raise DesignError(f"{file or name}: this file is not readable TOML: {fault}.") from fault
    return design_of(values, name, folder, file, design_lines(text))


def read_design(path: Path) -> LabelDesign:
    """Read and check one design file."""
    try:
        text = path.read_text(encoding="utf-8")
    except UnicodeDecodeError as fault:
        raise DesignError(f"{path.name}: this file is not readable TOML: {fault}.") from fault
    except OSError as fault:
        raise DesignError(f"{path.name}: this file cannot be read ({fault.strerror}).") from fault
    return design_in(text, path.stem, path.parent, path.name)
