"""Lot changes: what is written of a lot, what a grow-out has shown, and a slip in its ledger."""

from argparse import Namespace
from typing import Any

from hilum.commands import figures
from hilum.commands.answer import Answer, answer
from hilum.commands.desk import Desk
from hilum.commands.parser import Verbs, add_day, add_lot
from hilum.errors import BadInput

RESULTS = ("seen-true", "not-true", "not-clear")
IDENTITIES = ("claimed", "seen-true", "unknown")
YES_NO = {"yes": True, "no": False}
# Options whose text is written as it is; an empty text takes away what was written.
TEXTS = (
    "variety",
    "place-grown",
    "grower",
    "isolation",
    "notes",
    "treatment",
    "rights-notice",
    "supplier-batch",
)


def add_verbs(verbs: Verbs) -> None:
    """Put the verbs of this module into the parser."""
    change = verbs.add(
        "change", _change, "change what is written of a lot",
        "An empty text, such as --notes '', takes away what was written. Every change can be taken back.",
    )  # fmt: skip
    add_lot(change)
    for name in TEXTS:
        change.add_argument(f"--{name}", metavar="TEXT", type=figures.words)
    for name in ("year", "plants"):
        change.add_argument(f"--{name}", metavar="N", type=figures.positive)
    change.add_argument("--identity", choices=IDENTITIES)
    change.add_argument("--f1", dest="is_f1", choices=tuple(YES_NO), help="whether it is an F1 hybrid")
    growing = verbs.add(
        "growing-notes", _growing_notes, "write how the variety of a lot is grown, for its packets",
        "They stand on the backs of packets and on counter cards. An empty text takes them away.",
    )  # fmt: skip
    add_lot(growing)
    growing.add_argument("text", metavar="TEXT", type=figures.words)
    grown = verbs.add("grow-out", _grow_out, "record what a grow-out of a lot has shown")
    add_lot(grown)
    grown.add_argument("result", metavar="RESULT", choices=RESULTS, help=", ".join(RESULTS))
    grown.add_argument("--plants", metavar="N", type=figures.positive, help="plants looked at")
    grown.add_argument(
        "--off-type", metavar="N", type=figures.whole, help="plants that were not of the variety"
    )
    grown.add_argument("--note", metavar="TEXT", type=figures.words, default="")
    add_day(grown)
    correct = verbs.add(
        "correct", _correct, "correct one line of a lot's ledger",
        "The wrong line stays, with its opposite below it; with --grams or --seeds the right figure is entered too.",
    )  # fmt: skip
    correct.add_argument(
        "movement", metavar="ID", type=figures.positive, help="as “hilum show --json” tells it"
    )
    amount = correct.add_mutually_exclusive_group()
    amount.add_argument(
        "--grams", metavar="G", type=figures.milligrams, help="the right figure, without its sign"
    )
    amount.add_argument("--seeds", metavar="N", type=figures.positive)
    correct.add_argument("--why", metavar="TEXT", type=figures.words, required=True, help="what was wrong")
    add_day(correct)


def _change(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.lots import change_lot

    given = {
        name.replace("-", "_"): getattr(asked, name.replace("-", "_")) for name in (*TEXTS, "year", "plants")
    }
    changes: dict[str, Any] = {name: value for name, value in given.items() if value is not None}
    if asked.identity is not None:
        changes["identity"] = asked.identity.replace("-", " ")
    if asked.is_f1 is not None:
        changes["is_f1"] = YES_NO[asked.is_f1]
    if not changes:
        raise BadInput(
            f"Say what is to be changed: --{', --'.join((*TEXTS, 'year', 'plants', 'identity', 'f1'))}."
        )
    with desk.catalogue(asked) as catalogue:
        after = change_lot(catalogue, asked.lot, changes)
    said = ", ".join(f"{name.replace('_', ' ')}: {value}" for name, value in changes.items())
    return answer(after.as_json(), [f"{after.number} ({after.name}) changed ({said})."], changed=True)


def _growing_notes(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.reference import write_growing_notes

    with desk.catalogue(asked) as catalogue:
        kept = write_growing_notes(catalogue, asked.lot, asked.text)
    return answer({"growing_notes": kept}, [kept or "The growing notes were taken away."], changed=True)


def _grow_out(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.lots import record_grow_out

    with desk.catalogue(asked) as catalogue:
        after = record_grow_out(
            catalogue, asked.lot, asked.result.replace("-", " "), on=desk.day(asked),
            plants=asked.plants, off_type=asked.off_type, note=asked.note,
        )  # fmt: skip
    return answer(
        {"lot": after.number, "identity": after.line.identity},
        [
            f"{after.number} ({after.name}): {asked.result.replace('-', ' ')}; its identity is {after.line.identity}."
        ],
        changed=True,
    )


def _correct(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.lots import correct_movement

    with desk.catalogue(asked) as catalogue:
        after = correct_movement(
            catalogue,
            asked.movement,
            on=desk.day(asked),
            why=asked.why,
            right_mg=asked.grams,
            right_seeds=asked.seeds,
        )
    return answer(
        after.as_json(),
        [f"Corrected. {after.number} ({after.name}) holds {after.stock_words}."],
        changed=True,
    )
