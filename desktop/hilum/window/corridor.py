"""The corridor of a plan: two limits in percent of the seeds sown, and the test that runs between them."""

from collections.abc import Sequence

from hilum.window.reckoner_plot import LIMIT, MAIN, Line, Mark, Plot

# Seeds sown, regrow at most, keep at least.
PlanRow = tuple[int, int | None, int | None]
# Seeds sown and germinated in all after a group.
Total = tuple[float, float]


def corridor_plot(plan: Sequence[PlanRow], run: Sequence[Total], bar_percent: float) -> Plot:
    """Draw the two limits of a plan with the running total between, below or above them.

    In seeds both limits lie so near a steep line that nothing between them can be seen: percent it is.
    """
    keep = tuple((float(tested), 100 * least / tested) for tested, _, least in plan if least is not None)
    regrow = tuple((float(tested), 100 * most / tested) for tested, most, _ in plan if most is not None)
    points = tuple((tested, 100 * found / tested) for tested, found in run)
    least = max(0.0, 10 * (min(height for _, height in (*keep, *regrow, *points)) // 10))
    counted = {tested: f"{found:g}" for tested, found in run}
    rows = tuple(
        (f"{seeds}", "-" if most is None else f"{most} or fewer", "-" if enough is None else f"{enough} or more",
         counted.get(seeds, ""))
        for seeds, most, enough in plan
    )  # fmt: skip
    words = "; ".join(f"of {row[0]} seeds regrow at {row[1]}, keep at {row[2]}" for row in rows)
    most_seeds = float(max(plan[-1][0], *(tested for tested, _ in run)) if run else plan[-1][0])
    return Plot(
        "Corridor of the plan", "seeds sown in all", "% germinated in all", most_seeds, least, 100,
        (Line("keep above", keep, LIMIT), Line("regrow below", regrow, LIMIT),
         Line("this test", points, MAIN, dots=True)),
        headings=("Seeds sown", "Regrow", "Keep", "This test"), rows=rows, words=words,
        marks=(Mark(bar_percent, ""),),
        caption="Dots: this test. Between the two lines another group is sown; dashed: the bar.",
    )  # fmt: skip
