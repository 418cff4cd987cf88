"""Season: lists of lots to pack, kept in the catalogue, and the packing of a whole list in one step."""

from argparse import Namespace
from typing import TYPE_CHECKING, Any

from hilum.commands import figures
from hilum.commands.answer import Answer, answer
from hilum.commands.desk import Desk
from hilum.commands.files import PdfFile
from hilum.commands.labels import (
    chosen_lots,
    lots_options,
    sheet_job,
    sheet_lines,
    sheet_options,
    sheets_document,
)
from hilum.commands.parser import Verbs, add_day
from hilum.commands.terminal import wrapped
from hilum.errors import BadInput

if TYPE_CHECKING:
    from hilum.benches.season import PlannedRow, SeasonPlan


def add_verbs(verbs: Verbs) -> None:
    """Put the verbs of this module into the parser."""
    season = verbs.add("season", None, "lists of lots to pack for a season, and packing them in one step")
    parts = Verbs.below(season, "WHAT")
    parts.add("lists", _lists, "name the lists there are")
    begin = parts.add("begin", _begin, "begin a list")
    show = parts.add("show", _show, "show a list with what packing it would take")
    add = parts.add("add", _add, "put lots on a list")
    drop = parts.add("drop", _drop, "take lots off a list")
    pack = parts.add("pack", _pack, "pack what is left of a list: stock, packets and one PDF of labels",
                     "Either all of it happens or nothing does; every lot that cannot be packed is named.")  # fmt: skip
    take_back = parts.add("take-back", _take_back, "take back one packing, by the job that it named")
    for each in (begin, show, add, drop, pack):
        each.add_argument("name", metavar="NAME", type=figures.words, help="the list, such as “Spring 2027”")
        add_day(each)
    lots_options(add)
    add.add_argument("--seeds", metavar="N", type=figures.positive,
                     help="seeds in a packet (else what is usual for the crop)")  # fmt: skip
    add.add_argument("--packets", metavar="N", type=figures.positive, default=10, help="packets wanted (10)")
    drop.add_argument("--lots", metavar="A,B", type=figures.listed, required=True, help="lot numbers")
    pack.add_argument("--lots", metavar="A,B", type=figures.listed, help="only these lots of the list")
    sheet_options(pack, required=True)
    take_back.add_argument("job", metavar="JOB", type=figures.words, help="as packing said it")


