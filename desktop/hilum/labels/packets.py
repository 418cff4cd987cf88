"""Packets: labels printed as folding packets on plain paper, front and back on one side of the sheet."""

from collections.abc import Callable, Sequence
from dataclasses import replace

from hilum.labels.art import Art
from hilum.labels.corrections import Correction
from hilum.labels.designs import LabelDesign
from hilum.labels.designs import design as design_named
from hilum.labels.folding import FoldingPacket, folding_packet, lines_of, panels_on
from hilum.labels.job import LabelSheets, Layout, Steps, finished
from hilum.labels.orders import LabelData
from hilum.labels.sheets import places


def make_packets(
    labels: Sequence[LabelData],
    packet: FoldingPacket | str = "c7",
    page: str = "a4",
    *,
    front: LabelDesign | str = "packet-small",
    back: LabelDesign | str | None = "packet-back",
    dpi: int = 300,
    title: str,
    language: str = "en",
    cut: bool = True,
    stop: Callable[[], bool] | None = None,
    progress: Callable[[int, int], None] | None = None,
    correction: Correction | None = None,
) -> LabelSheets:
    """Lay out, draw and proof folding packets on A4 or Letter paper; refuses what `make_labels` refuses."""
    size = folding_packet(packet) if isinstance(packet, str) else packet
    fronts, backs = panels_on(size, page)
    steps = Steps(len(labels), stop, progress)
    spots = places(len(labels), fronts)
    job = Layout(fronts, dpi, language, correction)
    inked = job.fronts(labels, _design(front), spots, steps.counted_from(0))
    if back is not None:
        behind = Layout(backs, dpi, language, correction)
        plain = [replace(each, code=None) for each in labels]
        inked += behind.placed(plain, _design(back), spots, shown=frozenset(job.shown), correction=correction)
        job.warnings.update(behind.warnings)
    art: dict[int, list[Art]] = {}
    for spot in spots:
        art.setdefault(spot.page, []).extend(lines_of(size, page, spot.position, cut=cut))
    sheets = finished(inked, fronts, art, job, title, steps)
    return replace(sheets, labels=len(labels), pages=len(art))


def _design(design: LabelDesign | str) -> LabelDesign:
    return design_named(design) if isinstance(design, str) else design
