"""Lots found by words and narrowed, a page at a time; how many there are in all is told apart from the first page."""

from dataclasses import dataclass
from datetime import date

from hilum.benches.views import LotView, view
from hilum.catalogue import listing
from hilum.catalogue.listing import LotFilter
from hilum.catalogue.nearest import did_you_mean
from hilum.catalogue.opening import Catalogue
from hilum.catalogue.pages import SORTS, PageEnd
from hilum.catalogue.settings import read_settings

__all__ = ["SORTS", "FoundLots", "LotFilter", "LotPage", "PageEnd", "count_lots", "find_lots", "page_of_lots"]


@dataclass(frozen=True, slots=True)
class FoundLots:
    """A list of lots, how many there are in all, and near names when nothing was found."""

    lots: tuple[LotView, ...]
    total: int
    did_you_mean: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LotPage:
    """One page of a list: `end` says where the next begins, and `total` is known where this page is all."""

    lots: tuple[LotView, ...]
    total: int | None
    did_you_mean: tuple[str, ...]
    end: PageEnd | None = None


def find_lots(
    catalogue: Catalogue,
    wanted: LotFilter,
    *,
    on: date,
    sort: str | None = None,
    descending: bool = False,
    limit: int | None = None,
) -> FoundLots:
    """Give the lots that match a filter, counted; sorts are those of `SORTS`."""
    page = page_of_lots(catalogue, wanted, on=on, sort=sort, descending=descending, limit=limit)
    total = count_lots(catalogue, wanted, on=on) if page.total is None else page.total
    return FoundLots(page.lots, total, page.did_you_mean)


def page_of_lots(
    catalogue: Catalogue,
    wanted: LotFilter,
    *,
    on: date,
    sort: str | None = None,
    descending: bool = False,
    limit: int | None = None,
    after: PageEnd | None = None,
) -> LotPage:
    """Give one page of the lots that match a filter, from the end of the page before on; nothing is counted.

    Without a sort, lots found by words come newest first, and others by number.
    """
    with catalogue.look() as connection:
        settings = read_settings(connection)
        lines, end = listing.page_of_wanted(
            connection, wanted, on=on, sort=sort, descending=descending, limit=limit, after=after
        )
        misses = not lines and after is None and wanted.words.strip()
        near = did_you_mean(connection, wanted.words) if misses else ()
    total = len(lines) if end is None and after is None else None
    return LotPage(tuple(view(line, settings) for line in lines), total, near, end)


def count_lots(catalogue: Catalogue, wanted: LotFilter, *, on: date) -> int:
    """Give how many lots match a filter in all."""
    with catalogue.look() as connection:
        return listing.count_wanted(connection, wanted, on)
