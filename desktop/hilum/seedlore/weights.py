"""Seed and its weight: thousand-seed weight, seeds in a mass, the fill of a packet, the reserve."""

import math
import statistics
from collections.abc import Sequence
from dataclasses import dataclass

from hilum.errors import BadInput
from hilum.seedlore.tables import Rule, rule, table

_UG_PER_MG = 1000


class WeightError(BadInput):
    """Weights or numbers of seeds that cannot be."""


@dataclass(frozen=True, slots=True)
class ThousandSeedWeight:
    """The weight of a thousand seeds, and how well the replicates agree.

    `tsw_g` is not rounded; `shown` has the published number of decimals. `retest` says that more
    replicates have to be weighed before the figure is used.
    """

    tsw_g: float
    cv_percent: float | None
    cv_limit_percent: float
    retest: bool
    seeds_counted: int
    dropped_g: tuple[float, ...]
    why: str
    source: str

    @property
    def tsw_ug(self) -> int:
        """The weight of a thousand seeds in whole micrograms, as the books keep it."""
        return round(self.tsw_g * 1_000_000)

    @property
    def shown(self) -> str:
        """The weight in grams with the published number of decimals."""
        return f"{self.tsw_g:.{weighing_decimals(self.tsw_g)}f}"


def weighing_decimals(mass_g: float) -> int:
    """Say to how many decimals of a gram a mass is weighed and shown.

    Parameters
    ----------
    mass_g : float
        More than 0.

    Returns
    -------
    int

    Raises
    ------
    WeightError
        The mass is not more than 0.

    Source
    ------
    SNICS Mexico, note on estimating the weight of seeds (gob.mx), after the ISTA Rules.

    Examples
    --------
    >>> [weighing_decimals(grams) for grams in (0.85, 7.5, 42, 310, 1250)]
    [4, 3, 2, 1, 0]
    """
    _more_than_nothing(mass_g, "The mass", "g")
    for line in table("weighing_decimals"):
        below_g = line.optional_number("mass_below_g")
        if below_g is None or mass_g < below_g:
            return line.whole("decimals")
    raise table("weighing_decimals")[-1].wrong("the last line must have no upper limit")


def thousand_seed_weight(
    replicates_g: Sequence[float], seeds: int | Sequence[int], *, chaffy: bool = False
) -> ThousandSeedWeight:
    """Reckon the thousand-seed weight of a lot from counted and weighed replicates.

    Parameters
    ----------
    replicates_g : sequence of float
        Weight of each replicate, grams, each more than 0.
    seeds : int or sequence of int
        Seeds in each replicate (one number for all, or one for each).
    chaffy : bool
        Chaffy grass seed, for which replicates may differ more.

    Returns
    -------
    ThousandSeedWeight
        With one replicate there is no coefficient of variation and no retest. When it is above the
        limit eight more replicates are asked for; once sixteen or more are given, those further
        than two standard deviations from the mean are dropped and the rest is taken.

    Raises
    ------
    WeightError
        A weight or a count is not more than 0, or there are more of the one than of the other.

    Source
    ------
    SNICS Mexico, note on estimating the weight of seeds (gob.mx), after the ISTA Rules; variance as in
    the FRSA 2001 tutorial on the AOSA Rules, Appendix 4; mean times ten: Natural Resources Canada,
    National Tree Seed Centre; 6.0 for chaffy seed from memory.

    Examples
    --------
    >>> found = thousand_seed_weight([0.2224, 0.2134, 0.213, 0.2116, 0.2145, 0.2071, 0.2116, 0.2125], 100)
    >>> found.shown, round(found.cv_percent, 2), found.retest
    ('2.133', 2.01, False)
    """
    counts = [seeds] * len(replicates_g) if isinstance(seeds, int) else list(seeds)
    if not replicates_g or len(counts) != len(replicates_g):
        raise WeightError(
            f"{len(replicates_g)} weights and {len(counts)} counts of seeds were given. Give one weight for "
            "each count."
        )
    for grams, count in zip(replicates_g, counts, strict=True):
        _more_than_nothing(grams, "A replicate", "g")
        _more_than_nothing(count, "A count", "seeds")
    limit = rule("thousand_seed_weight_cv_percent_chaffy" if chaffy else "thousand_seed_weight_cv_percent")
    return _agreed(list(replicates_g), counts, limit)


