"""The forecast of a lot's viability, from its own records: what faces show of it, and scripts read."""

from datetime import date
from typing import Any

from hilum.benches.views import LotView, view
from hilum.benches.wording import day_text
from hilum.catalogue import listing
from hilum.catalogue.find import resolve_lot
from hilum.catalogue.opening import Catalogue
from hilum.catalogue.outlook import lot_histories
from hilum.catalogue.settings import read_settings
from hilum.errors import BadInput
from hilum.seedlore.forecast import CurvePoint, Forecast, forecast

__all__ = ["CurvePoint", "Forecast", "forecast_as_json", "lot_forecast"]

USUAL_YEARS = 10
UNKNOWN_CROP = (
    "No forecast: {crop} is not in the table of crops, so nothing published is known of how its seed keeps. "
    "Its own tests are all there is."
)


def lot_forecast(
    catalogue: Catalogue, typed: str, *, on: date, years: int = USUAL_YEARS
) -> tuple[LotView, Forecast]:
    """Forecast one lot from a day on; a lot that cannot have a forecast says why in `why`."""
    if not 0 <= years <= 100:
        raise BadInput(f"A forecast runs over 0 to 100 years, not {years}.")
    with catalogue.look() as connection:
        lot_id = resolve_lot(connection, typed)
        shown = view(listing.one_lot(connection, lot_id), read_settings(connection))
        if words := _why_not_joined(shown):
            return shown, Forecast(on, None, None, None, None, shown.standard_percent, None, None, words)
        history = lot_histories(connection, [lot_id], {lot_id: shown.standard}).get(lot_id)
    if history is None:
        bar = shown.standard_percent
        words = UNKNOWN_CROP.format(crop=shown.line.crop)
        return shown, Forecast(on, None, None, None, None, bar, None, None, words)
    return shown, forecast(history, on, years)


def _why_not_joined(shown: LotView) -> str:
    """Say why a lot made of others has no forecast, or nothing."""
    if shown.line.made_as == "mixed":
        return (
            "No forecast: the lot is a mix. Its components age each in its own way, and one curve for all of them "
            "would be true of none. Look at the forecast of each component."
        )
    if shown.line.made_as == "bulked" and shown.line.tested_on is None:
        return "No forecast yet: lots with different pasts were poured together. Test the new lot as a whole first."
    return ""


def forecast_as_json(found: Forecast) -> dict[str, Any]:
    """Give the keys that scripts may rely on; figures are None where there can be no forecast."""
    return {
        "now_percent": _short(found.now_percent),
        "interval_90": None if found.interval_90 is None else [_short(bound) for bound in found.interval_90],
        "viability_now_percent": _short(found.viability_now_percent),
        "below_standard_chance": None
        if found.below_standard_chance is None
        else round(found.below_standard_chance, 3),
        "standard_percent": found.standard_percent,
        "half_life_years": _short(found.half_life_years),
        "test_next_on": day_text(found.test_next_on),
        "why": found.why,
        "curve": [_point(point) for point in found.curve],
    }


def _point(point: CurvePoint) -> dict[str, Any]:
    return {
        "on": day_text(point.on),
        "percent": _short(point.percent),
        "low": _short(point.low),
        "high": _short(point.high),
    }


def _short(figure: float | None) -> float | None:
    return None if figure is None else round(figure, 1)
