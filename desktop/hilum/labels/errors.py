"""What can go wrong between words and ink, and what is only worth a warning."""

from dataclasses import dataclass

from hilum.errors import BadInput, KeeperError


class LabelError(BadInput):
    """A print job that cannot be done as asked; no PDF was made."""


class DesignError(LabelError):
    """A label design file that cannot be meant; names the file, the key and what is allowed."""


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