def _agreed(replicates_g: list[float], counts: list[int], limit: Rule) -> ThousandSeedWeight:
    """Average the replicates if they agree; say what has to be done if they do not."""
    each_g = [1000 * grams / count for grams, count in zip(replicates_g, counts, strict=True)]
    mean_g, seeds = statistics.fmean(each_g), sum(counts)
    if len(each_g) == 1:
        why = f"One replicate of {seeds} seeds was weighed: how far replicates differ is not known."
        return ThousandSeedWeight(mean_g, None, limit.value, False, seeds, (), why, limit.source)
    cv_percent = 100 * statistics.stdev(each_g) / mean_g
    full = int(rule("thousand_seed_weight_full_replicates").value)
    found = f"their coefficient of variation is {cv_percent:.1f} %, at most {limit.value:.1f} % is allowed"
    if cv_percent <= limit.value:
        why = f"The replicates agree: {found}."
        return ThousandSeedWeight(mean_g, cv_percent, limit.value, False, seeds, (), why, limit.source)
    if len(each_g) < 2 * full:
        why = (
            f"The replicates differ too much: {found}. Count and weigh {full} more and give all of them "
            "together."
        )
        return ThousandSeedWeight(mean_g, cv_percent, limit.value, True, seeds, (), why, limit.source)
    deviations = rule("thousand_seed_weight_discard_deviations").value
    reach_g = deviations * statistics.stdev(each_g)
    kept = [abs(one - mean_g) <= reach_g for one in each_g]
    dropped = tuple(grams for grams, keep in zip(replicates_g, kept, strict=True) if not keep)
    why = (
        f"The replicates differ too much: {found}. {len(dropped)} of {len(each_g)} lay further than "
        f"{deviations:g} standard deviations from the mean and were left out; the rest is averaged."
    )
    mean_kept_g = statistics.fmean([one for one, keep in zip(each_g, kept, strict=True) if keep])
    used = sum(count for count, keep in zip(counts, kept, strict=True) if keep)
    return ThousandSeedWeight(mean_kept_g, cv_percent, limit.value, False, used, dropped, why, limit.source)


def seeds_in(mass_mg: int, tsw_ug: int) -> int:
    """Reckon how many seeds are in a mass, rounded down so that none is promised that is not there.

    Parameters
    ----------
    mass_mg : int
        Milligrams, 0 or more.
    tsw_ug : int
        Thousand-seed weight in micrograms, more than 0.

    Returns
    -------
    int

    Raises
    ------
    WeightError
        One of the two cannot be.

    Source
    ------
    seeds = 1000 x mass / thousand-seed weight; Learn Seed Saving, Packaging. Rounding down: our own choice.

    Examples
    --------
    >>> seeds_in(mass_mg=3750, tsw_ug=2_132_625)
    1758
    """
    if mass_mg < 0:
        raise WeightError(f"A mass of {mass_mg} mg cannot be. Give 0 or more.")
    _more_than_nothing(tsw_ug, "The thousand-seed weight", "µg")
    return mass_mg * _UG_PER_MG * 1000 // tsw_ug


