"""Small catalogues of earlier revisions, as they were stored then, still open with nothing lost."""

from datetime import date
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import text

from hilum.catalogue.checking import check
from hilum.catalogue.germination_tests import DishDays, dishes_of, one_test
from hilum.catalogue.keeping import copies_folder
from hilum.catalogue.opening import NEWEST_REVISION, Catalogue, open_catalogue, revision_of
from tests.catalogue.builders import TickingClock, put_stored

# Rows by table of the catalogue stored at revision 0001.
ROWS = {
    "crop": 166, "person": 2, "place": 3, "setting": 2, "store_place": 2, "history": 50, "variety": 5, "lot": 5,
    "synonym": 1, "germination_test": 2, "hold": 1, "packet_batch": 1, "preparing_step": 2, "stay": 2, "dish": 6,
    "movement": 10, "dish_count": 4,
}  # fmt: skip


def rows_of(catalogue: Catalogue) -> dict[str, int]:
    """Count the rows of each table the first revision had."""
    with catalogue.look() as connection:
        return {
            table: connection.execute(text(f"SELECT count(*) FROM {table}")).scalar_one() for table in ROWS
        }


def revision(catalogue: Catalogue) -> str | None:
    """Give the revision a catalogue stands at."""
    with catalogue.look() as connection:
        return revision_of(connection)


def sums_of(catalogue: Catalogue) -> list[tuple[Any, ...]]:
    """Give every lot's number with its stock and the sum of its movements."""
    query = "SELECT number, stock, (SELECT sum(amount) FROM movement WHERE lot_id = lot.id) FROM lot ORDER BY number"
    with catalogue.look() as connection:
        return [tuple(row) for row in connection.execute(text(query))]


def test_a_stored_file_of_the_first_revision_opens_whole(tmp_path: Path) -> None:
    """It is copied, brought up, and holds every row with the same stock; the check finds nothing."""
    file = tmp_path / "library.hilum"
    put_stored(file, "0001")
    with open_catalogue(file, clock=TickingClock()) as catalogue:
        assert revision(catalogue) == NEWEST_REVISION
        assert rows_of(catalogue) == ROWS
        assert all(stock == moved for _, stock, moved in sums_of(catalogue))
        assert check(catalogue) == ()
    assert [copy.name for copy in copies_folder(file).iterdir()] == [
        "library before upgrade from 0001 2026-11-25.hilum"
    ]


@pytest.mark.postgresql
def test_a_stored_database_of_the_first_revision_opens_whole(postgresql_url: str) -> None:
    """The same on a server, from the words its own program wrote it down in."""
    put_stored(postgresql_url, "0001")
    with open_catalogue(postgresql_url, clock=TickingClock()) as catalogue:
        assert revision(catalogue) == NEWEST_REVISION
        assert rows_of(catalogue) == ROWS
        assert all(stock == moved for _, stock, moved in sums_of(catalogue))
        assert check(catalogue) == ()


def test_dishes_laid_before_they_had_days_go_by_their_test(tmp_path: Path) -> None:
    """The running test of the first revision keeps its dishes, counted on the days they had."""
    file = tmp_path / "library.hilum"
    put_stored(file, "0001")
    with open_catalogue(file, clock=TickingClock()) as catalogue, catalogue.look() as connection:
        dishes = dishes_of(connection, 2)
        test = one_test(connection, 2)
    laid, first, final = date(2026, 11, 25), date(2026, 11, 29), date(2026, 12, 9)
    assert [dish.days for dish in dishes] == [DishDays(laid, first, final)] * 2
    assert (test.state, test.first_count_on, test.final_count_on) == ("running", first, final)
    assert test.group_seeds is None
