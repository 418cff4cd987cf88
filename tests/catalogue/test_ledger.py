"""The ledger: only added to, never below nothing, and never oversold however many desks draw from it."""

import subprocess
import sys
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sqlalchemy import Table, func, insert, select, text, update
from sqlalchemy.exc import IntegrityError

from hilum.catalogue import steps
from hilum.catalogue.checking import check
from hilum.catalogue.ledger import StockError, correct, move
from hilum.catalogue.opening import Catalogue, new_catalogue, open_catalogue
from hilum.catalogue.records import history, lot, movement, packet_batch, stay, variety
from tests.catalogue.builders import A_DAY, TickingClock, a_lot, in_threads, stock_of


def everything_in(catalogue: Catalogue, *tables: Table) -> list[object]:
    with catalogue.look() as connection:
        return [
            tuple(row) for table in tables for row in connection.execute(select(table).order_by(table.c.id))
        ]


def movements_of(catalogue: Catalogue, lot_id: int) -> list[tuple[str, int | None]]:
    with catalogue.look() as connection:
        rows = connection.execute(
            select(movement.c.kind, movement.c.amount)
            .where(movement.c.lot_id == lot_id)
            .order_by(movement.c.id)
        )
        return [(kind, amount) for kind, amount in rows]


@pytest.mark.parametrize(
    "statement",
    [
        "UPDATE movement SET amount = 1",
        "UPDATE movement SET why = 'mistake'",
        "DELETE FROM movement",
        "DELETE FROM history",
        "UPDATE history SET what = 'nothing happened'",
        "UPDATE history SET after = NULL",
        "UPDATE history SET person_id = NULL, at = '2020-01-01 00:00:00', row_id = row_id + 1",
        "UPDATE packet_batch SET packets = packets + 1, packets_left = packets_left + 1",
        "UPDATE packet_batch SET seeds_per_packet = 1",
        "DELETE FROM packet_batch",
    ],
)
def test_the_database_itself_keeps_the_ledger(catalogue: Catalogue, statement: str) -> None:
    """Plain SQL past the program cannot change or delete what was written, on either engine."""
    lot_id = a_lot(catalogue)
    with catalogue.job("pack") as job:
        batch = steps.add_batch(job, lot_id, A_DAY, packets=10, seeds_per_packet=20, fill_mg=100)
        move(job, lot_id, "packed", -1_000, on=A_DAY, batch_id=batch)
    before = everything_in(catalogue, movement, history, packet_batch)
    with (
        pytest.raises(IntegrityError, match=r"never (changed|deleted|changed or deleted)"),
        catalogue.engine.begin() as connection,
    ):
        connection.execute(text(statement))
    assert everything_in(catalogue, movement, history, packet_batch) == before


def test_what_may_change_of_a_batch_and_an_edit_does(catalogue: Catalogue) -> None:
    """The packets that are left, and the note that an edit was taken back, are written by the program."""
    lot_id = a_lot(catalogue)
    with catalogue.job("pack") as job:
        steps.add_batch(job, lot_id, A_DAY, packets=10, seeds_per_packet=20, fill_mg=100)
    with catalogue.job("hand out") as job:
        job.run(update(packet_batch).values(packets_left=4))
        job.run(update(history).values(taken_back_by="someone"))


def test_the_database_itself_keeps_a_correction_to_its_lot(catalogue: Catalogue) -> None:
    """A correction that points at another lot's movement is refused in plain SQL too."""
    first, second = a_lot(catalogue), a_lot(catalogue)
    with catalogue.look() as connection:
        [received] = connection.execute(select(movement.c.id).where(movement.c.lot_id == first)).scalars()
    wrong = insert(movement).values(
        lot_id=second, kind="corrected", on_date=A_DAY, entered_at=catalogue.now(), corrects_id=received
    )
    with pytest.raises(IntegrityError, match="belongs to the lot"), catalogue.job("wrong") as job:
        job.run(wrong)


