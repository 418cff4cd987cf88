"""The first look at a file shows what the opened catalogue shows, and shows nothing where it cannot be sure."""

import sqlite3
from datetime import date, timedelta
from pathlib import Path

import pytest

from hilum.catalogue.due import recompute
from hilum.catalogue.glance import due_at_a_glance
from hilum.catalogue.listing import LotFilter, list_lots
from hilum.catalogue.opening import Catalogue
from tests.catalogue.builders import A_DAY, write_lot


def with_lots(catalogue: Catalogue, many: int) -> None:
    """Take in lots whose tests fall due on different days, one of them with an estimated stock."""
    with catalogue.job("take in seed") as job:
        ids = [
            write_lot(
                job,
                variety=f"Harrow {number % 3}",
                received_on=date(2024, 1, 1) + timedelta(days=number % 4 * 400),
                amount=None if number == 1 else 20_000 + number,
                amount_is_estimate=number == 2,
            )[0]
            for number in range(many)
        ]
        recompute(job, ids)


@pytest.mark.parametrize("limit", [3, 5, 100])
def test_a_glance_agrees_with_the_opened_catalogue(file_catalogue: Catalogue, tmp_path: Path, limit: int):
    """The same lots in the same order with the same figures, and the same number in all."""
    with_lots(file_catalogue, 9)
    with file_catalogue.look() as connection:
        lines, total = list_lots(connection, LotFilter(due=True), on=A_DAY, sort="due", limit=limit)
    seen = due_at_a_glance(str(tmp_path / "library.hilum"), A_DAY, limit)
    assert seen is not None
    assert total > 3
    assert seen[1] == total
    names = ("number", "crop", "variety", "year", "due_on", "due_why", "unit", "stock", "stock_is_estimate")
    assert [[getattr(lot, name) for name in names] for lot in seen[0]] == [
        [getattr(line, name) for name in names] for line in lines
    ]


def test_a_glance_leaves_file_and_folder_as_they_are(file_catalogue: Catalogue, tmp_path: Path):
    """Nothing is written beside a catalogue that is only looked at."""
    with_lots(file_catalogue, 2)
    file_catalogue.close()
    file = tmp_path / "library.hilum"
    before = {each.name: each.read_bytes() for each in tmp_path.iterdir()}
    assert due_at_a_glance(str(file), A_DAY, 10) is not None
    assert {each.name: each.read_bytes() for each in tmp_path.iterdir()} == before


def test_no_glance_at_what_only_opening_can_judge(file_catalogue: Catalogue, tmp_path: Path):
    """A server, a missing file, a letter, a damaged file, and a file of another revision."""
    file_catalogue.close()
    file = tmp_path / "library.hilum"
    letter = tmp_path / "letter.hilum"
    letter.write_text("Dear keeper")
    damaged = tmp_path / "damaged.hilum"
    damaged.write_bytes(file.read_bytes()[:5000])
    assert due_at_a_glance(str(file), A_DAY, 10) == ((), 0)
    with sqlite3.connect(file) as connection:
        connection.execute("UPDATE alembic_version SET version_num = '9999'")
    connection.close()
    for where in ("postgresql+psycopg://keeper@localhost/library", str(tmp_path / "none.hilum"), str(letter),
                  str(damaged), str(file)):  # fmt: skip
        assert due_at_a_glance(where, A_DAY, 10) is None
