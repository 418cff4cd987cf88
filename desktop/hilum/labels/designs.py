"""Label designs: small readable files that say which words stand where on a label.

A design holds one or more layouts, the roomiest first; the first whose smallest label fits is used. A
layout may have a code in one corner, and has boxes. Boxes are anchored to the top or to the bottom of
the label and stand on each other in the order of the file; each stretches over the width of the label,
makes room for the code, and grows with its words.

The words of a box are parts: small templates such as "harvest {year}". A part with an empty field is
left out whole; what is left is joined by the box's `between`; a box without parts takes no room. So
nothing empty leaves a comma or a dot behind.
"""

import difflib
import string
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

from hilum.labels.blocks import Block, blocks_of
from hilum.labels.design_tables import DesignTable
from hilum.labels.errors import DesignError, LabelError
from hilum.labels.geometry import TOLERANCE_MM, Box
from hilum.resources import resource

# Never shortened and never left out: without them a packet cannot be trusted, or can hurt.
PROTECTED = ("crop", "variety", "year", "place_grown", "lot", "caution")
FIELDS = (
    *PROTECTED, "botanical", "grower", "received", "germination", "seeds", "sow", "packed", "library",
    "dish", "test_started", "count_days", "substrate", "temperature", "sow_mm", "spacing_mm", "notes", "quantity",
    "treatment", "address", "group", "note", "below_standard",
)  # fmt: skip
# What is printed most stands first in a list.
_FIRST = ("dish", "jar", "packet")
PAYLOADS = ("lot", "address", "words")
FACES = ("regular", "bold", "italic", "botanical")


@dataclass(frozen=True, slots=True)
class Part:
    """A template and the face it is set in."""

    template: str
    face: str
    fields: tuple[str, ...]
    # Whether it holds a field that is never shortened.
    is_protected: bool = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "is_protected", any(name in PROTECTED for name in self.fields))

    def filled(self, fields: Mapping[str, str]) -> str:
        """Put the fields in; empty when any of them is empty."""
        for name in self.fields:
            if not fields.get(name):
                return ""
        return self.template.format_map(fields)


@dataclass(frozen=True, slots=True)
class TextBox:
    """One box of words, anchored to the top or the bottom of the label."""

    name: str
    parts: tuple[Part, ...]
    between: str
    stack: str
    smallest_pt: float
    largest_pt: float
    most_lines: int
    gap_mm: float
    frame: bool
    rule: bool
    align: str
    # In this design as precious as what is protected everywhere.
    keep: bool
    # Share of black behind the words, as fine lines that a black-only printer draws cleanly; 0 is white.
    tint: float = 0.0

    @property
    def fields(self) -> tuple[str, ...]:
        """Every field the box can show."""
        return tuple(name for part in self.parts for name in part.fields)


@dataclass(frozen=True, slots=True)
class CodeCorner:
    """Where the code stands, and the largest square it may take with its quiet zone."""

    side: str
    edge: str
    room_mm: float


@dataclass(frozen=True, slots=True)
class Layout:
    """One arrangement, for labels of at least a stated size."""

    smallest_width_mm: float
    smallest_height_mm: float
    code: CodeCorner | None
    boxes: tuple[TextBox, ...]
    blocks: tuple[Block, ...] = ()

    @property
    def fields(self) -> tuple[str, ...]:
        """Every field the layout can show."""
        drawn = (name for block in self.blocks for name in block.fields)
        return tuple(dict.fromkeys((*(name for box in self.boxes for name in box.fields), *drawn)))


@dataclass(frozen=True, slots=True)
class LabelDesign:
    """What is drawn on one kind of label."""

    name: str
    title: str
    purpose: str
    padding_mm: float
    required: tuple[str, ...]
    layouts: tuple[Layout, ...]
    # What a code says: the lot number, the library's web address with it, or the words of the label.
    payload: str = "lot"

    @property
    def fields(self) -> tuple[str, ...]:
        """Every field that some layout can show."""
        return tuple(dict.fromkeys(name for layout in self.layouts for name in layout.fields))

    @property
    def smallest_words(self) -> str:
        """The smallest label it fits, in words."""
        last = self.layouts[-1]
        return f"{last.smallest_width_mm:g} × {last.smallest_height_mm:g} mm"

    def layout_for(self, area: Box) -> Layout | None:
        """Choose the roomiest layout for a printable area; None when even the smallest does not fit."""
        width_mm = area.width_mm + 2 * self.padding_mm + TOLERANCE_MM
        height_mm = area.height_mm + 2 * self.padding_mm + TOLERANCE_MM
        for layout in self.layouts:
            if layout.smallest_width_mm <= width_mm and layout.smallest_height_mm <= height_mm:
                return layout
        return None


