"""Day: what is waiting on a day, each under its own heading."""

from argparse import Namespace
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from hilum.commands.answer import Answer, answer
from hilum.commands.desk import Desk
from hilum.commands.lot_document import day
from hilum.commands.lots import lot_table
from hilum.commands.parser import Verbs, add_day
from hilum.commands.terminal import Column, table

if TYPE_CHECKING:
    from hilum.benches.day_sheet import DaySheet, HeldLot
    from hilum.benches.preparing import InHand
    from hilum.benches.regrowing_rows import Regrowing
    from hilum.benches.views import LotView

DISHES = (
    Column("Lot", 16),
    Column("Crop", 26),
    Column("Variety", 32),
    Column("Laid", 10),
    Column("First count", 11),
    Column("Final", 10),
)
IN_HAND = (
    Column("Lot", 16),
    Column("Crop", 26),
    Column("Variety", 32),
    Column("Stock", 15, right=True),
    Column("Next step", 9),
)
HELD = (Column("Lot", 16), Column("Crop", 26), Column("Variety", 32), Column("Because of", 20))
OVERDUE = (
    Column("Lot", 13), Column("Crop", 20), Column("Variety", 26), Column("Expected by", 11), Column("From", 22),
)  # fmt: skip
BARRED = (
    Column("Lot", 16),
    Column("Crop", 26),
    Column("Variety", 32),
    Column("Date", 10),
    Column("Why not", 16),
)
TO_SOW = (
    Column("Lot", 16),
    Column("Crop", 26),
    Column("Variety", 32),
    Column("Garden, bed", 26),
    Column("Plants", 7, right=True),
    Column("Seeds", 7, right=True),
)
# The steps as they are typed after `prepare`.
_STEP_WORDS = {"cleaned": "clean", "dried": "dry", "weighed": "weigh", "counted": "count", "frozen": "freeze"}


def add_verbs(verbs: Verbs) -> None:
    """Put the verb of this module into the parser."""
    parser = verbs.add("day", _day, "show the day sheet: what is waiting")
    add_day(parser, "the day (today if left out)")


def _day(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.day_sheet import day_sheet

    with desk.catalogue(asked) as catalogue:
        sheet = day_sheet(catalogue, on=desk.day(asked))
    return answer(_document(sheet), _lines(sheet))


def _document(sheet: "DaySheet") -> dict[str, Any]:
    def numbers(lots: "Sequence[LotView]") -> list[str]:
        return [each.number for each in lots]

    return {
        "on": sheet.on.isoformat(),
        "lots": sheet.lots,
        "due": [each.as_json() for each in sheet.due],
        "due_total": sheet.due_total,
        "barred": [each.as_json() for each in sheet.barred],
        "to_count": [each.lot for each in sheet.to_count],
        "standing": [
            {"test": each.id, "lot": each.lot, "laid_on": day(each.started_on),
             "first_count_on": day(each.first_count_on), "final_count_on": day(each.final_count_on)}
            for each in sheet.standing
        ],
        "to_be_weighed": numbers(sheet.to_be_weighed),
        "in_hand": [
            {"lot": each.lot.number, "done": list(each.done), "next_step": each.next_step, "holds": list(each.holds)}
            for each in sheet.in_hand
        ],
        "held": [each.number for each in sheet.held],
        "hold_kinds": {each.number: list(each.kinds) for each in sheet.held},
        "group_open": numbers(sheet.group_open),
        "returns_overdue": [
            {"lot": each.line.lot, "expected_by": day(each.line.expected_by)} for each in sheet.overdue
        ],
        "to_sow": [
            {"lot": each.number, "year": each.line.year, "garden": each.line.garden, "bed": each.line.bed,
             "plants": each.line.plants, "seeds": each.line.seeds}
            for each in sheet.to_sow
        ],
    }  # fmt: skip


def _lines(sheet: "DaySheet") -> list[str]:
    dishes = [
        (each.lot, each.crop, each.variety, each.started_on.isoformat(), day(each.first_count_on) or "",
         day(each.final_count_on) or "")
        for each in sheet.standing
    ]  # fmt: skip
    due = lot_table(sheet.due, with_reasons=True)
    if sheet.due_total > len(sheet.due):
        due.append(f"{len(sheet.due)} of {sheet.due_total}; the rest with: hilum lots --due")
    lines = [f"Day sheet of {sheet.on.isoformat()}, {sheet.lots} lots in the catalogue"]
    for title, block in (
        ("Due for a germination test", due),
        ("Due by the calendar, but not to be tested now", table(BARRED, _barred(sheet.barred))),
        ("Dishes standing", table(DISHES, dishes)),
        ("To be sown for regrowing", table(TO_SOW, _to_sow(sheet.to_sow))),
        ("To be weighed", lot_table(sheet.to_be_weighed)),
        ("In hand", _in_hand(sheet.in_hand)),
        ("On hold", _held(sheet.held)),
        ("Promised returns overdue", table(OVERDUE, _overdue(sheet))),
        ("Crop group still to be chosen", lot_table(sheet.group_open)),
    ):
        if block:
            lines += ["", title, *block]
    return lines if len(lines) > 1 else [*lines, "Nothing is waiting."]


def _held(lots: "Sequence[HeldLot]") -> list[str]:
    return table(
        HELD,
        [(each.number, each.lot.line.crop, each.lot.line.variety, ", ".join(each.kinds)) for each in lots],
    )


def _in_hand(lots: "Sequence[InHand]") -> list[str]:
    rows, under = [], []
    for each in lots:
        line, step = each.lot.line, _STEP_WORDS.get(each.next_step or "", "")
        rows.append((line.number, line.crop, line.variety, each.lot.stock_words, step))
        said = (("done", each.done), ("on hold", each.holds))
        under.append("; ".join(f"{name}: {', '.join(words)}" for name, words in said if words))
    return table(IN_HAND, rows, under)


def _overdue(sheet: "DaySheet") -> list[tuple[str, ...]]:
    return [
        (each.line.lot, each.line.crop, each.line.variety, day(each.line.expected_by) or "", each.who)
        for each in sheet.overdue
    ]


def _to_sow(rows: "Sequence[Regrowing]") -> list[tuple[str, ...]]:
    return [
        (
            each.number,
            each.lot.line.crop,
            each.lot.line.variety,
            each.where,
            str(each.line.plants),
            str(each.line.seeds),
        )
        for each in rows
    ]


def _barred(lots: "Sequence[LotView]") -> list[tuple[str, ...]]:
    return [
        (each.number, each.line.crop, each.line.variety, day(each.line.due_on) or "", each.line.due_bar)
        for each in lots
    ]
