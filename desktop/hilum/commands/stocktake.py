"""Stocktake: a place is counted by scan, scale and photo, and what differs from the book is put right."""

from argparse import Namespace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from hilum.commands import figures
from hilum.commands.answer import Answer, answer
from hilum.commands.desk import Desk
from hilum.commands.parser import CommandParser, Verbs, add_day
from hilum.commands.store import place_named
from hilum.commands.terminal import wrapped
from hilum.errors import BadInput

if TYPE_CHECKING:
    from hilum.benches.keeping import Catalogue
    from hilum.benches.stocktake import Counted, Finding


def add_verbs(verbs: Verbs) -> None:
    """Put the verbs of this module into the parser."""
    whole = verbs.add(
        "stocktake", None, "count what lies in a store place and put the book right",
        "Example: hilum stocktake begin “Box 4”, then scan, photo, show and write.",
    )  # fmt: skip
    steps = Verbs.below(whole, "STEP")
    add_day(_place_of(steps.add("begin", _begin, "begin to count a place with all that lies in it")))
    scan = _place_of(steps.add("scan", _scan, "note lots that are there, with the scale's figure if weighed"))
    scan.add_argument("lots", metavar="LOT", nargs="+", type=figures.words, help="typed or scanned")
    scan.add_argument("--grams", metavar="G", type=figures.milligrams, help="container and seed together")
    scan.add_argument("--empty", metavar="G", type=_empty, help="the empty container, 0 where there is none")
    scan.add_argument("--seeds", metavar="N", type=figures.whole, help="what was counted")
    _seen_at(scan)
    photo = _place_of(steps.add("photo", _photo, "note every lot whose code is in a picture"))
    photo.add_argument("files", metavar="FILE", nargs="+", type=Path, help="JPEG or PNG")
    _seen_at(photo)
    strike = _place_of(steps.add("strike", _strike, "strike what was noted by mistake"))
    strike.add_argument("code", metavar="LOT", type=figures.words)
    _place_of(steps.add("show", _show, "what is missing, elsewhere or different, and how it can be settled"))
    write = _place_of(steps.add("write", _write, "end the count and write the corrections that are accepted"))
    write.add_argument("accepted", metavar="LOT=WAY", nargs="*", type=figures.words,
                       help="for example LEK-25-001-S=here; the ways are listed by show")  # fmt: skip
    add_day(write)
    add_day(_place_of(steps.add("drop", _drop, "end the count and write nothing")))


def _place_of(parser: CommandParser) -> CommandParser:
    parser.add_argument("place", metavar="PLACE", type=figures.words, help="as listed by: hilum place")
    return parser


def _seen_at(parser: CommandParser) -> None:
    parser.add_argument("--at", metavar="PLACE", type=figures.words, help="a place within the counted one")


def _empty(text: str) -> int:
    return 0 if text.strip("0.") == "" and text else figures.milligrams(text)


def _under_way(catalogue: "Catalogue", typed: str) -> int:
    """Give the stocktake of a place that is under way."""
    from hilum.benches.stocktake import stocktakes_open

    place = place_named(catalogue, typed)
    for each in stocktakes_open(catalogue):
        if each.store_place_id == place.id:
            return each.id
    raise BadInput(f"{place.path} is not being counted. Begin with: hilum stocktake begin “{place.path}”")


def _at(catalogue: "Catalogue", asked: Namespace) -> int | None:
    return None if asked.at is None else place_named(catalogue, asked.at).id


