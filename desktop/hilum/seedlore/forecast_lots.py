"""The forecast of many lots at once: arrays in, arrays out, no loop over lots."""

import math
import os
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from datetime import date
from statistics import NormalDist
from typing import TYPE_CHECKING

from hilum.seedlore.crop_records import Crop
from hilum.seedlore.deviates import deviate_from_share
from hilum.seedlore.forecast_counts import CountTable, count_table
from hilum.seedlore.forecast_figures import figure
from hilum.seedlore.forecast_input import NOT_COUNTED, CountColumns, ForecastInput
from hilum.seedlore.forecast_mixture import quick_share
from hilum.seedlore.forecast_outlook import (
    Outlook,
    loss_to_deviate,
    loss_to_share_of_start,
    outlook,
)
from hilum.seedlore.forecast_posterior import Evidence, LotPriors, Posterior, posterior, usual_shape
from hilum.seedlore.priors import crop_prior
from hilum.seedlore.storage_history import Ageing, PriorColumns, ageing, prior_columns

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from hilum.seedlore.arrays import Array

    Whole = NDArray[np.int64]
    Flags = NDArray[np.bool_]

DAYS_A_YEAR = 365.25
_LOTS_AT_ONCE = 2048  # fewer keep the threads waiting for each other, more leave the processor's cache
_MOST_THREADS = 4
_TAIL, _LEAST_TAIL = 0.05, 0.002
# From where to where the belief at an end moves the tenth over: about half the tenth, with a soft edge.
_SHARING_FROM, _SHARING_TO = 0.03, 0.07
_AT_END = NormalDist().inv_cdf(0.0005)  # 0.05 %, which is shown as nought
_DEAD_PERCENT = 10.0  # a lot whose whole band lies below has no next test: our own choice
_Z = NormalDist().inv_cdf(1.0 - _TAIL)


@dataclass(frozen=True, slots=True)
class Forecasts:
    """What is believed of many lots, shape (lots,); NaN where `refusal` (into `REFUSALS`) is not 0.

    Percentages are of germination unless they say viability. `curve_*` have shape (years + 1, lots).
    `pace` is by how many powers of ten the lot is believed to live longer than its crop, `pace_sd` how
    far lots were believed to differ before their tests. `test_next_day` is NaN too for a lot that is dead
    or nearly so: no test can help it.
    """

    now_percent: "Array"
    low_percent: "Array"
    high_percent: "Array"
    viability_now_percent: "Array"
    below_standard_chance: "Array"
    half_life_years: "Array"
    test_next_day: "Array"
    refusal: "Whole"
    ready_share: "Array"
    pace: "Array"
    pace_sd: "Array"
    moisture_assumed_share: "Array"
    warmth_assumed_share: "Array"
    is_below_coldest: "Flags"
    curve_percent: "Array"
    curve_low_percent: "Array"
    curve_high_percent: "Array"

    def __len__(self) -> int:
        return len(self.now_percent)


@dataclass(frozen=True, slots=True)
class _Heard:
    """What the tests of all lots say, as the sum needs it."""

    alive: "Whole"
    sown: "Whole"
    clumping_class: "Whole"
    ready: "Array"
    ready_sd: "Array"
    counts_share: "Array"


def forecast_many(lots: ForecastInput, on: date, years: int | None = None) -> Forecasts:
    """Forecast the germination of many lots.

    Parameters
    ----------
    lots : ForecastInput
        From `forecast_input`, or laid out by the caller.
    on : date
        The day for which it is asked; tests of `lots` must not lie after it.
    years : int or None
        How many years the curves run; None for no curves.

    Returns
    -------
    Forecasts

    Source
    ------
    The model: `forecast`.

    Examples
    --------
    >>> from hilum.seedlore.crops import crop
    >>> from hilum.seedlore.forecast_input import LotHistory, forecast_input
    >>> laid = forecast_input([LotHistory(crop("pea"), date(2024, 9, 1))] * 2, date(2026, 1, 1))
    >>> found = forecast_many(laid, date(2026, 1, 1))
    >>> bool(found.now_percent[0] == found.now_percent[1])
    True
    """
    ground, parts = _grounds(lots), _parts(lots)
    on_day = float(on.toordinal())

    def of_part(part: slice) -> Forecasts:
        return _forecast_part(lots.part(part), ground.part(part), on_day, years)

    threads = min(_MOST_THREADS, os.cpu_count() or 1, len(parts))
    if threads == 1:
        return _joined([of_part(part) for part in parts])
    with ThreadPoolExecutor(threads) as pool:
        return _joined(list(pool.map(of_part, parts)))


