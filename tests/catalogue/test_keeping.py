"""Safety copies: whole or absent, verified, rotated, and brought back without losing anything."""

import os
import shutil
import sqlite3
import subprocess
import sys
import time
from contextlib import suppress
from datetime import date, timedelta
from pathlib import Path

import pytest
from sqlalchemy import insert, text

from hilum.catalogue.checking import check
from hilum.catalogue.copies import verified_counts
from hilum.catalogue.keeping import backup, copies_folder, restore, safety_copies, safety_copy
from hilum.catalogue.ledger import move
from hilum.catalogue.opening import Catalogue, CatalogueError, new_catalogue, open_catalogue
from hilum.catalogue.records import place
from tests.catalogue.builders import A_DAY, TickingClock, a_lot, in_threads, stock_of


def file_of(catalogue: Catalogue) -> Path:
    assert catalogue.file is not None
    return catalogue.file


def names_in(folder: Path) -> list[str]:
    return sorted(file.name for file in folder.iterdir())


def test_a_copy_is_a_whole_catalogue_in_one_file(file_catalogue: Catalogue, clock: TickingClock) -> None:
    """A copy made while the catalogue is open and written to opens by itself, with no log beside it."""
    lot_id = a_lot(file_catalogue)
    folder = copies_folder(file_of(file_catalogue))
    copy = safety_copy(file_catalogue, folder, A_DAY, 3)
    assert copy == folder / "library 2026-11-25.hilum"
    assert names_in(folder) == [copy.name]
    with open_catalogue(copy, clock=clock) as opened:
        assert stock_of(opened, lot_id) == 20_000
        assert check(opened) == ()


def test_the_newest_copies_stay_and_older_days_keep_their_last(
    file_catalogue: Catalogue, tmp_path: Path
) -> None:
    """Many copies on one day do not push out the days before it."""
    folder = tmp_path / "copies"
    for days_ago in (4, 3, 2, 1):
        safety_copy(file_catalogue, folder, A_DAY - timedelta(days=days_ago), 3)
    (folder / "library notes 2026-01-01.hilum").write_text("the keeper's own file")
    for _ in range(4):
        safety_copy(file_catalogue, folder, A_DAY, 3)
    assert names_in(folder) == [
        "library 2026-11-23.hilum",
        "library 2026-11-24.hilum",
        "library 2026-11-25 (2).hilum",
        "library 2026-11-25 (3).hilum",
        "library 2026-11-25 (4).hilum",
        "library notes 2026-01-01.hilum",
    ]
    assert [file.name for file in safety_copies(folder, "library")][:2] == [
        "library 2026-11-25 (4).hilum",
        "library 2026-11-25 (3).hilum",
    ]


def test_a_backup_writes_over_nothing(file_catalogue: Catalogue, tmp_path: Path) -> None:
    """A name that is taken is refused and its file untouched."""
    target = tmp_path / "elsewhere" / "copy.hilum"
    assert backup(file_catalogue, target) == target
    before = target.read_bytes()
    with pytest.raises(CatalogueError, match=r"copy.hilum already exists. Choose another name"):
        backup(file_catalogue, target)
    assert target.read_bytes() == before


def test_a_copy_that_cannot_be_written_leaves_no_half_file(file_catalogue: Catalogue, tmp_path: Path) -> None:
    """Where no folder can be made, the refusal names the copy."""
    (tmp_path / "copies").write_text("a file where a folder should be")
    with pytest.raises(CatalogueError, match="could not be written"):
        safety_copy(file_catalogue, tmp_path / "copies", A_DAY, 3)


def test_copies_made_while_others_write_are_each_of_one_moment(
    file_catalogue: Catalogue, tmp_path: Path
) -> None:
    """Two lots that always move together are together in every copy."""
    first, second = a_lot(file_catalogue, amount=0), a_lot(file_catalogue, amount=0)

    def write() -> None:
        for _ in range(60):
            with file_catalogue.job("both") as job:
                move(job, first, "stocktake", 1, on=A_DAY)
                move(job, second, "stocktake", 1, on=A_DAY)

    def copy() -> list[Path]:
        return [safety_copy(file_catalogue, tmp_path / "copies", A_DAY, 99) for _ in range(8)]

    _, copies = in_threads([write, copy])
    for file in copies:
        with open_catalogue(file, clock=TickingClock()) as opened:
            assert stock_of(opened, first) == stock_of(opened, second)
            assert check(opened) == ()


def _watch_until_half_written(folder: Path, whole_copies: int, first_seen: dict[str, int]) -> bool:
    """Watch until some copies are whole and one is half-written; notes the size at which each got its name."""
    finished: set[str] = set()
    until = time.monotonic() + 60
    while time.monotonic() < until:
        half = False
        for name in os.listdir(folder) if folder.exists() else []:
            # What is being written comes and goes while it is looked at.
            with suppress(FileNotFoundError):
                size = (folder / name).stat().st_size
                if name.startswith("."):
                    half = half or (name.endswith(".part") and size > 0)
                else:
                    first_seen.setdefault(name, size)
                    finished.add(name)
        if half and len(finished) >= whole_copies:
            return True
    return False


