"""Sums of weighing: thousand-seed weight, seeds in a weight, packet fill, moisture, drying, balance with air."""

from collections.abc import Mapping
from typing import Any

from hilum.benches.sums import NUMBERS, WHOLE, WHOLES, YES_NO, Outcome, Sum, SumInput, SumOutput
from hilum.seedlore import drying, equilibrium, moisture, weights

_MOST_GRAMS = 1_000_000
_MOST_SEEDS = 1_000_000_000
_UG_PER_G = 1_000_000


def _thousand(given: Mapping[str, Any]) -> Outcome:
    seeds = given["seeds"]
    found = weights.thousand_seed_weight(given["grams"], seeds[0] if len(seeds) == 1 else list(seeds))
    outputs = {
        "shown": found.shown,
        "cv_percent": found.cv_percent,
        "cv_limit_percent": found.cv_limit_percent,
        "retest": found.retest,
        "seeds_counted": found.seeds_counted,
        "left_out_grams": list(found.dropped_g),
    }
    return Outcome(found.tsw_g, outputs, f"A thousand seeds weigh {found.shown} g. {found.why}", found.source)


def _tsw_ug(given: Mapping[str, Any]) -> int:
    grams: float = given["tsw"]
    return max(1, round(grams * _UG_PER_G))


def _seeds(given: Mapping[str, Any]) -> Outcome:
    tsw_ug = _tsw_ug(given)
    # Whole milligrams would lose the seeds of a weight that is finer; micrograms of both keep them.
    seeds = round(given["grams"] * _UG_PER_G) * 1000 // tsw_ug
    words = f"{given['grams']:g} g hold {seeds} seeds at {given['tsw']:g} g a thousand, rounded down."
    return Outcome(seeds, {"seeds": seeds}, words, _SEEDS_SOURCE)


def _fill(given: Mapping[str, Any]) -> Outcome:
    step_mg = max(1, round(given["step"] * 1000))
    found = weights.packet_fill(
        given["seeds"], _tsw_ug(given), given["germination"], given["viable"], step_mg
    )
    outputs = {
        "fill_mg": found.fill_mg,
        "seeds_wanted": found.seeds_wanted,
        "seeds_filled": found.seeds_filled,
        "too_light": found.too_light,
    }
    words = f"Fill {found.fill_mg / 1000:g} g, about {found.seeds_filled} seeds. {found.why}"
    return Outcome(found.fill_mg / 1000, outputs, words, _FILL_SOURCE)


def _moisture(given: Mapping[str, Any]) -> Outcome:
    found = moisture.oven_moisture_percent_wb(given["container"], given["wet"], given["dry"])
    dry_basis = moisture.dry_basis_percent(found)
    words = f"Moisture {found:.1f} % of fresh weight ({dry_basis:.1f} % of dry weight)."
    return Outcome(found, {"dry_basis": dry_basis}, words, _MOISTURE_SOURCE)


def _drying(given: Mapping[str, Any]) -> Outcome:
    plan = drying.drying_plan(given["grams"], given["from"], given["to"], step_g=given["step"])
    outputs = {
        "stop_at_g": plan.stop_at_g,
        "water_g": plan.water_g,
        "loss_percent": plan.loss_percent,
        "beads_g": plan.beads_g,
        "silica_gel_g": plan.silica_gel_g,
        "stages": [[stage.moisture_percent_wb, stage.mass_g] for stage in plan.stages],
    }
    words = (
        f"Stop when the seed weighs {plan.stop_at_g:g} g: {plan.water_g:.2f} g of water are then gone. That takes "
        f"{plan.beads_g:.0f} g of dry drying beads or {plan.silica_gel_g:.0f} g of dry silica gel."
    )
    return Outcome(plan.target_g, outputs, words, plan.source, plan.notes)


def _equilibrium(given: Mapping[str, Any]) -> Outcome:
    found = equilibrium.equilibrium_moisture(given["rh"], given["c"], given["oil"])
    words = (
        f"In air of {given['rh']:g} % at {given['c']:g} °C this seed comes to {found.percent_wb:.1f} % of fresh weight "
        f"({found.percent_db:.1f} % of dry weight)."
    )
    outputs = {"dry_basis": found.percent_db}
    return Outcome(found.percent_wb, outputs, words, equilibrium.SOURCE, found.notes)


_SEEDS_SOURCE = (
    "seeds = 1000 x weight / thousand-seed weight: Learn Seed Saving, Packaging; NDSU/MSU Extension"
)
_FILL_SOURCE = (
    "weight = seeds x thousand-seed weight / 1000: NDSU/MSU Extension, Seed counts; rounding up: our own "
    "choice"
)
_MOISTURE_SOURCE = (
    "100 (wet - dry) / (wet - container): IRRI Rice Knowledge Bank; Center for Plant Conservation"
)
_TSW = SumInput("tsw", "thousand-seed weight", "g", low=0.0001, high=100_000)
_STEP = SumInput("step", "smallest step of the scale", "g", low=0.001, high=100, needed=False, default=0.01)

