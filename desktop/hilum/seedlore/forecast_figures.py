"""The figures the forecast is built on, each with where it comes from; most are choices of our own."""

from functools import cache

from hilum.seedlore.tables import Rule, TableError, table


@cache
def _figures() -> dict[str, Rule]:
    found: dict[str, Rule] = {}
    for line in table("forecast_figures"):
        one = Rule(line.text("key"), line.number("value"), line.text("unit"), line.text("source"))
        if one.key in found:
            raise line.wrong(f"{one.key} stands there twice")
        found[one.key] = one
    return found


def figure(key: str) -> float:
    """Give one figure of the forecast by its key.

    Parameters
    ----------
    key : str
        For instance "clumping"; the table gives its unit.

    Returns
    -------
    float

    Raises
    ------
    TableError
        There is no such figure.

    Source
    ------
    Stands beside each figure in resources/seedlore/forecast_figures.csv.

    Examples
    --------
    >>> figure("interval_most_years")
    5.0
    """
    try:
        return _figures()[key].value
    except KeyError:
        raise TableError(f"forecast_figures.csv: there is no figure {key!r}. Install Hilum again.") from None
