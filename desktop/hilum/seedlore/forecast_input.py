"""What the forecast asks of a lot: its crop, its storage and its tests, for one lot or laid out for many."""

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from hilum.seedlore.counts import GerminationCounts
from hilum.seedlore.crop_records import Crop
from hilum.seedlore.forecast_figures import figure
from hilum.seedlore.standards import Standard
from hilum.seedlore.storage_history import HistoryError, Stay, StayColumns

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from hilum.seedlore.arrays import Array

    Whole = NDArray[np.int64]
    Flags = NDArray[np.bool_]

NOT_COUNTED = -1


@dataclass(frozen=True, slots=True)
class DatedCounts:
    """The final counts of a germination test, with the day to which they belong."""

    on: date
    counts: GerminationCounts


@dataclass(frozen=True, slots=True)
class LotHistory:
    """One lot as the forecast sees it.

    `stored_from` is when its ageing began: the day of harvest, or the first thing known after it. Time
    before the first stay and between stays is counted as a room. `standard` is the bar for the chance of
    being below standard; None where there is none.
    """

    crop: Crop
    stored_from: date
    stays: tuple[Stay, ...] = ()
    tests: tuple[DatedCounts, ...] = ()
    standard: Standard | None = None


@dataclass(frozen=True, slots=True)
class CountColumns:
    """Tests of many lots, one row a lot; where a lot has fewer, `sown` is 0 and `on_day` infinite.

    Hard and fresh seed is `NOT_COUNTED` where it was not counted. `scatter` is the correlation of seeds
    within a dish that the dishes of a test show beyond what chance allows, 0 where they show none.
    """

    on_day: "Array"
    sown: "Whole"
    normal: "Whole"
    hard: "Whole"
    fresh: "Whole"
    scatter: "Array"


@dataclass(frozen=True, slots=True)
class ForecastInput:
    """Many lots, laid out as arrays: `crop_of` points into `crops`, days count as `date.toordinal` does."""

    crops: tuple[Crop, ...]
    crop_of: "Whole"
    stored_from_day: "Array"
    stays: StayColumns
    tests: CountColumns
    standard_percent: "Array"
    standard_counts_hard: "Flags"

    def __len__(self) -> int:
        return len(self.crop_of)

    def part(self, part: slice) -> "ForecastInput":
        """Give some of the lots."""
        return ForecastInput(
            self.crops,
            self.crop_of[part],
            self.stored_from_day[part],
            StayColumns(*(getattr(self.stays, name)[part] for name in StayColumns.__slots__)),
            CountColumns(*(getattr(self.tests, name)[part] for name in CountColumns.__slots__)),
            self.standard_percent[part],
            self.standard_counts_hard[part],
        )


def dish_scatter(counts: GerminationCounts) -> float:
    """Give how much more alike seeds of one dish are than chance allows, from how far the dishes scatter.

    Parameters
    ----------
    counts : GerminationCounts

    Returns
    -------
    float
        A correlation, 0 up to below 1; 0 for one dish, or for dishes that agree within one standard error of
        what chance does. It is drawn towards 0 where there are few dishes: four of them count for half.

    Source
    ------
    Pearson's chi-squared over its degrees of freedom is 1 + (n - 1) correlation: J. G. Skellam (1948), J. R. Stat.
    Soc. B 10, 257-261. Drawing it in: our own choice.

    Examples
    --------
    >>> from hilum.seedlore.counts import germination_counts
    >>> dish_scatter(germination_counts(50, [45, 46, 44, 45]))
    0.0
    >>> round(dish_scatter(germination_counts(50, [49, 30, 45, 48])), 2)
    0.11
    """
    dishes = len(counts.sown)
    # Half a seed is added to each side so that dishes without a loss do not divide by nought.
    share = (counts.germinated + 0.5) / (counts.seeds + 1.0)
    squares = sum(
        (normal - sown * share) ** 2 / (sown * share * (1 - share))
        for normal, sown in zip(counts.normal, counts.sown, strict=True)
    )
    seeds = counts.seeds / dishes
    if dishes < 2 or seeds <= 1:
        return 0.0
    # One standard error of chi-squared over its degrees of freedom is let pass as chance.
    chance = 1.0 + math.sqrt(2.0 / (dishes - 1))
    shown = max(0.0, squares / (dishes - 1) - chance) / (seeds - 1.0)
    trusted = (dishes - 1) / (dishes - 1 + figure("scatter_trust"))
    return min(0.9, shown * trusted)


