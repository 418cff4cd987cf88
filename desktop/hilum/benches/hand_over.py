"""The pack for the next keeper: the whole catalogue, tables, lists and a page that says what to do with them."""

import json
import shutil
import tempfile
import zipfile
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, timedelta
from pathlib import Path

from hilum.benches import keeping
from hilum.benches.hand_over_page import PackFacts, pack_page
from hilum.benches.hand_over_tables import HEADINGS, lot_row, passport_of
from hilum.benches.lists import lots_on_paper
from hilum.benches.lots import LotFilter, find_lots
from hilum.benches.views import LotView
from hilum.catalogue.anonymous import blank_people
from hilum.catalogue.opening import Catalogue
from hilum.catalogue.written import Written, written_of
from hilum.errors import BadInput, KeeperError
from hilum.exchange.passport import write_passports
from hilum.exchange.writing import put_whole, write_csv, write_xlsx

__all__ = ["HandedOver", "hand_over"]

PAGE = "READ ME FIRST.html"
A_YEAR = timedelta(days=365)
Progress = Callable[[int, int], None]


@dataclass(frozen=True, slots=True)
class HandedOver:
    """The pack that was written: where it lies, what is in it, and what is to be known of it."""

    place: Path
    files: tuple[tuple[str, str], ...]
    lots: int
    with_people: bool
    warnings: tuple[str, ...]


class _Stopped(KeeperError):
    """The keeper stopped it."""


def hand_over(
    catalogue: Catalogue,
    place: Path,
    *,
    on: date,
    with_people: bool = False,
    progress: Progress | None = None,
    stop: Callable[[], bool] | None = None,
) -> HandedOver:
    """Write the pack into a new folder, or into one file where the name ends in .zip; whole, or not at all.

    Without `with_people` no grower's, donor's or helper's name leaves the house, in the copy of the catalogue neither.
    """
    if place.exists():
        raise BadInput(f"{place} is already there. Choose another name for the pack.")
    if not place.parent.is_dir():
        raise BadInput(f"There is no folder {place.parent}. Make it first, or choose another place.")
    try:
        with tempfile.TemporaryDirectory(prefix=".hand-over-", dir=place.parent) as beside:
            folder = Path(beside) / "pack"
            folder.mkdir()
            done = _Packing(catalogue, folder, on, with_people, progress, stop).pack()
            _put(folder, place)
    except OSError as error:
        raise KeeperError(
            f"{place} could not be written: {error.strerror or error}. Nothing was left."
        ) from error
    return HandedOver(place, done.files, done.lots, with_people, done.warnings)


def _put(folder: Path, place: Path) -> None:
    if place.suffix.lower() != ".zip":
        folder.rename(place)
        return
    whole = folder.with_suffix(".zip")
    with zipfile.ZipFile(whole, "w", zipfile.ZIP_DEFLATED) as archive:
        for file in sorted(folder.rglob("*")):
            archive.write(file, Path(place.stem) / file.relative_to(folder))
    whole.rename(place)


