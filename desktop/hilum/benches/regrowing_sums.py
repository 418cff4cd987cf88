"""What regrowing a lot takes: plants, seeds to sow for them, how it is kept apart, and what would cross in a garden."""

from collections.abc import Sequence
from dataclasses import dataclass

from hilum.benches.views import LotView
from hilum.catalogue.settings import Settings
from hilum.errors import BadInput
from hilum.seedlore.crops import Crop
from hilum.seedlore.crossing import Isolation, crossing_pairs, isolation
from hilum.seedlore.population import SeedsToSow, chance_of_keeping, plants_for_allele, seeds_to_sow
from hilum.seedlore.tables import rule
from hilum.seedlore.weights import mass_of

CHANCE_WANTED = 0.95
MOST_PLANTS = 100_000
_HOLDS = {
    "treated seed": "On hold, treated seed: gloves on when sowing, wash hands; it is not food or feed.",
    "disease": "On hold, disease: what is carried by the seed is grown with it. Treat it or choose another lot.",
    "insects": "On hold, insects: sow only after they are dead, and look for eaten seed.",
    "doubtful identity": "On hold, doubtful identity: compare the plants with the description before seed is saved.",
}


@dataclass(frozen=True, slots=True)
class RegrowingSums:
    """Plants and seeds of one regrowing, with the words that say what they rest on."""

    lot: LotView
    plants: int
    plants_words: str
    keeping_chance: float
    keeping_words: str
    losses_percent: int
    germination_percent: float
    sowing: SeedsToSow
    sowing_words: str
    isolation: Isolation | None
    ways: tuple[str, ...]
    warnings: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class GardenCrossing:
    """Two lots of one garden that would cross, why, and the distance to keep."""

    garden: str
    first: str
    second: str
    is_sure: bool
    words: str
    source: str


@dataclass(frozen=True, slots=True)
class InGarden:
    """A lot that is to flower in a garden."""

    garden: str
    number: str
    variety: str
    crop: Crop | None


def usual_plants(reference: Crop | None, settings: Settings) -> int:
    """Give the plants to regrow a crop with: as recommended, else the library's own figure."""
    return (reference.plants_recommended if reference else None) or settings.plants_unpublished


def usual_losses(settings: Settings) -> int:
    """Give the seedlings that are lost before the harvest, in percent, by the library's field survival."""
    return round(100 * (1 - settings.field_survival))


def sums_of(
    shown: LotView,
    settings: Settings,
    *,
    plants: int | None = None,
    losses_percent: int | None = None,
    holds: Sequence[str] = (),
) -> RegrowingSums:
    """Reckon one regrowing; plants and losses are the usual ones unless given. `holds` are those in force."""
    reference = shown.reference
    wanted = plants if plants is not None else usual_plants(reference, settings)
    lost = losses_percent if losses_percent is not None else usual_losses(settings)
    if not 1 <= wanted <= MOST_PLANTS:
        raise BadInput(f"A regrowing has 1 to {MOST_PLANTS:,} plants, not {wanted:,}.")
    percent, from_words = _germination(shown, settings)
    sowing = seeds_to_sow(wanted, percent, lost)
    selfing = reference is not None and reference.mating == "selfing"
    rare = rule("rare_form_percent").value / 100
    chance = chance_of_keeping(rare, wanted, selfing=selfing)
    needed = plants_for_allele(rare, CHANCE_WANTED)
    for_chance = needed.plants if selfing else needed.plants_crossing
    kept = isolation(reference) if reference is not None else None
    return RegrowingSums(
        lot=shown,
        plants=wanted,
        plants_words=_plants_words(reference, settings),
        keeping_chance=chance,
        keeping_words=(
            f"{wanted:,} plants keep a form that {100 * rare:g} % of the variety carries with a chance of "
            f"{_percent(chance)}; {100 * CHANCE_WANTED:g} % take {for_chance} plants."
        ),
        losses_percent=lost,
        germination_percent=percent,
        sowing=sowing,
        sowing_words=(
            f"Sow {sowing.seeds_to_be_sure:,} seeds{_mass_words(shown, sowing.seeds_to_be_sure)} to have {wanted:,} "
            f"plants in {100 * sowing.sureness:g} of 100 sowings ({sowing.seeds:,} on average); {from_words}, "
            f"{lost} % lost in the field."
        ),
        isolation=kept,
        ways=_ways(kept),
        warnings=(
            *(_HOLDS.get(kind, f"On hold: {kind}.") for kind in holds),
            *_warnings(shown, wanted, sowing),
        ),
    )


def _percent(share: float) -> str:
    return "over 99 %" if share > 0.99 else f"{100 * share:.0f} %"