def _part(table: DesignTable, template: str, face: str) -> Part:
    try:
        pieces = list(string.Formatter().parse(template))
    except ValueError as fault:
        raise DesignError(f"{table.where}: the template “{template}” cannot be read ({fault}).") from fault
    names = []
    for _, name, form, conversion in pieces:
        if name is None:
            continue
        if name not in FIELDS or form or conversion:
            near = difflib.get_close_matches(name, FIELDS, n=1)
            hint = f" Did you mean {{{near[0]}}}?" if near else ""
            raise DesignError(
                f"{table.where}: {{{name}}} is not a field of a label.{hint} Allowed: {', '.join(FIELDS)}."
            )
        names.append(name)
    if not template.strip():
        raise DesignError(f"{table.where}: an empty template shows nothing; allowed: words and {{fields}}.")
    return Part(template, face, tuple(names))


def _parts(table: DesignTable) -> tuple[Part, ...]:
    face = table.choice("face", FACES, "regular")
    value = table.take("parts")
    if not isinstance(value, list) or not value:
        raise table.fault("parts", 'a list such as ["{crop}", { text = "{botanical}", face = "botanical" }]')
    parts = []
    for number, each in enumerate(value, start=1):
        if isinstance(each, str):
            parts.append(_part(table, each, face))
            continue
        inner = DesignTable(f"{table.where}, part {number}", each)
        parts.append(_part(inner, inner.text("text"), inner.choice("face", FACES, face)))
        inner.done()
    return tuple(parts)


def _box(table: DesignTable) -> TextBox:
    name = table.text("name")
    table.where = f"{table.where} “{name}”"
    parts = _parts(table)
    smallest_pt, largest_pt = table.sizes("size_pt")
    box = TextBox(
        name=name,
        parts=parts,
        between=table.text("between", " · "),
        stack=table.choice("stack", ("top", "bottom"), "top"),
        smallest_pt=smallest_pt,
        largest_pt=largest_pt,
        most_lines=int(table.number("most_lines", 1, 20, 2)),
        gap_mm=table.number("gap_mm", 0, 50, 0),
        frame=table.flag("frame"),
        rule=table.flag("rule"),
        align=table.choice("align", ("left", "centre", "right"), "left"),
        keep=table.flag("keep"),
        tint=table.number("tint", 0, 0.5, 0),
    )
    table.done()
    return box


def _code(table: DesignTable) -> CodeCorner | None:
    if not table.has("code"):
        table.take("code")
        return None
    inner = DesignTable(f"{table.where}, code", table.take("code"))
    corner = CodeCorner(
        inner.choice("side", ("left", "right")),
        inner.choice("edge", ("top", "bottom")),
        inner.number("room_mm", 12.5, 200),
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
        raise DesignError(
            f"{table.where}, code: room_mm is {layout.code.room_mm:g}; allowed: up to {inner_mm:g}, which the "
            f"smallest label leaves inside its padding."
        )
    names = [box.name for box in layout.boxes]
    twice = [name for name in names if names.count(name) > 1]
    if twice:
        raise DesignError(f"{table.where}: two boxes are called “{twice[0]}”; allowed: one box of each name.")
    unseen = [name for name in required if name not in layout.fields]
    if unseen:
        raise DesignError(f"{table.where}: no box shows {', '.join(unseen)}, which the design requires.")
    return layout


def read_design(path: Path) -> LabelDesign:
    """Read and check one design file."""
    try:
        values = tomllib.loads(path.read_text(encoding="utf-8"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as fault:
        raise DesignError(f"{path.name}: this file is not readable TOML: {fault}.") from fault
    table = DesignTable(path.name, values)
    title, purpose = table.text("title"), table.text("purpose")
    required = table.take("required", [])
    if not isinstance(required, list) or any(name not in FIELDS for name in required):
        raise table.fault("required", f"a list of fields out of {', '.join(FIELDS)}")
    padding_mm = table.number("padding_mm", 1, 20, 2)
    payload = table.choice("payload", PAYLOADS, "lot")
    layouts = tuple(
        _layout(each, tuple(required), padding_mm, path.parent) for each in table.tables("layout")
    )
    table.done()
    return LabelDesign(path.stem, title, purpose, padding_mm, tuple(required), layouts, payload)


@cache
def _known() -> dict[str, LabelDesign]:
    paths = sorted(resource("designs").glob("*.toml"), key=lambda path: (path.stem not in _FIRST, path.stem))
    return {path.stem: read_design(path) for path in paths}


def designs() -> tuple[LabelDesign, ...]:
    """Give every label design that came with the program."""
    return tuple(_known().values())


def design(name: str) -> LabelDesign:
    """Find a label design by its name."""
    known = _known()
    if name.strip().lower() not in known:
        raise LabelError(f"There is no label design “{name}”. There are {', '.join(known)}.")
    return known[name.strip().lower()]