def forecast_input(lots: Sequence[LotHistory], on: date) -> ForecastInput:
    """Lay lots out as arrays; what lies after the day of the forecast is not heard.

    Parameters
    ----------
    lots : sequence of LotHistory
    on : date
        The day of the forecast.

    Returns
    -------
    ForecastInput

    Raises
    ------
    HistoryError
        Stays of one lot overlap, or a test lies before the lot was there.

    Source
    ------
    Not needed: nothing is reckoned.

    Examples
    --------
    >>> from hilum.seedlore.crops import crop
    >>> laid = forecast_input([LotHistory(crop("pea"), date(2024, 9, 1))], date(2026, 1, 1))
    >>> len(laid), laid.tests.sown.shape
    (1, (1, 0))
    """
    import numpy as np

    crops = tuple({lot.crop.key: lot.crop for lot in lots}.values())
    row = {one.key: place for place, one in enumerate(crops)}
    for lot in lots:
        _check(lot)
    heard = [sorted((one for one in lot.tests if one.on <= on), key=lambda one: one.on) for lot in lots]
    bars = [lot.standard for lot in lots]
    return ForecastInput(
        crops=crops,
        crop_of=np.array([row[lot.crop.key] for lot in lots], dtype=np.int64),
        stored_from_day=np.array([float(lot.stored_from.toordinal()) for lot in lots]),
        stays=_stay_columns([[s for s in lot.stays if s.from_on <= on] for lot in lots]),
        tests=_count_columns(heard),
        standard_percent=np.array([np.nan if bar is None else bar.percent for bar in bars], dtype=np.float64),
        standard_counts_hard=np.array([bar is not None and bar.counts_hard_seed for bar in bars], dtype=np.bool_),
    )  # fmt: skip


def _check(lot: LotHistory) -> None:
    ordered = sorted(lot.stays, key=lambda stay: stay.from_on)
    for first, then in itertools.pairwise(ordered):
        if first.until_on is None or first.until_on > then.from_on:
            raise HistoryError(
                f"The stay that begins on {first.from_on} still lasts when another begins on {then.from_on}. "
                "A lot lies in one place at a time: end the first stay."
            )
    for one in lot.tests:
        if one.on < lot.stored_from:
            raise HistoryError(
                f"A test of {one.on} lies before {lot.stored_from}, from when the lot is stored. Correct one "
                "of the two."
            )


def _stay_columns(stays: list[list[Stay]]) -> StayColumns:
    import numpy as np

    shape = (len(stays), max((len(one) for one in stays), default=0))
    began, ended, came = (np.full(shape, np.inf) for _ in range(3))
    warmth, moisture, humidity = (np.full(shape, np.nan) for _ in range(3))
    airtight = np.zeros(shape, dtype=np.bool_)

    def known(figure_or_none: float | None) -> float:
        return np.nan if figure_or_none is None else figure_or_none

    for row, ours in enumerate(stays):
        for column, stay in enumerate(sorted(ours, key=lambda one: one.from_on)):
            place = row, column
            began[place] = stay.from_on.toordinal()
            ended[place] = np.inf if stay.until_on is None else stay.until_on.toordinal()
            warmth[place], moisture[place] = known(stay.storage_c), known(stay.moisture_percent_wb)
            humidity[place], airtight[place] = known(stay.humidity_percent), bool(stay.airtight)
            came[place] = (stay.lain_from or stay.from_on).toordinal()
    return StayColumns(began, ended, warmth, moisture, humidity, airtight, came)


def _count_columns(tests: list[list[DatedCounts]]) -> CountColumns:
    import numpy as np

    shape = (len(tests), max((len(one) for one in tests), default=0))
    on_day, scatter = np.full(shape, np.inf), np.zeros(shape)
    sown, normal, hard, fresh = (np.zeros(shape, dtype=np.int64) for _ in range(4))
    hard[:], fresh[:] = NOT_COUNTED, NOT_COUNTED
    for row, ours in enumerate(tests):
        for column, test in enumerate(ours):
            place = row, column
            on_day[place], sown[place] = test.on.toordinal(), test.counts.seeds
            normal[place], scatter[place] = test.counts.germinated, dish_scatter(test.counts)
            for name, to in (("hard", hard), ("fresh", fresh)):
                total = test.counts.total(name)
                to[place] = NOT_COUNTED if total is None else total
    return CountColumns(on_day, sown, normal, hard, fresh, scatter)
