"""What the database itself refuses in plain SQL, on both engines: every ledger, every belonging, every count."""

from collections.abc import Iterator
from typing import Any

import pytest
from sqlalchemy import Column, Connection, ForeignKey, Table, func, select, text
from sqlalchemy.exc import IntegrityError

from hilum.benches.demo import fill_demo
from hilum.catalogue import handouts, steps
from hilum.catalogue.checking import check
from hilum.catalogue.ledger import move
from hilum.catalogue.opening import Catalogue
from hilum.catalogue.records import metadata
from tests.catalogue.builders import A_DAY, a_lot

NOW = "'2026-11-25 09:00:00'"
DAY = "'2026-11-25'"
MOVEMENT = (
    "INSERT INTO movement (lot_id, kind, amount, on_date, entered_at, corrects_id, batch_id, test_id) VALUES "
)
HAND_OUT = "INSERT INTO hand_out (batch_id, packets, on_date, entered_at, takes_back_id) VALUES "


@pytest.fixture
def stocked(catalogue: Catalogue) -> Catalogue:
    """Give a library of two lots with 20 g each.

    Lot 1 has movements 1, 3 (packed) and 5 (handed out loose), batch 1 with hand-out 1, and a label; lot 2 has
    movements 2 and 4 (packed), batch 2, a test with one dish of 10 seeds, and a season row.
    """
    first, second = a_lot(catalogue), a_lot(catalogue)
    with catalogue.job("work") as job:
        for lot_id in (first, second):
            batch = steps.add_batch(job, lot_id, A_DAY, packets=10, seeds_per_packet=20, fill_mg=100)
            move(job, lot_id, "packed", -1_000, on=A_DAY, batch_id=batch)
        move(job, first, "handed out", -500, on=A_DAY)
        handouts.give(job, 1, 3, on=A_DAY)
    _add_the_rest(catalogue)
    return catalogue


def _add_the_rest(catalogue: Catalogue) -> None:
    with catalogue.engine.begin() as connection:
        for statement in (
            "INSERT INTO loose_hand_out (movement_id) VALUES (5)",
            f"INSERT INTO germination_test (lot_id, state, started_on, seeds) VALUES (2, 'running', {DAY}, 10)",
            "INSERT INTO dish (test_id, number, seeds) VALUES (1, 1, 10)",
            f"INSERT INTO dish_count (dish_id, on_date, normal, dead) VALUES (1, {DAY}, 6, 2)",
            f"INSERT INTO season_list (name, folded, made_on) VALUES ('Spring', 'spring', {DAY})",
            "INSERT INTO season_row (season_list_id, lot_id, place, seeds_per_packet, packets) "
            "VALUES (1, 2, 1, 20, 10)",
            "INSERT INTO season_batch (batch_id, season_row_id) VALUES (2, 1)",
            "INSERT INTO print_job (at, on_date, title, design, label_stock, choices, labels, pages, sha256) "
            f"VALUES ({NOW}, {DAY}, 'Jars', 'jar', 'sheet', '{{}}', 1, 1, 'x')",
            "INSERT INTO print_label (print_job_id, place, lot_id, key, fields, copies) "
            "VALUES (1, 1, 1, 'a', '{}', 1)",
        ):
            connection.exec_driver_sql(statement)


