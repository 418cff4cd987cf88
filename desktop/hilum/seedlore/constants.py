"""Species constants of longevity: published sets, each with its standing, kept apart and never merged."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from hilum.errors import BadInput
from hilum.seedlore.arrays import RangeError, check_between
from hilum.seedlore.tables import Line, rule, table

SOUND, FROM_MEMORY, DOUBTFUL, LEFT_OUT = "sound", "from memory", "doubtful", "left out"
STANDINGS = (SOUND, FROM_MEMORY, DOUBTFUL, LEFT_OUT)
TEMPERATURE_TERMS = ("fitted", "universal", "universal, one temperature", "common to 12 crops")
READ_IN = ("the paper's abstract", "a compilation", "from memory")


class NoConstants(BadInput):
    """There are no constants of longevity that may be used for this species."""


@dataclass(frozen=True, slots=True)
class ViabilityConstants:
    """One published set of constants of the viability equation, logarithms to base 10, days, percent.

    `standing` is one of `STANDINGS`; only a sound set is used without being asked for by name.
    """

    ke: float
    cw: float
    ch: float
    cq: float
    species: str = ""
    taxon: str = ""
    common_name: str = ""
    temperature_terms: str = "fitted"
    standing: str = SOUND
    doubt: str | None = None
    ke_se: float | None = None
    cw_se: float | None = None
    read_in: str = ""
    source: str = "given by the keeper"
    note: str | None = None

    def __post_init__(self) -> None:
        if self.cw <= 0:
            raise RangeError(f"CW of {self.cw:g} would let moist seed live longest. Give more than 0.")
        if self.ch < 0 or self.cq < 0 or self.ch == self.cq == 0:
            raise RangeError(
                f"CH of {self.ch:g} and CQ of {self.cq:g} would let warm seed live as long as cold seed, or "
                "longer. Give 0 or more, and not 0 for both."
            )

    @property
    def words(self) -> str:
        """The set as it is cited: where from, and what is to be known of it."""
        read = " (from memory)" if self.read_in == "from memory" else ""
        doubt = f"; {self.standing}: {self.doubt}" if self.doubt and self.standing != SOUND else ""
        return f"{self.source}{read}{doubt}"


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A published set that cannot be used at all, with the reason."""

    taxon: str
    why: str
    source: str


def given_constants(
    ke: float, cw: float, ch: float | None = None, cq: float | None = None
) -> ViabilityConstants:
    """Make a set of constants of figures that a keeper gives, with universal temperature terms where none are given.

    Parameters
    ----------
    ke, cw : float
        Intercept and moisture term; CW more than 0.
    ch, cq : float or None
        Temperature terms, 0 or more; both or neither.

    Returns
    -------
    ViabilityConstants

    Raises
    ------
    RangeError
        A term has the wrong sign or lies far from any published one, or one temperature term is given
        without the other.

    Source
    ------
    Universal pair: Dickie, Ellis, Kraak, Ryder & Tompsett 1990, Ann. Bot. 65, 197-204.

    Examples
    --------
    >>> given_constants(6.895, 4.2).ch
    0.0329
    """
    # Far wider than anything published, and narrow enough that no power of ten runs away.
    for what, figure, low, high in (
        ("KE", ke, -50.0, 50.0), ("CW", cw, -20.0, 20.0), ("CH", ch, -1.0, 1.0), ("CQ", cq, -0.05, 0.05)
    ):  # fmt: skip
        if figure is not None:
            check_between(figure, low, high, f"A {what}", "")
    if (ch is None) != (cq is None):
        raise RangeError("CH and CQ belong together. Give both, or neither for the universal pair.")
    if ch is None or cq is None:
        pair = rule("universal_ch")
        return ViabilityConstants(
            ke, cw, pair.value, rule("universal_cq").value, temperature_terms="universal",
            source=f"given by the keeper; temperature terms: {pair.source}",
        )  # fmt: skip
    return ViabilityConstants(ke, cw, ch, cq)


