"""Preparing: cleaning, drying, weighing, counting and freezing, one dated step a call."""

from argparse import ArgumentParser, Namespace
from functools import partial
from typing import TYPE_CHECKING

from hilum.commands import figures
from hilum.commands.answer import Answer, answer
from hilum.commands.desk import Desk
from hilum.commands.lot_document import grams_of
from hilum.commands.parser import Verbs, add_day, add_lot
from hilum.commands.terminal import wrapped

if TYPE_CHECKING:
    from hilum.benches.preparing import StepDone

EVIDENCE = ("moisture", "jar-humidity", "constant-weight", "snap")
# As the bench calls them.
EVIDENCE_NAMES = {
    "moisture": "moisture reading",
    "jar-humidity": "jar humidity",
    "constant-weight": "constant weight",
    "snap": "snap test",
}


def add_verbs(verbs: Verbs) -> None:
    """Put the verb of this module into the parser."""
    prepare = verbs.add(
        "prepare", None, "record one step of preparing a lot: clean, dry, weigh, count or freeze"
    )
    add_lot(prepare)
    steps = Verbs.below(prepare, "STEP")
    clean = steps.add("clean", _clean, "cleaned: the weight after it; the loss leaves the stock",
                      "Threshing and winnowing raise dust: wear a mask, work outdoors.")  # fmt: skip
    _grams(clean, "the weight after cleaning", required=True)
    dry = steps.add("dry", _dry, "dried, with the evidence for it")
    dry.add_argument("--evidence", choices=EVIDENCE, required=True, help="how it was found to be dry")
    dry.add_argument("--value", metavar="PERCENT", type=figures.fraction,
                     help="the moisture in percent of fresh weight, or the humidity of the air in the jar")  # fmt: skip
    _grams(dry, "the weight after drying, if it was weighed", required=False)
    weigh = steps.add("weigh", _weigh, "weighed whole: the stock becomes what the scale shows")
    _grams(weigh, "what the scale shows", required=True)
    count = steps.add("count", _count, "thousand-seed weight, from replicates of counted seeds",
                      "Example: hilum prepare LOT count --seeds 100 --grams 0.31,0.30,0.32")  # fmt: skip
    count.add_argument(
        "--seeds", metavar="N", type=figures.positive, required=True, help="seeds in each replicate"
    )
    count.add_argument("--grams", metavar="a,b,...", type=figures.milligrams_each, required=True,
                       help="the weight of each replicate, with a dot before the decimals")  # fmt: skip
    freeze = steps.add("freeze", _freeze, "frozen against insects; refused without evidence that the seed is dry",
                       "Seed that is frozen wet dies. Let the closed jar warm up before it is opened.")  # fmt: skip
    freeze.add_argument(
        "--celsius", metavar="T", type=figures.fraction, required=True, help="for example -18"
    )
    freeze.add_argument("--until", metavar="DATE", type=figures.day, help="the day it was taken out")
    freeze.add_argument(
        "--already-done", action="store_true", help="write down as a fact what was done in the past"
    )
    for step in (clean, dry, weigh, count, freeze):
        add_day(
            step,
            "the day it began (today if left out)"
            if step is freeze
            else "the day it was done (today if left out)",
        )
        step.add_argument("--note", metavar="TEXT", type=figures.words, default="")


def _grams(parser: ArgumentParser, words: str, *, required: bool) -> None:
    parser.add_argument(
        "--grams", metavar="G", type=figures.milligrams, required=required, help=f"{words}, in grams"
    )


def _clean(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches import preparing

    with desk.catalogue(asked) as catalogue:
        step = partial(preparing.clean, catalogue, asked.lot, on=desk.day(asked), note=asked.note)
        return _told("clean", step(mass_mg=asked.grams))


def _dry(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches import preparing

    with desk.catalogue(asked) as catalogue:
        step = partial(preparing.dry, catalogue, asked.lot, on=desk.day(asked), note=asked.note)
        evidence = EVIDENCE_NAMES[asked.evidence]
        return _told("dry", step(evidence=evidence, value=asked.value, mass_mg=asked.grams))


def _weigh(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches import preparing

    with desk.catalogue(asked) as catalogue:
        step = partial(preparing.weigh, catalogue, asked.lot, on=desk.day(asked), note=asked.note)
        return _told("weigh", step(mass_mg=asked.grams))


def _count(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches import preparing

    with desk.catalogue(asked) as catalogue:
        step = partial(preparing.count, catalogue, asked.lot, on=desk.day(asked), note=asked.note)
        return _told("count", step(seeds=asked.seeds, replicates_mg=asked.grams))


def _freeze(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches import preparing

    with desk.catalogue(asked) as catalogue:
        step = partial(preparing.freeze, catalogue, asked.lot, on=desk.day(asked), note=asked.note)
        return _told(
            "freeze", step(until=asked.until, temperature_c=asked.celsius, already_done=asked.already_done)
        )


def _told(step: str, done: "StepDone") -> Answer:
    shown = done.lot
    document = {
        "lot": shown.number,
        "step": step,
        "on": done.step.on.isoformat(),
        "stock_mg": shown.stock_mg,
        "stock_mg_is_estimate": shown.stock_mg_is_estimate,
        "stock_seeds": shown.stock_seeds,
        "stock_seeds_is_estimate": shown.stock_seeds_is_estimate,
        "moisture_percent_wb": done.moisture_percent_wb,
        "thousand_seed_weight_g": grams_of(shown.thousand_seed_weight_ug),
        "thousand_seed_weight_is_estimate": shown.thousand_seed_weight_is_estimate,
        "state": shown.line.state,
        "words": done.words,
        "warnings": list(done.warnings),
    }
    lines = [f"{shown.number}  {shown.name}", *wrapped(done.words)]
    for warning in done.warnings:
        lines += wrapped(f"Note: {warning}")
    lines += wrapped(f"Stock: {shown.stock_words}. State: {shown.line.state}.")
    return answer(document, lines, changed=True)
