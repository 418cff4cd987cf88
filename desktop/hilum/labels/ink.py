"""Ink: draws what is already decided, as PDF. Millimetres become points here and nowhere else."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass

from hilum.labels.art import Art, Note, Stroke
from hilum.labels.codes import QUIET_MODULES, ModuleSize, Symbol
from hilum.labels.corrections import Correction
from hilum.labels.dots import snapped
from hilum.labels.fitting import FittedWords
from hilum.labels.fonts import runs_of
from hilum.labels.geometry import MM_PER_POINT, Box
from hilum.labels.lines import SetLine
from hilum.labels.pdf import PdfFile, shown_runs
from hilum.labels.sweeping import put_off

_RULE_PT, _FRAME_PT = 0.35, 0.8
_RULE_GREY = 0.55


@dataclass(frozen=True, slots=True)
class PlacedCode:
    """A code in its place: the box with quiet zone, in page coordinates, on the dot grid."""

    key: str
    page: int
    symbol: Symbol
    module: ModuleSize
    box: Box


@dataclass(frozen=True, slots=True)
class InkedLabel:
    """One label ready to draw: its words, moved to the corner of its printable area, and its code."""

    page: int
    area: Box
    words: FittedWords
    code: PlacedCode | None


def on_dots(wanted: Box, page_h_mm: float, step_mm: float) -> Box:
    """Move a code's box so that its lower left corner is a whole number of steps from the page's."""
    x_mm = snapped(wanted.x_mm, step_mm)
    up_mm = snapped(page_h_mm - wanted.bottom_mm, step_mm)
    return Box(x_mm, page_h_mm - up_mm - wanted.height_mm, wanted.width_mm, wanted.height_mm)


def _pt(millimetres: float) -> float:
    return millimetres / MM_PER_POINT


def _code_operators(code: PlacedCode, page_h_mm: float) -> str:
    """Give one path of whole-number rectangles under one matrix: small, and nothing to round."""
    unit_pt = _pt(code.module.module_mm)
    symbol = code.symbol
    left_pt = _pt(code.box.x_mm) + QUIET_MODULES * unit_pt
    low_pt = _pt(page_h_mm - code.box.bottom_mm) + QUIET_MODULES * unit_pt
    return f"q {unit_pt:.6f} 0 0 {unit_pt:.6f} {left_pt:.5f} {low_pt:.5f} cm {symbol.rectangles} f Q"


def _lines_and_frames(label: InkedLabel, page_h_mm: float) -> Iterable[str]:
    across_mm, down_mm = label.area.x_mm, label.area.y_mm
    for rule in label.words.rules:
        y_pt, left_pt = _pt(page_h_mm - down_mm - rule.y_mm), _pt(across_mm + rule.x_mm)
        right_pt = left_pt + _pt(rule.width_mm)
        yield f"{_RULE_PT} w {_RULE_GREY} G {left_pt:.2f} {y_pt:.2f} m {right_pt:.2f} {y_pt:.2f} l S"
    inset_pt = _FRAME_PT / 2
    for frame in label.words.frames:
        left_pt = _pt(across_mm + frame.x_mm) + inset_pt
        low_pt = _pt(page_h_mm - down_mm - frame.bottom_mm) + inset_pt
        width_pt, height_pt = _pt(frame.width_mm) - 2 * inset_pt, _pt(frame.height_mm) - 2 * inset_pt
        yield f"{_FRAME_PT} w 0 G {left_pt:.2f} {low_pt:.2f} {width_pt:.2f} {height_pt:.2f} re S"


class _TextSetting:
    """Words the operators of text, those of a box that stands alike on many labels once."""

    def __init__(self, file: PdfFile) -> None:
        self._file = file
        # The lines are kept beside their operators, so that their identity stays theirs.
        self._known: dict[int, tuple[tuple[SetLine, ...], str]] = {}

    def _box(self, lines: tuple[SetLine, ...]) -> str:
        found = self._known.get(id(lines))
        if found is None:
            if len(self._known) > _MOST_KNOWN:
                self._known.clear()
            found = self._known[id(lines)] = lines, self._worded(lines)
        return found[1]

    def _worded(self, lines: tuple[SetLine, ...]) -> str:
        parts, font = [], ""
        for line in lines:
            shown, font = shown_runs(self._file, line.runs, line.size_pt, font)
            parts.append(f"1 0 0 1 {_pt(line.x_mm):.2f} {_pt(-line.baseline_mm):.2f} Tm {shown}")
        return " ".join(parts)

    def label(self, label: InkedLabel, page_h_mm: float) -> str:
        """Give the operators of one label's words, from the corner of its printable area."""
        left_pt, top_pt = _pt(label.area.x_mm), _pt(page_h_mm - label.area.y_mm)
        words = " ".join(map(self._box, label.words.boxes))
        return f"q 1 0 0 1 {left_pt:.3f} {top_pt:.3f} cm BT {words} ET Q"


_MOST_KNOWN = 2_000


def _grey(value: float, stroke: bool) -> str:
    return f"{value:g} {'G' if stroke else 'g'}"


