"""People at the counter: whose names are kept, what is held about one of them, and erasing on request."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from hilum.benches.counter import event_words
from hilum.catalogue import handouts, listing, loose, people, promises
from hilum.catalogue.erasures import note_erasures, overwrite_deleted
from hilum.catalogue.opening import Catalogue
from hilum.catalogue.people import PersonLine
from hilum.catalogue.settings import read_settings
from hilum.errors import BadInput
from hilum.exchange.writing import write_csv

__all__ = [
    "Erased",
    "PeopleKept",
    "PersonLine",
    "erase",
    "export_person",
    "held_about",
    "people_kept",
    "replay_erasures",
]


@dataclass(frozen=True, slots=True)
class PeopleKept:
    """Everybody whose name is kept, and those kept longer than the library says."""

    people: tuple[PersonLine, ...]
    over_time: tuple[PersonLine, ...]
    months: int


def people_kept(catalogue: Catalogue, *, on: date) -> PeopleKept:
    """Give whose names are kept; over the time is who was last met with too long ago and is not needed for work."""
    with catalogue.look() as connection:
        months = read_settings(connection).names_kept_months
        everybody = people.people_kept(connection)
    over = tuple(
        each
        for each in everybody
        if months
        and not each.is_needed
        and each.last_on is not None
        and _months_on(each.last_on, months) < on
    )
    return PeopleKept(everybody, over, months)


def _months_on(day: date, months: int) -> date:
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    # The 28th is in every month; a name may stay three days longer, never shorter.
    return date(year, month + 1, 28) if day.day > 28 else date(year, month + 1, day.day)


@dataclass(frozen=True, slots=True)
class Erased:
    """How many names were blanked, and whether nothing of them is left in unused parts of the file either."""

    names: int
    file_is_clean: bool


def erase(catalogue: Catalogue, ids: Iterable[int], *, on: date) -> Erased:
    """Blank the names of some people, also in what is left of them in the file. The ledger keeps its ids.

    Safety copies made before still hold the names until they are rotated out; a restore erases them again.
    """
    with catalogue.job("erase names") as job:
        found = people.erase(job, ids, on)
        note_erasures(job.connection, catalogue.file)
    return Erased(len(found), overwrite_deleted(catalogue))


def held_about(catalogue: Catalogue, person_id: int) -> tuple[tuple[str, str, str], ...]:
    """Give everything that is held about one person: what, when, and the words."""
    if catalogue.hides_people:
        raise BadInput("The visitors' view hides people. Switch it off first.")
    with catalogue.look() as connection:
        who = next((each for each in people.people_kept(connection) if each.id == person_id), None)
        if who is None:
            raise BadInput("Nothing is held about that person any more.")
        rows = [("name", "", who.name), ("note", "", who.note)]
        rows += [
            (
                "seed grown or given",
                line.received_on.isoformat(),
                f"lot {line.number}, {line.crop}, {line.variety}",
            )
            for line in listing.lots_of_person(connection, person_id)
        ]
        rows += [
            ("packets handed out", line.on.isoformat(),
             f"{line.packets} of lot {line.lot}, {line.crop}, {line.variety}, "
             f"{event_words(line.event, line.event_kind)}")
            for line in handouts.lines(connection, to_id=person_id)
        ]  # fmt: skip
        rows += [
            ("loose seed handed out", line.on.isoformat(),
             f"{line.words} of lot {line.lot}, {line.crop}, {line.variety}, "
             f"{event_words(line.event, line.event_kind)}{' (taken back)' if line.taken_back else ''}")
            for line in loose.lines(connection, to_id=person_id)
        ]  # fmt: skip
        rows += [
            ("promised return", line.promised_on.isoformat(),
             f"lot {line.lot}, expected by {line.expected_by.isoformat()} {line.note}".strip())
            for line in promises.promises(connection, waited_for=False, from_id=person_id)
        ]  # fmt: skip
        count = listing.movements_by(connection, person_id)
        if count:
            rows.append(("work at the bench", "", f"{count} movements in the ledger carry this person's id"))
    return tuple(row for row in rows if row[2])


def export_person(catalogue: Catalogue, person_id: int, file: Path) -> int:
    """Write all that is held about one person as CSV; gives the number of rows."""
    return write_csv(file, ("What", "When", "Words"), held_about(catalogue, person_id), overwrite=True)


def replay_erasures(catalogue: Catalogue, erased: dict[int, date]) -> int:
    """Erase again, in a catalogue that was restored, whom the library had erased; gives how many names went."""
    with catalogue.job("erase names again after a restore") as job:
        gone = 0
        for day in sorted(set(erased.values())):
            gone += len(people.erase(job, [who for who, on in erased.items() if on == day], day))
        note_erasures(job.connection, catalogue.file)
    return gone
