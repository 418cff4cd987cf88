"""Dishes: lay those of a germination test, write down what a day's count found, and end the test."""

from argparse import Namespace
from datetime import date
from typing import TYPE_CHECKING, Any

from hilum.commands import figures
from hilum.commands.answer import Answer, answer
from hilum.commands.desk import Desk
from hilum.commands.germination import CLASSES, result_answer
from hilum.commands.lot_document import day
from hilum.commands.parser import Verbs, add_day, add_lot
from hilum.commands.terminal import Column, facts, table, wrapped
from hilum.errors import BadInput

if TYPE_CHECKING:
    from hilum.benches.counting import DayCounts
    from hilum.benches.keeping import Catalogue
    from hilum.benches.testing import CountSheet, GerminationTestLine

BARS = {"first-result": "first result", "standard": "standard"}
DISHES = (
    Column("Dish", 5, right=True),
    Column("Seeds", 6, right=True),
    Column("Laid on", 11),
    Column("First count", 12),
    Column("Final count", 12),
    Column("Normal", 7, right=True),
    Column("Left", 5, right=True),
)


def add_verbs(verbs: Verbs) -> None:
    """Put the verbs of this module into the parser."""
    _add_lay(verbs)
    _add_count(verbs)


def _add_lay(verbs: Verbs) -> None:
    parser = verbs.add(
        "lay", _lay, "lay the dishes of a germination test; their seed is drawn from stock now",
        "hilum lay LOT --of 25,25,25,25 lays four dishes by the published method; hilum lay LOT alone lays what the "
        "lot can spare. With --groups the dishes are the first group of a test that stops as soon as the answer is "
        "clear; hilum lay LOT --another lays the next one. Dish tags: hilum labels --design dish.",
    )  # fmt: skip
    add_lot(parser)
    add_day(parser, "the day the dishes are laid (today if left out)")
    parser.add_argument(
        "--of", metavar="N,N,...", type=figures.positives, help="seeds in each dish, one figure a dish"
    )
    parser.add_argument(
        "--grams", metavar="G", type=figures.milligrams, help="what the seed weighed, if it was weighed"
    )
    parser.add_argument("--groups", choices=tuple(BARS),
                        help="test in groups, held against 85 %% of its first result or the standard")  # fmt: skip
    parser.add_argument(
        "--another", action="store_true", help="another group of the test in groups that stands"
    )
    parser.add_argument(
        "--prechill", metavar="DAYS", type=figures.whole, default=0, help="days of cold before"
    )
    parser.add_argument(
        "--substrate", metavar="TEXT", type=figures.words, default="", help="in place of the published one"
    )
    parser.add_argument(
        "--temperature", metavar="TEXT", type=figures.words, default="", help="in place of the published one"
    )
    parser.add_argument(
        "--first-count", metavar="DAY", type=figures.positive, help="days until the first count"
    )
    parser.add_argument(
        "--final-count", metavar="DAY", type=figures.positive, help="days until the final count"
    )
    parser.add_argument("--note", metavar="TEXT", type=figures.words, default="")


def _add_count(verbs: Verbs) -> None:
    parser = verbs.add(
        "count", _count, "write down what a day's count of a standing germination test found",
        "Seeds newly found that day, one figure for each dish that was counted: --normal 12,14. A class that is left "
        "out was not looked at. Without figures the verb only tells how the test stands. --finish judges the test.",
    )  # fmt: skip
    add_lot(parser)
    add_day(parser, "the day of the count (today if left out)")
    parser.add_argument("--dishes", metavar="K,K,...", type=figures.positives,
                        help="the dishes counted, by number (all that are not counted out if left out)")  # fmt: skip
    for name in CLASSES:
        parser.add_argument(f"--{name}", metavar="a,b,...", type=figures.wholes)
    parser.add_argument("--finish", action="store_true", help="this was the last count: judge the test")
    parser.add_argument("--give-up", metavar="WHY", type=figures.words, help="end the test without a result")


