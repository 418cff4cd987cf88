"""Edits that change the air that lots lie in: of a place, of what it was, of its readings."""

from collections.abc import Iterable
from typing import Any

from sqlalchemy import Connection, Row

from hilum.catalogue.records import store_place
from hilum.catalogue.store_records import place_past, reading
from hilum.catalogue.store_tree import lots_ever_at, read_store_tree

# Rows that say how a store place is: lots hear of them through the air they lie in.
_AIR = frozenset(table.name for table in (store_place, place_past, reading))


def places_told_of(edits: Iterable[Row[Any]]) -> frozenset[int]:
    """Give the store places whose air some edits changed."""
    found = set()
    for edit in edits:
        if edit.table_name in _AIR:
            told = edit.after or edit.before or {}
            found.add(edit.row_id if edit.table_name == store_place.name else told["store_place_id"])
    return frozenset(found)


def has_ring(connection: Connection) -> bool:
    """Say whether a store place lies in itself, now or once."""
    return read_store_tree(connection).has_ring()


def lots_in(connection: Connection, store_place_ids: Iterable[int]) -> frozenset[int]:
    """Give the lots that lie or have lain in store places, or in any place within them."""
    return frozenset(lots_ever_at(connection, store_place_ids))
