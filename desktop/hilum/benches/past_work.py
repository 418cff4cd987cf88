"""What was done, job by job and in words: of one lot, or of the whole library; and which of it can go back."""

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from hilum.catalogue import history, past_jobs
from hilum.catalogue.amounts import shown_amount
from hilum.catalogue.behind import ROW_WORDS, NamesBehind
from hilum.catalogue.find import resolve_lot
from hilum.catalogue.history import Edit
from hilum.catalogue.opening import Catalogue
from hilum.catalogue.people import person_names
from hilum.catalogue.written import field_words, value_words

__all__ = [
    "PastLine", "field_words", "job_id", "lot_history", "past_of_lot", "value_words", "whole_history",
]  # fmt: skip

# Past this many edits a job is told by what it made, not edit by edit.
_MOST_TOLD = 8
_LEAST_TYPED = 4
_FIELD_WORDS = {
    "variety_id": "variety", "place_id": "place grown", "grower_id": "grower", "donor_id": "donor",
    "store_place_id": "store place", "parent_id": "of lot", "thousand_seed_weight_ug": "thousand-seed weight",
    "moisture_percent_wb": "moisture", "stock_is_estimate": "stock is an estimate", "set_on": "hold set on",
    "lifted_on": "hold lifted on", "lifted_why": "lifted because", "from_on": "from", "until_on": "until",
    "on_date": "on", "share_ppm": "share", "withdrawn_on": "withdrawn on", "mass_mg": "weight", "fill_mg": "fill",
    "temperature_c": "temperature", "received_precision": "received, as exactly as", "made_as": "made as",
    "from_id": "from", "returned_lot_id": "came back as", "settled_why": "settled because",
}  # fmt: skip
# What only the catalogue itself needs.
_INNER = {
    "lot_id", "id", "person_id", "set_by", "lifted_by", "version", "find_text", "folded", "number", "repeats",
    "share_by", "test_id", "dish_id", "crop_id",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class PastLine:
    """One job as it is told: what it did, and whether it was taken back.

    `takes_back` is the job that it took back, for a taking back: to take that back again is to do the first once more.
    """

    id: str
    at: datetime
    who: str
    what: str
    words: str
    taken_back: bool
    takes_back: str | None
    lots: int
    person_id: int | None
    # Whether what is written of a lot was changed, beside what was made new.
    changed_lot: bool

    @property
    def short(self) -> str:
        """The job's name as it is typed at the command line."""
        return self.id[:8]


def lot_history(catalogue: Catalogue, typed: str) -> tuple[PastLine, ...]:
    """Give the jobs that edited one lot, the newest first."""
    with catalogue.look() as connection:
        return past_of_lot(connection, resolve_lot(connection, typed))


def past_of_lot(connection: Any, lot_id: int) -> tuple[PastLine, ...]:
    """Give the jobs that edited a lot, the newest first, within a look that is under way."""
    jobs: dict[str, list[Edit]] = {}
    for edit in history.job_edits(connection, lot_id):
        jobs.setdefault(edit.job, []).append(edit)
    people, names = person_names(connection), NamesBehind(connection)
    lots = past_jobs.lots_of_jobs(connection, jobs)
    return tuple(_line(job, found, people, names, lots.get(job, 1)) for job, found in reversed(jobs.items()))


def whole_history(catalogue: Catalogue, *, limit: int = 100) -> tuple[PastLine, ...]:
    """Give the newest jobs of the library, the newest first."""
    with catalogue.look() as connection:
        people, names = person_names(connection), NamesBehind(connection)
        newest = history.recent_jobs(connection, limit)
        lots = past_jobs.lots_of_jobs(connection, [past.id for past in newest])
        return tuple(_line(past.id, past.edits, people, names, lots.get(past.id, 1)) for past in newest)


def job_id(catalogue: Catalogue, typed: str) -> str:
    """Give the whole name of a job by its beginning, as the history shows it."""
    with catalogue.look() as connection:
        return past_jobs.job_named(connection, typed.strip().lower(), least=_LEAST_TYPED)


def _line(
    job: str, edits: Iterable[Edit], people: Mapping[int, str], names: NamesBehind, lots: int
) -> PastLine:
    found = tuple(edits)
    first = found[0]
    who = "" if first.person_id is None else people.get(first.person_id, "")
    return PastLine(
        job, first.at, who, first.what, _words(found, names), first.taken_back, first.takes_back, lots,
        first.person_id, any(edit.table == "lot" and edit.before is not None for edit in found),
    )  # fmt: skip


def _words(edits: tuple[Edit, ...], names: NamesBehind) -> str:
    told = tuple(edit for edit in edits if edit.table not in ("movement", "hand_out"))
    if len(told) > _MOST_TOLD:
        return _summed(edits)
    return "; ".join(text for text in (_told(edit, names) for edit in told) if text) or _summed(edits)


def _summed(edits: tuple[Edit, ...]) -> str:
    """Tell a large job by how many rows of each kind it made, changed or removed."""
    kinds = Counter((_verb(edit), ROW_WORDS.get(edit.table, edit.table.replace("_", " "))) for edit in edits)
    return ", ".join(
        f"{verb} {count:,} {name if count == 1 else _plural(name)}" for (verb, name), count in kinds.items()
    )


def _plural(name: str) -> str:
    if name == "place grown":
        return "places grown"
    if name.endswith("y"):
        return f"{name[:-1]}ies" if name == "variety" else f"{name}s"
    return f"{name}es" if name.endswith(("sh", "ch")) else f"{name}s"


def _verb(edit: Edit) -> str:
    return "new:" if edit.before is None else "removed:" if edit.after is None else "changed:"


def _told(edit: Edit, names: NamesBehind) -> str:
    kind = ROW_WORDS.get(edit.table, edit.table.replace("_", " "))
    if edit.before is not None and edit.after is not None:
        pairs = (
            (name, edit.before.get(name), value) for name, value in edit.after.items() if name not in _INNER
        )
        said = [
            f"{_field(name)} {_value(name, old, names)} → {_value(name, new, names)}"
            for name, old, new in pairs
        ]
        return ("" if edit.table == "lot" else f"{kind}: ") + ", ".join(said)
    written = edit.after or edit.before or {}
    said = [
        f"{_field(name)} {_value(name, value, names)}"
        for name, value in written.items()
        if name not in _INNER and value not in (None, "", False)
    ]
    return f"{'new' if edit.before is None else 'removed'} {kind}{': ' if said else ''}{', '.join(said)}"


def _field(name: str) -> str:
    return _FIELD_WORDS.get(name) or field_words(name)


def _value(name: str, value: Any, names: NamesBehind) -> str:
    if value in (None, ""):
        return "nothing"
    if name.endswith("_id"):
        return names.name(name, value) or "another"
    if name.endswith("_mg") and isinstance(value, int):
        return shown_amount(value, "mg")
    if name == "thousand_seed_weight_ug":
        return f"{value / 1_000_000:.4g} g"
    if name == "share_ppm":
        return f"{value / 10_000:.1f} %"
    return value_words(value)
