"""Job: label data in, proofed PDF out. The one door of this room for whoever prints."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from hilum.labels.art import Art
from hilum.labels.codes import Symbol
from hilum.labels.collation import Separator, separator_design
from hilum.labels.corrections import Correction
from hilum.labels.designs import LabelDesign
from hilum.labels.designs import design as design_named
from hilum.labels.errors import (
    LabelError,
    LabelsStopped,
    LabelWarning,
    UnfitLabels,
    joined_unfit,
    some_of,
)
from hilum.labels.geometry import Box
from hilum.labels.ink import Drawing, InkedLabel, PlacedCode, drawn
from hilum.labels.marks import cut_marks
from hilum.labels.orders import LabelData, check_labels, largest_symbol, layout_on, order
from hilum.labels.placing import Placing
from hilum.labels.proof import Proof, proofed
from hilum.labels.sheets import Place, places
from hilum.labels.stocks import LabelStock, label_stock

__all__ = [
    "Correction", "LabelData", "LabelError", "LabelSheets", "LabelWarning", "LabelsStopped", "Proof",
    "Separator", "make_labels",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class LabelSheets:
    """A finished job: the PDF, how much it holds, what the proof read, what to look at."""

    pdf: bytes
    labels: int
    pages: int
    proof: Proof
    warnings: tuple[LabelWarning, ...]


def make_labels(
    labels: Sequence[LabelData | Separator],
    design: LabelDesign | str,
    stock: LabelStock | str,
    *,
    start: int = 1,
    skip: Sequence[int] = (),
    dpi: int = 300,
    title: str,
    language: str = "en",
    stop: Callable[[], bool] | None = None,
    progress: Callable[[int, int], None] | None = None,
    back: LabelDesign | str | None = None,
    marks: bool = False,
    correction: Correction | None = None,
    back_correction: Correction | None = None,
) -> LabelSheets:
    """Lay out, draw and proof labels; raises LabelError, and gives no PDF, if anything on them is not right.

    `progress` hears steps done and steps in all (fitting, drawing and reading each label); `stop` is asked
    between steps, and when it says yes the job ends in LabelsStopped. Copies: repeat the label. `back` is the
    design of the other side: each sheet is followed by its back, columns mirrored, for printing on both sides
    turned on the long edge. `marks` draws lines to cut by. `correction` is what `solve_calibration` gave, and
    `back_correction` what it gave for the other side.
    """
    paper = label_stock(stock) if isinstance(stock, str) else stock
    front, behind = _design(design), None if back is None else _design(back)
    steps = Steps(len(labels), stop, progress)
    job = Layout(paper, dpi, language, correction, back_correction)
    sides = 1 if back is None else 2
    spots = [replace(spot, page=sides * spot.page) for spot in places(len(labels), paper, start, skip)]
    job.settle(labels, front, behind)
    lines = cut_marks(paper) if marks else ()
    corrections = (correction, back_correction)[:sides]
    drawing = Drawing((paper.page_w_mm, paper.page_h_mm), title, language, corrections)
    codes, unfit = list[PlacedCode](), list[UnfitLabels]()
    # In parts of whole pages: what is drawn is let go, so that a large job takes hardly more memory than a small one.
    for first, last in _parts(spots):
        some, here = labels[first:last], spots[first:last]
        try:
            inked = job.fronts(some, front, here, steps.counted_from(2 * first))
            if behind is not None:
                inked += job.backs(some, behind, here)
        except UnfitLabels as fault:
            unfit.append(fault)
            continue
        pages = range(here[0].page, here[-1].page + sides) if marks else ()
        drawing.add(inked, dict.fromkeys(pages, lines), steps.counted_from(first + last, most=last - first))
        codes += [_without_drawing(each.code) for each in inked if each.code]
    if unfit:
        raise joined_unfit(unfit)
    count = sum(isinstance(each, LabelData) for each in labels)
    sheets = proven(drawing.finished(), codes, paper, job, steps)
    return replace(sheets, labels=count, pages=spots[-1].page + sides)


# Labels in one part: enough that fonts, words and codes are met again within it.
_PART = 1_000


def _parts(spots: Sequence[Place]) -> Iterator[tuple[int, int]]:
    """Part a job where a page ends, after so many labels at least."""
    first = 0
    for number in range(1, len(spots)):
        if number - first >= _PART and spots[number].page != spots[number - 1].page:
            yield first, number
            first = number
    yield first, len(spots)


def _without_drawing(code: PlacedCode) -> PlacedCode:
    """Give a code as the proof needs it: what it says and where it stands."""
    return replace(code, symbol=replace(code.symbol, rectangles=""))


def _design(design: LabelDesign | str) -> LabelDesign:
    return design_named(design) if isinstance(design, str) else design


class Layout:
    """One job's labels put in their places, front and back, with the warnings that were met."""

    def __init__(
        self,
        paper: LabelStock,
        dpi: int,
        language: str,
        correction: Correction | None,
        back_correction: Correction | None = None,
    ) -> None:
        self.paper, self.dpi, self.language, self.correction = paper, dpi, language, correction
        self.back_correction = back_correction
        self.warnings: dict[LabelWarning, None] = {}
        # Fields that some side shows already.
        self.shown: set[str] = set()
        self._largest: dict[str, Symbol | None] = {}
        scaled = next((each for each in (correction, back_correction) if each and each.by_driver), None)
        if scaled:
            why = (
                f"this printer draws at {100 * scaled.scale_x:.1f} × {100 * scaled.scale_y:.1f} % of true "
                "size: words are corrected, codes keep their whole dots. Better set its driver to 100 %."
            )
            self.warnings[LabelWarning("printer", "page", why)] = None

    def settle(
        self, labels: Sequence[LabelData | Separator], front: LabelDesign, back: LabelDesign | None
    ) -> None:
        """Look at the whole job before its first part is made: what labels lack, and how large codes become."""
        real = [each for each in labels if isinstance(each, LabelData)]
        if real:
            check_labels(real, front, self.paper)
            self._largest[front.name] = largest_symbol(real, front)
        if real and back is not None:
            self._refuse_other_than_sheets()
            if layout_on(back, self.paper).code is not None:
                self._largest[back.name] = largest_symbol(real, back)

    def fronts(
        self,
        labels: Sequence[LabelData | Separator],
        design: LabelDesign,
        spots: Sequence[Place],
        reached: Callable[[int], None] = lambda done: None,
    ) -> list[InkedLabel]:
        """Place labels by their design and separators by theirs."""
        real = [(each, spot) for each, spot in zip(labels, spots, strict=True) if isinstance(each, LabelData)]
        between = [
            (each, spot) for each, spot in zip(labels, spots, strict=True) if isinstance(each, Separator)
        ]
        spots_of_real = [spot for _, spot in real]
        found = self.placed(
            [each for each, _ in real], design, spots_of_real, reached, correction=self.correction
        )
        if between:
            words = [each.label() for each, _ in between]
            found += self.placed(
                words, separator_design(), [spot for _, spot in between], correction=self.correction
            )
        return found

    def backs(
        self, labels: Sequence[LabelData | Separator], design: LabelDesign, fronts: Sequence[Place]
    ) -> list[InkedLabel]:
        """Place the other sides: on the next page, mirrored, so that each lies behind its front."""
        self._refuse_other_than_sheets()
        wide_mm = self.paper.page_w_mm
        coded = layout_on(design, self.paper).code is not None
        real = [
            (each if coded else replace(each, code=None), replace(spot, page=spot.page + 1))
            for each, spot in zip(labels, fronts, strict=True)
            if isinstance(each, LabelData)
        ]
        return self.placed(
            [each for each, _ in real],
            design,
            [spot for _, spot in real],
            turned=lambda area: replace(area, x_mm=wide_mm - area.right_mm),
            shown=frozenset(self.shown),
            correction=self.back_correction,
        )

    def _refuse_other_than_sheets(self) -> None:
        if self.paper.kind != "sheet":
            raise LabelError(f"{self.paper.name} is no sheet: only sheets are printed on both sides.")

    def placed(
        self,
        labels: Sequence[LabelData],
        design: LabelDesign,
        spots: Sequence[Place],
        reached: Callable[[int], None] = lambda done: None,
        turned: Callable[[Box], Box] = lambda area: area,
        shown: frozenset[str] = frozenset(),
        correction: Correction | None = None,
    ) -> list[InkedLabel]:
        """Place labels of one design on the paper."""
        if not labels and self._largest:
            # A part of the job may hold separators alone.
            return []
        asked = order(labels, design, self.paper, self.dpi, self._largest.get(design.name))
        placing = Placing(asked, self.language, correction, turned, shown)
        self.shown |= set(asked.layout.fields)
        inked = placing.labels(spots, reached)
        # What holds for all codes is said once, of the first label.
        said = {each.why for each in self.warnings}
        self.warnings.update((each, None) for each in asked.warnings if each.why not in said)
        self.warnings.update(placing.warnings)
        return inked


