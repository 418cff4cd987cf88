"""The pictures of the sums: survival curve, germination curve, corridor of the sequential plan, drying, dishes."""

from collections.abc import Callable, Mapping
from typing import NamedTuple

from hilum.benches.lot_sums import survival_lines
from hilum.benches.reckoning import Outcome, SumError, reckon, seed_sum
from hilum.window.corridor import corridor_plot
from hilum.window.reckoner_plot import MAIN, OTHER, Line, Mark, Plot

DAYS_A_YEAR = 365.0
Typed = Mapping[str, str]


class Answer(NamedTuple):
    """What a sum gave, with its picture where one helps."""

    outcome: Outcome
    plot: Plot | None


def answer(name: str, typed: Typed) -> Answer:
    """Reckon a sum and make its picture; meant to run beside the window."""
    if name == "check-character":
        return Answer(_copied_right(typed["text"]), None)
    outcome = reckon(name, typed)
    picture = _PICTURES.get(name)
    return Answer(outcome, None if picture is None else picture(typed, outcome))


def _copied_right(number: str) -> Outcome:
    """Hold the last character of a whole lot number against the one its others ask for."""
    number = number.strip().upper()
    if len(number.replace("-", "").replace(" ", "")) < 2:
        raise SumError("Give the whole lot number, its last character too.")
    body, last = number[:-1], number[-1]
    found = reckon("check-character", {"text": body})
    if found.result == last:
        words = f"{number} is copied right: {last} is the character the others ask for."
        return Outcome("copied right", found.outputs, words, found.source)
    words = (
        f"{number} is not copied right. After {body.rstrip('- ')} the last character would be {found.result}, "
        f"not {last}; any of them may be the wrong one."
    )
    return Outcome("not copied right", found.outputs, words, found.source)


def _figures(typed: Typed, sum_name: str, name: str) -> tuple[float, ...]:
    read = seed_sum(sum_name).input(name).read(typed[name])
    return tuple(read)


def _survival(typed: Typed, outcome: Outcome) -> Plot | None:
    """Draw the percentage alive over the years: every published set, the one that answers in full."""
    sigma, ki = outcome.outputs["sigma_days"], outcome.outputs["ki"]
    # Until the longest-lived set has gone down to a few percent, or as far as the question asks.
    longest = max(each["result"] for each in reckon("sigma", _store_of(typed)).outputs["sets"])
    asked = float(outcome.outputs.get("days", 0.0))
    years = min(
        max(asked, min(longest * (max(ki, 0.0) + 1.7), 4 * sigma * (max(ki, 0.0) + 1.7))) / DAYS_A_YEAR, 2700
    )
    lines = survival_lines(typed, ki, years)
    main = min(lines, key=lambda line: abs(line.sigma_days - sigma))
    shown = [Line(line.source, line.points, OTHER) for line in lines if line is not main]
    band = tuple(
        (year, low, high) for (year, low), (_, high) in zip(lines[0].points, lines[-1].points, strict=True)
    )
    rows = tuple(
        (f"{year:.1f}", *(f"{line.points[place][1]:.0f}" for line in lines))
        for place, (year, _) in enumerate(main.points)
        if place % 8 == 0
    )
    return Plot(
        "Survival curve", "years in store", "% alive", years, 0, 100,
        (*shown, Line(main.source, main.points, MAIN)), band if len(lines) > 1 else (), (),
        _survival_marks(typed, outcome),
        ("Years", *(f"% alive: {line.source}" for line in lines)), rows,
        words="; ".join(f"{year:.1f} years {percent:.0f} %" for year, percent in main.points[::8]),
        caption="The thick line answers; the band lies between the published sets." if len(lines) > 1 else "",
    )  # fmt: skip


def _store_of(typed: Typed) -> dict[str, str]:
    return {name: typed[name] for name in ("crop", "constants", "moisture", "c") if name in typed}


def _survival_marks(typed: Typed, outcome: Outcome) -> tuple[Mark, ...]:
    if "final" in typed:
        years = float(outcome.result) / DAYS_A_YEAR
        return (
            Mark(float(typed["final"]), f"{typed['final']} % alive"),
            Mark(years, f"{years:.1f} years", True),
        )
    if "days" in outcome.outputs:
        years = float(outcome.outputs["days"]) / DAYS_A_YEAR
        return (Mark(years, f"{years:.1f} years: {outcome.result:.0f} %", True),)
    years = float(outcome.result) / DAYS_A_YEAR
    return (Mark(50.0, "half alive"), Mark(years, f"{years:.1f} years", True))


