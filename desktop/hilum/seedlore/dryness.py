"""The guard before the freezer: evidence that seed is dry, and whether it may be frozen on it."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from hilum.errors import BadInput
from hilum.seedlore.tables import rule

MOISTURE = "moisture reading"
JAR_HUMIDITY = "jar humidity"
CONSTANT_WEIGHT = "constant weight"
SNAP_TEST = "snap test"
# Figures first: on one day a reading tells more than a test by hand.
EVIDENCE_KINDS = (MOISTURE, JAR_HUMIDITY, CONSTANT_WEIGHT, SNAP_TEST)
_MEASURED = (MOISTURE, JAR_HUMIDITY)


class DrynessError(BadInput):
    """Evidence of dryness that cannot be."""


@dataclass(frozen=True, slots=True)
class DrynessEvidence:
    """One dated sign of how dry seed is.

    `value` is the moisture in percent of fresh weight, or the relative humidity in percent of the air
    in a closed jar with the seed at room temperature, or (not needed) that of the air in which the
    seed came to constant weight. `passed` is the outcome of a test without a figure: it snapped and
    did not bend, its weight no longer changed. `sealed` says that the seed has been in an airtight
    container ever since.
    """

    kind: str
    on: date
    value: float | None = None
    passed: bool = True
    sealed: bool = False

    def __post_init__(self) -> None:
        if self.kind not in EVIDENCE_KINDS:
            raise DrynessError(
                f"{self.kind!r} is no evidence of dryness. There are: {', '.join(EVIDENCE_KINDS)}."
            )
        if self.kind in _MEASURED and self.value is None:
            raise DrynessError(f"A {self.kind} needs its figure in percent.")
        if self.kind == SNAP_TEST and self.value is not None:
            raise DrynessError("A snap test has no figure: the seed snaps or it bends.")
        if self.value is not None and not 0 <= self.value <= 100:
            raise DrynessError(f"A {self.kind} of {self.value:g} % cannot be. Give 0 to 100.")


@dataclass(frozen=True, slots=True)
class FreezeJudgement:
    """Whether seed may be frozen, and why; the limit is moisture in percent of fresh weight."""

    allowed: bool
    why: str
    limit_percent: float | None
    source: str
    evidence: DrynessEvidence | None = None


def freezing_limit_percent_wb(oily: bool | None) -> float:
    """Give the most moisture with which seed may be frozen.

    Parameters
    ----------
    oily : bool or None
        Whether the seed is rich in oil; None where it is not known, which counts as oily.

    Returns
    -------
    float
        Percent of fresh weight.

    Source
    ------
    8 %: common practice, no source read. 5 % for oily seed: derived from the equation of Cromarty, Ellis &
    Roberts 1982 at 25 % relative humidity and 20 °C.

    Examples
    --------
    >>> freezing_limit_percent_wb(False), freezing_limit_percent_wb(True), freezing_limit_percent_wb(None)
    (8.0, 5.0, 5.0)
    """
    return rule(_limit_key(oily)).value


def _limit_key(oily: bool | None) -> str:
    return "freezing_moisture_percent_wb" if oily is False else "freezing_moisture_percent_wb_oily"


def freezing_allowed(
    behaviour: str, oily: bool | None, evidence: Iterable[DrynessEvidence], on: date
) -> FreezeJudgement:
    """Say whether seed may be frozen on a day, with the evidence there is.

    Evidence counts when it is dated on or before the day, and is at most 7 days old unless the seed
    has been sealed airtight ever since. The latest decides; on one day a figure goes before a test
    by hand, and a failed test before a passed one. Constant weight and the snap test are taken for
    orthodox seed. Seed that is not orthodox is always refused.

    Parameters
    ----------
    behaviour : str
        orthodox, intermediate or recalcitrant: the crop's `seed_behaviour`.
    oily : bool or None
        Whether the seed is rich in oil; None where it is not known, which counts as oily.
    evidence : iterable of DrynessEvidence
        All there is, in any order.
    on : date
        The day of freezing.

    Returns
    -------
    FreezeJudgement
        When refused, `why` says what to do.

    Source
    ------
    Limits as in `freezing_limit_percent_wb`. Jar humidity 25 %: Center for Plant Conservation, storage
    between 10 and 25 %. Snap test, constant weight and 7 days: common practice, no source. Recalcitrant
    seed: University of Florida IFAS, Recalcitrant seeds.

    Examples
    --------
    >>> reading = DrynessEvidence(MOISTURE, date(2026, 1, 10), 7.2)
    >>> freezing_allowed("orthodox", False, [reading], date(2026, 1, 12)).allowed
    True
    >>> freezing_allowed("orthodox", False, [], date(2026, 1, 12)).allowed
    False
    """
    limit = rule(_limit_key(oily))
    if behaviour != "orthodox":
        why = (
            f"Do not freeze: seed of this crop is {behaviour} and can die when it is dried or frozen. Keep "
            "it cool and "
            "moist, and sow it fresh."
            if behaviour == "recalcitrant"
            else f"Do not freeze: seed of this crop is {behaviour} and can die in the freezer. Keep it dry "
            "and cool."
        )
        return FreezeJudgement(False, why, None, "University of Florida IFAS, Recalcitrant seeds")
    given = list(evidence)
    usable = [one for one in given if _is_usable(one, on)]
    if not usable:
        return FreezeJudgement(False, _missing(given, on, oily), limit.value, limit.source)
    # Latest first; on one day figures before tests by hand, and what failed before what passed.
    best = max(usable, key=lambda one: (one.on, one.kind in _MEASURED, not _is_dry(one, limit.value)))
    dry = _is_dry(best, limit.value)
    why = _why_dry(best, oily) if dry else _why_damp(best, oily)
    return FreezeJudgement(dry, why, limit.value, _source_for(best, oily), best)


def _is_usable(one: DrynessEvidence, on: date) -> bool:
    age_days = (on - one.on).days
    return age_days >= 0 and (one.sealed or age_days <= rule("dryness_evidence_days").value)


def _is_dry(one: DrynessEvidence, limit_percent_wb: float) -> bool:
    if one.kind == MOISTURE:
        return one.value is not None and one.value <= limit_percent_wb
    humidity = rule("freezing_air_humidity_percent").value
    if one.kind == JAR_HUMIDITY:
        return one.value is not None and one.value <= humidity
    return one.passed and (one.value is None or one.value <= humidity)


def _source_for(one: DrynessEvidence, oily: bool | None) -> str:
    if one.kind == MOISTURE:
        return rule(_limit_key(oily)).source
    if one.value is not None:
        return rule("freezing_air_humidity_percent").source
    return "common practice, no source"


def _limit_words(oily: bool | None) -> str:
    limit = f"{freezing_limit_percent_wb(oily):g} % of fresh weight"
    if oily is None:
        return f"{limit}, the limit for oily seed, since it is not known whether this seed is oily"
    return f"{limit}, the limit for {'oily seed' if oily else 'seed that is not oily'}"


def _why_dry(one: DrynessEvidence, oily: bool | None) -> str:
    humidity = f"{rule('freezing_air_humidity_percent').value:g} %"
    if one.kind == MOISTURE:
        return f"Dry enough: {one.value:g} % moisture on {one.on}, at most {_limit_words(oily)}."
    if one.value is not None:
        return f"Dry enough: air of {one.value:g} % humidity with the seed on {one.on}, at most {humidity}."
    if one.kind == SNAP_TEST:
        return f"Taken as dry: the seed snapped on {one.on}. A jar humidity of at most {humidity} is surer."
    return (
        f"Taken as dry: its weight no longer changed on {one.on}. That shows only that it is as dry as the "
        "air it "
        f"lay in; a jar humidity of at most {humidity} would be surer."
    )


def _why_damp(one: DrynessEvidence, oily: bool | None) -> str:
    advice = "Seed frozen wet dies. Dry it on, and test again."
    if one.kind == MOISTURE:
        return (
            f"Do not freeze: {one.value:g} % moisture on {one.on} is more than {_limit_words(oily)}. {advice}"
        )
    if one.value is not None:
        most = f"{rule('freezing_air_humidity_percent').value:g} %"
        air = f"air of {one.value:g} % humidity with the seed on {one.on}"
        return f"Do not freeze: {air} is more than {most}. {advice}"
    outcome = "the seed bent" if one.kind == SNAP_TEST else "its weight still changed"
    return f"Do not freeze: {outcome} on {one.on}. {advice}"


def _missing(given: list[DrynessEvidence], on: date, oily: bool | None) -> str:
    """Say why none of the evidence counts, and what to do."""
    days = f"{rule('dryness_evidence_days').value:g} days"
    past = [one for one in given if one.on <= on]
    if past:
        last = max(past, key=lambda one: one.on)
        found = (
            f"the last evidence of dryness, of {last.on}, is older than {days} and the seed was not sealed "
            "since"
        )
    elif given:
        found = f"the evidence of dryness is dated after {on}"
    else:
        found = "there is no evidence that the seed is dry"
    return (
        f"Do not freeze: {found}. Seed frozen wet dies. Record a moisture reading of at most "
        f"{_limit_words(oily)}, or a "
        f"jar humidity of at most {rule('freezing_air_humidity_percent').value:g} % at room temperature, or "
        "that it "
        "snaps, or that its weight no longer changes."
    )
