"""Measure intake, find, the due list and one lot beside plain baselines in the same run; prints ratios.

    .venv-test/bin/python packaging/bench_catalogue.py [lots]

The baselines are what a plain program would do: the csv module and raw sqlite3 for intake, LIKE over the joined
tables for find, a scan and a sort for the due list.
"""

import csv
import random
import sqlite3
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT / "desktop"))

DAY = datetime(2026, 11, 25, 12)  # noqa: DTZ001 - the keeper's own wall clock
SEED = 7
CROPS = ("Leek", "Onion", "Carrot", "Lettuce", "Tomato", "Pea", "Broad bean", "Kale", "Radish", "Spinach")
SYLLABLES = (
    "mar",
    "low",
    "fen",
    "gren",
    "tal",
    "ver",
    "dun",
    "hol",
    "brick",
    "ash",
    "mil",
    "quill",
    "or",
    "wend",
)
HEADER = ("Crop", "Variety", "Year", "Weight", "Place grown", "Grower", "Received")


def clock() -> datetime:
    """Give the day of the run."""
    return DAY


def made_rows(count: int) -> list[tuple[str, ...]]:
    """Make rows of a list with a fixed seed."""
    draw = random.Random(SEED)

    def word() -> str:
        return "".join(draw.choices(SYLLABLES, k=2)).capitalize()

    names = [f"{word()} {word()}" for _ in range(max(20, count // 8))]
    return [
        (
            draw.choice(CROPS),
            draw.choice(names),
            str(draw.randint(2010, 2026)),
            f"{draw.uniform(2, 900):.1f} g",
            f"{draw.choice(names)} plot {number % 40}",
            f"Grower {number % 60}",
            f"2026-{draw.randint(1, 10):02d}-{draw.randint(1, 28):02d}",
        )
        for number in range(count)
    ]


def seconds(work: Callable[[], object], times: int = 1) -> float:
    """Give the median time of some work."""
    took = []
    for _ in range(times):
        start = time.perf_counter()
        work()
        took.append(time.perf_counter() - start)
    return statistics.median(took)


def plain_intake(file: Path, database: Path) -> None:
    """Take a list in as a plain program would: csv and one executemany, nothing understood and nothing checked."""
    with sqlite3.connect(database) as raw, file.open(encoding="utf-8", newline="") as lines:
        raw.execute("CREATE TABLE lot (crop, variety, year, weight, place, grower, received)")
        rows = csv.reader(lines)
        next(rows)
        raw.executemany("INSERT INTO lot VALUES (?, ?, ?, ?, ?, ?, ?)", rows)


def main(count: int) -> None:
    """Run everything once and print the figures."""
    from hilum.benches import intake, keeping, lots
    from hilum.benches.lots import LotFilter

    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        file = folder / "list.csv"
        with file.open("w", encoding="utf-8", newline="") as out:
            csv.writer(out).writerows([HEADER, *made_rows(count)])
        plain_s = seconds(lambda: plain_intake(file, folder / "plain.db"))
        catalogue = keeping.make(folder / "library.hilum", clock=clock)
        start = time.perf_counter()
        plan = intake.plan_file(catalogue, file, today=DAY.date())
        read_s = time.perf_counter() - start
        start = time.perf_counter()
        done = intake.take_in(catalogue, plan, anyway=frozenset(row.read.row for row in plan.rows))
        write_s = time.perf_counter() - start
        taken = len(done.accepted)
        print(f"intake of {taken} of {count} rows")
        print(f"  understood           {read_s:8.2f} s  {count / read_s:10.0f} rows/s")
        print(f"  written              {write_s:8.2f} s  {taken / write_s:10.0f} rows/s")
        print(f"  plain csv + sqlite3  {plain_s:8.3f} s  ratio {(read_s + write_s) / plain_s:.0f} x")

        draw = random.Random(SEED)
        found = lots.find_lots(catalogue, LotFilter(), on=DAY.date(), limit=400).lots
        words = [draw.choice(found).line.variety[: draw.randint(2, 6)] for _ in range(60)]

        def ours() -> None:
            for word in words:
                lots.find_lots(catalogue, LotFilter(words=word), on=DAY.date(), limit=50)

        def plain() -> None:
            with catalogue.engine.connect() as raw:
                for word in words:
                    raw.exec_driver_sql(
                        "SELECT lot.*, variety.name, crop.name, place.name, person.name FROM lot "
                        "JOIN variety ON variety.id = variety_id JOIN crop ON crop.id = crop_id "
                        "LEFT JOIN place ON place.id = place_id LEFT JOIN person ON person.id = grower_id "
                        "WHERE variety.name LIKE ? OR crop.name LIKE ? OR place.name LIKE ? OR person.name LIKE ? "
                        "ORDER BY lot.number LIMIT 50",
                        tuple(f"%{word}%" for _ in range(4)),
                    ).all()

        ours_s, like_s = seconds(ours, 5), seconds(plain, 5)
        print(
            f"find, {len(words)} prefixes   ours {1000 * ours_s / len(words):6.2f} ms each, "
            f"LIKE {1000 * like_s / len(words):6.2f} ms each, ratio {like_s / ours_s:.1f} x"
        )
        due_s = seconds(
            lambda: lots.find_lots(catalogue, LotFilter(due=True), on=DAY.date(), sort="due", limit=100), 9
        )
        one_s = seconds(lambda: lots.lot_story(catalogue, found[0].number), 9)
        print(f"due list, first 100    {1000 * due_s:6.2f} ms")
        print(f"one lot whole          {1000 * one_s:6.2f} ms")
        size = (folder / "library.hilum").stat().st_size + (folder / "library.hilum-wal").stat().st_size
        print(f"file                   {size / max(taken, 1):6.0f} bytes a lot")
        catalogue.close()


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 5000)
