"""What is believed of a crop's seed before one lot of it is tested: how it starts and how fast it ages."""

import math
from dataclasses import dataclass
from functools import cache
from statistics import NormalDist
from typing import TYPE_CHECKING

from hilum.seedlore.conditions import lower_moisture_limit
from hilum.seedlore.constants import SOUND, ViabilityConstants, all_constants, constants_of
from hilum.seedlore.crop_records import Crop
from hilum.seedlore.equilibrium import equilibrium_moisture
from hilum.seedlore.forecast_figures import figure
from hilum.seedlore.standards import standard
from hilum.seedlore.storage_life import oil_content, usual_life
from hilum.seedlore.tables import rule

if TYPE_CHECKING:
    from hilum.seedlore.arrays import Array

_NORMAL = NormalDist()
_DAYS_A_YEAR = 365.25
# Oil, percent of dry weight, of kinds of which only is known whether they are oily: about the middle of
# each group in oil_content.csv.
_OILY_DB, _STARCHY_DB, _UNKNOWN_DB = 28.0, 3.0, 15.0


@dataclass(frozen=True, slots=True)
class CropPrior:
    """How lots of a crop start and age, with the spread of what is known.

    `coefficients` are KE, CW, CH and CQ as they are believed to hold for the crop, `covariance` (four
    by four, row by row) how unsure they are. `grounds` says in words what they were made of.
    """

    start_mean: float
    start_sd: float
    coefficients: tuple[float, ...]
    covariance: tuple[tuple[float, ...], ...]
    oil_percent_db: float
    oil_is_known: bool
    lower_limit_percent_wb: float
    sets: int
    usual_years: float | None
    seed_behaviour: str
    grounds: str


def features(moisture_percent_wb: "Array", storage_c: "Array") -> "Array":
    """Give what the four constants are multiplied with to make the logarithm of sigma.

    Parameters
    ----------
    moisture_percent_wb, storage_c : ndarray of float, one shape
        Percent of fresh weight, more than 0; °C.

    Returns
    -------
    ndarray of float, shape (4, ...)

    Source
    ------
    log sigma = KE - CW log m - CH t - CQ t t; Ellis & Roberts 1980, Ann. Bot. 45, 13-30.

    Examples
    --------
    >>> import numpy as np
    >>> [float(one) for one in features(np.array(10.0), np.array(5.0))]
    [1.0, -1.0, -5.0, -25.0]
    """
    import numpy as np

    one = np.ones_like(moisture_percent_wb)
    found: Array = np.stack([one, -np.log10(moisture_percent_wb), -storage_c, -storage_c * storage_c])
    return found


def crop_prior(crop: Crop) -> CropPrior:
    """Join what is published of a crop's ageing into one wide belief.

    The published sets of the species that are sound are averaged; their scatter (shrunk towards the
    scatter of sets within all species, since two or three sets tell little), their standard errors
    away from the moistures tested, and the doubt of carrying hot sealed experiments over to a cool
    shelf make the spread. A species without a sound set takes the average over species of its own
    kind, oily or starchy, with the scatter between species as spread: wide.

    Where a storage life in ordinary keeping is printed, it is heard as one more observation of sigma,
    at the conditions such lists mean, and moves the constants in proportion to how unsure they are
    (the rule by which two measurements are joined; both are widened when they disagree by more than
    their spread). Lists of practice are seen where keepers store, constants are carried there from far,
    so practice weighs more: where published constants contradict it, as those of lettuce do, the
    forecast ends nearer practice than the bare equation, while moisture and temperature keep acting as
    the constants say.

    Parameters
    ----------
    crop : Crop

    Returns
    -------
    CropPrior

    Source
    ------
    Constants: as each set says, `constants.py`. Storage life: as `storage_life.py`. Standard errors: Ellis &
    Hong 2007, Seed Sci. Technol. 35, 432-444. Joining them: our own, the figures in forecast_figures.csv.

    Examples
    --------
    >>> from hilum.seedlore.crops import crop
    >>> crop_prior(crop("lettuce")).sets, crop_prior(crop("leek")).sets
    (2, 0)
    """
    return _of_crop(crop.key, crop)


@cache
def _of_crop(_key: str, crop: Crop) -> CropPrior:
    import numpy as np

    oil, oil_is_known = _oil(crop)
    sets = constants_of(crop.constants_species) if crop.constants_species else ()
    centre, spread, grounds = _from_sets(sets) if sets else _from_other_species(crop)
    spread = spread.copy()
    spread[0, 0] += figure("carry_sd") ** 2
    centre = centre + np.array([figure("rate_bias"), 0.0, 0.0, 0.0])
    start = _start_mean(crop)
    life = usual_life(crop.key)
    if life is not None:
        sd = math.hypot(life.log_spread / math.log(10.0), figure("practice_sd"))
        centre, spread = _with_practice(centre, spread, _practice_log_sigma(life.years, start), sd, oil)
        grounds += f", joined with its usual storage life of about {_years(life.years)}"
    limit = lower_moisture_limit(crop.binomial, oil)
    return CropPrior(
        start_mean=start,
        start_sd=figure("start_sd"),
        coefficients=tuple(float(one) for one in centre),
        covariance=tuple(tuple(float(one) for one in row) for row in spread),
        oil_percent_db=oil,
        oil_is_known=oil_is_known,
        lower_limit_percent_wb=limit.percent_wb if limit else 0.0,
        sets=len(sets),
        usual_years=life.years if life else None,
        seed_behaviour=crop.seed_behaviour,
        grounds=grounds,
    )