REFUSED = {
    "a stock below nothing": ("UPDATE lot SET stock = -1", "stock_not_negative"),
    "more drawn than was ever there": (
        f"{MOVEMENT}(1, 'sown', -18501, {DAY}, {NOW}, NULL, NULL, NULL)", "never add up to less"),
    "a movement that is changed": ("UPDATE movement SET amount = 0 WHERE id = 3", "never changed or deleted"),
    "a movement that is deleted": ("DELETE FROM movement WHERE id = 3", "never changed or deleted"),
    "a movement of no lot": (
        f"{MOVEMENT}(99, 'received', 5, {DAY}, {NOW}, NULL, NULL, NULL)", "(?i)foreign key"),
    "a movement by nobody known": (
        "INSERT INTO movement (lot_id, kind, amount, on_date, entered_at, person_id) "
        f"VALUES (1, 'received', 5, {DAY}, {NOW}, 99)", "(?i)foreign key"),
    "a kind of movement that is not known": (
        f"{MOVEMENT}(1, 'eaten', 5, {DAY}, {NOW}, NULL, NULL, NULL)", "kind_known"),
    "a correction of nothing": (
        f"{MOVEMENT}(1, 'corrected', 5, {DAY}, {NOW}, NULL, NULL, NULL)", "correction_points"),
    "a correction of a line that is not there": (
        f"{MOVEMENT}(1, 'corrected', 5, {DAY}, {NOW}, 99, NULL, NULL)", "belongs to the lot"),
    "a correction of another lot's line": (
        f"{MOVEMENT}(2, 'corrected', 1000, {DAY}, {NOW}, 3, NULL, NULL)", "belongs to the lot"),
    "a correction that is not the opposite": (
        f"{MOVEMENT}(1, 'corrected', 999, {DAY}, {NOW}, 3, NULL, NULL)", "is the opposite"),
    "packets of another lot": (
        f"{MOVEMENT}(1, 'packed', -5, {DAY}, {NOW}, NULL, 2, NULL)", "of its test and of its packets"),
    "a test of another lot": (
        f"{MOVEMENT}(1, 'test', -5, {DAY}, {NOW}, NULL, NULL, 1)", "of its test and of its packets"),
    "packets below nothing": ("UPDATE packet_batch SET packets_left = -1", "packets_range"),
    "more packets left than were filled": ("UPDATE packet_batch SET packets_left = 11", "packets_range"),
    "a batch that is deleted": ("DELETE FROM packet_batch WHERE id = 2", "never changed or deleted"),
    "a hand-out that is changed": ("UPDATE hand_out SET packets = 1", "never changed or deleted"),
    "a hand-out that is deleted": ("DELETE FROM hand_out", "never changed or deleted"),
    "a hand-out of no batch": (f"{HAND_OUT}(99, 1, {DAY}, {NOW}, NULL)", "(?i)foreign key"),
    "more handed out than was packed": (f"{HAND_OUT}(1, 8, {DAY}, {NOW}, NULL)", "more packets cannot go out"),
    "packets put back into another batch": (f"{HAND_OUT}(2, -3, {DAY}, {NOW}, 1)", "put back by the opposite"),
    "more packets put back than went": (f"{HAND_OUT}(1, -4, {DAY}, {NOW}, 1)", "put back by the opposite"),
    "loose seed handed out that is changed": ("UPDATE loose_hand_out SET to_id = NULL", "never changed or deleted"),
    "loose seed handed out that is deleted": ("DELETE FROM loose_hand_out", "never changed or deleted"),
    "loose seed handed out without a movement": (
        "INSERT INTO loose_hand_out (movement_id) VALUES (99)", "(?i)foreign key"),
    "history that is changed": ("UPDATE history SET before = '{}', after = '{}'", "never changed"),
    "history that is deleted": ("DELETE FROM history", "never deleted"),
    "a lot that is deleted": ("DELETE FROM lot WHERE id = 2", "(?i)never deleted|foreign key"),
    "a lot with another number": ("UPDATE lot SET number = 'LEE-26-099X' WHERE id = 2", "number and unit never"),
    "a lot in another unit": ("UPDATE lot SET unit = 'seeds' WHERE id = 2", "number and unit never"),
    "a variety that lots belong to": ("DELETE FROM variety", "(?i)foreign key"),
    "a crop that varieties belong to": (
        "DELETE FROM crop WHERE id IN (SELECT crop_id FROM variety)", "(?i)foreign key"),
    "a count below nothing": ("UPDATE dish_count SET normal = -1", "fewer seeds than none"),
    "a test that ended before it began": (
        "UPDATE germination_test SET finished_on = '2020-01-01'", "finished_after_start"),
    "packets in another lot's season row": (
        "INSERT INTO season_batch (batch_id, season_row_id) VALUES (1, 1)", "season of their own lot"),
    "packets moved to another lot's season row": (
        "UPDATE season_batch SET batch_id = 1", "season of their own lot"),
    "a season list with rows": ("DELETE FROM season_list", "(?i)foreign key"),
    "fewer packets wanted than none": ("UPDATE season_row SET packets = -1", "packets_range"),
    "a print job that is changed": ("UPDATE print_job SET labels = 9", "printed is never"),
    "a print job that is deleted": ("DELETE FROM print_job", "printed is never"),
    "a label that is changed": ("UPDATE print_label SET copies = 9", "printed is never"),
    "a label that is deleted": ("DELETE FROM print_label", "printed is never"),
    "a promise kept and not kept": (
        "INSERT INTO promised_return (lot_id, promised_on, expected_by, settled_on) "
        f"VALUES (1, {DAY}, {DAY}, {DAY})", "settled_by_lot_or_reason"),
    "its own parent": ("INSERT INTO lot_parent (lot_id, parent_id) VALUES (1, 1)", "not_its_own_parent"),
}  # fmt: skip


