"""Do to a catalogue what power cuts, full disks and other programs do, and print what became of it.

    .venv-test/bin/python packaging/faults.py [FAULT ...] [--times N]

Without a name every fault is tried: kill, full, locked, damaged, writers, lists. Exit code 1 if one was not survived.
`writers` also runs on the server of HILUM_TEST_POSTGRESQL, where that is set. A real full disk is a small memory disk
that is mounted for the purpose; where that is not allowed, the fault is told as not tried.
"""

import argparse
import os
import random
import shutil
import sqlite3
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from datetime import date
from pathlib import Path

import faulty_lists
from fault_kills import killed, write_on
from fault_tools import (
    DAY,
    LIST,
    NOT_TRIED,
    ROOT,
    SEED,
    Outcome,
    asked,
    child,
    clock,
    findings,
    fresh_catalogue,
)

# A disk that is full, or may only be read.


@contextmanager
def small_disk(megabytes: int) -> Iterator[Path | None]:
    """Mount a small memory disk; gives None where this machine does not allow it."""
    with tempfile.TemporaryDirectory() as name:
        mount = shutil.which("mount")
        made = mount and subprocess.run(
            [mount, "-t", "tmpfs", "-o", f"size={megabytes}m", "tmpfs", name],
            capture_output=True,
            check=False,
        )
        if not made or made.returncode:
            yield None
            return
        try:
            yield Path(name)
        finally:
            subprocess.run(["umount", "--lazy", name], check=True)


def writes(number: str, listed: Path, out: Path) -> dict[str, tuple[str, ...]]:
    """Give one command for each kind of writing; those that make a file make it in `out`."""
    sheet = ("--design", "packet", "--label-stock", "a4-3x8")
    return {
        "a job": ("draw", number, "--grams", "1", "--as", "sown"),
        "intake": ("intake", str(listed)),
        "an edit": ("change", number, "--notes", "x" * 2000),
        "packing": ("pack", number, "--packets", "200", "--seeds", "10", *sheet, "-o", str(out / "p.pdf")),
        "a copy": ("backup", str(out / "copy.hilum")),
        "labels": ("labels", "--lots", number, "--copies", "300", *sheet, "-o", str(out / "l.pdf")),
        "a list": ("lots", "-o", str(out / "lots.pdf")),
        "the hand-over": ("hand-over", str(out / "pack")),
    }


def full(folder: Path, _times: int) -> Outcome:
    """Write on a disk that is full, then on one that may only be read: one clear message each, nothing changed."""
    figures: list[str] = []
    harm: list[str] = []
    with small_disk(6) as disk:
        if disk is None:
            return Outcome((f"{NOT_TRIED}: no disk may be mounted here",))
        file = fresh_catalogue(disk)
        number = str(asked(file, "SELECT number FROM lot ORDER BY id LIMIT 1")[0][0])
        many = folder / "many.csv"
        rows = "".join(f"Leek,Tall {count},2025,20 g,2025-10-01\n" for count in range(400))
        many.write_text(LIST.splitlines()[0] + "\n" + rows, encoding="utf-8")
        for state in ("full", "read-only"):
            before = _content(file)
            with _spoilt(disk, state):
                beside = {path.name for path in disk.iterdir()}
                for what, command in writes(number, many, disk).items():
                    said = _said(file, command)
                    harm += [f"{state}, {what}: {words}" for words in _unclear(*said)]
                    left = (
                        {path.name for path in disk.iterdir()}
                        - beside
                        - {f"{file.name}-wal", f"{file.name}-shm"}
                    )
                    harm += [f"{state}, {what}: left behind {name}" for name in sorted(left)]
                    figures.append(f"{state}, {what}: {said[1].strip()[:150]}")
            harm += [f"{state}: {line}" for line in findings(file)]
            if _content(file) != before:
                harm.append(f"{state}: something was changed")
        done = _said(file, writes(number, many, disk)["a job"])
        if done[0]:
            harm.append(f"with room again it still refuses: {done[1]}")
    return Outcome(tuple(figures), tuple(harm))


@contextmanager
def _spoilt(disk: Path, state: str) -> Iterator[None]:
    filler = disk / "filler"
    if state == "full":
        with filler.open("wb", buffering=0) as out:
            try:
                while out.write(b"x" * 4096):
                    pass
            except OSError:
                pass
    else:
        subprocess.run(["mount", "-o", "remount,ro", str(disk)], check=True)
    try:
        yield
    finally:
        if state != "full":
            subprocess.run(["mount", "-o", "remount,rw", str(disk)], check=True)
        filler.unlink(missing_ok=True)


def _content(file: Path) -> list[object]:
    return [asked(file, f"SELECT * FROM {table}") for table in ("lot", "movement", "history", "packet_batch")]


