"""Opening, making and bringing back a catalogue: plain functions for the pool, which load the benches when they run."""

from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from hilum.benches.keeping import Catalogue

Clock = Callable[[], datetime]


def open_there(where: str, clock: Clock) -> "Catalogue":
    """Open a catalogue that exists."""
    from hilum.benches import keeping

    return keeping.open_at(where, clock=clock)


def make_there(where: str, clock: Clock) -> "Catalogue":
    """Make a new catalogue."""
    from hilum.benches import keeping

    return keeping.make(where, clock=clock)


def open_demo(clock: Clock) -> "Catalogue":
    """Open the demo library, made at its first use."""
    from hilum.benches import folders, keeping

    return keeping.open_at(folders.ready_demo(clock=clock), clock=clock)


def copy_for_safety(catalogue: "Catalogue") -> Path | None:
    """Make the safety copy of closing."""
    from hilum.benches import keeping

    return keeping.closing_copy(catalogue)


def restore_there(copy: Path, where: Path, clock: Clock) -> "Catalogue":
    """Put a safety copy in the place of a catalogue, which is kept beside it, and open it."""
    from hilum.benches import keeping

    keeping.restore(copy, where, clock=clock)
    return keeping.open_at(where, clock=clock)
