"""Keeping a catalogue: making, opening, safety copies, checking, settings, and who is at the bench."""

from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass, fields, replace
from datetime import datetime
from pathlib import Path
from typing import Any

from hilum.benches.folders import own_designs_folder
from hilum.catalogue import keeping, listing, people
from hilum.catalogue.crops import rename_crops
from hilum.catalogue.due import recompute, stale_lots
from hilum.catalogue.erasures import erasures_noted, lineage_of_file
from hilum.catalogue.opening import Catalogue, is_on_shared_folder, new_catalogue, open_catalogue, place
from hilum.catalogue.settings import Settings, write_settings
from hilum.errors import BadInput, KeeperError
from hilum.labels.design_folder import look_in

__all__ = [
    "Catalogue",
    "CheckReport",
    "KeptCopy",
    "Settings",
    "backup",
    "bench_people",
    "change_settings",
    "check",
    "closing_copy",
    "come_to_bench",
    "copies_folder",
    "counted_lots",
    "kept_copies",
    "make",
    "open_at",
    "restore",
    "where_it_lies",
]

Clock = Callable[[], datetime]


@dataclass(frozen=True, slots=True)
class CheckReport:
    """What a check of the whole catalogue found; nothing is good."""

    findings: tuple[str, ...]

    @property
    def ok(self) -> bool:
        """Whether nothing was found."""
        return not self.findings


def make(where: str | Path, *, clock: Clock, demo: bool = False) -> Catalogue:
    """Make a new catalogue, with the invented demo library in it if asked, and open it."""
    catalogue = new_catalogue(where, clock=clock)
    if demo:
        from hilum.benches.demo import fill_demo

        try:
            fill_demo(catalogue)
        except BaseException:
            catalogue.close()
            if catalogue.file is not None:
                for suffix in ("", "-wal", "-shm"):
                    Path(f"{catalogue.file}{suffix}").unlink(missing_ok=True)
            raise
    look_in(own_designs_folder(catalogue.file))
    return catalogue


def open_at(where: str | Path, *, clock: Clock) -> Catalogue:
    """Open a catalogue that exists; label designs are looked for beside it from now on."""
    catalogue = open_catalogue(where, clock=clock)
    look_in(own_designs_folder(catalogue.file))
    return catalogue


def counted_lots(catalogue: Catalogue) -> int:
    """Give the number of lots."""
    with catalogue.look() as connection:
        return listing.count_lots(connection)


def where_it_lies(catalogue: Catalogue) -> str:
    """Say where the catalogue lies, and what that means if the place is slow or shared."""
    if is_on_shared_folder(catalogue):
        return (
            f"{catalogue.where} (in a shared or synced folder: Hilum uses the slower, safer journal here; "
            "let only one computer work on it at a time)"
        )
    return catalogue.where


def copies_folder(catalogue: Catalogue) -> Path:
    """Give the folder in which a catalogue's safety copies lie, beside its file."""
    file = catalogue.file
    if file is None:
        raise BadInput(
            "A catalogue on a server is copied with the server's own tools; ask whoever runs the server."
        )
    return keeping.copies_folder(file)


@dataclass(frozen=True, slots=True)
class KeptCopy:
    """One copy in the folder of safety copies; `trouble` says why it cannot be brought back, if it cannot."""

    file: Path
    made_at: datetime
    size_bytes: int
    lots: int | None
    trouble: str = ""

    @property
    def words(self) -> str:
        """The copy in words: from when it is, and how many lots it holds."""
        return f"the copy of {self.made_at:%Y-%m-%d %H:%M} with {self.lots} lots"


def kept_copies(catalogue: Catalogue) -> tuple[KeptCopy, ...]:
    """Give every copy beside a catalogue, the newest first: those of closing, and those before an upgrade or intake."""
    folder = copies_folder(catalogue)
    files = [each for each in folder.iterdir() if each.suffix == ".hilum"] if folder.is_dir() else []
    return tuple(sorted(map(_looked_at, files), key=lambda each: each.made_at, reverse=True))


def _looked_at(file: Path) -> KeptCopy:
    known = file.stat()
    # The file's own time is the moment at which the copy was finished, by this computer's clock.
    made_at = datetime.fromtimestamp(known.st_mtime)  # noqa: DTZ006 - the keeper's own wall clock
    try:
        return KeptCopy(file, made_at, known.st_size, keeping.lots_in_copy(file))
    except KeeperError as error:
        return KeptCopy(file, made_at, known.st_size, None, str(error))


def closing_copy(catalogue: Catalogue) -> Path | None:
    """Make the safety copy of closing, verified and rotated; None where a server holds the catalogue."""
    if catalogue.file is None:
        return None
    kept = catalogue.settings().safety_copies_kept
    return keeping.safety_copy(catalogue, copies_folder(catalogue), catalogue.now().date(), kept)


def backup(catalogue: Catalogue, file: Path) -> Path:
    """Write a verified copy of the whole catalogue to a file that does not exist yet."""
    return keeping.backup(catalogue, file)


def restore(copy: Path, where: str | Path, *, clock: Clock) -> Path | None:
    """Put a safety copy in the place of a catalogue; gives where the replaced file was kept, if there was one.

    Names that the library has erased since the copy was made are erased in it again.
    """
    if place(where).get_backend_name() != "sqlite":
        raise BadInput(
            "A catalogue on a server is restored with the server's own tools; ask whoever runs the server."
        )
    file = Path(where)
    # Read first: a list that cannot be read must not let names come back.
    library, erased = erasures_noted(file)
    kept = keeping.restore(copy, file, clock=clock)
    if erased and lineage_of_file(file) == library:
        from hilum.benches.people import replay_erasures

        with open_catalogue(file, clock=clock) as restored:
            replay_erasures(restored, erased)
    return kept


def check(catalogue: Catalogue) -> CheckReport:
    """Look through the whole catalogue: the file itself, the ledger, and every figure that is kept ready."""
    with catalogue.look() as connection:
        stale = stale_lots(connection, catalogue.now().date())
    found = list(keeping.check(catalogue))
    found += [
        f"Lot {number}: the due date or state kept on it is not what its records say." for number in stale
    ]
    return CheckReport(tuple(found))


def change_settings(catalogue: Catalogue, changes: Mapping[str, Any]) -> Settings:
    """Change some of the library's own rules; every lot's due date is brought up to date with them."""
    unknown = set(changes) - {field.name for field in fields(Settings)}
    if unknown:
        raise BadInput(f"There is no setting {', '.join(sorted(unknown))}.")
    with catalogue.job("change the library's settings") as job:
        fresh = replace(job.settings, **changes)
        write_settings(job.connection, fresh)
        under_new_rules = replace(job, settings=fresh)
        if "language" in changes:
            rename_crops(under_new_rules)
        recompute(under_new_rules)
        return fresh


def settings_as_json(settings: Settings) -> dict[str, Any]:
    """Give the settings as plain values."""
    return asdict(settings)


def bench_people(catalogue: Catalogue) -> tuple[tuple[int, str], ...]:
    """Give those who work at the bench, by name."""
    with catalogue.look() as connection:
        return people.bench_people(connection)


def come_to_bench(catalogue: Catalogue, name: str) -> int:
    """Say who is at the bench from now on; movements and edits carry that person's id."""
    with catalogue.job("come to the bench") as job:
        who = people.welcome(job, name)
    catalogue.person_id = who
    return who
