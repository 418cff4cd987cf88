"""A field for grams: point or comma, and no guess where a figure can be read in two ways."""

import re
from decimal import Decimal

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLineEdit, QWidget

from hilum.errors import BadInput

# The heaviest lot anyone would put on a scale here, in milligrams: one tonne.
MOST_MG = 1_000_000_000
_FIGURE = re.compile(r"(?P<whole>\d+)(?:(?P<mark>[.,])(?P<part>\d+))?\s*(?P<unit>kg|mg|g)?", re.IGNORECASE)
_MG_OF = {"kg": 1_000_000, "g": 1_000, "mg": 1}


def mass_mg_of(text: str) -> int | None:
    """Give the milligrams that were typed as grams, None for nothing; what has two readings is refused."""
    text = text.strip().replace("\u202f", " ").replace("\xa0", " ")
    if not text:
        return None
    found = _FIGURE.fullmatch(text)
    if found is None:
        raise BadInput(f"“{text}” is no weight. Write grams with a point or a comma: 12.5 or 12,5.")
    whole, part, unit = found["whole"], found["part"] or "", (found["unit"] or "g").lower()
    if len(part) == 3 and whole != "0" and len(whole) <= 3:
        raise BadInput(
            f"“{text}” can be read in two ways: {whole}{part} {unit}, or {whole}.{part} {unit}. "
            f"Write {whole}{part}, or {whole}.{part}0."
        )
    mass = Decimal(f"{whole}.{part or 0}") * _MG_OF[unit]
    if mass != mass.to_integral_value():
        raise BadInput(f"“{text}” is finer than a thousandth of a gram, which no scale here shows.")
    if mass > MOST_MG:
        raise BadInput(f"“{text}” is more than a tonne. Write grams.")
    return int(mass)


def grams_text(mass_mg: int | None) -> str:
    """Give milligrams as grams are typed here; empty for what is not known."""
    if mass_mg is None:
        return ""
    text = f"{Decimal(mass_mg) / 1000:f}"
    # Three decimals would be refused when read again.
    if "." in text and len(text.partition(".")[2]) == 3 and not text.startswith("0."):
        text += "0"
    return text


class GramsEdit(QLineEdit):
    """A line for grams. `mass_mg` is None while it is empty or not clear; `trouble` says what is wrong."""

    trouble_changed = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._mass_mg: int | None = None
        self._trouble = ""
        self.setPlaceholderText("grams")
        self.setMaximumWidth(180)
        self._connect()

    def _connect(self) -> None:
        self.textChanged.connect(self.on_text)

    def mass_mg(self) -> int | None:
        """Give what was typed in milligrams; None where nothing, or nothing clear, was typed."""
        return self._mass_mg

    def set_mass_mg(self, mass_mg: int | None) -> None:
        """Put a weight into the line."""
        self.setText(grams_text(mass_mg))

    def trouble(self) -> str:
        """Say what is wrong with what was typed; empty when nothing is."""
        return self._trouble

    def on_text(self, text: str) -> None:
        """Read what stands in the line, and mark it when it cannot be meant."""
        before = self._trouble
        try:
            self._mass_mg, self._trouble = mass_mg_of(text), ""
        except BadInput as error:
            self._mass_mg, self._trouble = None, str(error)
        self.setToolTip(self._trouble)
        self.setAccessibleDescription(self._trouble)
        if before != self._trouble:
            self.setProperty("wrong", "true" if self._trouble else "false")
            self.style().unpolish(self)
            self.style().polish(self)
            self.trouble_changed.emit(self._trouble)
