"""Where lots have lain and what it cost them: stays by dates, the air or moisture of each, and the ageing."""

from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from hilum.errors import BadInput
from hilum.seedlore.equilibrium import equilibrium_moisture
from hilum.seedlore.forecast_figures import figure
from hilum.seedlore.priors import CropPrior, features
from hilum.seedlore.tables import rule

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from hilum.seedlore.arrays import Array

    Whole = NDArray[np.int64]
    Flags = NDArray[np.bool_]

MEASURED, FROM_AIR, ASSUMED = 0, 1, 2
# Why there is no forecast, by code; 0 is none of these.
REFUSALS = ("", "recalcitrant", "intermediate", "too dry", "too moist", "too hot")
_ALWAYS = 1e7  # a day far beyond any date, for a stay that has not ended


class HistoryError(BadInput):
    """Dates or readings of a lot's storage that cannot be."""


@dataclass(frozen=True, slots=True)
class Stay:
    """A time a lot spent in one place; what is not known is None and will be assumed, and said.

    `humidity_percent` is of the air the seed itself lies in: the room's for a paper packet, the jar's own
    for a closed jar. `moisture_percent_wb` is a reading of the seed taken in this stay, or before it was
    sealed airtight. `until_on` is None while the lot still lies there. `lain_from` is since when it has lain in
    this store, where that is before `from_on`: a stay is told in parts when readings say that its air changed.
    """

    from_on: date
    until_on: date | None = None
    storage_c: float | None = None
    moisture_percent_wb: float | None = None
    humidity_percent: float | None = None
    airtight: bool | None = None
    lain_from: date | None = None

    def __post_init__(self) -> None:
        if self.until_on is not None and self.until_on < self.from_on:
            raise HistoryError(
                f"A stay cannot end on {self.until_on} before it begins on {self.from_on}. Correct one of the two."
            )
        for percent, what in ((self.moisture_percent_wb, "moisture"), (self.humidity_percent, "humidity")):
            if percent is not None and not 0 < percent < 100:
                raise HistoryError(
                    f"A {what} of {percent:g} % cannot be. Give more than 0 and less than 100 %."
                )
        if self.storage_c is not None and not -273 < self.storage_c < 100:
            raise HistoryError(f"A storage temperature of {self.storage_c:g} °C cannot be. Correct it.")


@dataclass(frozen=True, slots=True)
class StayColumns:
    """Stays of many lots, one row a lot, in the order of their dates; a column that is not needed begins never.

    Days are counted as `date.toordinal` counts them; what is not known is NaN. A stay that has not
    ended ends at infinity. `came_day` is since when the lot has lain in the store of a stay.
    """

    began_day: "Array"
    ended_day: "Array"
    storage_c: "Array"
    moisture_percent_wb: "Array"
    humidity_percent: "Array"
    airtight: "Flags"
    came_day: "Array"


@dataclass(frozen=True, slots=True)
class PriorColumns:
    """What is believed of crops, one row a crop, for lots that point at it."""

    start_mean: "Array"
    start_sd: "Array"
    coefficients: "Array"
    covariance: "Array"
    oil_percent_db: "Array"
    lower_limit_percent_wb: "Array"
    behaviour: "Whole"


@dataclass(frozen=True, slots=True)
class Ageing:
    """What the storage of each lot costs it, in deviates at the pace its crop is believed to age.

    `at_tests` and `at_last_test` are the loss until then, `at_day` until the day asked for, `per_day` what
    a day costs from then on. `pace_sd` is how unsure the common logarithm of all that is for the lot as
    a whole, `unseen_sd` how much more for a store in which it was never tested. `refusal` points into
    `REFUSALS`. The shares say how much of the loss rests on what was assumed.
    """

    at_tests: "Array"
    at_last_test: "Array"
    at_day: "Array"
    per_day: "Array"
    pace_sd: "Array"
    unseen_sd: "Array"
    refusal: "Whole"
    moisture_assumed_share: "Array"
    warmth_assumed_share: "Array"
    is_below_coldest: "Flags"


