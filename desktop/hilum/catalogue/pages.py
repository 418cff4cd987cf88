"""Pages of a list of lots: in any order, each page begun where the one before ended and never counted up to."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import (
    Column,
    ColumnElement,
    Connection,
    FromClause,
    Integer,
    Select,
    and_,
    literal_column,
    or_,
    select,
    tuple_,
)

from hilum.catalogue.find import lot_numbered, newest_matches
from hilum.catalogue.lots import LotLine, lot_lines, read_lines, shown_lines
from hilum.catalogue.records import crop, lot, place, variety
from hilum.errors import BadInput

# The order in which lots came into the catalogue; found words are listed so, newest first, unless asked otherwise.
ENTERED = "entered"
# What each order goes by; the lot's id, which stands last, makes it whole. Each begins an index.
_ORDERS: dict[str, tuple[Column[Any], ...]] = {
    ENTERED: (),
    "number": (lot.c.number,),
    "crop": (crop.c.folded, crop.c.id, variety.c.folded, variety.c.id),
    "variety": (variety.c.folded, variety.c.id),
    "year": (lot.c.year,),
    "place": (place.c.folded, place.c.id),
    "due": (lot.c.due_on,),
    "stock": (lot.c.stock,),
    "germination": (lot.c.germination_percent,),
    "state": (lot.c.state,),
    "received": (lot.c.received_on,),
}
SORTS = tuple(_ORDERS)
# From which table to which an order is walked: with a plus before it, an id is not looked up but asked for, so that
# SQLite's planner begins at the other end and needs no sorting of all lots.
_WALKED: dict[str, FromClause] = {
    "crop": crop.join(variety, variety.c.crop_id == literal_column("+crop.id", Integer)).join(
        lot, lot.c.variety_id == literal_column("+variety.id", Integer)
    ),
    "place": place.join(lot, lot.c.place_id == literal_column("+place.id", Integer)),
}


@dataclass(frozen=True, slots=True)
class PageEnd:
    """Where a page ended: what its last lot is sorted by (None where that is not known), and its id."""

    values: tuple[Any, ...] | None
    lot_id: int


def page_of_lots(
    connection: Connection,
    condition: ColumnElement[bool],
    *,
    sort: str,
    descending: bool,
    limit: int | None,
    after: PageEnd | None = None,
    many: bool = False,
) -> tuple[tuple[LotLine, ...], PageEnd | None]:
    """Give the lots that meet a condition on `lot`, in order from `after` on, and where to go on.

    Lots for which the sorted figure is not known come last either way round. The end is None with the last page.
    `many` says that the condition leaves most lots, so that an order of another table is best walked from there.
    """
    if sort not in _ORDERS:
        raise BadInput(f"Lots cannot be sorted by {sort!r}; by {', '.join(SORTS)} they can.")
    keys = _ORDERS[sort]
    rows: list[Any] = []
    for part in _parts(keys, after):
        left = None if limit is None else limit - len(rows)
        if left == 0:
            break
        walked = _WALKED.get(sort) if many and left is not None and part[0] else None
        statement = _statement(keys, part, condition, descending, left, walked)
        rows += connection.execute(statement).all()
    width = len(keys)
    lines = shown_lines(connection, (row[: len(row) - width] for row in rows))
    if limit is None or len(rows) < limit:
        return lines, None
    values = tuple(rows[-1][len(rows[-1]) - width :])
    return lines, PageEnd(None if values and values[0] is None else values, lines[-1].id)


def newest_found(
    connection: Connection,
    words: str,
    condition: ColumnElement[bool] | None,
    *,
    limit: int,
    after: PageEnd | None = None,
) -> tuple[tuple[LotLine, ...], PageEnd | None]:
    """Give a page of the newest lots with all the words that also meet a condition, and where to go on."""
    before = None if after is None else after.lot_id
    ids = newest_matches(connection, words, limit, before=before, also=condition)
    lines = {line.id: line for line in read_lines(connection, lot_lines().where(lot.c.id.in_(ids)))}
    page = tuple(lines[lot_id] for lot_id in ids)
    whole = len(ids) < limit or lot_numbered(connection, words) is not None
    return page, None if whole else PageEnd((), ids[-1])


def _parts(keys: Sequence[Column[Any]], after: PageEnd | None) -> list[tuple[bool, PageEnd | None]]:
    """Give what is still to be listed: the lots with a known figure, then those without, each from where."""
    if not keys or not _may_be_missing(keys[0]):
        return [(True, after)]
    if after is not None and after.values is None:
        return [(False, after)]
    return [(True, after), (False, None)]


def _may_be_missing(key: Column[Any]) -> bool:
    return key.table is place or bool(key.nullable)


def _statement(
    keys: Sequence[Column[Any]],
    part: tuple[bool, PageEnd | None],
    condition: ColumnElement[bool],
    descending: bool,
    limit: int | None,
    walked: FromClause | None = None,
) -> Select[Any]:
    is_known, after = part
    ordered: list[Any] = [*keys, lot.c.id] if is_known else [lot.c.id]
    whole: Select[Any] = lot_lines().add_columns(*keys)
    statement = (
        whole.where(condition) if walked is None else select(lot.c.id).select_from(walked).where(condition)
    )
    if keys and _may_be_missing(keys[0]):
        # Asked of the lot's own column, so that a place is not looked up to learn that there is none.
        of_lot = lot.c.place_id if keys[0].table is place else keys[0]
        statement = statement.where(of_lot.is_not(None) if is_known else of_lot.is_(None))
    if after is not None:
        values = (*after.values, after.lot_id) if is_known and after.values is not None else (after.lot_id,)
        statement = statement.where(_beyond(ordered, values, descending))
    order = [key.desc() if descending else key for key in ordered]
    statement = statement.order_by(*order)
    if limit is not None:
        statement = statement.limit(limit)
    # Of the few lots that were walked to, the whole lines in the same order.
    return statement if walked is None else whole.where(lot.c.id.in_(statement)).order_by(*order)


def _beyond(ordered: Sequence[Any], values: Sequence[Any], descending: bool) -> ColumnElement[bool]:
    """Give the condition for what comes after a key. Its first part alone already leads the index there."""
    if len(ordered) == 1:
        beyond: ColumnElement[bool] = ordered[0] < values[0] if descending else ordered[0] > values[0]
        return beyond
    if all(key.table is ordered[0].table for key in ordered):
        key, end = tuple_(*ordered), tuple_(*values)
        return key < end if descending else key > end
    first = ordered[0] <= values[0] if descending else ordered[0] >= values[0]
    steps = [
        and_(
            *(key == value for key, value in zip(ordered[:at], values[:at], strict=True)),
            ordered[at] < values[at] if descending else ordered[at] > values[at],
        )
        for at in range(len(ordered))
    ]
    return and_(first, or_(*steps))
