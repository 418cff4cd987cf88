"""Sums of testing: germination, tolerance, two tests compared, the sequential plan, speed."""

from collections.abc import Mapping
from typing import Any

from hilum.benches.sums import NUMBERS, TALLY, WHOLE, WHOLES, Outcome, Sum, SumInput, SumOutput
from hilum.seedlore import comparing, sequential
from hilum.seedlore.germination import assess, germination_counts, replicate_tolerance
from hilum.seedlore.intervals import exact_interval, scattered_interval
from hilum.seedlore.speed import SOURCE as SPEED_SOURCE
from hilum.seedlore.speed import germination_speed
from hilum.seedlore.standards import Standard

_MOST_SEEDS = 1_000_000
_GERMINATION_SOURCE = (
    "rounding: from memory, ISTA Rules 5.8.1; interval: Wilson 1927; exact: Clopper & Pearson 1934; tolerance: 7 CFR "
    "201.55(a)"
)
_CLASSES = ("abnormal", "hard", "fresh", "dead")


def _sown_of(given: Mapping[str, Any]) -> int | tuple[int, ...]:
    """Give the seeds of each dish: one number for all, or one for each."""
    of: tuple[int, ...] = given["of"]
    return of[0] if len(of) == 1 else of


def _germination(given: Mapping[str, Any]) -> Outcome:
    classes = {name: given[name] for name in _CLASSES}
    counts = germination_counts(_sown_of(given), given["normal"], **classes)
    percent = given["standard"]
    bar = None if percent is None else Standard("this test", percent, False, "given by the keeper")
    found = assess(counts, bar)
    rounded, spread = found.classes, found.tolerance
    low, high = found.interval_90
    outputs = {
        "germination_percent": found.percent,
        "seeds": counts.seeds,
        "germinated": counts.germinated,
        "interval_90": [low, high],
        "exact_90": list(exact_interval(counts.germinated, counts.seeds, 0.90)),
        "scattered_90": list(scattered_interval(counts.normal, counts.sown, 0.90)),
        "classes": {
            name: getattr(rounded, name) for name in ("normal", *_CLASSES, "not_classed")
        },
        "tolerance": {
            "range": spread.range_percent, "allowed": spread.allowed_percent, "within": spread.within,
        },
        "verdict": found.verdict.word,
    }  # fmt: skip
    words = (
        f"{found.percent} % of {counts.seeds} seeds germinated; 90 % interval {low:.0f} to {high:.0f} %. "
        f"{found.verdict.why}"
    )
    return Outcome(found.percent, outputs, words, _GERMINATION_SOURCE)


def _tolerance(given: Mapping[str, Any]) -> Outcome:
    sown = _sown_of(given)
    found = replicate_tolerance(given["normal"], sown if isinstance(sown, int) else list(sown))
    outputs = {
        "range": found.range_percent,
        "allowed": found.allowed_percent,
        "within": found.within,
        "mean_percent": found.mean_percent,
        "rule": found.rule,
    }
    advice = {True: "The dishes agree.", False: "The dishes disagree: test again.", None: ""}[found.within]
    words = f"{found.rule[:1].upper()}{found.rule[1:]}. {advice}".strip()
    return Outcome(found.allowed_percent, outputs, words, found.source)


def _compare(given: Mapping[str, Any]) -> Outcome:
    found = comparing.compare(*given["a"], *given["b"])
    outputs = {
        "a_percent": found.first_percent,
        "b_percent": found.second_percent,
        "difference_points": found.difference_points,
        "interval_90": list(found.interval_points),
        "chance": found.chance,
        "real": found.real,
    }
    return Outcome(found.difference_points, outputs, found.words, found.source)


