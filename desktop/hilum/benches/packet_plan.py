"""What packets of a lot take: their fill, what is possible above the reserve, what bars them, what to know first."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from hilum.benches.views import LotView
from hilum.benches.wording import month_words
from hilum.catalogue.amounts import shown_amount
from hilum.catalogue.season import Spoon
from hilum.catalogue.settings import Settings
from hilum.catalogue.treated import treatment_words
from hilum.errors import BadInput
from hilum.seedlore.packets import spoon_fill
from hilum.seedlore.weights import mass_of, packet_fill


@dataclass(frozen=True, slots=True)
class PackingPlan:
    """What packing a lot would take: the fill of one packet, what is possible above the reserve, what to know first.

    `needs_spoon` says that the fill is too light for the scale and no spoon has been counted for the lot yet.
    """

    lot: LotView
    seeds_per_packet: int
    fill_mg: int | None
    fill_words: str
    draw_per_packet: int
    possible_packets: int | None
    warnings: tuple[str, ...]
    needs_spoon: bool = False


def plan_packets(
    shown: LotView,
    seeds: int,
    settings: Settings,
    *,
    on: date,
    viable: bool = False,
    spoon: Spoon | None = None,
    is_dried: bool = True,
) -> PackingPlan:
    """Reckon packets of so many seeds; `viable` fills for that many germinating seeds."""
    if seeds < 1:
        raise BadInput("A packet holds at least one seed.")
    germination = shown.line.germination_percent
    if viable and not germination:
        raise BadInput(
            f"Lot {shown.number} has no germination result, so packets cannot be filled by germinating seeds."
        )
    said = list(_warnings(shown, on, is_dried))
    wanted = seeds if not viable or not germination else -(-seeds * 100 // germination)
    if shown.line.unit == "seeds":
        possible = None if shown.spare_seeds is None else max(0, shown.spare_seeds // wanted)
        return PackingPlan(shown, seeds, None, f"{wanted} seeds, counted", wanted, possible, tuple(said))
    tsw_ug = shown.thousand_seed_weight_ug
    if tsw_ug is None:
        raise BadInput(
            f"Lot {shown.number} has no thousand-seed weight and none is published for {shown.line.crop}. "
            "Count and weigh a sample of it first (Preparing)."
        )
    fill = packet_fill(
        seeds, tsw_ug, germination_percent=germination, viable=viable, step_mg=settings.scale_step_mg
    )
    fill_mg, words = fill.fill_mg, shown_amount(fill.fill_mg, "mg")
    if fill.too_light and spoon is not None:
        spooned = spoon_fill(wanted, spoon.seeds_in_five, tsw_ug)
        fill_mg = spooned.mass_mg
        level = "1 level spoon" if spooned.spoons == 1 else f"{spooned.spoons} level spoons"
        words = f"{level} of “{spoon.name}”, about {spooned.seeds_filled} seeds"
    elif fill.too_light:
        said.append(fill.why)
    spare_mg = _spare_mg(shown)
    possible = None if spare_mg is None else max(0, spare_mg // fill_mg)
    needs_spoon = fill.too_light and spoon is None
    return PackingPlan(shown, seeds, fill_mg, words, fill_mg, possible, tuple(said), needs_spoon)


def _spare_mg(shown: LotView) -> int | None:
    if shown.line.stock is None or shown.thousand_seed_weight_ug is None:
        return None
    return shown.line.stock - mass_of(shown.reserve_seeds, shown.thousand_seed_weight_ug)


def packing_bar(shown: LotView, holds: Sequence[str]) -> str:
    """Say what bars a lot from packing (a hold, its identity, no weight, no caution), or nothing."""
    reference = shown.reference
    if holds:
        return f"On hold: {', '.join(holds)}. Lift the hold with a reason first."
    if shown.line.withdrawn_on is not None:
        return f"Lot {shown.number} was withdrawn on {shown.line.withdrawn_on.isoformat()}."
    if shown.line.identity == "unknown":
        return (
            f"The identity of lot {shown.number} is unknown; it is not packed as “{shown.line.variety}”. "
            "Grow it out and record what was seen."
        )
    if shown.line.stock is None:
        return f"Lot {shown.number} has not been weighed yet. Weigh it before packing (Preparing)."
    if reference is not None and reference.poisonous and not reference.label_caution:
        return f"{shown.line.crop} is poisonous and there is no caution for its packets; it is not packed."
    return ""


def _facts(shown: LotView) -> tuple[str, ...]:
    """Say what a keeper should think of before seed with such a past leaves the house."""
    line, said = shown.line, []
    if line.treatment:
        said.append(f"{treatment_words(line.treatment)} Every packet must say so.")
    if line.is_f1:
        said.append("An F1 hybrid: seed saved from it does not come true.")
    if line.rights_notice:
        said.append(f"Rights notice: {line.rights_notice}. Check whether this seed may be handed out.")
    if line.made_as == "mixed":
        since = f" ({month_words(line.tested_on)})" if line.tested_on is not None else ""
        said.append(f"A mix: the oldest test of its components counts{since}; it has no figure of its own.")
    return tuple(said)


def _warnings(shown: LotView, on: date, is_dried: bool) -> tuple[str, ...]:
    line, said = shown.line, list(_facts(shown))
    if line.tested_on is None:
        said.append("This lot has never been tested; a germination test is due before its first packing.")
    elif line.due_on is not None and line.due_on <= on:
        said.append(
            f"Last tested {month_words(line.tested_on)}, and its next test has been due since "
            f"{line.due_on.isoformat()}: the figure on the packets is old. Test it first."
        )
    if line.below_standard:
        said.append(
            f"Germination is {line.germination_percent} %, below the standard of {shown.standard_percent} %. "
            "Some places ask for the words “Below Standard” on the packet: check with your local authority."
        )
    if not is_dried:
        said.append(
            "Nothing says that this seed is dry: damp seed goes mouldy in packets. Dry it with evidence (Preparing)."
        )
    if shown.thousand_seed_weight_is_estimate and line.unit == "mg":
        said.append(
            "The fill is reckoned by the crop's usual seed weight. Count and weigh a sample to be sure."
        )
    reference = shown.reference
    if reference is not None and reference.poisonous:
        said.append(f"{reference.label_caution} Check with your local authority before handing out.")
    return tuple(said)
