"""Orders of labels: what one print job says, so that the same pages can be made today, and again in a year."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import asdict, dataclass, replace
from typing import Any

from hilum.benches.label_stocks import stock_named
from hilum.catalogue.print_book import BookedLabel
from hilum.catalogue.settings import Settings
from hilum.errors import BadInput
from hilum.labels.collation import Separator, collated
from hilum.labels.corrections import Correction
from hilum.labels.designs import PAYLOADS, LabelDesign, design
from hilum.labels.job import LabelData, LabelSheets, LabelWarning, make_labels
from hilum.labels.packets import make_packets

MOST_LABELS = 20_000
# The usual other side of what is folded; of anything else it is left white unless asked for.
FOLDED_BACK, NO_BACK = "packet-back", "none"
GROUPS = ("crop", "year", "place grown", "store place")
SORTS = ("number", "crop", "variety", "year", "place grown", "store place")


@dataclass(frozen=True, slots=True)
class LabelJob:
    """How labels are printed.

    Design, label stock, copies of each, first free position, spoiled positions, printer dots; the design of the
    other side ("" is the usual one: that of a folding packet, else none), lines to cut by, whole sets instead of
    all copies of one lot together, the order, the groups that a separator stands before, and what codes say if
    not what the design says.
    """

    design: str
    label_stock: str
    copies: int = 1
    start: int = 1
    skip: tuple[int, ...] = ()
    dpi: int = 300
    back: str = ""
    marks: bool = False
    whole_sets: bool = False
    sort_by: str = ""
    group_by: str = ""
    payload: str = ""

    def __post_init__(self) -> None:
        """Refuse what is no way to print."""
        for value, known, what in (
            (self.sort_by, SORTS, "sorted"),
            (self.group_by, GROUPS, "grouped"),
            (self.payload, PAYLOADS, "coded"),
        ):
            if value and value not in known:
                raise BadInput(f"Labels are not {what} by “{value}”; allowed: {', '.join(known)}.")
        if not 1 <= self.copies <= MOST_LABELS:
            raise BadInput(f"Copies go from 1 up, and one job has at most {MOST_LABELS} labels.")

    @property
    def choices(self) -> dict[str, Any]:
        """What the print book keeps of it beside design and label stock."""
        kept = asdict(self)
        for name in ("design", "label_stock", "copies", "sort_by", "group_by"):
            del kept[name]
        return kept


@dataclass(frozen=True, slots=True)
class PrintOrder:
    """One print job whole: its labels with their words, how they are printed, and the title of the pages."""

    labels: tuple[BookedLabel, ...]
    job: LabelJob
    title: str

    @property
    def count(self) -> int:
        """Labels in all, without separators."""
        return sum(each.copies for each in self.labels)


@dataclass(frozen=True, slots=True)
class OrderedSheets(LabelSheets):
    """Proofed pages with the order they were made by."""

    order: PrintOrder


def gathered(labels: Iterable[BookedLabel]) -> tuple[BookedLabel, ...]:
    """Put equal labels that stand behind one another together as copies."""
    found: list[BookedLabel] = []
    for each in labels:
        if found and replace(found[-1], copies=1) == replace(each, copies=1):
            found[-1] = replace(found[-1], copies=found[-1].copies + each.copies)
        else:
            found.append(each)
    return tuple(found)


def design_of(job: LabelJob) -> LabelDesign:
    """Give the design of a job, its codes saying what the job asks for."""
    chosen = design(job.design)
    return replace(chosen, payload=job.payload) if job.payload else chosen


def back_of(job: LabelJob) -> str:
    """Give the name of the design of the other side; empty where it stays white."""
    if job.back == NO_BACK:
        return ""
    return job.back or (FOLDED_BACK if job.label_stock.startswith("fold-") else "")


def make_order(
    order: PrintOrder,
    settings: Settings,
    *,
    correction: Correction | None = None,
    back_correction: Correction | None = None,
    progress: Callable[[int, int], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> OrderedSheets:
    """Make the proofed pages of an order; the same order gives the same bytes."""
    job, stock = order.job, stock_named(settings, order.job.label_stock)
    if not order.labels:
        raise BadInput("There are no labels to make: choose at least one lot.")
    if order.count > MOST_LABELS:
        raise BadInput(f"Copies go from 1 up, and one job has at most {MOST_LABELS} labels.")
    front, back = design_of(job), back_of(job) or None
    laid = laid_out(order.labels, whole_sets=job.whole_sets)
    if stock.kind == "fold":
        packet, page = stock.name.split("-")[1:3]
        if job.start != 1 or job.skip:
            raise BadInput(
                "Folding packets are printed on plain paper: each sheet begins anew, so start and skip have no meaning."
            )
        sheets = make_packets(
            [each for each in laid if isinstance(each, LabelData)], packet, page, front=front, back=back, dpi=job.dpi,
            title=order.title, progress=progress, stop=stop, correction=correction,
        )  # fmt: skip
    else:
        sheets = make_labels(
            laid, front, stock, start=job.start, skip=job.skip, dpi=job.dpi, title=order.title, progress=progress,
            stop=stop, back=back, marks=job.marks, correction=correction,
            back_correction=back_correction,
        )  # fmt: skip
    return OrderedSheets(sheets.pdf, sheets.labels, sheets.pages, sheets.proof, sheets.warnings, order)


def laid_out(labels: Sequence[BookedLabel], *, whole_sets: bool) -> list[LabelData | Separator]:
    """Give the labels in the order in which they lie on the sheets, a separator before each group that has a name."""
    data = [LabelData(each.key, each.fields, each.code) for each in labels]
    if not any(each.behind for each in labels):
        return collated(data, [each.copies for each in labels], whole_sets=whole_sets)
    # Labels of equal words may stand in two groups, so the label itself tells, not what it says.
    behind = {id(each): booked.behind for each, booked in zip(data, labels, strict=True)}
    return collated(
        data, [each.copies for each in labels], whole_sets=whole_sets, group=lambda each: behind[id(each)]
    )


def with_warnings(sheets: OrderedSheets, before: Iterable[LabelWarning]) -> OrderedSheets:
    """Give pages with more to look at, said first."""
    return replace(sheets, warnings=tuple(dict.fromkeys((*before, *sheets.warnings))))
