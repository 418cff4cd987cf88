"""Joining: pour lots of one variety together, or mix several in shares."""

from argparse import Namespace
from typing import TYPE_CHECKING, Any

from hilum.commands import figures
from hilum.commands.answer import Answer, answer
from hilum.commands.desk import Desk
from hilum.commands.parser import CommandParser, Verbs, add_day
from hilum.commands.terminal import wrapped
from hilum.errors import BadInput

if TYPE_CHECKING:
    from hilum.benches.joining import Component


def add_verbs(verbs: Verbs) -> None:
    """Put the verbs of this module into the parser."""
    pour = verbs.add("pour-together", _pour, "make one lot of several of one variety")
    _add_parts(pour)
    mix = verbs.add("mix", _mix, "make a mix of several lots, with their shares")
    _add_parts(mix)
    mix.add_argument(
        "--name", metavar="NAME", type=figures.words, required=True, help="what the mix is called"
    )
    mix.add_argument(
        "--crop", metavar="CROP", type=figures.words, default="", help="the crop, where there are several"
    )


def _add_parts(parser: CommandParser) -> None:
    parser.add_argument(
        "parts", metavar="LOT[=AMOUNT]", nargs="+", type=figures.words,
        help="a lot, all of it or an amount such as 12.5g or 40seeds",
    )  # fmt: skip
    parser.add_argument("--notes", metavar="TEXT", type=figures.words, default="")
    parser.add_argument("--try", dest="only_try", action="store_true", help="only say what it would make")
    add_day(parser)


def _pour(asked: Namespace, desk: Desk) -> Answer:
    return _join(asked, desk, "bulked")


def _mix(asked: Namespace, desk: Desk) -> Answer:
    return _join(asked, desk, "mixed", name=asked.name, crop=asked.crop)


def _join(asked: Namespace, desk: Desk, kind: str, **more: str) -> Answer:
    from hilum.benches.joining import join, plan_joining

    components = [_component(part) for part in asked.parts]
    with desk.catalogue(asked) as catalogue:
        plan = plan_joining(catalogue, kind, components)
        document: dict[str, Any] = {
            "lot": None,
            "amount": plan.amount,
            "unit": plan.unit,
            "components": [
                {"lot": share.lot.number, "amount": share.amount, "share_percent": share.share_ppm / 10_000,
                 "share_by": share.share_by}
                for share in plan.shares
            ],
            "warnings": list(plan.warnings),
        }  # fmt: skip
        lines = [
            f"{share.share_ppm / 10_000:5.1f} %  {share.lot.number}  {share.lot.name}"
            for share in plan.shares
        ]
        lines += [line for words in plan.warnings for line in wrapped(words)]
        if asked.only_try:
            return answer(document, [f"It would make {plan.amount_words}:", *lines])
        made = join(catalogue, kind, components, on=desk.day(asked), notes=asked.notes, **more)
    return answer(
        {**document, **made.as_json()},
        [f"{made.number}: {made.name}, {made.stock_words}", *lines],
        changed=True,
    )


def _component(part: str) -> "Component":
    from argparse import ArgumentTypeError

    from hilum.benches.joining import Component

    number, _, amount = part.partition("=")
    text = amount.strip().lower()
    try:
        if not text:
            return Component(number)
        if text.endswith("seeds"):
            return Component(number, seeds=figures.positive(text.removesuffix("seeds").strip()))
        if text.endswith("g"):
            return Component(number, mass_mg=figures.milligrams(text.removesuffix("g").strip()))
    except ArgumentTypeError as error:
        raise BadInput(f"{part}: {error}.") from error
    raise BadInput(f"{part}: say the amount with its unit, such as {number}=12.5g or {number}=40seeds.")
