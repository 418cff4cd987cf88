"""What stands behind an id in the history: the name of a variety, a person, a place, a lot."""

from typing import Any

from sqlalchemy import Connection, select

from hilum.catalogue.listing import place_path
from hilum.catalogue.opening import hides_people
from hilum.catalogue.people import ERASED, HIDDEN
from hilum.catalogue.records import lot, person, place, store_place, variety

# The tables of the catalogue, as a keeper calls one row of them.
ROW_WORDS = {
    "lot": "lot", "movement": "movement", "hold": "hold", "stay": "stay", "preparing_step": "preparing step",
    "germination_test": "germination test", "dish": "dish", "dish_count": "count", "packet_batch": "packet batch",
    "variety": "variety", "synonym": "synonym", "place": "place grown", "store_place": "store place",
    "lot_component": "component", "grow_out": "grow-out", "crop": "crop",
    "hand_out": "hand-out", "promised_return": "promised return", "event": "event",
}  # fmt: skip


class NamesBehind:
    """Looks up each name once: an edit's words come from ids that may repeat a thousand times."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection
        self._known: dict[tuple[str, int], str] = {}

    def name(self, column: str, row_id: Any) -> str:
        """Give what the id in a column stands for; empty where the column holds no id or the row is gone."""
        if not isinstance(row_id, int):
            return ""
        if (column, row_id) not in self._known:
            self._known[column, row_id] = self._asked(column, row_id)
        return self._known[column, row_id]

    def _asked(self, column: str, row_id: int) -> str:
        wanted = {
            "variety_id": variety.c.name, "place_id": place.c.name, "grower_id": person.c.name,
            "donor_id": person.c.name, "parent_id": lot.c.number, "lot_id": lot.c.number,
            "from_id": person.c.name, "returned_lot_id": lot.c.number,
        }.get(column)  # fmt: skip
        if column == "store_place_id":
            there = select(store_place.c.id).where(store_place.c.id == row_id)
            return place_path(self._connection, row_id) if self._connection.execute(there).first() else ""
        if wanted is None:
            return ""
        if wanted.table is person and hides_people(self._connection):
            return HIDDEN
        row = self._connection.execute(select(wanted).where(wanted.table.c.id == row_id)).first()
        return "" if row is None else ERASED if row[0] is None else str(row[0])