def prior_columns(priors: tuple[CropPrior, ...]) -> PriorColumns:
    """Lay out what is believed of crops as arrays.

    Parameters
    ----------
    priors : tuple of CropPrior

    Returns
    -------
    PriorColumns
        One row for each, in the same order.

    Source
    ------
    As each prior says.

    Examples
    --------
    >>> from hilum.seedlore.crops import crop
    >>> from hilum.seedlore.priors import crop_prior
    >>> prior_columns((crop_prior(crop("pea")),)).lower_limit_percent_wb
    array([6.2])
    """
    import numpy as np

    return PriorColumns(
        start_mean=np.array([one.start_mean for one in priors]),
        start_sd=np.array([one.start_sd for one in priors]),
        coefficients=np.array([one.coefficients for one in priors]).reshape(-1, 4),
        covariance=np.array([one.covariance for one in priors]).reshape(-1, 4, 4),
        oil_percent_db=np.array([one.oil_percent_db for one in priors]),
        lower_limit_percent_wb=np.array([one.lower_limit_percent_wb for one in priors]),
        behaviour=np.array([max(0, _behaviour_code(one.seed_behaviour)) for one in priors], dtype=np.int64),
    )


def _behaviour_code(behaviour: str) -> int:
    return REFUSALS.index(behaviour) if behaviour in REFUSALS else 0


@dataclass(frozen=True, slots=True)
class _Conditions:
    """Every stretch of time of every lot, known stays and the gaps between them, with how it is counted."""

    began: "Array"
    ended: "Array"
    came: "Array"
    warmth: "Array"
    moisture: "Array"
    moisture_log_sd: "Array"
    warmth_sd: "Array"
    moisture_kind: "Whole"
    warmth_is_assumed: "Flags"


