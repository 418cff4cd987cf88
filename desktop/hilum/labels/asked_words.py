"""Asked words: what a seed packet is commonly asked to say. Hints with their sources, not legal advice."""

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from hilum.errors import ResourceError
from hilum.labels.errors import LabelWarning
from hilum.resources import resource

# A result older than this is pointed out before packing (common practice, no source).
OLD_MONTHS = 12
_CHECK = "check with your local authority"


@dataclass(frozen=True, slots=True)
class AskedWords:
    """One thing a packet is commonly asked to say, and who asks."""

    name: str
    words: str
    source: str


@cache
def asked_words() -> Mapping[str, AskedWords]:
    """Give what packets are commonly asked to say, by name."""
    path = resource("labels", "asked_words.csv")
    with path.open(encoding="utf-8", newline="") as lines:
        rows = list(csv.DictReader(lines))
    if any(not row.get("words") or not row.get("source") for row in rows):
        raise ResourceError(f"{path.name}: a row has no words or no source.")
    return {row["name"]: AskedWords(row["name"], row["words"], row["source"]) for row in rows}


def missing_words(
    key: str,
    fields: Mapping[str, str],
    *,
    germination_percent: float | None = None,
    standard_percent: float | None = None,
    months_since_test: int | None = None,
    is_treated: bool = False,
) -> tuple[LabelWarning, ...]:
    """Point out what a packet is commonly asked to say and this one does not; each with its source.

    `germination_percent` counts hard seed where the standard does.
    """
    said = " ".join(fields.values()).casefold()
    wanted = [
        name for name in ("crop", "variety", "year", "place_grown", "lot") if not fields.get(name, "").strip()
    ]
    below = (
        germination_percent is not None
        and standard_percent is not None
        and germination_percent < standard_percent
    )
    if below and "below standard" not in said:
        wanted.append("below_standard")
    if below and not fields.get("germination", "").strip():
        wanted.append("germination")
    if is_treated and not fields.get("treatment", "").strip():
        wanted.append("treatment")
    if months_since_test is not None and months_since_test > OLD_MONTHS:
        wanted.append("old_test")
    known = asked_words()
    return tuple(
        LabelWarning(key, name, f"{known[name].words} ({known[name].source}; {_CHECK})") for name in wanted
    )