def _begin(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.stocktake import CAUTION, begin_stocktake

    with desk.catalogue(asked) as catalogue:
        counted = begin_stocktake(catalogue, place_named(catalogue, asked.place).id, on=desk.day(asked))
    lines = [
        f"{counted.place.path} is being counted: {counted.expected} lots by the book.",
        *wrapped(CAUTION),
    ]
    return answer(_document(counted), lines, changed=True)


def _scan(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.stocktake import note_seen, stocktake_now

    figures_given = [each for each in (asked.grams, asked.empty, asked.seeds) if each is not None]
    if figures_given and len(asked.lots) > 1:
        raise BadInput("A weight or a count belongs to one lot. Give one lot at a time.")
    with desk.catalogue(asked) as catalogue:
        stocktake_id = _under_way(catalogue, asked.place)
        seen = [
            note_seen(
                catalogue, stocktake_id, each, store_place_id=_at(catalogue, asked), gross_mg=asked.grams,
                tare_mg=asked.empty, seeds=asked.seeds,
            )
            for each in asked.lots
        ]  # fmt: skip
        counted = stocktake_now(catalogue, stocktake_id)
    return answer(_document(counted), [*(each.words for each in seen), counted.words], changed=True)


def _photo(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.stocktake import note_photo, stocktake_now

    with desk.catalogue(asked) as catalogue:
        stocktake_id = _under_way(catalogue, asked.place)
        noted = [
            note_photo(catalogue, stocktake_id, file, store_place_id=_at(catalogue, asked))
            for file in asked.files
        ]
        counted = stocktake_now(catalogue, stocktake_id)
    document = _document(counted)
    document["photos"] = [
        {
            "file": each.name,
            "new": list(each.new),
            "seen_before": list(each.before),
            "unknown": list(each.unknown),
        }
        for each in noted
    ]
    return answer(document, [*(each.words for each in noted), counted.words], changed=True)


def _strike(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.stocktake import forget_seen, stocktake_now

    with desk.catalogue(asked) as catalogue:
        stocktake_id = _under_way(catalogue, asked.place)
        forget_seen(catalogue, stocktake_id, asked.code)
        counted = stocktake_now(catalogue, stocktake_id)
    return answer(_document(counted), [f"{asked.code}: struck.", counted.words], changed=True)


def _show(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.stocktake import stocktake_now

    with desk.catalogue(asked) as catalogue:
        counted = stocktake_now(catalogue, _under_way(catalogue, asked.place))
    lines = [counted.words]
    for finding in counted.findings:
        lines += wrapped(finding.words)
        lines += [f"  {finding.lot.number}={way.key}: {way.words}" for way in finding.ways if finding.lot]
    return answer(_document(counted), lines)


def _write(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.stocktake import stocktake_now, write_stocktake

    with desk.catalogue(asked) as catalogue:
        stocktake_id = _under_way(catalogue, asked.place)
        findings = stocktake_now(catalogue, stocktake_id).findings
        ways = dict(_accepted(each, findings) for each in asked.accepted)
        done = write_stocktake(catalogue, stocktake_id, ways, on=desk.day(asked))
    document = {"place": done.place.path, "corrected": list(done.corrected), "left": done.left}
    return answer(document, [done.words], changed=True)


def _accepted(part: str, findings: "tuple[Finding, ...]") -> tuple[str, str]:
    number, _, way = part.partition("=")
    bare = number.strip().upper()
    for finding in findings:
        if finding.lot is not None and finding.lot.number == bare:
            for each in finding.ways:
                if each.key == way.strip().lower():
                    return finding.key, each.key
    raise BadInput(f"{part}: no such finding. What can be accepted is listed by: hilum stocktake show PLACE")


def _drop(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.stocktake import drop_stocktake

    with desk.catalogue(asked) as catalogue:
        drop_stocktake(catalogue, _under_way(catalogue, asked.place), on=desk.day(asked))
    return answer({"place": asked.place}, ["The stocktake was dropped; the book is as it was."], changed=True)


def _document(counted: "Counted") -> dict[str, Any]:
    return {
        "place": counted.place.path,
        "expected": counted.expected,
        "seen": [
            {"code": each.code, "seen_by": each.seen_by, "gross_mg": each.gross_mg, "tare_mg": each.tare_mg,
             "seeds": each.seeds}
            for each in counted.seen
        ],
        "findings": [
            {"kind": each.kind, "lot": each.lot.number if each.lot else None, "words": each.words,
             "ways": [way.key for way in each.ways]}
            for each in counted.findings
        ],
    }  # fmt: skip