WEIGHING_SUMS = (
    Sum(
        "thousand-seed-weight", "Thousand-seed weight", "What do a thousand seeds weigh, and do my weighings agree?",
        (
            SumInput("seeds", "seeds in each weighing, one number or one for each", "seeds", WHOLES, 1, _MOST_SEEDS),
            SumInput("grams", "weight of each", "g", NUMBERS, 0, _MOST_GRAMS, above_low=True),
        ),
        _thousand, SumOutput("result", "weight of a thousand seeds", "g"),
        (
            SumOutput("cv_percent", "coefficient of variation", "%"),
            SumOutput("retest", "whether more must be weighed"),
            SumOutput("shown", "with the published decimals", "g"),
        ),
        "Weigh eight times a hundred seeds if you can; where they differ too much, eight more.",
        "SNICS Mexico, after the ISTA Rules; FRSA 2001 tutorial on the AOSA Rules, Appendix 4",
    ),
    Sum(
        "seeds-from-weight", "Seeds in a weight", "How many seeds are in this jar?",
        (SumInput("grams", "weight of the seed", "g", low=0, high=_MOST_GRAMS), _TSW),
        _seeds, SumOutput("result", "seeds, rounded down", "seeds"), (SumOutput("seeds", "the same", "seeds"),),
        "Rounded down, so that no seed is promised that is not there.", _SEEDS_SOURCE,
    ),
    Sum(
        "packet-fill", "Fill of a packet", "What do I weigh into a packet?",
        (
            SumInput("seeds", "seeds wanted in a packet", "seeds", WHOLE, 1, 1_000_000), _TSW,
            SumInput("germination", "germination", "%", low=0, high=100, above_low=True, needed=False),
            SumInput("viable", "fill so that the number wanted germinates", "", YES_NO, needed=False, default=False),
            _STEP,
        ),
        _fill, SumOutput("result", "weight to fill, rounded up to the scale", "g"),
        (
            SumOutput("fill_mg", "the same", "mg"), SumOutput("seeds_filled", "seeds in that weight", "seeds"),
            SumOutput("too_light", "too light for the scale: use a measured spoon"),
        ),
        "Rounded up to what the scale shows, so that no packet is short.", _FILL_SOURCE,
    ),
    Sum(
        "moisture", "Moisture by oven", "How moist is this seed?",
        (
            SumInput("container", "empty container with lid, 0 for none", "g", low=0, high=_MOST_GRAMS),
            SumInput("wet", "container and seed before drying", "g", low=0, high=_MOST_GRAMS, above_low=True),
            SumInput("dry", "container and seed after drying", "g", low=0, high=_MOST_GRAMS, above_low=True),
        ),
        _moisture, SumOutput("result", "moisture of fresh weight", "%"),
        (SumOutput("dry_basis", "moisture of dry weight", "%"),),
        "wet= and dry= include the container.", _MOISTURE_SOURCE,
    ),
    Sum(
        "drying", "Drying plan", "At what weight is this seed dry enough?",
        (
            SumInput("from", "moisture now, of fresh weight", "%", low=0, high=100, below_high=True),
            SumInput("to", "moisture wanted, of fresh weight", "%", low=0, high=100, below_high=True),
            SumInput("grams", "weight now", "g", low=0, high=_MOST_GRAMS, above_low=True), _STEP,
        ),
        _drying, SumOutput("result", "weight when dry enough", "g"),
        (
            SumOutput("stop_at_g", "the weight to stop at on the scale", "g"),
            SumOutput("water_g", "water to lose", "g"),
            SumOutput("beads_g", "dry drying beads needed", "g"),
            SumOutput("silica_gel_g", "dry silica gel needed", "g"),
            SumOutput("stages", "moisture and weight at each point on the way"),
        ),
        "The scale tells the moisture: the dry matter stays, only water goes.",
        "IRRI Rice Knowledge Bank, Moisture content calculations; UC Davis Horticulture Innovation Lab 2011",
    ),
    Sum(
        "equilibrium", "Moisture in balance with air", "How dry does seed get in this air?",
        (
            SumInput("rh", "relative humidity of the air", "%", low=0, high=100, below_high=True),
            SumInput("c", "temperature of the air", "°C", low=-30, high=90),
            SumInput("oil", "oil of the dry seed", "%", low=0, high=100, below_high=True),
        ),
        _equilibrium, SumOutput("result", "moisture of fresh weight", "%"),
        (SumOutput("dry_basis", "moisture of dry weight", "%"),),
        "Oily seed holds less water in the same air. Good for 10 to 70 % humidity; seed that dries stays a little "
        "moister than seed that takes up water.",
        equilibrium.SOURCE,
    ),
)  # fmt: skip
