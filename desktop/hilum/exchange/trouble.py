"""Why a cell could not be taken: the reason, what to do, and a suggestion where there is one."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Trouble:
    """What is wrong with one cell, in a sentence to act on; `asks` names the choice that settles it.

    `options` are the answers that seem likeliest, best first (for a crop: its keys).
    """

    why: str
    suggestion: str | None = None
    asks: str | None = None
    options: tuple[str, ...] = ()


ASKS_DECIMAL_MARK = "decimal mark"
ASKS_DATE_ORDER = "date order"
ASKS_UNIT = "unit"
ASKS_CROP = "crop"
