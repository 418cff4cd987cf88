"""Measure find, lists, one lot, movements and copies in large libraries, each beside bare SQL in the same run.

    .venv-test/bin/python packaging/bench_large.py [lots ...] [--server URL] [--keep FOLDER]

Ten thousand, a hundred thousand and a million lots where no number is given. The libraries are invented (see
large_library.py); with --keep they are made once and used again. With --server an empty database is filled instead.
"""

import argparse
import random
import statistics
import tempfile
import time
from collections.abc import Callable, Sequence
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

import run

if TYPE_CHECKING:
    from hilum.catalogue.opening import Catalogue

DAY = datetime(2026, 11, 25, 12)  # noqa: DTZ001 - the keeper's own wall clock
SEED, PAGE = 11, 100
LIKE = (
    "SELECT lot.id, lot.number FROM lot JOIN variety ON variety.id = variety_id JOIN crop ON crop.id = crop_id "
    "LEFT JOIN place ON place.id = place_id LEFT JOIN person ON person.id = grower_id"
)
LIKE_ONE = (
    "(variety.name LIKE '{0}' OR crop.name LIKE '{0}' OR place.name LIKE '{0}' OR person.name LIKE '{0}' "
    "OR lot.number LIKE '{0}')"
)
BARE = {
    "due": (
        "SELECT id, number, due_on FROM lot WHERE +due_on <= '2026-11-25' AND +due_bar = '' "
        "ORDER BY +due_on, id LIMIT 100"
    ),
    "stock": "SELECT sum(held) FROM (SELECT sum(amount) AS held FROM movement GROUP BY lot_id) AS sums",
    "kept": "SELECT sum(stock) FROM lot",
}


def main() -> None:
    """Measure every library that is asked for."""
    asked = argparse.ArgumentParser(description="Measure large libraries")
    asked.add_argument("lots", nargs="*", type=int, default=[10_000, 100_000, 1_000_000])
    asked.add_argument("--server")
    asked.add_argument("--keep", type=Path)
    choices = asked.parse_args()
    with tempfile.TemporaryDirectory() as name:
        for count in choices.lots:
            measure(count, choices.server, choices.keep or Path(name))


def measure(count: int, server: str | None, folder: Path) -> None:
    """Make or open one library and print its figures."""
    import large_library
    from hilum.benches import keeping

    file = folder / f"{count}.hilum"
    where = server or str(file)
    is_there = server is None and file.exists()
    start = time.perf_counter()
    catalogue = (keeping.open_at if is_there else keeping.make)(where, clock=lambda: DAY)
    with catalogue:
        if not is_there:
            large_library.fill(catalogue, count)
            print(f"made {count:,} lots in {time.perf_counter() - start:.0f} s")
        print(f"\n{count:,} lots on {'a server' if server else 'a file'}")
        if server is None:
            print(f"  {'file':34}{file.stat().st_size / count:10.0f} bytes a lot")
        round_trip_ms = _ms(lambda: _bare(catalogue, "SELECT 1"), 200)[0]
        print(f"  {'one bare round trip':34}{round_trip_ms:10.3f} ms")
        _finds(catalogue)
        _lists(catalogue, round_trip_ms)
        _stock(catalogue)
        _works(catalogue)
        if server is None:
            start = time.perf_counter()
            copy = keeping.backup(catalogue, folder / f"copy of {count}.hilum")
            print(f"  {'safety copy, verified':34}{time.perf_counter() - start:10.2f} s")
            copy.unlink()


def _ms(work: Callable[[], object], times: int) -> tuple[float, float]:
    """Give the middle and the 95th percentile of some runs, in milliseconds."""
    taken = []
    for _ in range(times):
        start = time.perf_counter()
        work()
        taken.append(1000 * (time.perf_counter() - start))
    return statistics.median(taken), sorted(taken)[int(0.95 * (len(taken) - 1))]


def _told(name: str, ours: Sequence[float], bare: Sequence[float] | None = None, beside: str = "") -> None:
    line = f"  {name:34}{ours[0]:10.3f} ms  p95 {ours[1]:9.3f}"
    if bare is not None:
        line += f"   {beside} {bare[0]:9.2f} ms, {bare[0] / ours[0]:8.1f} x"
    print(line)


def _bare(catalogue: "Catalogue", statement: str) -> Any:
    with catalogue.engine.connect() as connection:
        return connection.exec_driver_sql(statement).fetchall()


