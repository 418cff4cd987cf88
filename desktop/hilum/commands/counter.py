"""Counter: hand packets out, say what went out, where seed of a lot went, and note what was promised back."""

from argparse import Namespace
from pathlib import Path

from hilum.commands import figures
from hilum.commands.answer import Answer, answer
from hilum.commands.desk import Desk
from hilum.commands.parser import Verbs, add_day, add_lot
from hilum.commands.terminal import Column, table

KINDS = ("swap-day", "post", "school", "other-library", "counter")
OUT_COLUMNS = (
    Column("Crop", 20), Column("Variety", 26), Column("Season", 6), Column("Event", 26),
    Column("Packets", 7, right=True),
)  # fmt: skip
RECALL_COLUMNS = (
    Column("Lot", 13), Column("Packed on", 10), Column("Packets", 7, right=True), Column("Out on", 10),
    Column("Where", 26), Column("To", 22),
)  # fmt: skip


def add_verbs(verbs: Verbs) -> None:
    """Put the verbs of this module into the parser."""
    out = verbs.add("handout", _handout, "hand packets of a lot out, or take the last hand-out of it back",
                    "Example: hilum handout LEK-25-001-S --packets 2 --event “Spring swap”")  # fmt: skip
    add_lot(out)
    out.add_argument("--packets", metavar="N", type=figures.whole, default=1)
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
    from hilum.benches.lots import lot_number
    from hilum.errors import BadInput

    on = desk.day(asked)
    with desk.catalogue(asked) as catalogue:
        if asked.back:
            number = lot_number(catalogue, asked.lot)
            line = next(
                (
                    out.id
                    for out in counter.out_today(catalogue, on=on)
                    if out.line.lot == number and not out.taken_back
                ),
                None,
            )
            if line is None:
                raise BadInput(f"No packet of lot {number} was handed out on {on.isoformat()}.")
            packets = -counter.take_back(catalogue, (line,), on=on, why=asked.why or "a wrong scan")
        else:
            kind = asked.kind or ("swap-day" if asked.event else "counter")
            occasion = counter.Occasion(asked.event, kind.replace("-", " "), asked.season)
            given = counter.hand_out(
                catalogue,
                asked.lot,
                on=on,
                packets=asked.packets,
                occasion=occasion,
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


def _handed_out(asked: Namespace, desk: Desk) -> Answer:
    from dataclasses import asdict

    from hilum.benches import counter

    with desk.catalogue(asked) as catalogue:
        found = counter.went_out(catalogue, season=asked.season)
    if asked.file is not None:
        counter.went_out_csv(found, asked.file)
    rows = [(each.crop, each.variety, str(each.season), each.event, str(each.packets)) for each in found]
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
    rows = [
        (
            row.lot, row.packed_on.isoformat(), str(row.packets), "" if row.on is None else row.on.isoformat(),
            row.where, row.to,
        )
        for row in found.rows
    ]  # fmt: skip
    document = {
        "lot": found.lot,
        "lots": list(found.lots),
        "packets_out": found.packets_out,
        "packets_on_shelf": found.packets_on_shelf,
        "packets": [
            {
                "lot": row.lot, "packed_on": row.packed_on.isoformat(), "packets": row.packets,
                "on": None if row.on is None else row.on.isoformat(), "where": row.where, "to": row.to or None,
            }
            for row in found.rows
        ],
        "promised_by": list(found.promised_by),
    }  # fmt: skip
    said = (
        f"{found.lot} ({found.name}) and {len(found.lots) - 1} lots grown from it: {found.packets_out} packets "
        f"out, {found.packets_on_shelf} on the shelf."
    )
    return answer(document, [said, *table(RECALL_COLUMNS, rows)], changed=asked.file is not None)