def _lay(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches import testing

    with desk.catalogue(asked) as catalogue:
        on = desk.day(asked)
        if asked.another:
            _refuse_with_another(asked)
            running = testing.running_test(catalogue, asked.lot)
            test, warnings = testing.lay_group(catalogue, running.id, on=on, mass_mg=asked.grams)
            return _standing(testing.count_sheet(catalogue, test.id), catalogue, warnings, changed=True)
        conditions = testing.Conditions(
            asked.substrate, asked.temperature, asked.first_count, asked.final_count, asked.prechill
        )
        plan = testing.plan_test(
            catalogue, asked.lot, on=on, dishes=asked.of, asked=conditions, in_groups=asked.groups is not None
        )
        test = testing.start_test(
            catalogue,
            asked.lot,
            on=on,
            dishes=plan.dishes,
            substrate=conditions.substrate,
            temperature=conditions.temperature,
            first_count_days=conditions.first_count_days,
            final_count_days=conditions.final_count_days,
            prechill_days=conditions.prechill_days,
            mass_mg=asked.grams,
            note=asked.note,
            bar=None if asked.groups is None else BARS[asked.groups],
        )
        return _standing(testing.count_sheet(catalogue, test.id), catalogue, plan.warnings, changed=True)


def _refuse_with_another(asked: Namespace) -> None:
    """Refuse what was settled when the first group was laid."""
    given = [
        name
        for name, value in (
            ("--of", asked.of), ("--groups", asked.groups), ("--prechill", asked.prechill), ("--note", asked.note),
            ("--substrate", asked.substrate), ("--temperature", asked.temperature),
            ("--first-count", asked.first_count), ("--final-count", asked.final_count),
        )
        if value
    ]  # fmt: skip
    if given:
        raise BadInput(f"Another group is laid like the first one; leave out {', '.join(given)}.")


def _count(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches import testing

    with desk.catalogue(asked) as catalogue:
        on = desk.day(asked)
        test = testing.running_test(catalogue, asked.lot)
        sheet = testing.count_sheet(catalogue, test.id)
        counts = _counts(asked, sheet, on)
        if asked.give_up is not None:
            if counts or asked.finish:
                raise BadInput("A test that is given up keeps no result; leave the figures and --finish out.")
            given_up = testing.abandon_test(catalogue, test.id, on=on, why=asked.give_up)
            return _given_up(given_up)
        if asked.finish:
            return result_answer(testing.finish_test(catalogue, test.id, on=on, counts=counts))
        if counts:
            sheet = testing.enter_counts(catalogue, test.id, on=on, counts=counts)
        return _standing(sheet, catalogue, (), changed=bool(counts))


def _counts(asked: Namespace, sheet: "CountSheet", on: date) -> "DayCounts":
    """Give the figures by dish beside what the day has; a class needs one figure for each dish that was counted."""
    given = {name: getattr(asked, name) for name in CLASSES if getattr(asked, name) is not None}
    if not given:
        return {}
    standing = tuple(dish.number for dish in sheet.dishes if not dish.is_counted_out)
    numbers = asked.dishes or standing or tuple(dish.number for dish in sheet.dishes)
    for name, counted in given.items():
        if len(counted) != len(numbers):
            raise BadInput(
                f"{len(counted)} figures of {name} seeds for {len(numbers)} dishes ({', '.join(map(str, numbers))}). "
                "Give one for each, or say with --dishes which were counted."
            )
    of_day = {number: classes for day_of, number, classes in sheet.counts if day_of == on}
    return {
        number: {**of_day.get(number, {}), **{name: counted[place] for name, counted in given.items()}}
        for place, number in enumerate(numbers)
    }


def _standing(
    sheet: "CountSheet", catalogue: "Catalogue", warnings: tuple[str, ...], *, changed: bool
) -> Answer:
    """Tell how a test stands: its dishes, what is left in them, and in groups what comes next."""
    from hilum.benches.lots import lot_view

    test, lot = sheet.test, lot_view(catalogue, sheet.test.lot)
    document = {
        **_test_facts(test),
        "normal": sheet.standing.normal,
        "left": sheet.standing.left,
        "next_count_on": day(sheet.standing.next_count_on),
        "dishes": [
            {"dish": dish.number, "seeds": dish.seeds, "laid_on": day(dish.days.laid_on),
             "first_count_on": day(dish.days.first_count_on), "final_count_on": day(dish.days.final_count_on),
             **dish.totals, "left": dish.left}
            for dish in sheet.dishes
        ],
        "groups": _groups_document(sheet),
        "stock_mg": lot.stock_mg,
        "stock_seeds": lot.stock_seeds,
        "warnings": list(warnings),
    }  # fmt: skip
    rows = [
        (str(dish.number), str(dish.seeds), dish.days.laid_on.isoformat(), day(dish.days.first_count_on) or "",
         day(dish.days.final_count_on) or "", str(dish.totals["normal"] or 0), str(dish.left))
        for dish in sheet.dishes
    ]  # fmt: skip
    method = ", ".join(words for words in (test.substrate, test.temperature, test.note) if words)
    lines = [f"{test.lot}  {lot.name}", "", *facts((("Method", method), ("Stock", lot.stock_words))), ""]
    lines += table(DISHES, rows)
    groups = sheet.standing.groups
    if groups is not None:
        lines += ["", *facts((("In groups", groups.word), ("Why", groups.why)))]
    for warning in warnings:
        lines += wrapped(f"Note: {warning}")
    return answer(document, lines, changed=changed)


def _test_facts(test: "GerminationTestLine") -> dict[str, Any]:
    return {
        "lot": test.lot,
        "test": test.id,
        "seeds": test.seeds,
        "substrate": test.substrate,
        "temperature": test.temperature,
        "prechill_days": test.prechill_days,
        "note": test.note,
    }


def _groups_document(sheet: "CountSheet") -> dict[str, Any] | None:
    found = sheet.standing.groups
    if found is None:
        return None
    return {
        "decision": found.word,
        "why": found.why,
        "bar": found.bar_words,
        "bar_percent": found.bar_percent,
        "group_seeds": found.group_seeds,
        "tested": [group.tested for group in found.groups],
        "germinated": [group.germinated for group in found.groups],
        "wrong_chance": found.wrong_chance,
        "below_bar_chance": found.below_chance,
        "seeds_saved": found.seeds_saved,
        "plan": [[step.tested, step.regrow_at_most, step.keep_at_least] for step in found.plan.steps],
    }


def _given_up(test: "GerminationTestLine") -> Answer:
    document = {**_test_facts(test), "state": test.state}
    return answer(
        document,
        [f"{test.lot}: the test was given up: {test.note}. The seed laid in it is spent."],
        changed=True,
    )
