"""Returns that are waited for, as the counter and the day sheet show them."""

from dataclasses import dataclass
from datetime import date

from hilum.catalogue import promises
from hilum.catalogue.opening import Catalogue
from hilum.catalogue.people import person_names
from hilum.catalogue.promises import PromiseLine


@dataclass(frozen=True, slots=True)
class Promise:
    """A return that was promised, with the name of who promised it."""

    line: PromiseLine
    who: str

    @property
    def id(self) -> int:
        """The promise's id."""
        return self.line.id

    def is_overdue(self, on: date) -> bool:
        """Whether it was expected before a day and is still waited for."""
        return self.line.settled_on is None and self.line.expected_by < on


def promised_returns(catalogue: Catalogue) -> tuple[Promise, ...]:
    """Give the returns that are waited for, those expected first at the top."""
    with catalogue.look() as connection:
        known = person_names(connection)
        return tuple(
            Promise(line, known.get(line.from_id or 0, "")) for line in promises.promises(connection)
        )