@cache
def _sets() -> Mapping[str, tuple[ViabilityConstants, ...]]:
    found: dict[str, list[ViabilityConstants]] = {}
    for line in table("viability_constants"):
        one = _read(line)
        if one is not None:
            found.setdefault(one.species, []).append(one)
    return MappingProxyType({species: tuple(sets) for species, sets in found.items()})


def _read(line: Line) -> ViabilityConstants | None:
    """Make a set of a line; one that is left out gives none, and its signs need not be right."""
    standing, doubt = line.one_of("standing", STANDINGS), line.optional_text("doubt")
    if standing != SOUND and doubt is None:
        raise line.wrong(f"a set that is {standing} must say why")
    if standing == LEFT_OUT:
        return None
    try:
        return ViabilityConstants(
            ke=line.number("ke"),
            cw=line.number("cw"),
            ch=line.number("ch"),
            cq=line.number("cq"),
            species=line.text("species"),
            taxon=line.text("taxon"),
            common_name=line.text("common_name"),
            temperature_terms=line.one_of("temperature_terms", TEMPERATURE_TERMS),
            standing=standing,
            doubt=doubt,
            ke_se=line.optional_number("ke_se"),
            cw_se=line.optional_number("cw_se"),
            read_in=line.one_of("read_in", READ_IN),
            source=line.text("source"),
            note=line.optional_text("note"),
        )
    except RangeError as wrong:
        raise line.wrong(str(wrong)) from None


def constants_of(species: str, standings: tuple[str, ...] = (SOUND,)) -> tuple[ViabilityConstants, ...]:
    """Give the published sets of constants of a species, its cultivars and subspecies with it.

    Parameters
    ----------
    species : str
        Genus and species, as a crop's `constants_species` says.
    standings : tuple of str
        Which to give; some of sound, from memory, doubtful.

    Returns
    -------
    tuple of ViabilityConstants
        In the order of the table; empty where there is none.

    Source
    ------
    Each set names its own.

    Examples
    --------
    >>> [one.ke for one in constants_of("Lactuca sativa")]
    [7.938, 6.895]
    """
    return tuple(one for one in _sets().get(species, ()) if one.standing in standings)


def usable_constants(species: str | None, name: str = "this crop") -> tuple[ViabilityConstants, ...]:
    """Give the sound sets of a species, or say why there is none that may be used.

    Parameters
    ----------
    species : str or None
        Genus and species; None where the crop has none.
    name : str
        The crop, for the message.

    Returns
    -------
    tuple of ViabilityConstants
        One or more.

    Raises
    ------
    NoConstants
        No set at all, or only doubtful ones; the message says what is doubtful.

    Source
    ------
    Each set names its own.

    Examples
    --------
    >>> len(usable_constants("Beta vulgaris"))
    3
    """
    sound = constants_of(species) if species else ()
    if sound:
        return sound
    others = constants_of(species, (FROM_MEMORY, DOUBTFUL)) if species else ()
    if not others:
        raise NoConstants(
            f"No constants of longevity are published for {name}. Use its usual storage life, or give "
            "constants of your own (KE, CW)."
        )
    doubts = "; ".join(f"{one.source}: {one.doubt}" for one in others)
    raise NoConstants(
        f"The constants published for {name} ({species}) are doubtful and are not used unasked. {doubts}. "
        "Use its usual storage life, or give constants of your own (KE, CW)."
    )


def all_constants() -> tuple[ViabilityConstants, ...]:
    """Give every set that is not left out, sound or not, in the order of species.

    Returns
    -------
    tuple of ViabilityConstants

    Source
    ------
    Each set names its own.

    Examples
    --------
    >>> len(all_constants())
    124
    """
    return tuple(one for sets in _sets().values() for one in sets)


def left_out_constants() -> tuple[LeftOut, ...]:
    """Give the published sets that cannot be used at all, and why.

    Returns
    -------
    tuple of LeftOut

    Source
    ------
    Each names its own.

    Examples
    --------
    >>> len(left_out_constants())
    6
    """
    return tuple(
        LeftOut(line.text("taxon"), line.text("doubt"), line.text("source"))
        for line in table("viability_constants")
        if line.text("standing") == LEFT_OUT
    )
