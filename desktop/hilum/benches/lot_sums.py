"""Sums on a lot at hand: what the lot already knows of a sum's inputs, and results written back into it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import accumulate
from statistics import NormalDist
from typing import Any

from hilum.benches import preparing
from hilum.benches.lots import LotStory, lot_story
from hilum.benches.preparing import StepDone
from hilum.benches.reckoning import reckon, seed_sum
from hilum.benches.testing import CountSheet, count_sheet
from hilum.catalogue import listing
from hilum.catalogue.find import resolve_lot
from hilum.catalogue.opening import Catalogue
from hilum.errors import BadInput
from hilum.seedlore.storage_life import oil_content

__all__ = [
    "CARRIED",
    "Filled",
    "LotAtHand",
    "SurvivalLine",
    "carry",
    "lot_at_hand",
    "survival_lines",
]

# The sums whose result is something that is written of a lot, and what it becomes there.
CARRIED = {
    "thousand-seed-weight": "thousand-seed weight, with its weighings",
    "moisture": "moisture reading, as evidence of dryness",
}
_UG_PER_G = 1_000_000
_DAYS_A_YEAR = 365.0
# Tests that are looked at: two to compare, and others where one has no counts.
_NEWEST = 6
# Points of a survival curve: enough for a smooth line on a wide window.
_POINTS = 80


@dataclass(frozen=True, slots=True)
class Filled:
    """What a lot gives for one input: the text as it would be typed, and whence the lot has it."""

    text: str
    why: str


@dataclass(frozen=True, slots=True)
class LotAtHand:
    """A lot with what it gives for the inputs of each sum."""

    story: LotStory
    filled: Mapping[str, Mapping[str, Filled]]

    def known(self, name: str) -> Mapping[str, Filled]:
        """Give what the lot knows of one sum's inputs, by their names."""
        return self.filled.get(name, {})


@dataclass(frozen=True, slots=True)
class SurvivalLine:
    """Percent alive by years in store, for one published set of constants."""

    source: str
    sigma_days: float
    points: tuple[tuple[float, float], ...]


def lot_at_hand(catalogue: Catalogue, typed: str) -> LotAtHand:
    """Read a lot by its number as typed or scanned, and say what it gives for each sum."""
    story = lot_story(catalogue, typed)
    with catalogue.look() as connection:
        own = listing.own_fields(connection, resolve_lot(connection, typed))
    runs = sorted(story.tests, key=lambda run: (run.finished_on or run.started_on, run.id))
    sheets = [count_sheet(catalogue, run.id) for run in runs if run.state != "abandoned"][-_NEWEST:]
    return LotAtHand(story, _filled(story, own.moisture_percent_wb, sheets))


def _filled(
    story: LotStory, moisture: float | None, sheets: Sequence[CountSheet]
) -> dict[str, dict[str, Filled]]:
    finished = [
        sheet for sheet in sheets if sheet.test.state == "finished" and _germinated(sheet) is not None
    ]
    store = {**_named(story), **_alive(finished), **_air(story, moisture)}
    weight = _weight(story)
    percent = _percent(story, finished)
    return {
        "germination": {**_dishes(finished), **_other_classes(finished), **_bar(story)},
        "tolerance": _dishes(finished),
        "compare": _two_tests(finished),
        "sequential": {**_bar(story), **_groups(finished)},
        "germination-speed": _speed(sheets),
        "seeds-from-weight": {**_stock(story), **weight},
        "packet-fill": {**weight, **percent},
        "drying": {**_stock(story), **({"from": _moist(moisture)} if moisture is not None else {})},
        "equilibrium": {**_cold(story), **_oil(story)},
        "viability": store,
        "storage-time": {**store, **_wanted(story, store)},
        "dryness-to-keep": {**_without(store, "moisture"), **_wanted(story, store)},
        "cold-to-keep": {**_without(store, "c"), **_wanted(story, store)},
        "sigma": {name: store[name] for name in ("crop", "moisture", "c") if name in store},
        "half-life": store,
        "seeds-to-sow": {**_plants(story), **percent},
        "check-character": {"text": Filled(story.lot.number, "its number")},
    }


def _without(filled: Mapping[str, Filled], name: str) -> dict[str, Filled]:
    return {each: value for each, value in filled.items() if each != name}