@pytest.mark.postgresql
@pytest.mark.parametrize("table", ["movement", "history", "packet_batch"])
def test_a_server_empties_no_ledger_either(postgresql_url: str, clock: TickingClock, table: str) -> None:
    """TRUNCATE passes row triggers by, so it has a guard of its own."""
    with new_catalogue(postgresql_url, clock=clock) as catalogue:
        a_lot(catalogue)
        with pytest.raises(IntegrityError, match="never"), catalogue.engine.begin() as connection:
            connection.execute(text(f"TRUNCATE {table} CASCADE"))


@pytest.mark.parametrize("table", ["history", "packet_batch"])
def test_nothing_is_replaced_in_what_stands(file_catalogue: Catalogue, table: str) -> None:
    """A connection with SQLite's own defaults cannot write over an edit or a batch either."""
    import sqlite3

    lot_id = a_lot(file_catalogue)
    with file_catalogue.job("pack") as job:
        steps.add_batch(job, lot_id, A_DAY, packets=10, seeds_per_packet=20, fill_mg=100)
    raw = sqlite3.connect(str(file_catalogue.file))
    with pytest.raises(sqlite3.IntegrityError, match="is never changed"):
        raw.execute(f"INSERT OR REPLACE INTO {table} SELECT * FROM {table}")
    raw.close()


def test_replacing_is_refused_without_our_settings_too(file_catalogue: Catalogue) -> None:
    """A connection of another program, with SQLite's own defaults, cannot write over a movement either."""
    import sqlite3

    lot_id = a_lot(file_catalogue)
    raw = sqlite3.connect(str(file_catalogue.file))
    with pytest.raises(sqlite3.IntegrityError, match="enter a correction instead"):
        raw.execute(
            "INSERT OR REPLACE INTO movement (id, lot_id, kind, amount, on_date, entered_at) "
            "SELECT id, lot_id, kind, 1, on_date, entered_at FROM movement"
        )
    raw.close()
    assert movements_of(file_catalogue, lot_id) == [("received", 20_000)]


def test_the_database_itself_refuses_negative_stock(catalogue: Catalogue) -> None:
    """Even a statement without our guard cannot bring a stock below nothing."""
    lot_id = a_lot(catalogue)
    with pytest.raises(IntegrityError, match="stock_not_negative"), catalogue.job("draw") as job:
        job.run(update(lot).values(stock=lot.c.stock - 20_001))
    assert stock_of(catalogue, lot_id) == 20_000


def test_rows_belong_to_rows_that_are_there(catalogue: Catalogue) -> None:
    """A movement, a variety or a stay of nothing is refused, and so is deleting what others belong to."""
    a_lot(catalogue)
    orphans = (
        insert(movement).values(lot_id=999, kind="received", on_date=A_DAY, entered_at=catalogue.now()),
        insert(variety).values(crop_id=9999, name="Nobody", folded="nobody"),
        insert(stay).values(lot_id=1, store_place_id=999, from_on=A_DAY),
        text("DELETE FROM variety"),
    )
    for statement in orphans:
        with pytest.raises(IntegrityError), catalogue.job("orphan") as job:
            job.run(statement)


def test_drawing_more_than_there_is_is_refused_in_words(catalogue: Catalogue) -> None:
    """The refusal says what is there and what was asked, and nothing is written."""
    lot_id = a_lot(catalogue)
    with (
        pytest.raises(
            StockError, match=r"holds 20 g; 20.001 g cannot be taken from it. Nothing was changed."
        ),
        catalogue.job("draw") as job,
    ):
        move(job, lot_id, "packed", -20_001, on=A_DAY)
    assert movements_of(catalogue, lot_id) == [("received", 20_000)]