def believed_on(lots: ForecastInput, on: date) -> Outlook:
    """Give the whole belief about the viability of lots on a day, not only its middle and band.

    Parameters
    ----------
    lots : ForecastInput
    on : date
        Tests of `lots` must not lie after it.

    Returns
    -------
    Outlook
        On the scale of deviates; lots without a forecast are in it as if they had one.

    Source
    ------
    The model: `forecast`.

    Examples
    --------
    >>> from hilum.seedlore.crops import crop
    >>> from hilum.seedlore.forecast_input import LotHistory, forecast_input
    >>> laid = forecast_input([LotHistory(crop("pea"), date(2024, 9, 1))], date(2026, 1, 1))
    >>> believed_on(laid, date(2026, 1, 1)).weight.shape
    (37, 1)
    """
    import numpy as np

    ground = _grounds(lots)
    days = []
    for part in _parts(lots):
        lot_part, ours = lots.part(part), ground.part(part)
        aged = _aged(lot_part, ours, float(on.toordinal()))
        days.append(_day(_believe(lot_part, ours, aged), aged, ours, 0.0))
    return Outlook(
        *(np.concatenate([getattr(one, name) for one in days], axis=1) for name in Outlook.__slots__)
    )


def _parts(lots: ForecastInput) -> list[slice]:
    starts = range(0, max(1, len(lots)), _LOTS_AT_ONCE)
    return [slice(begin, begin + _LOTS_AT_ONCE) for begin in starts]


@dataclass(frozen=True, slots=True)
class _Ground:
    """What the sum for any part of the lots rests on."""

    heard: _Heard
    table: CountTable
    clumpings: "Array"
    columns: PriorColumns

    def part(self, part: slice) -> "_Ground":
        heard = _Heard(*(getattr(self.heard, name)[part] for name in _Heard.__slots__))
        return _Ground(heard, self.table, self.clumpings, self.columns)


def _grounds(lots: ForecastInput) -> _Ground:
    import numpy as np

    steps = np.arange(int(figure("clumping_classes")), dtype=np.float64)
    clumpings: Array = np.asarray(figure("clumping") * figure("clumping_step") ** steps)
    heard = _hear(lots, clumpings)
    counts = np.stack([heard.alive, heard.sown - heard.alive])
    table = count_table(counts, np.stack([heard.clumping_class] * 2), clumpings)
    return _Ground(heard, table, clumpings, prior_columns(tuple(crop_prior(one) for one in lots.crops)))


def _aged(lots: ForecastInput, ground: _Ground, on_day: float) -> Ageing:
    return ageing(lots.stays, lots.stored_from_day, lots.tests.on_day, on_day, ground.columns, lots.crop_of)


def _believe(lots: ForecastInput, ground: _Ground, aged: Ageing) -> Posterior:
    import numpy as np

    start_mean = ground.columns.start_mean[lots.crop_of]
    start_sd = ground.columns.start_sd[lots.crop_of]
    believed = LotPriors(start_mean, start_sd, np.zeros_like(start_mean), aged.pace_sd, usual_shape())
    heard = ground.heard
    evidence = Evidence(aged.at_tests, heard.alive, heard.sown, heard.clumping_class, ground.clumpings)
    return posterior(believed, evidence, ground.table)


def _day(belief: Posterior, aged: Ageing, ground: _Ground, years_on: float) -> Outlook:
    """Carry the belief to a day some years from the day of the forecast."""
    import numpy as np

    is_tested = (ground.heard.sown > 0).any(axis=1)
    stray = np.hypot(np.where(is_tested, figure("shape_sd"), 0.0), aged.unseen_sd)
    since = aged.at_day - aged.at_last_test + aged.per_day * DAYS_A_YEAR * years_on
    return outlook(belief, aged.at_last_test, since, stray)


def _joined(parts: list[Forecasts]) -> Forecasts:
    import numpy as np

    names = Forecasts.__slots__
    return Forecasts(*(np.concatenate([getattr(one, name) for one in parts], axis=-1) for name in names))


