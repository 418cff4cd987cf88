"""Deviates: shares of seed alive on the scale on which seed ages in a straight line, and back."""

import math
from typing import TYPE_CHECKING

from hilum.seedlore.arrays import RangeError, as_array, check_between, like_given
from hilum.seedlore.tables import rule

if TYPE_CHECKING:
    from hilum.seedlore.arrays import Amounts, Array

# W. J. Cody (1969), Math. Comp. 23, 631-637: the error function up to 0.46875, its complement to 4 and beyond.
_NEAR_TOP = (
    1.85777706184603153e-1, 3.16112374387056560e0, 1.13864154151050156e2, 3.77485237685302021e2,
    3.20937758913846947e3,
)  # fmt: skip
_NEAR_BELOW = (
    1.0,
    2.36012909523441209e1,
    2.44024637934444173e2,
    1.28261652607737228e3,
    2.84423683343917062e3,
)
_MIDDLE_TOP = (
    2.15311535474403846e-8, 5.64188496988670089e-1, 8.88314979438837594e0, 6.61191906371416295e1,
    2.98635138197400131e2, 8.81952221241769090e2, 1.71204761263407058e3, 2.05107837782607147e3,
    1.23033935479799725e3,
)  # fmt: skip
_MIDDLE_BELOW = (
    1.0, 1.57449261107098347e1, 1.17693950891312499e2, 5.37181101862009858e2, 1.62138957456669019e3,
    3.29079923573345963e3, 4.36261909014324716e3, 3.43936767414372164e3, 1.23033935480374942e3,
)  # fmt: skip
_FAR_TOP = (
    1.63153871373020978e-2, 3.05326634961232344e-1, 3.60344899949804439e-1, 1.25781726111229246e-1,
    1.60837851487422766e-2, 6.58749161529837803e-4,
)  # fmt: skip
_FAR_BELOW = (
    1.0, 2.56852019228982242e0, 1.87295284992346047e0, 5.27905102951428412e-1, 6.05183413124413191e-2,
    2.33520497626869185e-3,
)  # fmt: skip

# M. J. Wichura (1988), Algorithm AS 241, Appl. Stat. 37, 477-484: the middle, the tails, the far tails.
_CENTRE_TOP = (
    2.5090809287301226727e3, 3.3430575583588128105e4, 6.7265770927008700853e4, 4.5921953931549871457e4,
    1.3731693765509461125e4, 1.9715909503065514427e3, 1.3314166789178437745e2, 3.3871328727963666080e0,
)  # fmt: skip
_CENTRE_BELOW = (
    5.2264952788528545610e3, 2.8729085735721942674e4, 3.9307895800092710610e4, 2.1213794301586595867e4,
    5.3941960214247511077e3, 6.8718700749205790830e2, 4.2313330701600911252e1, 1.0,
)  # fmt: skip
_TAIL_TOP = (
    7.74545014278341407640e-4, 2.27238449892691845833e-2, 2.41780725177450611770e-1, 1.27045825245236838258e0,
    3.64784832476320460504e0, 5.76949722146069140550e0, 4.63033784615654529590e0, 1.42343711074968357734e0,
)  # fmt: skip
_TAIL_BELOW = (
    1.05075007164441684324e-9, 5.47593808499534494600e-4, 1.51986665636164571966e-2,
    1.48103976427480074590e-1, 6.89767334985100004550e-1, 1.67638483018380384940e0,
    2.05319162663775882187e0, 1.0,
)  # fmt: skip
_END_TOP = (
    2.01033439929228813265e-7, 2.71155556874348757815e-5, 1.24266094738807843860e-3,
    2.65321895265761230930e-2, 2.96560571828504891230e-1, 1.78482653991729133580e0,
    5.46378491116411436990e0, 6.65790464350110377720e0,
)  # fmt: skip
_END_BELOW = (
    2.04426310338993978564e-15, 1.42151175831644588870e-7, 1.84631831751005468180e-5,
    7.86869131145613259100e-4, 1.48753612908506148525e-2, 1.36929880922735805310e-1,
    5.99832206555887937690e-1, 1.0,
)  # fmt: skip


def _ratio(top: tuple[float, ...], below: tuple[float, ...], x: "Array") -> "Array":
    """Give one polynomial over another, the highest power first."""
    import numpy as np

    above, under = np.full_like(x, top[0]), np.full_like(x, below[0])
    for one in top[1:]:
        above = above * x + one
    for one in below[1:]:
        under = under * x + one
    result: Array = above / under
    return result


def _upper_tail(x: "Array") -> "Array":
    """Give the complement of the error function for any array of figures."""
    import numpy as np

    size = np.abs(x)
    tail = np.empty_like(size)
    near, far = size <= 0.46875, size > 4.0
    middle = ~(near | far)
    close = size[near]
    tail[near] = 1.0 - close * _ratio(_NEAR_TOP, _NEAR_BELOW, close * close)
    between = size[middle]
    tail[middle] = _gauss(between) * _ratio(_MIDDLE_TOP, _MIDDLE_BELOW, between)
    beyond = np.minimum(size[far], 30.0)  # the tail is nought there, and squares stay small
    inverse = 1.0 / (beyond * beyond)
    rest = inverse * _ratio(_FAR_TOP, _FAR_BELOW, inverse)
    tail[far] = _gauss(beyond) / beyond * (1.0 / math.sqrt(math.pi) - rest)
    result: Array = np.where(x < 0, 2.0 - tail, tail)
    return result