def test_nothing_is_drawn_from_a_lot_that_was_never_weighed(catalogue: Catalogue) -> None:
    """An unknown stock is not nought: it can be filled, and only then drawn from."""
    lot_id = a_lot(catalogue, amount=None)
    with pytest.raises(StockError, match="has not been weighed yet"), catalogue.job("draw") as job:
        move(job, lot_id, "packed", -1, on=A_DAY)
    with catalogue.job("weigh") as job:
        move(job, lot_id, "stocktake", 700, on=A_DAY)
    assert stock_of(catalogue, lot_id) == 700
    assert check(catalogue) == ()


@pytest.mark.parametrize(
    ("kind", "wrong", "right"),
    [("sown", -5_000, -4_000), ("returned", 3_000, 8_000), ("sown", -20_000, -100)],
)
def test_a_correction_with_the_right_figure_enters_it_anew(
    catalogue: Catalogue, kind: str, wrong: int, right: int
) -> None:
    """Three lines stand: what was wrong, its opposite, and what is right, which may be corrected again."""
    lot_id = a_lot(catalogue)
    with catalogue.job("move") as job:
        slip = move(job, lot_id, kind, wrong, on=A_DAY, why="bed 4")
    with catalogue.job("correct") as job:
        correct(job, slip, on=date(2026, 11, 26), why="read the scale wrong", right_amount=right)
    assert stock_of(catalogue, lot_id) == 20_000 + right
    assert sorted(movements_of(catalogue, lot_id)[2:]) == sorted([("corrected", -wrong), (kind, right)])
    with catalogue.look() as connection:
        again = connection.execute(
            select(movement.c.id).where(movement.c.kind == kind, movement.c.amount == right)
        ).scalar_one()
    with catalogue.job("correct") as job:
        correct(job, again, on=A_DAY, why="and again", right_amount=wrong)
    assert stock_of(catalogue, lot_id) == 20_000 + wrong
    assert check(catalogue) == ()


def test_a_receipt_is_corrected_upwards_though_seed_has_left(catalogue: Catalogue) -> None:
    """The opposite alone would fall below nothing; with the right figure it need not."""
    lot_id = a_lot(catalogue)
    with catalogue.look() as connection:
        received = connection.execute(select(movement.c.id)).scalar_one()
    with catalogue.job("draw") as job:
        move(job, lot_id, "sown", -15_000, on=A_DAY)
    with catalogue.job("correct") as job:
        correct(job, received, on=A_DAY, why="25, not 20", right_amount=25_000)
    assert stock_of(catalogue, lot_id) == 10_000
    with pytest.raises(StockError, match="is what the line says already"), catalogue.job("correct") as job:
        correct(job, received + 1, on=A_DAY, why="no", right_amount=-15_000)


def test_a_movement_is_corrected_once_and_with_a_reason(catalogue: Catalogue) -> None:
    """A correction is the opposite movement and points at the first."""
    lot_id = a_lot(catalogue)
    with catalogue.job("draw") as job:
        drawn = move(job, lot_id, "sown", -5_000, on=A_DAY)
    with pytest.raises(StockError, match="needs its reason"), catalogue.job("correct") as job:
        correct(job, drawn, on=A_DAY, why=" ")
    with catalogue.job("correct") as job:
        correct(job, drawn, on=A_DAY, why="read the scale wrong")
    assert stock_of(catalogue, lot_id) == 20_000
    with pytest.raises(StockError, match="already been corrected"), catalogue.job("correct") as job:
        correct(job, drawn, on=A_DAY, why="again")
    assert check(catalogue) == ()


@pytest.mark.parametrize("writers", [2, 8])
def test_desks_that_draw_at_once_never_oversell(
    catalogue: Catalogue, where: str | Path, writers: int
) -> None:
    """Every desk draws until it is refused; together they get exactly what was there."""
    lot_id = a_lot(catalogue, amount=1_000)

    def draw_all() -> int:
        drawn = 0
        with open_catalogue(where, clock=TickingClock(), wait_s=60) as desk:
            while True:
                try:
                    with desk.job("draw") as job:
                        move(job, lot_id, "sown", -10, on=A_DAY)
                except StockError:
                    return drawn
                drawn += 10

    drawn = in_threads([draw_all] * writers)
    assert sum(drawn) == 1_000
    assert stock_of(catalogue, lot_id) == 0
    assert movements_of(catalogue, lot_id)[1:] == [("sown", -10)] * 100
    assert check(catalogue) == ()


