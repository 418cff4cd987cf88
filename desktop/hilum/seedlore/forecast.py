"""The viability forecast of a lot: what its kind, its storage and its own tests say together."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from hilum.errors import BadInput
from hilum.seedlore.forecast_input import DatedCounts, ForecastInput, LotHistory, forecast_input
from hilum.seedlore.forecast_lots import DAYS_A_YEAR, Forecasts, believed_on, forecast_many
from hilum.seedlore.forecast_words import refusal_words, why_words
from hilum.seedlore.priors import crop_prior
from hilum.seedlore.storage_history import HistoryError, Stay

__all__ = [
    "CurvePoint",
    "DatedCounts",
    "Forecast",
    "ForecastInput",
    "Forecasts",
    "HistoryError",
    "LotHistory",
    "Stay",
    "believed_on",
    "forecast",
    "forecast_each",
    "forecast_input",
    "forecast_many",
]

_YEARS_MOST = 100
_HALF_LIFE_MOST_YEARS = 1000.0


@dataclass(frozen=True, slots=True)
class CurvePoint:
    """Germination expected on a day, with its 90 % band, in percent."""

    on: date
    percent: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Forecast:
    """What is believed of a lot on a day; figures are None where there can be no forecast, and `why` says so.

    `now_percent` is germination, as likely to be too high as too low; `viability_now_percent` counts hard
    and fresh seed too. `half_life_years` counts from `on` until half of the seed is alive, as it lies now,
    0 where that has passed. `test_next_on` may have passed too: then the lot is overdue; it is
    None for a lot that is dead or nearly so.
    """

    on: date
    now_percent: float | None
    interval_90: tuple[float, float] | None
    viability_now_percent: float | None
    below_standard_chance: float | None
    standard_percent: float | None
    half_life_years: float | None
    test_next_on: date | None
    why: str
    curve: tuple[CurvePoint, ...] = ()

    @property
    def is_refused(self) -> bool:
        """Whether there can be no forecast for this lot."""
        return self.now_percent is None


def forecast(lot: LotHistory, on: date, years: int = 10) -> Forecast:
    """Forecast the germination of one lot.

    The model: Ki, the deviate at which the lot started, is normal about its crop's start, with one lot in
    ten poor; the logarithm of sigma is what the crop's constants and usual storage life say for each
    stay (`crop_prior`), plus one figure for the lot with long tails; losses of stays add. Counts of living
    seed (normal, hard and fresh) are beta-binomial, their clumping from published retests and wider
    where the dishes of a test scatter. Sigma is a power of ten, so it is never below nought: a lot that
    has not declined is believed to live long, not for ever. Germination is viability times the share of
    living seed that germinated at once in the lot's tests. After the last test the pace of ageing may
    stray, more so in a store where the lot was never tested.

    Parameters
    ----------
    lot : LotHistory
    on : date
        The day for which it is asked; tests and stays after it are not heard.
    years : int
        How many years the curve runs from then, 0 to 100.

    Returns
    -------
    Forecast

    Raises
    ------
    HistoryError
        Stays overlap, or a test lies before the lot was there.
    BadInput
        `years` is out of range.

    Source
    ------
    Ellis & Roberts 1980, Ann. Bot. 45, 13-30 (equation); Hay, Mead & Bloomberg 2014, Seed Sci. Res. 24, 165-186
    (binomial counts on the probit scale); FAO 2014, Genebank Standards, 4.3.3 (from memory) and Hanson 1985
    (test intervals). The priors and how they are joined are our own, each figure in forecast_figures.csv.

    Examples
    --------
    >>> from hilum.seedlore.counts import germination_counts
    >>> from hilum.seedlore.crops import crop
    >>> lot = LotHistory(
    ...     crop("lettuce"), date(2023, 9, 1),
    ...     stays=(Stay(date(2023, 9, 20), storage_c=5, moisture_percent_wb=6, airtight=True),),
    ...     tests=(DatedCounts(date(2024, 1, 10), germination_counts(50, [47, 46])),),
    ... )
    >>> found = forecast(lot, date(2026, 1, 10), years=2)
    >>> found.interval_90[0] < found.now_percent < found.interval_90[1]
    True
    >>> [point.on.year for point in found.curve]
    [2026, 2027, 2028]
    """
    if not 0 <= years <= _YEARS_MOST:
        raise BadInput(f"A curve of {years} years cannot be drawn. Give 0 to {_YEARS_MOST}.")
    return forecast_each([lot], on, years)[0]


def forecast_each(lots: Sequence[LotHistory], on: date, years: int | None = None) -> tuple[Forecast, ...]:
    """Forecast each of several lots, with its sentence.

    Parameters
    ----------
    lots : sequence of LotHistory
    on : date
    years : int or None
        How many years the curves run; None for no curves.

    Returns
    -------
    tuple of Forecast
        In the order of `lots`.

    Raises
    ------
    HistoryError
        As `forecast`.

    Source
    ------
    As `forecast`.

    Examples
    --------
    >>> from hilum.seedlore.crops import crop
    >>> [found] = forecast_each([LotHistory(crop("chayote"), date(2025, 9, 1))], date(2026, 1, 1))
    >>> found.is_refused, found.why
    (True, 'No forecast: this seed cannot be dried and kept (recalcitrant); sow it fresh.')
    """
    if not lots:
        return ()
    found = forecast_many(forecast_input(lots, on), on, years)
    return tuple(_one(lot, found, row, on) for row, lot in enumerate(lots))


def _one(lot: LotHistory, found: Forecasts, row: int, on: date) -> Forecast:
    prior = crop_prior(lot.crop)
    bar = lot.standard.percent if lot.standard else None
    if found.refusal[row]:
        words = refusal_words(int(found.refusal[row]), prior)
        return Forecast(on, None, None, None, None, bar, None, None, words)
    heard = LotHistory(
        lot.crop, lot.stored_from, lot.stays, tuple(one for one in lot.tests if one.on <= on), lot.standard
    )
    why = why_words(
        heard,
        prior,
        tests_heard=len(heard.tests),
        pace=float(found.pace[row]),
        pace_sd=float(found.pace_sd[row]),
        moisture_assumed_share=float(found.moisture_assumed_share[row]),
        warmth_assumed_share=float(found.warmth_assumed_share[row]),
        is_below_coldest=bool(found.is_below_coldest[row]),
        ready_share=float(found.ready_share[row]),
    )
    next_day = float(found.test_next_day[row])
    return Forecast(
        on=on,
        now_percent=float(found.now_percent[row]),
        interval_90=(float(found.low_percent[row]), float(found.high_percent[row])),
        viability_now_percent=float(found.viability_now_percent[row]),
        below_standard_chance=None if bar is None else float(found.below_standard_chance[row]),
        standard_percent=bar,
        half_life_years=min(float(found.half_life_years[row]), _HALF_LIFE_MOST_YEARS),
        test_next_on=None if math.isnan(next_day) else date.fromordinal(int(next_day)),
        why=why,
        curve=_curve(found, row, on),
    )


def _curve(found: Forecasts, row: int, on: date) -> tuple[CurvePoint, ...]:
    return tuple(
        CurvePoint(
            on + timedelta(days=round(year * DAYS_A_YEAR)),
            float(found.curve_percent[year, row]),
            float(found.curve_low_percent[year, row]),
            float(found.curve_high_percent[year, row]),
        )
        for year in range(found.curve_percent.shape[0])
    )
