"""Invented lots whose truth is known, for the study of the forecast: drawn by its own rules, or against them."""

import math
from dataclasses import dataclass, replace
from datetime import date
from typing import TYPE_CHECKING

import numpy as np

from hilum.seedlore.counts import germination_counts
from hilum.seedlore.crops import Crop, all_crops
from hilum.seedlore.deviates import share_from_deviate
from hilum.seedlore.equilibrium import equilibrium_moisture
from hilum.seedlore.forecast_figures import figure
from hilum.seedlore.forecast_input import NOT_COUNTED, CountColumns, ForecastInput, dish_scatter
from hilum.seedlore.priors import crop_prior
from hilum.seedlore.storage_history import Ageing, PriorColumns, StayColumns, ageing, prior_columns

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Array = NDArray[np.float64]
    Whole = NDArray[np.int64]

ON = date(2026, 1, 1)
DISHES = 4
_ON_DAY = float(ON.toordinal())
_MOST_TESTS = 4
_WARMTH = np.array([20.0, 12.0, 5.0, -18.0])  # a room, a cellar, a refrigerator, a freezer
_SEEDS_A_DISH = np.array([5, 10, 15, 25, 50, 100])
_LONGEST_YEARS = 12.0
_MOIST = 14.9  # just under where there is no forecast


@dataclass(frozen=True, slots=True)
class Misfit:
    """In what way lots break the rules of the forecast; the plain one breaks none."""

    name: str
    curve: str = "normal"
    moisture_off: float = 0.0
    dish_clumping: float = 0.0
    pace_off: float = 0.0
    hard_seed: bool = False


@dataclass(frozen=True, slots=True)
class Drawn:
    """Lots as the keeper sees them, with what is true of them."""

    lots: ForecastInput
    start: "Array"
    pace: "Array"
    stray: "Array"
    ready: "Array"
    aged: Ageing
    misfit: Misfit

    def alive(self, loss: "Array") -> "Array":
        """Give the true share alive after a loss at the pace of the crop; shape (lots, ...)."""
        aside = (slice(None),) + (None,) * (loss.ndim - 1)
        start = self.start[aside]
        spent = loss * 10.0 ** -self.pace[aside]
        if self.misfit.curve == "logistic":  # with the standard deviation of the normal curve
            left = np.clip(start - spent, -300.0, 300.0)
            return 1.0 / (1.0 + np.exp(-math.pi / math.sqrt(3.0) * left))
        if self.misfit.curve == "Weibull":
            # Deaths with the same mean and spread: a coefficient of variation of 1 / start.
            middle = np.maximum(start, 0.3)
            shape = middle**1.086
            mean = np.vectorize(math.gamma)(1.0 + 1.0 / shape)
            first = np.asarray(share_from_deviate(start))
            return np.asarray(first * np.exp(-((np.maximum(spent, 0.0) * mean / middle) ** shape)))
        return np.asarray(share_from_deviate(start - spent))

    def germinating_on(self, years_on: float) -> "Array":
        """Give the true percentage that germinates at once some years from the day of the forecast."""
        since = self.aged.at_day - self.aged.at_last_test + self.aged.per_day * 365.25 * years_on
        return 100.0 * self.ready * self.alive(self.aged.at_last_test + since * 10.0**-self.stray)