def _sequential(given: Mapping[str, Any]) -> Outcome:
    tested, germinated = given["tested"], given["germinated"]
    group = tested[0] if given["group"] is None else given["group"]
    plan = sequential.sequential_plan(given["standard"], group)
    found = sequential.decide(plan, tested, germinated)
    at_bar = sequential.characteristics(plan, plan.standard_percent)
    step = plan.step(found.tested)
    outputs = {
        "decision": found.word,
        "tested": found.tested,
        "germinated": found.germinated,
        "regrow_at_most": step.regrow_at_most,
        "keep_at_least": step.keep_at_least,
        "wrong_chance": found.wrong_chance,
        "below_standard_chance": found.below_chance,
        "seeds_saved": found.seeds_saved,
        "more_seeds_expected": found.more_seeds_expected,
        "at_the_bar": {"keep_chance": at_bar.keep_chance, "regrow_chance": at_bar.regrow_chance},
        "plan": [[one.tested, one.regrow_at_most, one.keep_at_least] for one in plan.steps],
        "plan_status": plan.status,
    }
    return Outcome(found.word, outputs, found.why, step.source, (sequential.AT_THE_BAR,))


def _speed(given: Mapping[str, Any]) -> Outcome:
    counts, of = given["counts"], given["of"]
    found = germination_speed(given["days"], counts, max(1, sum(counts)) if of is None else of)
    outputs = {
        "germinated": found.germinated,
        "percent": found.percent,
        "mean_days": found.mean_days,
        "variance": found.variance,
        "standard_error": found.standard_error,
        "t50_days": found.t50_days,
        "t50_half_days": found.t50_half_days,
        "t50_of_sown_days": found.t50_of_sown_days,
        "first_day": found.first_day,
        "last_day": found.last_day,
        "peak_days": list(found.peak_days),
        "mean_rate": found.mean_rate,
        "velocity": found.velocity,
        "rate_index": found.rate_index,
        "rate_index_percent": found.rate_index_percent,
        "synchrony": found.synchrony,
        "uncertainty_bits": found.uncertainty_bits,
    }
    notes = list(found.notes)
    if of is None:
        outputs |= dict.fromkeys(("percent", "t50_of_sown_days", "rate_index_percent"))
        notes = [one for one in notes if "sown" not in one]
        notes.append("Without of= (seeds sown) there is no percentage and no time to half of the seeds sown.")
    if found.mean_days is None:
        words = "Nothing germinated, so there is no time to speak of."
    else:
        half = "" if found.t50_days is None else f", half of them after {found.t50_days:.1f}"
        words = f"{found.germinated} seeds took {found.mean_days:.1f} days on average{half}."
    return Outcome(found.mean_days, outputs, words, SPEED_SOURCE, tuple(notes))


_OF = SumInput("of", "seeds in each dish, one number or one for each", "seeds", WHOLES, 1, _MOST_SEEDS)
_NORMAL = SumInput("normal", "normal seedlings in each dish", "seeds", WHOLES, 0, _MOST_SEEDS)
_RESULT = SumOutput("result", "", "")

