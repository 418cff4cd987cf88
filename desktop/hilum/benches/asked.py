"""What a packet is commonly asked to say, held against what a label of a lot will say. Hints, not legal advice."""

from collections.abc import Mapping
from datetime import date

from hilum.benches.views import LotView
from hilum.catalogue.germination_tests import GerminationTestLine
from hilum.labels.asked_words import OLD_MONTHS, missing_words
from hilum.labels.designs import LabelDesign
from hilum.labels.job import LabelWarning


def goes_out(design: LabelDesign) -> bool:
    """Say whether a design is for seed that is handed out: such a one must name the place grown."""
    return "place_grown" in design.required


def months_since(day: date, on: date) -> int:
    """Give the whole months from one day to another."""
    return (on.year - day.year) * 12 + on.month - day.month - (on.day < day.day)


def is_old_test(tested_on: date, on: date) -> bool:
    """Say whether a result is so old that the lot should be tested again before packing."""
    return months_since(tested_on, on) > OLD_MONTHS


def asked_of(
    shown: LotView,
    result: GerminationTestLine | None,
    said: Mapping[str, str],
    *,
    on: date,
    is_treated: bool = False,
) -> tuple[LabelWarning, ...]:
    """Point out what the words of one label lack; `said` holds only what is known and what the label has room for."""
    standard = shown.standard
    tested_on = None if result is None else result.finished_on
    return missing_words(
        shown.number,
        said,
        germination_percent=_counted_percent(shown, result),
        standard_percent=None if standard is None else standard.percent,
        months_since_test=None if tested_on is None else months_since(tested_on, on),
        is_treated=is_treated,
    )


def _counted_percent(shown: LotView, result: GerminationTestLine | None) -> float | None:
    """Give the percent that the standard is held against: hard seed counts where its source says so."""
    if result is None or result.normal_percent is None:
        return None
    counts_hard = shown.standard is not None and shown.standard.counts_hard_seed
    return result.normal_percent + ((result.hard_percent or 0) if counts_hard else 0)
