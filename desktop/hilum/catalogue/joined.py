"""Many jobs joined into one transaction: all of them are kept, or none."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import datetime

from sqlalchemy import Connection

from hilum.catalogue.opening import Catalogue, Job


class _Joined(Catalogue):
    """A catalogue whose jobs all run inside one outer job."""

    def __init__(self, base: Catalogue, outer: Job, clock: Callable[[], datetime]) -> None:
        super().__init__(base.engine, base.where, clock)
        self.person_id = base.person_id
        self.hides_people = base.hides_people
        self._outer = outer

    @contextmanager
    def job(self, what: str) -> Iterator[Job]:
        """Give a job of its own name and moment inside the outer transaction."""
        yield Job(self._outer.connection, self._outer.settings, what, self.now(), self.person_id)

    @contextmanager
    def look(self) -> Iterator[Connection]:
        """Read what the outer transaction has written so far."""
        yield self._outer.connection


@contextmanager
def all_in_one(
    catalogue: Catalogue, what: str, *, clock: Callable[[], datetime] | None = None
) -> Iterator[Catalogue]:
    """Give a catalogue whose jobs become one transaction, under a clock of its own if one is handed in."""
    with catalogue.job(what) as outer:
        yield _Joined(catalogue, outer, clock or catalogue.now)
