"""Moving house: the whole catalogue copied into a new file or an empty database on a server, in either direction."""

import shutil
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from hilum.benches.folders import own_designs_folder
from hilum.catalogue import moving
from hilum.catalogue.moving import MovingStopped
from hilum.catalogue.opening import Catalogue, Job, new_catalogue
from hilum.errors import BadInput

__all__ = ["Copied", "MovingStopped", "copy_whole"]


@dataclass(frozen=True, slots=True)
class Copied:
    """A catalogue that was copied whole: where it lies now, its rows by table, its lots, the label designs with it."""

    where: str
    rows: dict[str, int]
    designs: int

    @property
    def lots(self) -> int:
        """The number of lots, withdrawn ones too."""
        return self.rows["lot"]

    @property
    def words(self) -> str:
        """What was done, in a sentence."""
        designs = f", with {self.designs} files of label designs" if self.designs else ""
        return (
            f"Copied to {self.where}: {self.lots} lots, {sum(self.rows.values())} rows in all, each compared with what "
            f"it was copied from{designs}. The catalogue it was copied from is as it was."
        )


def copy_whole(
    catalogue: Catalogue,
    where: str | Path,
    *,
    clock: Callable[[], datetime],
    progress: Callable[[int, int], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> Copied:
    """Copy everything into a file that is not there yet, or into an empty database, and compare row by row.

    One transaction on either side: the copy is of one moment, and a failure or a stop leaves nothing behind. The
    library's own label designs go along where the other place has none of the name.
    """
    rows: dict[str, int] = {}

    def fill(job: Job) -> None:
        rows.update(moving.copy_rows(source, job.connection, progress=progress, stop=stop))

    with catalogue.look() as source, new_catalogue(where, clock=clock, fill=fill) as made:
        if made.where == catalogue.where:
            raise BadInput("That is the catalogue itself. Name another place.")
        shown, file = made.where, made.file
    designs = _carry_designs(own_designs_folder(catalogue.file), own_designs_folder(file))
    return Copied(shown, rows, designs)


def _carry_designs(of: Path, to: Path) -> int:
    """Copy label designs and their pictures; what is there already stays."""
    if not of.is_dir() or of == to:
        return 0
    carried = 0
    for file in sorted(each for each in of.iterdir() if each.is_file()):
        to.mkdir(parents=True, exist_ok=True)
        if not (to / file.name).exists():
            shutil.copy2(file, to / file.name)
            carried += 1
    return carried
