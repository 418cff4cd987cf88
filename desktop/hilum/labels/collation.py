"""Collation: copies in the order a hand can use, groups kept apart by a separator label."""

import itertools
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cache

from hilum.labels.designs import LabelDesign, read_design
from hilum.labels.orders import LabelData
from hilum.resources import resource


@dataclass(frozen=True, slots=True)
class Separator:
    """A label between two groups: it says what follows, and has no code."""

    group: str
    note: str = ""

    def label(self) -> LabelData:
        """Give it as a label of the separator's own design."""
        return LabelData(f"separator {self.group}", {"group": self.group, "note": self.note})


@cache
def separator_design() -> LabelDesign:
    """Give the design of a separator; it is no design a keeper prints by."""
    return read_design(resource("designs", "inner", "separator.toml"))


def collated(
    labels: Sequence[LabelData],
    copies: Sequence[int] | int = 1,
    *,
    whole_sets: bool = False,
    group: Callable[[LabelData], str] | None = None,
) -> list[LabelData | Separator]:
    """Repeat labels, all copies of one together or in whole sets, with a separator before each group.

    `copies` is one number for all or one a label. `group` says which group a label belongs to; groups stand
    in the order in which they are first met.
    """
    numbers = [copies] * len(labels) if isinstance(copies, int) else list(copies)
    if len(numbers) != len(labels) or min(numbers, default=0) < 0:
        raise ValueError(f"{len(numbers)} numbers of copies for {len(labels)} labels.")
    pairs = list(zip(labels, numbers, strict=True))
    if group is None:
        return list(_repeated(pairs, whole_sets))
    names = list(dict.fromkeys(map(group, labels)))
    found: list[LabelData | Separator] = []
    for name in names:
        here = list(_repeated([pair for pair in pairs if group(pair[0]) == name], whole_sets))
        if here:
            found += [Separator(name, f"{len(here)} label{'s' if len(here) > 1 else ''}"), *here]
    return found


def _repeated(pairs: list[tuple[LabelData, int]], whole_sets: bool) -> list[LabelData]:
    if not whole_sets:
        return [label for label, number in pairs for _ in range(number)]
    most = max((number for _, number in pairs), default=0)
    rounds = ([label for label, number in pairs if number > done] for done in range(most))
    return list(itertools.chain.from_iterable(rounds))
