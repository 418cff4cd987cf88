"""Label sheets for lots and dishes: the words come from the catalogue, the pages and their proof from `labels`."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from hilum.benches.views import LotView, month_words, partial_date, view
from hilum.catalogue import germination_tests, listing
from hilum.catalogue.find import resolve_lot
from hilum.catalogue.germination_tests import GerminationTestLine
from hilum.catalogue.opening import Catalogue
from hilum.catalogue.settings import Settings, read_settings
from hilum.errors import BadInput
from hilum.labels.designs import LabelDesign, design, designs
from hilum.labels.dots import dot_mm
from hilum.labels.job import LabelData, LabelSheets, LabelsStopped, LabelWarning, make_labels
from hilum.labels.orders import fitting_stocks
from hilum.labels.preview import PagePicture, page_count, page_picture
from hilum.labels.stocks import LabelStock, label_stock, label_stocks
from hilum.seedlore.crops import Crop

__all__ = [
    "LabelDesign",
    "LabelJob",
    "LabelSheets",
    "LabelStock",
    "LabelWarning",
    "LabelsStopped",
    "PagePicture",
    "design",
    "designs",
    "dish_labels",
    "dots_picture",
    "fitting_stocks",
    "label_stock",
    "label_stocks",
    "lot_labels",
    "page_count",
    "page_picture",
]

MOST_LABELS = 20_000
YEAR_UNKNOWN, PLACE_UNKNOWN = "year unknown", "place unknown"


@dataclass(frozen=True, slots=True)
class LabelJob:
    """What to print on: design, label stock, copies of each, first free position, spoiled positions, printer dots."""

    design: str
    label_stock: str
    copies: int = 1
    start: int = 1
    skip: tuple[int, ...] = ()
    dpi: int = 300


def lot_labels(
    catalogue: Catalogue,
    numbers: Sequence[str],
    job: LabelJob,
    *,
    on: date,
    seeds_per_packet: int | None = None,
    progress: Callable[[int, int], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> LabelSheets:
    """Make proofed label sheets for some lots; nothing is written to the catalogue.

    Refused when a code cannot be read back, when a protected text does not fit, and when a poisonous crop's
    caution would be missing.
    """
    if not numbers:
        raise BadInput("No lots were chosen to print labels for.")
    with catalogue.look() as connection:
        settings = read_settings(connection)
        wanted = []
        for typed in numbers:
            lot_id = resolve_lot(connection, typed)
            shown = view(listing.one_lot(connection, lot_id), settings)
            wanted.append((shown, newest_result(germination_tests.germination_tests_of(connection, lot_id))))
    return make_lot_sheets(
        wanted, job, settings, on=on, seeds_per_packet=seeds_per_packet, progress=progress, stop=stop
    )


def make_lot_sheets(
    wanted: Sequence[tuple[LotView, GerminationTestLine | None]],
    job: LabelJob,
    settings: Settings,
    *,
    on: date,
    seeds_per_packet: int | None = None,
    progress: Callable[[int, int], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> LabelSheets:
    """Make sheets for lots already read, each with its newest finished test."""
    chosen = design(job.design)
    if not 1 <= job.copies <= MOST_LABELS or len(wanted) * job.copies > MOST_LABELS:
        raise BadInput(f"Copies go from 1 up, and one job has at most {MOST_LABELS} labels.")
    labels = []
    for shown, result in wanted:
        refuse_without_caution(shown, chosen)
        label = LabelData(
            key=shown.number,
            fields=lot_fields(shown, result, settings, on=on, seeds_per_packet=seeds_per_packet),
            code=shown.number,
        )
        labels += [label] * job.copies
    sheets = make_labels(
        labels,
        chosen,
        label_stock(job.label_stock),
        start=job.start,
        skip=job.skip,
        dpi=job.dpi,
        title=f"{chosen.title}, {len(labels)} labels",
        progress=progress,
        stop=stop,
    )
    return replace(sheets, warnings=(*_unknown_words(wanted), *sheets.warnings))


def _unknown_words(wanted: Sequence[tuple[LotView, GerminationTestLine | None]]) -> tuple[LabelWarning, ...]:
    """Point out labels that can only say that the year or the place is not known."""
    said = {}
    for shown, _ in wanted:
        for box, value in (("year", shown.line.year), ("place_grown", shown.line.place_grown)):
            if not value:
                what = box.replace("_", " ")
                why = f"the {what} is not known; the label says so. A packet is commonly asked to name it."
                said[shown.number, box] = LabelWarning(shown.number, box, why)
    return tuple(said.values())


def newest_result(tests: Sequence[GerminationTestLine]) -> GerminationTestLine | None:
    """Give the newest finished test of a lot, or None."""
    finished = [test for test in tests if test.state == "finished" and test.finished_on is not None]
    return max(finished, key=lambda test: (test.finished_on or test.started_on, test.id), default=None)


def refuse_without_caution(shown: LotView, chosen: LabelDesign) -> None:
    """Refuse a packet or jar label that would leave out the caution of a poisonous crop."""
    reference = shown.reference
    if reference is None or not reference.poisonous or "dish" in chosen.required:
        return
    if not reference.label_caution or "caution" not in chosen.fields:
        raise BadInput(
            f"Lot {shown.number}: {shown.line.crop} is poisonous and the design “{chosen.title}” has no place for its "
            "caution. Choose a design that prints cautions."
        )


def lot_fields(
    shown: LotView,
    result: GerminationTestLine | None,
    settings: Settings,
    *,
    on: date,
    seeds_per_packet: int | None = None,
) -> dict[str, str]:
    """Give the words a design may use for one lot; what is not known is empty."""
    line, reference = shown.line, shown.reference
    return {
        "crop": line.crop,
        "botanical": line.botanical_name,
        "variety": line.variety,
        "year": YEAR_UNKNOWN if line.year is None else str(line.year),
        "place_grown": line.place_grown or PLACE_UNKNOWN,
        "lot": line.number,
        "grower": line.grower or "",
        "received": partial_date(line.received_on, line.received_precision),
        "germination": germination_words(result),
        "seeds": f"{seeds_per_packet} seeds" if seeds_per_packet else "",
        "packed": f"packed {month_words(on)}" if seeds_per_packet else "",
        "caution": caution_of(reference),
        "sow": f"sow {reference.sowing_depth_mm:g} mm deep"
        if reference and reference.sowing_depth_mm
        else "",
        "library": settings.library_name,
        "spacing_mm": spacing_of(reference),
    }


def spacing_of(reference: Crop | None) -> str:
    """Give how far apart plants of a crop stand, in millimetres, or nothing."""
    return f"{reference.plant_spacing_mm:g}" if reference and reference.plant_spacing_mm else ""


def caution_of(reference: Crop | None) -> str:
    """Give the caution a label of a crop must carry, or nothing."""
    return (reference.label_caution or "") if reference else ""


def germination_words(result: GerminationTestLine | None) -> str:
    """Give a result as a label says it: the figure, how many seeds, the month, and how it was found."""
    if result is None or result.normal_percent is None or result.finished_on is None:
        return ""
    hard = f" + {result.hard_percent} % hard" if result.hard_percent else ""
    whose = result.rules if result.origin == "here" else f"{result.rules}, {result.origin}"
    return (
        f"{result.normal_percent} %{hard} of {result.seeds} seeds, {month_words(result.finished_on)}, {whose}"
    )


def dish_labels(
    catalogue: Catalogue,
    test_ids: Sequence[int],
    job: LabelJob,
    *,
    progress: Callable[[int, int], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> LabelSheets:
    """Make a tag for every dish of some running tests."""
    labels = []
    with catalogue.look() as connection:
        settings = read_settings(connection)
        for test_id in test_ids:
            test = germination_tests.one_test(connection, test_id)
            dishes = germination_tests.dishes_of(connection, test_id)
            shown = view(listing.one_lot(connection, test.lot_id), settings)
            for dish in dishes:
                fields = lot_fields(shown, None, settings, on=test.started_on)
                fields |= {
                    # The tag stays on the bench; a caution is for whoever takes seed away.
                    "caution": "",
                    "dish": f"dish {dish.number} of {len(dishes)}, {dish.seeds} seeds",
                    "test_started": test.started_on.isoformat(),
                    "count_days": count_days(test),
                    "substrate": test.substrate,
                    "temperature": test.temperature,
                }
                labels.append(LabelData(key=f"{test.lot} dish {dish.number}", fields=fields, code=test.lot))
    if not labels:
        raise BadInput("No running test was chosen to print dish tags for.")
    return make_labels(
        labels * job.copies if job.copies == 1 else [label for label in labels for _ in range(job.copies)],
        design(job.design),
        label_stock(job.label_stock),
        start=job.start,
        skip=job.skip,
        dpi=job.dpi,
        title=f"Dish tags, {len(labels)} dishes",
        progress=progress,
        stop=stop,
    )


def count_days(test: GerminationTestLine) -> str:
    """Give the counting days of a test as a tag says them: “12 Jan, 20 Jan”."""
    numbers = [number for number in (test.first_count_days, test.final_count_days) if number is not None]
    days = [test.started_on + timedelta(days=test.prechill_days + number) for number in numbers]
    return ", ".join(f"{day.day} {month_words(day)[:3]}" for day in days)


def dots_picture(pdf: bytes, page: int, page_w_mm: float, dpi: int) -> PagePicture:
    """Draw one page, counted from 0, so that one pixel is exactly one printer dot, as the proof read it."""
    # A whole number of pixels for the page would pull the codes off the dots by up to half a dot at its edge.
    return page_picture(pdf, page, page_w_mm / dot_mm(dpi))  # type: ignore[arg-type]