def mass_of(seeds: int, tsw_ug: int) -> int:
    """Reckon the mass of a number of seeds, rounded up to whole milligrams so that none is missing.

    Parameters
    ----------
    seeds : int
        0 or more.
    tsw_ug : int
        Thousand-seed weight in micrograms, more than 0.

    Returns
    -------
    int
        Milligrams.

    Raises
    ------
    WeightError
        One of the two cannot be.

    Source
    ------
    mass = seeds x thousand-seed weight / 1000; NDSU/MSU Extension, Seed counts. Rounding up: our own choice.

    Examples
    --------
    >>> mass_of(seeds=200, tsw_ug=2_577_000)
    516
    """
    if seeds < 0:
        raise WeightError(f"{seeds} seeds cannot be. Give 0 or more.")
    _more_than_nothing(tsw_ug, "The thousand-seed weight", "µg")
    return -(-seeds * tsw_ug // (_UG_PER_MG * 1000))


@dataclass(frozen=True, slots=True)
class PacketFill:
    """What goes into one packet."""

    fill_mg: int
    exact_mg: float
    seeds_wanted: int
    seeds_filled: int
    step_mg: int
    too_light: bool
    why: str


def packet_fill(
    seeds: int,
    tsw_ug: int,
    germination_percent: float | None = None,
    viable: bool = False,
    step_mg: int = 10,
) -> PacketFill:
    """Reckon the weight to fill into one packet, rounded up to what the scale shows.

    Parameters
    ----------
    seeds : int
        Seeds wanted in the packet; with `viable`, seeds that will germinate. 1 or more.
    tsw_ug : int
        Thousand-seed weight in micrograms, more than 0.
    germination_percent : float or None
        More than 0, at most 100; only used with `viable`.
    viable : bool
        Fill more so that the number wanted germinates.
    step_mg : int
        The smallest step of the scale, milligrams, 1 or more.

    Returns
    -------
    PacketFill
        `too_light` says that the fill is under five steps of the scale, where a measured spoon
        (five spoons counted once) is truer than the scale.

    Raises
    ------
    WeightError
        A figure cannot be, or `viable` was asked for without a germination.

    Source
    ------
    mass = seeds x thousand-seed weight / 1000; NDSU/MSU Extension, Seed counts. Weight up when filling:
    our own choice. Spoon: Learn Seed Saving, Packaging. Five steps: common practice, no source.

    Examples
    --------
    >>> packet_fill(40, 2_577_000).fill_mg
    110
    >>> packet_fill(40, 2_577_000, germination_percent=80, viable=True).seeds_wanted
    50
    """
    _more_than_nothing(seeds, "The number of seeds", "seeds")
    _more_than_nothing(tsw_ug, "The thousand-seed weight", "µg")
    _more_than_nothing(step_mg, "The step of the scale", "mg")
    wanted = seeds
    if viable:
        if germination_percent is None:
            raise WeightError(
                "To fill by seeds that will germinate, a germination figure is needed, and this lot has "
                "none. "
                "Test it first, or fill by number of seeds."
            )
        if not 0 < germination_percent <= 100:
            raise WeightError(
                f"A germination of {germination_percent:g} % cannot fill a packet. Give more than 0, at most "
                "100."
            )
        wanted = math.ceil(round(100 * seeds / germination_percent, 6))
    exact_ug = wanted * tsw_ug
    fill_mg = -(-exact_ug // (_UG_PER_MG * 1000 * step_mg)) * step_mg
    steps = rule("weighable_scale_steps")
    exact_mg = exact_ug / (_UG_PER_MG * 1000)
    too_light = exact_mg < steps.value * step_mg
    why = (
        f"{exact_mg:.1f} mg is too light for a scale that shows steps of {step_mg} mg: count what five level "
        "spoons of a small measure hold, once, and fill by the spoon."
        if too_light
        else f"{exact_mg:.1f} mg, rounded up to the {step_mg} mg step of the scale."
    )
    return PacketFill(fill_mg, exact_mg, wanted, seeds_in(fill_mg, tsw_ug), step_mg, too_light, why)


def reserve_seeds(plants: int, germination: float, field_survival: float, factor: float | None = None) -> int:
    """Reckon the part of a stock that must not be packed: enough seeds to grow the variety again.

    Parameters
    ----------
    plants : int
        Plants recommended for the crop, 1 or more.
    germination : float
        As a fraction, more than 0, at most 1.
    field_survival : float
        Share of the seedlings that become plants, a fraction, more than 0, at most 1.
    factor : float or None
        How many times over; 2 unless set, and not less than 1.

    Returns
    -------
    int
        Seeds, rounded up.

    Raises
    ------
    WeightError
        A figure cannot be.

    Source
    ------
    Our own choice: plants / (germination x field survival) x factor.

    Examples
    --------
    >>> reserve_seeds(100, germination=0.8, field_survival=0.5)
    500
    """
    times = rule("reserve_factor").value if factor is None else factor
    _more_than_nothing(plants, "The number of plants", "plants")
    for share, what in ((germination, "germination"), (field_survival, "field survival")):
        if not 0 < share <= 1:
            raise WeightError(
                f"A {what} of {share:g} cannot be: give a fraction above 0 and up to 1 (0.8 for 80 %)."
            )
    if times < 1:
        raise WeightError(f"A reserve of {times:g} times the seed needed is too small. Give 1 or more.")
    # Rounded to a millionth first: 100 / (0.8 * 0.5) must be 250 and not one seed more.
    return math.ceil(round(plants / (germination * field_survival) * times, 6))


def _more_than_nothing(amount: float, what: str, unit: str) -> None:
    if not (amount > 0 and math.isfinite(amount)):
        raise WeightError(f"{what} is {amount:g} {unit}, which cannot be. Give more than 0.")
