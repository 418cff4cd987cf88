"""Regrowing: which lots need new seed, and their way from the plan over sowing and selecting to the harvest."""

from argparse import ArgumentParser, Namespace
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from hilum.commands import figures
from hilum.commands.answer import Answer, answer
from hilum.commands.desk import Desk
from hilum.commands.files import PdfFile
from hilum.commands.lot_document import day
from hilum.commands.parser import Verbs, add_day, add_lot
from hilum.commands.terminal import wrapped
from hilum.errors import BadInput

if TYPE_CHECKING:
    from hilum.benches.regrowing import Regrowing


def add_verbs(verbs: Verbs) -> None:
    """Put the verbs of this module into the parser."""
    regrow = verbs.add("regrow", None, "lots that need new seed: plan, sow, select, harvest")
    parts = Verbs.below(regrow, "WHAT")
    need = parts.add("need", _need, "name the lots that should be regrown, with their reasons")
    need.add_argument("--only", action="store_true", help="also lots that are the only one of their variety")
    rows = parts.add("list", _list, "show what is planned and growing, and what would cross")
    rows.add_argument(
        "--all", dest="with_closed", action="store_true", help="also what is harvested or given up"
    )
    rows.add_argument("-o", "--output", metavar="FILE", type=Path, help="the plan on paper, as PDF")
    plan = parts.add(
        "plan", _plan, "plan to regrow a lot", "Plants and losses are the usual ones unless given."
    )
    sow = parts.add("sow", _sow, "sow what is planned: the seed is drawn from stock")
    select = parts.add("select", _select, "record the plants that were kept")
    harvest = parts.add("harvest", _harvest, "take in the harvest as a new lot that remembers its parent",
                        "Without --grams and --seeds the new lot waits to be weighed.")  # fmt: skip
    give_up = parts.add("give-up", _give_up, "give a regrowing up, with the reason")
    for each in (plan, sow, select, harvest, give_up):
        add_lot(each)
    for each in (need, rows, plan, sow, select, harvest):
        add_day(each)
    plan.add_argument(
        "--year", metavar="YEAR", type=figures.positive, help="of sowing (the next season if left out)"
    )
    plan.add_argument("--plants", metavar="N", type=figures.positive)
    plan.add_argument("--losses", metavar="PERCENT", type=figures.whole, help="lost in the field")
    for option, words in (
        ("--garden", "where it grows"),
        ("--bed", "in which bed"),
        ("--isolation", "kept apart by"),
    ):
        plan.add_argument(option, metavar="TEXT", type=figures.words, default="", help=words)
    plan.add_argument("--notes", metavar="TEXT", type=figures.words, default="")
    _amount(sow, required=True)
    select.add_argument("--plants", metavar="N", type=figures.positive, required=True, help="plants kept")
    select.add_argument("--notes", metavar="TEXT", type=figures.words)
    _amount(harvest, required=False)
    harvest.add_argument(
        "--place", metavar="TEXT", type=figures.words, help="place grown (the garden if left out)"
    )
    harvest.add_argument(
        "--grower", metavar="TEXT", type=figures.words, help="(that of the parent if left out)"
    )
    give_up.add_argument("--why", metavar="TEXT", type=figures.words, required=True)


def _amount(parser: ArgumentParser, *, required: bool) -> None:
    amount = parser.add_mutually_exclusive_group(required=required)
    amount.add_argument("--grams", metavar="G", dest="mass_mg", type=figures.milligrams)
    amount.add_argument("--seeds", metavar="N", type=figures.positive)


