"""What can go wrong between words and ink, and what is only worth a warning."""

from collections.abc import Sequence
from dataclasses import dataclass

from hilum.errors import BadInput, KeeperError


class LabelError(BadInput):
    """A print job that cannot be done as asked; no PDF was made."""


class DesignError(LabelError):
    """A label design file that cannot be meant; names the file, the key and what is allowed."""


class UnfitLabels(LabelError):
    """Words that may not be shortened do not fit on some labels; `keys` names each of them once."""

    def __init__(self, why: str, keys: tuple[str, ...]) -> None:
        super().__init__(why if len(keys) == 1 else f"{why} {_others(keys)}")
        self.why, self.keys = why, keys


def _others(keys: tuple[str, ...]) -> str:
    more = len(keys) - 1
    return (
        f"{more} more {'label does' if more == 1 else 'labels do'} not fit either: {some_of(list(keys[1:]))}."
    )


def joined_unfit(faults: Sequence[UnfitLabels]) -> UnfitLabels:
    """Make one refusal of several: the words of the first, the names of all."""
    keys = tuple(dict.fromkeys(key for fault in faults for key in fault.keys))
    return UnfitLabels(faults[0].why, keys)


class LabelsStopped(KeeperError):
    """The keeper stopped a print job; no PDF was made."""


@dataclass(frozen=True, slots=True)
class LabelWarning:
    """Something on one label that a keeper should look at before printing."""

    key: str
    box: str
    why: str


def some_of(names: list[str], most: int = 5) -> str:
    """Word a list of names for a message: all of them, or the first few and how many more."""
    unique = list(dict.fromkeys(names))
    if len(unique) <= most:
        return ", ".join(unique)
    return f"{', '.join(unique[:most])} and {len(unique) - most} more"
