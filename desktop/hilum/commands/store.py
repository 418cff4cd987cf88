"""Store: list the store places, make, change, move and close one, move a lot to one."""

from argparse import BooleanOptionalAction, Namespace
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from hilum.commands import figures
from hilum.commands.answer import Answer, answer
from hilum.commands.desk import Desk
from hilum.commands.parser import Verbs, add_day, add_lot
from hilum.commands.terminal import Column, table
from hilum.errors import BadInput

if TYPE_CHECKING:
    from hilum.benches.keeping import Catalogue
    from hilum.benches.store import StorePlaceLine

KINDS = ("room", "freezer", "fridge", "shelf", "box", "slot")
COLUMNS = (
    Column("Place", 58),
    Column("Kind", 8),
    Column("°C", 6, right=True),
    Column("Humidity", 8, right=True),
)
BETWEEN = " / "


def add_verbs(verbs: Verbs) -> None:
    """Put the verbs of this module into the parser."""
    place = verbs.add("place", _place, "list the store places, or make one",
                      "Example: hilum place “Box 4” --kind box --in “Cold room / Freezer 1”")  # fmt: skip
    place.add_argument("name", metavar="NAME", nargs="?", type=figures.words, help="the name of a new place")
    place.add_argument("--kind", choices=KINDS)
    place.add_argument(
        "--in", dest="inside", metavar="PLACE", type=figures.words, help="the place it lies in"
    )
    place.add_argument("--celsius", metavar="T", type=figures.fraction, help="its temperature")
    place.add_argument("--humidity", metavar="PERCENT", type=figures.fraction, help="its relative humidity")
    place.add_argument("--note", metavar="TEXT", type=figures.words, default="")
    alter = verbs.add("set-place", _alter, "change, move, close or use again a store place, with all that lies in it",
                      "Example: hilum set-place “Box 4” --in “Cold room / Freezer 1”")  # fmt: skip
    alter.add_argument("place", metavar="PLACE", type=figures.words, help="as listed by: hilum place")
    alter.add_argument("--name", metavar="NAME", type=figures.words)
    alter.add_argument("--celsius", metavar="T", type=figures.fraction, help="its temperature from that day")
    alter.add_argument(
        "--humidity", metavar="PERCENT", type=figures.fraction, help="its humidity from that day"
    )
    alter.add_argument("--note", metavar="TEXT", type=figures.words)
    alter.add_argument(
        "--always", action="store_true", help="it was so all along; the figure was noted wrongly"
    )
    way = alter.add_mutually_exclusive_group()
    way.add_argument("--in", dest="inside", metavar="PLACE", type=figures.words, help="move it into a place")
    way.add_argument("--out", action="store_true", help="move it out, to stand by itself")
    way.add_argument("--close", action="store_true", help="use it no more; nothing may lie in it")
    way.add_argument("--use-again", action="store_true", help="open a closed place")
    add_day(alter)
    move = verbs.add("move", _move, "put a lot into a store place")
    add_lot(move)
    move.add_argument("place", metavar="PLACE", type=figures.words, help="as listed by: hilum place")
    move.add_argument(
        "--container", metavar="TEXT", type=figures.words, default="", help="jar, foil, paper, ..."
    )
    move.add_argument("--airtight", action=BooleanOptionalAction, help="whether the container is airtight")
    add_day(move)


def _place(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.store import add_store_place, store_places

    given = (asked.kind, asked.inside, asked.celsius, asked.humidity, asked.note or None)
    if asked.name is None and any(each is not None for each in given):
        raise BadInput("Say the name of the new place first: hilum place NAME --kind KIND")
    if asked.name is not None and asked.kind is None:
        raise BadInput(f"Say what “{asked.name}” is with --kind: {', '.join(KINDS)}.")
    with desk.catalogue(asked) as catalogue:
        if asked.name is not None:
            known = store_places(catalogue)
            add_store_place(
                catalogue,
                name=asked.name,
                kind=asked.kind,
                parent_id=None if asked.inside is None else _named(known, asked.inside).id,
                temperature_c=asked.celsius,
                humidity_percent=asked.humidity,
                note=asked.note,
            )
        places = store_places(catalogue)
    rows = [
        (each.path, each.kind, _figure(each.temperature_c), _figure(each.humidity_percent, " %"))
        for each in places
    ]
    return answer(
        {"places": [_document(each) for each in places]},
        table(COLUMNS, rows) or ["There is no store place yet. Make one: hilum place NAME --kind KIND"],
        changed=asked.name is not None,
    )


def _alter(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches import store

    changes = {
        name: value
        for name, value in (
            ("name", asked.name), ("temperature_c", asked.celsius), ("humidity_percent", asked.humidity),
            ("note", asked.note),
        )
        if value is not None
    }  # fmt: skip
    moves = asked.inside is not None or asked.out
    if bool(changes) + moves + asked.close + asked.use_again != 1:
        raise BadInput("Say one thing to do: new figures or a name, --in, --out, --close or --use-again.")
    on = desk.day(asked)
    with desk.catalogue(asked) as catalogue:
        place = place_named(catalogue, asked.place, with_closed=asked.use_again)
        if asked.close:
            line = store.close_store_place(catalogue, place.id, on=on)
            words = f"{line.path} is closed."
        elif asked.use_again:
            line = store.open_store_place(catalogue, place.id)
            words = f"{line.path} is in use again."
        else:
            if moves:
                goal = None if asked.out else place_named(catalogue, asked.inside).id
                done = store.move_place(catalogue, place.id, goal, on=on)
            else:
                done = store.change_store_place(
                    catalogue, place.id, changes, on=on, was_always_so=asked.always
                )
            line = done.place
            words = f"{line.path}: {done.lots} lots lie in it; {done.due_changed} are due for a test on another day."
    return answer({"place": _document(line)}, [words], changed=True)


def _move(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.store import move_lot

    with desk.catalogue(asked) as catalogue:
        place = place_named(catalogue, asked.place)
        moved = move_lot(
            catalogue,
            asked.lot,
            place.id,
            on=desk.day(asked),
            container=asked.container,
            airtight=asked.airtight,
        )
    return answer(
        {"lot": moved.number, "place": place.path, "state": moved.line.state},
        [f"{moved.number} ({moved.name}) lies in {place.path}."],
        changed=True,
    )


def place_named(catalogue: "Catalogue", typed: str, *, with_closed: bool = False) -> "StorePlaceLine":
    """Find a place in use by its whole path, or by its name alone where only one place has it."""
    from hilum.benches.store import store_places

    return _named(store_places(catalogue, with_closed=with_closed), typed)


def _named(places: "Sequence[StorePlaceLine]", typed: str) -> "StorePlaceLine":
    wanted = BETWEEN.join(part.strip() for part in typed.split("/")).casefold()
    found = [each for each in places if each.path.casefold() == wanted]
    found = found or [each for each in places if each.name.casefold() == wanted]
    if len(found) == 1:
        return found[0]
    if found:
        raise BadInput(
            f"“{typed}” can be several places: {', '.join(each.path for each in found)}. Give the whole path."
        )
    raise BadInput(f"There is no store place “{typed}”. The places are listed by: hilum place")


def _figure(value: float | None, unit: str = "") -> str:
    return "" if value is None else f"{value:g}{unit}"


def _document(each: "StorePlaceLine") -> dict[str, Any]:
    return {
        "place": each.path,
        "kind": each.kind,
        "temperature_c": each.temperature_c,
        "humidity_percent": each.humidity_percent,
        "note": each.note,
    }
