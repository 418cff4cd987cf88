"""Intake: take in a table of lots from a CSV or XLSX file, or only say what each row would become."""

from argparse import Namespace
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from hilum.commands import figures
from hilum.commands.answer import BAD_INPUT, DONE, Answer, answer
from hilum.commands.desk import Desk
from hilum.commands.parser import Verbs
from hilum.commands.terminal import facts, wrapped
from hilum.errors import BadInput

if TYPE_CHECKING:
    from hilum.benches.intake import Choices, IntakePlan, PlannedRow, TakenIn
    from hilum.benches.keeping import Catalogue


def add_verbs(verbs: Verbs) -> None:
    """Put the verb of this module into the parser."""
    parser = verbs.add(
        "intake", _intake, "take in a CSV or XLSX table of lots",
        "Rows that are not understood are refused with the reason, and the other rows are taken in together. Exit "
        "code 2 when no row was. What the table does not prove by itself can be settled with the options above.",
    )  # fmt: skip
    parser.add_argument("file", metavar="FILE", type=Path)
    parser.add_argument("--try", dest="only_try", action="store_true", help="only report; nothing is written")
    parser.add_argument("--anyway", metavar="ROW,ROW", type=figures.positives, default=(),
                        help="rows to take in although a lot like them is here")  # fmt: skip
    parser.add_argument(
        "--decimal-mark", choices=("dot", "comma"), help="the mark before decimals in the table"
    )
    parser.add_argument("--date-order", choices=("day-first", "month-first", "year-first"))
    parser.add_argument(
        "--unit", choices=("mg", "g", "kg", "oz", "lb", "seeds"), help="the unit of bare figures"
    )
    parser.add_argument("--crop", metavar="WRITTEN=CROP", type=figures.pair, action="append", default=[],
                        help="the crop that is meant by a name in the table; may be repeated")  # fmt: skip
    parser.add_argument("--column", metavar="HEADING=MEANING", type=figures.pair, action="append", default=[],
                        help="what a column holds, such as variety, place grown, amount, “not used”")  # fmt: skip


