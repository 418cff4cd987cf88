"""Marks: lines to cut by on plain paper, and the page a printer is measured with."""

from hilum.labels.art import Art, Note, Stroke, line, outline
from hilum.labels.corrections import Correction, crosses_on
from hilum.labels.errors import LabelError
from hilum.labels.ink import drawn
from hilum.labels.stocks import LabelStock

# A mark ends short of the label, so that a crooked cut leaves none of it (common practice, no source).
_GAP_MM, _LENGTH_MM = 1.0, 4.0
# Closer to the edge than this no office printer draws (resources/labels/README.md has the sources).
_EDGE_MM = 4.3
_RULER_ACROSS_MM, _RULER_DOWN_MM = 100, 150


def cut_marks(stock: LabelStock) -> tuple[Stroke, ...]:
    """Give the marks beside a sheet of labels to be cut apart; refused where the margins are too small."""
    grid = stock.grid()
    boxes = [grid.label_box(position) for position in range(1, grid.count + 1)]
    left, right = min(box.x_mm for box in boxes), max(box.right_mm for box in boxes)
    top, bottom = min(box.y_mm for box in boxes), max(box.bottom_mm for box in boxes)
    least_mm = _EDGE_MM + _GAP_MM + 1.0
    margins = (left, top, stock.page_w_mm - right, stock.page_h_mm - bottom)
    if stock.kind != "sheet" or min(margins) < least_mm:
        raise LabelError(
            f"{stock.name} has no room for cut marks: they need {least_mm:g} mm of margin on all sides. Choose a "
            "plain-paper stock, or print without marks."
        )
    xs = sorted({round(edge, 3) for box in boxes for edge in (box.x_mm, box.right_mm)})
    ys = sorted({round(edge, 3) for box in boxes for edge in (box.y_mm, box.bottom_mm)})
    found = []
    for x in xs:
        for near, far in (
            (top - _GAP_MM, max(_EDGE_MM, top - _GAP_MM - _LENGTH_MM)),
            (bottom + _GAP_MM, min(stock.page_h_mm - _EDGE_MM, bottom + _GAP_MM + _LENGTH_MM)),
        ):
            found.append(line(x, near, x, far))
    for y in ys:
        for near, far in (
            (left - _GAP_MM, max(_EDGE_MM, left - _GAP_MM - _LENGTH_MM)),
            (right + _GAP_MM, min(stock.page_w_mm - _EDGE_MM, right + _GAP_MM + _LENGTH_MM)),
        ):
            found.append(line(near, y, far, y))
    return tuple(found)


def _cross(x_mm: float, y_mm: float) -> list[Art]:
    return [line(x_mm - 4, y_mm, x_mm + 4, y_mm), line(x_mm, y_mm - 4, x_mm, y_mm + 4)]


def _ruler(x_mm: float, y_mm: float, length_mm: int, *, down: bool) -> list[Art]:
    """Draw a ruler with a tick each millimetre and figures each ten."""
    found: list[Art] = []
    for each in range(length_mm + 1):
        tick_mm = 4.0 if each % 10 == 0 else 3.0 if each % 5 == 0 else 2.0
        x, y = (x_mm, y_mm + each) if down else (x_mm + each, y_mm)
        found.append(line(x, y, x + tick_mm, y) if down else line(x, y, x, y + tick_mm))
        if each % 10 == 0:
            at = (x + 5, y + 0.8) if down else (x, y + 7)
            found.append(Note(at, str(each), 6, is_centred=not down))
    ends = ((x_mm, y_mm), (x_mm, y_mm + length_mm) if down else (x_mm + length_mm, y_mm))
    return [*found, Stroke(ends)]


def calibration_page(
    stock: LabelStock, correction: Correction | None = None, *, is_back: bool = False
) -> bytes:
    """Draw the page to print on plain paper, at 100 %, and to measure: crosses, rulers, every label's outline.

    Drawn with a correction it is the page to check that correction by: now the crosses must stand where they say.
    For the back of a sheet a page with a few words goes before it, so that the crosses are printed on the other side.
    """
    grid, middle_mm = stock.grid(), stock.page_w_mm / 2
    found: list[Art] = [outline(grid.label_box(n), grey=0.7) for n in range(1, grid.count + 1)]
    names = ("top left", "top right", "bottom left", "bottom right")
    for name, (x, y) in zip(names, crosses_on(stock), strict=True):
        at_mm = x + 1 if x < middle_mm else x - min(28, x / 2)
        found += [*_cross(x, y), Note((at_mm, y - 1), f"{name}: {x:.1f} / {y:.1f}", 6)]
    across = min(_RULER_ACROSS_MM, int(stock.page_w_mm / 20) * 10)
    down = min(_RULER_DOWN_MM, int(stock.page_h_mm * 0.075 - 2.4) * 10)
    if stock.page_w_mm >= 100:
        found += _ruler(middle_mm - across / 2, stock.page_h_mm * 0.25, across, down=False)
        found += _ruler(middle_mm, stock.page_h_mm * 0.25 + 14, down, down=True)
        for number, words in enumerate(
            (
                f"{'Check of the calibration' if correction else 'Calibration'}, {stock.title}",
                "Print on plain paper at 100 %, never “fit to page”.",
                "Measure three crosses from the left and from the top edge of the paper:",
                "top left, top right, bottom left. The rulers must be true to the millimetre.",
            )
        ):
            found.append(Note((middle_mm, stock.page_h_mm * 0.1 + 4 * number), words, 8, is_centred=True))
    size = (stock.page_w_mm, stock.page_h_mm)
    title = f"Calibration page, {stock.title}"
    if not is_back:
        return drawn([], size, title, "en", art={0: tuple(found)}, corrections=(correction,))
    front = tuple(
        Note((middle_mm, stock.page_h_mm * 0.1 + 4 * number), words, 8, is_centred=True)
        for number, words in enumerate(_FRONT_WORDS)
    )
    return drawn([], size, title, "en", art={0: front, 1: tuple(found)}, corrections=(None, correction))


_FRONT_WORDS = (
    "The front of the calibration of the back.",
    "Print on both sides, turned over on the long edge, at 100 %.",
    "The crosses to measure are on the other side.",
)