def draw_lots(
    random: np.random.Generator, count: int, misfit: Misfit, *, least_tests: int = 0, last_today: bool = False
) -> Drawn:
    """Draw lots by the forecast's own rules, then break the rules that the misfit names.

    With `last_today` every lot lies in one place and has its last test on the day of the forecast.
    """
    crops = tuple(one for one in all_crops() if one.seed_behaviour == "orthodox")
    if last_today:  # the bare equation, one of the rivals, needs constants
        crops = tuple(one for one in crops if crop_prior(one).sets)
    columns = prior_columns(tuple(crop_prior(one) for one in crops))
    crop_of = random.integers(0, len(crops), count)
    years = random.uniform(0.5, _LONGEST_YEARS, count)
    began = np.floor(_ON_DAY - 365.25 * years)
    told, true = _stays(random, began, columns, crop_of, misfit, one_place=last_today)
    tests = random.integers(least_tests, _MOST_TESTS + 1, count)
    days = np.floor(began[:, None] + (_ON_DAY - began)[:, None] * random.random((count, _MOST_TESTS)))
    if last_today:
        days[:, 0] = _ON_DAY
    days = np.sort(np.where(np.arange(_MOST_TESTS) < tests[:, None], days, np.inf), axis=1)
    aged = ageing(told, began, days, _ON_DAY, columns, crop_of)
    truly = ageing(true, began, days, _ON_DAY, columns, crop_of)
    tail = random.standard_t(figure("rate_tail_freedom"), count)
    stray = np.hypot(np.where(tests > 0, figure("shape_sd"), 0.0), aged.unseen_sd) * random.normal(size=count)
    drawn = Drawn(
        lots=_untested(crops, crop_of, began, told, days),
        start=_starts(random, columns.start_mean[crop_of], columns.start_sd[crop_of]),
        pace=aged.pace_sd * tail + misfit.pace_off * random.choice([-1.0, 1.0], count),
        stray=stray,
        ready=random.uniform(0.3, 1.0, count) if misfit.hard_seed else np.ones(count),
        aged=truly,
        misfit=misfit,
    )
    return replace(drawn, lots=replace(drawn.lots, tests=_counted(random, drawn, days)))


def _starts(random: np.random.Generator, mean: "Array", sd: "Array") -> "Array":
    poor = random.random(len(mean)) < figure("poor_share")
    weak = mean + figure("poor_shift") + figure("poor_sd") * random.normal(size=len(mean))
    return np.where(poor, weak, mean + sd * random.normal(size=len(mean)))


def _stays(
    random: np.random.Generator,
    began: "Array",
    columns: PriorColumns,
    crop_of: "Whole",
    misfit: Misfit,
    *,
    one_place: bool,
) -> tuple[StayColumns, StayColumns]:
    """Draw one or two stays a lot: as told to the keeper's catalogue, and as they truly were."""
    count = len(began)
    shape = (count, 2)
    moves = (random.random(count) < 0.5) & (not one_place)
    moved = np.where(moves, np.floor(began + (_ON_DAY - began) * random.random(count)), np.inf)
    humidity = random.uniform(25.0, 60.0, shape)
    oil = np.broadcast_to(columns.oil_percent_db[crop_of][:, None], shape)
    balanced = np.asarray(equilibrium_moisture(humidity, np.full(shape, 20.0), oil).percent_wb)
    read = random.random(shape)
    is_read = (read < 0.5) | one_place | (misfit.moisture_off > 0)
    in_air = (read < 0.8) & ~is_read
    told = StayColumns(
        began_day=np.stack([began, moved], axis=1),
        ended_day=np.stack([moved, np.full(count, np.inf)], axis=1),
        storage_c=random.choice(_WARMTH, shape),
        moisture_percent_wb=np.where(is_read, balanced, np.nan),
        humidity_percent=np.where(in_air, humidity, np.nan),
        airtight=is_read,
        came_day=np.stack([began, moved], axis=1),
    )
    if not misfit.moisture_off:
        return told, told
    lowest = columns.lower_limit_percent_wb[crop_of][:, None]
    off = balanced + misfit.moisture_off * random.choice([-1.0, 1.0], shape)
    return told, replace(told, moisture_percent_wb=np.clip(off, lowest, _MOIST))


