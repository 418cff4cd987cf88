"""Published standards of germination: the least that seed of a kind should show."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from hilum.errors import BadInput
from hilum.seedlore.tables import table


class UnknownStandard(BadInput):
    """There is no published standard for this kind."""


@dataclass(frozen=True, slots=True)
class Standard:
    """The least germination accepted for a kind, and what is counted towards it."""

    kind: str
    percent: float
    counts_hard_seed: bool
    source: str

    def __post_init__(self) -> None:
        if not 0 < self.percent <= 100:
            raise BadInput(f"A standard of {self.percent:g} % cannot be: give more than 0 and at most 100 %.")

    @property
    def words(self) -> str:
        """The bar by its name, as a verdict says it."""
        hard = ", hard seed counted" if self.counts_hard_seed else ""
        return f"the standard for {self.kind}, {self.percent:g} %{hard}"


def standard(kind: str) -> Standard:
    """Give the published standard for a kind of vegetable.

    Parameters
    ----------
    kind : str
        As the regulation prints it; a crop's `standard_kind`.

    Returns
    -------
    Standard

    Raises
    ------
    UnknownStandard
        The regulation has none for it.

    Source
    ------
    7 CFR 201.31 (2015 annual edition); hard seed counts towards it by the same section.

    Examples
    --------
    >>> standard("Leek").words
    'the standard for Leek, 60 %, hard seed counted'
    """
    try:
        return _standards()[kind]
    except KeyError:
        raise UnknownStandard(f"There is no published standard for {kind!r}. Set one of your own.") from None


def all_standards() -> tuple[Standard, ...]:
    """Give every published standard, in the order of the table.

    Returns
    -------
    tuple of Standard

    Raises
    ------
    TableError
        The table is damaged.

    Source
    ------
    7 CFR 201.31 (2015 annual edition)

    Examples
    --------
    >>> min(one.percent for one in all_standards())
    40.0
    """
    return tuple(_standards().values())


@cache
def _standards() -> Mapping[str, Standard]:
    # 7 CFR 201.31 compares each of its figures with germination including hard seed, so this is
    # one fact about the whole table and not a column of it.
    found: dict[str, Standard] = {}
    for line in table("germination_standard_vegetable"):
        kind = line.text("kind")
        if kind in found:
            raise line.wrong(f"{kind} stands there twice")
        found[kind] = Standard(kind, line.number("percent"), True, line.text("source"))
    return MappingProxyType(found)
