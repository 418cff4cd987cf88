"""Folders: where this user's own things lie: the catalogue, the demo library, the log."""

import os
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

CATALOGUE_NAME = "library.hilum"
DESIGNS_NAME = "label designs"
DEMO_NAME = "demo library.hilum"


def data_folder() -> Path:
    """Give the user's data folder for Hilum; it may not be there yet."""
    from platformdirs import user_data_path

    return user_data_path("hilum", appauthor=False)


def own_designs_folder(catalogue_file: Path | None) -> Path:
    """Give the folder of the keeper's own label designs: beside the catalogue's file, or in the user's data folder."""
    if catalogue_file is None:
        return data_folder() / DESIGNS_NAME
    return catalogue_file.with_name(f"{catalogue_file.stem} {DESIGNS_NAME}")


def usual_catalogue() -> Path:
    """Give the file of the keeper's catalogue where no other place was named."""
    return data_folder() / CATALOGUE_NAME


def log_file() -> Path:
    """Give the file that faults of the program are written to."""
    from platformdirs import user_log_path

    return user_log_path("hilum", appauthor=False) / "hilum.log"


def ready_demo(*, clock: Callable[[], datetime]) -> Path:
    """Give the file of the demo library, which is made at first use and kept."""
    from hilum.benches import keeping

    there = data_folder() / DEMO_NAME
    if there.exists():
        return there
    # Made under a name of this process's own, so that a broken-off making never passes for the whole library and
    # two first starts do not disturb each other.
    making = there.with_name(f"making {os.getpid()} {DEMO_NAME}")
    for left in (making, *(Path(f"{making}{ending}") for ending in ("-wal", "-shm", "-journal"))):
        left.unlink(missing_ok=True)
    keeping.make(making, clock=clock, demo=True).close()
    if there.exists():
        making.unlink()
    else:
        making.rename(there)
    return there
