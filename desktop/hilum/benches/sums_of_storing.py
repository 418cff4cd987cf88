"""Sums of storing: how long seed keeps, by the viability equation, for every published set of a crop."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from hilum.benches.sums import NUMBERS, TEXT, WHOLE, Outcome, Sum, SumError, SumInput, SumOutput
from hilum.seedlore.conditions import Conditions, lower_moisture_limit, storage_conditions
from hilum.seedlore.constants import NoConstants, ViabilityConstants, given_constants, usable_constants
from hilum.seedlore.crop_records import Crop, UnknownCrop, crop
from hilum.seedlore.crops import crop_index
from hilum.seedlore.deviates import deviate_from_percent
from hilum.seedlore.longevity import (
    DAYS_A_YEAR,
    check_sigma,
    days_to_share_of_initial,
    days_until,
    half_life_days,
    sigma_days,
    viability_percent,
)
from hilum.seedlore.storage_life import oil_content, usual_life
from hilum.seedlore.tables import rule

EQUATION = "Ellis & Roberts 1980, Ann. Bot. 45, 13-30"
_ORTHODOX = "orthodox"


@dataclass(frozen=True, slots=True)
class _Store:
    """The sets of constants that a question is answered with, and the conditions as they are counted."""

    sets: tuple[ViabilityConstants, ...]
    conditions: Conditions
    notes: tuple[str, ...]


def _crop_named(name: str) -> Crop:
    """Find a crop by its key or one of its English names."""
    try:
        return crop(name)
    except UnknownCrop:
        found = crop_index().match(name, None)
        if found.kind == "exact":
            return found.crops[0]
        raise SumError(f"crop={name}: {found.words}") from None


def _store(given: Mapping[str, Any]) -> _Store:
    """Choose the constants and check the conditions; a crop brings its lower moisture limit along."""
    limit: float | None = None
    sets, limit, notes = sets_asked(given)
    conditions = storage_conditions(given["moisture"], given["c"], lower_limit_percent_wb=limit)
    highest = rule("forecast_moisture_highest_percent_wb")
    if given["moisture"] > highest.value:
        notes.append(
            f"Above {highest.value:g} % moisture stored seed does not age by this equation for long; it holds for "
            "tests of ageing only."
        )
    return _Store(sets, conditions, (*notes, *conditions.notes))


def sets_asked(
    given: Mapping[str, Any],
) -> tuple[tuple[ViabilityConstants, ...], float | None, list[str]]:
    """Give the sets a question is asked of, the crop's lower moisture limit in % of fresh weight, and notes."""
    if given["crop"] is None:
        return (_typed_constants(given["constants"]),), None, []
    return _sets_of(_crop_named(given["crop"]))


def _sets_of(named: Crop) -> tuple[tuple[ViabilityConstants, ...], float | None, list[str]]:
    """Give a crop's sound sets and its lower moisture limit, with what is to be said of them."""
    name = named.names["en_gb"]
    if named.seed_behaviour != _ORTHODOX:
        raise SumError(
            f"Seed of {name} is {named.seed_behaviour}: it cannot be dried and stored like other seed, and there is no "
            "sum for how long it keeps."
        )
    try:
        sets = usable_constants(named.constants_species, name)
    except NoConstants as none:
        life = usual_life(named.key)
        raise SumError(f"{none}{f' It keeps {life.words}.' if life else ''}") from None
    oil = oil_content(named.binomial)
    limit = lower_moisture_limit(named.constants_species, None if oil is None else oil.percent_db)
    notes = []
    if len(sets) > 1:
        notes.append(
            f"{len(sets)} published sets for {name} are kept apart; the result is that of the middle one, the "
            "shorter-lived of two."
        )
    if limit is not None:
        of_oil = f"; oil: {oil.source}" if oil is not None and limit.reckoned else ""
        notes.append(f"Lower moisture limit of {name}: {limit.percent_wb:.1f} % ({limit.source}{of_oil}).")
    return sets, None if limit is None else limit.percent_wb, notes


def _typed_constants(figures: Sequence[float]) -> ViabilityConstants:
    if len(figures) not in (2, 4):
        raise SumError(
            f"constants= takes KE,CW,CH,CQ, or KE,CW with the universal temperature terms; {len(figures)} figures were "
            "given."
        )
    return given_constants(*figures)


def start_deviate(given: Mapping[str, Any]) -> float:
    """Give the deviate of the lot at the start, end-corrected where all or none germinated."""
    return float(deviate_from_percent(given["initial"], given["seeds"]))