def _lists(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.season import season_lists

    with desk.catalogue(asked) as catalogue:
        found = season_lists(catalogue)
    document = {
        "lists": [
            {"name": each.name, "made_on": each.made_on.isoformat(), "lots": each.rows} for each in found
        ]
    }
    lines = [f"{each.name}: {each.rows} lots, begun {each.made_on.isoformat()}" for each in found]
    return answer(document, lines or ["There is no season's list yet. Begin one: hilum season begin NAME"])


def _begin(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.season import make_list

    with desk.catalogue(asked) as catalogue:
        made = make_list(catalogue, asked.name, on=desk.day(asked))
    return answer({"name": made.name, "lots": 0}, [f"The list “{made.name}” is begun."], changed=True)


def _plan(catalogue: Any, asked: Namespace, desk: Desk) -> "SeasonPlan":
    from hilum.benches.season import list_named, season_plan

    return season_plan(catalogue, list_named(catalogue, asked.name).id, on=desk.day(asked))


def _show(asked: Namespace, desk: Desk) -> Answer:
    with desk.catalogue(asked) as catalogue:
        return _told(_plan(catalogue, asked, desk))


def _told(plan: "SeasonPlan", *, changed: bool = False) -> Answer:
    lines = [f"{plan.list.name}: {len(plan.rows)} lots, {sum(row.left for row in plan.rows)} packets to fill"]
    for row in plan.rows:
        fill = row.plan.fill_words if row.plan is not None else "fill not known"
        packed = f", {row.packed} packed" if row.packed else ""
        lines.append(
            f"{row.number}  {row.lot.name}: {row.packets} × {row.seeds_per_packet} seeds, {fill}{packed}"
        )
        lines += [f"    {line}" for why in (row.bar, *row.warnings) if why for line in wrapped(why)]
    document = {"name": plan.list.name, "rows": [_row_document(row) for row in plan.rows]}
    return answer(document, lines, changed=changed)


def _row_document(row: "PlannedRow") -> dict[str, Any]:
    plan = row.plan
    return {
        "lot": row.number,
        "seeds_per_packet": row.seeds_per_packet,
        "packets": row.packets,
        "packed": row.packed,
        "left": row.left,
        "by_germination": row.by_germination,
        "fill_mg": None if plan is None else plan.fill_mg,
        "possible_packets": None if plan is None else plan.possible_packets,
        "barred_by": row.bar or None,
        "warnings": list(row.warnings),
    }


def _add(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.season import add_lots, list_named

    with desk.catalogue(asked) as catalogue:
        wanted = list_named(catalogue, asked.name)
        numbers = chosen_lots(catalogue, asked, desk)
        done = add_lots(catalogue, wanted.id, numbers, seeds=asked.seeds, packets=asked.packets)
    there = f" Already there: {', '.join(done.there)}." if done.there else ""
    return answer(
        {"name": wanted.name, "added": list(done.added), "there": list(done.there)},
        [f"{len(done.added)} lots put on “{wanted.name}”.{there}"],
        changed=bool(done.added),
    )


def _drop(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.season import remove_rows

    with desk.catalogue(asked) as catalogue:
        plan = _plan(catalogue, asked, desk)
        remove_rows(catalogue, [row.id for row in _named(catalogue, plan, asked.lots)])
        return _told(_plan(catalogue, asked, desk), changed=True)


def _named(catalogue: Any, plan: "SeasonPlan", typed: tuple[str, ...]) -> "list[PlannedRow]":
    from hilum.benches.lots import lot_number

    rows = {row.number: row for row in plan.rows}
    numbers = [lot_number(catalogue, each) for each in typed]
    missing = [number for number in numbers if number not in rows]
    if missing or not numbers:
        raise BadInput(
            f"Not on “{plan.list.name}”: {', '.join(missing)}." if missing else "--lots names no lot."
        )
    return [rows[number] for number in numbers]


def _pack(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.season_packing import pack_rows

    with PdfFile(asked.output) as file, desk.catalogue(asked) as catalogue:
        plan = _plan(catalogue, asked, desk)
        rows = [row for row in plan.rows if row.left]
        if asked.lots is not None:
            rows = _named(catalogue, plan, asked.lots)
        if not rows:
            raise BadInput(f"Nothing is left to pack on “{plan.list.name}”.")
        packed = pack_rows(
            catalogue,
            plan.list.id,
            [row.id for row in rows],
            sheet_job(asked),
            on=desk.day(asked),
            keep=file.write,
        )
    document = sheets_document(packed.sheets)
    document["warnings"] = [
        {"lot": row.lot, "box": None, "why": why} for row in packed.rows for why in row.warnings
    ] + document["warnings"]
    document |= {
        "name": plan.list.name,
        "packets": packed.packets,
        "rows": [
            {"lot": row.lot, "packets": row.packets, "seeds_per_packet": row.seeds_per_packet, "fill_mg": row.fill_mg}
            for row in packed.rows
        ],
        "job": packed.job,
        "file": str(asked.output),
    }  # fmt: skip
    lines = [f"{packed.packets} packets from {len(packed.rows)} lots of “{plan.list.name}”."]
    lines += [
        line for row in packed.rows for why in row.warnings for line in wrapped(f"Note: {row.lot}: {why}")
    ]
    lines.append(f"To take all of it back: hilum season take-back {packed.job}")
    return answer(document, [*lines, *sheet_lines(packed.sheets, asked.output)], changed=True)


def _take_back(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.lots import take_back

    with desk.catalogue(asked) as catalogue:
        what = take_back(catalogue, asked.job)
    return answer({"taken_back": what}, [f"Taken back: {what}."], changed=True)