def _said(file: Path, command: tuple[str, ...]) -> tuple[int, str, str]:
    done = subprocess.run(
        [sys.executable, "-m", "hilum", command[0], "--catalogue", str(file), *command[1:]],
        env=os.environ | {"PYTHONPATH": str(ROOT / "desktop")},
        capture_output=True, text=True, encoding="utf-8", check=False,
    )  # fmt: skip
    return done.returncode, done.stderr, done.stdout


def _unclear(code: int, said: str, _out: str) -> list[str]:
    if code == 0:
        return ["said to be done"]
    if "fault in Hilum" in said or "Traceback" in said or not said.strip():
        return [f"no clear message: {said.strip()[-300:]}"]
    return []


# Held by another program; damaged.


def hold(file: Path, for_s: float) -> None:
    """Hold a file as a program does that leaves nobody else in."""
    with closing(sqlite3.connect(file, isolation_level=None)) as raw:
        raw.execute("BEGIN EXCLUSIVE")
        print("held", flush=True)
        time.sleep(for_s)
        raw.execute("ROLLBACK")


def locked(folder: Path, _times: int) -> Outcome:
    """Write while another program holds the file: briefly, which is waited for, and long, which is told."""
    file = fresh_catalogue(folder)
    number = str(asked(file, "SELECT number FROM lot ORDER BY id LIMIT 1")[0][0])
    draw = ("draw", number, "--grams", "1", "--as", "sown")
    figures, harm = [], []
    for for_s, expected in ((2.0, 0), (20.0, 2)):
        with child("--hold", str(file), str(for_s)) as holding:
            assert holding.stdout is not None
            holding.stdout.readline()
            start = time.monotonic()
            code, said, _ = _said(file, draw)
            took = time.monotonic() - start
            holding.kill()
        figures.append(f"held {for_s:g} s: code {code} after {took:.1f} s {said.strip()}")
        if (code == 0) != (expected == 0) or (expected and _unclear(code, said, "")):
            harm.append(figures[-1])
    code, said, _ = _said(file, draw)
    if code:
        harm.append(f"let go of, it still refuses: {said}")
    if asked(file, "SELECT count(*) FROM movement WHERE kind = 'sown'") != [(2,)]:
        harm.append("the movements are not the two that were made")
    return Outcome(tuple(figures), (*harm, *findings(file)))


