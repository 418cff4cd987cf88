"""Counter: hand packets out, say what went out, where seed of a lot went, and note what was promised back."""

from argparse import Namespace
from pathlib import Path
from typing import TYPE_CHECKING

from hilum.commands import figures
from hilum.commands.answer import Answer, answer
from hilum.commands.desk import Desk
from hilum.commands.parser import Verbs, add_day, add_lot
from hilum.commands.terminal import Column, table

if TYPE_CHECKING:
    from hilum.benches.counter import Occasion
    from hilum.benches.views import LotView

KINDS = ("swap-day", "post", "school", "other-library", "counter")
OUT_COLUMNS = (
    Column("Crop", 20), Column("Variety", 26), Column("Season", 6), Column("Event", 26),
    Column("Packets", 7, right=True), Column("Loose", 10, right=True),
)  # fmt: skip
RECALL_COLUMNS = (
    Column("Lot", 13), Column("Packed on", 10), Column("How much", 14, right=True), Column("Out on", 10),
    Column("Where", 26), Column("To", 22),
)  # fmt: skip


def add_verbs(verbs: Verbs) -> None:
    """Put the verbs of this module into the parser."""
    out = verbs.add("handout", _handout, "hand packets or loose seed of a lot out, or take its last hand-out back",
                    "Example: hilum handout LEK-25-001-S --packets 2 --event “Spring swap”")  # fmt: skip
    add_lot(out)
    much = out.add_mutually_exclusive_group()
    much.add_argument("--packets", metavar="N", type=figures.whole, default=1)
    much.add_argument("--grams", metavar="G", type=figures.milligrams, help="loose seed by weight")
    much.add_argument("--seeds", metavar="N", type=figures.positive, help="loose seed, counted")
    out.add_argument("--event", metavar="NAME", type=figures.words, default="", help="the event's name")
    out.add_argument("--kind", choices=KINDS, help="what kind of event it is (a named one is a swap-day)")
    out.add_argument("--season", metavar="YEAR", type=figures.whole, help="the year of the day if left out")
    out.add_argument("--to", metavar="NAME", type=figures.words, default="", help="who got them (optional)")
    out.add_argument(
        "--why", metavar="TEXT", type=figures.words, default="",
        help="the reason, wanted for the last packets and where the reserve would be touched",
    )  # fmt: skip
    out.add_argument("--back", action="store_true", help="take the newest hand-out of this day back")
    add_day(out)
    went = verbs.add("handed-out", _handed_out, "say what went out by variety, season and event")
    went.add_argument("--season", metavar="YEAR", type=figures.whole)
    went.add_argument("-o", dest="file", metavar="FILE", type=Path, help="write it as CSV too")
    recalled = verbs.add("recall", _recall, "say where seed of a lot and of what was grown from it went")
    add_lot(recalled)
    recalled.add_argument("-o", dest="file", metavar="FILE", type=Path, help="write it as CSV too")


def _handout(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches import counter
    from hilum.benches.loose_out import hand_out_loose, take_back_loose
    from hilum.benches.lots import lot_number
    from hilum.errors import BadInput

    on = desk.day(asked)
    with desk.catalogue(asked) as catalogue:
        if asked.back:
            number = lot_number(catalogue, asked.lot)
            newest = next(
                (
                    out
                    for out in counter.out_today(catalogue, on=on)
                    if out.line.lot == number and not out.taken_back
                ),
                None,
            )
            if newest is None:
                raise BadInput(f"No seed of lot {number} was handed out on {on.isoformat()}.")
            if newest.is_loose:
                back = take_back_loose(catalogue, newest.line.id, on=on, why=asked.why or "a wrong hand-out")
                return _loose_answer(back, f"{newest.amount} taken back")
            packets = -counter.take_back(catalogue, (newest.line.id,), on=on, why=asked.why or "a wrong scan")
        elif asked.grams is not None or asked.seeds is not None:
            out = hand_out_loose(
                catalogue, asked.lot, on=on, mass_mg=asked.grams, seeds=asked.seeds, occasion=_occasion(asked),
                to=asked.to, why=asked.why,
            )  # fmt: skip
            return _loose_answer(out.lot, f"{out.words} loose handed out", out.caution)
        else:
            given = counter.hand_out(
                catalogue,
                asked.lot,
                on=on,
                packets=asked.packets,
                occasion=_occasion(asked),
                to=asked.to,
                why=asked.why,
            )
            number, packets = given.lot.number, given.packets
        left = counter.packets_left(catalogue, number)
    verb = "handed out" if packets > 0 else "taken back"
    return answer(
        {"lot": number, "packets": packets, "packets_left": left},
        [f"{number}: {abs(packets)} {verb}, {left} left."],
        changed=True,
    )


def _occasion(asked: Namespace) -> "Occasion":
    from hilum.benches.counter import Occasion

    kind = asked.kind or ("swap-day" if asked.event else "counter")
    return Occasion(asked.event, kind.replace("-", " "), asked.season)


def _loose_answer(lot: "LotView", did: str, caution: str = "") -> Answer:
    left = lot.stock_words
    return answer(
        {"lot": lot.number, "stock_mg": lot.stock_mg, "stock_seeds": lot.stock_seeds},
        [f"{lot.number}: {did}, {left} left.", *([caution] if caution else [])],
        changed=True,
    )


def _handed_out(asked: Namespace, desk: Desk) -> Answer:
    from dataclasses import asdict

    from hilum.benches import counter

    with desk.catalogue(asked) as catalogue:
        found = counter.went_out(catalogue, season=asked.season)
    if asked.file is not None:
        counter.went_out_csv(found, asked.file)
    rows = [
        (each.crop, each.variety, str(each.season), each.event, str(each.packets), each.loose_words)
        for each in found
    ]
    return answer(
        {"handed_out": [asdict(each) for each in found], "packets": sum(each.packets for each in found)},
        table(OUT_COLUMNS, rows) or ["Nothing has been handed out."],
        changed=asked.file is not None,
    )


def _recall(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.recall import recall, recall_csv

    with desk.catalogue(asked) as catalogue:
        found = recall(catalogue, asked.lot)
    if asked.file is not None:
        recall_csv(found, asked.file)
    rows = [(row.lot, row.packed_words, row.amount, row.on_words, row.where, row.to) for row in found.rows]
    document = {
        "lot": found.lot,
        "lots": list(found.lots),
        "packets_out": found.packets_out,
        "packets_on_shelf": found.packets_on_shelf,
        "packets": [
            {
                "lot": row.lot, "packed_on": row.packed_words or None, "packets": row.packets,
                "loose": row.loose or None, "descent": row.descent, "on": row.on_words or None,
                "where": row.where, "to": row.to or None,
            }
            for row in found.rows
        ],
        "promised_by": list(found.promised_by),
    }  # fmt: skip
    said = f"{found.lot} ({found.name}) and {len(found.lots) - 1} lots made from it: {found.out_words}."
    return answer(document, [said, *table(RECALL_COLUMNS, rows)], changed=asked.file is not None)
