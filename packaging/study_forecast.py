"""Is the forecast calibrated? Lots with known truth, lots that break its rules, and the published series.

Run from the root of the project: PYTHONPATH=desktop python packaging/study_forecast.py [--quick]

Everything is drawn from one seed. "Covered" is the share of lots whose true germination on a day lies in the
90 % band (a twentieth of a percent point is given, since bands are shown to a tenth). Scores are the mean
natural logarithm of the chance that was given to a lot's last test, which was held back: higher is better.
The rivals are given the same scatter of counts as the forecast: "carried" takes the test before the last for
the truth, "equation" takes it for the start and applies the mean of the published constants to what was told.

Where the forecast loses: on the long soybean series the bare equation, whose constants happen to fit it, scores
better than the forecast, which doubts them; and in climates in which nothing dies within 250 days the test
before is the surer guess.
A species set five times off does not widen the band on the mean: such lots lie nearer to nought or 100 %. The sentence
beside the band tells it instead (last column).
"""

import argparse
import math
import sys
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from hilum.seedlore.forecast_figures import figure
from hilum.seedlore.forecast_input import ForecastInput
from hilum.seedlore.forecast_lots import believed_on, forecast_many
from hilum.seedlore.forecast_outlook import log_chance_of_counts
from hilum.seedlore.forecast_words import SURPRISE
from study_lots import ON, Drawn, Misfit, draw_lots
from study_rivals import bare_equation, bare_sigma_days, carried_forward
from study_series import Scored, published_series, score_test

SEED = 20260101
LOTS, QUICK_LOTS = 5000, 600
YEARS = (0, 3, 8)
SEEDS_ASSUMED = 200
MISFITS = (
    Misfit("its own prior"),
    Misfit("hard seed", hard_seed=True),
    Misfit("deaths logistic", curve="logistic"),
    Misfit("deaths Weibull", curve="Weibull"),
    Misfit("moisture 2 points off", moisture_off=2.0),
    Misfit("scattered dishes", dish_clumping=0.15),
    Misfit("species five times off", pace_off=math.log10(5.0)),
)
_ROUNDING, _LIVE = 0.05, 1.0


@dataclass(frozen=True, slots=True)
class Coverage:
    """How often the band held the truth, by years from the day of the forecast, and how wide it was."""

    name: str
    covered_percent: tuple[float, ...]
    width_percent: tuple[float, ...]
    live_covered_percent: tuple[float, ...]
    told_percent: float


@dataclass(frozen=True, slots=True)
class Scores:
    """Mean log scores of a test held back, for the forecast and its two rivals."""

    name: str
    forecast: float
    carried: float
    equation: float
    better_than_carried_se: float


def coverage(misfit: Misfit, lots: int, seed: int = SEED) -> Coverage:
    """Draw lots and see how often the band holds what is true of them."""
    drawn = draw_lots(np.random.default_rng(seed), lots, misfit)
    found = forecast_many(drawn.lots, ON, years=max(YEARS))
    known = found.refusal == 0
    tested = (drawn.lots.tests.sown > 0).any(axis=1) & known
    held, live, widths = [], [], []
    for years in YEARS:
        true = drawn.germinating_on(years)
        low, high = found.curve_low_percent[years], found.curve_high_percent[years]
        held.append((true >= low - _ROUNDING) & (true <= high + _ROUNDING))
        live.append(known & (high - low >= _LIVE))
        widths.append(float(np.mean((high - low)[tested])))
    return Coverage(
        misfit.name,
        tuple(100.0 * float(np.mean(one[known])) for one in held),
        tuple(widths),
        tuple(100.0 * float(np.mean(one[some])) for one, some in zip(held, live, strict=True)),
        100.0 * float(np.mean(np.abs(found.pace / found.pace_sd)[tested] > SURPRISE)),
    )


def without_last_test(lots: ForecastInput) -> tuple[ForecastInput, np.ndarray]:
    """Hold back the last test of every lot; also give its place."""
    last = (lots.tests.sown > 0).sum(axis=1) - 1
    row = np.arange(len(last))
    days, sown = lots.tests.on_day.copy(), lots.tests.sown.copy()
    normal = lots.tests.normal.copy()
    days[row, last], sown[row, last], normal[row, last] = np.inf, 0, 0
    return replace(lots, tests=replace(lots.tests, on_day=days, sown=sown, normal=normal)), last


def scores(misfit: Misfit, lots: int, seed: int = SEED + 1) -> Scores:
    """Forecast the last test of lots that have two or more, beside both rivals."""
    drawn = draw_lots(np.random.default_rng(seed), lots, misfit, least_tests=2, last_today=True)
    kept, last = without_last_test(drawn.lots)
    row = np.arange(lots)
    tests = drawn.lots.tests
    alive, sown = tests.normal[row, last].astype(float), tests.sown[row, last].astype(float)
    before = tests.normal[row, last - 1].astype(float), tests.sown[row, last - 1].astype(float)
    ours = log_chance_of_counts(believed_on(kept, ON), alive, sown, np.full(lots, figure("clumping")))
    carried = carried_forward(*before, alive, sown)
    passed = tests.on_day[row, last] - tests.on_day[row, last - 1]
    equation = bare_equation(*before, passed, _bare_sigmas(drawn), alive, sown)
    gained = ours - carried
    return Scores(
        misfit.name,
        float(ours.mean()),
        float(carried.mean()),
        float(equation.mean()),
        float(gained.std() / math.sqrt(lots)),
    )


