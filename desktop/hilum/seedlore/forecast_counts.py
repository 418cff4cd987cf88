"""How likely the counts of a germination test are at each deviate: over-dispersed counts of living seed."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from hilum.seedlore.deviates import share_from_deviate
from hilum.seedlore.gamma import log_gamma

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]
    Quick = NDArray[np.float32]
    Whole = NDArray[np.int64]
    Figures = NDArray[np.floating]

# Beyond six deviates one seed in a thousand million differs: no test can tell.
_REACH = 6.0
_STEP = 1.0 / 64.0  # a power of two, so that the nodes of the table are exact
_COLUMNS = round(2 * _REACH / _STEP) + 1
_SHARE_FLOOR = 1e-12  # keeps logarithms finite where a share is nought


def log_rising(share: "Array", seeds: "Array", clumping: "Array") -> "Array":
    """Give the part of the logarithm of a beta-binomial chance that belongs to one class of seed.

    The chance of `alive` living seeds among `sown` is, but for a factor that does not depend on the
    share, exp(log_rising(share, alive, c) + log_rising(1 - share, sown - alive, c)).

    Parameters
    ----------
    share : ndarray of float
        Share of the class in the lot, 0 to 1.
    seeds : ndarray of float
        Seeds counted in the class.
    clumping : ndarray of float
        Intra-class correlation of seeds in one test, 0 (plain binomial) up to below 1.

    Returns
    -------
    ndarray of float

    Source
    ------
    J. G. Skellam (1948), J. R. Stat. Soc. B 10, 257-261 (the beta-binomial distribution).

    Examples
    --------
    >>> import math
    >>> import numpy as np
    >>> one = np.array([1.0])
    >>> round(float(log_rising(0.5 * one, 2 * one, 0 * one)[0]), 6) == round(2 * math.log(0.5), 6)
    True
    """
    import numpy as np

    kept = np.maximum(share, _SHARE_FLOOR)
    plain = seeds * np.log(kept)
    strength = (1.0 - clumping) / np.maximum(clumping, 1e-9)
    first = kept * strength
    clumped = log_gamma(first + seeds) - log_gamma(first) - seeds * np.log(strength)
    result: Array = np.where(clumping > 1e-9, clumped, plain)
    return result


@dataclass(frozen=True, slots=True)
class CountTable:
    """`log_rising` laid out over deviates, so that a million lots need only look it up.

    One row for each number of seeds and degree of clumping that occurs; a dead seed at a deviate is a
    living one at the same deviate with the other sign, so that one table serves both.
    """

    values: "Quick"
    row_of_seeds: "Whole"
    clumpings: "Array"

    def rows(self, seeds: "Whole", clumping_class: "Whole") -> "Whole":
        """Give the row for each number of seeds and class of clumping."""
        found: Whole = self.row_of_seeds[clumping_class, seeds]
        return found

    def add(self, to: "Figures", rows: "Whole", deviates: "Figures") -> None:
        """Add the logarithm of the chance at each deviate, between the nodes on a straight line.

        `rows` belongs to the last axis of `deviates`.
        """
        import numpy as np

        place = deviates.astype(np.float32, copy=False) * np.float32(1.0 / _STEP)
        place += np.float32(_REACH / _STEP)
        np.clip(place, 0.0, np.float32(_COLUMNS - 1.01), out=place)
        whole = np.floor(place)
        left = whole.astype(np.intp)
        place -= whole
        left += rows * _COLUMNS
        # Places are within the table by now; "clip" only spares numpy its own check.
        low = self.values.take(left, out=whole, mode="clip")
        left += 1
        high = self.values.take(left, mode="clip")
        high -= low
        high *= place
        to += low
        to += high


def count_table(seeds: "Whole", clumping_class: "Whole", clumpings: "Array") -> CountTable:
    """Lay out `log_rising` for every number of seeds and class of clumping that occurs.

    Parameters
    ----------
    seeds, clumping_class : ndarray of int, same shape
        Seeds in one class of one test, and which of `clumpings` holds for the test.
    clumpings : ndarray of float

    Returns
    -------
    CountTable
        Between its nodes right to 2e-5 for each seed counted.

    Source
    ------
    As `log_rising`.

    Examples
    --------
    >>> import math
    >>> import numpy as np
    >>> table = count_table(np.array([3]), np.array([0]), np.array([0.0]))
    >>> found = np.zeros(1, np.float32)
    >>> table.add(found, table.rows(np.array([3]), np.array([0])), np.zeros(1, np.float32))
    >>> bool(abs(found[0] - 3 * math.log(0.5)) < 1e-5)
    True
    """
    import numpy as np

    most = int(seeds.max(initial=0)) + 1
    pairs = np.flatnonzero(np.bincount((clumping_class * most + seeds).ravel()))
    deviates = (_STEP * np.arange(_COLUMNS) - _REACH).astype(np.float64)
    shares = np.asarray(share_from_deviate(deviates))
    which, counted = pairs // most, pairs % most
    values = log_rising(
        shares[np.newaxis, :], counted[:, np.newaxis].astype(np.float64), clumpings[which][:, np.newaxis]
    )
    row_of_seeds = np.zeros((len(clumpings), most), dtype=np.int64)
    row_of_seeds[which, counted] = np.arange(len(pairs))
    return CountTable(values.astype(np.float32).ravel(), row_of_seeds, clumpings)
