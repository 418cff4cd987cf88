"""Saved searches: filters of lots with their order, under the keeper's own names."""

from dataclasses import asdict, dataclass, fields
from typing import Any

from hilum.benches.lots import SORTS, LotFilter
from hilum.catalogue import saved
from hilum.catalogue.opening import Catalogue
from hilum.errors import BadInput


@dataclass(frozen=True, slots=True)
class SavedSearch:
    """What is looked for under a name, and in which order; no sort is the usual order."""

    name: str
    wanted: LotFilter
    sort: str | None = None
    descending: bool = False

    def as_json(self) -> dict[str, Any]:
        """Give the search as plain values; only what narrows it is named."""
        return {"name": self.name, **_plain(self.wanted, self.sort, self.descending)}


def saved_searches(catalogue: Catalogue) -> tuple[SavedSearch, ...]:
    """Give every saved search by name."""
    with catalogue.look() as connection:
        return tuple(_search(line) for line in saved.saved_searches(connection))


def saved_search(catalogue: Catalogue, name: str) -> SavedSearch:
    """Give one saved search by its name, whatever the case and accents; refused with the names there are."""
    with catalogue.look() as connection:
        return _search(saved.saved_search_named(connection, name))


def save_search(
    catalogue: Catalogue, name: str, wanted: LotFilter, *, sort: str | None = None, descending: bool = False
) -> SavedSearch:
    """Save a search under a name; one of the same name gives way, and the history keeps it."""
    if sort is not None and sort not in SORTS:
        raise BadInput(f"Lots cannot be sorted by {sort!r}; by {', '.join(SORTS)} they can.")
    if wanted.numbers:
        raise BadInput("A search is saved by what it looks for, not as a list of lot numbers.")
    plain = _plain(wanted, sort, descending)
    if not plain:
        raise BadInput("This search shows every lot. Narrow it before you save it.")
    with catalogue.job(f"save the search {name}") as job:
        saved.save_search(job, name, plain)
        return _search(saved.saved_search_named(job.connection, name))


def forget_search(catalogue: Catalogue, name: str) -> str:
    """Remove a saved search; gives its name as it was written. The history can bring it back."""
    with catalogue.job(f"remove the saved search {name}") as job:
        return saved.forget_search(job, name)


def _plain(wanted: LotFilter, sort: str | None, descending: bool) -> dict[str, Any]:
    every = LotFilter()
    narrowing = {name: value for name, value in asdict(wanted).items() if value != getattr(every, name)}
    narrowing.pop("numbers", None)
    order = {"sort": sort} if sort is not None else {}
    return narrowing | order | ({"descending": True} if descending else {})


def _search(line: saved.SavedLine) -> SavedSearch:
    known = {field.name for field in fields(LotFilter)} - {"numbers"}
    sort = line.wanted.get("sort")
    return SavedSearch(
        name=line.name,
        wanted=LotFilter(**{name: value for name, value in line.wanted.items() if name in known}),
        sort=sort if sort in SORTS else None,
        descending=bool(line.wanted.get("descending", False)),
    )
