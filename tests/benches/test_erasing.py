"""Erasing a person: the name is nowhere after it, in no row of any table and in no byte of the file."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import select

from hilum.benches import counter, keeping, loose_out, lots, packing, people, returns
from hilum.benches.counter import Occasion
from hilum.benches.keeping import Catalogue
from hilum.catalogue.records import metadata
from tests.benches.conftest import LEEK, TODAY, clock, take_in

NAME = "Zephyrine Quillfeather"
SWAP = Occasion("Spring swap", "swap day")


@pytest.fixture(params=["file", pytest.param("server", marks=pytest.mark.postgresql)])
def catalogue(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Catalogue]:
    """Give an empty catalogue in a file, then one on a server."""
    server = request.param == "server"
    where = request.getfixturevalue("postgresql_url") if server else tmp_path / "library.hilum"
    with keeping.make(where, clock=clock) as opened:
        yield opened


def a_life(catalogue: Catalogue) -> tuple[int, str]:
    """Let one person grow, give, get, promise, change and work at the bench; gives the id and the lot."""
    [leek] = take_in(catalogue, LEEK.replace("Marit", NAME))
    [other] = take_in(catalogue, LEEK.replace("Fenlock Grey", "Ashmere Blue"))
    lots.change_lot(catalogue, other, {"grower": NAME})
    lots.change_lot(catalogue, other, {"grower": "Marit"})
    with catalogue.job("pack") as job:
        packing.book_packets(job, packing.resolve_lot(job.connection, leek), packets=9, seeds=40, on=TODAY)
    counter.hand_out(catalogue, leek, on=TODAY, occasion=SWAP, to=NAME)
    loose_out.hand_out_loose(catalogue, leek, on=TODAY, mass_mg=500, to=NAME)
    returns.promise_return(catalogue, leek, on=TODAY, by=TODAY, who=NAME)
    keeping.come_to_bench(catalogue, NAME)
    who = next(each.id for each in people.people_kept(catalogue, on=TODAY).people if each.name == NAME)
    return who, leek


def rows_that_say(catalogue: Catalogue, word: str) -> list[str]:
    """Give every table in which any column of any row says a word, whatever its case."""
    with catalogue.look() as connection:
        return [
            table.name
            for table in metadata.sorted_tables
            for row in connection.execute(select(table))
            if any(word.lower() in str(value).lower() for value in row)
        ]


def test_the_name_is_in_no_table_and_in_no_byte_of_the_file(catalogue: Catalogue) -> None:
    """Grower, recipient, promise, bench, find, history before and after, labels: all by id; what was there is gone."""
    who, leek = a_life(catalogue)
    assert "person" in rows_that_say(catalogue, "quillfeather")
    stock = lots.lot_view(catalogue, leek).line.stock
    erased = people.erase(catalogue, [who], on=TODAY)
    assert (erased.names, erased.file_is_clean) == (1, True)
    assert rows_that_say(catalogue, "quillfeather") == []
    assert rows_that_say(catalogue, "zephyrine") == []
    if catalogue.file is not None:
        for file in catalogue.file.parent.glob("library*"):
            if file.is_file():
                assert b"quillfeather" not in file.read_bytes().lower(), file.name
    assert lots.lot_view(catalogue, leek).line.stock == stock
    assert keeping.check(catalogue).findings == ()


def test_traces_in_a_file_that_another_window_reads_are_said(catalogue: Catalogue) -> None:
    """The names go all the same; that the file could not be written anew is not kept from the keeper."""
    if catalogue.file is None:
        pytest.skip("a server clears its own pages")
    who, _ = a_life(catalogue)
    with keeping.open_at(catalogue.file, clock=clock) as other, other.look() as connection:
        connection.execute(select(metadata.tables["person"])).first()
        erased = people.erase(catalogue, [who], on=TODAY)
    assert (erased.names, erased.file_is_clean) == (1, False)
    assert people.erase(catalogue, [who], on=TODAY).file_is_clean
    assert b"quillfeather" not in catalogue.file.read_bytes().lower()
