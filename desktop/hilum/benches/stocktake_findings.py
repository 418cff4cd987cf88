"""What a stocktake found: the book held against what was seen, and for each difference the ways to settle it."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import date

from hilum.benches.views import LotView
from hilum.catalogue.amounts import shown_amount
from hilum.catalogue.stocktaking import SeenLine
from hilum.catalogue.store_tree import StoreTree

MISSING, ELSEWHERE, DIFFERS, EMPTY, UNKNOWN = "missing", "elsewhere", "differs", "empty", "unknown"
HERE, BOOK, NOT_FOUND, WRITE_OFF = "here", "book", "not found", "write off"
# Seed gives off and takes on water with the air around it, and kitchen scales show 0.1 g: less is no finding.
# Own choice, no source.
WEIGHT_SLACK_MG, WEIGHT_SLACK_PERCENT = 100, 2.0


@dataclass(frozen=True, slots=True)
class Way:
    """One way to settle a finding: its key, and what it would write, in words."""

    key: str
    words: str


@dataclass(frozen=True, slots=True)
class Finding:
    """One difference between book and store. `key` names it for as long as nothing else is seen."""

    key: str
    kind: str
    lot: LotView | None
    words: str
    # What the ledger and the history will say of it.
    reason: str
    ways: tuple[Way, ...]
    seen_at: int = 0
    # What the stock changes by, in the lot's own unit.
    difference: int = 0


def findings_of(
    seen: Collection[SeenLine],
    known: Mapping[int, LotView],
    full: Collection[int],
    lying: Mapping[int, int | None],
    paths: Mapping[int, str],
    tree: StoreTree,
) -> tuple[Finding, ...]:
    """Hold the book against what was seen, missing lots first, then by lot number.

    `known` are the lots that lie here or were seen, `full` those that should be seen here, `lying` where the book
    has each of them, `paths` the names of all places.
    """
    found = []
    by_lot = {each.lot_id: each for each in seen if each.lot_id is not None}
    for lot_id in full:
        if lot_id not in by_lot:
            found.append(_missing(known[lot_id], paths.get(lying[lot_id] or 0, "")))
    for lot_id, line in by_lot.items():
        shown, place_id = known[lot_id], lying[lot_id]
        if place_id is None or place_id not in tree.inside(line.store_place_id, date.max):
            found.append(_elsewhere(shown, line, paths, place_id))
        amount = _differing(shown, line)
        if amount is not None:
            found.append(amount)
        elif lot_id not in full and shown.line.stock == 0 and place_id is not None:
            found.append(_empty(shown))
    found += [_unknown(each, paths) for each in seen if each.lot_id is None]
    order = (MISSING, ELSEWHERE, DIFFERS, EMPTY, UNKNOWN)
    return tuple(sorted(found, key=lambda each: (order.index(each.kind), each.key)))


def _missing(shown: LotView, path: str) -> Finding:
    words = f"{shown.number} ({shown.name}) lies in {path} by the book, with {shown.stock_words}, and was not seen."
    ways = [Way(NOT_FOUND, "It leaves this place and is held back from packing until it is found.")]
    if shown.line.stock:
        ways.append(Way(WRITE_OFF, f"It is lost: {shown.stock_words} are taken off the book."))
    return Finding(f"{MISSING} {shown.number}", MISSING, shown, words, "not seen", tuple(ways))


def _elsewhere(shown: LotView, line: SeenLine, paths: Mapping[int, str], place_id: int | None) -> Finding:
    booked = "nowhere" if place_id is None else f"in {paths[place_id]}"
    here = paths[line.store_place_id]
    words = f"{shown.number} ({shown.name}) was seen in {here}; by the book it lies {booked}."
    return Finding(
        f"{ELSEWHERE} {shown.number}", ELSEWHERE, shown, words, f"seen in {here}, booked {booked}",
        (Way(HERE, f"It lies in {here} from today."),), line.store_place_id,
    )  # fmt: skip


def _differing(shown: LotView, line: SeenLine) -> Finding | None:
    """Give what scale or count and book differ by, where it is more than scales and damp air explain."""
    unit, stock = shown.line.unit, shown.line.stock
    if line.gross_mg is not None and line.tare_mg is not None:
        there, how = line.gross_mg - line.tare_mg, "weighed"
    elif line.seeds is not None:
        there, how = line.seeds, "counted"
    else:
        return None
    difference = there - (stock or 0)
    slack = max(WEIGHT_SLACK_MG, WEIGHT_SLACK_PERCENT / 100 * (stock or 0)) if unit == "mg" else 0
    if stock is not None and abs(difference) <= slack:
        return None
    said = "it was never weighed" if stock is None else f"the book says {shown_amount(stock, unit)}"
    reason = f"{how} {shown_amount(there, unit)}, {said}"
    way = Way(BOOK, f"The book says {shown_amount(there, unit)} from today.")
    return Finding(
        f"{DIFFERS} {shown.number}", DIFFERS, shown, f"{shown.number} ({shown.name}): {reason}.", reason, (way,),
        difference=difference,
    )  # fmt: skip


def _empty(shown: LotView) -> Finding:
    words = (
        f"{shown.number} ({shown.name}) was seen, but the book says that it is used up. Weigh what is in the "
        "container, or take the empty one away."
    )
    return Finding(f"{EMPTY} {shown.number}", EMPTY, shown, words, "seen, used up by the book", ())


def _unknown(line: SeenLine, paths: Mapping[int, str]) -> Finding:
    words = (
        f"A code in {paths[line.store_place_id]} says “{line.code}”: no lot of this catalogue. Look at the label: it "
        "may be another library's, or damaged."
    )
    return Finding(f"{UNKNOWN} {line.code}", UNKNOWN, None, words, "", ())
