"""The ledger of packets: only added to, never more than there are, whoever hands out at the same time."""

import sqlite3
from datetime import date
from functools import partial

import pytest
from sqlalchemy import func, select, text
from sqlalchemy.exc import IntegrityError

from hilum.catalogue import handouts, history, steps
from hilum.catalogue.checking import check
from hilum.catalogue.counter_records import hand_out
from hilum.catalogue.ledger import StockError, move
from hilum.catalogue.opening import Catalogue
from hilum.catalogue.records import packet_batch
from hilum.errors import BadInput, KeeperError
from tests.catalogue.builders import A_DAY, a_lot, in_threads, stock_of


def a_batch(catalogue: Catalogue, packets: int = 10) -> tuple[int, int]:
    """Pack some packets of a new lot; gives the lot and the batch."""
    lot_id = a_lot(catalogue)
    with catalogue.job("pack") as job:
        batch = steps.add_batch(job, lot_id, A_DAY, packets=packets, seeds_per_packet=40, fill_mg=100)
        move(job, lot_id, "packed", -packets * 100, on=A_DAY, batch_id=batch)
    return lot_id, batch


def give(catalogue: Catalogue, batch: int, packets: int = 1) -> int:
    with catalogue.job("hand out") as job:
        return handouts.give(job, batch, packets, on=A_DAY)


def left_in(catalogue: Catalogue, batch: int) -> int:
    with catalogue.look() as connection:
        left = select(packet_batch.c.packets_left).where(packet_batch.c.id == batch)
        return int(connection.execute(left).scalar_one())


def handed_out(catalogue: Catalogue) -> int:
    with catalogue.look() as connection:
        return int(connection.execute(select(func.coalesce(func.sum(hand_out.c.packets), 0))).scalar_one())


def test_handing_out_draws_on_the_packets_and_not_on_the_lot_again(catalogue: Catalogue) -> None:
    """Packing drew the seed; a hand-out only takes packets off the shelf."""
    lot_id, batch = a_batch(catalogue)
    before = stock_of(catalogue, lot_id)
    give(catalogue, batch, 3)
    assert (left_in(catalogue, batch), stock_of(catalogue, lot_id)) == (7, before)
    assert check(catalogue) == ()


def test_more_than_there_are_is_refused_and_changes_nothing(catalogue: Catalogue) -> None:
    """Eleven of ten are not handed out."""
    _, batch = a_batch(catalogue)
    with pytest.raises(StockError, match="not as many packets left"):
        give(catalogue, batch, 11)
    assert (left_in(catalogue, batch), handed_out(catalogue)) == (10, 0)


def test_a_line_is_taken_back_once_by_its_opposite(catalogue: Catalogue) -> None:
    """The wrong line stays, another one points at it, and the packets are on the shelf again."""
    _, batch = a_batch(catalogue)
    line = give(catalogue, batch, 4)
    with catalogue.job("take back") as job:
        opposite = handouts.take_back(job, line, on=A_DAY, why="wrong box")
    assert (left_in(catalogue, batch), handed_out(catalogue)) == (10, 0)
    for wrong, words in ((line, "already been taken back"), (opposite, "not taken back again")):
        with pytest.raises(BadInput, match=words), catalogue.job("again") as job:
            handouts.take_back(job, wrong, on=A_DAY, why="")
    assert check(catalogue) == ()


@pytest.mark.parametrize(
    "statement",
    ["UPDATE hand_out SET packets = 9", "UPDATE hand_out SET why = 'x'", "DELETE FROM hand_out"],
)
def test_the_database_itself_keeps_the_ledger_of_packets(catalogue: Catalogue, statement: str) -> None:
    """Plain SQL past the program cannot change or delete a hand-out, on either engine."""
    _, batch = a_batch(catalogue)
    give(catalogue, batch)
    with (
        pytest.raises(IntegrityError, match="never changed or deleted"),
        catalogue.engine.begin() as connection,
    ):
        connection.execute(text(statement))
    assert handed_out(catalogue) == 1


@pytest.mark.parametrize(
    ("statement", "words"),
    [
        ("UPDATE packet_batch SET packets_left = -1", "packets_range"),
        ("UPDATE packet_batch SET packets_left = packets + 1", "packets_range"),
        ("INSERT INTO hand_out (batch_id, packets, on_date, entered_at) VALUES "
         "(1, -1, '2026-11-25', '2026-11-25 09:00')", "taking_back_points"),
        ("INSERT INTO hand_out (batch_id, packets, on_date, takes_back_id, entered_at) VALUES "
         "(1, 1, '2026-11-25', 1, '2026-11-25 09:00')", "taking_back_points|put back by the opposite"),
        ("INSERT INTO hand_out (batch_id, packets, on_date, entered_at) VALUES "
         "(99, 1, '2026-11-25', '2026-11-25 09:00')", "(?i)foreign key"),
        ("DELETE FROM packet_batch", "never changed or deleted"),
    ],
)  # fmt: skip
def test_plain_sql_cannot_write_what_cannot_be(catalogue: Catalogue, statement: str, words: str) -> None:
    """No packets below nothing, no opposite without what it takes back, no line without its batch."""
    _, batch = a_batch(catalogue)
    give(catalogue, batch)
    with pytest.raises(IntegrityError, match=words), catalogue.engine.begin() as connection:
        connection.execute(text(statement))
    assert left_in(catalogue, batch) == 9


