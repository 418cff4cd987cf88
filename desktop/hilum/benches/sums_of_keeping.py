"""Sums of keeping: how dry or how cold seed must lie to last, by the viability equation solved for the store."""

import math
from collections.abc import Callable, Mapping
from typing import Any

from hilum.benches.sums import Outcome, Sum, SumError, SumInput, SumOutput
from hilum.benches.sums_of_storing import (
    EQUATION,
    INITIAL,
    KIND,
    ONE_KIND,
    SOURCE,
    STORE,
    sets_asked,
    start_deviate,
)
from hilum.seedlore.conditions import storage_conditions
from hilum.seedlore.constants import ViabilityConstants
from hilum.seedlore.longevity import DAYS_A_YEAR
from hilum.seedlore.needed import moisture_for, storage_c_for
from hilum.seedlore.tables import rule


def _solved(
    given: Mapping[str, Any],
    solve: Callable[[ViabilityConstants, float, float], float],
    check: Callable[[float, float | None], tuple[str, tuple[str, ...]]],
) -> Outcome:
    """Solve for every set; the middle one speaks, of an even number the one that asks for more.

    `solve` takes a set, the deviate at the start and the days; `check` takes the figure found and the lower
    moisture limit, refuses what is no promise, and gives the sentence and notes.
    """
    if given["initial"] <= given["final"]:
        raise SumError(
            f"final={given['final']:g} is not below initial={given['initial']:g}: stored seed only loses life. Give "
            "a lower final percentage."
        )
    sets, limit, notes = sets_asked(given)
    ki, days = start_deviate(given), given["years"] * DAYS_A_YEAR
    found = sorted(((solve(each, ki, days), each) for each in sets), key=lambda pair: pair[0])
    result, chosen = found[(len(found) - 1) // 2]
    words, more = check(result, limit)
    outputs = {
        "ki": ki,
        "lowest": found[0][0],
        "highest": found[-1][0],
        "sets": [
            {"result": one, "constants": [each.ke, each.cw, each.ch, each.cq], "source": each.words}
            for one, each in found
        ],
    }
    return Outcome(result, outputs, words, f"{EQUATION}; constants: {chosen.words}", (*notes, *more))


def _aim(given: Mapping[str, Any]) -> str:
    return f"{given['final']:g} % alive after {given['years']:g} years"


def _dryness(given: Mapping[str, Any]) -> Outcome:
    def solve(constants: ViabilityConstants, ki: float, days: float) -> float:
        return float(moisture_for(constants, ki, given["final"], days, given["c"]))

    def check(found: float, limit: float | None) -> tuple[str, tuple[str, ...]]:
        driest = rule("longevity_moisture_lowest_percent_wb").value if limit is None else limit
        high = rule("longevity_moisture_highest_percent_wb")
        if found < driest:
            raise SumError(
                f"{_aim(given).capitalize()} would take drier seed than {driest:.3g} %, and drying below that gains "
                f"nothing that is known. Store it colder than {given['c']:g} °C, or ask for fewer years."
            )
        if found > high.value:
            raise SumError(
                f"{_aim(given).capitalize()} is reached above {high.value:g} % moisture too, where the equation no "
                f"longer holds ({high.source}). Ask for more years; seed that wet moulds."
            )
        keeps = rule("forecast_moisture_highest_percent_wb").value
        damp = (
            ()
            if found <= keeps
            else (f"Seed above {keeps:g} % moisture moulds and heats: dry it on anyway.",)
        )
        said = storage_conditions(found, given["c"], lower_limit_percent_wb=limit)
        return f"{_aim(given)}: dry it to {found:.1f} % or below.", (*damp, *said.notes)

    return _solved(given, solve, check)


def _cold(given: Mapping[str, Any]) -> Outcome:
    def solve(constants: ViabilityConstants, ki: float, days: float) -> float:
        counted = storage_conditions(given["moisture"], 0.0, lower_limit_percent_wb=sets_asked(given)[1])
        found = float(storage_c_for(constants, ki, given["final"], days, counted.moisture_percent_wb))
        # Not a number: no cold is enough. Sorted first, as the most that can be asked.
        return float("-inf") if math.isnan(found) else found

    def check(found: float, limit: float | None) -> tuple[str, tuple[str, ...]]:
        coldest, warmest = rule("longevity_c_lowest").value, rule("longevity_c_highest").value
        if found < coldest:
            raise SumError(
                f"{_aim(given).capitalize()} would take more cold than {coldest:g} °C, and no more is known to help. "
                f"Dry the seed below {given['moisture']:g} %, or ask for fewer years."
            )
        if found > warmest:
            raise SumError(
                f"{_aim(given).capitalize()} is reached above {warmest:g} °C too, where the equation no longer holds. "
                "Ask for more years."
            )
        said = storage_conditions(given["moisture"], found, lower_limit_percent_wb=limit)
        frost = ("Freeze only seed that is known to be dry.",) if found < 0 else ()
        return f"{_aim(given)}: store it at {found:.1f} °C or colder.", (*said.notes, *frost)

    return _solved(given, solve, check)


_MOISTURE, _C = STORE
_FINAL = SumInput("final", "alive at the end", "%", low=0, high=100, above_low=True, below_high=True)
_YEARS = SumInput("years", "time in store", "years", low=0, high=2_700, above_low=True)
_SETS = (
    SumOutput("ki", "deviate at the start"),
    SumOutput("lowest", "what the set that asks for most gives"),
    SumOutput("highest", "what the set that asks for least gives"),
    SumOutput("sets", "each set with its result and source"),
)
_SAID = (
    "Holds for orthodox seed kept airtight. Sound studies of one crop differ up to five times in how long it keeps, so "
    "stay well on the safe side of the figure."
)

KEEPING_SUMS = (
    Sum(
        "dryness-to-keep", "Dryness to last", "How dry must it be to last?",
        (*KIND, *INITIAL, _FINAL, _YEARS, _C), _dryness,
        SumOutput("result", "moisture of fresh weight at most", "%"), _SETS, _SAID, SOURCE, ONE_KIND,
    ),
    Sum(
        "cold-to-keep", "Cold to last", "How cold must it lie to last?",
        (*KIND, *INITIAL, _FINAL, _YEARS, _MOISTURE), _cold,
        SumOutput("result", "temperature at most", "°C"), _SETS, _SAID, SOURCE, ONE_KIND,
    ),
)  # fmt: skip