def _told(
    store: _Store,
    answer: Callable[[float], dict[str, float]],
    words: Callable[[float, dict[str, float]], str],
) -> Outcome:
    """Answer with every set, and let the middle one speak: of an even number the shorter-lived of the two."""
    sigmas = [float(sigma_days(one, store.conditions)) for one in store.sets]
    for each in sigmas:
        check_sigma(each)
    order = sorted(range(len(sigmas)), key=sigmas.__getitem__)
    chosen = order[(len(order) - 1) // 2]
    answers = [answer(sigma) for sigma in sigmas]
    found = answers[chosen]
    results = [one["result"] for one in answers]
    outputs: dict[str, Any] = {name: value for name, value in found.items() if name != "result"}
    outputs["sigma_days"] = sigmas[chosen]
    outputs["moisture_counted_percent_wb"] = float(store.conditions.moisture_percent_wb)
    outputs["c_counted"] = float(store.conditions.storage_c)
    outputs["sets"] = [
        {
            "result": one["result"],
            "constants": [each.ke, each.cw, each.ch, each.cq],
            "source": each.words,
        }
        for one, each in zip(answers, store.sets, strict=True)
    ]
    outputs["lowest"], outputs["highest"] = min(results), max(results)
    source = f"{EQUATION}; constants: {store.sets[chosen].words}"
    return Outcome(found["result"], outputs, words(found["result"], found), source, store.notes)


def _years(days: float) -> str:
    return f"{days:.0f} days ({days / DAYS_A_YEAR:.1f} years)"


def _viability(given: Mapping[str, Any]) -> Outcome:
    days = given["years"] * DAYS_A_YEAR if given["days"] is None else given["days"]
    ki = start_deviate(given)

    def answer(sigma: float) -> dict[str, float]:
        return {
            "result": float(viability_percent(ki, days, sigma)),
            "ki": ki,
            "days": days,
            "half_life_days": float(half_life_days(ki, sigma)),
        }

    return _told(_store(given), answer, lambda found, _: f"After {_years(days)} {found:.1f} % are alive.")


def _storage_time(given: Mapping[str, Any]) -> Outcome:
    ki, final = start_deviate(given), given["final"]

    def answer(sigma: float) -> dict[str, float]:
        days = float(days_until(ki, final, sigma))
        return {
            "result": days,
            "ki": ki,
            "years": days / DAYS_A_YEAR,
            "days_to_85_percent_of_initial": float(days_to_share_of_initial(ki, sigma)),
        }

    if given["initial"] <= final:
        raise SumError(
            f"final={final:g} is not below initial={given['initial']:g}: stored seed only loses life. Give a lower "
            "final percentage."
        )
    return _told(_store(given), answer, lambda found, _: f"{final:g} % are alive after {_years(found)}.")


def _sigma(given: Mapping[str, Any]) -> Outcome:
    def answer(sigma: float) -> dict[str, float]:
        return {"result": sigma, "years": sigma / DAYS_A_YEAR}

    return _told(
        _store(given), answer, lambda found, _: f"In this store a lot loses one deviate in {_years(found)}."
    )


def _half_life(given: Mapping[str, Any]) -> Outcome:
    ki = start_deviate(given)
    if ki <= 0:
        raise SumError(
            f"initial={given['initial']:g} is not above 50 %: half of the seed is dead already. Give more than 50 %."
        )

    def answer(sigma: float) -> dict[str, float]:
        days = float(half_life_days(ki, sigma))
        return {"result": days, "ki": ki, "years": days / DAYS_A_YEAR}

    return _told(_store(given), answer, lambda found, _: f"Half of the seed is alive after {_years(found)}.")


KIND = (
    SumInput("crop", "crop by its name", "", TEXT),
    SumInput("constants", "KE,CW,CH,CQ of your own", "", NUMBERS, -50, 50),
)
STORE = (
    SumInput("moisture", "moisture of fresh weight", "%", low=0, high=100, above_low=True, below_high=True),
    SumInput("c", "temperature of the store", "°C", low=-20, high=90),
)
INITIAL = (
    SumInput("initial", "alive at the start", "%", low=0, high=100),
    SumInput(
        "seeds", "seeds tested, needed when 0 or 100 % were alive", "seeds", WHOLE, 1, 1_000_000, needed=False
    ),
)
ONE_KIND = (("crop", "constants"),)
_SETS = (
    SumOutput("sigma_days", "days in which the lot loses one deviate", "days"),
    SumOutput("lowest", "lowest result of the published sets"), SumOutput("highest", "highest result"),
    SumOutput("sets", "each set with its result and source"),
)  # fmt: skip
_SAID = (
    "Holds for orthodox seed kept airtight, from -20 to 90 °C (colder counts as -20) and 5 to 25 % moisture, or from "
    "the lower limit of the crop where that is known. Sound studies of one crop differ up to five times."
)
SOURCE = f"{EQUATION}; constants as each set names"

STORING_SUMS = (
    Sum(
        "viability", "Alive after a time", "How much of this jar will be alive after so long?",
        (
            *KIND, *INITIAL, *STORE,
            SumInput("days", "time in store", "days", low=0, high=1_000_000),
            SumInput("years", "time in store", "years", low=0, high=2_700),
        ),
        _viability, SumOutput("result", "alive", "%"),
        (SumOutput("ki", "deviate at the start"), SumOutput("half_life_days", "half-life", "days"), *_SETS),
        _SAID, SOURCE, (*ONE_KIND, ("days", "years")),
    ),
    Sum(
        "storage-time", "Time until a share is alive", "How long will this jar last?",
        (
            *KIND, *INITIAL,
            SumInput("final", "alive at the end", "%", low=0, high=100, above_low=True, below_high=True), *STORE,
        ),
        _storage_time, SumOutput("result", "time in store", "days"),
        (
            SumOutput("years", "the same in years of 365 days", "years"),
            SumOutput("days_to_85_percent_of_initial", "time to 85 % of what was alive at the start", "days"), *_SETS,
        ),
        _SAID, SOURCE, ONE_KIND,
    ),
    Sum(
        "sigma", "Sigma of a store", "How slowly does seed age in this store?", (*KIND, *STORE),
        _sigma, SumOutput("result", "sigma", "days"), (SumOutput("years", "sigma", "years"), *_SETS),
        f"The days in which a lot loses one normal deviate: from 98 to 85 % alive, or from 84 to 50 %. {_SAID}",
        SOURCE, ONE_KIND,
    ),
    Sum(
        "half-life", "Half-life of a lot", "When will half of this seed be dead?", (*KIND, *INITIAL, *STORE),
        _half_life, SumOutput("result", "half-life", "days"),
        (SumOutput("years", "half-life", "years"), SumOutput("ki", "deviate at the start"), *_SETS),
        _SAID, SOURCE, ONE_KIND,
    ),
)  # fmt: skip