def _finds(catalogue: "Catalogue") -> None:
    from hilum.benches.lots import LotFilter, page_of_lots

    draw = random.Random(SEED)
    names = [row[0] for row in _bare(catalogue, "SELECT name FROM variety ORDER BY id LIMIT 4000")]
    numbers = [row[0] for row in _bare(catalogue, "SELECT number FROM lot ORDER BY id LIMIT 4000")]
    words = [" ".join(reversed(draw.choice(names).split()[:2])) for _ in range(60)]
    words += [draw.choice(names).split()[0][: draw.randint(3, 5)] for _ in range(60)]
    words += draw.sample(numbers, 30)
    waiting = iter(words * 2)

    def ours() -> None:
        page_of_lots(catalogue, LotFilter(words=next(waiting)), on=DAY.date(), limit=PAGE)

    found = _ms(ours, len(words) * 2)
    few = iter(draw.sample(words, 7))
    # SQLite's LIKE minds no capitals; in the driver of the server a percent sign is written twice.
    operator, any_more = ("LIKE", "%") if catalogue.is_sqlite else ("ILIKE", "%%")

    def like() -> None:
        parts = [f"{any_more}{word}{any_more}".replace("'", "''") for word in next(few).split()]
        wanted = " AND ".join(LIKE_ONE.replace("LIKE", operator).format(part) for part in parts)
        _bare(catalogue, f"{LIKE} WHERE {wanted} ORDER BY lot.number LIMIT {PAGE}")

    plain = _ms(like, 7)
    _told("find, first page", found, plain, "LIKE")
    print(f"  {'find, p95 to LIKE':34}{plain[0] / found[1]:10.1f} x")
    slips = iter([_mistyped(draw, draw.choice(names).split()[0]) for _ in range(40)])
    _told(
        "find with a slip",
        _ms(lambda: page_of_lots(catalogue, LotFilter(words=next(slips)), on=DAY.date(), limit=PAGE), 40),
    )


def _mistyped(draw: random.Random, word: str) -> str:
    at = draw.randrange(1, max(2, len(word) - 1))
    return word[:at] + draw.choice("aeiou") + word[at + 1 :]


def _lists(catalogue: "Catalogue", round_trip_ms: float) -> None:
    from hilum.benches.lots import LotFilter, page_of_lots

    def page(wanted: LotFilter, sort: str, **more: Any) -> Any:
        return page_of_lots(catalogue, wanted, on=DAY.date(), sort=sort, limit=PAGE, **more)

    due = _ms(lambda: page(LotFilter(due=True), "due"), 31)
    scan = BARE["due"] if catalogue.is_sqlite else BARE["due"].replace("+", "")
    _told("due, first 100", due, _ms(lambda: _bare(catalogue, scan), 5), "scan")
    print(f"  {'due, in bare round trips':34}{due[0] / round_trip_ms:10.1f}")
    _told("low stock, first 100", _ms(lambda: page(LotFilter(low=True), "number"), 31))
    first = _ms(lambda: page(LotFilter(), "crop"), 21)
    # Read backwards, the end of the first page is where the last one begins.
    last = page(LotFilter(), "crop", descending=True).end
    _told("all by crop, first page", first)
    _told("all by crop, last page", _ms(lambda: page(LotFilter(), "crop", after=last), 21), first, "first")


def _stock(catalogue: "Catalogue") -> None:
    kept, summed = (
        _ms(lambda: _bare(catalogue, BARE["kept"]), 3),
        _ms(lambda: _bare(catalogue, BARE["stock"]), 3),
    )
    _told("stock of all lots, kept", kept, summed, "summed")
    wrong = _bare(
        catalogue,
        "SELECT count(*) FROM lot JOIN (SELECT lot_id, sum(amount) AS moved FROM movement GROUP BY lot_id) AS sums "
        "ON sums.lot_id = lot.id WHERE moved <> stock",
    )
    print(f"  {'lots whose stock is not the sum':34}{wrong[0][0]:10}")


def _works(catalogue: "Catalogue") -> None:
    from hilum.benches import lots

    numbers = iter(row[0] for row in _bare(catalogue, "SELECT number FROM lot WHERE stock > 50000 LIMIT 200"))
    _told("one lot whole", _ms(lambda: lots.lot_story(catalogue, next(numbers)), 40))
    _told(
        "one movement",
        _ms(lambda: lots.draw(catalogue, next(numbers), "sown", on=DAY.date(), mass_mg=10), 40),
    )


if __name__ == "__main__":
    run.refuse_old_python()
    import sys

    sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "desktop"))
    main()
