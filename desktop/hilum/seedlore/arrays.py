"""Figures one at a time or in arrays: what goes in as a plain number comes out as one."""

from typing import TYPE_CHECKING

from hilum.errors import BadInput

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]
    Amounts = float | Array


class RangeError(BadInput):
    """A figure lies outside the range in which a sum is good; the message names the range."""


def as_array(amounts: "Amounts") -> "Array":
    """Give figures as an array of floats; one figure is an array without a dimension.

    Parameters
    ----------
    amounts : float or array

    Returns
    -------
    ndarray of float

    Source
    ------
    Not needed: no figure is changed.

    Examples
    --------
    >>> as_array(2.5).shape
    ()
    """
    import numpy as np

    return np.asarray(amounts, dtype=np.float64)


def like_given(found: "Array", *given: "Amounts") -> "Amounts":
    """Give a plain number where only plain numbers were given, else the array.

    Parameters
    ----------
    found : ndarray
        What was reckoned.
    *given : float or array
        What it was reckoned from.

    Returns
    -------
    float or ndarray

    Source
    ------
    Not needed: no figure is changed.

    Examples
    --------
    >>> like_given(as_array(3.0), 1.0, 2.0)
    3.0
    """
    import numpy as np

    if found.ndim == 0 and not any(isinstance(one, np.ndarray) for one in given):
        return float(found)
    return found


def check_between(amounts: "Amounts", low: float, high: float, what: str, unit: str) -> None:
    """Refuse figures outside a range, naming the figure and the range.

    Parameters
    ----------
    amounts : float or array
    low, high : float
        Both still allowed.
    what, unit : str
        For the message, as in "A moisture of 30 % is out of range".

    Returns
    -------
    None

    Raises
    ------
    RangeError
        A figure is outside, or is no number.

    Source
    ------
    The range comes from the sum that asks.

    Examples
    --------
    >>> check_between(7.0, 5, 25, "A moisture", "%")
    """
    import numpy as np

    read = as_array(amounts)
    wrong = ~((read >= low) & (read <= high))  # written so that "no number" is wrong too
    if bool(np.any(wrong)):
        first = float(read[wrong].flat[0])
        said = f" {unit}" if unit else ""
        raise RangeError(f"{what} of {first:g}{said} is out of range. Give {low:g} to {high:g}{said}.")
