"""Preparing bench: cleaning, drying with its evidence, weighing, counting a thousand-seed weight, freezing."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from hilum.benches.views import LotView, view
from hilum.benches.waiting import ORDER, InHand, in_hand
from hilum.catalogue import failures, ledger, listing, steps
from hilum.catalogue.amounts import shown_amount
from hilum.catalogue.due import recompute
from hilum.catalogue.find import resolve_lot
from hilum.catalogue.opening import Catalogue, Job
from hilum.catalogue.settings import read_settings
from hilum.catalogue.steps import StepLine
from hilum.errors import BadInput
from hilum.seedlore.dryness import EVIDENCE_KINDS, DrynessEvidence, FreezeJudgement, freezing_allowed
from hilum.seedlore.weights import ThousandSeedWeight, thousand_seed_weight

__all__ = [
    "EVIDENCE_KINDS",
    "ORDER",
    "InHand",
    "StepDone",
    "clean",
    "count",
    "dry",
    "freeze",
    "in_hand",
    "may_freeze",
    "reckon_count",
    "weigh",
]

# What freezing does to seed of a crop that no table knows.
UNKNOWN_BEHAVIOUR = "of unknown behaviour"


@dataclass(frozen=True, slots=True)
class StepDone:
    """What one step of preparing left behind."""

    lot: LotView
    step: StepLine
    words: str
    warnings: tuple[str, ...] = ()
    moisture_percent_wb: float | None = None


def clean(catalogue: Catalogue, typed: str, *, on: date, mass_mg: int, note: str = "") -> StepDone:
    """Record cleaning by the weight after it; the loss leaves the stock as one movement."""
    with catalogue.job(f"clean lot {typed}") as job:
        lot_id, shown = _lot(job, typed)
        _refuse_counted(shown, "cleaned by weight")
        _refuse_weightless(mass_mg)
        before = shown.line.stock
        if before is None:
            ledger.move(job, lot_id, "stocktake", mass_mg, on=on, why="weighed after cleaning")
            words = f"{shown_amount(mass_mg, 'mg')} after cleaning; the weight before was not known."
        else:
            if mass_mg > before:
                raise BadInput(
                    f"Lot {shown.number} weighed {shown_amount(before, 'mg')}; it cannot weigh "
                    f"{shown_amount(mass_mg, 'mg')} after cleaning. Weigh it again, or record a weighing first."
                )
            loss = before - mass_mg
            ledger.move(job, lot_id, "cleaned", -loss, on=on, why=note or "cleaning loss")
            words = f"{shown_amount(loss, 'mg')} lost in cleaning ({100 * loss / before:.1f} %)."
        return _done(job, lot_id, "cleaned", on, {"mass_mg": mass_mg, "note": note}, words)


def dry(
    catalogue: Catalogue,
    typed: str,
    *,
    on: date,
    evidence: str,
    value: float | None = None,
    passed: bool = True,
    sealed: bool = False,
    mass_mg: int | None = None,
    note: str = "",
) -> StepDone:
    """Record drying with its evidence: a moisture reading, jar humidity, constant weight, or a snap test.

    `value` is the figure of the first two, in percent. `passed` is False for a test by hand that failed; `sealed`
    says the seed went airtight at once, so that its evidence does not grow old. `mass_mg` is the weight after
    drying, when it was weighed; the water lost leaves the stock.
    """
    DrynessEvidence(kind=evidence, on=on, value=value, passed=passed, sealed=sealed)
    with catalogue.job(f"dry lot {typed}") as job:
        lot_id, shown = _lot(job, typed)
        figure = "" if value is None else f" {value:g} %"
        words = f"Dried; {evidence}{figure}{'' if passed else ', not passed'}{', sealed airtight' if sealed else ''}."
        if mass_mg is not None:
            _refuse_counted(shown, "weighed")
            _refuse_weightless(mass_mg)
            difference = mass_mg - (shown.line.stock or 0)
            if shown.line.stock is not None and difference > 0:
                raise BadInput(
                    f"Lot {shown.number} weighed {shown_amount(shown.line.stock, 'mg')} before drying; "
                    f"{shown_amount(mass_mg, 'mg')} after it would be heavier. Weigh it again."
                )
            if difference:
                ledger.move(job, lot_id, "stocktake", difference, on=on, why="weighed after drying")
        values = {
            "evidence": evidence,
            "evidence_value": value,
            "evidence_passed": passed,
            "sealed": sealed,
            "mass_mg": mass_mg,
            "note": note,
        }
        if evidence == "moisture reading":
            steps.set_lot(job, lot_id, {"moisture_percent_wb": value})
        return _done(job, lot_id, "dried", on, values, words)


def weigh(catalogue: Catalogue, typed: str, *, on: date, mass_mg: int, note: str = "") -> StepDone:
    """Record a weighing of the whole lot; the stock becomes what the scale shows."""
    with catalogue.job(f"weigh lot {typed}") as job:
        lot_id, shown = _lot(job, typed)
        _refuse_counted(shown, "weighed")
        _refuse_weightless(mass_mg)
        difference = mass_mg - (shown.line.stock or 0)
        if difference or shown.line.stock is None:
            ledger.move(job, lot_id, "stocktake", difference, on=on, why=note or "weighed")
        if shown.line.stock is None:
            words = f"First weighing: {shown_amount(mass_mg, 'mg')}."
        elif difference:
            direction = "more" if difference > 0 else "less"
            words = f"{shown_amount(mass_mg, 'mg')}: {shown_amount(abs(difference), 'mg')} {direction} than booked."
        else:
            words = f"{shown_amount(mass_mg, 'mg')}, as booked."
        steps.set_lot(job, lot_id, {"stock_is_estimate": False})
        return _done(job, lot_id, "weighed", on, {"mass_mg": mass_mg, "note": note}, words)


def count(
    catalogue: Catalogue, typed: str, *, on: date, seeds: int, replicates_mg: Sequence[int], note: str = ""
) -> StepDone:
    """Record a thousand-seed weight from replicates of counted seeds; the seed goes back into the lot."""
    with catalogue.job(f"count a thousand-seed weight of {typed}") as job:
        lot_id, _ = _lot(job, typed)
        found = thousand_seed_weight([mass / 1000 for mass in replicates_mg], seeds)
        weight_ug = found.tsw_ug
        steps.set_lot(job, lot_id, {"thousand_seed_weight_ug": weight_ug})
        values = {
            "seeds": seeds,
            "replicates_mg": list(replicates_mg),
            "thousand_seed_weight_ug": weight_ug,
            "cv_percent": found.cv_percent,
            "note": note,
        }
        words = f"A thousand seeds weigh {found.shown} g; {found.why}"
        warnings = (found.why,) if found.retest else ()
        return _done(job, lot_id, "counted", on, values, words, warnings)


def reckon_count(seeds: int, replicates_mg: Sequence[int]) -> ThousandSeedWeight:
    """Say what replicates of counted seeds would give; nothing is written."""
    return thousand_seed_weight([mass / 1000 for mass in replicates_mg], seeds)


def may_freeze(catalogue: Catalogue, typed: str, *, on: date) -> FreezeJudgement:
    """Say whether a lot may go into a freezer on a day, and why or why not."""
    with catalogue.look() as connection:
        lot_id = resolve_lot(connection, typed)
        shown = view(listing.one_lot(connection, lot_id), read_settings(connection))
        return judge_freezing(shown, proofs_of_dryness(connection, lot_id), on)


def proofs_of_dryness(connection: Any, lot_id: int) -> tuple[StepLine, ...]:
    """Give a lot's steps of preparing that still say something of its dryness: those since it last drew damp."""
    wetted = failures.wetted_on(connection, lot_id)
    done = steps.steps_of(connection, lot_id)
    return done if wetted is None else tuple(step for step in done if step.on > wetted)