@pytest.mark.postgresql
def test_a_server_does_not_empty_the_ledger_either(postgresql_url: str) -> None:
    """TRUNCATE passes row triggers by, so it has a guard of its own."""
    from hilum.catalogue.opening import new_catalogue
    from tests.catalogue.builders import TickingClock

    with (
        new_catalogue(postgresql_url, clock=TickingClock()) as catalogue,
        pytest.raises(IntegrityError, match="never"),
        catalogue.engine.begin() as connection,
    ):
        connection.execute(text("TRUNCATE hand_out"))


def test_replacing_a_line_is_refused_without_our_settings_too(file_catalogue: Catalogue) -> None:
    """A connection of another program, with SQLite's own defaults, cannot write over a hand-out."""
    _, batch = a_batch(file_catalogue)
    give(file_catalogue, batch)
    raw = sqlite3.connect(str(file_catalogue.file))
    with pytest.raises(sqlite3.IntegrityError, match="take it back instead"):
        raw.execute(
            "INSERT OR REPLACE INTO hand_out (id, batch_id, packets, on_date, entered_at) "
            "SELECT id, batch_id, 5, on_date, entered_at FROM hand_out"
        )
    raw.close()
    assert handed_out(file_catalogue) == 1


def test_a_hand_out_is_not_an_edit_to_be_taken_back(catalogue: Catalogue) -> None:
    """The history sends the keeper to the counter."""
    _, batch = a_batch(catalogue)
    give(catalogue, batch)
    with catalogue.look() as connection:
        newest = history.recent_jobs(connection, 1)[0].id
    with pytest.raises(KeeperError, match="at the Counter"), catalogue.job("take back") as job:
        history.take_back(job, newest)


@pytest.mark.parametrize("writers", [2, 8])
def test_writers_at_once_never_hand_out_more_than_there_are(catalogue: Catalogue, writers: int) -> None:
    """However many desks scan the same packet, each goes out once and the rest are refused."""
    _, batch = a_batch(catalogue, packets=20)

    def scan_on() -> int:
        done = 0
        for _ in range(10):
            try:
                give(catalogue, batch, 1)
                done += 1
            except StockError:
                pass
        return done

    done = sum(in_threads([scan_on] * writers))
    assert done == min(20, writers * 10)
    assert left_in(catalogue, batch) == 20 - done
    assert handed_out(catalogue) == done
    assert check(catalogue) == ()


def test_eight_writers_take_one_line_back_once(catalogue: Catalogue) -> None:
    """Two desks that undo the same scan put its packets back once."""
    _, batch = a_batch(catalogue)
    line = give(catalogue, batch, 5)

    def undo() -> int:
        try:
            with catalogue.job("take back") as job:
                handouts.take_back(job, line, on=A_DAY, why="wrong")
        except BadInput:
            return 0
        return 1

    assert sum(in_threads([partial(undo)] * 8)) == 1
    assert left_in(catalogue, batch) == 10


def test_an_event_is_made_once_a_season(catalogue: Catalogue) -> None:
    """The same name in another season is another event; another spelling of case is the same."""
    with catalogue.job("events") as job:
        first = handouts.event_id(job, "Spring swap", "swap day", 2026)
        assert handouts.event_id(job, "spring SWAP", "swap day", 2026) == first
        assert handouts.event_id(job, "Spring swap", "swap day", 2027) != first


def test_check_finds_packets_that_went_without_a_line(catalogue: Catalogue) -> None:
    """Packets taken off the count past the ledger are told."""
    a_batch(catalogue)
    with catalogue.job("slip") as job:
        job.run(text("UPDATE packet_batch SET packets_left = 4"))
    assert any(
        "4 packets of 10 are shown as left, but 0 were handed out" in words for words in check(catalogue)
    )


def test_dates_are_kept(catalogue: Catalogue) -> None:
    """A hand-out of last week stays of last week."""
    _, batch = a_batch(catalogue)
    with catalogue.job("hand out") as job:
        handouts.give(job, batch, 1, on=date(2026, 11, 18))
    with catalogue.look() as connection:
        assert [line.on for line in handouts.lines(connection)] == [date(2026, 11, 18)]
