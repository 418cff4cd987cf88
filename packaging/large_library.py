"""A large invented library, written in bulk: as many lots as are wanted, as the program itself would keep them.

Every row is what the program writes (numbers with their check characters, ledger and stock that agree, words for
find, history, tests with four dishes), but put in by a few long statements. Only the due dates are drawn by lot, and
`hilum check` says so of each.
"""

import json
import random
from collections.abc import Callable, Iterator
from datetime import date, datetime, timedelta
from itertools import islice
from typing import Any

from sqlalchemy import select

from hilum.catalogue import numbering
from hilum.catalogue.crops import reference_crop
from hilum.catalogue.find_words import index_text, note_words
from hilum.catalogue.folding import fold
from hilum.catalogue.opening import Catalogue, Job
from hilum.catalogue.records import (
    crop,
    dish,
    dish_count,
    germination_test,
    history,
    lot,
    movement,
    person,
    place,
    variety,
)  # fmt: skip

SEED = 7
TODAY = date(2026, 11, 25)
SYLLABLES = (
    "mar", "low", "fen", "gren", "tal", "ver", "dun", "hol", "brick", "ash", "mil", "quill", "or", "wend",
    "pol", "sca", "ruth", "bel", "kor", "nim", "tas", "ul", "dra", "fisk", "hem", "jor", "lin", "peg", "sel", "vos",
)  # fmt: skip
NOTES = (
    "from the market stall",
    "rogued twice",
    "late frost in May",
    "a few off-types taken out",
    "sown in trays",
)
AT_ONCE = 20_000


class _Names:
    """Names drawn with a fixed seed."""

    def __init__(self, draw: random.Random) -> None:
        self._draw = draw

    def word(self) -> str:
        """Give one invented word."""
        return "".join(self._draw.choices(SYLLABLES, k=self._draw.choice((2, 2, 3)))).capitalize()

    def names(self, count: int) -> list[str]:
        """Give distinct names of two words."""
        found: dict[str, None] = {}
        while len(found) < count:
            found[f"{self.word()} {self.word()}"] = None
        return list(found)


