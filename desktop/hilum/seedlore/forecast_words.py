"""The one sentence that says why a forecast is what it is, and why there is none."""

from hilum.seedlore.forecast_input import LotHistory
from hilum.seedlore.priors import CropPrior
from hilum.seedlore.storage_history import REFUSALS
from hilum.seedlore.tables import rule

_NAMED_FROM = 0.05  # the share of the loss from which something assumed is worth naming
SURPRISE = 1.0  # standard deviations of pace from which a lot is said to age unlike its kind
_FACTOR_SHOWN = 1.15


def refusal_words(refusal: int, prior: CropPrior) -> str:
    """Say why there is no forecast.

    Parameters
    ----------
    refusal : int
        Place in `REFUSALS`, not 0.
    prior : CropPrior

    Returns
    -------
    str

    Source
    ------
    Limits: rules.csv, lower_moisture_limits.csv.

    Examples
    --------
    >>> from hilum.seedlore.crops import crop
    >>> from hilum.seedlore.priors import crop_prior
    >>> refusal_words(1, crop_prior(crop("chayote")))
    'No forecast: this seed cannot be dried and kept (recalcitrant); sow it fresh.'
    """
    highest = rule("forecast_moisture_highest_percent_wb").value
    words = {
        "recalcitrant": "this seed cannot be dried and kept (recalcitrant); sow it fresh.",
        "intermediate": "this seed bears drying and cold only in part (intermediate), and no equation covers it.",
        "too dry": (
            f"the seed lay drier than {prior.lower_limit_percent_wb:.1f} % moisture, below which the equation "
            "of ageing no longer holds. Test it instead."
        ),
        "too moist": (
            f"the seed lay moister than {highest:g} %, where it ages in another way. Dry it and test it."
        ),
        "too hot": (
            f"the seed lay warmer than {rule('longevity_c_highest').value:g} °C, beyond what the equation covers."
        ),
    }
    return f"No forecast: {words[REFUSALS[refusal]]}"


def why_words(
    lot: LotHistory,
    prior: CropPrior,
    *,
    tests_heard: int,
    pace: float,
    pace_sd: float,
    moisture_assumed_share: float,
    warmth_assumed_share: float,
    is_below_coldest: bool,
    ready_share: float,
) -> str:
    """Say in one sentence what a forecast rests on, and what was assumed.

    Parameters
    ----------
    lot : LotHistory
    prior : CropPrior
        Of the lot's crop.
    tests_heard : int
        How many of the lot's tests went in.
    pace, pace_sd : float
        How much longer the lot lives than its kind, and how far lots differ, in powers of ten.
    moisture_assumed_share, warmth_assumed_share : float
        Shares of its ageing that rest on assumptions, 0 to 1.
    is_below_coldest : bool
        Whether it lay colder than the equation goes.
    ready_share : float
        Share of living seed that germinates at once, 0 to 1.

    Returns
    -------
    str

    Source
    ------
    Not needed: nothing is reckoned.

    Examples
    --------
    >>> from datetime import date
    >>> from hilum.seedlore.crops import crop
    >>> from hilum.seedlore.priors import crop_prior
    >>> lot = LotHistory(crop("parsnip"), date(2025, 9, 1))
    >>> said = why_words(lot, crop_prior(lot.crop), tests_heard=0, pace=0.0, pace_sd=0.3,
    ...     moisture_assumed_share=1.0, warmth_assumed_share=1.0, is_below_coldest=False, ready_share=1.0)
    >>> said.startswith("Never tested, so this is a wide guess from the constants of 16 other oily species")
    True
    """
    if tests_heard == 0:
        said = f"Never tested, so this is a wide guess from {prior.grounds}"
    else:
        last = max((one for one in lot.tests if one.counts.seeds), key=lambda one: one.on)
        share = f"{last.counts.germinated} of {last.counts.seeds} seeds"
        told = "its one test" if tests_heard == 1 else f"its {tests_heard} tests"
        when = f"{last.on:%b %Y}"
        said = f"From {told} ({'' if tests_heard == 1 else 'the last '}{share} in {when}) and {prior.grounds}"
        if abs(pace) > SURPRISE * pace_sd and 10 ** abs(pace) > _FACTOR_SHOWN:
            said += f"; this lot ages {'slower' if pace > 0 else 'faster'} than its kind"
    assumed = [
        f"the {what} of {'most' if share > 0.5 else 'part'} of its storage"
        for what, share in (("moisture", moisture_assumed_share), ("temperature", warmth_assumed_share))
        if share > _NAMED_FROM
    ]
    if assumed:
        said += f"; {' and '.join(assumed)} was assumed, which widens the band"
    if is_below_coldest:
        said += f"; below {rule('longevity_c_lowest').value:g} °C counts as {rule('longevity_c_lowest').value:g} °C"
    if ready_share < 0.98:
        said += (
            f"; of the living seed {100 * ready_share:.0f} % germinates at once, the rest is hard or fresh"
        )
    return f"{said}."