def _need(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.regrowing import candidates

    with desk.catalogue(asked) as catalogue:
        found = candidates(catalogue, on=desk.day(asked), with_only_lots=asked.only)
    document = {
        "lots": [
            {"lot": each.number, "reasons": [reason.short for reason in each.reasons],
             "why": [reason.words for reason in each.reasons]}
            for each in found.lots
        ],
        "replaced": found.replaced,
    }  # fmt: skip
    lines = []
    for each in found.lots:
        lines.append(f"{each.number}  {each.lot.name}")
        lines += [f"    {line}" for reason in each.reasons for line in wrapped(reason.words)]
    if found.replaced:
        lines.append(f"{found.replaced} left out: a newer good lot of the same variety is here.")
    return answer(document, lines or ["Nothing asks for new seed."])


def _list(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.regrowing import crossing_words, plan_on_paper, regrowings

    with desk.catalogue(asked) as catalogue:
        plan = regrowings(catalogue, with_closed=asked.with_closed)
        if asked.output is not None:
            with PdfFile(asked.output) as file:
                file.write(plan_on_paper(catalogue, on=desk.day(asked)))
    document = {
        "regrowings": [_document(row) for row in plan.rows],
        "crossings": [
            {"garden": each.garden, "first": each.first, "second": each.second, "sure": each.is_sure,
             "why": each.words, "source": each.source}
            for each in plan.crossings
        ],
    }  # fmt: skip
    lines = [_line(row) for row in plan.rows] or ["Nothing is planned."]
    lines += [line for words in crossing_words(plan.crossings) for line in wrapped(f"Take care: {words}")]
    if asked.output is not None:
        lines.append(f"On paper in {asked.output}")
    return answer(document, lines, changed=asked.output is not None)


def _document(row: "Regrowing") -> dict[str, Any]:
    line = row.line
    return {
        "lot": row.number, "year": line.year, "state": line.state, "why": line.why, "garden": line.garden,
        "bed": line.bed, "plants": line.plants, "losses_percent": line.losses_percent, "seeds": line.seeds,
        "isolation": line.isolation, "sown_on": day(line.sown_on), "seeds_sown": line.seeds_sown,
        "plants_kept": line.plants_kept, "harvested_on": day(line.harvested_on), "new_lot": row.new_lot,
        "notes": line.notes,
    }  # fmt: skip


def _line(row: "Regrowing") -> str:
    line = row.line
    became = f" as {row.new_lot}" if row.new_lot else ""
    where = f" in {row.where}" if row.where else ""
    apart = f", kept apart by {line.isolation}" if line.isolation else ""
    return (
        f"{row.number}  {row.lot.name}: {line.state}{became}, {line.year}{where}, {line.plants} plants from "
        f"{line.seeds} seeds{apart}"
    )


def _told(row: "Regrowing", *more: str) -> Answer:
    lines = [_line(row)]
    for words in more:
        lines += wrapped(words)
    return answer(_document(row), lines, changed=True)


def _plan(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.regrowing import crossings_if, plan_regrowing, regrowing_sums, usual_year

    on = desk.day(asked)
    with desk.catalogue(asked) as catalogue:
        row = plan_regrowing(
            catalogue, asked.lot, year=asked.year or usual_year(on), on=on, plants=asked.plants,
            losses_percent=asked.losses, garden=asked.garden, bed=asked.bed, isolation=asked.isolation,
            notes=asked.notes,
        )  # fmt: skip
        sums = regrowing_sums(
            catalogue, row.number, plants=row.line.plants, losses_percent=row.line.losses_percent
        )
        crossed = crossings_if(catalogue, row.number, row.line.garden, row.line.year)
    kept = [sums.isolation.words] if sums.isolation is not None else []
    care = [f"Take care: {words}" for words in (*(each.words for each in crossed), *sums.warnings)]
    return _told(row, sums.plants_words, sums.keeping_words, sums.sowing_words, *kept, *care)


def _of(catalogue: Any, typed: str) -> "Regrowing":
    """Give the regrowing of a lot that is planned or growing."""
    from hilum.benches.lots import lot_number
    from hilum.benches.regrowing import regrowings

    number = lot_number(catalogue, typed)
    for row in regrowings(catalogue).rows:
        if row.number == number:
            return row
    raise BadInput(f"Lot {number} is not planned to be regrown. Plan it first: hilum regrow plan {number}")


def _sow(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.regrowing import sow

    with desk.catalogue(asked) as catalogue:
        row = _of(catalogue, asked.lot)
        return _told(sow(catalogue, row.id, on=desk.day(asked), seeds=asked.seeds, mass_mg=asked.mass_mg))


def _select(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.regrowing import select

    with desk.catalogue(asked) as catalogue:
        row = _of(catalogue, asked.lot)
        return _told(
            select(catalogue, row.id, on=desk.day(asked), plants_kept=asked.plants, notes=asked.notes)
        )


def _harvest(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.regrowing import harvest, harvest_as_planned

    with desk.catalogue(asked) as catalogue:
        row = _of(catalogue, asked.lot)
        known = harvest_as_planned(row)
        brought = replace(
            known,
            mass_mg=asked.mass_mg,
            seeds=asked.seeds,
            place_grown=known.place_grown if asked.place is None else asked.place,
            grower=known.grower if asked.grower is None else asked.grower,
        )
        return _told(harvest(catalogue, row.id, brought, on=desk.day(asked)))


def _give_up(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.regrowing import give_up

    with desk.catalogue(asked) as catalogue:
        return _told(give_up(catalogue, _of(catalogue, asked.lot).id, why=asked.why))
