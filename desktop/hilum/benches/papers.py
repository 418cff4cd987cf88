"""Papers to work from: count sheets for dishes, picking lists, stocktake sheets, tally sheets for a swap day."""

from collections.abc import Callable, Sequence
from datetime import date
from typing import Any

from hilum.benches.printing import dish_tags, lot_fields, store_place_of
from hilum.benches.views import LotView, view
from hilum.catalogue import germination_tests, listing, places, steps
from hilum.catalogue.find import resolve_lot
from hilum.catalogue.opening import Catalogue
from hilum.catalogue.settings import Settings, read_settings
from hilum.errors import BadInput
from hilum.labels.job import LabelData, LabelSheets
from hilum.labels.papers import WORK_PAPERS, WorkPaper, make_paper, rows_on, work_paper

__all__ = ["WORK_PAPERS", "WorkPaper", "count_paper", "lots_at_place", "lots_paper", "rows_on", "work_paper"]

# A row shows these of what a label may say; the rest stays on the label.
_SHOWN = ("crop", "variety", "year", "lot", "dish")
_POISONOUS = "poisonous: hand it out only with its caution"


def count_paper(
    catalogue: Catalogue,
    test_ids: Sequence[int],
    page: str = "a4",
    *,
    on: date,
    progress: Callable[[int, int], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> LabelSheets:
    """Make a count sheet: a row for every dish of some running tests, with columns for each count."""
    rows = []
    with catalogue.look() as connection:
        settings = read_settings(connection)
        for test_id in test_ids:
            test = germination_tests.one_test(connection, test_id)
            shown = view(listing.one_lot(connection, test.lot_id), settings)
            for tag in dish_tags(test, germination_tests.dishes_of(connection, test_id), shown, settings):
                days = tag.fields["count_days"]
                rows.append(
                    _row(tag.key, tag.fields, f"count {days}" if days else "no counting days set", "")
                )
    if not rows:
        raise BadInput("No running test was chosen to make a count sheet for.")
    return make_paper(
        rows, "count", page, title="Count sheet", below=_below(settings, on, len(rows), "dish", "dishes"),
        progress=progress, stop=stop,
    )  # fmt: skip


def lots_paper(
    catalogue: Catalogue,
    kind: str,
    numbers: Sequence[str],
    page: str = "a4",
    *,
    on: date,
    progress: Callable[[int, int], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> LabelSheets:
    """Make a picking list, a stocktake sheet or a tally sheet for some lots.

    To walk along the shelves, the first two are sorted by store place; the tally is sorted by crop and variety.
    """
    paper = work_paper(kind)
    if paper.name == "count":
        raise BadInput("A count sheet is made for germination tests, not for lots.")
    if not numbers:
        raise BadInput(f"No lots were chosen for the {paper.title.lower()}.")
    with catalogue.look() as connection:
        settings = read_settings(connection)
        found = [_facts(connection, typed, settings) for typed in numbers]
    if paper.name == "tally":
        found.sort(key=lambda each: (each[0].line.crop.casefold(), each[0].line.variety.casefold()))
    else:
        found.sort(key=lambda each: (not each[1], each[1].casefold(), each[0].number))
    rows = [
        _row(shown.number, lot_fields(shown, None, settings, on=on), *_notes(paper, shown, place, packets))
        for shown, place, packets in found
    ]
    return make_paper(
        rows, paper, page, title=paper.title, below=_below(settings, on, len(rows), "lot", "lots"), progress=progress,
        stop=stop,
    )  # fmt: skip


def lots_at_place(catalogue: Catalogue, store_place_id: int) -> tuple[str, ...]:
    """Give the numbers of the lots that lie in a store place, or in any place within it."""
    with catalogue.look() as connection:
        lines = places.store_places(connection)
        within = {store_place_id}
        while more := {line.id for line in lines if line.parent_id in within} - within:
            within |= more
        ids = places.lots_at(connection, tuple(within))
        return tuple(listing.one_lot(connection, each).number for each in dict.fromkeys(ids))


def _facts(connection: Any, typed: str, settings: Settings) -> tuple[LotView, str, int]:
    lot_id = resolve_lot(connection, typed)
    packets = sum(batch.packets_left for batch in steps.batches_of(connection, lot_id))
    return view(listing.one_lot(connection, lot_id), settings), store_place_of(connection, lot_id), packets


def _notes(paper: WorkPaper, shown: LotView, place: str, packets: int) -> tuple[str, str]:
    where = place or "not stored yet"
    if paper.name == "tally":
        poisonous = shown.reference is not None and shown.reference.poisonous
        return f"{packets} packets in hand", _POISONOUS if poisonous else ""
    return (
        where,
        f"in the book {shown.stock_words}" if paper.name == "stocktake" else f"stock {shown.stock_words}",
    )


def _row(key: str, fields: Any, note: str, quantity: str) -> LabelData:
    shown = {name: fields[name] for name in _SHOWN if fields.get(name)}
    return LabelData(key, {**shown, "note": note, "quantity": quantity}, fields["lot"])


def _below(settings: Settings, on: date, count: int, one: str, many: str) -> str:
    return f"{settings.library_name}, {on.isoformat()}: {count} {one if count == 1 else many}"