def _hear(lots: ForecastInput, clumpings: "Array") -> _Heard:
    """Say how many seeds of each test were alive, and what share of living seed germinates at once.

    Hard and fresh seed is alive. Where a lot's tests counted them once and not another time, the normal
    seedlings of the other test are taken for the same share of its living seed.
    """
    import numpy as np

    tests = lots.tests
    sown = np.where(np.isfinite(tests.on_day), tests.sown, 0)
    ready, ready_sd = _ready_share(tests, sown, np.zeros_like(lots.standard_counts_hard))
    to_standard, _ = _ready_share(tests, sown, lots.standard_counts_hard)
    is_classed = (tests.hard != NOT_COUNTED) | (tests.fresh != NOT_COUNTED)
    waiting = np.maximum(tests.hard, 0) + np.maximum(tests.fresh, 0)
    guessed = np.rint(tests.normal / ready[:, np.newaxis]).astype(np.int64)
    alive = np.minimum(np.where(is_classed, tests.normal + waiting, guessed), sown)
    wanted = figure("clumping") + tests.scatter
    kind = np.ceil(np.log(wanted / clumpings[0]) / math.log(figure("clumping_step")) - 1e-9)
    kind = np.clip(kind, 0, len(clumpings) - 1).astype(np.int64)
    return _Heard(alive, sown, kind, ready, ready_sd, to_standard)


def _ready_share(tests: CountColumns, sown: "Whole", with_hard: "Flags") -> "tuple[Array, Array]":
    """Give the share of living seed that germinates at once (or counts towards a standard), and its spread."""
    import numpy as np

    is_classed = ((tests.hard != NOT_COUNTED) | (tests.fresh != NOT_COUNTED)) & (sown > 0)
    hard, fresh = np.maximum(tests.hard, 0), np.maximum(tests.fresh, 0)
    counting = tests.normal + np.where(with_hard[:, np.newaxis], hard, 0)
    ready = (counting * is_classed).sum(axis=1, dtype=np.float64)
    alive = ((tests.normal + hard + fresh) * is_classed).sum(axis=1, dtype=np.float64)
    weight = np.minimum(1.0, figure("ready_seeds_most") / np.maximum(alive, 1.0))
    seeds = figure("ready_prior_seeds") + weight * alive
    share = (figure("ready_prior_seeds") * figure("ready_prior_share") + weight * ready) / seeds
    never = ~is_classed.any(axis=1)
    sd = np.sqrt(share * (1 - share) / (seeds + 1.0))
    return np.where(never, 1.0, share), np.where(never, 0.0, sd)


def _forecast_part(lots: ForecastInput, ground: _Ground, on_day: float, years: int | None) -> Forecasts:
    """Forecast a few lots: the whole of the sum in its order."""
    import numpy as np

    heard = ground.heard
    aged = _aged(lots, ground, on_day)
    belief = _believe(lots, ground, aged)
    today = _day(belief, aged, ground, 0.0)
    middle, low, high, viability = _germination(today, heard)
    bar = _bar_deviate(lots.standard_percent, heard.counts_share)
    below = np.where(np.isnan(lots.standard_percent), np.nan, today.chance_below(bar))
    half = (loss_to_deviate(belief, np.zeros_like(bar), 0.5) - aged.at_day) / (aged.per_day * DAYS_A_YEAR)
    curve = np.zeros((0 if years is None else years + 1, 3, len(bar)))
    for year in range(len(curve)):
        curve[year] = _germination(_day(belief, aged, ground, float(year)), heard)[:3]
    void = np.where(aged.refusal > 0, np.nan, 1.0)
    return Forecasts(
        now_percent=middle * void,
        low_percent=low * void,
        high_percent=high * void,
        viability_now_percent=viability * void,
        below_standard_chance=below * void,
        half_life_years=np.maximum(half, 0.0) * void,
        test_next_day=np.where(high < _DEAD_PERCENT, np.nan, _test_next(belief, aged, lots, bar, on_day))
        * void,
        refusal=aged.refusal,
        ready_share=heard.ready,
        pace=(belief.weight * belief.pace).sum(axis=0).astype(np.float64),
        pace_sd=aged.pace_sd,
        moisture_assumed_share=aged.moisture_assumed_share,
        warmth_assumed_share=aged.warmth_assumed_share,
        is_below_coldest=aged.is_below_coldest,
        curve_percent=curve[:, 0] * void,
        curve_low_percent=curve[:, 1] * void,
        curve_high_percent=curve[:, 2] * void,
    )