def _all_rows(connection: Connection) -> dict[str, list[tuple[Any, ...]]]:
    return {
        table.name: [tuple(row) for row in connection.execute(select(table).order_by(*table.primary_key))]
        for table in metadata.sorted_tables
    }


@pytest.mark.parametrize("what", REFUSED)
def test_the_database_itself_refuses(stocked: Catalogue, what: str) -> None:
    """Plain SQL past the program is refused in words of its own, and not one row of any table is different."""
    statement, words = REFUSED[what]
    with stocked.look() as connection:
        before = _all_rows(connection)
    with pytest.raises(IntegrityError, match=words), stocked.engine.begin() as connection:
        connection.exec_driver_sql(statement)
    with stocked.look() as connection:
        assert _all_rows(connection) == before


def test_a_correction_is_not_corrected(stocked: Catalogue) -> None:
    """A correction, and a line that put packets back, are the end of it in plain SQL too."""
    with stocked.engine.begin() as connection:
        connection.exec_driver_sql(f"{MOVEMENT}(1, 'corrected', 1000, {DAY}, {NOW}, 3, NULL, NULL)")
        connection.exec_driver_sql(f"{HAND_OUT}(1, -3, {DAY}, {NOW}, 1)")
    for statement, words in (
        (f"{MOVEMENT}(1, 'corrected', -1000, {DAY}, {NOW}, 6, NULL, NULL)", "is the opposite"),
        (f"{MOVEMENT}(1, 'corrected', 1000, {DAY}, {NOW}, 3, NULL, NULL)", "(?i)never changed|unique"),
        (f"{HAND_OUT}(1, 3, {DAY}, {NOW}, 2)", "put back by the opposite|taking_back_points"),
    ):
        with pytest.raises(IntegrityError, match=words), stocked.engine.begin() as connection:
            connection.exec_driver_sql(statement)


def _belongings() -> Iterator[tuple[Table, Column[Any], ForeignKey]]:
    for table in metadata.sorted_tables:
        for column in table.columns:
            for key in column.foreign_keys:
                yield table, column, key


def test_no_row_is_left_without_what_it_belongs_to(catalogue: Catalogue) -> None:
    """In a whole library, whatever a row of any table belongs to is neither deleted nor put out of reach."""
    fill_demo(catalogue)
    tried = 0
    for table, column, key in _belongings():
        parent = key.column
        with catalogue.look() as connection:
            used = connection.execute(select(func.max(column))).scalar()
            if used is None:
                continue
            before = connection.execute(select(func.count()).select_from(table)).scalar()
        tried += 1
        for statement in (
            f'DELETE FROM "{parent.table.name}" WHERE "{parent.name}" = {used}',
            f'UPDATE "{table.name}" SET "{column.name}" = 987654 WHERE "{column.name}" = {used}',
        ):
            with pytest.raises(IntegrityError), catalogue.engine.begin() as connection:
                connection.execute(text(statement))
        with catalogue.look() as connection:
            assert connection.execute(select(func.count()).select_from(table)).scalar() == before
    # The invented library works at most benches; a table it does not fill is tried above by its own line.
    assert tried >= 20
    assert check(catalogue) == ()


def test_the_steps_made_every_belonging_that_the_records_say(catalogue: Catalogue) -> None:
    """Not one foreign key of the records is missing in the database, and a file's connection asks for them."""
    from sqlalchemy import inspect

    with catalogue.look() as connection:
        looked = inspect(connection)
        for table, column, key in _belongings():
            made = {
                (each["constrained_columns"][0], each["referred_table"])
                for each in looked.get_foreign_keys(table.name)
            }
            assert (column.name, key.column.table.name) in made
        if catalogue.is_sqlite:
            assert connection.exec_driver_sql("PRAGMA foreign_keys").scalar() == 1


@pytest.mark.parametrize("table", ["hand_out", "loose_hand_out", "print_job", "print_label", "lot"])
@pytest.mark.postgresql
def test_a_server_empties_none_of_these(postgresql_url: str, table: str) -> None:
    """TRUNCATE passes row triggers by, so it has guards of its own."""
    from hilum.catalogue.opening import new_catalogue
    from tests.catalogue.builders import TickingClock

    with new_catalogue(postgresql_url, clock=TickingClock()) as catalogue:
        a_lot(catalogue)
        with pytest.raises(IntegrityError, match="never"), catalogue.engine.begin() as connection:
            connection.execute(text(f"TRUNCATE {table} CASCADE"))