def finished(
    inked: list[InkedLabel],
    paper: LabelStock,
    art: Mapping[int, Sequence[Art]],
    job: Layout,
    title: str,
    steps: "Steps",
) -> LabelSheets:
    """Draw what is placed, and prove it."""
    size_mm = (paper.page_w_mm, paper.page_h_mm)
    reached = steps.counted_from(steps.labels)
    pdf = drawn(inked, size_mm, title, job.language, reached, art=art, corrections=(job.correction,))
    return proven(pdf, [each.code for each in inked if each.code], paper, job, steps)


def proven(
    pdf: bytes, codes: Sequence[PlacedCode], paper: LabelStock, job: Layout, steps: "Steps"
) -> LabelSheets:
    """Read every code back; raises LabelError, and gives no PDF, unless all say what they were meant to."""
    reached = steps.counted_from(2 * steps.labels)
    proof = proofed(pdf, codes, paper.page_h_mm, job.dpi, reached)
    refuse_unread(proof)
    reached(steps.labels)
    return LabelSheets(pdf, len(codes), 0, proof, tuple(job.warnings))


def refuse_unread(proof: Proof) -> None:
    """Raise LabelError naming the labels whose codes were not read as meant; say nothing if all were."""
    if proof.unread:
        raise LabelError(
            f"{len(proof.unread)} of {proof.codes} codes could not be read back: "
            f"{some_of(list(proof.unread))}. The labels are not offered for printing."
        )


class Steps:
    """Reports the steps of a job, three a label (fitting, drawing, reading), and stops it when asked."""

    def __init__(
        self, labels: int, stop: Callable[[], bool] | None, progress: Callable[[int, int], None] | None
    ) -> None:
        self.labels, self._stop, self._progress = labels, stop, progress

    def counted_from(self, start: int, most: int | None = None) -> Callable[[int], None]:
        """Give the function that is called with the number of labels done; `start` steps were done before."""
        limit = self.labels if most is None else most

        def reached(number: int) -> None:
            if self._stop and self._stop():
                raise LabelsStopped("Making labels was stopped. No PDF was made.")
            if self._progress:
                self._progress(start + min(number, limit), 3 * self.labels)

        return reached
