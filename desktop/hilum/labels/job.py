"""Job: label data in, proofed PDF out. The one door of this room for whoever prints."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from hilum.labels.art import Art
from hilum.labels.collation import Separator, separator_design
from hilum.labels.corrections import Correction
from hilum.labels.designs import LabelDesign
from hilum.labels.designs import design as design_named
from hilum.labels.errors import LabelError, LabelsStopped, LabelWarning, some_of
from hilum.labels.geometry import Box
from hilum.labels.ink import InkedLabel, drawn
from hilum.labels.marks import cut_marks
from hilum.labels.orders import LabelData, layout_on, order
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
) -> LabelSheets:
    """Lay out, draw and proof labels; raises LabelError, and gives no PDF, if anything on them is not right.

    `progress` hears steps done and steps in all (fitting, drawing and reading each label); `stop` is asked
    between steps, and when it says yes the job ends in LabelsStopped. Copies: repeat the label. `back` is the
    design of the other side: each sheet is followed by its back, columns mirrored, for printing on both sides
    turned on the long edge. `marks` draws lines to cut by. `correction` is what `solve_calibration` gave.
    """
    paper = label_stock(stock) if isinstance(stock, str) else stock
    steps = Steps(len(labels), stop, progress)
    job = Layout(paper, dpi, language, correction)
    spots = places(len(labels), paper, start, skip)
    sides = 1 if back is None else 2
    fronts = [replace(spot, page=sides * spot.page) for spot in spots]
    inked = job.fronts(labels, _design(design), fronts, steps.of_stage(0))
    if back is not None:
        inked += job.backs(labels, _design(back), fronts)
    pages = max(each.page for each in inked) + 1
    art = dict.fromkeys(range(pages), cut_marks(paper)) if marks else {}
    sheets = finished(inked, paper, art, job, title, steps)
    count = sum(isinstance(each, LabelData) for each in labels)
    return replace(sheets, labels=count, pages=pages)


def _design(design: LabelDesign | str) -> LabelDesign:
    return design_named(design) if isinstance(design, str) else design


class Layout:
    """One job's labels put in their places, front and back, with the warnings that were met."""

    def __init__(self, paper: LabelStock, dpi: int, language: str, correction: Correction | None) -> None:
        self.paper, self.dpi, self.language, self.correction = paper, dpi, language, correction
        self.warnings: dict[LabelWarning, None] = {}
        # Fields that some side shows already.
        self.shown: set[str] = set()
        if correction and correction.by_driver:
            why = (
                f"this printer draws at {100 * correction.scale_x:.1f} × {100 * correction.scale_y:.1f} % of true "
                "size: words are corrected, codes keep their whole dots. Better set its driver to 100 %."
            )
            self.warnings[LabelWarning("printer", "page", why)] = None

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
        found = self.placed([each for each, _ in real], design, [spot for _, spot in real], reached)
        if between:
            words = [each.label() for each, _ in between]
            found += self.placed(words, separator_design(), [spot for _, spot in between])
        return found

    def backs(
        self, labels: Sequence[LabelData | Separator], design: LabelDesign, fronts: Sequence[Place]
    ) -> list[InkedLabel]:
        """Place the other sides: on the next page, mirrored, so that each lies behind its front."""
        if self.paper.kind != "sheet":
            raise LabelError(f"{self.paper.name} is no sheet: only sheets are printed on both sides.")
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
        )

    def placed(
        self,
        labels: Sequence[LabelData],
        design: LabelDesign,
        spots: Sequence[Place],
        reached: Callable[[int], None] = lambda done: None,
        turned: Callable[[Box], Box] = lambda area: area,
        shown: frozenset[str] = frozenset(),
    ) -> list[InkedLabel]:
        """Place labels of one design on the paper."""
        asked = order(labels, design, self.paper, self.dpi)
        placing = Placing(asked, self.language, self.correction, turned, shown)
        self.shown |= set(asked.layout.fields)
        inked = placing.labels(spots, reached)
        self.warnings.update(asked.warnings)
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
    pdf = drawn(inked, size_mm, title, job.language, steps.of_stage(1), art=art, correction=job.correction)
    codes = [each.code for each in inked if each.code]
    proof = proofed(pdf, codes, paper.page_h_mm, job.dpi, steps.of_stage(2))
    refuse_unread(proof)
    steps.of_stage(2)(steps.labels)
    return LabelSheets(pdf, len(inked), 0, proof, tuple(job.warnings))


def refuse_unread(proof: Proof) -> None:
    """Raise LabelError naming the labels whose codes were not read as meant; say nothing if all were."""
    if proof.unread:
        raise LabelError(
            f"{len(proof.unread)} of {proof.codes} codes could not be read back: "
            f"{some_of(list(proof.unread))}. The labels are not offered for printing."
        )


class Steps:
    """Reports three equal stages of a job, and stops it when asked."""

    def __init__(
        self, labels: int, stop: Callable[[], bool] | None, progress: Callable[[int, int], None] | None
    ) -> None:
        self.labels, self._stop, self._progress = labels, stop, progress

    def of_stage(self, stage: int) -> Callable[[int], None]:
        """Give the function that one stage calls with the number of labels it has done."""

        def reached(number: int) -> None:
            if self._stop and self._stop():
                raise LabelsStopped("Making labels was stopped. No PDF was made.")
            if self._progress:
                self._progress(stage * self.labels + min(number, self.labels), 3 * self.labels)

        return reached
