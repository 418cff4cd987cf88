"""Germination: from the counts of a test to a percentage, its interval and what to do with the lot."""

import math
from dataclasses import dataclass
from fractions import Fraction
from statistics import NormalDist

from hilum.errors import BadInput
from hilum.seedlore.counts import OTHER_CLASSES, CountError, GerminationCounts, germination_counts
from hilum.seedlore.rounding import RoundedClasses, round_classes, rounded_half_up
from hilum.seedlore.standards import Standard
from hilum.seedlore.tables import rule
from hilum.seedlore.tolerance import (
    PublishedLimit,
    Tolerance,
    published_limit,
    range_point,
    replicate_tolerance,
)

__all__ = [
    "OTHER_CLASSES",
    "VERDICTS",
    "CountError",
    "GerminationCounts",
    "GerminationResult",
    "PublishedLimit",
    "RoundedClasses",
    "Tolerance",
    "Verdict",
    "assess",
    "germination_counts",
    "judge",
    "published_limit",
    "range_point",
    "regrowing_bar_percent",
    "replicate_tolerance",
    "round_classes",
    "rounded_half_up",
    "wilson_interval",
]

VERDICTS = ("keep", "retest", "regrow", "too few seeds to say", "no standard")


@dataclass(frozen=True, slots=True)
class Verdict:
    """What a test says of a lot: one of `VERDICTS`, the bar it was held against, and a sentence."""

    word: str
    why: str
    bar: str | None
    bar_percent: float | None
    compared_percent: int


@dataclass(frozen=True, slots=True)
class GerminationResult:
    """One germination test, judged."""

    counts: GerminationCounts
    classes: RoundedClasses
    interval_90: tuple[float, float]
    tolerance: Tolerance
    verdict: Verdict

    @property
    def percent(self) -> int:
        """Germination (normal seedlings) in whole percent of the seeds sown."""
        return self.classes.normal


def wilson_interval(germinated: int, sown: int, confidence: float = 0.90) -> tuple[float, float]:
    """Give bounds for the germination percentage of a lot, from one test.

    Parameters
    ----------
    germinated : int
        Seeds that gave a normal seedling, all dishes together; 0 to `sown`.
    sown : int
        Seeds put to germinate; 1 or more.
    confidence : float
        Two-sided confidence as a fraction, strictly between 0 and 1.

    Returns
    -------
    low, high : float
        Percent of the seeds sown, 0 to 100.

    Raises
    ------
    CountError
        The counts cannot belong to one test, or the confidence is out of range.

    Notes
    -----
    Wilson's score interval without continuity correction. Seeds are taken as independent: dishes that
    differ more than chance allows need another method.

    Source
    ------
    E. B. Wilson (1927), J. Amer. Stat. Assoc. 22, 209-212; R. G. Newcombe (1998), Stat. Med. 17, 857-872.

    Examples
    --------
    >>> [round(bound, 1) for bound in wilson_interval(45, 50)]
    [80.8, 95.0]
    """
    if sown < 1 or not 0 <= germinated <= sown:
        raise CountError(
            f"{germinated} of {sown} seeds cannot have germinated. Correct one of the two counts."
        )
    if not 0 < confidence < 1:
        raise CountError(
            f"A confidence of {confidence:g} cannot be: give a fraction between 0 and 1 (0.9 for 90 %)."
        )
    z = NormalDist().inv_cdf((1 + confidence) / 2)
    share = germinated / sown
    middle = share + z * z / (2 * sown)
    reach = z * math.sqrt(share * (1 - share) / sown + z * z / (4 * sown * sown))
    shrink = 1 + z * z / sown
    # Exactly 0 and 100 at the ends, which rounding of binary fractions would miss by a hair.
    low = 0.0 if germinated == 0 else 100 * (middle - reach) / shrink
    high = 100.0 if germinated == sown else 100 * (middle + reach) / shrink
    return low, high


def regrowing_bar_percent(first_percent: float) -> int:
    """Give the germination below which a lot is regrown: 85 % of its first result, a half rounded upward.

    Parameters
    ----------
    first_percent : float
        The lot's first germination, more than 0, at most 100.

    Returns
    -------
    int

    Raises
    ------
    BadInput
        The first result is out of range.

    Source
    ------
    Kameswara Rao et al. 2006, Manual of Seed Handling in Genebanks (Handbooks for Genebanks 8), Table 8.2.

    Examples
    --------
    >>> regrowing_bar_percent(90)
    77
    """
    if not 0 < first_percent <= 100:
        raise BadInput(
            f"A first germination of {first_percent:g} % gives no bar: it must be above 0 and at most 100."
        )
    share = Fraction(str(rule("regrow_share_of_first_result").value))
    return rounded_half_up(share * Fraction(first_percent))