def test_programs_that_draw_at_once_never_oversell(catalogue: Catalogue, where: str | Path) -> None:
    """The same with separate programs, as two windows or a window and a command are."""
    lot_id = a_lot(catalogue, amount=300)
    program = (
        "import sys, datetime\n"
        "from hilum.catalogue.opening import open_catalogue\n"
        "from hilum.catalogue.ledger import StockError, move\n"
        "desk = open_catalogue(sys.argv[1], clock=lambda: datetime.datetime(2026, 11, 25), wait_s=60)\n"
        "drawn = 0\n"
        "try:\n"
        "    while True:\n"
        "        with desk.job('draw') as job:\n"
        "            move(job, int(sys.argv[2]), 'sown', -10, on=datetime.date(2026, 11, 25))\n"
        "        drawn += 10\n"
        "except StockError:\n"
        "    print(drawn)\n"
        "desk.close()\n"
    )
    import os

    environment = os.environ | {"PYTHONPATH": str(Path(__file__).parents[2] / "desktop")}
    running = [
        subprocess.Popen(
            [sys.executable, "-c", program, str(where), str(lot_id)], stdout=subprocess.PIPE, env=environment
        )
        for _ in range(2)
    ]
    drawn = [int(program.communicate(timeout=120)[0]) for program in running]
    assert sum(drawn) == 300
    assert stock_of(catalogue, lot_id) == 0


def test_other_work_on_the_lot_does_not_lose_a_draw(catalogue: Catalogue, where: str | Path) -> None:
    """Desks that draw and desks that bring seed back leave the sum of all of it."""
    lot_id = a_lot(catalogue, amount=5_000)

    def desk(kind: str, amount: int) -> Callable[[], None]:
        def work() -> None:
            with open_catalogue(where, clock=TickingClock(), wait_s=60) as opened:
                for _ in range(20):
                    with opened.job(kind) as job:
                        move(job, lot_id, kind, amount, on=A_DAY)

        return work

    in_threads([desk("sown", -7), desk("returned", 11), desk("sown", -3), desk("returned", 2)])
    assert stock_of(catalogue, lot_id) == 5_000 + 20 * (11 + 2 - 7 - 3)
    assert check(catalogue) == ()


@pytest.fixture(scope="module")
def shared_catalogue(tmp_path_factory: pytest.TempPathFactory) -> Catalogue:
    """Give one file for many examples; each example makes a lot of its own and reads only that."""
    return new_catalogue(tmp_path_factory.mktemp("ledger") / "library.hilum", clock=TickingClock())


@given(amounts=st.lists(st.one_of(st.none(), st.integers(-50, 50)), max_size=12))
def test_the_ledger_adds_up(shared_catalogue: Catalogue, amounts: list[int | None]) -> None:
    """Whatever is drawn and added, the stock is the sum of the movements that were let through."""
    lot_id = a_lot(shared_catalogue, amount=None)
    expected: int | None = None
    for amount in amounts:
        refused = amount is not None and amount < 0 and (expected is None or expected + amount < 0)
        try:
            with shared_catalogue.job("move") as job:
                move(job, lot_id, "stocktake", amount, on=date(2026, 1, 1))
        except StockError:
            assert refused
            continue
        assert not refused
        if amount is not None:
            expected = (expected or 0) + amount
    assert stock_of(shared_catalogue, lot_id) == expected
    with shared_catalogue.look() as connection:
        total = connection.execute(
            select(func.sum(movement.c.amount)).where(movement.c.lot_id == lot_id)
        ).scalar()
    assert total == expected
