"""The logarithm of the gamma function over arrays, which the beta-binomial chances of counts need."""

import math
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from hilum.seedlore.arrays import Array

# Stirling's series for log gamma, from ten upwards: NIST Digital Library of Mathematical Functions, 5.11.1.
_STIRLING = (1.0 / 12.0, -1.0 / 360.0, 1.0 / 1260.0, -1.0 / 1680.0)
_RISEN = 10


def log_gamma(amounts: "Array") -> "Array":
    """Give the natural logarithm of the gamma function for an array of figures above nought.

    Parameters
    ----------
    amounts : ndarray of float
        Above 0, at most 1e30.

    Returns
    -------
    ndarray of float
        Right to 1e-10 or better.

    Source
    ------
    NIST Digital Library of Mathematical Functions, 5.5.1 (recurrence) and 5.11.1 (Stirling's series).

    Examples
    --------
    >>> import numpy as np
    >>> bool(abs(log_gamma(np.array([5.0]))[0] - math.log(24)) < 1e-10)
    True
    """
    import numpy as np

    rising = np.array(amounts, dtype=np.float64)
    for step in range(1, _RISEN):
        rising *= amounts + step
    risen = amounts + float(_RISEN)
    inverse = 1.0 / risen
    series = np.zeros_like(risen)
    for coefficient in reversed(_STIRLING):
        series = series * inverse * inverse + coefficient
    result: Array = (
        (risen - 0.5) * np.log(risen)
        - risen
        + 0.5 * math.log(2.0 * math.pi)
        + series * inverse
        - np.log(rising)
    )
    return result
