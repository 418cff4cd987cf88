"""How a lot and its figures are worded in tables and on pages: one place, so that they read the same everywhere."""

from datetime import date
from typing import TYPE_CHECKING

from hilum.benches.wording import month_words, shown_amount

# The first page words its rows before the catalogue's rooms are loaded.
if TYPE_CHECKING:
    from hilum.benches.views import LotView

NOT_KNOWN = "—"


def counted(number: int, one: str, many: str | None = None) -> str:
    """Give a number with its noun: 1 lot, 2 lots."""
    return f"{number:,} {one if number == 1 else (many or one + 's')}"


def grams(mass_mg: int | None, *, about: bool = False) -> str:
    """Give milligrams as grams in words; what is reckoned and not weighed says "about"."""
    if mass_mg is None:
        return "not known"
    return f"{'about ' if about else ''}{shown_amount(mass_mg, 'mg')}"


def seeds(number: int | None, *, about: bool = False) -> str:
    """Give a number of seeds in words."""
    if number is None:
        return "not known"
    return f"{'about ' if about else ''}{counted(number, 'seed')}"


def stock(lot: "LotView") -> str:
    """Give a lot's stock as it is booked."""
    return "to be weighed" if lot.line.stock is None else lot.stock_words


def year(lot: "LotView") -> str:
    """Give the year of harvest."""
    return NOT_KNOWN if lot.line.year is None else str(lot.line.year)


def day(value: date | None) -> str:
    """Give a day as it is written here."""
    return NOT_KNOWN if value is None else value.isoformat()


def germination(lot: "LotView") -> str:
    """Give the newest germination figure with its month, or that there is none."""
    line = lot.line
    if line.germination_percent is None:
        return "not tested"
    words = f"{line.germination_percent} %"
    if line.below_standard:
        return f"{words}, too low"
    return words if line.tested_on is None else f"{words}, {month_words(line.tested_on)}"


def germination_tip(lot: "LotView") -> str:
    """Give the newest germination figure with all that is to be known of it."""
    line = lot.line
    if line.germination_percent is None or line.tested_on is None:
        return germination(lot)
    standard = "no standard" if lot.standard_percent is None else f"standard {lot.standard_percent} %"
    return f"{line.germination_percent} %, {month_words(line.tested_on)}, {standard}"


def due(lot: "LotView", on: date) -> str:
    """Give when the next germination test falls due, or what bars it."""
    line = lot.line
    if line.due_bar:
        return line.due_bar
    if line.due_on is None:
        return NOT_KNOWN
    return f"due {line.due_on.isoformat()}" if line.due_on <= on else line.due_on.isoformat()


def due_tone(lot: "LotView", on: date) -> str:
    """Give the tone of a due date."""
    line = lot.line
    if line.due_bar or line.due_on is None:
        return "quiet"
    return "warn" if line.due_on <= on else ""


def state_tone(lot: "LotView") -> str:
    """Give the tone of a lot's state; the state is said in words too."""
    return {"held": "bad", "to be weighed": "warn", "empty": "quiet"}.get(lot.line.state, "")


def germination_tone(lot: "LotView") -> str:
    """Give the tone of a lot's germination figure."""
    if lot.line.germination_percent is None:
        return "quiet"
    return "bad" if lot.line.below_standard else ""