def fill(catalogue: Catalogue, lots: int) -> None:
    """Write so many lots, with all that belongs to them, in one job."""
    draw = random.Random(SEED)
    names = _Names(draw)
    with catalogue.job("write a large library") as job:
        write = _writer(job)
        kinds = _varieties(job, write, names, max(40, lots // 50), draw)
        places = _named(job, write, place, names.names(500))
        people = _named(job, write, person, names.names(3_000))
        rows = _lots(draw, kinds, places, people, lots)
        first = 1
        while part := list(islice(rows, AT_ONCE)):
            _write_part(job, write, draw, part, first)
            first += len(part)
    _tell_statistics(catalogue)


def _varieties(job: Job, write: Any, names: _Names, count: int, draw: random.Random) -> list[tuple[Any, ...]]:
    """Write varieties; gives id, crop code and folded words of each. Some crops have many more than others."""
    crops = job.run(select(crop.c.id, crop.c.code, crop.c.key, crop.c.name, crop.c.botanical_name)).all()
    shares = [1 / (at + 3) for at in range(len(crops))]
    found = []
    for at, name in enumerate(names.names(count), start=1):
        [of_crop] = draw.choices(crops, shares)
        reference = reference_crop(of_crop.key)
        others = reference.names.values() if reference else ()
        words = fold(" ".join((name, of_crop.name, *others, of_crop.botanical_name))).split()
        found.append((at, of_crop.id, of_crop.code, name, words))
    write(
        variety,
        [
            {"id": at, "crop_id": of, "name": name, "folded": fold(name), "note": ""}
            for at, of, _, name, _ in found
        ],
    )
    note_words(job, {word for row in found for word in row[4]})
    return [(at, code, words) for at, _of, code, _name, words in found]


def _named(job: Job, write: Any, table: Any, names: list[str]) -> list[list[str]]:
    extra = {"at_bench": False} if table is person else {}
    write(
        table,
        [
            {"id": at, "name": name, "folded": fold(name), "note": "", **extra}
            for at, name in enumerate(names, start=1)
        ],
    )
    words = [fold(name).split() for name in names]
    note_words(job, {word for row in words for word in row})
    return words


def _lots(
    draw: random.Random, kinds: list[tuple[Any, ...]], places: Any, people: Any, count: int
) -> Iterator[dict[str, Any]]:
    serials: dict[tuple[str, int], int] = {}
    noted = [fold(words).split() for words in NOTES]
    for at in range(1, count + 1):
        of_variety, code, words = draw.choice(kinds)
        year = 2026 - min(35, int(draw.expovariate(0.11)))
        serial = serials.get((code, year % 100), 0) + 1
        while (number := numbering.compose(code, year, serial)) is None:
            serial += 1
        serials[code, year % 100] = serial
        where, who = draw.randrange(len(places)), draw.randrange(len(people))
        note = draw.randrange(len(NOTES)) if draw.random() < 0.3 else None
        figures = [number.replace("-", "").lower(), *number.lower().split("-"), str(year)]
        named = [*words, *people[who], *places[where], *(noted[note] if note is not None else ())]
        yield {
            "id": at, "number": number, "variety_id": of_variety, "year": year, "place_id": where + 1,
            "grower_id": who + 1, "received_on": date(year, draw.randint(7, 11), draw.randint(1, 28)),
            "received_precision": "day", "isolation": "", "notes": "" if note is None else NOTES[note],
            "identity": "claimed", "unit": "mg", "stock_is_estimate": False,
            "find_text": index_text([*figures, *named]), "version": 3,
        }  # fmt: skip


def _write_part(job: Job, write: Any, draw: random.Random, part: list[dict[str, Any]], first: int) -> None:
    """Write some lots with their tests, ledger and history."""
    tests, dishes, counts, moves = [], [], [], []
    for row in part:
        at, received = row["id"], row["received_on"]
        got, packed = draw.randint(2_000, 900_000), draw.randint(0, 1_500)
        drawn = draw.randint(200, 400)
        tested = received + timedelta(days=draw.randint(60, 360))
        normal = draw.randint(15, 25)
        percent = normal * 4
        due_on = tested + timedelta(days=365 * draw.randint(2, 6))
        low = got - packed - drawn < 30_000
        row |= {
            "stock": got - packed - drawn, "germination_percent": percent, "hard_percent": 0, "tested_on": tested,
            "due_on": due_on, "due_why": f"The last test was in {tested:%Y}; this crop is tested every few years.",
            "due_bar": "no stock" if got - packed - drawn < 1_000 else "", "below_standard": percent < 70,
            "low": low, "state": "stored" if at % 9 else "in hand",
        }  # fmt: skip
        moment = datetime.combine(received, datetime.min.time())
        tests.append({
            "id": at, "lot_id": at, "state": "finished", "started_on": tested, "finished_on": tested + timedelta(14),
            "origin": "here", "rules": "home test", "substrate": "", "temperature": "", "prechill_days": 0,
            "seeds": 100, "normal_percent": percent, "dead_percent": 100 - percent, "verdict": "keep",
            "verdict_why": "", "note": "",
        })  # fmt: skip
        for number in range(1, 5):
            dishes.append({"id": 4 * at + number - 4, "test_id": at, "number": number, "seeds": 25})
            counts.append(
                {
                    "id": 4 * at + number - 4,
                    "dish_id": 4 * at + number - 4,
                    "on_date": tested + timedelta(14),
                    "normal": normal,
                    "dead": 25 - normal,
                }
            )
        for place_in, (kind, amount, day) in enumerate(
            (("received", got, received), ("test", -drawn, tested), ("packed", -packed, tested))
        ):
            moves.append({
                "id": 3 * at - 2 + place_in, "lot_id": at, "kind": "stocktake" if kind == "packed" else kind,
                "amount": amount, "on_date": day, "why": "",
                "test_id": at if kind == "test" else None, "entered_at": moment,
            })  # fmt: skip
    for table, rows in (
        (lot, part),
        (germination_test, tests),
        (dish, dishes),
        (dish_count, counts),
        (movement, moves),
    ):
        write(table, rows)
    write(history, list(_history(part, moves)))


def _history(part: list[dict[str, Any]], moves: list[dict[str, Any]]) -> Iterator[dict[str, Any]]:
    kept = (
        "number",
        "variety_id",
        "year",
        "place_id",
        "grower_id",
        "received_precision",
        "isolation",
        "notes",
        "unit",
    )
    for row in part:
        after = {name: row[name] for name in kept} | {"received_on": row["received_on"].isoformat()}
        yield _edit(4 * row["id"] - 3, row["id"], "lot", row["id"], after, row["received_on"])
    for move in moves:
        at = move["lot_id"]
        yield _edit(
            4 * at - 2 + (move["id"] - 1) % 3, at, "movement", move["id"], {"lot_id": at}, move["on_date"]
        )


def _edit(at: int, job_of: int, table: str, row_id: int, after: dict[str, Any], day: date) -> dict[str, Any]:
    return {
        "id": at, "job": f"00000000-0000-0000-0000-{job_of:012d}", "what": "take in seed",
        "at": datetime.combine(day, datetime.min.time()), "table_name": table, "row_id": row_id, "after": after,
    }  # fmt: skip


def _writer(job: Job) -> Callable[[Any, list[dict[str, Any]]], None]:
    """Give the quickest way to put many rows into a table: many at once, or the server's own COPY."""
    raw: Any = job.connection.connection.driver_connection
    if job.connection.dialect.name == "sqlite":

        def put(table: Any, rows: list[dict[str, Any]]) -> None:
            columns = list(rows[0])
            marks = ", ".join("?" for _ in columns)
            raw.executemany(
                f"INSERT INTO {table.name} ({', '.join(_quoted(c) for c in columns)}) VALUES ({marks})",
                [tuple(_plain(row.get(c)) for c in columns) for row in rows],
            )

        return put

    def copy(table: Any, rows: list[dict[str, Any]]) -> None:
        columns = list(rows[0])
        with (
            raw.cursor() as cursor,
            cursor.copy(f"COPY {table.name} ({', '.join(_quoted(c) for c in columns)}) FROM STDIN") as out,
        ):
            for row in rows:
                out.write_row([json.dumps(v) if isinstance(v := row.get(c), dict) else v for c in columns])

    return copy


def _quoted(name: str) -> str:
    return '"' + name + '"'


def _plain(value: Any) -> Any:
    if isinstance(value, dict):
        return json.dumps(value)
    if isinstance(value, datetime):
        return value.isoformat(" ") + ".000000"
    return value.isoformat() if isinstance(value, date) else value


def _tell_statistics(catalogue: Catalogue) -> None:
    """Let the engine count what it holds, as it would by itself in time; set the server's counters of ids."""
    with catalogue.engine.connect() as connection:
        raw: Any = connection.connection.driver_connection
        if catalogue.is_sqlite:
            connection.rollback()
            raw.execute("PRAGMA wal_checkpoint(TRUNCATE)")
            return
        connection.rollback()
        raw.autocommit = True
        for table in (lot, movement, germination_test, dish, dish_count, history, variety, place, person):
            raw.execute(
                f"SELECT setval(pg_get_serial_sequence('{table.name}', 'id'), (SELECT max(id) FROM {table.name}))"
            )
        raw.execute("VACUUM ANALYZE")
        raw.autocommit = False