def _germination(day: Outlook, heard: _Heard) -> "tuple[Array, Array, Array, Array]":
    """Give germination, the ends of its band, and viability, in percent."""
    import numpy as np

    below, above = _tails(day)
    low, middle, high = (
        100.0 * quick_share(deviate).astype(np.float64)
        for deviate in day.quantiles((below, 0.5, 1.0 - above))
    )
    own = _Z * middle * heard.ready_sd
    down = np.hypot(heard.ready * (middle - low), own)
    up = np.hypot(heard.ready * (high - middle), own)
    percent = heard.ready * middle
    return percent, np.maximum(percent - down, 0.0), np.minimum(percent + up, 100.0), middle


def _tails(day: Outlook) -> "tuple[Array, Array]":
    """Share the tenth that a 90 % band leaves out between both sides.

    Half and half, but what a lot may have of dead (or perfect) seed cannot lie outside a band that ends at
    nought (or 100 %): the more of the belief lies there, the more of the tenth goes to the other side.
    """
    import numpy as np

    end = np.full(day.mean.shape[1], _AT_END)
    at_nought, at_hundred = (
        np.clip((chance - _SHARING_FROM) / (_SHARING_TO - _SHARING_FROM), 0.0, 1.0)
        for chance in (day.chance_below(end), 1.0 - day.chance_below(-end))
    )
    below = np.clip(_TAIL * (1.0 - at_nought + at_hundred), _LEAST_TAIL, 2.0 * _TAIL - _LEAST_TAIL)
    return below, 2.0 * _TAIL - below


def _bar_deviate(standard_percent: "Array", counts_share: "Array") -> "Array":
    """Give the deviate of viability below which germination is below standard; 0 where there is no standard."""
    import numpy as np

    share = np.where(np.isnan(standard_percent), 50.0, standard_percent) / 100.0 / counts_share
    return np.asarray(deviate_from_share(np.clip(share, 1e-6, 1.0 - 1e-6)))


def _test_next(belief: Posterior, aged: Ageing, lots: ForecastInput, bar: "Array", on_day: float) -> "Array":
    """Give the day of the next test, within the published bounds; it may have passed.

    Counted from the last test, or from the start of storage where there was none: a third of the time
    predicted (the middle, as printed) until 85 % of what was alive at the start are left, five years at most;
    and as early as the chance of being below standard passes the bar, where it had not passed it at the last
    test. Not sooner than a year, or three months for a crop that lives no longer than a year: a test costs
    seed, and a lot just tested has told what it can.
    """
    import numpy as np

    last = np.where(np.isfinite(lots.tests.on_day), lots.tests.on_day, -np.inf).max(axis=1, initial=-np.inf)
    base = np.where(np.isfinite(last), last, lots.stored_from_day)
    least = _least_days(lots.crops)[lots.crop_of]
    left = _days_until(loss_to_share_of_start(belief, figure("predicted_point")), base, aged, on_day)
    most = figure("interval_most_years") * DAYS_A_YEAR
    by_life = np.clip(left * figure("interval_share"), least, most)
    crossing = _days_until(loss_to_deviate(belief, bar, figure("below_standard_bar")), base, aged, on_day)
    matters = ~np.isnan(lots.standard_percent) & (crossing > 0)
    by_bar = np.where(matters, np.maximum(crossing, least), np.inf)
    found: Array = np.floor(base + np.minimum(by_life, by_bar))
    return found


def _least_days(crops: tuple[Crop, ...]) -> "Array":
    """Give the shortest interval between two tests of each crop, in days."""
    import numpy as np

    brief, usual = figure("interval_least_brief_days"), figure("interval_least_days")
    longest = figure("brief_life_years")
    lives = [crop.storage_life_years for crop in crops]
    return np.array(
        [brief if life is not None and life <= longest else usual for life in lives], dtype=np.float64
    )


def _days_until(loss: "Array", base_day: "Array", aged: Ageing, on_day: float) -> "Array":
    """Give the days from a base day until a loss is reached; between it and today losses grow evenly."""
    import numpy as np

    between = np.maximum(aged.at_day - aged.at_last_test, 1e-12)
    so_far = np.maximum(on_day - base_day, 0.0) * (loss - aged.at_last_test) / between
    later = on_day - base_day + (loss - aged.at_day) / aged.per_day
    found: Array = np.where(loss <= aged.at_last_test, 0.0, np.where(loss < aged.at_day, so_far, later))
    return found
