"""Making a catalogue and bringing an older one up to date, both by the same chain of steps."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from sqlalchemy import Connection, inspect

from hilum.catalogue.engines import take_turn
from hilum.catalogue.keeping import copies_folder, keep_copy
from hilum.catalogue.mishaps import CatalogueError, plain_words
from hilum.catalogue.opening import Catalogue, Job, revision_of
from hilum.catalogue.settings import read_settings

if TYPE_CHECKING:
    from alembic.script import Script, ScriptDirectory

STEPS = Path(__file__).parent / "migrations"


def create(catalogue: Catalogue, *, fill: Callable[[Job], object] | None = None, steps: Path = STEPS) -> None:
    """Make the tables of a new catalogue in an empty database, and what `fill` adds, in one transaction."""
    with _restructuring(catalogue) as connection:
        if inspect(connection).get_table_names():
            raise CatalogueError(f"{catalogue.where} already holds tables. Choose an empty database.")
        for step in _steps_after(None, steps, catalogue.where):
            _take(connection, step, steps)
        if fill is not None:
            settings = read_settings(connection)
            fill(Job(connection, settings, "make the catalogue", catalogue.now(), catalogue.person_id))


def upgrade(catalogue: Catalogue, revision: str, *, steps: Path = STEPS) -> Path | None:
    """Bring a catalogue from an older revision to the newest; gives the safety copy that was made first.

    Each step and the note that it was done are one transaction, so a step that fails leaves the catalogue as
    the step before left it. A revision that is not in the chain is refused before anything is written. On a
    server the whole way is one transaction and no copy is made: that is done with the server's own tools.
    """
    chain = _steps_after(revision, steps, catalogue.where)
    if not chain:
        return None
    if catalogue.file is None:
        with _restructuring(catalogue) as connection:
            for step in _steps_after(revision_of(connection), steps, catalogue.where):
                _take(connection, step, steps)
        return None
    name = f"{catalogue.file.stem} before upgrade from {revision}"
    copy = keep_copy(catalogue, copies_folder(catalogue.file), name, catalogue.now().date())
    for step in chain:
        with _restructuring(catalogue) as connection:
            # Another window may have taken the step while this one waited for its turn.
            if step.down_revision == revision_of(connection):
                _take(connection, step, steps)
    return copy


def refuse_unknown(revision: str, where: str) -> None:
    """Refuse what a newer version made: its revision is not in the chain."""
    _steps_after(revision, STEPS, where)


def newest_revision(steps: Path = STEPS) -> str:
    """Give the revision at the end of the chain."""
    return str(_script(steps).get_current_head())


def _script(steps: Path) -> "ScriptDirectory":
    from alembic.script import ScriptDirectory

    return ScriptDirectory(str(steps), version_locations=[str(steps / "versions")])


def _steps_after(revision: str | None, steps: Path, where: str) -> "tuple[Script, ...]":
    from alembic.util import CommandError

    script = _script(steps)
    try:
        if revision is not None:
            script.get_revision(revision)
        return tuple(reversed(tuple(script.iterate_revisions("head", revision or "base"))))
    except CommandError as error:
        raise CatalogueError(
            f"{where} was made by a newer version of Hilum (its tables are at revision {revision}, this one "
            f"knows them up to {script.get_current_head()}). Open it with that version. It was left as it is."
        ) from error


def _take(connection: Connection, step: "Script", steps: Path) -> None:
    from alembic.migration import MigrationContext
    from alembic.operations import Operations

    context = MigrationContext.configure(connection)
    with Operations.context(context):
        step.module.upgrade()
    context.stamp(_script(steps), step.revision)


@contextmanager
def _restructuring(catalogue: Catalogue) -> Iterator[Connection]:
    """Open a transaction that may rebuild tables.

    On SQLite a rebuilt table is dropped, which with foreign keys on would empty the tables that point at it;
    the pragma does nothing inside a transaction, so it is set before, and the keys are checked at the end.
    """
    with plain_words(catalogue.where), catalogue.engine.connect() as connection:
        if not catalogue.is_sqlite:
            with connection.begin():
                take_turn(connection)
                yield connection
            return
        _set_foreign_keys(connection, "OFF")
        try:
            with connection.begin():
                yield connection
                if connection.exec_driver_sql("PRAGMA foreign_key_check").first() is not None:
                    raise CatalogueError(
                        f"{catalogue.where}: the upgrade would leave rows without what they belong to. "
                        "Nothing was changed; run: hilum check"
                    )
        finally:
            _set_foreign_keys(connection, "ON")


def _set_foreign_keys(connection: Connection, state: str) -> None:
    raw = connection.connection.driver_connection
    if raw is not None:
        raw.execute(f"PRAGMA foreign_keys={state}")