def _years(years: float) -> str:
    found = f"{years:.0f}" if years >= 3 else f"{years:.1f}".removesuffix(".0")
    return f"{found} year" if found == "1" else f"{found} years"


def _oil(crop: Crop) -> tuple[float, bool]:
    known = oil_content(crop.binomial)
    if known is not None:
        return known.percent_db, True
    if crop.oily is None:
        return _UNKNOWN_DB, False
    return (_OILY_DB if crop.oily else _STARCHY_DB), False


def _start_mean(crop: Crop) -> float:
    """Place the start of sound lots so that few of them lie below the crop's published standard."""
    if crop.standard_kind is None:
        return figure("start_mean")
    bar = _NORMAL.inv_cdf(standard(crop.standard_kind).percent / 100.0)
    start = bar - _NORMAL.inv_cdf(figure("start_below_standard_share")) * figure("start_sd")
    return min(max(start, figure("start_mean_lowest")), figure("start_mean_highest"))


def _matrix(sets: tuple[ViabilityConstants, ...]) -> "Array":
    import numpy as np

    found: Array = np.array([(one.ke, one.cw, one.ch, one.cq) for one in sets])
    return found


@cache
def _by_species() -> dict[str, "Array"]:
    """Give the sound sets of every species, one row a set."""
    found: dict[str, list[ViabilityConstants]] = {}
    for one in all_constants():
        if one.standing == SOUND:
            found.setdefault(one.species, []).append(one)
    return {species: _matrix(tuple(sets)) for species, sets in found.items()}


@cache
def _scatter_within_species() -> "Array":
    """Pool how far sets of one species scatter about their mean, over all species with two or more."""
    import numpy as np

    several = [sets for sets in _by_species().values() if len(sets) > 1]
    squares = sum((np.cov(sets, rowvar=False) * (len(sets) - 1) for sets in several), np.zeros((4, 4)))
    found: Array = squares / sum(len(sets) - 1 for sets in several)
    return found


def _from_sets(sets: tuple[ViabilityConstants, ...]) -> "tuple[Array, Array, str]":
    import numpy as np

    rows, count, weight = _matrix(sets), len(sets), figure("set_weight")
    own = np.cov(rows, rowvar=False) * (count - 1) if count > 1 else np.zeros((4, 4))
    scatter = (weight * _scatter_within_species() + own) / (weight + count - 1)
    errors = np.mean([_standard_errors(one) for one in sets], axis=0) / count
    words = "one published set of constants" if count == 1 else f"{count} published sets of constants"
    return rows.mean(axis=0), scatter * (1.0 + 1.0 / count) + errors, words


def _standard_errors(one: ViabilityConstants) -> "Array":
    """Give the errors of KE and CW, which go together: both are surest in the middle of what was tested."""
    import numpy as np

    middle = math.log10(figure("moisture_centre_percent_wb"))
    slope = (one.cw_se or figure("cw_se")) ** 2
    found = np.zeros((4, 4))
    found[0, 0] = slope * middle**2 + figure("ke_centre_se") ** 2
    found[0, 1] = found[1, 0] = slope * middle
    found[1, 1] = slope
    return found


def _from_other_species(crop: Crop) -> "tuple[Array, Array, str]":
    """Average over species that are as oily as this one; over all where that is not known."""
    import numpy as np

    split = rule("oily_seed_percent_db").value
    oil, known = _oil(crop)
    means, kind = [], "other"
    for species, sets in _by_species().items():
        content = oil_content(species)
        if known or crop.oily is not None:
            kind = "other oily" if oil >= split else "other starchy"
            if content is None or (content.percent_db >= split) != (oil >= split):
                continue
        means.append(sets.mean(axis=0))
    rows = np.array(means)
    spread = np.cov(rows, rowvar=False) * (1.0 + 1.0 / len(rows)) + _scatter_within_species()
    return rows.mean(axis=0), spread, f"the constants of {len(rows)} {kind} species"


def _practice_log_sigma(years: float, start: float) -> float:
    """Turn a storage life into sigma: in that time a lot falls to a share of what it started with."""
    end = _NORMAL.inv_cdf(figure("practice_share_left") * _NORMAL.cdf(start))
    return math.log10(years * _DAYS_A_YEAR / (start - end))


def _with_practice(
    centre: "Array", spread: "Array", log_sigma: float, sd: float, oil_percent_db: float
) -> "tuple[Array, Array]":
    import numpy as np

    warmth = figure("practice_c")
    moisture = equilibrium_moisture(figure("practice_humidity_percent"), warmth, oil_percent_db).percent_wb
    x = features(np.asarray(moisture), np.asarray(warmth))
    reach = spread @ x
    variance = float(x @ reach) + sd**2
    surprise = log_sigma - float(x @ centre)
    gain = reach / variance
    widened = max(1.0, surprise**2 / variance)
    return centre + gain * surprise, widened * (spread - np.outer(gain, reach))
