"""What laying out dishes and writing down their counts have in common, whether day by day or all at once."""

from collections.abc import Mapping, Sequence
from datetime import date

from hilum.benches.lots import in_lot_unit
from hilum.benches.views import LotView
from hilum.catalogue import ledger
from hilum.catalogue.germination_tests import CLASSES
from hilum.catalogue.opening import Job
from hilum.errors import BadInput
from hilum.seedlore.methods import GerminationMethod, method


def method_of(shown: LotView) -> GerminationMethod | None:
    """Give the published method for a lot's crop, or None where there is none."""
    reference = shown.reference
    return method(reference.method_key) if reference and reference.method_key else None


def method_words(published: GerminationMethod | None) -> str:
    """Give a method in one line as a keeper reads it."""
    if published is None:
        return "No published method for this crop: choose the conditions yourself and note them."
    substrates = ", ".join(entry.name for entry in published.substrates)
    first = (
        "single count"
        if published.first_count_days is None
        else f"first count day {published.first_count_days}"
    )
    words = [substrates, published.warmth.words, first, f"final count day {published.final_count_days}"]
    if published.light:
        words.append(f"light: {published.light}")
    if published.hard_seed_possible:
        words.append("hard seed possible: soak no longer than the method says, class it apart")
    if published.prechill_days:
        words.append(f"prechill {published.prechill_days} days for fresh or dormant seed")
    return "; ".join(words)


def draw_for_test(
    job: Job, lot_id: int, shown: LotView, test_id: int, seeds: int, on: date, mass_mg: int | None
) -> None:
    """Take the seed of a test out of stock, by weight where it was weighed, else by the thousand-seed weight."""
    why = f"{seeds} seeds laid for a germination test"
    if shown.line.stock is None:
        # What was never weighed cannot be reckoned down; the line still says that seed went.
        ledger.move(job, lot_id, "test", None, on=on, why=why, test_id=test_id)
        return
    amount = (
        mass_mg
        if mass_mg is not None and shown.line.unit == "mg"
        else in_lot_unit(shown, mass_mg=None, seeds=seeds)
    )
    ledger.move(job, lot_id, "test", -amount, on=on, why=why, test_id=test_id)


def reserve_warnings(shown: LotView, what: str) -> tuple[str, ...]:
    """Warn when the seed of a test has drawn on the reserve; `what` begins the sentence."""
    if shown.stock_seeds is None or shown.stock_seeds >= shown.reserve_seeds:
        return ()
    return (f"{what} on the reserve: about {shown.stock_seeds} seeds are left of {shown.reserve_seeds}.",)


def refuse_bad_dishes(dishes: Sequence[int]) -> None:
    """Refuse a layout of dishes that cannot be."""
    if not dishes or any(seeds < 1 for seeds in dishes):
        raise BadInput("A germination test needs at least one dish with at least one seed.")
    if len(dishes) > 16 or sum(dishes) > 10_000:
        raise BadInput("A germination test has at most 16 dishes and 10,000 seeds.")


def clean_counts(classes: Mapping[str, int | None], number: int) -> dict[str, int | None]:
    """Give every class a figure or None, and refuse classes and figures that cannot be."""
    unknown = set(classes) - set(CLASSES)
    if unknown:
        raise BadInput(f"Seeds are classed as {', '.join(CLASSES)}; not as {', '.join(sorted(unknown))}.")
    for name, count in classes.items():
        if count is not None and count < 0:
            raise BadInput(f"Dish {number}: {count} {name} seeds cannot be. Counts begin at 0.")
    return {name: classes.get(name) for name in CLASSES}
