"""Past work: what was done to a lot or in the library, and taking a job back, or back again."""

from argparse import Namespace
from typing import TYPE_CHECKING

from hilum.commands import figures
from hilum.commands.answer import Answer, answer
from hilum.commands.desk import Desk
from hilum.commands.parser import Verbs
from hilum.commands.terminal import wrapped

if TYPE_CHECKING:
    from hilum.benches.past_work import PastLine


def add_verbs(verbs: Verbs) -> None:
    """Put the verbs of this module into the parser."""
    past = verbs.add(
        "history", _history, "tell what was done, job by job, the newest first",
        "Each job begins with its name; “hilum take-back NAME” undoes it.",
    )  # fmt: skip
    past.add_argument(
        "lot", metavar="LOT", nargs="?", type=figures.words, help="of one lot (of all if left out)"
    )
    past.add_argument("--limit", metavar="N", type=figures.positive, default=20, help="at most so many (20)")
    back = verbs.add(
        "take-back", _take_back, "take one job back, a whole intake too",
        "Seed that was moved comes back by corrections. To do the job once more, take its taking back back.",
    )  # fmt: skip
    back.add_argument(
        "job", metavar="JOB", type=figures.words, help="the job's name as “hilum history” tells it"
    )


def _history(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.past_work import lot_history, whole_history

    with desk.catalogue(asked) as catalogue:
        if asked.lot is None:
            found = whole_history(catalogue, limit=asked.limit)
        else:
            found = lot_history(catalogue, asked.lot)[: asked.limit]
    jobs = [
        {
            "job": line.id, "at": line.at.isoformat(timespec="seconds"), "who": line.who or None, "what": line.what,
            "words": line.words, "lots": line.lots, "taken_back": line.taken_back, "takes_back": line.takes_back,
        }
        for line in found
    ]  # fmt: skip
    return answer(
        {"jobs": jobs}, [text for line in found for text in _told(line)] or ["Nothing was done yet."]
    )


def _told(line: "PastLine") -> list[str]:
    who = f", {line.who}" if line.who else ""
    back = "  (taken back)" if line.taken_back else ""
    head = f"{line.short}  {line.at:%Y-%m-%d %H:%M}{who}  {line.what}{back}"
    return [*wrapped(head), *wrapped(line.words, indent=10)]


def _take_back(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.lots import take_back
    from hilum.benches.past_work import job_id

    with desk.catalogue(asked) as catalogue:
        job = job_id(catalogue, asked.job)
        what = take_back(catalogue, job)
    return answer({"job": job, "what": what}, [f"Taken back: {what}."], changed=True)