def _germination_curve(typed: Typed, outcome: Outcome) -> Plot | None:
    days = _figures(typed, "germination-speed", "days")
    counts = _figures(typed, "germination-speed", "counts")
    if len(days) != len(counts) or not sum(counts):
        return None
    of = float(typed["of"]) if "of" in typed else None
    points, total = [(0.0, 0.0)], 0.0
    for day, count in sorted(zip(days, counts, strict=True)):
        total += count
        points.append((day, 100 * total / of if of else total))
    name = "% of the seeds sown" if of else "seedlings"
    marks = [Mark(outcome.result, f"on average {outcome.result:.1f} days", upright=True)]
    rows = tuple((f"{day:g}", f"{height:.4g}") for day, height in points)
    return Plot(
        "Germination curve", "days from sowing", name, max(days), 0, 100 if of else max(1, total),
        (Line("germinated", tuple(points), MAIN, dots=True),), marks=tuple(marks),
        headings=("Day", name.capitalize()), rows=rows,
        words="; ".join(f"day {day} {height}" for day, height in rows),
    )  # fmt: skip


def _corridor(typed: Typed, outcome: Outcome) -> Plot | None:
    run = zip(*(_figures(typed, "sequential", name) for name in ("tested", "germinated")), strict=True)
    return corridor_plot(outcome.outputs["plan"], tuple(run), float(typed["standard"]))


def _drying(typed: Typed, outcome: Outcome) -> Plot | None:
    """Draw the weight of the seed against its moisture, from now on the left to dry enough on the right."""
    now = (float(typed["from"]), float(typed["grams"]))
    points = (now, *((moist, grams) for moist, grams in outcome.outputs["stages"]))
    wanted, stop = points[-1]
    if now[0] <= wanted:
        return None
    room = now[1] - stop
    rows = tuple((f"{moist:g} %", f"{grams:.4g} g") for moist, grams in points)
    return Plot(
        "Drying: weight against moisture", "moisture, % of fresh weight (drying goes to the left)", "g on the scale",
        now[0], max(0.0, stop - 0.25 * room), now[1] + 0.05 * room, (Line("weight", points, MAIN, dots=True),),
        marks=(Mark(stop, f"stop at {stop:.4g} g"),), headings=("Moisture", "Weight"), rows=rows,
        x_least=max(0.0, wanted - 0.15 * (now[0] - wanted)),
        words="; ".join(f"at {moist} {grams}" for moist, grams in rows),
    )  # fmt: skip


def _dishes(name: str) -> Callable[[Typed, Outcome], Plot | None]:
    """Make the drawing of dishes side by side for one of the sums that have them."""

    def draw(typed: Typed, outcome: Outcome) -> Plot | None:
        normal, sown = _figures(typed, name, "normal"), _figures(typed, name, "of")
        if len(normal) < 2:
            return None
        of = sown * len(normal) if len(sown) == 1 else sown
        percents = [100 * count / seeds for count, seeds in zip(normal, of, strict=True)]
        mean = 100 * sum(normal) / sum(of)
        rows = tuple((f"dish {place}", f"{height:.3g} %") for place, height in enumerate(percents, start=1))
        marks = [Mark(mean, f"together {mean:.3g} %")]
        return Plot(
            "Dish by dish", "", "% normal seedlings", len(normal), 0, 108, bars=tuple(
                (f"dish {place}", height) for place, height in enumerate(percents, start=1)
            ), marks=tuple(marks), headings=("Dish", "Normal seedlings"), rows=rows,
            words="; ".join(f"{dish} {percent}" for dish, percent in rows),
        )  # fmt: skip

    return draw


_PICTURES: dict[str, Callable[[Typed, Outcome], Plot | None]] = {
    "viability": _survival,
    "storage-time": _survival,
    "half-life": _survival,
    "germination-speed": _germination_curve,
    "sequential": _corridor,
    "drying": _drying,
    "germination": _dishes("germination"),
    "tolerance": _dishes("tolerance"),
}
