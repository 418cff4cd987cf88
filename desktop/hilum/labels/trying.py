"""Trying: one label made by a design that is being changed, and where on it each box came to stand.

A refusal is part of the answer: the words say why, and the boxes are shown where they would stand at their smallest.
"""

from dataclasses import dataclass

from hilum.labels.blocks import Block, placed_block
from hilum.labels.design_files import placed_corner
from hilum.labels.design_values import FIELDS, LabelDesign, Layout
from hilum.labels.errors import LabelError, LabelWarning
from hilum.labels.fitting import smallest_grounds
from hilum.labels.geometry import Box
from hilum.labels.ink import drawn
from hilum.labels.lines import Room
from hilum.labels.orders import LabelData, layout_on, order
from hilum.labels.placing import Placing
from hilum.labels.proof import proofed
from hilum.labels.sheets import places
from hilum.labels.stocks import LabelStock
from hilum.labels.words import cleaned_fields

CODE = "code"


@dataclass(frozen=True, slots=True)
class TriedLabel:
    """What became of one label: the page it is on, or why there is none."""

    key: str
    # A page of the stock with this label in its first place; None when the label is refused.
    pdf: bytes | None
    # The label and its printable area on that page.
    label: Box
    area: Box
    # Where things stand in the printable area: boxes by their name, then “code” and the blocks by `block_name`.
    grounds: tuple[tuple[str, Box], ...]
    warnings: tuple[LabelWarning, ...]
    refusal: str = ""


def block_name(layout: Layout, number: int) -> str:
    """Give what a block is called among the boxes: “gauge”, “spacing”, “picture 2”."""
    block = layout.blocks[number]
    if block.kind != "picture":
        return block.kind
    return f"picture {1 + sum(each.kind == 'picture' for each in layout.blocks[:number])}"


def tried_label(
    label: LabelData, design: LabelDesign, stock: LabelStock, *, dpi: int = 300, language: str = "en"
) -> TriedLabel:
    """Make one label as it would be printed, proof and all; a refusal is told, not raised.

    Raises LabelError only when the design has no layout for the stock: then there is nothing to show.
    """
    layout = layout_on(design, stock)
    area, paper = stock.ink_area(1, design.padding_mm), stock.grid().label_box(1)
    corners = _corners(layout, area, label)
    try:
        asked = order([label], design, stock, dpi)
        placing = Placing(asked, language)
        [inked] = placing.labels(places(1, stock), lambda done: None)
        pdf = drawn([inked], (stock.page_w_mm, stock.page_h_mm), label.key, language)
        proof = proofed(pdf, [inked.code] if inked.code else [], stock.page_h_mm, dpi, lambda done: None)
        if proof.unread:
            raise LabelError(f"Label {label.key}: its code could not be read back. No labels were made.")
    except LabelError as refused:
        grounds = _smallest(label, layout, area, language)
        return TriedLabel(label.key, None, paper, area, (*grounds, *corners), (), str(refused))
    warnings = tuple(dict.fromkeys((*asked.warnings, *placing.warnings)))
    return TriedLabel(label.key, pdf, paper, area, (*inked.words.grounds, *corners), warnings)


def _corners(layout: Layout, area: Box, label: LabelData) -> tuple[tuple[str, Box], ...]:
    """Give the most room of the code, and the room of each block that is drawn."""
    whole = Box(0, 0, area.width_mm, area.height_mm)
    found = [(CODE, placed_corner(layout.code, whole))] if layout.code and label.code is not None else []
    for number, block in enumerate(layout.blocks):
        found.append((block_name(layout, number), _block_place(block, whole, label)))
    return tuple(found)


def _block_place(block: Block, whole: Box, label: LabelData) -> Box:
    """Give where a block is drawn or, on a label that does not have it, where it would be."""
    height_mm = block.needs(cleaned_fields(label.fields, FIELDS))
    return placed_corner(block, whole) if height_mm is None else placed_block(block, whole, height_mm)


def _smallest(label: LabelData, layout: Layout, area: Box, language: str) -> tuple[tuple[str, Box], ...]:
    whole = Box(0, 0, area.width_mm, area.height_mm)
    code = placed_corner(layout.code, whole) if layout.code and label.code is not None else None
    return smallest_grounds(layout, cleaned_fields(label.fields, FIELDS), Room(whole, code), language)
