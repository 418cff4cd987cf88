"""What is written of a lot and may be changed; and what another desk has changed of it meanwhile."""

from collections.abc import Mapping
from dataclasses import dataclass, fields, replace
from datetime import datetime
from typing import Any

from sqlalchemy import Connection, select

from hilum.catalogue.history import newest_change
from hilum.catalogue.opening import hides_people
from hilum.catalogue.people import person_names
from hilum.catalogue.records import lot, person, place, variety
from hilum.errors import KeeperError

# Columns of the lot that hold the id of what is written.
_BEHIND_IDS = {"variety": "variety_id", "place_grown": "place_id", "grower": "grower_id"}


@dataclass(frozen=True, slots=True)
class Written:
    """All that a keeper writes of a lot, as it stood at one moment."""

    variety: str
    year: int | None
    place_grown: str | None
    grower: str | None
    plants: int | None
    isolation: str
    identity: str
    notes: str
    treatment: str
    is_f1: bool
    rights_notice: str
    supplier_batch: str


FIELDS = tuple(field.name for field in fields(Written))


@dataclass(frozen=True, slots=True)
class Difference:
    """One field that another desk changed: what was seen, what stands now, and by whom and when it was written."""

    field: str
    seen: Any
    now: Any
    who: str
    at: datetime | None


class EditedMeanwhile(KeeperError):
    """Another desk changed what is written of a lot since it was shown; nothing of the second change was written.

    `differences` says what, and `now` is what stands, so that whoever is told can choose and write again.
    """

    def __init__(self, number: str, differences: tuple[Difference, ...], now: Written) -> None:
        self.differences, self.now = differences, now
        said = "; ".join(_told(each) for each in differences)
        super().__init__(f"Lot {number} was changed at another desk meanwhile ({said}). Nothing was written.")


def written_of(connection: Connection, lot_id: int) -> Written:
    """Give what is written of a lot; the visitors' view leaves the grower out."""
    row = connection.execute(
        select(
            variety.c.name.label("variety"), lot.c.year, place.c.name.label("place_grown"),
            person.c.name.label("grower"), lot.c.plants, lot.c.isolation, lot.c.identity, lot.c.notes,
            lot.c.treatment, lot.c.is_f1, lot.c.rights_notice, lot.c.supplier_batch,
        )
        .join(variety, variety.c.id == lot.c.variety_id)
        .outerjoin(place, place.c.id == lot.c.place_id)
        .outerjoin(person, person.c.id == lot.c.grower_id)
        .where(lot.c.id == lot_id)
    ).one()  # fmt: skip
    written = Written(**row._mapping)
    return replace(written, grower=None) if hides_people(connection) else written


def refuse_if_edited(
    connection: Connection, lot_id: int, number: str, seen: Written, changes: Mapping[str, Any]
) -> None:
    """Refuse a change where another desk has changed something since `seen`, unless both wrote the same."""
    now = written_of(connection, lot_id)
    differing = [name for name in FIELDS if getattr(now, name) != getattr(seen, name)]
    if all(name in changes and changes[name] == getattr(now, name) for name in differing):
        return
    names = person_names(connection)
    found = []
    for name in differing:
        edit = newest_change(connection, lot, lot_id, _BEHIND_IDS.get(name, name))
        who = names.get(edit.person_id, "") if edit is not None and edit.person_id is not None else ""
        at = None if edit is None else edit.at
        found.append(Difference(name, getattr(seen, name), getattr(now, name), who, at))
    raise EditedMeanwhile(number, tuple(found), now)


def _told(difference: Difference) -> str:
    who = f" by {difference.who}" if difference.who else ""
    at = f" at {difference.at:%Y-%m-%d %H:%M}" if difference.at is not None else ""
    return (
        f"{field_words(difference.field)}: {value_words(difference.seen)} → "
        f"{value_words(difference.now)}{who}{at}"
    )


def field_words(name: str) -> str:
    """Give the name of a written field as a keeper reads it."""
    return {"is_f1": "F1 hybrid", "supplier_batch": "supplier's batch"}.get(name, name.replace("_", " "))


def value_words(value: Any) -> str:
    """Give a written value as a keeper reads it."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    return "nothing" if value in (None, "") else str(value)