def judge(
    counts: GerminationCounts,
    standard: Standard | None,
    tolerance: Tolerance | None = None,
    *,
    hard_seed_possible: bool = False,
) -> Verdict:
    """Say what a test means for a lot, held against one standard.

    In this order: "no standard" when there is none to hold it against, unless the dishes disagree;
    "too few seeds to say" when fewer than 100 seeds were tested and the 90 % interval holds the
    standard; "retest" when the dishes differ more than allowed; "keep" when the rounded percentage
    reaches the standard; else "regrow". Hard seed is counted where the standard does so and hard seed
    was counted at all.

    Parameters
    ----------
    counts : GerminationCounts
        The final counts.
    standard : Standard or None
        The bar: the crop's published standard or one of the library's own.
    tolerance : Tolerance or None
        Of the same test; reckoned when not given.
    hard_seed_possible : bool
        Whether the kind can have hard seed (a method says so): then a lot below the bar is told
        apart from one whose hard seed was not counted.

    Returns
    -------
    Verdict

    Source
    ------
    Retest: 7 CFR 201.55(a). Hard seed: 7 CFR 201.31. 100 seeds and the 90 % interval: our own choice.

    Examples
    --------
    >>> leek = Standard("Leek", 60, True, "7 CFR 201.31")
    >>> judge(germination_counts(100, [86, 88, 84, 90]), leek).word
    'keep'
    >>> judge(germination_counts(10, [7, 6]), leek).word
    'too few seeds to say'
    """
    spread = tolerance or replicate_tolerance(counts.normal, counts.sown)
    compared, what = _compared(counts, standard)
    percent = rounded_half_up(Fraction(100 * compared, counts.seeds))
    if standard is None:
        if spread.within is False:
            return Verdict("retest", f"The dishes disagree: {spread.rule}. Test again.", None, None, percent)
        why = f"There is no standard for this crop to hold {percent} % against. Set one of your own."
        return Verdict("no standard", why, None, None, percent)
    low, high = wilson_interval(compared, counts.seeds, rule("verdict_confidence").value)
    few = int(rule("few_seeds_in_test").value)
    held = f"{what} {percent} % of {counts.seeds} seeds against {standard.words}"
    if counts.seeds < few and low < standard.percent <= high:
        word = "too few seeds to say"
        likely = f"the true figure most likely lies between {low:.0f} and {high:.0f} %"
        why = f"{held}: {likely}. Test more seeds, {few} in all or more."
    elif spread.within is False:
        word, why = "retest", f"The dishes disagree: {spread.rule}. Test again."
    elif percent >= standard.percent:
        word, why = "keep", f"{held}: it reaches the bar."
    else:
        word, why = "regrow", f"{held}: it is below the bar.{_still_alive(counts)}"
        if hard_seed_possible and standard.counts_hard_seed and counts.hard is None:
            why += " Hard seed was not counted, and the standard counts it: look for it before you decide."
    return Verdict(word, why, standard.words, standard.percent, percent)


def _compared(counts: GerminationCounts, standard: Standard | None) -> tuple[int, str]:
    """Give the seeds that count towards the bar, and in words what they are."""
    hard = counts.total("hard")
    if standard is None or not standard.counts_hard_seed or not hard:
        return counts.germinated, "germination"
    return counts.germinated + hard, "germination with hard seed"


def _still_alive(counts: GerminationCounts) -> str:
    fresh = counts.total("fresh")
    if not fresh:
        return ""
    return (
        f" But {fresh} of {counts.seeds} seeds were fresh: perhaps dormant, not dead. Break the dormancy and "
        "test again."
    )


def assess(
    counts: GerminationCounts, standard: Standard | None, *, hard_seed_possible: bool = False
) -> GerminationResult:
    """Turn the counts of a test into everything that is shown of it.

    Parameters
    ----------
    counts : GerminationCounts
        The final counts.
    standard : Standard or None
        The bar, if the crop has one.
    hard_seed_possible : bool
        Whether the kind can have hard seed, as its method says.

    Returns
    -------
    GerminationResult

    Source
    ------
    As in `round_classes`, `wilson_interval`, `replicate_tolerance` and `judge`.

    Examples
    --------
    >>> result = assess(germination_counts(100, [86, 88, 84, 90]), None)
    >>> result.percent, result.verdict.word, result.tolerance.within
    (87, 'no standard', True)
    """
    totals = {name: counts.total(name) for name in OTHER_CLASSES}
    classes = round_classes(counts.seeds, normal=counts.germinated, **totals)
    interval = wilson_interval(counts.germinated, counts.seeds, 0.90)
    tolerance = replicate_tolerance(counts.normal, counts.sown)
    verdict = judge(counts, standard, tolerance, hard_seed_possible=hard_seed_possible)
    return GerminationResult(counts, classes, interval, tolerance, verdict)