def test_a_run_ended_in_the_middle_of_a_copy_leaves_no_bad_copy(
    file_catalogue: Catalogue, tmp_path: Path
) -> None:
    """Ended while the copy is being written, nothing bears a copy's name but whole copies."""
    with file_catalogue.job("fill") as job:
        job.run(insert(place), [{"name": "x" * 20_000, "folded": str(number)} for number in range(2_000)])
    folder = tmp_path / "copies"
    program = (
        "import sys, datetime, pathlib\n"
        "from hilum.catalogue.opening import open_catalogue\n"
        "from hilum.catalogue.keeping import safety_copy\n"
        "c = open_catalogue(sys.argv[1], clock=lambda: datetime.datetime(2026, 11, 25))\n"
        "while True: safety_copy(c, pathlib.Path(sys.argv[2]), datetime.date(2026, 11, 25), 99)\n"
    )
    environment = os.environ | {"PYTHONPATH": str(Path(__file__).parents[2] / "desktop")}
    first_seen: dict[str, int] = {}
    for whole_copies in (0, 1, 2):
        command = [sys.executable, "-c", program, str(file_of(file_catalogue)), str(folder)]
        with subprocess.Popen(command, env=environment) as running:
            try:
                half = _watch_until_half_written(folder, whole_copies, first_seen)
            finally:
                running.kill()
        assert half, "no copy was seen half-written"
    assert len(first_seen) > 1
    assert len(set(first_seen.values())) == 1, "a copy bore its name before it was whole"
    expected = verified_counts(file_of(file_catalogue))
    for copy in safety_copies(folder, "library"):
        assert verified_counts(copy) == expected
    for part in folder.glob(".*.part*"):
        os.utime(part, (0, 0))
    last = safety_copy(file_catalogue, folder, A_DAY + timedelta(days=1), 1)
    assert verified_counts(last) == expected
    assert not list(folder.glob(".*")), "what was left half-written is swept up later"
    assert check(file_catalogue) == ()


def test_there_and_back_again(file_catalogue: Catalogue, clock: TickingClock, tmp_path: Path) -> None:
    """A restored copy is what was copied, and what it replaced is kept under its date."""
    lot_id = a_lot(file_catalogue)
    file = file_of(file_catalogue)
    copy = backup(file_catalogue, tmp_path / "copy.hilum")
    copied = copy.read_bytes()
    with file_catalogue.job("draw") as job:
        move(job, lot_id, "sown", -19_000, on=A_DAY)
    file_catalogue.close()
    kept = restore(copy, file, clock)
    assert kept == file.with_name("library replaced 2026-11-25.hilum")
    assert copy.read_bytes() == copied
    for where, stock in ((file, 20_000), (kept, 1_000)):
        with open_catalogue(where, clock=clock) as opened:
            assert stock_of(opened, lot_id) == stock
            assert check(opened) == ()
    again = restore(copy, file, clock)
    assert again == file.with_name("library replaced 2026-11-25 (2).hilum")
    assert names_in(tmp_path) == sorted([copy.name, file.name, kept.name, again.name])


def test_a_copy_is_restored_where_nothing_is(
    file_catalogue: Catalogue, clock: TickingClock, tmp_path: Path
) -> None:
    """On a new machine there is nothing to keep."""
    copy = backup(file_catalogue, tmp_path / "copy.hilum")
    where = tmp_path / "new folder 50%" / "library.hilum"
    assert restore(copy, where, clock) is None
    with open_catalogue(where, clock=clock) as opened:
        assert check(opened) == ()


def test_an_open_catalogue_is_not_replaced(
    file_catalogue: Catalogue, clock: TickingClock, tmp_path: Path
) -> None:
    """Somebody's open window would go on writing to the old file."""
    lot_id = a_lot(file_catalogue)
    copy = backup(file_catalogue, tmp_path / "copy.hilum")
    with pytest.raises(CatalogueError, match=r"is open in another window or program.*Close it there first"):
        restore(copy, file_of(file_catalogue), clock)
    assert stock_of(file_catalogue, lot_id) == 20_000
    assert not list(tmp_path.glob("*replaced*")) + list(tmp_path.glob(".*"))


def test_a_stale_log_is_not_played_into_the_restored_file(
    file_catalogue: Catalogue, clock: TickingClock, tmp_path: Path
) -> None:
    """What a crash left beside the old catalogue stays with the old catalogue, and its last work with it."""
    lot_id = a_lot(file_catalogue)
    copy = backup(file_catalogue, tmp_path / "copy.hilum")
    with file_catalogue.job("draw") as job:
        move(job, lot_id, "sown", -19_000, on=A_DAY)
    crashed = tmp_path / "crashed.hilum"
    for ending in ("", "-wal"):
        shutil.copyfile(f"{file_of(file_catalogue)}{ending}", f"{crashed}{ending}")
    kept = restore(copy, crashed, clock)
    assert kept is not None
    assert not Path(f"{crashed}-wal").exists()
    for where, stock in ((crashed, 20_000), (kept, 1_000)):
        with open_catalogue(where, clock=clock) as opened:
            assert stock_of(opened, lot_id) == stock


