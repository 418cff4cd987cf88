"""Opening a catalogue: one SQLite file, or a PostgreSQL database by its URL."""

import uuid
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, func, inspect, select, text
from sqlalchemy.engine import URL, make_url
from sqlalchemy.exc import ArgumentError

from hilum.catalogue.engines import make_engine, refuse_unfit_server, take_turn
from hilum.catalogue.files import COMPANIONS, SUFFIX, companion, is_shared, refuse_unwritable, revision_in
from hilum.catalogue.migrations import NEWEST_REVISION
from hilum.catalogue.mishaps import CatalogueError, plain_words
from hilum.catalogue.settings import Settings, read_settings
from hilum.errors import BadInput

__all__ = [
    "NEWEST_REVISION", "SUFFIX", "Catalogue", "CatalogueError", "Job", "count_rows", "hides_people",
    "is_on_shared_folder",
    "new_catalogue", "open_catalogue", "place", "revision_of", "shown",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Job:
    """One piece of work in one transaction: all of it is kept, or none of it."""

    connection: Connection
    settings: Settings
    what: str
    at: datetime
    person_id: int | None
    id: str = field(default_factory=lambda: str(uuid.uuid4()))
    # The earlier job that this one takes back, if it does.
    takes_back: str | None = None

    def run(self, statement: Any, *more: Any) -> Any:
        """Execute one statement inside the job's transaction."""
        return self.connection.execute(statement, *more)


class Catalogue:
    """An open catalogue. `job` writes, `look` reads; both hand out one transaction.

    The clock is handed in by the face that opened the catalogue; nothing below the faces asks for the time.
    """

    def __init__(self, engine: Engine, where: str, clock: Callable[[], datetime]) -> None:
        self.engine = engine
        self.where = where
        self.person_id: int | None = None
        # The visitors' view: no read or job gives a person's name while it is on.
        self.hides_people = False
        self._clock = clock

    @property
    def file(self) -> Path | None:
        """The catalogue's file, or None where a server holds it."""
        database = self.engine.url.database
        return Path(database) if self.is_sqlite and database else None

    @property
    def is_sqlite(self) -> bool:
        """Whether the catalogue is a file of its own."""
        return self.engine.dialect.name == "sqlite"

    def now(self) -> datetime:
        """Give the moment by the clock that was handed in."""
        return self._clock()

    @contextmanager
    def job(self, what: str) -> Iterator[Job]:
        """Open a writing transaction; leaving by an error undoes all of it."""
        with plain_words(self.where), self.engine.begin() as connection:
            connection.execution_options(hilum_hides_people=self.hides_people)
            take_turn(connection)
            yield Job(connection, read_settings(connection), what, self._clock(), self.person_id)

    @contextmanager
    def look(self) -> Iterator[Connection]:
        """Open a reading transaction that sees one state of the catalogue."""
        with plain_words(self.where), self.engine.connect() as connection:
            connection.execution_options(hilum_hides_people=self.hides_people)
            if self.is_sqlite:
                connection.execution_options(hilum_reading=True)
            else:
                # PostgreSQL's default would show each statement a newer state than the one before.
                connection.execution_options(isolation_level="REPEATABLE READ", postgresql_readonly=True)
            with connection.begin():
                yield connection

    def settings(self) -> Settings:
        """Give the library's settings."""
        with self.look() as connection:
            return read_settings(connection)

    def close(self) -> None:
        """Let go of the file or the server."""
        self.engine.dispose()

    def __enter__(self) -> "Catalogue":
        return self

    def __exit__(self, *_: object) -> None:
        self.close()


def open_catalogue(where: str | Path, *, clock: Callable[[], datetime], wait_s: float = 10) -> Catalogue:
    """Open a catalogue that exists, upgrading one made by an older version after a safety copy.

    `wait_s` is how long a writer waits for another one. Raises CatalogueError when there is none, when it is
    no catalogue, or when a newer version made it (such a file is left untouched).
    """
    url = place(where)
    file = _file_of(url)
    revision = None
    if file is not None:
        if not file.is_file():
            raise CatalogueError(f"There is no catalogue at {file}. Make one with: hilum new {file}")
        refuse_unwritable(file)
        # Merely connecting would already set the file's journal, so the question is asked from outside first.
        revision = _known(revision_in(file), str(file))
    catalogue = Catalogue(make_engine(url, wait_s), shown(url), clock)
    try:
        if file is None:
            _refuse_unfit(catalogue)
            with catalogue.look() as connection:
                revision = _known(revision_of(connection), catalogue.where)
        if revision is not None and revision != NEWEST_REVISION:
            from hilum.catalogue.upgrading import upgrade

            upgrade(catalogue, revision)
    except BaseException:
        catalogue.close()
        raise
    return catalogue


def new_catalogue(
    where: str | Path,
    *,
    clock: Callable[[], datetime],
    wait_s: float = 10,
    fill: Callable[[Job], object] | None = None,
) -> Catalogue:
    """Make an empty catalogue with the crops of the reference table; refuse where one already is.

    `fill` writes something else than these crops, in the transaction that makes the tables.
    """
    from hilum.catalogue.crops import fill_crops
    from hilum.catalogue.upgrading import create

    url = place(where)
    file = _file_of(url)
    if file is not None:
        _claim(file)
    catalogue = Catalogue(make_engine(url, wait_s), shown(url), clock)
    try:
        if file is None:
            _refuse_unfit(catalogue)
        create(catalogue, fill=fill or fill_crops)
    except BaseException:
        catalogue.close()
        if file is not None:
            for leftover in (file, *(companion(file, ending) for ending in COMPANIONS)):
                leftover.unlink(missing_ok=True)
        raise
    return catalogue


def _refuse_unfit(catalogue: Catalogue) -> None:
    try:
        with catalogue.look() as connection:
            refuse_unfit_server(connection, catalogue.where)
    except AssertionError as error:
        # SQLAlchemy asserts that it can read the server's version.
        raise CatalogueError(f"{catalogue.where}: the server does not answer as PostgreSQL does.") from error


def _claim(file: Path) -> None:
    """Make the empty file a new catalogue begins as, and refuse a name that is taken."""
    left = [companion(file, ending) for ending in COMPANIONS if companion(file, ending).exists()]
    if left and not file.exists():
        # The log of a catalogue that is gone would be played into the new one.
        raise CatalogueError(
            f"{left[0]} is left over from another catalogue. Choose another name, or move that file away first."
        )
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        # Of two programs that ask for the same name at once, one makes the file and the other is refused.
        file.open("xb").close()
    except FileExistsError as error:
        raise CatalogueError(
            f"{file} already exists. Choose another name, or move that file away first."
        ) from error
    except OSError as error:
        raise CatalogueError(f"{file} cannot be made: {error.strerror}.") from error


def _file_of(url: URL) -> Path | None:
    return Path(url.database or "") if url.get_backend_name() == "sqlite" else None


def _known(revision: str | None, where: str) -> str:
    if revision is None:
        raise CatalogueError(f"{where} is not a Hilum catalogue. It was left as it is.")
    return revision


def place(where: str | Path) -> URL:
    """Give the database URL of a path or of a URL as typed."""
    if isinstance(where, str) and "://" in where:
        try:
            url = make_url(where)
        except (ArgumentError, ValueError) as error:
            # The address is not repeated: there may be a password in it.
            raise BadInput(
                "That is no database address. One looks like postgresql://name@host/library"
            ) from error
        if url.get_backend_name() == "postgresql":
            return url.set(drivername="postgresql+psycopg")
        if url.get_backend_name() != "sqlite":
            raise BadInput(
                f"A catalogue lies in a file or on a PostgreSQL server, not in {url.get_backend_name()}."
            )
        if url.database in (None, "", ":memory:"):
            raise BadInput(
                f"{where!r} names no file. A catalogue is kept in a file, for example library.hilum."
            )
        return url
    path = Path(where).expanduser().absolute()
    # A path never goes through URL text: SQLAlchemy would decode per cent signs in it.
    return URL.create("sqlite", database=str(path))


def shown(url: URL) -> str:
    """Give a place as it may be shown: never with a password."""
    return (
        url.database or "" if url.get_backend_name() == "sqlite" else url.render_as_string(hide_password=True)
    )


def revision_of(connection: Connection) -> str | None:
    """Give the schema revision a catalogue is at, or None where the database holds no catalogue."""
    if not inspect(connection).has_table("alembic_version"):
        return None
    found: str | None = connection.execute(text("SELECT version_num FROM alembic_version")).scalar()
    return found


def hides_people(connection: Connection) -> bool:
    """Say whether people's names are hidden from whoever looks: the visitors' view."""
    return bool(connection.get_execution_options().get("hilum_hides_people", False))


def is_on_shared_folder(catalogue: Catalogue) -> bool:
    """Say whether the catalogue uses the slower rollback journal because of where it lies."""
    return catalogue.file is not None and is_shared(catalogue.file)


def count_rows(connection: Connection, table: Any) -> int:
    """Give the number of rows of one table."""
    return int(connection.execute(select(func.count()).select_from(table)).scalar_one())
