"""Labels: print them for lots and dishes, or for packets while filling them."""

from argparse import ArgumentParser, Namespace
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from hilum.commands import figures
from hilum.commands.answer import Answer, answer
from hilum.commands.desk import Desk
from hilum.commands.files import PdfFile
from hilum.commands.parser import Verbs, add_day, add_lot
from hilum.commands.terminal import wrapped
from hilum.errors import BadInput

if TYPE_CHECKING:
    from hilum.benches.keeping import Catalogue
    from hilum.benches.packing import PackingPlan
    from hilum.benches.printing import LabelJob, LabelSheets, OrderedSheets

DISH = "dish"
OVERWRITES = "A PDF of that name is written over, for it can be made again; any other file is left alone."


def add_verbs(verbs: Verbs) -> None:
    """Put the verbs of this module into the parser."""
    labels = verbs.add("labels", _labels, "make label sheets as PDF, with every code read back",
                       f"{OVERWRITES} Print it at 100 %, not fitted to the page.")  # fmt: skip
    lots_options(labels, with_list=True)
    sheet_options(labels, required=True)
    labels.add_argument("--copies", metavar="N", type=figures.positive, default=1, help="labels of each (1)")
    labels.add_argument("--as-packed", action="store_true",
                        help="as many labels of each lot as packets in its newest batch")  # fmt: skip
    labels.add_argument("--count-column", metavar="NAME", type=figures.words, default="",
                        help="the column of --list that says how many labels (labels, copies or packets)")  # fmt: skip
    labels.add_argument("--sort-by", metavar="WHAT", type=figures.words, default="",
                        help="number, crop, variety, year, place grown or store place")  # fmt: skip
    labels.add_argument("--group-by", metavar="WHAT", type=figures.words, default="",
                        help="a separator before each crop, year, place grown or store place")  # fmt: skip
    labels.add_argument(
        "--whole-sets", action="store_true", help="one of each lot, then the next, not all of one first"
    )
    add_day(labels, "the day for which --due is asked and that is printed (today if left out)")
    pack = verbs.add("pack", _pack, "fill packets from a lot: stock, packets and labels in one step",
                     f"Either all of it happens or nothing does. {OVERWRITES}")  # fmt: skip
    add_lot(pack)
    pack.add_argument("--packets", metavar="N", type=figures.positive, help="how many packets")
    pack.add_argument("--seeds", metavar="N", type=figures.positive, required=True, help="seeds in a packet")
    pack.add_argument("--viable", action="store_true", help="so many seeds that will germinate")
    pack.add_argument("--try", dest="only_try", action="store_true",
                      help="only say the fill and how many packets are possible above the reserve")  # fmt: skip
    sheet_options(pack, required=False)
    add_day(pack)


def lots_options(parser: ArgumentParser, *, with_list: bool = False) -> None:
    """Add the ways to name lots, one of which must be used; `with_list` takes them from a file as well."""
    lots = parser.add_mutually_exclusive_group(required=True)
    lots.add_argument("--lots", metavar="A,B", type=figures.listed, help="lot numbers")
    lots.add_argument(
        "--find", metavar="WORDS", nargs="+", type=figures.words, help="all lots found by these words"
    )
    lots.add_argument("--due", action="store_true", help="all lots due for a germination test")
    if with_list:
        lots.add_argument(
            "--list",
            metavar="FILE",
            type=Path,
            help="the lots of a CSV or XLSX list, each as often as it says",
        )


def sheet_options(parser: ArgumentParser, *, required: bool) -> None:
    """Add what says on which labels is printed and into which file."""
    parser.add_argument(
        "--design",
        metavar="D",
        type=figures.words,
        required=required,
        help="packet, packet-small, jar, dish, incoming, box, stake, counter, or one of your own",
    )
    parser.add_argument("--label-stock", metavar="S", type=figures.words, required=required,
                        help="such as a4-3x8, letter-3x10, roll-57x32, fold-c7-a4, envelope-63.5x108, or "
                             "one that you measured")  # fmt: skip
    parser.add_argument("--start", metavar="K", type=figures.positive, default=1,
                        help="the first free position on the first sheet, counted row by row (1)")  # fmt: skip
    parser.add_argument("--skip", metavar="K,K", type=figures.positives, default=(),
                        help="spoiled positions on the first sheet")  # fmt: skip
    parser.add_argument(
        "--dpi", metavar="N", type=figures.positive, default=300, help="dots per inch of the printer (300)"
    )
    parser.add_argument("--back", metavar="D", type=figures.words, default="",
                        help="the other side: stake-back, packet-back, a design of your own, or none")  # fmt: skip
    parser.add_argument(
        "--cut-lines", action="store_true", help="lines to cut by, where the sheet has room for them"
    )
    parser.add_argument("--code-says", metavar="WHAT", type=figures.words, default="",
                        help="lot, address or words, if not what the design says")  # fmt: skip
    parser.add_argument(
        "-o", "--output", metavar="FILE", type=Path, required=required, help="the PDF to write"
    )


