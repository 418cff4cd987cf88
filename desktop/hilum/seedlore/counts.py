"""What was counted in a germination test: dishes, and the class each seed ended in."""

from collections.abc import Sequence
from dataclasses import dataclass

from hilum.errors import BadInput

# In the order in which ties are settled when percentages are rounded (from memory: ISTA Rules 5.8.1).
OTHER_CLASSES = ("abnormal", "hard", "fresh", "dead")


class CountError(BadInput):
    """Counts that cannot belong to one germination test."""


@dataclass(frozen=True, slots=True)
class GerminationCounts:
    """The final counts of one germination test, one figure for each dish (replicate).

    A class that was not counted is None. It is never taken as nought: seeds of which nothing is
    known are "not classed". When all five classes are counted they account for every seed sown.
    """

    sown: tuple[int, ...]
    normal: tuple[int, ...]
    abnormal: tuple[int, ...] | None = None
    hard: tuple[int, ...] | None = None
    fresh: tuple[int, ...] | None = None
    dead: tuple[int, ...] | None = None

    def __post_init__(self) -> None:
        if not self.sown:
            raise CountError("This test cannot be: no dish was given. Give the seeds of each dish.")
        for what, counts in (("sown", self.sown), ("normal", self.normal), *self._others()):
            if counts is None:
                continue
            if len(counts) != len(self.sown):
                raise CountError(
                    f"This test cannot be: {len(self.sown)} dishes were sown, but {len(counts)} figures are "
                    "given as "
                    f"{what}. Give one for each dish."
                )
            for dish, count in enumerate(counts, start=1):
                if count < (1 if what == "sown" else 0):
                    raise CountError(
                        f"This test cannot be: dish {dish} has {count} {what} seeds, which cannot be."
                    )
        for dish in range(len(self.sown)):
            self._check_dish(dish)

    def _others(self) -> tuple[tuple[str, tuple[int, ...] | None], ...]:
        return tuple((name, getattr(self, name)) for name in OTHER_CLASSES)

    def _check_dish(self, dish: int) -> None:
        sown, normal = self.sown[dish], self.normal[dish]
        if normal > sown:
            raise CountError(
                f"This test cannot be: in dish {dish + 1}, {normal} seeds germinated, but only {sown} were "
                "sown. "
                "Correct one of the two counts."
            )
        counted = normal + sum(counts[dish] for _, counts in self._others() if counts is not None)
        if counted > sown:
            raise CountError(
                f"This test cannot be: in dish {dish + 1}, the classes add up to {counted} seeds, but only "
                f"{sown} were "
                "sown. Correct the counts."
            )
        if counted < sown and all(counts is not None for _, counts in self._others()):
            raise CountError(
                f"This test cannot be: in dish {dish + 1}, the classes add up to {counted} seeds, but {sown} "
                "were sown. "
                "Find the missing seeds, or leave out a class that was not counted."
            )

    @property
    def seeds(self) -> int:
        """All seeds put to germinate."""
        return sum(self.sown)

    @property
    def germinated(self) -> int:
        """All normal seedlings: what germination counts."""
        return sum(self.normal)

    def total(self, name: str) -> int | None:
        """Give the seeds of one class in all dishes together, or None where it was not counted.

        Parameters
        ----------
        name : str
            normal, abnormal, hard, fresh or dead.

        Returns
        -------
        int or None

        Source
        ------
        7 CFR 201.56 to 201.57a, for the classes.

        Examples
        --------
        >>> GerminationCounts((50, 50), (40, 44), hard=(2, 0)).total("hard")
        2
        """
        counts: Sequence[int] | None = getattr(self, name)
        return None if counts is None else sum(counts)


def germination_counts(
    of: int | Sequence[int],
    normal: Sequence[int],
    *,
    abnormal: Sequence[int] | None = None,
    hard: Sequence[int] | None = None,
    fresh: Sequence[int] | None = None,
    dead: Sequence[int] | None = None,
) -> GerminationCounts:
    """Put the counts of a test together, with one number of seeds for all dishes or one for each.

    Parameters
    ----------
    of : int or sequence of int
        Seeds sown in a dish.
    normal, abnormal, hard, fresh, dead : sequence of int
        Seeds of each class, one figure a dish; None for a class that was not counted.

    Returns
    -------
    GerminationCounts

    Raises
    ------
    CountError
        The counts cannot belong to one test; the message names the dish.

    Source
    ------
    7 CFR 201.56 to 201.57a, for the classes.

    Examples
    --------
    >>> germination_counts(100, [86, 88, 84, 90]).germinated
    348
    """
    sown = (of,) * len(normal) if isinstance(of, int) else tuple(of)

    def fixed(counts: Sequence[int] | None) -> tuple[int, ...] | None:
        return None if counts is None else tuple(counts)

    return GerminationCounts(
        sown=sown,
        normal=tuple(normal),
        abnormal=fixed(abnormal),
        hard=fixed(hard),
        fresh=fixed(fresh),
        dead=fixed(dead),
    )