TESTING_SUMS = (
    Sum(
        "germination", "Germination of a test", "What does this test say of the lot?",
        (
            _OF, _NORMAL,
            *(
                SumInput(name, f"{name} seeds in each dish", "seeds", WHOLES, 0, _MOST_SEEDS, needed=False)
                for name in _CLASSES
            ),
            SumInput("standard", "the bar to hold it against", "%", low=0, high=100, above_low=True, needed=False),
        ),
        _germination, SumOutput("result", "germination", "%"),
        (
            SumOutput("interval_90", "low and high of the 90 % interval", "%"),
            SumOutput("exact_90", "the exact interval", "%"),
            SumOutput("scattered_90", "the interval that widens when dishes disagree", "%"),
            SumOutput("classes", "all classes, adding to 100", "%"),
            SumOutput("tolerance", "range between the dishes, allowed range, and whether it is within"),
            SumOutput("verdict", "what to do with the lot"),
        ),
        "Normal seedlings in percent of the seeds sown, rounded so that all classes add to 100. Few seeds tell little: "
        "look at the interval before you trust the figure.",
        _GERMINATION_SOURCE,
    ),
    Sum(
        "tolerance", "Do the dishes agree?", "Do my dishes differ more than chance allows?",
        (_OF, _NORMAL), _tolerance, SumOutput("result", "largest range allowed", "%"),
        (
            SumOutput("range", "range between the dishes", "%"), SumOutput("allowed", "largest range allowed", "%"),
            SumOutput("within", "whether it is within"), SumOutput("rule", "what was compared with what"),
        ),
        "The highest dish less the lowest against the table of the regulation, or the same theory for other numbers "
        "and sizes of dishes.",
        "7 CFR 201.55(a)",
    ),
    Sum(
        "compare", "Two tests compared", "Is the difference between these two tests real?",
        (
            SumInput("a", "the first test, germinated/sown", "", TALLY),
            SumInput("b", "the second test, germinated/sown", "", TALLY),
        ),
        _compare, SumOutput("result", "second less first", "points"),
        (
            SumOutput("a_percent", "first", "%"), SumOutput("b_percent", "second", "%"),
            SumOutput("interval_90", "low and high of the difference", "points"),
            SumOutput("chance", "how often chance alone makes as much, 0 to 1"),
            SumOutput("real", "whether it is real"),
        ),
        "How often two tests of one and the same lot would differ as much, and between what the true difference lies.",
        comparing.SOURCE,
    ),
    Sum(
        "sequential", "Test in groups and stop early", "Must I sow another group, or is the answer clear?",
        (
            SumInput("standard", "the bar", "%", low=0, high=100, above_low=True, below_high=True),
            SumInput("tested", "seeds sown in all after each group", "seeds", WHOLES, 1, 20_000),
            SumInput("germinated", "germinated in all after each group", "seeds", WHOLES, 0, 20_000),
            SumInput("group", "seeds in a group, if not the first total", "seeds", WHOLE, 1, 400, needed=False),
        ),
        _sequential, SumOutput("result", "stop and keep, stop and regrow, or sow another group"),
        (
            SumOutput("wrong_chance", "the plan's risk of this answer being wrong, 0 to 1"),
            SumOutput("below_standard_chance", "chance that the lot is below the standard, 0 to 1"),
            SumOutput("seeds_saved", "seeds of the whole plan not sown", "seeds"),
            SumOutput("plan", "rows of the plan: tested, regrow at most, keep at least", "seeds"),
        ),
        "After each group the total is held against two limits: at or below the one the lot is regrown, at or above "
        f"the other it is kept, between them another group is sown. {sequential.AT_THE_BAR}",
        "Kameswara Rao et al. 2006, Manual of Seed Handling in Genebanks, Flowchart 8.1 and Table 8.3; Wald 1947",
    ),
    Sum(
        "germination-speed", "How fast it germinates", "How fast and how evenly does this lot germinate?",
        (
            SumInput("days", "days from sowing to each count", "days", NUMBERS, 0, 3650, above_low=True),
            SumInput("counts", "seeds newly germinated at each count", "seeds", WHOLES, 0, _MOST_SEEDS),
            SumInput("of", "seeds sown", "seeds", WHOLE, 1, _MOST_SEEDS, needed=False),
        ),
        _speed, SumOutput("result", "mean germination time", "days"),
        (
            SumOutput("mean_days", "mean germination time", "days"),
            SumOutput("t50_days", "time to half of (germinated + 1), Coolbear et al. 1984", "days"),
            SumOutput("t50_half_days", "time to half of the germinated, Farooq et al. 2005", "days"),
            SumOutput("t50_of_sown_days", "time to half of the sown", "days"),
            SumOutput("rate_index", "germination rate index", "seeds a day"),
            SumOutput("synchrony", "0 all apart, 1 all on one day"),
            SumOutput("uncertainty_bits", "uncertainty", "bits"),
        ),
        "Give what is new at each count, not totals. Where a total is exactly one half, that day is the time to one "
        "half.",
        SPEED_SOURCE,
    ),
)  # fmt: skip
