"""Seed and air: the moisture seed comes to in air of a humidity, by its oil content, and the reverse."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from hilum.seedlore.arrays import RangeError, as_array, check_between, like_given
from hilum.seedlore.tables import rule

if TYPE_CHECKING:
    from hilum.seedlore.arrays import Amounts

SOURCE = (
    "Cromarty, Ellis & Roberts 1982, The Design of Seed Storage Facilities for Genetic Conservation (IBPGR)"
)


@dataclass(frozen=True, slots=True)
class Equilibrium:
    """Moisture of seed in balance with air, on both bases; notes say what lies beyond the usual range."""

    percent_wb: "Amounts"
    percent_db: "Amounts"
    notes: tuple[str, ...] = ()


def equilibrium_moisture(
    humidity_percent: "Amounts", air_c: "Amounts", oil_percent_db: "Amounts"
) -> Equilibrium:
    """Reckon the moisture that seed comes to in air of a humidity.

    The equation does not know whether the seed is drying or taking up water; seed that dries stays a
    little moister.

    Parameters
    ----------
    humidity_percent : float or array
        Relative humidity of the air, 0 to under 100; recommended 10 to 70.
    air_c : float or array
        -30 to 90 °C; recommended 0 to 40 for starchy seed, 15 to 25 for oily.
    oil_percent_db : float or array
        Oil in percent of the seed's dry weight, 0 to under 100.

    Returns
    -------
    Equilibrium
        Percent of fresh and of dry weight.

    Raises
    ------
    RangeError
        A figure is out of range.

    Source
    ------
    A. S. Cromarty, R. H. Ellis and E. H. Roberts (1982), The Design of Seed Storage Facilities for Genetic
    Conservation, IBPGR: (1 - D) sqrt(-440 ln(1 - R)) / (1.1 + T / 90).

    Examples
    --------
    >>> found = equilibrium_moisture(13, 25, 29)
    >>> round(found.percent_wb, 4), round(found.percent_db, 4)
    (3.8775, 4.0339)
    """
    import numpy as np

    _check_air(air_c, oil_percent_db)
    _check_below_hundred(humidity_percent, "A relative humidity")
    given = (humidity_percent, air_c, oil_percent_db)
    dry = 1.0 - as_array(oil_percent_db) / 100.0
    water = np.sqrt(-440.0 * np.log1p(-as_array(humidity_percent) / 100.0))
    percent_db = dry * water / (1.1 + as_array(air_c) / 90.0)
    percent_wb = 100.0 * percent_db / (100.0 + percent_db)
    return Equilibrium(
        like_given(as_array(percent_wb), *given),
        like_given(as_array(percent_db), *given),
        _notes(humidity_percent, air_c, oil_percent_db),
    )


def equilibrium_humidity(
    moisture_percent_wb: "Amounts", air_c: "Amounts", oil_percent_db: "Amounts"
) -> "Amounts":
    """Reckon the relative humidity of the air with which seed of a moisture is in balance.

    Parameters
    ----------
    moisture_percent_wb : float or array
        Percent of fresh weight, 0 to under 100.
    air_c : float or array
        -30 to 90 °C.
    oil_percent_db : float or array
        Oil in percent of dry weight, 0 to under 100.

    Returns
    -------
    float or array
        Percent relative humidity, 0 to 100.

    Raises
    ------
    RangeError
        A figure is out of range.

    Source
    ------
    A. S. Cromarty, R. H. Ellis and E. H. Roberts (1982), as `equilibrium_moisture`.

    Examples
    --------
    >>> round(equilibrium_humidity(5.0, 25, 29), 3)
    21.107
    """
    import numpy as np

    _check_air(air_c, oil_percent_db)
    _check_below_hundred(moisture_percent_wb, "A moisture")
    read = as_array(moisture_percent_wb)
    percent_db = 100.0 * read / (100.0 - read)
    dry = 1.0 - as_array(oil_percent_db) / 100.0
    found = -100.0 * np.expm1(-((percent_db * (1.1 + as_array(air_c) / 90.0) / dry) ** 2) / 440.0)
    return like_given(as_array(found), moisture_percent_wb, air_c, oil_percent_db)


def _check_below_hundred(percent: "Amounts", what: str) -> None:
    import numpy as np

    read = as_array(percent)
    wrong = ~((read >= 0) & (read < 100))
    if bool(np.any(wrong)):
        raise RangeError(
            f"{what} of {float(read[wrong].flat[0]):g} % is out of range. Give 0 or more and less than 100 %."
        )


def _check_air(air_c: "Amounts", oil_percent_db: "Amounts") -> None:
    check_between(air_c, -30.0, 90.0, "An air temperature", "°C")
    _check_below_hundred(oil_percent_db, "An oil content")


def _notes(humidity_percent: "Amounts", air_c: "Amounts", oil_percent_db: "Amounts") -> tuple[str, ...]:
    """Say where the figures leave the range for which the equation is recommended."""
    import numpy as np

    humid, warm, oil = as_array(humidity_percent), as_array(air_c), as_array(oil_percent_db)
    low, high = rule("equilibrium_humidity_lowest").value, rule("equilibrium_humidity_highest").value
    notes: list[str] = []
    if bool(np.any((humid < low) | (humid > high))):
        notes.append(f"Recommended for {low:g} to {high:g} % relative humidity; beyond that it is rougher.")
    oily = oil >= rule("oily_seed_percent_db").value
    cold_low = np.where(oily, rule("equilibrium_c_lowest_oily").value, rule("equilibrium_c_lowest").value)
    warm_high = np.where(oily, rule("equilibrium_c_highest_oily").value, rule("equilibrium_c_highest").value)
    if bool(np.any((warm < cold_low) | (warm > warm_high))):
        notes.append("Recommended for 0 to 40 °C (oily seed 15 to 25 °C); beyond that it is rougher.")
    return tuple(notes)