def _stroke(each: Stroke, page_h_mm: float) -> str:
    points = [(_pt(x), _pt(page_h_mm - y)) for x, y in each.points]
    path = " ".join(f"{x:.3f} {y:.3f} {'l' if n else 'm'}" for n, (x, y) in enumerate(points))
    dash = " ".join(f"{_pt(part):.2f}" for part in each.dash_mm)
    parts = [f"q {_pt(each.width_mm):.3f} w [{dash}] 0 d", _grey(each.grey, True)]
    if each.fill is not None:
        parts.append(_grey(each.fill, False))
    paint = {(False, False): "S", (True, False): "s", (False, True): "f", (True, True): "f"}
    ends = paint[each.is_closed, each.fill is not None]
    if each.fill is not None and each.width_mm > 0:
        ends = "b" if each.is_closed else "B"
    return " ".join([*parts, path, ends, "Q"])


def _note(file: PdfFile, each: Note, page_h_mm: float) -> str:
    runs, _ = runs_of(each.text, each.face)
    width_pt = sum(run.face.width_em(run.text) for run in runs) * each.size_pt
    x_pt = _pt(each.at[0]) - (width_pt / 2 if each.is_centred else 0)
    shown, _ = shown_runs(file, runs, each.size_pt, "")
    y_pt = _pt(page_h_mm - each.at[1])
    return f"BT {_grey(each.grey, False)} 1 0 0 1 {x_pt:.2f} {y_pt:.2f} Tm {shown} 0 g ET"


def _art_operators(file: PdfFile, each: Art, page_h_mm: float) -> str:
    if isinstance(each, Stroke):
        return _stroke(each, page_h_mm)
    if isinstance(each, Note):
        return _note(file, each, page_h_mm)
    name, box = file.picture(each.name, each.width, each.height, each.pixels), each.box
    left_pt, low_pt = _pt(box.x_mm), _pt(page_h_mm - box.bottom_mm)
    return (
        f"q {_pt(box.width_mm):.3f} 0 0 {_pt(box.height_mm):.3f} {left_pt:.3f} {low_pt:.3f} cm /{name} Do Q"
    )


def _turned(correction: Correction, page_h_mm: float) -> str:
    """Word the correction as a matrix of the page, whose heights count from below."""
    a, b, c, d, e, f = correction.matrix()
    high = page_h_mm
    across, up = _pt(b * high + c), _pt(high - e * high - f)
    return f"{a:.7f} {-d:.7f} {-b:.7f} {e:.7f} {across:.4f} {up:.4f} cm"


def drawn(
    labels: Sequence[InkedLabel],
    page_size_mm: tuple[float, float],
    title: str,
    language: str,
    each: Callable[[int], None] = lambda done: None,
    *,
    art: Mapping[int, Sequence[Art]] | None = None,
    corrections: Sequence[Correction | None] = (None,),
) -> bytes:
    """Draw labels page by page and give the PDF; `each` hears how many are done.

    `art` is drawn below the labels of its page. A correction turns all but the codes: these are already where they
    must be, on whole dots. Of several, each page has the next in turn.
    """
    drawing = Drawing(page_size_mm, title, language, corrections)
    drawing.add(labels, art or {}, each)
    return drawing.finished()


class Drawing:
    """A PDF in the making: labels are added in parts of whole pages, and need not be kept afterwards."""

    def __init__(
        self,
        page_size_mm: tuple[float, float],
        title: str,
        language: str,
        corrections: Sequence[Correction | None] = (None,),
    ) -> None:
        """`corrections` are used in turn, page by page: one for all, or those of fronts and backs."""
        self._width_mm, self._height_mm = page_size_mm
        self._file, self._corrections = PdfFile(title, language), tuple(corrections)
        self._text = _TextSetting(self._file)

    def add(
        self,
        labels: Sequence[InkedLabel],
        art: Mapping[int, Sequence[Art]],
        each: Callable[[int], None] = lambda done: None,
    ) -> None:
        """Draw the pages of some labels, in the order of their numbers; what is on them is on no other part's."""
        with put_off():
            pages = _by_page(labels)
            for page in sorted({*pages, *art}):
                correction = self._corrections[page % len(self._corrections)]
                self._page(pages.get(page, ()), art.get(page, ()), correction, each)

    def finished(self) -> bytes:
        """Give the whole PDF."""
        return self._file.finished()

    def _page(
        self,
        labels: Iterable[tuple[int, InkedLabel]],
        art: Sequence[Art],
        correction: Correction | None,
        each: Callable[[int], None],
    ) -> None:
        high_mm, file = self._height_mm, self._file
        operators = [f"q {_turned(correction, high_mm)}"] if correction else []
        operators += [_art_operators(file, one, high_mm) for one in art]
        codes = []
        for number, label in labels:
            operators += [
                _art_operators(file, one.moved(label.area.x_mm, label.area.y_mm), high_mm)
                for one in label.words.art
            ]
            operators += _lines_and_frames(label, high_mm)
            operators.append(self._text.label(label, high_mm))
            if label.code:
                codes.append(_code_operators(label.code, high_mm))
            each(number)
        if correction:
            operators.append("Q")
        file.page(_pt(self._width_mm), _pt(high_mm), [*operators, *codes])


def _by_page(labels: Sequence[InkedLabel]) -> dict[int, list[tuple[int, InkedLabel]]]:
    pages: dict[int, list[tuple[int, InkedLabel]]] = {}
    for number, label in enumerate(labels, start=1):
        pages.setdefault(label.page, []).append((number, label))
    return pages
