"""How much unsharpness the codes of a print job survive: on white and on kraft paper, at 203 dpi too."""

from dataclasses import dataclass

from hilum.benches.label_orders import PrintOrder, design_of
from hilum.benches.label_stocks import stock_named
from hilum.catalogue.opening import Catalogue
from hilum.errors import KeeperError
from hilum.labels.blurring import blur_margin
from hilum.labels.job import LabelData

_ROLL_DPI = 203


@dataclass(frozen=True, slots=True)
class CodeMargin:
    """The blur that the codes survive on one paper at one resolution, in millimetres on the label."""

    paper: str
    dpi: int
    blur_mm: float


def code_margins(catalogue: Catalogue, order: PrintOrder) -> tuple[CodeMargin, ...]:
    """Try the first code of an order; nothing where it has none, or where a printer of 203 dpi could not draw it."""
    settings = catalogue.settings()
    booked = next((each for each in order.labels if each.code), None)
    if booked is None:
        return ()
    label = LabelData(booked.key, booked.fields, booked.code)
    design, stock = design_of(order.job), stock_named(settings, order.job.label_stock)
    found: list[CodeMargin] = []
    for paper, dpi in (("white", order.job.dpi), ("kraft", order.job.dpi), ("white", _ROLL_DPI)):
        if (paper, dpi) in {(each.paper, each.dpi) for each in found}:
            continue
        try:
            found.append(CodeMargin(paper, dpi, blur_margin(label, design, stock, dpi, paper).blur_mm))
        except KeeperError:
            # A code that fits at the job's own dots may be too large for coarser ones: there is no such margin.
            continue
    return tuple(found)


def margin_words(margins: tuple[CodeMargin, ...]) -> str:
    """Say it in one line."""
    said = [
        f"{each.blur_mm:.2f} mm on {each.paper}{f' at {each.dpi} dpi' if each.dpi != margins[0].dpi else ''}"
        for each in margins
    ]
    return f"Codes are read with a blur of up to {', '.join(said)}."
