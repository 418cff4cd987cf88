"""Lots: list them, show one whole, draw seed from one."""

from argparse import Namespace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from hilum.commands import figures
from hilum.commands.answer import Answer, answer
from hilum.commands.desk import Desk
from hilum.commands.files import PdfFile
from hilum.commands.lot_document import whole_document, whole_lines
from hilum.commands.parser import CommandParser, Verbs, add_day, add_lot
from hilum.commands.terminal import Column, table, wrapped
from hilum.errors import BadInput

if TYPE_CHECKING:
    from hilum.benches.lots import LotFilter
    from hilum.benches.views import LotView

COLUMNS = (
    Column("Lot", 16),
    Column("Crop", 26),
    Column("Variety", 32),
    Column("Year", 4, right=True),
    Column("Stock", 15, right=True),
    Column("Germ.", 5, right=True),
    Column("Due", 10),
)
KINDS = ("cleaned", "test", "packed", "sown", "discarded")
SORTS = (
    "entered", "number", "crop", "variety", "year", "place", "due", "stock", "germination", "state", "received",
)  # fmt: skip
STATES = ("to be weighed", "in hand", "stored", "under test", "held", "empty", "withdrawn")


def add_verbs(verbs: Verbs) -> None:
    """Put the verbs of this module into the parser."""
    lots = verbs.add("lots", _lots, "list lots", "Without any option every lot is listed.")
    add_narrowing(lots)
    lots.add_argument(
        "--saved", metavar="NAME", type=figures.words, default="", help="what a saved search looks for"
    )
    lots.add_argument(
        "--limit", metavar="N", type=figures.positive, help="list at most so many; the total is still told"
    )
    lots.add_argument(
        "--sort",
        choices=SORTS,
        metavar="ORDER",
        help=f"the order: {', '.join(SORTS)} (if left out: found words newest first, --due by date, else by number)",
    )  # fmt: skip
    lots.add_argument("--descending", action="store_true", help="the other way round")
    lots.add_argument(
        "-o", dest="output", metavar="FILE", type=Path, help="also write the list as a PDF to work from"
    )
    add_day(lots, "the day for which --due is asked (today if left out)")
    show = verbs.add("show", _show, "show one lot whole")
    add_lot(show)
    draw = verbs.add("draw", _draw, "take seed out of a lot as one movement")
    add_lot(draw)
    amount = draw.add_mutually_exclusive_group(required=True)
    amount.add_argument("--grams", metavar="G", type=figures.milligrams, help="grams, with a dot: 38.5")
    amount.add_argument("--seeds", metavar="N", type=figures.positive)
    draw.add_argument(
        "--as", dest="kind", metavar="KIND", required=True, choices=KINDS, help=", ".join(KINDS)
    )
    draw.add_argument(
        "--why", metavar="TEXT", type=figures.words, default="", help="the reason, in a few words"
    )
    add_day(draw)


def add_narrowing(parser: CommandParser) -> None:
    """Put in the options that narrow a list of lots."""
    parser.add_argument("--find", metavar="WORDS", nargs="+", type=figures.words, default=[],
                        help="words in any order: variety, crop, grower, place, notes, number")  # fmt: skip
    parser.add_argument(
        "--crop", metavar="CROP", type=figures.words, default="", help="only lots of this crop"
    )
    parser.add_argument(
        "--year", metavar="YEAR", type=figures.positive, help="only lots harvested in this year"
    )
    parser.add_argument(
        "--place", metavar="PLACE", type=figures.words, default="", help="only lots grown there"
    )
    parser.add_argument(
        "--state",
        metavar="STATE",
        choices=STATES,
        default="",
        help=f"only lots in this state: {', '.join(STATES)}",
    )
    parser.add_argument(
        "--due", action="store_true", help="only lots due for a germination test, with the reason"
    )
    parser.add_argument("--low", action="store_true", help="only lots whose stock is running low")
    parser.add_argument("--below", action="store_true", help="only lots that germinate below their standard")


def narrowed(asked: Namespace) -> "LotFilter":
    """Give what the options narrow a list to."""
    from hilum.benches.lots import LotFilter

    return LotFilter(
        words=" ".join(asked.find),
        crop=asked.crop,
        year=asked.year,
        place=asked.place,
        state=asked.state,
        due=asked.due,
        low=asked.low,
        below=asked.below,
    )


def _lots(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.lots import LotFilter, find_lots

    on = desk.day(asked)
    wanted, sort, descending = narrowed(asked), asked.sort, asked.descending
    with desk.catalogue(asked) as catalogue:
        if asked.saved:
            from hilum.benches.searches import saved_search

            if wanted != LotFilter():
                raise BadInput("--saved says already what is looked for; leave the other options away.")
            kept = saved_search(catalogue, asked.saved)
            wanted, descending = kept.wanted, descending or kept.descending
            sort = sort or kept.sort
        sort = sort or ("due" if wanted.due else None)
        if asked.output is not None:
            from hilum.benches.lists import lots_on_paper

            with PdfFile(asked.output) as file:
                file.write(lots_on_paper(catalogue, wanted, on=on, sort=sort, descending=descending))
        page = find_lots(catalogue, wanted, on=on, sort=sort, descending=descending, limit=asked.limit)
    document: dict[str, Any] = {
        "lots": [each.as_json() for each in page.lots],
        "total": page.total,
        "on": on.isoformat(),
        "did_you_mean": list(page.did_you_mean),
    }
    lines = lot_table(page.lots, with_reasons=wanted.due)
    if page.total > len(page.lots):
        lines.append(f"{len(page.lots)} of {page.total} lots.")
    elif page.lots:
        lines.append("1 lot." if page.total == 1 else f"{page.total} lots.")
    else:
        lines.append(f"No lot is due on {on.isoformat()}." if wanted.due else "No lot was found.")
        if page.did_you_mean:
            lines += wrapped(f"Did you mean: {', '.join(page.did_you_mean)}?")
    return answer(document, lines)


def lot_table(lots: "tuple[LotView, ...]", *, with_reasons: bool = False) -> list[str]:
    """Set lots in a table, each with the reason why its test is due below it if asked."""
    rows = []
    for each in lots:
        line = each.line
        germination = "" if line.germination_percent is None else f"{line.germination_percent} %"
        rows.append(
            (
                line.number,
                line.crop,
                line.variety,
                "" if line.year is None else str(line.year),
                each.stock_words,
                germination,
                "" if line.due_on is None else line.due_on.isoformat(),
            )
        )
    return table(COLUMNS, rows, [each.line.due_why for each in lots] if with_reasons else ())


def _show(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.forecasting import forecast_as_json, lot_forecast
    from hilum.benches.lots import lot_story

    with desk.catalogue(asked) as catalogue:
        story = lot_story(catalogue, asked.lot)
        _, found = lot_forecast(catalogue, asked.lot, on=desk.clock().date())
    return answer(
        whole_document(story, forecast_as_json(found)), [*whole_lines(story), "", *wrapped(found.why)]
    )


def _draw(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.lots import draw, shown_amount

    with desk.catalogue(asked) as catalogue:
        after = draw(
            catalogue, asked.lot, asked.kind, on=desk.day(asked),
            mass_mg=asked.grams, seeds=asked.seeds, why=asked.why,
        )  # fmt: skip
    taken = shown_amount(asked.grams, "mg") if asked.seeds is None else shown_amount(asked.seeds, "seeds")
    return answer(
        after.as_json(),
        [f"{taken} drawn as {asked.kind} from {after.number} ({after.name}); {after.stock_words} left."],
        changed=True,
    )