class _Packing:
    """Fills the folder, file by file."""

    STEPS = 6

    def __init__(
        self,
        catalogue: Catalogue,
        folder: Path,
        on: date,
        with_people: bool,
        progress: Progress | None,
        stop: Callable[[], bool] | None,
    ) -> None:
        self._catalogue, self._folder, self._on = catalogue, folder, on
        self._with_people, self._progress, self._stop = with_people, progress, stop
        self._files: list[tuple[str, str]] = []
        self._warnings: list[str] = []
        self._step = 0

    def pack(self) -> HandedOver:
        """Write everything, the page last: it tells of the others."""
        every = find_lots(self._catalogue, LotFilter(), on=self._on, sort="crop").lots
        self._move_on()
        self._copy_catalogue()
        self._move_on()
        self._write_tables(every)
        self._move_on()
        self._write_lists()
        self._move_on()
        self._write_settings()
        self._move_on()
        facts = self._facts(every)
        put_whole(self._folder / PAGE, pack_page(facts).encode("utf-8"))
        self._move_on()
        return HandedOver(
            self._folder,
            ((PAGE, "this page"), *self._files),
            len(every),
            self._with_people,
            tuple(self._warnings),
        )

    def _move_on(self) -> None:
        self._step += 1
        if self._progress is not None:
            self._progress(self._step, self.STEPS)
        if self._stop is not None and self._stop():
            raise _Stopped("Stopped. No pack was written.")

    def _copy_catalogue(self) -> None:
        if self._catalogue.file is None:
            self._warnings.append(
                "The catalogue lies on a server; no copy of it is in this pack. Whoever runs the server makes one "
                "with the server's own tools."
            )
            return
        copy = self._folder / "catalogue.hilum"
        keeping.backup(self._catalogue, copy)
        words = "the whole catalogue, copied and read back"
        if not self._with_people:
            blank_people(copy, self._catalogue.now)
            words += "; people's names are taken out of it"
        with keeping.open_at(copy, clock=self._catalogue.now) as opened:
            self._warnings += keeping.check(opened).findings
        for left in self._folder.glob("catalogue.hilum-*"):
            left.unlink()
        self._files.append((copy.name, words))

    def _write_tables(self, every: tuple[LotView, ...]) -> None:
        with self._catalogue.look() as connection:
            told = [(lot, written_of(connection, lot.line.id)) for lot in every]
        rows = [lot_row(lot, self._shown(written)) for lot, written in told]
        write_csv(self._folder / "lots.csv", HEADINGS, rows)
        write_xlsx(self._folder / "lots.xlsx", HEADINGS, rows, title="Lots")
        library = self._catalogue.settings().library_name
        passports = tuple(passport_of(lot, self._shown(written), library) for lot, written in told)
        write_passports(self._folder / "passport data.txt", passports)
        self._files += [
            ("lots.csv", "every lot, a line each; any spreadsheet opens it, and Hilum takes it in again"),
            ("lots.xlsx", "the same as a workbook"),
            (
                "passport data.txt",
                "passport data by FAO/Bioversity MCPD V.2.1, for genebanks and other libraries",
            ),
        ]

    def _shown(self, written: Written) -> Written:
        from dataclasses import replace

        return written if self._with_people else replace(written, grower=None)

    def _write_lists(self) -> None:
        for name, wanted, words in (
            ("all lots.pdf", LotFilter(), "every lot on paper, by crop"),
            ("due for a test.pdf", LotFilter(due=True), "what is due for a germination test now"),
            ("scarce.pdf", LotFilter(low=True), "what has little seed above its reserve"),
        ):
            if find_lots(self._catalogue, wanted, on=self._on, limit=1).lots:
                pdf = lots_on_paper(self._catalogue, wanted, on=self._on, sort="crop")
                put_whole(self._folder / name, pdf)
                self._files.append((name, words))

    def _write_settings(self) -> None:
        settings = keeping.settings_as_json(self._catalogue.settings())
        put_whole(self._folder / "settings.json", json.dumps(settings, indent=1, ensure_ascii=False).encode())
        self._files.append(("settings.json", "the library's own rules"))
        for beside in self._own_folders():
            shutil.copytree(beside, self._folder / beside.name)
            self._files.append((f"{beside.name}/", "the library's own files from beside the catalogue"))

    def _own_folders(self) -> list[Path]:
        """Give the folders that lie beside the catalogue under its name: designs, photos; safety copies stay."""
        file = self._catalogue.file
        if file is None:
            return []
        copies = keeping.copies_folder(self._catalogue)
        found = [path for path in file.parent.glob(f"{file.stem} *") if path.is_dir() and path != copies]
        return sorted(found)

    def _facts(self, every: tuple[LotView, ...]) -> PackFacts:
        coming = find_lots(self._catalogue, LotFilter(due=True), on=self._on + A_YEAR, sort="due").lots
        return PackFacts(
            library=self._catalogue.settings().library_name,
            on=self._on,
            files=tuple(self._files),
            with_people=self._with_people,
            lots=every,
            coming=coming,
            warnings=tuple(self._warnings),
            has_copy=self._catalogue.file is not None,
        )
