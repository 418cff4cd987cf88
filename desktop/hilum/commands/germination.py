"""Germination: record a finished test, one figure a dish."""

from argparse import Namespace
from typing import TYPE_CHECKING

from hilum.commands import figures
from hilum.commands.answer import Answer, answer
from hilum.commands.desk import Desk
from hilum.commands.lot_document import day, interval
from hilum.commands.parser import Verbs, add_day, add_lot
from hilum.commands.terminal import facts, wrapped

if TYPE_CHECKING:
    from hilum.benches.results import GerminationResult

CLASSES = ("normal", "abnormal", "hard", "fresh", "dead")
HOME_TEST = "home test"


def add_verbs(verbs: Verbs) -> None:
    """Put the verb of this module into the parser."""
    parser = verbs.add(
        "germination", _germination, "record a finished germination test",
        "One figure for each dish, separated by commas: --of 100 --normal 88,91,86,90. A class that is left out "
        "was not counted. The seed is drawn from stock, unless the test was made elsewhere.",
    )  # fmt: skip
    add_lot(parser)
    add_day(parser, "the day of the last count (today if left out)")
    parser.add_argument("--of", metavar="N", required=True, type=figures.positives,
                        help="seeds sown in a dish: one number, or one for each dish")  # fmt: skip
    for name in CLASSES:
        parser.add_argument(f"--{name}", metavar="a,b,...", type=figures.wholes, required=name == "normal")
    parser.add_argument("--elsewhere", metavar="WHOSE", type=figures.words,
                        help="a result from elsewhere: say whose; nothing is drawn from stock")  # fmt: skip
    parser.add_argument("--rules", metavar="TEXT", type=figures.words, default=HOME_TEST,
                        help=f"the rules followed (“{HOME_TEST}” if left out)")  # fmt: skip
    parser.add_argument("--note", metavar="TEXT", type=figures.words, default="")


def _germination(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.testing import record_test

    given = {name: getattr(asked, name) for name in CLASSES}
    with desk.catalogue(asked) as catalogue:
        result = record_test(
            catalogue,
            asked.lot,
            on=desk.day(asked),
            seeds=asked.of,
            counts={name: counted for name, counted in given.items() if counted is not None},
            origin=asked.elsewhere or "here",
            rules=asked.rules,
            note=asked.note,
        )
    return result_answer(result)


def result_answer(result: "GerminationResult") -> Answer:
    """Tell how a finished test was judged and when the next one falls due."""
    test, line, tolerance = result.test, result.lot.line, result.tolerance
    low, high = result.interval_90
    document = {
        "lot": line.number,
        "germination_percent": test.normal_percent,
        "abnormal_percent": test.abnormal_percent,
        "hard_percent": test.hard_percent,
        "fresh_percent": test.fresh_percent,
        "dead_percent": test.dead_percent,
        "not_classed_percent": test.not_classed_percent,
        "seeds": test.seeds,
        "interval_90": interval(low, high),
        "tolerance": {
            "range": tolerance.range_percent,
            "allowed": tolerance.allowed_percent,
            "within": tolerance.within,
        },
        "standard_percent": test.standard_percent,
        "verdict": result.verdict,
        "verdict_why": result.verdict_why,
        "next_due_on": day(line.due_on),
        "next_due_why": line.due_why or None,
        "stock_mg": result.lot.stock_mg,
        "stock_seeds": result.lot.stock_seeds,
        "warnings": list(result.warnings),
    }
    lines = [f"{line.number}  {result.lot.name}", ""]
    lines += facts(
        (
            (
                "Germination",
                f"{test.normal_percent} % of {test.seeds} seeds; 90 % interval {low:.0f} to {high:.0f} %",
            ),
            ("Dishes", tolerance.rule),
            ("Verdict", f"{result.verdict}: {result.verdict_why}"),
            ("Next test", "" if line.due_on is None else f"{line.due_on.isoformat()}: {line.due_why}"),
            ("Stock", result.lot.stock_words),
        )
    )
    for warning in result.warnings:
        lines += wrapped(f"Note: {warning}")
    return answer(document, lines, changed=True)