def _named(story: LotStory) -> dict[str, Filled]:
    crop = story.lot.reference
    return {} if crop is None else {"crop": Filled(crop.names["en_gb"], "its crop")}


def _bar(story: LotStory) -> dict[str, Filled]:
    percent = story.lot.standard_percent
    return {} if percent is None else {"standard": Filled(str(percent), "its standard")}


def _wanted(story: LotStory, alive: Mapping[str, Filled]) -> dict[str, Filled]:
    """Ask until the lot is down to its standard; a lot that is there already has no such time."""
    bar = _bar(story)
    start = float(alive["initial"].text) if "initial" in alive else 100.0
    return {"final": bar["standard"]} if bar and float(bar["standard"].text) < start else {}


def _when(sheet: CountSheet) -> str:
    test = sheet.test
    return f"its test of {(test.finished_on or test.started_on).isoformat()}"


def _germinated(sheet: CountSheet) -> int | None:
    counts = [dish.totals["normal"] for dish in sheet.dishes]
    known = [count for count in counts if count is not None]
    return sum(known) if counts and len(known) == len(counts) else None


def _alive(finished: Sequence[CountSheet]) -> dict[str, Filled]:
    """Give the newest result with its number of seeds; the two belong together."""
    if not finished:
        return {}
    newest = finished[-1]
    why = _when(newest)
    percent = 100 * (_germinated(newest) or 0) / newest.test.seeds
    return {
        "initial": Filled(f"{percent:.4g}", why),
        "seeds": Filled(str(newest.test.seeds), why),
    }


def _percent(story: LotStory, finished: Sequence[CountSheet]) -> dict[str, Filled]:
    percent = story.lot.line.germination_percent
    if not percent:
        return {}
    why = _when(finished[-1]) if finished else "its newest germination"
    return {"germination": Filled(str(percent), why)}


def _dishes(finished: Sequence[CountSheet]) -> dict[str, Filled]:
    if not finished:
        return {}
    dishes, why = finished[-1].dishes, _when(finished[-1])
    sown = {dish.seeds for dish in dishes}
    return {
        "of": Filled(
            str(sown.pop()) if len(sown) == 1 else ", ".join(str(dish.seeds) for dish in dishes), why
        ),
        "normal": Filled(", ".join(str(dish.totals["normal"]) for dish in dishes), why),
    }


def _other_classes(finished: Sequence[CountSheet]) -> dict[str, Filled]:
    """Give the classes beside normal seedlings that were counted in every dish of the newest test."""
    if not finished:
        return {}
    dishes, why = finished[-1].dishes, _when(finished[-1])
    found = {}
    for name in ("abnormal", "hard", "fresh", "dead"):
        counts = [dish.totals.get(name) for dish in dishes]
        if None not in counts:
            found[name] = Filled(", ".join(map(str, counts)), why)
    return found


def _groups(finished: Sequence[CountSheet]) -> dict[str, Filled]:
    """Take the dishes of the newest test as groups sown one after the other, where all hold the same number."""
    if not finished or len({dish.seeds for dish in finished[-1].dishes}) > 1:
        return {}
    dishes, why = finished[-1].dishes, _when(finished[-1])
    tested = accumulate(dish.seeds for dish in dishes)
    germinated = accumulate(dish.totals["normal"] or 0 for dish in dishes)
    return {
        "tested": Filled(", ".join(map(str, tested)), f"the dishes of {why}"),
        "germinated": Filled(", ".join(map(str, germinated)), f"the dishes of {why}"),
    }


def _two_tests(finished: Sequence[CountSheet]) -> dict[str, Filled]:
    return {
        name: Filled(f"{_germinated(sheet)}/{sheet.test.seeds}", _when(sheet))
        for name, sheet in zip(("a", "b"), finished[-2:], strict=False)
    }


def _speed(sheets: Sequence[CountSheet]) -> dict[str, Filled]:
    """Give the counts by day of the newest test that was counted on more than one day, running or finished."""
    for sheet in reversed(sheets):
        days: dict[int, int] = {}
        for on, _dish, classes in sheet.counts:
            day = (on - sheet.test.started_on).days - sheet.test.prechill_days
            if classes["normal"] is not None and day > 0:
                days[day] = days.get(day, 0) + classes["normal"]
        if len(days) > 1:
            why = _when(sheet)
            return {
                "days": Filled(", ".join(str(day) for day in sorted(days)), why),
                "counts": Filled(", ".join(str(days[day]) for day in sorted(days)), why),
                "of": Filled(str(sheet.test.seeds), why),
            }
    return {}