def ageing(
    stays: StayColumns,
    stored_from_day: "Array",
    test_days: "Array",
    on_day: float,
    priors: PriorColumns,
    crop_of: "Whole",
) -> Ageing:
    """Reckon what their storage has cost lots, at the pace their crops are believed to age.

    The losses of all stays add, so 1 / sigma is averaged over time, never the temperature. Time that no
    stay covers is counted as a room. Moisture is the reading, else that in balance with the humidity
    of the air around the seed by its oil content, else that of seed from a room; the last widens the
    spread. Below -20 °C counts as -20 °C.

    Parameters
    ----------
    stays : StayColumns
        Arrays of shape (lots, stays).
    stored_from_day : ndarray of float, shape (lots,)
        When ageing began: harvest, or what is known to come next.
    test_days : ndarray of float, shape (lots, tests)
        Infinity where there is none.
    on_day : float
        The day for which the forecast is made.
    priors : PriorColumns
    crop_of : ndarray of int, shape (lots,)
        Row of each lot's crop in `priors`.

    Returns
    -------
    Ageing

    Source
    ------
    Sum of days over sigma: follows from Ellis & Roberts 1980, Ann. Bot. 45, 13-30. Equilibrium: Cromarty, Ellis &
    Roberts 1982. Spreads: our own, forecast_figures.csv.

    Examples
    --------
    >>> import numpy as np
    >>> from hilum.seedlore.crops import crop
    >>> from hilum.seedlore.priors import crop_prior
    >>> believed = prior_columns((crop_prior(crop("pea")),))
    >>> known = (np.array([[one]]) for one in (0.0, np.inf, 5.0, 8.0, np.nan))
    >>> stay = StayColumns(*known, np.array([[True]]), np.zeros((1, 1)))
    >>> found = ageing(stay, np.zeros(1), np.full((1, 1), np.inf), 365.0, believed, np.zeros(1, int))
    >>> bool(np.isclose(found.at_day[0], 365 * found.per_day[0]))
    True
    """
    import numpy as np

    counted = _conditions(stays, stored_from_day, priors.oil_percent_db[crop_of])
    log_sigma, variance = _pace(counted, priors.coefficients[crop_of], priors.covariance[crop_of])
    cost = 10.0**-log_sigma

    def lost_until(day: "Array") -> "Array":
        spent = np.clip(np.minimum(counted.ended, day[:, np.newaxis]) - counted.began, 0.0, None)
        lost: Array = spent * cost
        return lost

    on = np.full(len(crop_of), float(on_day))
    is_test = np.isfinite(test_days)
    last = np.where(is_test, test_days, -np.inf).max(axis=1, initial=-np.inf)
    heard = np.where(np.isfinite(last), last, on)
    until_heard = lost_until(heard)
    now = np.argmax((counted.began <= on_day) & (on_day < counted.ended), axis=1)
    row = np.arange(len(now))
    weights = until_heard + 1e-12
    alone = until_heard.sum(axis=1) <= 0  # nothing stored yet: the store it goes into speaks
    weights[alone, :] = 0.0
    weights[row[alone], now[alone]] = 1.0
    pace_variance = (weights * variance).sum(axis=1) / weights.sum(axis=1)
    at_tests = np.stack(
        [lost_until(np.where(is_test[:, k], test_days[:, k], 0.0)).sum(axis=1) for k in range(test_days.shape[1])],
        axis=1,
    ) if test_days.shape[1] else np.zeros((len(on), 0))  # fmt: skip
    is_unseen = np.isfinite(last) & (counted.came[row, now] >= last)
    own = (counted.moisture_log_sd * priors.coefficients[crop_of, 1][:, np.newaxis]) ** 2
    unseen = np.sqrt(figure("unseen_sd") ** 2 + own[row, now])
    until_now = lost_until(on)
    total = np.maximum(until_now.sum(axis=1), 1e-12)
    is_cold = (counted.warmth < rule("longevity_c_lowest").value) & (until_now > 0)
    return Ageing(
        at_tests=at_tests,
        at_last_test=np.where(np.isfinite(last), until_heard.sum(axis=1), 0.0),
        at_day=until_now.sum(axis=1),
        per_day=cost[row, now],
        pace_sd=np.sqrt(pace_variance + figure("lot_sd") ** 2),
        unseen_sd=np.where(is_unseen, unseen, 0.0),
        refusal=_refusal(counted, until_now > 0, now, priors, crop_of),
        moisture_assumed_share=(until_now * (counted.moisture_kind == ASSUMED)).sum(axis=1) / total,
        warmth_assumed_share=(until_now * counted.warmth_is_assumed).sum(axis=1) / total,
        is_below_coldest=np.asarray(is_cold.any(axis=1)),
    )


def _conditions(stays: StayColumns, stored_from_day: "Array", oil_percent_db: "Array") -> _Conditions:
    """Put the gaps between the stays, and say for every stretch how warm and how moist it counts."""
    import numpy as np

    lots, count = stays.began_day.shape
    began = np.full((lots, 2 * count + 1), np.inf)
    ended = np.full((lots, 2 * count + 1), np.inf)
    unknown = np.full((lots, 2 * count + 1), np.nan)
    warmth, moisture, humidity = unknown.copy(), unknown.copy(), unknown
    airtight = np.zeros((lots, 2 * count + 1), dtype=np.bool_)
    reached = np.array(stored_from_day, dtype=np.float64)
    for k in range(count):
        starts = np.maximum(stays.began_day[:, k], reached)
        began[:, 2 * k], ended[:, 2 * k] = reached, np.where(np.isfinite(starts), starts, reached)
        began[:, 2 * k + 1] = starts
        ended[:, 2 * k + 1] = np.maximum(stays.ended_day[:, k], starts)
        reached = np.where(np.isfinite(starts), ended[:, 2 * k + 1], reached)
    began[:, 2 * count] = reached
    came = began.copy()
    came[:, 1::2] = np.minimum(began[:, 1::2], stays.came_day)
    warmth[:, 1::2], moisture[:, 1::2] = stays.storage_c, stays.moisture_percent_wb
    humidity[:, 1::2], airtight[:, 1::2] = stays.humidity_percent, stays.airtight
    warmth_is_assumed = np.isnan(warmth)
    warmth = np.where(warmth_is_assumed, figure("assumed_c"), warmth)
    kind = np.where(~np.isnan(moisture), MEASURED, np.where(~np.isnan(humidity), FROM_AIR, ASSUMED))
    air = np.where(kind == ASSUMED, figure("assumed_humidity_percent"), np.nan_to_num(humidity, nan=50.0))
    in_air = np.where(kind == ASSUMED, figure("assumed_c"), warmth)
    oil = np.broadcast_to(oil_percent_db[:, np.newaxis], air.shape)
    sds = np.array([figure(f"{name}_moisture_log_sd") for name in ("measured", "air", "assumed")])
    open_air = np.where((kind == ASSUMED) & ~airtight, figure("open_assumed_factor"), 1.0)
    return _Conditions(
        began=np.where(np.isfinite(began), began, _ALWAYS),
        ended=np.where(np.isfinite(ended), ended, _ALWAYS),
        came=np.where(np.isfinite(came), came, _ALWAYS),
        warmth=warmth,
        moisture=np.where(kind == MEASURED, moisture, _balanced(air, in_air, oil)),
        moisture_log_sd=sds[kind] * open_air,
        warmth_sd=np.where(warmth_is_assumed, figure("assumed_temperature_sd_c"), figure("known_temperature_sd_c")),
        moisture_kind=kind,
        warmth_is_assumed=warmth_is_assumed,
    )  # fmt: skip


