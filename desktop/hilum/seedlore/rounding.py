"""The published way to round the classes of a germination test so that they add to 100."""

from dataclasses import dataclass
from fractions import Fraction
from math import floor

from hilum.seedlore.counts import OTHER_CLASSES, CountError

_HALF = Fraction(1, 2)
NOT_CLASSED = "not_classed"


@dataclass(frozen=True, slots=True)
class RoundedClasses:
    """A germination result in whole percent that adds to 100.

    None is a class that was not counted; what it may hold is in `not_classed`.
    """

    normal: int
    abnormal: int | None
    hard: int | None
    fresh: int | None
    dead: int | None
    not_classed: int


def rounded_half_up(value: Fraction | float) -> int:
    """Round to the nearest whole number, a half upward.

    Parameters
    ----------
    value : Fraction or float
        0 or more.

    Returns
    -------
    int

    Source
    ------
    Mean germination to the nearest whole per cent: activestudy.info on the ISTA Rules; half upward
    from memory.

    Examples
    --------
    >>> rounded_half_up(90.5), rounded_half_up(90.49)
    (91, 90)
    """
    return floor(Fraction(value) + _HALF)


def round_classes(
    sown: int,
    *,
    normal: float,
    abnormal: float | None = None,
    hard: float | None = None,
    fresh: float | None = None,
    dead: float | None = None,
) -> RoundedClasses:
    """Turn counts into whole percentages that add to 100.

    Normal seedlings are rounded first. The other classes lose their fractions; while the sum is
    short of 100, one is added to the class that lost most, ties in the order abnormal, hard, fresh,
    dead. Seeds of classes that were not counted are one class more, the last in that order.

    Parameters
    ----------
    sown : int
        Seeds sown, 1 or more; 100 when percentages are given.
    normal, abnormal, hard, fresh, dead : float
        Seeds of each class in all dishes together, 0 or more; None for a class not counted.

    Returns
    -------
    RoundedClasses

    Raises
    ------
    CountError
        The classes hold more seeds than were sown, or all are counted and hold fewer.

    Source
    ------
    From memory: ISTA Rules 5.8.1.

    Examples
    --------
    >>> round_classes(400, normal=346, abnormal=21, hard=10, fresh=5, dead=18)
    RoundedClasses(normal=87, abnormal=5, hard=3, fresh=1, dead=4, not_classed=0)
    >>> round_classes(50, normal=41, hard=2)
    RoundedClasses(normal=82, abnormal=None, hard=4, fresh=None, dead=None, not_classed=14)
    """
    given = dict(zip(OTHER_CLASSES, (abnormal, hard, fresh, dead), strict=True))
    counted = {name: Fraction(count) for name, count in given.items() if count is not None}
    rest = Fraction(sown) - Fraction(normal) - sum(counted.values())
    if sown < 1 or min(Fraction(normal), *counted.values(), Fraction(0)) < 0 or rest < 0:
        raise CountError(f"The classes do not fit into {sown} seeds sown. Correct the counts.")
    if rest > 0 and len(counted) == len(given):
        raise CountError(
            f"The classes hold {float(rest):g} seeds fewer than the {sown} sown. Correct the counts."
        )
    exact = {name: 100 * count / sown for name, count in {**counted, NOT_CLASSED: rest}.items()}
    whole = {name: floor(percent) for name, percent in exact.items()}
    first = rounded_half_up(100 * Fraction(normal) / sown)
    # Python's sort keeps the order of equal keys, which is the order of the ties.
    by_loss = sorted(exact, key=lambda name: whole[name] - exact[name])
    for name in by_loss[: 100 - first - sum(whole.values())]:
        whole[name] += 1
    return RoundedClasses(
        normal=first,
        abnormal=whole.get("abnormal"),
        hard=whole.get("hard"),
        fresh=whole.get("fresh"),
        dead=whole.get("dead"),
        not_classed=whole[NOT_CLASSED],
    )