def _germination(shown: LotView, settings: Settings) -> tuple[float, str]:
    line = shown.line
    if line.germination_percent:
        return line.germination_percent, f"germination {line.germination_percent} %"
    if line.germination_percent == 0:
        # Of a lot of which nothing came up something may still grow; without hope nobody would sow it.
        return 1.0, "nothing germinated in its test, 1 % is counted on"
    if shown.standard is not None:
        return (
            shown.standard.percent,
            f"not tested, the standard of {shown.standard.percent:g} % is counted on",
        )
    usual = settings.germination_untested_percent
    return usual, f"not tested, {usual} % is counted on"


def _plants_words(reference: Crop | None, settings: Settings) -> str:
    low = reference.plants_min if reference else None
    many = reference.plants_recommended if reference else None
    if many is None:
        return (
            f"No figure is published for this crop; the library takes {settings.plants_unpublished} plants."
        )
    least = f", at least {low}" if low is not None and low != many else ""
    return f"{many} plants are recommended{least} (sources: the crop's page)."


def _mass_words(shown: LotView, seeds: int) -> str:
    tsw_ug = shown.thousand_seed_weight_ug
    if shown.line.unit == "seeds" or tsw_ug is None:
        return ""
    about = "about " if shown.thousand_seed_weight_is_estimate else ""
    return f" ({about}{mass_of(seeds, tsw_ug) / 1000:.2f} g)"


def _ways(kept: Isolation | None) -> tuple[str, ...]:
    if kept is None:
        return ()
    low, high = kept.distance_m_min, kept.distance_m_max
    distance = "distance" if high is None else f"distance, {low if low is not None else high:g} to {high:g} m"
    if low == high and high is not None:
        distance = f"distance, {high:g} m"
    others = [way.way for way in kept.ways if way.way != "distance"]
    return (distance, *others)


def _warnings(shown: LotView, plants: int, sowing: SeedsToSow) -> tuple[str, ...]:
    reference = shown.reference
    said = []
    least = reference.plants_min if reference else None
    if least is not None and plants < least:
        said.append(f"{plants} plants are fewer than the least of {least}: the variety is narrowed for good.")
    if shown.stock_seeds is not None and shown.stock_seeds < sowing.seeds_to_be_sure:
        said.append(
            f"The stock of about {shown.stock_seeds:,} seeds does not reach: sow what there is, and save seed from "
            "every plant."
        )
    if shown.line.identity == "unknown":
        said.append("Its identity is unknown: compare the plants with its description before seed is saved.")
    if reference is not None and reference.poisonous:
        said.append(f"{reference.label_caution} Gloves on; mark the bed where children come.")
    if reference is not None and reference.life_cycle == "biennial":
        said.append("Biennial: it flowers in its second year. Keep the roots or plants over the winter.")
    return tuple(said)


def crossing_words(found: Sequence[GardenCrossing]) -> tuple[str, ...]:
    """Say in one line a garden which lots would cross there and why; those that only might, where no others do."""
    sure = [each for each in found if each.is_sure] or list(found)
    gardens: dict[str, list[GardenCrossing]] = {}
    for each in sure:
        gardens.setdefault(each.garden, []).append(each)
    lines = []
    for pairs in gardens.values():
        more = len(pairs) - 1
        others = "" if not more else f" And {more} more {'pair' if more == 1 else 'pairs'} there."
        lines.append(f"{pairs[0].words}{others}")
    return tuple(lines)


def crossings(planted: Sequence[InGarden]) -> tuple[GardenCrossing, ...]:
    """Find the pairs in each garden that would cross, the surest first; two lots of one variety may."""
    gardens: dict[str, list[InGarden]] = {}
    for each in planted:
        if each.garden.strip() and each.crop is not None:
            gardens.setdefault(" ".join(each.garden.casefold().split()), []).append(each)
    found = []
    for lots in gardens.values():
        if len(lots) < 2:
            continue
        crops = tuple(each.crop for each in lots if each.crop is not None)
        for one, other, crossing in crossing_pairs(crops):
            first, second = lots[one], lots[other]
            if first.crop is second.crop and first.variety == second.variety:
                continue
            apart = f" {isolation(crops[one]).words}" if crossing.answer == "yes" else ""
            found.append(
                GardenCrossing(
                    first.garden, first.number, second.number, crossing.answer == "yes",
                    f"{first.number} and {second.number} in {first.garden}: {crossing.why}{apart}", crossing.source,
                )
            )  # fmt: skip
    return tuple(sorted(found, key=lambda each: (not each.is_sure, each.garden)))