def _air(story: LotStory, moisture: float | None) -> dict[str, Filled]:
    return {**({} if moisture is None else {"moisture": _moist(moisture)}), **_cold(story)}


def _moist(moisture: float) -> Filled:
    return Filled(f"{moisture:.4g}", "its moisture as written")


def _cold(story: LotStory) -> dict[str, Filled]:
    stay = next((stay for stay in reversed(story.stays) if stay.until_on is None), None)
    if stay is None or stay.temperature_c is None:
        return {}
    return {"c": Filled(f"{stay.temperature_c:g}", f"it lies in {stay.path}")}


def _oil(story: LotStory) -> dict[str, Filled]:
    oil = None if story.lot.reference is None else oil_content(story.lot.reference.binomial)
    return {} if oil is None else {"oil": Filled(f"{oil.percent_db:.3g}", "printed for the crop")}


def _stock(story: LotStory) -> dict[str, Filled]:
    lot = story.lot
    if not lot.stock_mg:
        return {}
    why = "its stock, reckoned and not weighed" if lot.stock_mg_is_estimate else "its stock"
    return {"grams": Filled(f"{lot.stock_mg / 1000:.10g}", why)}


def _weight(story: LotStory) -> dict[str, Filled]:
    tsw_ug = story.lot.thousand_seed_weight_ug
    if tsw_ug is None:
        return {}
    usual = story.lot.thousand_seed_weight_is_estimate
    why = "usual for the crop, not weighed of this lot" if usual else "counted and weighed"
    return {"tsw": Filled(f"{tsw_ug / _UG_PER_G:.10g}", why)}


def _plants(story: LotStory) -> dict[str, Filled]:
    crop = story.lot.reference
    if crop is None or not crop.plants_recommended:
        return {}
    return {"plants": Filled(str(crop.plants_recommended), "recommended for its crop")}


def carry(catalogue: Catalogue, number: str, name: str, typed: Mapping[str, str], *, on: date) -> StepDone:
    """Write the result of a sum into a lot, through the step of preparing it belongs to."""
    wanted = seed_sum(name)
    given: dict[str, Any] = {each: wanted.input(each).read(text) for each, text in typed.items()}
    outcome = wanted.reckon(given)
    if name == "moisture":
        note = f"oven: container {given['container']:g} g, with seed {given['wet']:g} g, dried {given['dry']:g} g"
        reading = round(float(outcome.result), 2)
        return preparing.dry(catalogue, number, on=on, evidence="moisture reading", value=reading, note=note)
    if name == "thousand-seed-weight":
        if len(set(given["seeds"])) != 1:
            raise BadInput(
                "A lot keeps weighings of one and the same number of seeds. Give one number of seeds for all of them."
            )
        masses = [round(grams * 1000) for grams in given["grams"]]
        if min(masses) < 1:
            raise BadInput(
                "A weighing of less than a milligram is not written into a lot. Weigh more seeds at once."
            )
        return preparing.count(catalogue, number, on=on, seeds=given["seeds"][0], replicates_mg=masses)
    raise BadInput(f"“{wanted.title}” is nothing that is written of a lot; copy the result instead.")


def survival_lines(typed: Mapping[str, str], ki: float, years: float) -> tuple[SurvivalLine, ...]:
    """Give the survival curve of every published set, the shortest-lived first, over some years in one store.

    `ki` is the deviate of the seed at the start, as the sums of storing give it; `typed` their inputs.
    """
    store = {name: typed[name] for name in ("crop", "constants", "moisture", "c") if name in typed}
    sets = reckon("sigma", store).outputs["sets"]
    normal = NormalDist()
    steps = [years * place / _POINTS for place in range(_POINTS + 1)]
    lines = [
        SurvivalLine(
            each["source"],
            each["result"],
            tuple((year, 100 * normal.cdf(ki - year * _DAYS_A_YEAR / each["result"])) for year in steps),
        )
        for each in sets
    ]
    return tuple(sorted(lines, key=lambda line: line.sigma_days))