def damaged(folder: Path, times: int) -> Outcome:
    """Cut a file off, or write over one of its pages: found by `check` or refused in words, and a copy brings it back.

    A page that holds nothing any more may be written over unnoticed and without harm.
    """
    file, draw = fresh_catalogue(folder), random.Random(SEED)
    copy = folder / "good copy.hilum"
    done = _said(file, ("backup", str(copy)))
    assert done[0] == 0, done
    sound = copy.read_bytes()
    seen, quiet, harm = 0, 0, []
    for number in range(times):
        content = bytearray(sound)
        if number % 2:
            del content[draw.randrange(1, len(content)) :]
        else:
            page = draw.randrange(0, len(content) // 4096) * 4096
            content[page : page + 4096] = draw.randbytes(4096)
        hurt = folder / "hurt.hilum"
        hurt.write_bytes(content)
        code, said, out = _said(hurt, ("check",))
        if code == 0:
            quiet += 1
            if _differs(hurt, copy):
                harm.append(f"damage {number} was not found")
        elif "fault in Hilum" in said or not ("restore" in said + out or "not a Hilum catalogue" in said):
            harm.append(f"damage {number}: {(said + out).strip()[-300:]}")
        else:
            seen += 1
        code, said, _ = _said(hurt, ("restore", str(copy)))
        harm += [f"damage {number}: not brought back: {said}"] if code else list(findings(hurt))
        for path in folder.glob("hurt*"):
            path.unlink()
    return Outcome(
        (f"{times} damaged files: {seen} found by check, {quiet} without loss, all brought back",),
        tuple(harm),
    )


def _differs(one: Path, other: Path) -> bool:
    with closing(sqlite3.connect(one)) as first, closing(sqlite3.connect(other)) as second:
        return list(first.iterdump()) != list(second.iterdump())


# Many desks on one lot.


def draw_all(where: str) -> None:
    """Draw from the lot until it refuses; say how often."""
    from hilum.catalogue.ledger import StockError, move
    from hilum.catalogue.opening import open_catalogue

    drawn = 0
    with open_catalogue(where, clock=clock, wait_s=120) as desk:
        try:
            while True:
                with desk.job("draw") as job:
                    move(job, 1, "sown", -10, on=date(2026, 11, 25))
                drawn += 1
        except StockError:
            print(drawn, flush=True)


def writers(folder: Path, times: int) -> Outcome:
    """Let two and eight programs draw from one lot until nothing is left; together they get what was there."""
    from hilum.benches import intake, keeping

    server = os.environ.get("HILUM_TEST_POSTGRESQL", "")
    figures, harm = [], []
    for engine in ("file", "server") if server else ("file",):
        for desks in (2, 8):
            with _place(folder, engine, desks, server) as where:
                listed = folder / "one.csv"
                listed.write_text(
                    f"Crop,Variety,Year,Weight,Received\nLeek,Harrow Blue,2025,{times * 10 / 1000} g,2025-10-01\n",
                    encoding="utf-8",
                )
                with keeping.make(where, clock=clock) as catalogue:
                    intake.take_in(catalogue, intake.plan_file(catalogue, listed, today=DAY.date()))
                start = time.monotonic()
                running = [child("--draw", where) for _ in range(desks)]
                drawn = [int(desk.communicate(timeout=600)[0] or -1) for desk in running]
                took = time.monotonic() - start
                with keeping.open_at(where, clock=clock) as catalogue, catalogue.look() as connection:
                    rows = connection.exec_driver_sql("SELECT count(*) FROM movement WHERE kind = 'sown'")
                    kept = int(rows.scalar_one())
                    stock = connection.exec_driver_sql("SELECT stock FROM lot").scalar_one()
            figures.append(
                f"{engine}, {desks} desks: {sum(drawn)} draws told, {kept} kept of {times}, stock {stock}, {took:.1f} s"
            )
            if (sum(drawn), kept, stock) != (times, times, 0):
                harm.append(figures[-1])
    return Outcome(tuple(figures), tuple(harm))


@contextmanager
def _place(folder: Path, engine: str, desks: int, server: str) -> Iterator[str]:
    if engine == "file":
        yield str(folder / f"{desks}.hilum")
        return
    import psycopg

    name = f"hilum_faults_{os.getpid()}_{desks}"
    plain = server.replace("postgresql+psycopg://", "postgresql://", 1)
    with psycopg.connect(plain, autocommit=True) as connection:
        connection.execute(f'CREATE DATABASE "{name}"'.encode())
        try:
            yield server.rsplit("/", 1)[0] + "/" + name
        finally:
            connection.execute(f'DROP DATABASE "{name}" WITH (FORCE)'.encode())


# Fewer lists are a trial in passing, for which gigabytes are not packed.
LEAST_FOR_ARCHIVES = 1_000


def lists(folder: Path, times: int) -> Outcome:
    """Take in thousands of spoilt lists, and a few archives that would unpack to far too much."""
    figures, harm = faulty_lists.taken_in(fresh_catalogue(folder), folder, times, random.Random(SEED))
    if times < LEAST_FOR_ARCHIVES:
        return Outcome(figures, harm)
    more, worse = faulty_lists.bombs(folder)
    return Outcome((*figures, *more), (*harm, *worse))


# Each fault, and how often it is tried when nothing else is asked.
FAULTS: dict[str, tuple[Callable[[Path, int], Outcome], int]] = {
    "kill": (killed, 200),
    "full": (full, 1),
    "locked": (locked, 1),
    "damaged": (damaged, 40),
    "writers": (writers, 400),
    "lists": (lists, 10_000),
}


def main() -> int:
    """Try what was asked for and print what became of it."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("faults", nargs="*", metavar="FAULT", help=f"one of {', '.join(FAULTS)}")
    parser.add_argument("--times", type=int, help="how often each is tried")
    for name, metavar in (("write", ("FILE", "N")), ("hold", ("FILE", "SECONDS")), ("draw", ("WHERE",))):
        parser.add_argument(f"--{name}", nargs=len(metavar), metavar=metavar, help=argparse.SUPPRESS)
    wanted = parser.parse_args()
    if wanted.write:
        write_on(Path(wanted.write[0]), int(wanted.write[1]))
    elif wanted.hold:
        hold(Path(wanted.hold[0]), float(wanted.hold[1]))
    elif wanted.draw:
        draw_all(wanted.draw[0])
    else:
        return _tried(wanted.faults or list(FAULTS), wanted.times)
    return 0


def _tried(names: list[str], times: int | None) -> int:
    worst = 0
    for name in names:
        fault, usual = FAULTS[name]
        with tempfile.TemporaryDirectory(prefix="hilum-faults-") as folder:
            start = time.monotonic()
            outcome = fault(Path(folder), times or usual)
        verdict = (
            "NOT SURVIVED" if outcome.harm else NOT_TRIED if NOT_TRIED in outcome.figures[0] else "survived"
        )
        print(f"{name}: {verdict} ({time.monotonic() - start:.0f} s)", flush=True)
        for line in (*outcome.figures, *(f"HARM: {line}" for line in outcome.harm)):
            print(f"  {line}", flush=True)
        worst |= bool(outcome.harm)
    return worst


if __name__ == "__main__":
    sys.exit(main())