def _intake(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.intake import plan_file, take_in

    with desk.catalogue(asked) as catalogue:
        plan = plan_file(catalogue, asked.file, today=desk.clock().date(), choices=_choices(catalogue, asked))
        anyway = _anyway(plan, asked.anyway)
        if asked.only_try:
            return _told(plan, None, anyway)
        if any(_is_wanted(each, anyway) for each in plan.rows):
            _safety_copy(catalogue)
        return _told(plan, take_in(catalogue, plan, anyway=anyway), anyway)


def _choices(catalogue: "Catalogue", asked: Namespace) -> "Choices":
    from hilum.benches.intake import Choices, crop_key_of

    crops = {}
    for written, meant in asked.crop:
        key = crop_key_of(catalogue, meant)
        if key is None:
            raise BadInput(f"“{meant}” is not the name of one crop. Write it as the program suggests it.")
        crops[written] = key
    return Choices(
        columns=dict(asked.column),
        decimal_mark={"dot": ".", "comma": ",", None: None}[asked.decimal_mark],
        date_order=None if asked.date_order is None else asked.date_order.replace("-", " "),
        unit=asked.unit,
        crops=crops,
    )


def _anyway(plan: "IntakePlan", named: tuple[int, ...]) -> frozenset[int]:
    from hilum.benches.intake import ASK

    asked = {each.read.row for each in plan.rows if each.status == ASK}
    wrong = sorted(set(named) - asked)
    if wrong:
        rows = ", ".join(str(row) for row in sorted(asked)) or "none"
        raise BadInput(
            f"Row {wrong[0]} is not one that is asked about. Rows asked about in this table: {rows}."
        )
    return frozenset(named)


def _is_wanted(planned: "PlannedRow", anyway: frozenset[int]) -> bool:
    from hilum.benches.intake import NEW

    return planned.status == NEW or planned.read.row in anyway


def _safety_copy(catalogue: "Catalogue") -> None:
    from hilum.benches import keeping

    if keeping.counted_lots(catalogue):
        keeping.closing_copy(catalogue)


def _told(plan: "IntakePlan", done: "TakenIn | None", anyway: frozenset[int]) -> Answer:
    """Put a plan, and what was done of it, into an answer; every row of the table is in one of the lists."""
    from hilum.benches.intake import row_words

    lots = {} if done is None else {each.row: each.lot for each in done.accepted}
    words = {each.read.row: row_words(each.read) for each in plan.rows}
    accepted = [
        {"row": each.read.row, "lot": lots.get(each.read.row), "words": words[each.read.row],
         "taken_for": list(each.read.taken_for)}
        for each in plan.rows if _is_wanted(each, anyway)
    ]  # fmt: skip
    refused = list(_refused(plan, anyway))
    document = {
        "accepted": accepted,
        "refused": refused,
        "skipped": [{"row": each.row, "why": each.why} for each in plan.reading.skipped],
        "columns": [{"heading": each.heading, "meaning": each.meaning} for each in plan.reading.columns],
        "facts": [
            {"about": each.about, "taken": each.taken, "proof": each.proof} for each in plan.reading.facts
        ],
        "tried_only": done is None,
    }
    nothing = "" if accepted else "No row was taken in: the answer says of each row why."
    return answer(
        document,
        _lines(document),
        trouble=nothing,
        exit_code=DONE if accepted else BAD_INPUT,
        changed=done is not None and bool(accepted),
    )


def _refused(plan: "IntakePlan", anyway: frozenset[int]) -> Iterator[dict[str, Any]]:
    from hilum.benches.intake import ALREADY_HERE, ASK

    found: list[dict[str, Any]] = [
        {"row": each.row, "column": each.column, "why": each.why, "suggestion": each.suggestion, "status": "refused",
         "lot": None}
        for each in plan.reading.refused
    ]  # fmt: skip
    found += [
        {"row": each.read.row, "column": "", "why": each.words, "suggestion": None, "status": each.status,
         "lot": each.lot}
        for each in plan.rows
        if each.status == ALREADY_HERE or (each.status == ASK and each.read.row not in anyway)
    ]  # fmt: skip
    yield from sorted(found, key=lambda each: int(each["row"]))


def _lines(document: Mapping[str, Any]) -> list[str]:
    lines = ["How the table was read"]
    lines += facts(
        (f"  {each['about']}", f"{each['taken']}; {each['proof']}" if each["proof"] else each["taken"])
        for each in document["facts"]
    )
    accepted, refused, skipped = document["accepted"], document["refused"], document["skipped"]
    if accepted:
        lines += ["", _counted(len(accepted), "would be taken in" if document["tried_only"] else "taken in")]
    for each in accepted:
        lot = f"{each['lot']}  " if each["lot"] else ""
        taken = f" [{'; '.join(each['taken_for'])}]" if each["taken_for"] else ""
        lines += _row(each["row"], f"{lot}{each['words']}{taken}")
    if refused:
        lines += ["", _counted(len(refused), "not taken in")]
    for each in refused:
        column = f"{each['column']}: " if each["column"] else ""
        lines += _row(each["row"], f"{column}{each['why']}{_what_next(each)}")
    if skipped:
        lines += ["", _counted(len(skipped), "without a lot")]
        lines += [line for each in skipped for line in _row(each["row"], each["why"])]
    if document["tried_only"]:
        lines += ["", "Nothing was written."]
    return lines


def _what_next(refusal: Mapping[str, Any]) -> str:
    if refusal["suggestion"] and refusal["suggestion"] not in refusal["why"]:
        return f" Suggested: {refusal['suggestion']}."
    return f" To take it in all the same: --anyway {refusal['row']}" if refusal["status"] == "ask" else ""


def _row(number: int, words: str) -> list[str]:
    first, *more = wrapped(words, 8)
    return [f"{f'row {number}':>7} {first[8:]}", *more]


def _counted(number: int, words: str) -> str:
    return f"{number} {'row' if number == 1 else 'rows'} {words}"
