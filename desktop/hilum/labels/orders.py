"""Orders: what is asked of a print job, checked before anything is drawn."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from hilum.labels.codes import ModuleSize, Symbol, check_dpi, module_size, small_words, symbols
from hilum.labels.designs import FIELDS, CodeCorner, LabelDesign, Layout
from hilum.labels.errors import LabelError, LabelWarning, some_of
from hilum.labels.geometry import Box
from hilum.labels.payloads import payload
from hilum.labels.stocks import LabelStock, label_stocks


@dataclass(frozen=True, slots=True)
class LabelData:
    """One label to print: what it is called in messages, its fields, the text of its code if it has one."""

    key: str
    fields: Mapping[str, str]
    code: str | None = None


@dataclass(frozen=True, slots=True)
class Order:
    """A checked print job: every label has what the design must say, and every code fits its corner."""

    labels: tuple[LabelData, ...]
    symbols: tuple[Symbol | None, ...]
    design: LabelDesign
    layout: Layout
    stock: LabelStock
    module: ModuleSize | None
    # The square kept for codes in the printable area.
    code_room: Box | None
    warnings: Mapping[LabelWarning, None] = field(default_factory=dict)


def order(
    labels: Sequence[LabelData],
    design: LabelDesign,
    stock: LabelStock,
    dpi: int,
    largest: Symbol | None = None,
) -> Order:
    """Check a print job, or a part of one; raises LabelError naming what is wrong on which label.

    `largest` is the largest code of the whole job (`largest_symbol`), so that all parts draw codes alike.
    """
    if not labels:
        raise LabelError("There are no labels to make: choose at least one lot.")
    check_dpi(dpi)
    layout = layout_on(design, stock)
    _check_fields(labels, design, layout)
    found = _symbols(_with_payloads(labels, design))
    coded = [each for each in found if each is not None]
    if coded and largest is not None:
        coded.append(largest)
    if coded and layout.code is None:
        raise LabelError(f"These labels have codes, but the design “{design.name}” has no place for a code.")
    module = module_size(coded, layout.code.room_mm, dpi) if coded and layout.code else None
    area = stock.ink_area(1, design.padding_mm)
    room = _code_room(area, layout.code, coded, module) if module and layout.code else None
    small = small_words(module.module_mm) if module else ""
    warnings = {LabelWarning(labels[0].key, "code", small): None} if small else {}
    return Order(tuple(labels), found, design, layout, stock, module, room, warnings)


def check_labels(labels: Sequence[LabelData], design: LabelDesign, stock: LabelStock) -> None:
    """Look at all labels of a job before its first part is made; raises LabelError naming every label that lacks."""
    _check_fields(labels, design, layout_on(design, stock))


def largest_symbol(labels: Sequence[LabelData], design: LabelDesign) -> Symbol | None:
    """Give the symbol of the longest code text of a job: the size of a code hangs on nothing but the length."""
    coded = (each for each in _with_payloads(labels, design) if each.code is not None)
    longest = max(coded, key=lambda each: len(each.code or ""), default=None)
    return None if longest is None else _symbols([longest])[0]


def _with_payloads(labels: Sequence[LabelData], design: LabelDesign) -> list[LabelData]:
    """Give each code the text that the design asks for."""
    if design.payload == "lot":
        return list(labels)
    return [
        each
        if each.code is None
        else replace(each, code=payload(design.payload, each.key, each.code, each.fields))
        for each in labels
    ]


def _code_room(area: Box, corner: CodeCorner, symbols: list[Symbol], module: ModuleSize) -> Box:
    """Give a square one step wider than the widest code, so that each can move onto the dots inside it."""
    side_mm = max(module.side_mm(each) for each in symbols) + module.step_mm
    return Box(
        corner.from_side_mm if corner.side == "left" else area.width_mm - side_mm - corner.from_side_mm,
        corner.from_edge_mm if corner.edge == "top" else area.height_mm - side_mm - corner.from_edge_mm,
        side_mm,
        side_mm,
    )


def fitting_stocks(design: LabelDesign) -> tuple[LabelStock, ...]:
    """Give the label stocks that a design fits."""
    return tuple(
        each for each in label_stocks() if design.layout_for(each.ink_area(1, design.padding_mm)) is not None
    )


def layout_on(design: LabelDesign, stock: LabelStock) -> Layout:
    """Choose the design's layout for a stock, or refuse, naming the smallest label and stocks that do."""
    area = stock.ink_area(1, design.padding_mm)
    layout = design.layout_for(area)
    if layout is None:
        fitting = [each.name for each in fitting_stocks(design) if each.kind == stock.kind]
        size = f"{stock.label_w_mm:g} × {stock.label_h_mm:g} mm"
        width_mm, height_mm = (side + 2 * design.padding_mm for side in (area.width_mm, area.height_mm))
        if width_mm < stock.label_w_mm - 0.05 or height_mm < stock.label_h_mm - 0.05:
            size += f", of which its shape and the edge of the page leave {width_mm:.1f} × {height_mm:.1f} mm"
        raise LabelError(
            f"The design “{design.name}” needs a label of at least {design.smallest_words}; {stock.name} is "
            f"{size}. It fits {some_of(fitting, 6)}."
        )
    return layout


_KNOWN = frozenset(FIELDS)


def _check_fields(labels: Sequence[LabelData], design: LabelDesign, layout: Layout) -> None:
    lacking: dict[str, list[str]] = {}
    for label in labels:
        unknown = [name for name in label.fields if name not in _KNOWN]
        if unknown:
            raise LabelError(
                f"Label {label.key}: {unknown[0]} is not a field of a label; there are {', '.join(FIELDS)}."
            )
        for name in design.required:
            if not label.fields.get(name, "").strip():
                lacking.setdefault(name, []).append(label.key)
        if label.fields.get("caution", "").strip() and "caution" not in layout.fields:
            raise LabelError(
                f"Label {label.key} carries a caution, but the design “{design.name}” has no place for it on "
                f"this label. Choose a larger label stock or another design. No labels were made."
            )
    if lacking:
        what = "; ".join(f"{name} is missing on {some_of(keys)}" for name, keys in lacking.items())
        raise LabelError(
            f"The design “{design.name}” must say {', '.join(design.required)}: {what}. No labels were made."
        )


def _symbols(labels: Sequence[LabelData]) -> tuple[Symbol | None, ...]:
    """Make every label's symbol, all at once; a fault names its label."""
    try:
        made = iter(symbols([each.code for each in labels if each.code is not None]))
    except LabelError:
        for each in labels:
            try:
                symbols([] if each.code is None else [each.code])
            except LabelError as fault:
                raise LabelError(f"Label {each.key}: {fault}") from fault
        raise
    return tuple(None if each.code is None else next(made) for each in labels)
