"""Label stocks: the geometry of the sheets and rolls of blank labels that a keeper can buy."""

import csv
import difflib
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Literal

from hilum.errors import ResourceError
from hilum.labels.errors import LabelError
from hilum.labels.geometry import Box, Grid, inscribed_square
from hilum.resources import resource

# Office printers leave 4.2 to 6.7 mm of a sheet's edge white (resources/labels/README.md has the sources).
PAGE_EDGE_MM = 5.0
# Short names that several stocks share, settled once: the size most often sold under that grid.
_ALIASES = {"a4-3x8": "a4-3x8-70x37", "letter-3x10": "letter-3x10-66.7x25.4"}
_PAGES = {"A4": "a4", "US Letter": "letter", "roll": "roll"}
_SHAPES = ("rectangle", "circle")
_NUMBERS = (
    "label_w_mm", "label_h_mm", "margin_left_mm", "margin_top_mm", "pitch_x_mm", "pitch_y_mm",
    "corner_radius_mm", "page_w_mm", "page_h_mm",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class LabelStock:
    """One kind of sheet or roll of blank labels, in millimetres."""

    name: str
    title: str
    page_w_mm: float
    page_h_mm: float
    columns: int
    rows: int
    label_w_mm: float
    label_h_mm: float
    margin_left_mm: float
    margin_top_mm: float
    pitch_x_mm: float
    pitch_y_mm: float
    corner_mm: float
    shape: Literal["rectangle", "circle"]
    # A folding packet is printed on a plain sheet; its labels are the fronts.
    kind: Literal["sheet", "roll", "envelope", "fold"]
    source: str
    notes: str = ""
    # Of an envelope: which edge goes into the printer first, and where its flap is, as it is read.
    feed_edge: str = ""
    flap_side: str = ""

    def __post_init__(self) -> None:
        self.grid()

    def grid(self) -> Grid:
        """Give the labels' places on one page; on a roll the page is the label."""
        return Grid(
            self.page_w_mm, self.page_h_mm, self.columns, self.rows, self.label_w_mm, self.label_h_mm,
            self.margin_left_mm, self.margin_top_mm, self.pitch_x_mm, self.pitch_y_mm,
        )  # fmt: skip

    @property
    def per_page(self) -> int:
        """How many labels one page holds."""
        return self.columns * self.rows

    def ink_area(self, position: int, padding_mm: float) -> Box:
        """Give the part of one label that may be printed on, in page coordinates."""
        edge_mm = 0.0 if self.kind == "roll" else PAGE_EDGE_MM
        if self.shape == "rectangle":
            return self.grid().ink_area(position, padding_mm, edge_mm)
        # The disc without its padding; what is square must fit inside it.
        return inscribed_square(self.grid().ink_area(position, padding_mm, edge_mm))


def _size(millimetres: float) -> str:
    return f"{millimetres:.1f}".removesuffix(".0")


def _stock_of(row: dict[str, str], where: str) -> LabelStock:
    try:
        number = {key: float(row[key]) for key in _NUMBERS}
        columns, rows = int(row["columns"]), int(row["rows"])
        page, shape = _PAGES[row["page"]], row["shape"]
        if shape not in _SHAPES:
            raise KeyError(shape)
        size = f"{_size(number['label_w_mm'])}x{_size(number['label_h_mm'])}"
        return LabelStock(
            name=f"roll-{size}" if page == "roll" else f"{page}-{columns}x{rows}-{size}",
            title=row["name"],
            columns=columns,
            rows=rows,
            shape="circle" if shape == "circle" else "rectangle",
            kind="roll" if page == "roll" else "sheet",
            source=row["source_status"],
            notes=row["notes"],
            page_w_mm=number["page_w_mm"],
            page_h_mm=number["page_h_mm"],
            label_w_mm=number["label_w_mm"],
            label_h_mm=number["label_h_mm"],
            margin_left_mm=number["margin_left_mm"],
            margin_top_mm=number["margin_top_mm"],
            pitch_x_mm=number["pitch_x_mm"],
            pitch_y_mm=number["pitch_y_mm"],
            corner_mm=number["corner_radius_mm"],
        )
    except (KeyError, TypeError, ValueError) as fault:
        raise ResourceError(f"{where}: this label stock cannot be read ({fault}).") from fault


def read_stocks(path: Path) -> dict[str, LabelStock]:
    """Read a table of label stocks; rolls without a fixed label height are left for later."""
    stocks: dict[str, LabelStock] = {}
    with path.open(encoding="utf-8", newline="") as lines:
        for number, row in enumerate(csv.DictReader(lines), start=2):
            if row.get("label_h_mm") == "":
                continue
            stock = _stock_of(row, f"{path.name}, line {number}")
            if stock.name in stocks:
                raise ResourceError(f"{path.name}, line {number}: {stock.name} is there twice.")
            stocks[stock.name] = stock
    return stocks


def _envelope_of(row: dict[str, str], where: str) -> LabelStock:
    try:
        width_mm, height_mm, flap_mm, seam_mm = (
            float(row[key]) for key in ("width_mm", "height_mm", "clear_flap_mm", "clear_seam_mm")
        )
        if row["feed_edge"] not in ("top", "left") or row["flap_side"] != "top":
            raise KeyError(row["feed_edge"], row["flap_side"])
        label_h_mm = height_mm - flap_mm - seam_mm
        return LabelStock(
            f"envelope-{_size(width_mm)}x{_size(height_mm)}", row["title"], width_mm, height_mm, 1, 1, width_mm,
            label_h_mm, 0.0, flap_mm, width_mm, label_h_mm, 0.0, "rectangle", "envelope", row["source"],
            row["notes"], row["feed_edge"], row["flap_side"],
        )  # fmt: skip
    except (KeyError, TypeError, ValueError) as fault:
        raise ResourceError(f"{where}: this envelope cannot be read ({fault}).") from fault


def read_envelopes(path: Path) -> dict[str, LabelStock]:
    """Read a table of envelopes; ink keeps from the flap and the seam, where the paper is double."""
    with path.open(encoding="utf-8", newline="") as lines:
        found = [
            _envelope_of(row, f"{path.name}, line {number}")
            for number, row in enumerate(csv.DictReader(lines), start=2)
        ]
    return {each.name: each for each in found}


@cache
def _known() -> dict[str, LabelStock]:
    sheets_and_rolls = read_stocks(resource("labels", "label_stocks.csv"))
    return sheets_and_rolls | read_envelopes(resource("labels", "envelopes.csv"))


_PLAIN = {"a4": ("Plain A4", 210.0, 297.0), "letter": ("Plain US Letter", 215.9, 279.4)}


def plain_page(page: str) -> LabelStock:
    """Give a sheet of plain A4 or Letter paper as one label within its printable edge."""
    if page not in _PLAIN:
        raise LabelError(f"There is no plain paper “{page}”. There are {', '.join(_PLAIN)}.")
    title, width_mm, height_mm = _PLAIN[page]
    inner = width_mm - 2 * PAGE_EDGE_MM, height_mm - 2 * PAGE_EDGE_MM
    return LabelStock(
        f"plain-{page}", title, width_mm, height_mm, 1, 1, *inner, PAGE_EDGE_MM, PAGE_EDGE_MM, *inner, 0.0, "rectangle",
        "sheet", "ISO 216 and ANSI Y14.1 paper sizes",
    )  # fmt: skip


def label_stocks() -> tuple[LabelStock, ...]:
    """Give every known label stock: A4 sheets, Letter sheets, rolls."""
    return tuple(_known().values())


def label_stock(name: str) -> LabelStock:
    """Find a label stock by its name, or by a shorter beginning of it that only one stock has."""
    wanted = name.strip().lower().replace("×", "x").replace(" ", "-")
    wanted = _ALIASES.get(wanted, wanted)
    known = _known()
    if wanted in known:
        return known[wanted]
    begun = [each for each in known if each.startswith(f"{wanted}-")] if wanted else []
    if len(begun) == 1:
        return known[begun[0]]
    if begun:
        raise LabelError(
            f"Label stock “{name}” can be {len(begun)} stocks: {', '.join(begun)}. Give the whole name."
        )
    near = difflib.get_close_matches(wanted, known, n=4, cutoff=0.5) or list(known)[:4]
    raise LabelError(f"There is no label stock “{name}”. The nearest names are {', '.join(near)}.")
