"""The headings of the day sheet: their words, their columns, and where their work is done."""

from typing import Any

from hilum.window import lot_words
from hilum.window.day_section import Part, Way
from hilum.window.models import Column

OPEN = Way("&Open the lot")
STEP_WORDS = {
    "cleaned": "clean",
    "dried": "dry, with evidence",
    "weighed": "weigh",
    "counted": "count and weigh a sample",
    "frozen": "freeze, if it may be",
}


def lot_of(lot: Any) -> str:
    """Give a lot's number."""
    return str(lot.number)


def lot_in_hand(row: Any) -> str:
    """Give the number of a lot in hand."""
    return str(row.lot.number)


def lot_of_germination(run: Any) -> str:
    """Give the number of the lot under test."""
    return str(run.lot)


def lot_of_promise(promise: Any) -> str:
    """Give the number of the lot of which seed was promised back."""
    return str(promise.line.lot)


def _within(column: Column) -> Column:
    """Make a column of lots one of rows that hold a lot."""

    def text(row: Any) -> str:
        return column.text(row.lot)

    def value(row: Any) -> Any:
        return column.value(row.lot)

    return Column(column.heading, text, value, column.right, least_px=column.least_px, spare=column.spare)


LOT = (
    Column("Lot", lot_of),
    Column("Crop", lambda lot: lot.line.crop, least_px=124),
    Column("Variety", lambda lot: lot.line.variety, least_px=150),
    Column("Year", lot_words.year, sort=lambda lot: lot.line.year, right=True, least_px=60, spare=True),
)
STOCK = Column("Stock", lot_words.stock, sort=lambda lot: lot.stock_mg, right=True, least_px=96)
SEEDS = Column(
    "In seeds",
    lambda lot: lot_words.seeds(lot.stock_seeds, about=lot.stock_seeds_is_estimate),
    sort=lambda lot: lot.stock_seeds,
    right=True,
)
CAME_IN = Column("Came in", lambda lot: lot.received_words, sort=lambda lot: lot.line.received_on)
GROWER = Column("Grower", lambda lot: lot.line.grower or lot_words.NOT_KNOWN)
GERMINATION = Column(
    "Germination",
    lot_words.germination,
    sort=lambda lot: lot.line.germination_percent,
    tone=lot_words.germination_tone,
)
SINCE = Column(
    "Since", lambda lot: lot_words.day(lot.line.due_on), sort=lambda lot: lot.line.due_on, least_px=108
)
WHY = Column("Why", lambda lot: lot.line.due_why, least_px=200)
RUNNING = (
    Column("Lot", lot_of_germination),
    Column("Crop", lambda run: run.crop),
    Column("Variety", lambda run: run.variety),
    Column("Laid", lambda run: lot_words.day(run.started_on), sort=lambda run: run.started_on),
    Column("First count", lambda run: lot_words.day(run.first_count_on), sort=lambda run: run.first_count_on),
    Column("Final count", lambda run: lot_words.day(run.final_count_on), sort=lambda run: run.final_count_on),
    Column("Seeds", lambda run: f"{run.seeds}", sort=lambda run: run.seeds, right=True),
)

TO_COUNT = Part(
    "Counts to make today",
    "The day of their first or final count has come.",
    RUNNING,
    (Way("Enter &counts", "Testing"), OPEN),
    lot_of_germination,
)
DUE = Part(
    "Due for a germination test",
    "Choose lots and start their tests; with none chosen, all of them go along.",
    (*LOT, SINCE, WHY, STOCK),
    (Way("Start &tests", "Testing"), OPEN),
    lot_of,
)
IN_HAND = Part(
    "In hand",
    "Came in and not in the store yet; the next step stands beside each.",
    (
        *(_within(column) for column in (*LOT, CAME_IN, STOCK)),
        Column("Done", lambda row: ", ".join(row.done) or "nothing yet"),
        Column("Next step", lambda row: STEP_WORDS.get(row.next_step or "", "put into the store")),
        Column("On hold", lambda row: ", ".join(row.holds), tone=lambda row: "bad" if row.holds else ""),
    ),
    (Way("Take the &next step", "Preparing"), OPEN),
    lot_in_hand,
)
TO_WEIGH = Part(
    "To be weighed",
    "Their stock is not known: nothing can be reckoned or packed before they were on the scale.",
    (*LOT, CAME_IN, GROWER),
    (Way("&Weigh", "Preparing"), OPEN),
    lot_of,
)
HELD = Part(
    "On hold",
    "Barred from packing and from the counter until somebody lifts the hold with a reason.",
    (
        *(_within(column) for column in LOT),
        Column("Because of", lambda row: ", ".join(row.kinds), tone=lambda row: "bad", least_px=120),
        *(_within(column) for column in (STOCK, GERMINATION)),
    ),
    (Way("&Open the lot"),),
    lot_in_hand,
)
OVERDUE = Part(
    "Promised returns overdue",
    "Seed that was promised back and has not come: ask, or give it up with a reason.",
    (
        Column("Lot", lot_of_promise),
        Column("Crop", lambda promise: promise.line.crop),
        Column("Variety", lambda promise: promise.line.variety),
        Column("Promised by", lambda promise: promise.who or lot_words.NOT_KNOWN),
        Column(
            "Expected by",
            lambda promise: lot_words.day(promise.line.expected_by),
            sort=lambda promise: promise.line.expected_by,
        ),
    ),
    (Way("Go to the &returns", "Counter"), OPEN),
    lot_of_promise,
)
GROUP_OPEN = Part(
    "Crop group still to be chosen",
    "Their botanical name is shared by several crop groups. Open the lot and choose the group.",
    (*LOT, CAME_IN, GROWER),
    (Way("&Open the lot"),),
    lot_of,
)
STANDING = Part(
    "Dishes standing",
    "Their next count comes later.",
    RUNNING,
    (Way("Look at the &dishes", "Testing"), OPEN),
    lot_of_germination,
)
BARRED = Part(
    "Test date reached, but not called due",
    "Under test already, or too few seeds to test without eating the reserve: plan their regrowing.",
    (*LOT, SINCE, Column("Barred by", lambda lot: lot.line.due_bar), SEEDS, WHY),
    (Way("&Open the lot"), Way("Plan to re&grow", "Regrowing")),
    lot_of,
)
TO_SOW = Part(
    "To be sown for regrowing",
    "Planned for this season; sowing draws the seed from stock.",
    (
        *(_within(column) for column in LOT),
        Column("Garden, bed", lambda row: row.where or lot_words.NOT_KNOWN),
        Column("Plants", lambda row: f"{row.line.plants:,}", sort=lambda row: row.line.plants, right=True),
        Column("Seeds", lambda row: f"{row.line.seeds:,}", sort=lambda row: row.line.seeds, right=True),
        Column("Kept apart by", lambda row: row.line.isolation or lot_words.NOT_KNOWN, spare=True),
    ),
    (Way("&Sow", "Regrowing"), OPEN),
    lot_of,
)