def _untested(
    crops: tuple[Crop, ...], crop_of: "Whole", began: "Array", stays: StayColumns, days: "Array"
) -> ForecastInput:
    nothing = np.zeros(days.shape, dtype=np.int64)
    columns = CountColumns(days, nothing, nothing, nothing - 1, nothing - 1, np.zeros(days.shape))
    bars = np.full(len(crop_of), np.nan)
    return ForecastInput(crops, crop_of, began, stays, columns, bars, np.zeros(len(crop_of), dtype=np.bool_))


def _counted(random: np.random.Generator, drawn: Drawn, days: "Array") -> CountColumns:
    """Draw the dishes of every test: tests scatter as the forecast believes, dishes as the misfit says."""
    share = np.clip(drawn.alive(drawn.aged.at_tests), 1e-9, 1.0 - 1e-9)
    share = _clumped(random, share, figure("clumping"))
    dishes = np.repeat(share[..., None], DISHES, axis=-1)
    if drawn.misfit.dish_clumping:
        dishes = _clumped(random, dishes, drawn.misfit.dish_clumping)
    sown = np.where(np.isfinite(days), random.choice(_SEEDS_A_DISH, days.shape), 0)[..., None]
    alive = random.binomial(np.broadcast_to(sown, dishes.shape), dishes)
    normal = random.binomial(alive, np.broadcast_to(drawn.ready[:, None, None], alive.shape))
    if drawn.misfit.hard_seed:
        hard, fresh = (alive - normal).sum(axis=-1), np.zeros(days.shape, dtype=np.int64)
    else:
        normal, hard = alive, np.full(days.shape, NOT_COUNTED)
        fresh = hard
    scatter = np.zeros(days.shape)
    for place in zip(*np.nonzero(sown[..., 0]), strict=True):
        counts = germination_counts(int(sown[place][0]), [int(one) for one in normal[place]])
        scatter[place] = dish_scatter(counts)
    return CountColumns(days, sown[..., 0] * DISHES, normal.sum(axis=-1), hard, fresh, scatter)


def _clumped(random: np.random.Generator, share: "Array", clumping: float) -> "Array":
    strength = (1.0 - clumping) / clumping
    kept = np.clip(share, 1e-9, 1.0 - 1e-9)
    return np.clip(random.beta(kept * strength, (1.0 - kept) * strength), 1e-9, 1.0 - 1e-9)


def invent_columns(random: np.random.Generator, count: int) -> ForecastInput:
    """Invent many lots in one place each, with one to four tests whose counts are any: for measuring speed."""
    crops = tuple(one for one in all_crops() if one.seed_behaviour == "orthodox")
    columns = prior_columns(tuple(crop_prior(one) for one in crops))
    crop_of = random.integers(0, len(crops), count)
    began = np.floor(_ON_DAY - 365.25 * random.uniform(0.5, _LONGEST_YEARS, count))
    told, _ = _stays(random, began, columns, crop_of, Misfit("none"), one_place=True)
    told = StayColumns(*(getattr(told, name)[:, :1] for name in StayColumns.__slots__))
    tests = random.integers(1, _MOST_TESTS + 1, count)
    days = np.floor(began[:, None] + (_ON_DAY - began)[:, None] * random.random((count, _MOST_TESTS)))
    days = np.sort(np.where(np.arange(_MOST_TESTS) < tests[:, None], days, np.inf), axis=1)
    sown = np.where(np.isfinite(days), random.choice(_SEEDS_A_DISH, days.shape) * DISHES, 0)
    normal = random.binomial(sown, random.uniform(0.5, 1.0, (count, 1)))
    not_counted = np.full(days.shape, NOT_COUNTED)
    scatter = np.where(random.random(days.shape) < 0.3, random.uniform(0.0, 0.1, days.shape), 0.0)
    bars = np.where(random.random(count) < 0.7, random.choice([55.0, 70.0, 80.0], count), np.nan)
    counts = CountColumns(days, sown, normal, not_counted, not_counted, scatter)
    return ForecastInput(crops, crop_of, began, told, counts, bars, np.zeros(count, dtype=np.bool_))
