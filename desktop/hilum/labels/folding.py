"""Folding packets: a flat blank that is cut, folded and glued into a packet. Pure geometry in millimetres.

          +-----------+
          |  closing  |
   +------+-----------+----------+
   | side |   front   |   back   |
   +------+-----------+----------+
          |  bottom   |
          +-----------+

The back goes over the front and is glued to the side flap, the bottom flap over the back; the packet is
filled, and the closing flap goes over the back. Both panels are upright: the blank folds about upright lines.
"""

from dataclasses import dataclass
from functools import cache

from hilum.labels.art import Art, Note, Stroke, line
from hilum.labels.errors import LabelError
from hilum.labels.geometry import Box
from hilum.labels.stocks import LabelStock

_CLOSING_TAPER_MM, _BOTTOM_TAPER_MM, _SIDE_TAPER_MM = 5.0, 4.0, 3.0
# Print stays so far inside the sheet; lines to cut by as well.
_EDGE_MM = 5.0
_PAGES = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
_PAPER_WORDS = {"a4": "Plain A4", "letter": "Plain US Letter"}
_DASH_MM, _HATCH_MM = (2.0, 1.2), 2.0


@dataclass(frozen=True, slots=True)
class FoldingPacket:
    """One size of packet: its front, its flaps, and how much narrower the back is so that the fold lies flat."""

    name: str
    width_mm: float
    height_mm: float
    side_mm: float
    bottom_mm: float
    closing_mm: float
    clearance_mm: float = 1.0

    @property
    def title(self) -> str:
        """What a keeper calls it."""
        return f"{self.name.upper() if self.name == 'c7' else self.name} folding packet"

    @property
    def blank_w_mm(self) -> float:
        """Width of the flat blank: side flap, front, back."""
        return self.side_mm + 2 * self.width_mm - self.clearance_mm

    @property
    def blank_h_mm(self) -> float:
        """Height of the flat blank: closing flap, front, bottom flap."""
        return self.closing_mm + self.height_mm + self.bottom_mm

    @property
    def front(self) -> Box:
        """The front panel within the blank."""
        return Box(self.side_mm, self.closing_mm, self.width_mm, self.height_mm)

    @property
    def back(self) -> Box:
        """The back panel within the blank."""
        return Box(self.front.right_mm, self.closing_mm, self.width_mm - self.clearance_mm, self.height_mm)

    def outline(self) -> Stroke:
        """Give the line to cut along; flaps taper so that they do not stand out once folded."""
        front, back = self.front, self.back
        points = (
            (front.x_mm + _CLOSING_TAPER_MM, 0.0), (front.right_mm - _CLOSING_TAPER_MM, 0.0),
            (front.right_mm, front.y_mm), (back.right_mm, back.y_mm), (back.right_mm, back.bottom_mm),
            (front.right_mm, front.bottom_mm), (front.right_mm - _BOTTOM_TAPER_MM, self.blank_h_mm),
            (front.x_mm + _BOTTOM_TAPER_MM, self.blank_h_mm), (front.x_mm, front.bottom_mm),
            (0.0, front.bottom_mm - _SIDE_TAPER_MM), (0.0, front.y_mm + _SIDE_TAPER_MM),
            (front.x_mm, front.y_mm),
        )  # fmt: skip
        return Stroke(points, 0.18, is_closed=True)

    def folds(self) -> tuple[Stroke, ...]:
        """Give the four lines to fold along, dashed."""
        front = self.front
        ends = (
            ((front.x_mm, front.y_mm), (front.x_mm, front.bottom_mm)),
            ((front.right_mm, front.y_mm), (front.right_mm, front.bottom_mm)),
            ((front.x_mm, front.y_mm), (front.right_mm, front.y_mm)),
            ((front.x_mm, front.bottom_mm), (front.right_mm, front.bottom_mm)),
        )
        return tuple(Stroke(each, 0.18, dash_mm=_DASH_MM) for each in ends)

    def glue(self) -> tuple[Art, ...]:
        """Give the hatched flaps that are glued, with the word; the bottom one is glued on its other face."""
        side = Box(1.5, self.front.y_mm + 5, self.side_mm - 3, self.height_mm - 10)
        below = Box(self.front.x_mm + 7, self.front.bottom_mm + 2.5, self.width_mm - 14, self.bottom_mm - 5)
        found: list[Art] = []
        for box, words in ((side, "glue"), (below, "glue other face")):
            count = int((box.width_mm + box.height_mm) / _HATCH_MM)
            for number in range(1, count + 1):
                found += _hatch(box, number * _HATCH_MM)
            middle = (box.x_mm + box.width_mm / 2, box.y_mm + box.height_mm / 2)
            white = Box(middle[0] - len(words) * 0.55, middle[1] - 1.6, len(words) * 1.1, 3.2)
            corners = ((white.x_mm, white.y_mm), (white.right_mm, white.y_mm),
                       (white.right_mm, white.bottom_mm), (white.x_mm, white.bottom_mm))  # fmt: skip
            found.append(Stroke(corners, 0, is_closed=True, fill=1.0))
            found.append(Note((middle[0], middle[1] + 0.8), words, 5.5, is_centred=True))
        return tuple(found)