def judge_freezing(shown: LotView, done: Sequence[StepLine], on: date) -> FreezeJudgement:
    """Judge freezing by the crop's seed and the newest evidence of dryness."""
    # Of two readings of one kind on one day the one written last counts: the seed was dried on in between.
    proofs = {
        (step.evidence, step.on): DrynessEvidence(
            kind=step.evidence,
            on=step.on,
            value=step.evidence_value,
            passed=step.evidence_passed,
            sealed=step.sealed,
        )
        for step in sorted(done, key=lambda step: step.id)
        if step.kind == "dried" and step.evidence
    }
    reference = shown.reference
    # A crop of the library's own has no published behaviour; only orthodox seed is taken to bear freezing.
    return freezing_allowed(
        reference.seed_behaviour if reference else UNKNOWN_BEHAVIOUR,
        reference.oily if reference else None,
        proofs.values(),
        on,
    )


def freeze(
    catalogue: Catalogue,
    typed: str,
    *,
    on: date,
    until: date | None = None,
    temperature_c: float,
    already_done: bool = False,
    note: str = "",
) -> StepDone:
    """Record freezing against insects, refused without evidence that the seed is dry enough.

    `already_done` writes down a freezing of the past as a fact; the judgement is then a warning only.
    """
    if temperature_c >= 0:
        raise BadInput(f"{temperature_c:g} °C is no freezer. A freezer for seed is set to about -18 °C.")
    if until is not None and until < on:
        raise BadInput("The freezing would end before it began. Correct one of the two dates.")
    with catalogue.job(f"freeze lot {typed}") as job:
        lot_id, shown = _lot(job, typed)
        judgement = judge_freezing(shown, proofs_of_dryness(job.connection, lot_id), on)
        if not judgement.allowed and not already_done:
            raise BadInput(f"Lot {shown.number} was not frozen. {judgement.why}")
        days = None if until is None else (until - on).days
        length = f"{days} days" if days is not None else "an open time"
        words = (
            f"Frozen for {length} at {temperature_c:g} °C. Let the closed jar warm up before it is opened."
        )
        values = {"until_on": until, "temperature_c": temperature_c, "note": note}
        warnings = () if judgement.allowed else (judgement.why,)
        return _done(job, lot_id, "frozen", on, values, words, warnings)


def _lot(job: Job, typed: str) -> tuple[int, LotView]:
    lot_id = resolve_lot(job.connection, typed)
    return lot_id, view(listing.one_lot(job.connection, lot_id), job.settings)


def _done(
    job: Job,
    lot_id: int,
    kind: str,
    on: date,
    values: Mapping[str, object],
    words: str,
    warnings: tuple[str, ...] = (),
) -> StepDone:
    steps.add_step(job, lot_id, kind, on, values)
    recompute(job, [lot_id])
    [*_, newest] = sorted(steps.steps_of(job.connection, lot_id), key=lambda step: step.id)
    shown = view(listing.one_lot(job.connection, lot_id), job.settings)
    return StepDone(
        shown, newest, words, warnings, listing.own_fields(job.connection, lot_id).moisture_percent_wb
    )


def _refuse_counted(shown: LotView, what: str) -> None:
    if shown.line.unit == "seeds":
        raise BadInput(
            f"Lot {shown.number} is booked in counted seeds and cannot be {what}. Count a thousand-seed weight instead."
        )


def _refuse_weightless(mass_mg: int) -> None:
    if mass_mg <= 0:
        raise BadInput(
            "The scale must show more than nothing. If the jar is empty, draw the rest as discarded."
        )
