"""Published methods of germination test: what the seed lies on, how warm, and when it is counted."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from hilum.errors import BadInput
from hilum.seedlore.tables import Line, table

_WARM_HOURS = 8  # 7 CFR 201.58(a)(8): about 16 h at the first temperature and 8 h at the second


class UnknownMethod(BadInput):
    """There is no published method under this key."""


@dataclass(frozen=True, slots=True)
class Substrate:
    """What seed is laid on or in for a germination test."""

    code: str
    name: str
    description: str
    seed_position: str
    source: str


@dataclass(frozen=True, slots=True)
class Warmth:
    """A temperature to germinate at: constant, or a longer and a shorter part of the day with their own."""

    long_c: int
    short_c: int

    @property
    def is_constant(self) -> bool:
        """Whether the temperature stays the same all day."""
        return self.long_c == self.short_c

    @property
    def words(self) -> str:
        """The temperature as a keeper reads it."""
        if self.is_constant:
            return f"{self.long_c} °C"
        return f"{self.long_c} °C for {24 - _WARM_HOURS} h, {self.short_c} °C for {_WARM_HOURS} h a day"


@dataclass(frozen=True, slots=True)
class GerminationMethod:
    """How seed of one kind is tested for germination, by the published rules.

    `notes` are the oddities of the published row; one that says "check before use" also stands in
    `doubts` and has to be shown wherever the figure it speaks of is shown. `others` are further
    methods for the same kind.
    """

    key: str
    kind: str
    variant: str
    botanical_name: str | None
    substrates: tuple[Substrate, ...]
    temperature_c: str
    warmth: Warmth
    alternates: tuple[Warmth, ...]
    first_count_days: int | None
    final_count_days: int
    hard_seed_possible: bool
    light: str | None
    kno3: str | None
    prechill_when: str | None
    prechill_c: str | None
    prechill_days: int | None
    dormant_percentage_reported: bool
    requirements: str | None
    dormant_seed_treatment: str | None
    notes: str | None
    source: str
    others: tuple["GerminationMethod", ...] = ()

    @property
    def doubts(self) -> tuple[str, ...]:
        """What is doubtful about the published row."""
        return (self.notes,) if self.notes and "check before use" in self.notes else ()

    @property
    def count_days(self) -> tuple[int, ...]:
        """The days on which seedlings are counted, first to last."""
        return tuple(days for days in (self.first_count_days, self.final_count_days) if days is not None)


def warmth(text: str) -> Warmth:
    """Read a temperature as the rules print it: one number, or two with a dash.

    Parameters
    ----------
    text : str
        "20" is a constant 20 °C; "20-30" is about 16 h at 20 °C and 8 h at 30 °C each day.

    Returns
    -------
    Warmth

    Raises
    ------
    ValueError
        The text is neither.

    Source
    ------
    7 CFR 201.58(a)(8)

    Examples
    --------
    >>> warmth("20-30").words
    '20 °C for 16 h, 30 °C for 8 h a day'
    >>> warmth("20").words
    '20 °C'
    """
    first, dash, second = text.strip().partition("-")
    return Warmth(int(first), int(second if dash else first))


def substrate(code: str) -> Substrate:
    """Give one substrate by its code.

    Parameters
    ----------
    code : str
        As the rules print it: B, TB, T, S, TS, P, C, TC, RB.

    Returns
    -------
    Substrate

    Raises
    ------
    UnknownMethod
        The rules have no such code.

    Source
    ------
    7 CFR 201.58(a)(7)

    Examples
    --------
    >>> substrate("P").name
    'covered Petri dish'
    """
    try:
        return _substrates()[code]
    except KeyError:
        raise UnknownMethod(
            f"There is no substrate {code!r}; there are {', '.join(_substrates())}."
        ) from None


def all_methods() -> tuple[GerminationMethod, ...]:
    """Give every published method, in the order of the table; further methods hang under the regular one.

    Returns
    -------
    tuple of GerminationMethod

    Raises
    ------
    TableError
        The table is damaged.

    Source
    ------
    7 CFR 201.58 Table 2 (2015 annual edition)

    Examples
    --------
    >>> [other.final_count_days for other in method("onion").others]
    [12]
    """
    return tuple(_methods().values())


def method(key: str) -> GerminationMethod:
    """Give the regular method of one kind.

    Parameters
    ----------
    key : str
        For instance "leek"; a crop's `method_key`.

    Returns
    -------
    GerminationMethod

    Raises
    ------
    UnknownMethod
        No method has this key.

    Source
    ------
    7 CFR 201.58 Table 2 (2015 annual edition)

    Examples
    --------
    >>> leek = method("leek")
    >>> [one.code for one in leek.substrates], leek.warmth.words, leek.count_days
    (['B', 'T'], '20 °C', (6, 14))
    """
    try:
        return _methods()[key]
    except KeyError:
        raise UnknownMethod(
            f"There is no published germination method {key!r}. Choose one from the list."
        ) from None


@cache
def _substrates() -> Mapping[str, Substrate]:
    return MappingProxyType(
        {
            line.text("code"): Substrate(
                line.text("code"),
                line.text("short_name"),
                line.text("description"),
                line.text("seed_position"),
                line.text("source"),
            )
            for line in table("germination_substrata")
        }
    )


@cache
def _methods() -> Mapping[str, GerminationMethod]:
    lines: dict[str, list[Line]] = {}
    for line in table("germination_method"):
        lines.setdefault(line.text("key"), []).append(line)
    return MappingProxyType({key: _with_others(group) for key, group in lines.items()})


def _with_others(lines: list[Line]) -> GerminationMethod:
    regular, *others = lines
    return _read(regular, tuple(_read(line, ()) for line in others))


def _warmths(line: Line, column: str) -> tuple[Warmth, ...]:
    try:
        return tuple(warmth(piece) for piece in line.pieces(column))
    except ValueError:
        raise line.wrong(f"{column} is {line.optional_text(column)!r}, which is no temperature") from None


def _read(line: Line, others: tuple[GerminationMethod, ...]) -> GerminationMethod:
    final_days = line.whole("final_count_days")
    first_days = line.optional_whole("first_count_days")
    if first_days is not None and first_days >= final_days:
        raise line.wrong(f"the first count, day {first_days}, is not before the final one, day {final_days}")
    [regular] = _warmths(line, "temperature_c")
    try:
        substrates = tuple(_substrates()[code] for code in line.pieces("substrata", " "))
    except KeyError as unknown:
        raise line.wrong(f"the substrate {unknown} is not in germination_substrata.csv") from None
    if not substrates:
        raise line.wrong("no substrate is named")
    return GerminationMethod(
        key=line.text("key"),
        kind=line.text("common_name"),
        variant=line.text("method"),
        botanical_name=line.optional_text("botanical_name"),
        substrates=substrates,
        temperature_c=line.text("temperature_c"),
        warmth=regular,
        alternates=_warmths(line, "alternate_temperatures_c"),
        first_count_days=first_days,
        final_count_days=final_days,
        hard_seed_possible=line.is_yes("hard_seed_possible"),
        light=line.optional_text("light"),
        kno3=line.optional_text("kno3"),
        prechill_when=line.optional_text("prechill_when"),
        prechill_c=line.optional_text("prechill_temperature_c"),
        prechill_days=line.optional_whole("prechill_days"),
        dormant_percentage_reported=line.is_yes("dormant_percentage_reported"),
        requirements=line.optional_text("specific_requirements"),
        dormant_seed_treatment=line.optional_text("dormant_seed_treatment"),
        notes=line.optional_text("note"),
        source=line.text("source"),
        others=others,
    )
