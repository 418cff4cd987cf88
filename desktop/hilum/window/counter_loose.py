"""A line for loose seed: grams, or a number of seeds."""

import re

from PySide6.QtWidgets import QLineEdit, QWidget

from hilum.window.grams import mass_mg_of

_SEEDS = re.compile(r"(\d{1,7})\s*seeds?", re.IGNORECASE)


class LooseEdit(QLineEdit):
    """What is typed here goes with the next scan instead of packets."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setPlaceholderText("12 g, or 40 seeds")
        self.setMinimumWidth(150)
        self.setToolTip(
            "Loose seed that goes with the next scan instead of a packet: grams, or a number of seeds"
        )

    def amount(self) -> tuple[int | None, int | None] | None:
        """Give milligrams or seeds, None where nothing was typed; refused where it cannot be read."""
        typed = self.text().strip()
        if not typed:
            return None
        if found := _SEEDS.fullmatch(typed):
            return None, int(found[1])
        return mass_mg_of(typed), None