def _balanced(humidity: "Array", warmth: "Array", oil_percent_db: "Array") -> "Array":
    """Give the moisture in balance with air, its warmth kept in the range the equation is recommended for."""
    import numpy as np

    oily = oil_percent_db >= rule("oily_seed_percent_db").value
    coldest = np.where(oily, rule("equilibrium_c_lowest_oily").value, rule("equilibrium_c_lowest").value)
    warmest = np.where(oily, rule("equilibrium_c_highest_oily").value, rule("equilibrium_c_highest").value)
    found = equilibrium_moisture(humidity, np.clip(warmth, coldest, warmest), oil_percent_db)
    return np.asarray(found.percent_wb)


def _pace(counted: _Conditions, coefficients: "Array", covariance: "Array") -> "tuple[Array, Array]":
    """Give the believed logarithm of sigma in days for every stretch, and its variance."""
    import numpy as np

    warmth = np.maximum(counted.warmth, rule("longevity_c_lowest").value)
    x = features(counted.moisture, warmth)
    log_sigma = np.zeros_like(warmth)
    variance = np.zeros_like(warmth)
    for i in range(4):
        log_sigma += coefficients[:, i, np.newaxis] * x[i]
        for j in range(4):
            variance += covariance[:, i, j, np.newaxis] * x[i] * x[j]
    beyond = np.maximum(log_sigma - figure("long_life_log_days"), 0.0)
    log_sigma -= figure("long_life_discount") * beyond
    variance += (figure("long_life_sd") * beyond) ** 2
    variance += (coefficients[:, 1, np.newaxis] * counted.moisture_log_sd) ** 2
    by_warmth = coefficients[:, 2, np.newaxis] + 2.0 * coefficients[:, 3, np.newaxis] * warmth
    variance += (by_warmth * counted.warmth_sd) ** 2
    return log_sigma, variance


def _refusal(
    counted: _Conditions, has_lain: "Flags", now: "Whole", priors: PriorColumns, crop_of: "Whole"
) -> "Whole":
    """Say for each lot why there can be no forecast, 0 where there can be one."""
    import numpy as np

    lain = has_lain.copy()
    lain[np.arange(len(now)), now] = True
    dry = (counted.moisture < priors.lower_limit_percent_wb[crop_of][:, np.newaxis] - 1e-9) & lain
    moist = (counted.moisture > rule("forecast_moisture_highest_percent_wb").value) & lain
    hot = (counted.warmth > rule("longevity_c_highest").value) & lain
    found = np.array(priors.behaviour[crop_of], dtype=np.int64)
    for code, wrong in (("too dry", dry), ("too moist", moist), ("too hot", hot)):
        found = np.where((found == 0) & wrong.any(axis=1), REFUSALS.index(code), found)
    return found