def test_a_damaged_catalogue_is_kept_as_it_is(
    file_catalogue: Catalogue, clock: TickingClock, tmp_path: Path
) -> None:
    """A file too damaged to open is moved aside byte for byte, its log with it."""
    copy = backup(file_catalogue, tmp_path / "copy.hilum")
    where = tmp_path / "broken.hilum"
    where.write_bytes(b"SQLite format 3\x00" + b"\xff" * 5000)
    Path(f"{where}-wal").write_bytes(b"some log")
    kept = restore(copy, where, clock)
    assert kept is not None
    assert kept.read_bytes() == b"SQLite format 3\x00" + b"\xff" * 5000
    assert Path(f"{kept}-wal").read_bytes() == b"some log"
    with open_catalogue(where, clock=clock) as opened:
        assert check(opened) == ()


def test_a_bad_copy_replaces_nothing(file_catalogue: Catalogue, clock: TickingClock, tmp_path: Path) -> None:
    """Damaged, newer, foreign, missing or the catalogue itself: refused in words before anything moves."""
    lot_id = a_lot(file_catalogue)
    file = file_of(file_catalogue)
    good = backup(file_catalogue, tmp_path / "good.hilum")
    file_catalogue.close()
    damaged, newer, foreign = (tmp_path / f"{name}.hilum" for name in ("damaged", "newer", "foreign"))
    content = bytearray(good.read_bytes())
    content[-8192:] = b"\xaa" * 8192
    damaged.write_bytes(bytes(content))
    shutil.copyfile(good, newer)
    with sqlite3.connect(newer) as raw:
        raw.execute("UPDATE alembic_version SET version_num = '9999'")
    raw.close()
    with sqlite3.connect(foreign) as raw:
        raw.execute("CREATE TABLE accounts (id INTEGER)")
    raw.close()
    for copy, words in (
        (damaged, "is damaged. Restore another copy. Nothing was changed."),
        (newer, "made by a newer version of Hilum"),
        (foreign, "is not a Hilum catalogue"),
        (tmp_path / "none.hilum", "There is no copy at"),
        (file, "is the catalogue itself"),
    ):
        with pytest.raises(CatalogueError, match=words):
            restore(copy, file, clock)
    with open_catalogue(file, clock=clock) as opened:
        assert stock_of(opened, lot_id) == 20_000
    assert not list(tmp_path.glob("*replaced*")) + list(tmp_path.glob(".*"))


def test_a_copy_on_a_disc_that_cannot_be_written_is_restored(
    file_catalogue: Catalogue, clock: TickingClock, tmp_path: Path
) -> None:
    """A plain copy of a closed catalogue still names its log; reading it writes nothing beside it."""
    lot_id = a_lot(file_catalogue)
    file = file_of(file_catalogue)
    file_catalogue.close()
    disc = tmp_path / "disc"
    disc.mkdir()
    shutil.copyfile(file, disc / "library.hilum")
    restore(disc / "library.hilum", tmp_path / "here.hilum", clock)
    assert names_in(disc) == ["library.hilum"]
    with open_catalogue(tmp_path / "here.hilum", clock=clock) as opened:
        assert stock_of(opened, lot_id) == 20_000


@pytest.mark.postgresql
def test_a_servers_copies_are_made_by_the_server(
    postgresql_url: str, clock: TickingClock, tmp_path: Path
) -> None:
    """Said plainly, with the tool and without the password."""
    with new_catalogue(postgresql_url, clock=clock) as catalogue:
        words = r"lies on a server.*pg_dump --format=custom"
        with pytest.raises(CatalogueError, match=words):
            safety_copy(catalogue, tmp_path, date(2026, 11, 25), 3)
        with pytest.raises(CatalogueError, match=words):
            backup(catalogue, tmp_path / "copy.hilum")
    assert list(tmp_path.iterdir()) == []


def test_a_copy_with_orphans_is_refused(file_catalogue: Catalogue, tmp_path: Path) -> None:
    """A copy is opened and looked over; what does not hold together is thrown away."""
    a_lot(file_catalogue)
    raw = sqlite3.connect(file_of(file_catalogue))
    raw.execute("INSERT INTO variety (crop_id, name, folded) VALUES (99999, 'Nobody', 'nobody')")
    raw.commit()
    raw.close()
    with pytest.raises(CatalogueError, match="rows without what they belong to"):
        safety_copy(file_catalogue, tmp_path / "copies", A_DAY, 3)
    assert list((tmp_path / "copies").iterdir()) == []
    with file_catalogue.look() as connection:
        assert connection.execute(text("SELECT count(*) FROM lot")).scalar_one() == 1
