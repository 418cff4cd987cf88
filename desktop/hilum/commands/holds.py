"""Holds: bar a lot from packing and from the counter, and lift that again with a reason."""

from argparse import Namespace
from typing import TYPE_CHECKING

from hilum.commands import figures
from hilum.commands.answer import Answer, answer
from hilum.commands.desk import Desk
from hilum.commands.parser import Verbs, add_day, add_lot
from hilum.errors import BadInput

if TYPE_CHECKING:
    from hilum.benches.keeping import Catalogue
    from hilum.benches.lots import LotStory

KINDS = ("insects", "disease", "treated-seed", "doubtful-identity", "wet", "other")


def add_verbs(verbs: Verbs) -> None:
    """Put the verbs of this module into the parser."""
    hold = verbs.add("hold", _hold, "bar a lot from packing and from the counter")
    add_lot(hold)
    hold.add_argument("kind", metavar="KIND", choices=KINDS, help=", ".join(KINDS))
    hold.add_argument("--note", metavar="TEXT", type=figures.words, default="")
    add_day(hold)
    lift = verbs.add("lift", _lift, "lift a hold, with the reason")
    add_lot(lift)
    lift.add_argument("--why", metavar="TEXT", type=figures.words, required=True, help="what was found")
    lift.add_argument("--kind", choices=KINDS, help="which hold, where the lot bears several")
    add_day(lift)


def _hold(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.lots import hold_lot

    with desk.catalogue(asked) as catalogue:
        hold_lot(catalogue, asked.lot, asked.kind.replace("-", " "), on=desk.day(asked), note=asked.note)
        return _told(catalogue, asked.lot)


def _lift(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.lots import lift_hold, lot_story

    with desk.catalogue(asked) as catalogue:
        story = lot_story(catalogue, asked.lot)
        wanted = (asked.kind or "").replace("-", " ")
        marks = [each for each in story.holds if each.lifted_on is None and wanted in ("", each.kind)]
        if not marks:
            what = f"no hold “{wanted}”" if wanted else "no hold"
            raise BadInput(f"Lot {story.lot.number} bears {what}; there is nothing to lift.")
        if len({each.kind for each in marks}) > 1:
            kinds = ", ".join(each.kind for each in marks)
            raise BadInput(
                f"Lot {story.lot.number} bears several holds ({kinds}). Say which one with --kind."
            )
        lift_hold(catalogue, marks[0].id, on=desk.day(asked), why=asked.why)
        return _told(catalogue, asked.lot)


def _told(catalogue: "Catalogue", typed: str) -> Answer:
    from hilum.benches.lots import lot_story

    story: LotStory = lot_story(catalogue, typed)
    kinds = [each.kind for each in story.holds if each.lifted_on is None]
    words = f"on hold: {', '.join(kinds)}" if kinds else "not on hold"
    return answer(
        {"lot": story.lot.number, "state": story.lot.line.state, "holds": kinds},
        [f"{story.lot.number} ({story.lot.name}) is {words}."],
        changed=True,
    )
