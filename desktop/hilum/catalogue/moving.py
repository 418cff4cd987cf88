"""A whole catalogue copied into another one, row by row, from a file to a server or back, and compared."""

from collections.abc import Callable, Iterator, Sequence
from typing import Any

from sqlalchemy import Connection, Integer, Table, func, insert, select, text, update

from hilum.catalogue.mishaps import CatalogueError
from hilum.catalogue.records import metadata

# Rows read and written at once: more gain nothing and take memory.
_AT_ONCE = 2_000


class MovingStopped(CatalogueError):
    """The keeper stopped the copying; nothing was made."""


def count_all(connection: Connection) -> dict[str, int]:
    """Give the number of rows of every table."""
    return {
        table.name: int(connection.execute(select(func.count()).select_from(table)).scalar_one())
        for table in metadata.sorted_tables
    }


def copy_rows(
    source: Connection,
    target: Connection,
    *,
    progress: Callable[[int, int], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> dict[str, int]:
    """Copy every row of every table into a catalogue whose tables are there and empty, and compare both.

    Works in the transactions that it is given: whoever began them keeps all of it or nothing. Gives the number of
    rows by table. Raises MovingStopped when `stop` says so, CatalogueError when the copy is not what was copied.
    """
    counts = count_all(source)
    # Each row is written, then read again and compared.
    reached, of = 0, 2 * sum(counts.values())

    def move_on(rows: int) -> None:
        nonlocal reached
        if stop is not None and stop():
            raise MovingStopped("The copying was stopped. No catalogue was made.")
        reached += rows
        if progress is not None:
            progress(reached, of)

    for table in metadata.sorted_tables:
        inner = _points_at_itself(table)
        for rows in _read(source, table):
            target.execute(insert(table), [{**row, **dict.fromkeys(inner)} for row in rows])
            move_on(len(rows))
        if inner:
            _point(source, target, table, inner)
    for table in metadata.sorted_tables:
        for ours, theirs in zip(_read(source, table), _read(target, table), strict=True):
            if ours != theirs:
                raise CatalogueError(
                    f"A row of {table.name} did not arrive as it was. No catalogue was made."
                )
            move_on(len(ours))
    _go_on_counting(target)
    return counts


def _points_at_itself(table: Table) -> tuple[str, ...]:
    """Give the columns whose rows may point at rows of the same table that come later: places in places."""
    if table.name != "store_place":
        # Ledgers and history point at what was there before.
        return ()
    return tuple(
        column.name
        for column in table.columns
        if any(key.column.table is table for key in column.foreign_keys)
    )


def _point(source: Connection, target: Connection, table: Table, names: Sequence[str]) -> None:
    for rows in _read(source, table):
        for row in rows:
            values = {name: row[name] for name in names if row[name] is not None}
            if values:
                target.execute(update(table).where(table.c.id == row["id"]).values(**values))


def _read(connection: Connection, table: Table) -> Iterator[list[dict[str, Any]]]:
    """Give the rows of a table in the order of their keys, some at a time."""
    statement = select(table).order_by(*table.primary_key.columns)
    with connection.execute(statement, execution_options={"stream_results": True}) as found:
        for part in found.mappings().partitions(_AT_ONCE):
            yield [dict(row) for row in part]


def _go_on_counting(target: Connection) -> None:
    """Let a server's counters of ids go on behind the rows that came with theirs."""
    if target.dialect.name == "sqlite":
        return
    for table in metadata.sorted_tables:
        key = table.c.get("id")
        if key is not None and isinstance(key.type, Integer):
            target.execute(
                text(
                    f"SELECT setval(pg_get_serial_sequence('{table.name}', 'id'), (SELECT max(id) FROM {table.name})) "
                    f"WHERE EXISTS (SELECT 1 FROM {table.name})"
                )
            )
