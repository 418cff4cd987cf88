"""Store: a place is counted by scan, scale and photo, held against the book, and corrections are offered."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

from hilum.benches.stocktake_findings import (
    BOOK,
    DIFFERS,
    ELSEWHERE,
    EMPTY,
    HERE,
    MISSING,
    NOT_FOUND,
    UNKNOWN,
    WEIGHT_SLACK_MG,
    WEIGHT_SLACK_PERCENT,
    WRITE_OFF,
    Finding,
    Way,
    findings_of,
)
from hilum.benches.store import carry_stay, place_of_id, refuse_closed
from hilum.benches.views import LotView, view
from hilum.catalogue import ledger, listing, places, steps, stocktaking
from hilum.catalogue.due import recompute
from hilum.catalogue.find import resolve_lot
from hilum.catalogue.lots import lines_of
from hilum.catalogue.numbering import NoSuchLot
from hilum.catalogue.opening import Catalogue, Job
from hilum.catalogue.places import StorePlaceLine
from hilum.catalogue.settings import Settings, read_settings
from hilum.catalogue.stocktaking import SeenLine, StocktakeLine
from hilum.catalogue.store_tree import read_store_tree
from hilum.errors import BadInput
from hilum.labels.photo import read_photo

__all__ = [
    "BOOK",
    "CAUTION",
    "DIFFERS",
    "ELSEWHERE",
    "EMPTY",
    "HERE",
    "MISSING",
    "NOT_FOUND",
    "UNKNOWN",
    "WEIGHT_SLACK_MG",
    "WEIGHT_SLACK_PERCENT",
    "WRITE_OFF",
    "Counted",
    "Finding",
    "PhotoNoted",
    "Seen",
    "StocktakeDone",
    "Way",
    "begin_stocktake",
    "drop_stocktake",
    "forget_seen",
    "note_photo",
    "note_seen",
    "stocktake_now",
    "stocktakes_open",
    "write_stocktake",
]

# Common practice, no source: jars stay shut in the cold, and a photo tells that a jar is there, not what it holds.
CAUTION = (
    "Count cold jars without opening them, and put them back soon: air that reaches cold seed wets it. A photo or a "
    "scan says that a jar is there; how much is in it only the scale says."
)


def _findings(count: int) -> str:
    return "1 finding" if count == 1 else f"{count} findings"


@dataclass(frozen=True, slots=True)
class Seen:
    """A lot that was noted as seen, whether for the first time, and a sentence to say so."""

    lot: LotView
    is_new: bool
    words: str


@dataclass(frozen=True, slots=True)
class PhotoNoted:
    """What a photo brought: lots seen for the first time, lots seen before, and codes that are no lot of ours."""

    name: str
    new: tuple[str, ...]
    before: tuple[str, ...]
    unknown: tuple[str, ...]

    @property
    def words(self) -> str:
        """What the photo brought, in a sentence."""
        parts = [f"{len(self.new)} lots seen for the first time"]
        if self.before:
            parts.append(f"{len(self.before)} seen before")
        if self.unknown:
            parts.append(f"{len(self.unknown)} codes that are no lot here: {', '.join(self.unknown[:5])}")
        return f"{self.name}: {'; '.join(parts)}."


@dataclass(frozen=True, slots=True)
class Counted:
    """A stocktake as it stands: what the book expects, what was seen, and what differs."""

    id: int
    place: StorePlaceLine
    begun_on: date
    expected: int
    seen: tuple[SeenLine, ...]
    findings: tuple[Finding, ...]

    @property
    def words(self) -> str:
        """How far the count has come, in a sentence."""
        missing = sum(1 for each in self.findings if each.kind == MISSING)
        here = self.expected - missing
        return f"{self.place.path}: {here} of {self.expected} lots of the book seen; {_findings(len(self.findings))}."


@dataclass(frozen=True, slots=True)
class StocktakeDone:
    """A stocktake that was written to the record: the lots it corrected and the findings left as they are."""

    place: StorePlaceLine
    corrected: tuple[str, ...]
    left: int

    @property
    def words(self) -> str:
        """What was written, in a sentence."""
        return (
            f"Stocktake of {self.place.path} written: {len(self.corrected)} corrected, "
            f"{_findings(self.left)} left as found."
        )


def begin_stocktake(catalogue: Catalogue, store_place_id: int, *, on: date) -> Counted:
    """Begin to count a place with all that lies in it; it may be broken off and taken up again, on any day."""
    with catalogue.job("begin a stocktake") as job:
        refuse_closed(place_of_id(job, store_place_id))
        begun = stocktaking.stocktake_of(job.connection, stocktaking.begin(job, store_place_id, on))
        return _counted(job.connection, job.settings, begun)


def stocktakes_open(catalogue: Catalogue) -> tuple[StocktakeLine, ...]:
    """Give the stocktakes that are under way, the newest first."""
    with catalogue.look() as connection:
        return stocktaking.open_stocktakes(connection)


def note_seen(
    catalogue: Catalogue,
    stocktake_id: int,
    typed: str,
    *,
    store_place_id: int | None = None,
    gross_mg: int | None = None,
    tare_mg: int | None = None,
    seeds: int | None = None,
) -> Seen:
    """Note a lot that was scanned or typed, with what the scale shows (jar and seed), or what was counted.

    What the empty container weighs is known from the lot's stay or must be given. Raises NoSuchLot for a code that
    is no lot here, a damaged one included: its check character tells.
    """
    with catalogue.job("note a lot at a stocktake") as job:
        found = stocktaking.stocktake_of(job.connection, stocktake_id)
        lot_id = resolve_lot(job.connection, typed)
        shown = view(listing.one_lot(job.connection, lot_id), job.settings)
        if gross_mg is not None or seeds is not None:
            tare_mg = _checked_amounts(job, shown, gross_mg, tare_mg, seeds)
        values = {
            "lot_id": lot_id,
            "store_place_id": _place_seen(job, found, store_place_id),
            "seen_by": "scan",
            "gross_mg": gross_mg,
            "tare_mg": tare_mg,
            "seeds": seeds,
        }
        is_new = stocktaking.see(job, stocktake_id, shown.number, values)
    again = "" if is_new else " (seen before)"
    return Seen(shown, is_new, f"{shown.number} ({shown.name}): seen{again}.")


def _place_seen(job: Job, found: StocktakeLine, store_place_id: int | None) -> int:
    if store_place_id is None:
        return found.store_place_id
    if store_place_id not in read_store_tree(job.connection).inside(found.store_place_id, date.max):
        raise BadInput(
            f"{place_of_id(job, store_place_id).path} does not lie in the place that is counted. "
            "Begin a stocktake of its own for it."
        )
    return store_place_id


def _checked_amounts(
    job: Job, shown: LotView, gross_mg: int | None, tare_mg: int | None, seeds: int | None
) -> int | None:
    """Give the weight of the empty container; refuse what does not go with the lot."""
    if seeds is not None:
        if shown.line.unit != "seeds":
            raise BadInput(f"Lot {shown.number} is booked by weight. Weigh it instead of counting it.")
        if seeds < 0:
            raise BadInput("A count goes from 0 up.")
        return None
    if gross_mg is None:
        return None
    if shown.line.unit != "mg":
        raise BadInput(f"Lot {shown.number} is booked in counted seeds. Count it instead of weighing it.")
    if tare_mg is None:
        stays = steps.stays_of(job.connection, shown.line.id)
        tare_mg = stays[-1].tare_mg if stays else None
    if tare_mg is None:
        raise BadInput(
            f"What the empty container of {shown.number} weighs is not known. Give it too, or weigh the seed without "
            "its container and give 0."
        )
    if not 0 <= tare_mg <= gross_mg:
        raise BadInput("The full container cannot weigh less than the empty one. Weigh both again.")
    return tare_mg


def note_photo(
    catalogue: Catalogue,
    stocktake_id: int,
    file: Path,
    *,
    store_place_id: int | None = None,
    progress: Callable[[int, int], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> PhotoNoted:
    """Note every lot whose code is in a picture of a tray or shelf; refuses a file that is no picture.

    The decoder takes small or blurred codes for others now and then. The check character of the lot number finds
    these out, so that no lot is noted which was not in the picture.
    """
    read = read_photo(file, progress=progress, stop=stop)
    new, before, unknown = list[str](), list[str](), list[str]()
    with catalogue.job("note a photo at a stocktake") as job:
        found = stocktaking.stocktake_of(job.connection, stocktake_id)
        place_id = _place_seen(job, found, store_place_id)
        for code in dict.fromkeys(each.text for each in read.codes):
            try:
                lot_id = resolve_lot(job.connection, code)
            except NoSuchLot:
                unknown.append(code)
                values = {"store_place_id": place_id, "seen_by": "photo"}
                stocktaking.see(job, stocktake_id, code[:_LONGEST_CODE], values)
                continue
            number = listing.one_lot(job.connection, lot_id).number
            values = {"lot_id": lot_id, "store_place_id": place_id, "seen_by": "photo"}
            (new if stocktaking.see(job, stocktake_id, number, values) else before).append(number)
    return PhotoNoted(read.name, tuple(new), tuple(before), tuple(unknown))


_LONGEST_CODE = 200


def forget_seen(catalogue: Catalogue, stocktake_id: int, code: str) -> None:
    """Strike what was noted by mistake."""
    with catalogue.job("strike a line of a stocktake") as job:
        stocktaking.stocktake_of(job.connection, stocktake_id)
        if not stocktaking.forget(job, stocktake_id, code):
            raise BadInput(f"{code} is not among what was seen.")


def stocktake_now(catalogue: Catalogue, stocktake_id: int) -> Counted:
    """Hold what was seen so far against the book; nothing is written."""
    with catalogue.look() as connection:
        found = stocktaking.stocktake_of(connection, stocktake_id)
        return _counted(connection, read_settings(connection), found)


def _counted(connection: Any, settings: Settings, found: StocktakeLine) -> Counted:
    tree = read_store_tree(connection)
    seen = stocktaking.seen_in(connection, found.id)
    known_places = {line.id: line for line in places.store_places(connection)}
    booked = places.places_of_lots(connection, tree.inside(found.store_place_id, date.max))
    lot_ids = {*booked, *(each.lot_id for each in seen if each.lot_id is not None)}
    known = {line.id: view(line, settings) for line in lines_of(connection, lot_ids)}
    full = [each for each in booked if not _is_used_up(connection, known[each])]
    lying = {each: booked.get(each) or places.place_of_lot(connection, each) for each in lot_ids}
    top = known_places[found.store_place_id]
    paths = {each: _shortly(line, top) for each, line in known_places.items()}
    findings = findings_of(seen, known, full, lying, paths, tree)
    return Counted(found.id, top, found.begun_on, len(full), seen, findings)


def _shortly(line: StorePlaceLine, top: StorePlaceLine) -> str:
    """Name a place within the counted one without the way to it."""
    return top.name if line.id == top.id else line.path.removeprefix(f"{top.path}{places.BETWEEN}")


def _is_used_up(connection: Any, shown: LotView) -> bool:
    """Say whether neither seed nor packets of a lot should be there."""
    if shown.line.stock != 0:
        return False
    return not any(batch.packets_left for batch in steps.batches_of(connection, shown.line.id))


def write_stocktake(
    catalogue: Catalogue, stocktake_id: int, ways: Mapping[str, str], *, on: date
) -> StocktakeDone:
    """Write the corrections that were accepted: of each finding's key, the way it is settled. The others stay.

    All of it is one job and is taken back as one; the stocktake is then under way again.
    """
    with catalogue.job("write a stocktake") as job:
        found = stocktaking.stocktake_of(job.connection, stocktake_id)
        counted = _counted(job.connection, job.settings, found)
        by_key = {each.key: each for each in counted.findings}
        if strangers := set(ways) - set(by_key):
            raise BadInput(
                f"{', '.join(sorted(strangers))}: not found by this stocktake any more. Look at its findings again."
            )
        touched = dict[int, str]()
        for key, way in ways.items():
            finding, shown = by_key[key], by_key[key].lot
            if shown is None or way not in {each.key for each in finding.ways}:
                raise BadInput(f"{finding.words} It cannot be settled as “{way}”.")
            _settle(job, counted, finding, shown, way, on)
            touched[shown.line.id] = shown.number
        for seen in counted.seen:
            if seen.lot_id is not None and seen.gross_mg is not None and seen.tare_mg is not None:
                steps.note_tare(job, seen.lot_id, seen.tare_mg)
        stocktaking.end(job, stocktake_id, stocktaking.WRITTEN, on)
        recompute(job, sorted(touched))
        return StocktakeDone(
            counted.place, tuple(sorted(touched.values())), len(counted.findings) - len(ways)
        )


def _settle(job: Job, counted: Counted, finding: Finding, shown: LotView, way: str, on: date) -> None:
    lot_id, why = shown.line.id, f"stocktake of {counted.place.path}: {finding.reason}"
    if way == HERE:
        carry_stay(job, lot_id, finding.seen_at, on)
    elif way == BOOK:
        ledger.move(job, lot_id, "stocktake", finding.difference, on=on, why=why)
        steps.set_lot(job, lot_id, {"stock_is_estimate": False})
    elif way == NOT_FOUND:
        steps.end_stay(job, lot_id, on)
        steps.add_hold(job, lot_id, "other", on, f"not found at the {why}, {on.isoformat()}")
    elif way == WRITE_OFF:
        steps.end_stay(job, lot_id, on)
        ledger.move(job, lot_id, "stocktake", -(shown.line.stock or 0), on=on, why=why)


def drop_stocktake(catalogue: Catalogue, stocktake_id: int, *, on: date) -> None:
    """End a stocktake without writing anything to the record; what was seen is kept with it."""
    with catalogue.job("drop a stocktake") as job:
        stocktaking.stocktake_of(job.connection, stocktake_id)
        stocktaking.end(job, stocktake_id, stocktaking.DROPPED, on)
