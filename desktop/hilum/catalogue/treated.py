"""Treated seed: a lot whose seed was dressed is put on hold, so that nobody packs it without having thought of it."""

from sqlalchemy import select

from hilum.catalogue.opening import Job
from hilum.catalogue.records import hold
from hilum.catalogue.steps import add_hold

TREATED = "treated seed"
# 7 CFR 201.31a(a): a label of treated seed says so and names the substance. The caution is asked where the residue
# is harmful, (c) and (d), its wording from memory; a library cannot know, so it is always printed.
NOT_FOOD = "Do not use for food, feed, or oil purposes."


def hold_treated(job: Job, lot_id: int, treatment: str) -> None:
    """Put a lot on hold as treated seed, unless it bears that hold already."""
    bears = select(hold.c.id).where(
        hold.c.lot_id == lot_id, hold.c.kind == TREATED, hold.c.lifted_on.is_(None)
    )
    if job.run(bears).first() is None:
        add_hold(job, lot_id, TREATED, job.at.date(), treatment)


def treatment_words(noted: str | None) -> str:
    """Give what a label of treated seed says; `noted` is with what (it may be nothing), None for untreated seed."""
    if noted is None:
        return ""
    what = noted.strip().rstrip(".")
    return f"{f'Treated seed: {what}.' if what else 'Treated seed.'} {NOT_FOOD}"