def _labels(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches import print_book
    from hilum.benches.printing import design, lot_labels

    on = desk.day(asked)
    with PdfFile(asked.output) as file, desk.catalogue(asked) as catalogue:
        # A design of the library's own is one for dishes where it must say which dish.
        if DISH in design(asked.design).required:
            sheets = _dish_tags(catalogue, asked, desk)
        else:
            copies_of = _copies(catalogue, asked, desk)
            numbers = tuple(copies_of) or chosen_lots(catalogue, asked, desk)
            sheets = lot_labels(catalogue, numbers, sheet_job(asked), on=on, copies_of=copies_of)
        file.write(sheets.pdf)
        print_book.book(catalogue, sheets, on=on, went_to=f"file {asked.output.name}")
    return answer(
        {**sheets_document(sheets), "file": str(asked.output)},
        sheet_lines(sheets, asked.output),
        changed=True,
    )


def _copies(catalogue: "Catalogue", asked: Namespace, desk: Desk) -> dict[str, int]:
    """Give the number of labels by lot where it differs; nothing where --copies says it for all."""
    from hilum.benches.label_copies import copies_as_packed, copies_from_list

    if asked.list is not None:
        return copies_from_list(catalogue, asked.list, asked.count_column)
    if asked.count_column:
        raise BadInput("--count-column names a column of a list; give the list with --list.")
    if not asked.as_packed:
        return {}
    found = copies_as_packed(catalogue, chosen_lots(catalogue, asked, desk))
    if not any(found.values()):
        raise BadInput("None of these lots was ever packed, so there is no number of packets to go by.")
    return found


def _dish_tags(catalogue: "Catalogue", asked: Namespace, desk: Desk) -> "OrderedSheets":
    from hilum.benches.printing import dish_labels

    if asked.list is not None or asked.as_packed:
        raise BadInput("Dish tags are one a dish: --list and --as-packed have no meaning for them.")
    if asked.due:
        raise BadInput(
            "A lot whose dishes stand is not due. Choose the lots of dish tags with --lots or --find."
        )
    return dish_labels(
        catalogue, running_tests(catalogue, chosen_lots(catalogue, asked, desk)), sheet_job(asked)
    )


def running_tests(catalogue: "Catalogue", numbers: Sequence[str]) -> list[int]:
    """Give the running tests of some lots; refused where there is none."""
    from hilum.benches.lots import lot_number
    from hilum.benches.testing import running

    wanted = [lot_number(catalogue, typed) for typed in numbers]
    tests = [each.id for each in running(catalogue) if each.lot in wanted]
    if not tests:
        raise BadInput(
            "None of these lots is under test. Lay its dishes first (hilum lay LOT); they then get tags."
        )
    return tests


def chosen_lots(catalogue: "Catalogue", asked: Namespace, desk: Desk) -> tuple[str, ...]:
    """Give the lots that --lots, --find or --due mean."""
    from hilum.benches.lots import LotFilter, find_lots

    if asked.lots is not None:
        if not asked.lots:
            raise BadInput("--lots names no lot. Write lot numbers separated by commas.")
        return tuple(asked.lots)
    words = " ".join(asked.find or ())
    if asked.find and not words.strip():
        raise BadInput("--find says nothing to look for.")
    page = find_lots(
        catalogue,
        LotFilter(words=words, due=asked.due),
        on=desk.day(asked),
        sort="due" if asked.due else "number",
    )
    if not page.lots:
        near = f" Did you mean: {', '.join(page.did_you_mean)}?" if page.did_you_mean else ""
        raise BadInput(
            ("No lot is due on that day." if asked.due else f"No lot is found by “{words}”.") + near
        )
    return tuple(each.number for each in page.lots)


def sheet_job(asked: Namespace) -> "LabelJob":
    """Give what was asked by `sheet_options`."""
    from hilum.benches.printing import LabelJob

    return LabelJob(
        design=asked.design,
        label_stock=asked.label_stock,
        copies=getattr(asked, "copies", 1),
        start=asked.start,
        skip=asked.skip,
        dpi=asked.dpi,
        back=asked.back,
        marks=asked.cut_lines,
        payload=asked.code_says,
        whole_sets=getattr(asked, "whole_sets", False),
        sort_by=getattr(asked, "sort_by", ""),
        group_by=getattr(asked, "group_by", ""),
    )


def _pack(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.packing import pack, plan_packing

    on = desk.day(asked)
    if asked.only_try:
        with desk.catalogue(asked) as catalogue:
            return _planned(plan_packing(catalogue, asked.lot, seeds=asked.seeds, on=on, viable=asked.viable))
    wanted = {
        "--packets": asked.packets,
        "--design": asked.design,
        "--label-stock": asked.label_stock,
        "-o": asked.output,
    }
    missing = [name for name, given in wanted.items() if given is None]
    if missing:
        raise BadInput(f"Packing needs {', '.join(missing)}. How it is written: hilum pack --help")
    with PdfFile(asked.output) as file, desk.catalogue(asked) as catalogue:
        packed = pack(
            catalogue, asked.lot, packets=asked.packets, seeds=asked.seeds, job=sheet_job(asked), on=on,
            viable=asked.viable, keep=file.write,
        )  # fmt: skip
    shown, sheets = packed.lot, packed.sheets
    document = sheets_document(sheets)
    document["warnings"] = [
        {"lot": shown.number, "box": None, "why": why} for why in packed.warnings
    ] + document["warnings"]
    document |= {
        "lot": shown.number,
        "packets": packed.packets,
        "seeds_per_packet": packed.seeds_per_packet,
        "fill_mg": packed.fill_mg,
        "stock_mg": shown.stock_mg,
        "stock_seeds": shown.stock_seeds,
        "file": str(asked.output),
    }
    fill = "counted" if packed.fill_mg is None else f"{packed.fill_mg / 1000:g} g each"
    lines = [
        f"{packed.packets} packets of {packed.seeds_per_packet} seeds from {shown.number} ({shown.name}): {fill}."
    ]
    lines += [f"Stock left: {shown.stock_words}."]
    lines += [line for why in packed.warnings for line in wrapped(f"Note: {why}")]
    return answer(document, [*lines, *sheet_lines(sheets, asked.output)], changed=True)


def _planned(plan: "PackingPlan") -> Answer:
    shown = plan.lot
    possible = "not known" if plan.possible_packets is None else str(plan.possible_packets)
    document = {
        "lot": shown.number,
        "seeds_per_packet": plan.seeds_per_packet,
        "fill_mg": plan.fill_mg,
        "possible_packets": plan.possible_packets,
        "reserve_seeds": shown.reserve_seeds,
        "stock_mg": shown.stock_mg,
        "stock_seeds": shown.stock_seeds,
        "warnings": [{"lot": shown.number, "box": None, "why": why} for why in plan.warnings],
    }
    lines = [
        f"{shown.number} ({shown.name}), stock {shown.stock_words}",
        f"A packet of {plan.seeds_per_packet} seeds: {plan.fill_words}. "
        f"Packets possible above the reserve of {shown.reserve_seeds} seeds: {possible}.",
        *(line for why in plan.warnings for line in wrapped(f"Note: {why}")),
        "Nothing was written.",
    ]
    return answer(document, lines)


def sheets_document(sheets: "LabelSheets") -> dict[str, Any]:
    """Give what was made, as scripts read it."""
    return {
        "labels": sheets.labels,
        "pages": sheets.pages,
        "proof": {
            "codes": sheets.proof.codes,
            "read": sheets.proof.read,
            "unread": list(sheets.proof.unread),
        },
        "warnings": [{"lot": each.key, "box": each.box, "why": each.why} for each in sheets.warnings],
    }


def sheet_lines(sheets: "LabelSheets", file: Path, what: str = "label") -> list[str]:
    """Say what was made, what the proof read, and what to look at."""
    lines = [
        f"{_many(sheets.labels, what)} on {_many(sheets.pages, 'page')}; "
        f"{sheets.proof.read} of {sheets.proof.codes} codes read back. In {file}"
    ]
    for each in sheets.warnings:
        lines += wrapped(f"Look at {each.key}, {each.box}: {each.why}")
    return lines


def _many(number: int, word: str) -> str:
    return f"1 {word}" if number == 1 else f"{number} {word}s"
