"""The engine behind a catalogue: how each database is set up so that two desks can never oversell."""

from pathlib import Path
from typing import Any

from sqlalchemy import ColumnElement, Connection, Engine, create_engine, event
from sqlalchemy.engine import URL

from hilum.catalogue.files import is_shared
from hilum.catalogue.mishaps import CatalogueError

# EXECUTE FUNCTION in CREATE TRIGGER came with PostgreSQL 11 (from memory).
OLDEST_SERVER = 110_000
# Any number that no other program on the server is likely to choose: "hilum" in ASCII.
_TURN = 0x68696C756D


def make_engine(url: URL, wait_s: float) -> Engine:
    """Make the engine for a file or a server; a writer waits `wait_s` for another one."""
    if url.get_backend_name() == "sqlite":
        return _file_engine(url, wait_s)
    return _server_engine(url, wait_s)


def _file_engine(url: URL, wait_s: float) -> Engine:
    engine = create_engine(url)
    journal = "DELETE" if is_shared(Path(url.database or "")) else "WAL"

    @event.listens_for(engine, "connect")
    def _prepare(raw: Any, _record: Any) -> None:
        # The driver opens no transaction by itself any more: `_begin` below does, at once and for writing, so
        # that two writers cannot both read a stock and both take from it.
        raw.isolation_level = None
        for pragma in (
            f"busy_timeout={round(wait_s * 1000)}",
            "foreign_keys=ON",
            f"journal_mode={journal}",
            "synchronous=FULL",
            "recursive_triggers=ON",
        ):
            raw.execute(f"PRAGMA {pragma}")

    @event.listens_for(engine, "begin")
    def _begin(connection: Connection) -> None:
        reading = connection.get_execution_options().get("hilum_reading", False)
        connection.exec_driver_sql("BEGIN" if reading else "BEGIN IMMEDIATE")

    return engine


def _server_engine(url: URL, wait_s: float) -> Engine:
    # Text is decoded as UTF-8 whatever the database was made with, so that an unfit one can be asked.
    wanted = {"connect_timeout": 10, "client_encoding": "utf8"}
    missing = {name: value for name, value in wanted.items() if name not in url.query}
    engine = create_engine(url, pool_pre_ping=True, connect_args=missing)

    @event.listens_for(engine, "connect")
    def _prepare(raw: Any, _record: Any) -> None:
        raw.execute(f"SET lock_timeout = {round(wait_s * 1000)}")
        raw.commit()

    return engine


def take_turn(connection: Connection) -> None:
    """Wait until no other desk writes: one writer at a time, on a server as on a file.

    A job reads, decides and writes; what it decided on must still hold when it writes. A file's engine sees to
    that when it begins; on a server the jobs of all desks queue for one lock, which the transaction gives back.
    """
    if connection.dialect.name != "sqlite":
        connection.exec_driver_sql(f"SELECT pg_advisory_xact_lock({_TURN})")


def begins_with(connection: Connection, text: ColumnElement[str], beginning: str) -> ColumnElement[bool]:
    """Give the condition that a text begins so, in the words in which each engine uses the text's index.

    Case counts. `beginning` is letters, digits and hyphens only.
    """
    if connection.dialect.name == "sqlite":
        # SQLite's LIKE folds case, which its index does not.
        return text.op("GLOB")(f"{beginning}*")
    return text.like(f"{beginning}%")


def refuse_unfit_server(connection: Connection, where: str) -> None:
    """Refuse a server that speaks PostgreSQL's protocol but lacks what a catalogue stands on."""
    version = int(connection.exec_driver_sql("SHOW server_version_num").scalar_one())
    if version < OLDEST_SERVER:
        raise CatalogueError(
            f"{where}: the server speaks as PostgreSQL {version // 10_000}; a catalogue needs "
            f"{OLDEST_SERVER // 10_000} or newer. Nothing was changed."
        )
    encoding = str(connection.exec_driver_sql("SHOW server_encoding").scalar_one())
    if encoding != "UTF8":
        raise CatalogueError(
            f"{where}: the database keeps text as {encoding}, so names in other scripts would be lost. "
            "Have it made with ENCODING 'UTF8'. Nothing was changed."
        )
    missing = [
        what
        for what, question in (
            (
                "prefix search in text",
                "SELECT array_to_tsvector(string_to_array('broad bean', ' ')) @@ 'be:*'::tsquery",
            ),
            ("GIN indexes", "SELECT count(*) > 0 FROM pg_am WHERE amname = 'gin'"),
            ("triggers in PL/pgSQL", "SELECT count(*) > 0 FROM pg_language WHERE lanname = 'plpgsql'"),
        )
        if not connection.exec_driver_sql(question).scalar_one()
    ]
    if missing:
        raise CatalogueError(f"{where}: the server lacks {', '.join(missing)}. Nothing was changed.")
