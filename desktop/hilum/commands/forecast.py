"""Forecast: the viability forecast of one lot, with its one sentence why."""

from argparse import Namespace
from typing import TYPE_CHECKING

from hilum.commands import figures
from hilum.commands.answer import Answer, answer
from hilum.commands.desk import Desk
from hilum.commands.parser import Verbs, add_day, add_lot
from hilum.commands.terminal import Column, facts, table, wrapped

if TYPE_CHECKING:
    from hilum.benches.forecasting import Forecast

CURVE = (Column("On", 10), Column("Germination", 11, right=True), Column("90 % band", 14, right=True))
_MORE = (
    "The forecast joins what is published of the crop, where the lot has lain, and its own tests. It is for deciding "
    "when to test and what to regrow; it is never printed on a packet."
)


def add_verbs(verbs: Verbs) -> None:
    """Put the verb of this module into the parser."""
    parser = verbs.add("forecast", _forecast, "forecast how much of a lot will germinate", _MORE)
    add_lot(parser)
    parser.add_argument("--years", metavar="N", type=figures.whole, default=10, help="how far ahead (10)")
    add_day(parser, "the day it starts from (today if left out)")


def _forecast(asked: Namespace, desk: Desk) -> Answer:
    from hilum.benches.forecasting import forecast_as_json, lot_forecast

    with desk.catalogue(asked) as catalogue:
        shown, found = lot_forecast(catalogue, asked.lot, on=desk.day(asked), years=asked.years)
    return answer(
        {"lot": shown.number, **forecast_as_json(found)}, [f"{shown.number}  {shown.name}", *_lines(found)]
    )


def _lines(found: "Forecast") -> list[str]:
    if found.now_percent is None or found.interval_90 is None:
        return wrapped(found.why)
    low, high = found.interval_90
    chance = found.below_standard_chance
    told = [
        ("Germination", f"{found.now_percent:.0f} % (90 % band {low:.0f} to {high:.0f} %)"),
        (
            "Half-life",
            f"{found.half_life_years:.0f} years" if found.half_life_years is not None else "not known",
        ),
        (
            "Test next",
            found.test_next_on.isoformat() if found.test_next_on else "no more: the lot is nearly dead",
        ),
    ]
    if chance is not None:
        told.insert(
            1, ("Below standard", f"{100 * chance:.0f} % chance of less than {found.standard_percent:g} %")
        )
    rows = [
        (point.on.isoformat(), f"{point.percent:.0f} %", f"{point.low:.0f} to {point.high:.0f} %")
        for point in found.curve
    ]
    return [*facts(told), "", *wrapped(found.why), "", *table(CURVE, rows)]
