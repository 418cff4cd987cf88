"""What the printing dialogs remember from one day to the next: design, label stock, dots, folder, printer."""

import json
from dataclasses import asdict, dataclass, field
from pathlib import Path
from typing import Any

from PySide6.QtCore import QLocale

from hilum.benches.folders import data_folder
from hilum.window.print_files import write_whole

DPI = (203, 300, 600)
# The stocks offered on the first day, by design: the commonest sheet that the design fits well.
FIRST_A4 = {"packet": "a4-3x7-63.5x38.1", "jar": "a4-2x7-99.1x38.1", "dish": "a4-5x13-38.1x21.2"}
FIRST_LETTER = {
    "packet": "letter-3x10-66.7x25.4",
    "jar": "letter-2x5-101.6x50.8",
    "dish": "letter-3x10-66.7x25.4",
}


@dataclass
class PrintMemory:
    """What was chosen last."""

    design: str = "packet"
    stocks: dict[str, str] = field(default_factory=dict)
    dpi: int = 300
    folder: str = ""
    printer: str = ""
    tray: str = ""
    seeds: int = 40
    packets: int = 20

    def stock_for(self, design: str) -> str:
        """Give the stock last used with a design, or the one to begin with."""
        first = FIRST_LETTER if is_letter_country() else FIRST_A4
        return self.stocks.get(design) or first.get(design, first["packet"])


def is_letter_country() -> bool:
    """Say whether this computer stands where paper is Letter rather than A4."""
    return QLocale.system().measurementSystem() == QLocale.MeasurementSystem.ImperialUSSystem


def memory_file() -> Path:
    """Give the file it is kept in, beside the keeper's catalogue."""
    return data_folder() / "printing.json"


def remembered() -> PrintMemory:
    """Read what was chosen last; a file that cannot be read or is of another kind counts for nothing."""
    try:
        kept: Any = json.loads(memory_file().read_text(encoding="utf-8"))
    except (OSError, ValueError):
        # Only last choices are lost, and the next choice writes the file anew.
        return PrintMemory()
    memory = PrintMemory()
    if isinstance(kept, dict):
        for name, usual in asdict(memory).items():
            if type(kept.get(name)) is type(usual):
                setattr(memory, name, kept[name])
    memory.stocks = {str(key): str(value) for key, value in memory.stocks.items()}
    if memory.dpi not in DPI:
        memory.dpi = 300
    return memory


def remember(memory: PrintMemory) -> None:
    """Keep what was chosen; raises PrintFileError when the folder cannot be written to."""
    write_whole(memory_file(), json.dumps(asdict(memory), indent=1).encode("utf-8"))
