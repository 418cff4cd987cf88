"""What packets of a lot take: their fill, what is possible above the reserve, what bars them, what to know first."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from hilum.benches.asked import is_old_test, months_since
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
class Remark:
    """Something to know of a lot before it is packed: a few words for a table, and the whole of it."""

    short: str
    words: str


NOTHING = Remark("", "")


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
    remarks: tuple[Remark, ...]
    fill_short: str
    needs_spoon: bool = False

    @property
    def warnings(self) -> tuple[str, ...]:
        """What to know first, each in whole sentences."""
        return tuple(remark.words for remark in self.remarks)


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
    said = _warnings(shown, on, is_dried)
    wanted = seeds if not viable or not germination else -(-seeds * 100 // germination)
    if shown.line.unit == "seeds":
        possible = None if shown.spare_seeds is None else max(0, shown.spare_seeds // wanted)
        words = f"{wanted} seeds, counted"
        return PackingPlan(shown, seeds, None, words, wanted, possible, tuple(said), "counted")
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
    short = words
    if fill.too_light and spoon is not None:
        spooned = spoon_fill(wanted, spoon.seeds_in_five, tsw_ug)
        fill_mg = spooned.mass_mg
        short = "1 spoon" if spooned.spoons == 1 else f"{spooned.spoons} spoons"
        words = f"{short.replace(' ', ' level ')} of “{spoon.name}”, about {spooned.seeds_filled} seeds"
    elif fill.too_light:
        said.insert(0, Remark("count five spoons", fill.why))
    spare_mg = _spare_mg(shown)
    possible = None if spare_mg is None else max(0, spare_mg // fill_mg)
    needs_spoon = fill.too_light and spoon is None
    return PackingPlan(shown, seeds, fill_mg, words, fill_mg, possible, tuple(said), short, needs_spoon)


def _spare_mg(shown: LotView) -> int | None:
    if shown.line.stock is None or shown.thousand_seed_weight_ug is None:
        return None
    return shown.line.stock - mass_of(shown.reserve_seeds, shown.thousand_seed_weight_ug)


def packing_bar(shown: LotView, holds: Sequence[str]) -> Remark:
    """Say what bars a lot from packing (a hold, its identity, no weight, no caution), or nothing."""
    reference = shown.reference
    if holds:
        kinds = ", ".join(holds)
        return Remark(f"on hold: {kinds}", f"On hold: {kinds}. Lift the hold with a reason first.")
    if shown.line.withdrawn_on is not None:
        day = shown.line.withdrawn_on.isoformat()
        return Remark("withdrawn", f"Lot {shown.number} was withdrawn on {day}.")
    if shown.line.identity == "unknown":
        return Remark(
            "identity unknown",
            f"The identity of lot {shown.number} is unknown; it is not packed as “{shown.line.variety}”. "
            "Grow it out and record what was seen.",
        )
    if shown.line.stock is None:
        return Remark(
            "not weighed",
            f"Lot {shown.number} has not been weighed yet. Weigh it before packing (Preparing).",
        )
    if reference is not None and reference.poisonous and not reference.label_caution:
        return Remark(
            "no caution",
            f"{shown.line.crop} is poisonous and there is no caution for its packets; it is not packed.",
        )
    return NOTHING


def _warnings(shown: LotView, on: date, is_dried: bool) -> list[Remark]:
    line, reference = shown.line, shown.reference
    said = [*_facts(shown), *_of_germination(shown, on)]
    if not is_dried:
        said.append(
            Remark(
                "dry?",
                "Nothing says that this seed is dry: damp seed goes mouldy in packets. Dry it with evidence "
                "(Preparing).",
            )
        )
    if reference is not None and reference.poisonous:
        words = f"{reference.label_caution} Check with your local authority before handing out."
        said.append(Remark("poisonous", words))
    if shown.thousand_seed_weight_is_estimate and line.unit == "mg":
        said.append(
            Remark(
                "seed weight not own",
                "The fill is reckoned by the crop's usual seed weight. Count and weigh a sample to be sure.",
            )
        )
    return said


def _facts(shown: LotView) -> list[Remark]:
    """Say what a keeper should think of before seed with such a past leaves the house."""
    line, said = shown.line, []
    if line.treatment:
        said.append(Remark("treated", f"{treatment_words(line.treatment)} Every packet must say so."))
    if line.is_f1:
        said.append(Remark("F1", "An F1 hybrid: seed saved from it does not come true."))
    if line.rights_notice:
        words = f"Rights notice: {line.rights_notice}. Check whether this seed may be handed out."
        said.append(Remark("rights", words))
    if line.made_as == "mixed":
        since = f" ({month_words(line.tested_on)})" if line.tested_on is not None else ""
        words = f"A mix: the oldest test of its components counts{since}; it has no figure of its own."
        said.append(Remark("a mix", words))
    return said


def _of_germination(shown: LotView, on: date) -> list[Remark]:
    line = shown.line
    said = []
    if line.tested_on is None:
        words = "This lot has never been tested; a germination test is due before its first packing."
        said.append(Remark("never tested", words))
    elif line.due_on is not None and line.due_on <= on:
        words = (
            f"Last tested {month_words(line.tested_on)}, and its next test has been due since "
            f"{line.due_on.isoformat()}: the figure on the packets is old. Test it first."
        )
        said.append(Remark("old test", words))
    elif is_old_test(line.tested_on, on):
        months = months_since(line.tested_on, on)
        words = f"Its newest germination test is {months} months old: test again before packing."
        said.append(Remark("old test", words))
    if line.below_standard:
        words = (
            f"Germination is {line.germination_percent} %, below the standard of {shown.standard_percent} %. "
            "Some places ask for the words “Below Standard” on the packet: check with your local authority."
        )
        said.append(Remark("below standard", words))
    return said
