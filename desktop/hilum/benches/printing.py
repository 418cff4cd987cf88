"""Label sheets for lots and dishes: the words come from the catalogue, the pages and their proof from `labels`."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from datetime import date
from typing import Any

from hilum.benches.asked import asked_of, goes_out
from hilum.benches.label_orders import (
    MOST_LABELS,
    LabelJob,
    OrderedSheets,
    PrintOrder,
    back_of,
    design_of,
    gathered,
    make_order,
    with_warnings,
)
from hilum.benches.label_stocks import fits, stock_named, stocks_offered
from hilum.benches.views import LotView, view
from hilum.benches.wording import month_words, partial_date
from hilum.catalogue import germination_tests, listing, steps
from hilum.catalogue.find import resolve_lot
from hilum.catalogue.germination_tests import DishDays, DishLine, GerminationTestLine
from hilum.catalogue.opening import Catalogue
from hilum.catalogue.print_book import BookedLabel
from hilum.catalogue.settings import Settings, read_settings
from hilum.catalogue.treated import treatment_words
from hilum.errors import BadInput
from hilum.labels.designs import LabelDesign, design, designs
from hilum.labels.dots import dot_mm
from hilum.labels.job import LabelSheets, LabelsStopped, LabelWarning
from hilum.labels.orders import fitting_stocks
from hilum.labels.preview import PagePicture, page_count, page_picture
from hilum.labels.proof import page_dots
from hilum.labels.stocks import LabelStock, label_stock, label_stocks
from hilum.labels.turning import turned_pages
from hilum.seedlore.crops import Crop

__all__ = [
    "LabelDesign",
    "LabelJob",
    "LabelSheets",
    "LabelStock",
    "LabelWarning",
    "LabelsStopped",
    "OrderedSheets",
    "PagePicture",
    "design",
    "designs",
    "dish_labels",
    "dots_picture",
    "fits",
    "fitting_stocks",
    "label_stock",
    "label_stocks",
    "lot_labels",
    "page_count",
    "page_picture",
    "stock_named",
    "stocks_offered",
    "turned_pages",
]

YEAR_UNKNOWN, PLACE_UNKNOWN = "year unknown", "place unknown"
# What stands on a packet below the standard where the local rules ask for it (7 CFR 201.29).
BELOW_STANDARD = "Below Standard"


def lot_labels(
    catalogue: Catalogue,
    numbers: Sequence[str],
    job: LabelJob,
    *,
    on: date,
    seeds_per_packet: int | None = None,
    copies_of: Mapping[str, int] | None = None,
    progress: Callable[[int, int], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> OrderedSheets:
    """Make proofed label sheets for some lots; nothing is written to the catalogue.

    `copies_of` gives a number of copies by lot number; lots it does not name get those of the job. Refused when a
    code cannot be read back, when a protected text does not fit, and when a poisonous crop's caution would be missing.
    """
    if not numbers:
        raise BadInput("No lots were chosen to print labels for.")
    with catalogue.look() as connection:
        settings = read_settings(connection)
        treated, own = steps.treated_lots(connection), _copies_by_lot(connection, copies_of or {})
        wanted, places = [], {}
        for typed in numbers:
            lot_id = resolve_lot(connection, typed)
            shown = view(listing.one_lot(connection, lot_id), settings)
            result = newest_result(germination_tests.germination_tests_of(connection, lot_id))
            wanted += [(shown, result)] * own.get(lot_id, job.copies)
            if "store place" in (job.sort_by, job.group_by):
                places[lot_id] = store_place_of(connection, lot_id)
    return make_lot_sheets(
        wanted, replace(job, copies=1), settings, on=on, treated=treated, seeds_per_packet=seeds_per_packet,
        places=places, progress=progress, stop=stop,
    )  # fmt: skip


def _copies_by_lot(connection: Any, copies_of: Mapping[str, int]) -> dict[int, int]:
    bad = next((number for number, copies in copies_of.items() if copies < 0), None)
    if bad is not None:
        raise BadInput(f"Lot {bad}: {copies_of[bad]} copies cannot be. Copies go from 0 up.")
    return {resolve_lot(connection, number): copies for number, copies in copies_of.items()}


def store_place_of(connection: Any, lot_id: int) -> str:
    """Give the whole path of the store place a lot lies in now; empty when it lies in none."""
    return next((stay.path for stay in steps.stays_of(connection, lot_id) if stay.until_on is None), "")


def make_lot_sheets(
    wanted: Sequence[tuple[LotView, GerminationTestLine | None]],
    job: LabelJob,
    settings: Settings,
    *,
    on: date,
    treated: Mapping[int, str],
    seeds_per_packet: int | Sequence[int] | None = None,
    places: Mapping[int, str] | None = None,
    progress: Callable[[int, int], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> OrderedSheets:
    """Make sheets for lots already read, each with its newest finished test.

    `treated` is what is noted of treated lots, by id (`steps.treated_lots`); `seeds_per_packet` one figure for all or
    one for each of the `wanted`; `places` where lots lie, for order and groups by store place.
    """
    chosen, asked = design_of(job), _Asked(job, settings, on)
    if len(wanted) * job.copies > MOST_LABELS:
        raise BadInput(f"Copies go from 1 up, and one job has at most {MOST_LABELS} labels.")
    labels = []
    seeds = seeds_per_packet if isinstance(seeds_per_packet, Sequence) else [seeds_per_packet] * len(wanted)
    each_with_seeds = list(zip(wanted, seeds, strict=True))
    for (shown, result), in_each in _in_order(each_with_seeds, job, places or {}):
        refuse_without_caution(shown, chosen)
        fields = lot_fields(
            shown,
            result,
            settings,
            on=on,
            seeds_per_packet=in_each,
            treatment=treated.get(shown.line.id),
        )
        if "treatment" not in chosen.fields:
            # A design without a place of its own for it says it where cautions stand.
            fields["caution"] = " ".join(text for text in (fields["treatment"], fields["caution"]) if text)
        behind = _words_of(shown, job.group_by, places or {}) if job.group_by else ""
        labels.append(BookedLabel(shown.number, fields, shown.number, job.copies, shown.line.id, behind))
        asked.look_at(shown, result, fields, is_treated=bool(fields["treatment"]))
    order = PrintOrder(gathered(labels), job, f"{chosen.title}, {len(labels) * job.copies} labels")
    return with_warnings(make_order(order, settings, progress=progress, stop=stop), asked.warnings)


# A lot with its newest test, and the seeds in each of its packets.
_Wanted = tuple[tuple[LotView, GerminationTestLine | None], int | None]


def _in_order(wanted: Sequence[_Wanted], job: LabelJob, places: Mapping[int, str]) -> list[_Wanted]:
    """Sort lots as the job asks, groups by their names; without a wish they stay as they came."""
    found = list(wanted)
    if job.sort_by:
        found.sort(key=lambda each: _words_of(each[0][0], job.sort_by, places).casefold())
    if job.group_by:
        found.sort(key=lambda each: _words_of(each[0][0], job.group_by, places).casefold())
    return found


def _words_of(shown: LotView, name: str, places: Mapping[int, str]) -> str:
    """Give what a lot is sorted by, and what the separator before its group says."""
    line = shown.line
    return {
        "number": line.number,
        "crop": line.crop,
        "variety": line.variety,
        "year": YEAR_UNKNOWN if line.year is None else str(line.year),
        "place grown": line.place_grown or PLACE_UNKNOWN,
        "store place": places.get(line.id) or "not stored yet",
    }[name]


class _Asked:
    """Looks at each label for what packets are commonly asked to say; nothing where seed does not go out."""

    def __init__(self, job: LabelJob, settings: Settings, on: date) -> None:
        chosen, stock, back = design_of(job), stock_named(settings, job.label_stock), back_of(job)
        self._on, self._is_for_packets = on, goes_out(chosen)
        layout = chosen.layout_for(stock.ink_area(1, chosen.padding_mm))
        self._shown = set(layout.fields if layout else ()) | (set(design(back).fields) if back else set())
        self.warnings: dict[LabelWarning, None] = {}

    def look_at(
        self,
        shown: LotView,
        result: GerminationTestLine | None,
        fields: Mapping[str, str],
        *,
        is_treated: bool,
    ) -> None:
        """Note what one label lacks; words that only say that something is not known count for nothing."""
        said = {
            name: text
            for name, text in fields.items()
            if name in self._shown and text not in (YEAR_UNKNOWN, PLACE_UNKNOWN)
        }
        found = asked_of(shown, result, said, on=self._on, is_treated=is_treated)
        kept = found if self._is_for_packets else [each for each in found if each.box == "treatment"]
        self.warnings.update(dict.fromkeys(kept))


def newest_result(tests: Sequence[GerminationTestLine]) -> GerminationTestLine | None:
    """Give the newest finished test of a lot, or None."""
    finished = [test for test in tests if test.state == "finished" and test.finished_on is not None]
    return max(finished, key=lambda test: (test.finished_on or test.started_on, test.id), default=None)


def refuse_without_caution(shown: LotView, chosen: LabelDesign) -> None:
    """Refuse a packet or jar label that would leave out a caution, or name seed that nobody can name."""
    if chosen.name == "dish":
        return
    refuse_packet_of_unknown(shown, chosen)
    if shown.line.treatment and not {"treatment", "caution"} & set(chosen.fields):
        raise BadInput(
            f"Lot {shown.number} is treated seed ({shown.line.treatment}) and the design “{chosen.title}” has no "
            "place to say so. Choose a design that prints the treatment."
        )
    reference = shown.reference
    if reference is None or not reference.poisonous or "dish" in chosen.required:
        return
    if not reference.label_caution or "caution" not in chosen.fields:
        raise BadInput(
            f"Lot {shown.number}: {shown.line.crop} is poisonous and the design “{chosen.title}” has no place for its "
            "caution. Choose a design that prints cautions."
        )


def refuse_packet_of_unknown(shown: LotView, chosen: LabelDesign) -> None:
    """Refuse a packet label for seed whose identity is unknown: a packet carries a name to whoever sows it."""
    if shown.line.identity == "unknown" and chosen.name.startswith("packet"):
        raise BadInput(
            f"The identity of lot {shown.number} is unknown; no packet is labelled “{shown.line.variety}”. "
            "Grow it out and record what was seen. A jar label says that it is unknown."
        )


def variety_words(shown: LotView) -> str:
    """Give the variety as a label says it: of an unknown lot, that it is unknown and what it came as."""
    if shown.line.identity == "unknown":
        return f"unknown, came as {shown.line.variety}"
    return f"{shown.line.variety} F1" if shown.line.is_f1 else shown.line.variety


def lot_fields(
    shown: LotView,
    result: GerminationTestLine | None,
    settings: Settings,
    *,
    on: date,
    seeds_per_packet: int | None = None,
    treatment: str | None = None,
) -> dict[str, str]:
    """Give the words a design may use for one lot; what is not known is empty.

    `treatment` is what is noted of seed that was treated (it may be nothing), None for seed that was not.
    """
    line, reference = shown.line, shown.reference
    return {
        "crop": line.crop,
        "botanical": line.botanical_name,
        "variety": variety_words(shown),
        "note": line.rights_notice,
        "year": YEAR_UNKNOWN if line.year is None else str(line.year),
        "place_grown": line.place_grown or PLACE_UNKNOWN,
        "lot": line.number,
        "grower": line.grower or "",
        "received": partial_date(line.received_on, line.received_precision),
        "germination": germination_words(result),
        "seeds": f"{seeds_per_packet} seeds" if seeds_per_packet else "",
        "packed": f"packed {month_words(on)}" if seeds_per_packet else "",
        "caution": caution_of(reference),
        "treatment": treatment_words(line.treatment or treatment),
        "below_standard": BELOW_STANDARD if settings.says_below_standard and line.below_standard else "",
        "address": settings.web_address,
        "sow": f"sow {reference.sowing_depth_mm:g} mm deep"
        if reference and reference.sowing_depth_mm
        else "",
        "library": settings.library_name,
        "spacing_mm": spacing_of(reference),
        "notes": line.growing_notes,
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
) -> OrderedSheets:
    """Make a tag for every dish of some running tests."""
    labels = []
    with catalogue.look() as connection:
        settings = read_settings(connection)
        for test_id in test_ids:
            test = germination_tests.one_test(connection, test_id)
            shown = view(listing.one_lot(connection, test.lot_id), settings)
            for each in dish_tags(test, germination_tests.dishes_of(connection, test_id), shown, settings):
                labels.append(replace(each, copies=job.copies))
    if not labels:
        raise BadInput("No running test was chosen to print dish tags for.")
    order = PrintOrder(tuple(labels), job, f"Dish tags, {len(labels)} dishes")
    return make_order(order, settings, progress=progress, stop=stop)


def dish_tags(
    test: GerminationTestLine, dishes: Sequence[DishLine], shown: LotView, settings: Settings
) -> list[BookedLabel]:
    """Give the words of a tag for each dish of one test."""
    found = []
    for dish in dishes:
        fields = lot_fields(shown, None, settings, on=test.started_on)
        fields |= {
            # The tag stays on the bench; cautions are for whoever takes seed away.
            "caution": "",
            "treatment": "",
            "below_standard": "",
            "dish": f"dish {dish.number} of {len(dishes)}, {dish.seeds} seeds",
            "test_started": dish.days.laid_on.isoformat(),
            "count_days": count_days(dish.days),
            "substrate": test.substrate,
            "temperature": test.temperature,
        }
        found.append(BookedLabel(f"{test.lot} dish {dish.number}", fields, test.lot, 1, test.lot_id))
    return found


def count_days(of_dish: DishDays) -> str:
    """Give the counting days of a dish as its tag says them: “12 Jan, 20 Jan”."""
    days = [day for day in (of_dish.first_count_on, of_dish.final_count_on) if day is not None]
    return ", ".join(f"{day.day} {month_words(day)[:3]}" for day in days)


def dots_picture(pdf: bytes, page: int, page_h_mm: float, dpi: int) -> PagePicture:
    """Draw one page, counted from 0, so that one pixel is exactly one printer dot, as the proof read it.

    Its left edge is that of the page, its upper one is that of the page to the nearest dot.
    """
    import numpy

    drawn = page_dots(pdf, page, dpi)
    # The dots are counted from the lower left corner, so what is no whole dot hangs over on top.
    drawn = drawn[round(drawn.shape[0] - page_h_mm / dot_mm(dpi)) :]
    return PagePicture(drawn.shape[1], drawn.shape[0], numpy.repeat(drawn.reshape(-1), 3).tobytes())
