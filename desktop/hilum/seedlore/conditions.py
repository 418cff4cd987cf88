"""Storage conditions as the viability equation counts them: the moisture and warmth it may be asked about."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from hilum.seedlore.arrays import RangeError, as_array, like_given
from hilum.seedlore.tables import Rule, rule, table

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from hilum.seedlore.arrays import Amounts, Array


@dataclass(frozen=True, slots=True)
class Conditions:
    """Moisture and temperature as counted, and how far that is from what was asked.

    `beyond` marks figures outside the range in which the equation is known to hold; the others are
    plain numbers or arrays of one shape. `notes` say in words what was counted instead.
    """

    moisture_percent_wb: "Amounts"
    storage_c: "Amounts"
    beyond: "bool | NDArray[np.bool_]" = False
    notes: tuple[str, ...] = ()


def storage_conditions(
    moisture_percent_wb: "Amounts",
    storage_c: "Amounts",
    *,
    lower_limit_percent_wb: "Amounts | None" = None,
    beyond: bool = False,
    forecast: bool = False,
) -> Conditions:
    """Check the moisture and temperature of stored seed and say how the equation counts them.

    Colder than -20 °C counts as -20: the equation turns round near -34 °C and would promise that
    deeper cold harms. Drier than the lower moisture limit counts as that limit, because drying on
    from there gains nothing.

    Parameters
    ----------
    moisture_percent_wb : float or array
        Percent of fresh weight, 5 to 25, or from the lower limit where one below 5 is given.
    storage_c : float or array
        -20 to 90 °C; colder is allowed and counts as -20.
    lower_limit_percent_wb : float or array or None
        The moisture below which drying no longer helps, where it is known.
    beyond : bool
        Allow moisture and temperature outside the range, and mark them.
    forecast : bool
        Of seed in a store, for which moisture above 15 % gives no forecast.

    Returns
    -------
    Conditions

    Raises
    ------
    RangeError
        Out of range and not allowed; no seed can have the moisture at all.

    Source
    ------
    Range: R. H. Ellis and E. H. Roberts (1980), Ann. Bot. 45, 13-30; J. B. Dickie et al. (1990), Ann. Bot. 65,
    197-204. Lower limit: R. H. Ellis, T. D. Hong and E. H. Roberts (1989), Ann. Bot. 63, 601-611.

    Examples
    --------
    >>> storage_conditions(7.0, -25.0).notes
    ('Storage below -20 °C counts as -20 °C.',)
    """
    import numpy as np

    moisture, warmth = as_array(moisture_percent_wb), as_array(storage_c)
    if bool(np.any(~((moisture > 0) & (moisture < 100)))) or bool(np.any(~np.isfinite(warmth))):
        raise RangeError(
            "Moisture must be above 0 and below 100 % of fresh weight, and the temperature a number."
        )
    notes: list[str] = []
    coldest, warmest = rule("longevity_c_lowest").value, rule("longevity_c_highest").value
    driest, wettest = _moisture_range(forecast)
    low = np.full_like(moisture, driest.value)
    counted = moisture
    if lower_limit_percent_wb is not None:
        limit = as_array(lower_limit_percent_wb)
        counted = np.maximum(moisture, limit)
        low = np.minimum(driest.value, limit)
        if bool(np.any(moisture < limit)):
            notes.append("Moisture below the lower limit of the kind counts as that limit.")
    out = (counted < low) | (counted > wettest.value) | (warmth > warmest)
    if bool(np.any(out)):
        if not beyond:
            raise _out_of_range(moisture, warmth, float(np.min(low)), wettest, warmest)
        notes.append("Outside the range in which the equation is known to hold: not to be relied on.")
    if bool(np.any(warmth < coldest)):
        notes.append(f"Storage below {coldest:g} °C counts as {coldest:g} °C.")
    given = (moisture_percent_wb, storage_c)
    marked = bool(out) if out.ndim == 0 else np.asarray(out, dtype=np.bool_)
    return Conditions(
        like_given(as_array(counted), *given),
        like_given(as_array(np.maximum(warmth, coldest)), *given),
        marked,
        tuple(notes),
    )


def _moisture_range(forecast: bool) -> tuple[Rule, Rule]:
    highest = "forecast_moisture_highest_percent_wb" if forecast else "longevity_moisture_highest_percent_wb"
    return rule("longevity_moisture_lowest_percent_wb"), rule(highest)


def _out_of_range(
    moisture: "Array", warmth: "Array", driest: float, wettest: Rule, warmest: float
) -> RangeError:
    """Say which figure is out of range, and what the range is."""
    import numpy as np

    if bool(np.any(warmth > warmest)):
        return RangeError(
            f"A storage temperature of {float(np.max(warmth)):g} °C is out of range. Give at most {warmest:g} °C; "
            "below -20 °C counts as -20 °C."
        )
    wrong = moisture[(moisture < driest) | (moisture > wettest.value)]
    return RangeError(
        f"A moisture of {float(np.ravel(wrong)[0]):g} % of fresh weight is out of range: the equation holds from "
        f"{driest:.3g} to {wettest.value:g} % ({wettest.source})."
    )


@dataclass(frozen=True, slots=True)
class LowerLimit:
    """The moisture of fresh weight below which drying gains nothing, and how it was got.

    `reckoned` says that it is no published limit of the kind but follows from its oil content.
    """

    percent_wb: float
    source: str
    reckoned: bool = False


def lower_moisture_limit(species: str | None, oil_percent_db: float | None) -> LowerLimit | None:
    """Give the moisture below which drying on no longer lengthens a seed's life.

    Parameters
    ----------
    species : str or None
        Genus and species; a published limit is used first.
    oil_percent_db : float or None
        Oil in percent of dry weight, 0 to under 100; gives the limit of kinds that have no published one,
        as moisture in balance with air of 10.6 % humidity.

    Returns
    -------
    LowerLimit or None
        None where neither is known.

    Source
    ------
    R. H. Ellis, T. D. Hong and E. H. Roberts (1989), Ann. Bot. 63, 601-611.

    Examples
    --------
    >>> lower_moisture_limit("Pisum sativum", None).percent_wb
    6.2
    >>> round(lower_moisture_limit(None, 20.0).percent_wb, 1)
    4.1
    """
    from hilum.seedlore.equilibrium import equilibrium_moisture

    for line in table("lower_moisture_limits"):
        if line.text("species") == species:
            return LowerLimit(line.number("moisture_percent_wb"), line.text("source"))
    if oil_percent_db is None:
        return None
    air, warmth = rule("lower_limit_air_humidity_percent"), rule("lower_limit_air_c")
    found = equilibrium_moisture(air.value, warmth.value, oil_percent_db)
    words = f"moisture of seed with {oil_percent_db:g} % oil in air of {air.value:g} %; {air.source}"
    return LowerLimit(float(found.percent_wb), words, reckoned=True)
