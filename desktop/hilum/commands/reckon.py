"""Reckon: one seed sum from key=value words, or the list of all sums with their sources."""

from argparse import Namespace
from typing import TYPE_CHECKING, Any

from hilum.commands import figures
from hilum.commands.answer import Answer, answer
from hilum.commands.desk import Desk
from hilum.commands.parser import Verbs
from hilum.errors import BadInput

if TYPE_CHECKING:
    from hilum.benches.reckoning import Outcome, Sum

_MORE = (
    "Percentages are 0 to 100, masses grams, temperatures °C; decimals are written with a dot, lists with commas. "
    "`hilum reckon` alone lists the sums with their inputs and sources. Nothing in a catalogue is read or changed."
)


def add_verbs(verbs: Verbs) -> None:
    """Put the verbs of this module into the parser."""
    reckon = verbs.add("reckon", _reckon, "reckon one seed sum, or list them", _MORE)
    reckon.add_argument("sum", metavar="SUM", nargs="?", type=figures.words, help="name of the sum")
    reckon.add_argument("inputs", metavar="KEY=VALUE", nargs="*", type=figures.words, help="what it needs")


def _reckon(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.reckoning import reckon, seed_sum

    if asked.sum is None:
        return _listed()
    wanted = seed_sum(asked.sum)
    return _told(wanted, reckon(asked.sum, _typed(asked.inputs, wanted)))


def _typed(words: list[str], wanted: "Sum") -> dict[str, str]:
    """Take the words apart at their first equals sign; the same key twice is refused."""
    typed: dict[str, str] = {}
    for word in words:
        key, mark, value = word.partition("=")
        if not mark or not key.strip():
            raise BadInput(f"“{word}” is not of the form key=value. It is written: {wanted.written}")
        if key.strip() in typed:
            raise BadInput(f"{key.strip()}= stands there twice. Give it once.")
        typed[key.strip()] = value
    return typed


def _told(wanted: "Sum", found: "Outcome") -> Answer:
    document = {
        "sum": wanted.name,
        **found.outputs,
        "result": found.result,
        "unit": wanted.result.unit,
        "words": found.words,
        "notes": list(found.notes),
        "source": found.source,
    }
    return answer(document, [found.words, *found.notes, f"Source: {found.source}"])


def _listed() -> Answer:
    from hilum.benches.reckoning import all_sums

    sums = all_sums()
    lines: list[str] = []
    for one in sums:
        lines += [one.written, f"    {one.question}", f"    Source: {one.source}"]
    return answer({"sums": [_described(one) for one in sums]}, lines)


def _described(one: "Sum") -> dict[str, Any]:
    """Say of a sum what a script needs to call it."""
    return {
        "name": one.name,
        "title": one.title,
        "question": one.question,
        "written": one.written,
        "inputs": [
            {
                "name": each.name, "words": each.words, "unit": each.unit, "kind": each.kind, "limits": each.limits,
                "needed": each.needed, "default": each.default,
            }
            for each in one.inputs
        ],
        "result": one.result.words,
        "outputs": [{"name": each.name, "words": each.words, "unit": each.unit} for each in one.outputs],
        "explanation": one.explanation,
        "source": one.source,
    }  # fmt: skip
