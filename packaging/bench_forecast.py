"""Seconds for the forecast of a library of lots, beside one bare evaluation of the equation over the same array.

Run from the root of the project: PYTHONPATH=desktop python packaging/bench_forecast.py [lots] [repeats]
"""

import statistics
import sys
import time
from collections.abc import Callable

import numpy as np

from hilum.seedlore.deviates import share_from_deviate
from hilum.seedlore.forecast_input import ForecastInput
from hilum.seedlore.forecast_lots import forecast_many
from hilum.seedlore.longevity import log_sigma
from hilum.seedlore.priors import crop_prior
from study_lots import ON, invent_columns


def bare(lots: ForecastInput) -> np.ndarray:
    """Evaluate the equation once for every lot: one set of constants, one stay, no test, no doubt."""
    constants = np.array([crop_prior(one).coefficients for one in lots.crops])[lots.crop_of]
    stays = lots.stays
    ke, cw, ch, cq = constants.T
    log = log_sigma(ke, cw, ch, cq, stays.moisture_percent_wb[:, 0], stays.storage_c[:, 0])
    days = float(ON.toordinal()) - lots.stored_from_day
    return np.asarray(share_from_deviate(1.6 - days / 10.0 ** np.asarray(log)))


def seconds(work: Callable[[], object], repeats: int) -> list[float]:
    """Time a piece of work several times."""
    found = []
    for _ in range(repeats):
        began = time.perf_counter()
        work()
        found.append(time.perf_counter() - began)
    return found


def main() -> None:
    """Print both times and their ratio."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 1_000_000
    repeats = int(sys.argv[2]) if len(sys.argv) > 2 else 3
    lots = invent_columns(np.random.default_rng(1), count)
    tests = int((lots.tests.sown > 0).sum())
    forecast = seconds(lambda: forecast_many(lots, ON), repeats)
    equation = seconds(lambda: bare(lots), repeats)
    print(
        f"{count} lots with {tests} tests, median of {repeats} (all: {', '.join(f'{s:.2f}' for s in forecast)})"
    )
    print(f"  forecast       {statistics.median(forecast):8.3f} s")
    print(f"  bare equation  {statistics.median(equation):8.3f} s")
    print(f"  ratio          {statistics.median(forecast) / statistics.median(equation):8.1f}")


if __name__ == "__main__":
    main()
