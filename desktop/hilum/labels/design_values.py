"""The values of a label design: its parts, boxes, code corner and layouts, as they were read and checked."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from hilum.labels.blocks import Block
from hilum.labels.geometry import TOLERANCE_MM, Box

# Never shortened and never left out: without them a packet cannot be trusted, or can hurt.
PROTECTED = ("crop", "variety", "year", "place_grown", "lot", "caution")
FIELDS = (
    *PROTECTED, "botanical", "grower", "received", "germination", "seeds", "sow", "packed", "library",
    "dish", "test_started", "count_days", "substrate", "temperature", "sow_mm", "spacing_mm", "notes", "quantity",
    "treatment", "address", "group", "note", "below_standard",
)  # fmt: skip
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
    # From the left of the printable area; a width of 0 is all there is, a height of 0 what the words take.
    left_mm: float = 0.0
    width_mm: float = 0.0
    height_mm: float = 0.0
    # The least distance from the edge it is anchored to; words above it may push it further.
    from_edge_mm: float = 0.0
    # Shown only on labels that have, or have not, words in this field.
    only_with: str = ""
    only_without: str = ""

    @property
    def fields(self) -> tuple[str, ...]:
        """Every field the box can show."""
        return tuple(name for part in self.parts for name in part.fields)

    def is_wanted(self, fields: Mapping[str, str]) -> bool:
        """Tell whether its condition holds on a label."""
        return not (
            (self.only_with and not fields.get(self.only_with))
            or (self.only_without and fields.get(self.only_without))
        )


@dataclass(frozen=True, slots=True)
class CodeCorner:
    """Where the code stands, and the largest square it may take with its quiet zone."""

    side: str
    edge: str
    room_mm: float
    from_side_mm: float = 0.0
    from_edge_mm: float = 0.0


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
    def is_back(self) -> bool:
        """Whether it is made for the other side of labels: the code stands on the front."""
        return all(layout.code is None for layout in self.layouts)

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
