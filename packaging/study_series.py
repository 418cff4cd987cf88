"""The published survival series that exist in our tables, and how well their last tests are forecast.

Few and small, and no proof: one series of soybean over fifteen years with the seeds counted, and lots of five
vegetables in six climates each, open to the air, over 110 and 250 days, printed as percentages without the
number of seeds, which is assumed here.
"""

import csv
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path

import numpy as np

from hilum.seedlore.counts import germination_counts
from hilum.seedlore.crops import crop
from hilum.seedlore.equilibrium import equilibrium_moisture
from hilum.seedlore.forecast_figures import figure
from hilum.seedlore.forecast_input import DatedCounts, LotHistory, forecast_input
from hilum.seedlore.forecast_lots import believed_on, forecast_many
from hilum.seedlore.forecast_outlook import log_chance_of_counts
from hilum.seedlore.priors import crop_prior
from hilum.seedlore.storage_history import Stay
from study_rivals import bare_equation, bare_sigma_days, carried_forward

_FILE = Path(__file__).parent.parent / "tests" / "data" / "forecast_survival_series.csv"
_BEGAN = date(2000, 1, 1)


@dataclass(frozen=True, slots=True)
class Series:
    """One lot in one climate: counts by day; `is_counted` tells counted seeds from a printed percentage."""

    name: str
    crop: str
    storage_c: float
    humidity_percent: float | None
    moisture_percent_wb: float | None
    tests: tuple[tuple[int, int, int], ...]
    is_counted: bool
    source: str

    def lot(self, tests: int) -> LotHistory:
        """Give the lot as the forecast sees it, with its first tests only."""
        stay = Stay(
            _BEGAN,
            None,
            self.storage_c,
            self.moisture_percent_wb,
            self.humidity_percent,
            airtight=self.moisture_percent_wb is not None,
        )
        counted = tuple(
            DatedCounts(_BEGAN + timedelta(days=days), germination_counts(sown, [alive]))
            for days, sown, alive in self.tests[:tests]
        )
        return LotHistory(crop(self.crop), _BEGAN, (stay,), counted)

    def sigma_days(self) -> float | None:
        """Give sigma by the bare equation, None where the crop has no constants."""
        kind = crop(self.crop)
        if not crop_prior(kind).sets:
            return None
        moisture = self.moisture_percent_wb
        if moisture is None:
            oil = crop_prior(kind).oil_percent_db
            moisture = float(
                equilibrium_moisture(self.humidity_percent or 50.0, self.storage_c, oil).percent_wb
            )
        return float(bare_sigma_days(kind, np.array(moisture), np.array(self.storage_c)))


@dataclass(frozen=True, slots=True)
class Scored:
    """The scores of one test held back; the equation's is None where there are no constants."""

    name: str
    forecast: float
    carried: float
    equation: float | None
    percent: float
    middle: float
    low: float
    high: float


def published_series(seeds_assumed: int) -> tuple[Series, ...]:
    """Read the series; a percentage printed without a number of seeds is taken for one of so many."""
    with _FILE.open(encoding="utf-8", newline="") as file:
        lines = list(csv.DictReader(file))
    found = []
    for name in dict.fromkeys(line["series"] for line in lines):
        ours = [line for line in lines if line["series"] == name]
        by_day: dict[int, tuple[int, int]] = {}
        for line in ours:
            sown = int(line["sown"] or seeds_assumed)
            share = float(line["germination_percent"] or 0) / 100
            alive = int(line["germinated"]) if line["germinated"] else round(sown * share)
            before = by_day.get(int(line["days"]), (0, 0))
            by_day[int(line["days"])] = before[0] + sown, before[1] + alive
        first = ours[0]
        found.append(
            Series(
                name=name,
                crop=first["crop"],
                storage_c=float(first["storage_c"]),
                humidity_percent=float(first["humidity_percent"]) if first["humidity_percent"] else None,
                moisture_percent_wb=float(first["moisture_percent_wb"])
                if first["moisture_percent_wb"]
                else None,
                tests=tuple((days, *counts) for days, counts in sorted(by_day.items())),
                is_counted=bool(first["sown"]),
                source=first["source"],
            )
        )
    return tuple(found)


def score_test(series: Series, place: int) -> Scored | None:
    """Forecast one test of a series from those before it; None where there is no forecast."""
    days, sown, alive = series.tests[place]
    on = _BEGAN + timedelta(days=days)
    lots = forecast_input([series.lot(place)], on)
    forecast = forecast_many(lots, on)
    if forecast.refusal[0]:
        return None
    counted = np.array([float(alive)]), np.array([float(sown)])
    ours = log_chance_of_counts(believed_on(lots, on), *counted, np.array([figure("clumping")]))
    days_before, sown_before, before = series.tests[place - 1]
    previous = np.array([float(before)]), np.array([float(sown_before)])
    sigma = series.sigma_days()
    passed = np.array([float(days - days_before)])
    bare = None if sigma is None else float(bare_equation(*previous, passed, np.array([sigma]), *counted)[0])
    return Scored(
        f"{series.name}, day {days}",
        float(ours[0]),
        float(carried_forward(*previous, *counted)[0]),
        bare,
        100.0 * alive / sown,
        float(forecast.now_percent[0]),
        float(forecast.low_percent[0]),
        float(forecast.high_percent[0]),
    )