def _bare_sigmas(drawn: Drawn) -> np.ndarray:
    stays, found = drawn.lots.stays, np.empty(len(drawn.lots))
    for place, crop in enumerate(drawn.lots.crops):
        ours = drawn.lots.crop_of == place
        found[ours] = bare_sigma_days(crop, stays.moisture_percent_wb[ours, 0], stays.storage_c[ours, 0])
    return found


def published_scores() -> tuple[list[Scored], list[Scored], list[str]]:
    """Forecast the last test of each published series, and every test of the long one; also what is refused."""
    last, rolling, refused = [], [], []
    for series in published_series(SEEDS_ASSUMED):
        for place in range(1, len(series.tests)):
            if place < len(series.tests) - 1 and not series.is_counted:
                continue
            scored = score_test(series, place)
            if scored is None:
                refused.append(series.name)
            elif place == len(series.tests) - 1:
                last.append(scored)
            if scored is not None and series.is_counted:
                rolling.append(scored)
    return last, rolling, refused


def _mean(values: Sequence[float | None]) -> str:
    known = [one for one in values if one is not None]
    return f"{sum(known) / len(known):9.2f} ({len(known)})" if known else "        - (0)"


def _print_coverage(lots: int) -> None:
    spans = "  ".join(f"{f'in {years} y' if years else 'today':>7}" for years in YEARS)
    print(
        f"Percent of {lots} lots covered by the 90 % band; the same of lots whose band is a point wide or more (the\n"
        "others are surely dead or perfect, and no band can miss them); mean width of the band of tested lots, in\n"
        "points; percent of tested lots that are said to age unlike their kind"
    )
    print(f"  {'lots drawn from':24}{spans}  of live{spans}  widths{spans}  said")
    for misfit in MISFITS:
        one = coverage(misfit, lots)
        held, live, widths = (
            "  ".join(f"{figure_:7.1f}" for figure_ in figures)
            for figures in (one.covered_percent, one.live_covered_percent, one.width_percent)
        )
        print(f"  {one.name:24}{held}         {live}        {widths}  {one.told_percent:4.1f}")


def _print_scores(lots: int) -> None:
    print(f"\nMean log score of the last test, {lots} lots with two to four tests")
    print(f"  {'lots drawn from':24}{'forecast':>9}{'carried':>10}{'equation':>10}   lead over carried")
    for misfit in MISFITS:
        if misfit.hard_seed:
            continue
        one = scores(misfit, lots)
        lead = f"{one.forecast - one.carried:+.2f} ± {one.better_than_carried_se:.2f}"
        print(f"  {one.name:24}{one.forecast:9.2f}{one.carried:10.2f}{one.equation:10.2f}   {lead}")


def _print_published() -> None:
    last, rolling, refused = published_scores()
    print(f"\nPublished series (percentages printed without a number of seeds are taken for {SEEDS_ASSUMED})")
    for title, group in (
        ("last test of each series", last),
        ("the same, series with constants", [one for one in last if one.equation is not None]),
        ("soybean, every test from those before", rolling),
    ):
        print(
            f"  {title:40} forecast {_mean([one.forecast for one in group])}  carried "
            f"{_mean([one.carried for one in group])}  equation {_mean([one.equation for one in group])}"
        )
    ahead = sum(one.forecast > one.carried for one in last)
    print(
        f"  ahead of carried in {ahead} of {len(last)} series: where nothing happens carrying forward is the surer "
        "guess; the forecast leads on the whole by those that fall"
    )
    print(f"  no forecast (too moist or too dry): {', '.join(dict.fromkeys(refused)) or 'none'}")
    held = [one for one in (*last, *rolling) if one.low - 3 <= one.percent <= one.high + 3]
    print(f"  {len(held)} of {len(last) + len(rolling)} counts lie within the band, three points given")
    for one in (*last, *rolling):
        bare = "      -" if one.equation is None else f"{one.equation:7.2f}"
        print(
            f"    {one.name:52} seen {one.percent:5.1f}  forecast {one.middle:5.1f} [{one.low:5.1f}, {one.high:5.1f}]"
            f"  scores {one.forecast:7.2f} {one.carried:7.2f} {bare}"
        )


def main(arguments: Sequence[str]) -> int:
    """Print the study."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("--quick", action="store_true", help=f"{QUICK_LOTS} lots instead of {LOTS}")
    lots = QUICK_LOTS if parser.parse_args(arguments).quick else LOTS
    _print_coverage(lots)
    _print_scores(lots)
    _print_published()
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
