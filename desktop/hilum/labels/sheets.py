"""Sheets: which label goes to which place on which page."""

from collections.abc import Sequence
from dataclasses import dataclass

from hilum.labels.errors import LabelError
from hilum.labels.stocks import LabelStock


@dataclass(frozen=True, slots=True)
class Place:
    """One label's place: page counted from 0, position counted from 1 row by row."""

    page: int
    position: int


def places(count: int, stock: LabelStock, start: int = 1, skip: Sequence[int] = ()) -> tuple[Place, ...]:
    """Give places for a number of labels; `start` and the spoiled positions `skip` are for the first page."""
    per_page = stock.per_page
    if stock.kind != "sheet" and (start != 1 or skip):
        what = {
            "envelope": "an envelope: each label is a page of its own",
            "roll": "a roll: each label is a page of its own",
            "fold": "plain paper to fold: each sheet begins anew",
        }[stock.kind]
        raise LabelError(f"{stock.name} is {what}, so start and skip have no meaning.")
    if not 1 <= start <= per_page:
        raise LabelError(f"Start is {start}, but a sheet of {stock.name} has positions 1 to {per_page}.")
    beyond = [each for each in skip if not 1 <= each <= per_page]
    if beyond:
        raise LabelError(
            f"Skip names {beyond[0]}, but a sheet of {stock.name} has positions 1 to {per_page}."
        )
    first = [each for each in range(start, per_page + 1) if each not in set(skip)]
    if count and not first:
        raise LabelError(
            f"Start {start} and skip leave no free position on the first sheet. Put in a new sheet."
        )
    found = [Place(0, each) for each in first[:count]]
    for number in range(count - len(found)):
        page, position = divmod(number, per_page)
        found.append(Place(page + 1, position + 1))
    return tuple(found)