def _hatch(box: Box, distance_mm: float) -> list[Art]:
    """Give one slanting line of a hatch: all points of the box whose x + y from its corner is a distance."""
    start = min(distance_mm, box.width_mm)
    end = max(0.0, distance_mm - box.height_mm)
    if start <= end:
        return []
    return [
        line(
            box.x_mm + start, box.y_mm + distance_mm - start, box.x_mm + end, box.y_mm + distance_mm - end,
            0.12, 0.6,
        )
    ]  # fmt: skip


# C7 is the folded size of DIN 476-2; the small one is that of coin envelope No. 1 (from memory). Flaps are
# short enough for two packets a page of A4 and of Letter alike (worked out here).
_PACKETS = (
    FoldingPacket("c7", 81, 114, 12, 9.5, 11),
    FoldingPacket("small", 57, 89, 10, 12, 14),
)


def folding_packets() -> tuple[FoldingPacket, ...]:
    """Give the sizes of folding packet there are."""
    return _PACKETS


def folding_packet(name: str) -> FoldingPacket:
    """Find a size of folding packet by its name."""
    for each in _PACKETS:
        if each.name == name.strip().lower():
            return each
    names = ", ".join(each.name for each in _PACKETS)
    raise LabelError(f"There is no folding packet “{name}”. There are {names}.")


def blanks_on(packet: FoldingPacket, page: str) -> LabelStock:
    """Lay as many blanks as fit on a plain page, upright and centred; each is one position."""
    if page not in _PAGES:
        raise LabelError(f"Packets are folded from {' or '.join(_PAGES)} paper, not from “{page}”.")
    page_w_mm, page_h_mm = _PAGES[page]
    columns = int((page_w_mm - 2 * _EDGE_MM) / packet.blank_w_mm + 1e-9)
    rows = int((page_h_mm - 2 * _EDGE_MM) / packet.blank_h_mm + 1e-9)
    if columns < 1 or rows < 1:
        raise LabelError(
            f"A blank of {packet.blank_w_mm:g} × {packet.blank_h_mm:g} mm does not fit on {page} paper, of which "
            f"{_EDGE_MM:g} mm stay white on each side."
        )
    return _grid(
        f"fold-{packet.name}-{page}", page, columns, rows,
        Box(
            (page_w_mm - columns * packet.blank_w_mm) / 2, (page_h_mm - rows * packet.blank_h_mm) / 2,
            packet.blank_w_mm, packet.blank_h_mm,
        ),
        packet,
    )  # fmt: skip


def _grid(name: str, page: str, columns: int, rows: int, first: Box, packet: FoldingPacket) -> LabelStock:
    page_w_mm, page_h_mm = _PAGES[page]
    title = f"{_PAPER_WORDS[page]}: {packet.title}, {packet.width_mm:g} x {packet.height_mm:g} mm folded"
    return LabelStock(
        name, title, page_w_mm, page_h_mm, columns, rows, first.width_mm, first.height_mm, first.x_mm, first.y_mm,
        packet.blank_w_mm, packet.blank_h_mm, 0.0, "rectangle", "fold", "worked out here",
    )  # fmt: skip


def panels_on(packet: FoldingPacket, page: str) -> tuple[LabelStock, LabelStock]:
    """Give the fronts and the backs of a page of blanks, each as a stock of their own."""
    blanks = blanks_on(packet, page)
    found = []
    for panel in (packet.front, packet.back):
        moved = panel.moved(blanks.margin_left_mm, blanks.margin_top_mm)
        found.append(_grid(blanks.name, page, blanks.columns, blanks.rows, moved, packet))
    return found[0], found[1]


def folding_stock(name: str) -> LabelStock:
    """Find the fronts of a page of folding packets by name, such as “fold-c7-a4”."""
    known = {each.name: each for each in folding_stocks()}
    if name.strip().lower() not in known:
        raise LabelError(f"There is no folding packet “{name}”. There are {', '.join(known)}.")
    return known[name.strip().lower()]


@cache
def folding_stocks() -> tuple[LabelStock, ...]:
    """Give the fronts of every size of folding packet on every paper, as stocks."""
    return tuple(panels_on(packet, page)[0] for page in _PAGES for packet in _PACKETS)


def lines_of(packet: FoldingPacket, page: str, position: int, *, cut: bool = True) -> tuple[Art, ...]:
    """Give what is drawn round one packet: cut (first, so that it can be left out), fold and glue."""
    corner = blanks_on(packet, page).grid().label_box(position)
    parts: list[Art] = [packet.outline()] if cut else []
    parts += [*packet.folds(), *packet.glue()]
    return tuple(each.moved(corner.x_mm, corner.y_mm) for each in parts)