def _gauss(x: "Array") -> "Array":
    """Give exp(-x x), the square taken in two parts so that its rounding does not grow."""
    import numpy as np

    coarse = np.trunc(x * 16.0) / 16.0
    result: Array = np.exp(-coarse * coarse) * np.exp(-(x - coarse) * (x + coarse))
    return result


def share_from_deviate(deviate: "Amounts") -> "Amounts":
    """Give the share of seed alive at a deviate: the area of the normal curve below it.

    Parameters
    ----------
    deviate : float or array
        Standard deviates, no 5 added; infinite is allowed.

    Returns
    -------
    float or array
        0 to 1, right to 15 figures.

    Source
    ------
    W. J. Cody (1969), Rational Chebyshev approximations for the error function, Math. Comp. 23, 631-637.

    Examples
    --------
    >>> round(share_from_deviate(1.6448536), 6)
    0.95
    """
    import numpy as np

    read = as_array(deviate)
    found = 0.5 * _upper_tail(np.atleast_1d(-read) / math.sqrt(2.0))
    return like_given(found.reshape(read.shape), deviate)


def deviate_from_share(share: "Amounts") -> "Amounts":
    """Give the deviate at which a share of seed is alive, the reverse of `share_from_deviate`.

    Parameters
    ----------
    share : float or array
        0 to 1; 0 and 1 give minus and plus infinity.

    Returns
    -------
    float or array
        Right to about 16 figures.

    Raises
    ------
    RangeError
        A share is outside 0 to 1.

    Source
    ------
    M. J. Wichura (1988), Algorithm AS 241, Appl. Stat. 37, 477-484.

    Examples
    --------
    >>> round(deviate_from_share(0.85), 7)
    1.0364334
    """
    import numpy as np

    check_between(share, 0.0, 1.0, "A share", "")
    read = as_array(share)
    p = np.atleast_1d(read)
    q = p - 0.5
    found = np.empty_like(p)
    centre = np.abs(q) <= 0.425
    near = q[centre]
    found[centre] = near * _ratio(_CENTRE_TOP, _CENTRE_BELOW, 0.180625 - near * near)
    outer, side = ~centre, np.sign(q[~centre])
    smaller = np.minimum(p[outer], 1.0 - p[outer])
    with np.errstate(divide="ignore"):
        r = np.sqrt(-np.log(smaller))
    r_kept = np.where(np.isinf(r), 27.0, r)
    tail = np.where(
        r_kept <= 5.0,
        _ratio(_TAIL_TOP, _TAIL_BELOW, r_kept - 1.6),
        _ratio(_END_TOP, _END_BELOW, r_kept - 5.0),
    )
    found[outer] = side * np.where(np.isinf(r), np.inf, tail)
    return like_given(found.reshape(read.shape), share)


def deviate_from_percent(percent: "Amounts", seeds: "Amounts | None" = None) -> "Amounts":
    """Give the deviate of a percentage, with 0 and 100 corrected by the number of seeds tested.

    0 of n counts as 0.25 of a seed, n of n as n less 0.25: without that, 100 % of ten seeds would
    promise to live for ever.

    Parameters
    ----------
    percent : float or array
        0 to 100.
    seeds : float or array or None
        Seeds tested, 1 or more; needed only for 0 and 100.

    Returns
    -------
    float or array

    Raises
    ------
    RangeError
        A percentage is outside 0 to 100, or is 0 or 100 and no number of seeds is given.

    Source
    ------
    L. C. Miller and M. L. Tainter (1944), Proc. Soc. Exp. Biol. Med. 57, 261-264.

    Examples
    --------
    >>> round(deviate_from_percent(98), 5), round(deviate_from_percent(100, seeds=50), 5)
    (2.05375, 2.57583)
    """
    import numpy as np

    check_between(percent, 0.0, 100.0, "A percentage", "%")
    read = as_array(percent)
    at_end = (read == 0) | (read == 100)
    if seeds is None:
        if bool(np.any(at_end)):
            raise RangeError(
                "0 % and 100 % have no place on the scale of ageing without the number of seeds tested: "
                "10 of 10 say much less than 400 of 400. Give the number of seeds."
            )
        return like_given(as_array(deviate_from_share(read / 100.0)), percent)
    check_between(seeds, 1.0, 1e9, "A test", "seeds")
    least = rule("end_correction_seeds").value / as_array(seeds)
    share = np.where(read == 0, least, np.where(read == 100, 1.0 - least, read / 100.0))
    return like_given(as_array(deviate_from_share(share)), percent, seeds)


def percent_from_deviate(deviate: "Amounts") -> "Amounts":
    """Give the percentage of seed alive at a deviate.

    Parameters
    ----------
    deviate : float or array
        Standard deviates, no 5 added.

    Returns
    -------
    float or array
        0 to 100.

    Source
    ------
    R. H. Ellis and E. H. Roberts (1980), Ann. Bot. 45, 13-30.

    Examples
    --------
    >>> percent_from_deviate(0.0)
    50.0
    """
    return like_given(100.0 * as_array(share_from_deviate(deviate)), deviate)
