"""What every fault of packaging/faults.py stands on: a small catalogue, plain questions to it, a child program."""

import sqlite3
import subprocess
import sys
from contextlib import closing
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT / "desktop"))

SEED = 20261125
DAY = datetime(2026, 11, 25, 12)  # noqa: DTZ001 - the keeper's own wall clock
LIST = """Crop,Variety,Year,Weight,Received
Leek,Harrow Blue,2025,900 g,2025-10-01
Leek,Fen White,2025,900 g,2025-10-01
"""
NOT_TRIED = "not tried"


@dataclass(frozen=True)
class Outcome:
    """What a fault did: the figures in words, and what was lost or half done (nothing, if it was survived)."""

    figures: tuple[str, ...]
    harm: tuple[str, ...] = ()


def clock() -> datetime:
    """Give the day of the run."""
    return DAY


def fresh_catalogue(folder: Path) -> Path:
    """Make a catalogue with two lots of seed in a folder; gives its file."""
    from hilum.benches import intake, keeping

    listed = folder / "list.csv"
    listed.write_text(LIST, encoding="utf-8")
    file = folder / "library.hilum"
    with keeping.make(file, clock=clock) as catalogue:
        intake.take_in(catalogue, intake.plan_file(catalogue, listed, today=DAY.date()))
    return file


def asked(file: Path, question: str) -> list[tuple[object, ...]]:
    """Ask a file by the plain driver."""
    with closing(sqlite3.connect(file)) as raw:
        return raw.execute(question).fetchall()


def findings(file: Path) -> tuple[str, ...]:
    """Open a catalogue as the program does and give what its own check finds."""
    from hilum.benches import keeping

    with keeping.open_at(file, clock=clock) as catalogue:
        return keeping.check(catalogue).findings


def child(*arguments: str) -> "subprocess.Popen[str]":
    """Start packaging/faults.py again to do something that is then disturbed; what it says is read line by line."""
    script = str(ROOT / "packaging" / "faults.py")
    return subprocess.Popen(
        [sys.executable, script, *arguments], stdout=subprocess.PIPE, text=True, encoding="utf-8"
    )
