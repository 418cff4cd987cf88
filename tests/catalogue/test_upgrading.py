"""The chain of steps: what it makes, what it refuses, and what is left when a step fails."""

import ast
import shutil
import sqlite3
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import CheckConstraint, create_engine, inspect, text

from hilum.catalogue.keeping import copies_folder
from hilum.catalogue.opening import (
    NEWEST_REVISION,
    Catalogue,
    CatalogueError,
    new_catalogue,
    open_catalogue,
    place,
)
from hilum.catalogue.print_records import print_job  # noqa: F401 - its tables belong to the chain
from hilum.catalogue.records import metadata
from hilum.catalogue.upgrading import STEPS, newest_revision, upgrade
from tests.catalogue.builders import TickingClock, a_lot

# Tables that steps after the sixth made, those that point at others first.
STEP = '''
"""A step made by a test."""
import sqlalchemy as sa
from alembic import op
revision = "{revision}"
down_revision = "{down}"
def upgrade():
{body}
'''


@pytest.fixture
def steps_with(tmp_path: Path) -> Callable[..., Path]:
    """Give the real chain with steps of the test's own behind it."""

    def build(*bodies: str) -> Path:
        folder = tmp_path / "migrations"
        shutil.copytree(STEPS, folder, ignore=shutil.ignore_patterns("__pycache__"))
        down = newest_revision()
        for number, body in enumerate(bodies, start=1):
            revision = f"90{number:02d}"
            lines = "\n".join(f"    {line}" for line in body.strip().splitlines())
            (folder / "versions" / f"{revision}_made_by_a_test.py").write_text(
                STEP.format(revision=revision, down=down, body=lines), "utf-8"
            )
            down = revision
        return folder

    return build


def revision(catalogue: Catalogue) -> str:
    with catalogue.look() as connection:
        return str(connection.execute(text("SELECT version_num FROM alembic_version")).scalar_one())


def tables(catalogue: Catalogue) -> set[str]:
    with catalogue.look() as connection:
        return set(inspect(connection).get_table_names())


def test_the_chain_ends_where_the_records_are(catalogue: Catalogue) -> None:
    """A catalogue made by the steps has the tables, constraints and indexes that the records say, and no others."""
    from alembic.autogenerate import compare_metadata
    from alembic.migration import MigrationContext

    def ours(_item: Any, name: str | None, kind: str, _reflected: bool, _other: Any) -> bool:
        # The find index is made in each engine's own words and is no table of the records.
        return not (name or "").startswith(("lot_find", "ix_lot_find"))

    def differs(
        _context: Any, _now: Any, _wanted: Any, now: str | None, _default: Any, wanted: str | None
    ) -> bool:
        return _bare(now) != _bare(wanted)

    options = {"compare_type": True, "compare_server_default": differs, "include_object": ours}
    with catalogue.look() as connection:
        differences = compare_metadata(MigrationContext.configure(connection, opts=options), metadata)
    assert differences == []


def test_a_missing_check_would_be_noticed(catalogue: Catalogue) -> None:
    """Every named CHECK of the records stands in the database under its name."""
    with catalogue.look() as connection:
        inspector = inspect(connection)
        for name, table in metadata.tables.items():
            wanted = {str(check.name) for check in table.constraints if isinstance(check, CheckConstraint)}
            assert {check["name"] for check in inspector.get_check_constraints(name)} == wanted, name


def test_opening_knows_the_end_of_the_chain() -> None:
    """The revision that opening takes for the newest is the last of the steps."""
    assert newest_revision() == NEWEST_REVISION


def test_no_step_imports_a_module_of_ours() -> None:
    """A step must mean the same for ever, so it rests on nothing that changes."""
    for file in (STEPS / "versions").glob("*.py"):
        for node in ast.walk(ast.parse(file.read_text("utf-8"))):
            names = (
                [alias.name for alias in node.names]
                if isinstance(node, ast.Import)
                else [node.module or "."]
                if isinstance(node, ast.ImportFrom)
                else []
            )
            assert not [name for name in names if name.startswith((".", "hilum"))], file.name


def test_a_new_catalogue_is_made_in_silence(tmp_path: Path) -> None:
    """Nothing of the machinery below is written to a terminal."""
    program = (
        "import sys, datetime; from hilum.catalogue.opening import new_catalogue; "
        "new_catalogue(sys.argv[1], clock=lambda: datetime.datetime(2026, 11, 25)).close()"
    )
    ran = subprocess.run(
        [sys.executable, "-W", "error", "-c", program, str(tmp_path / "new.hilum")],
        capture_output=True, text=True, check=False, cwd=tmp_path, env=_environment(),
    )  # fmt: skip
    assert (ran.returncode, ran.stdout, ran.stderr) == (0, "", "")


def test_opening_an_up_to_date_catalogue_loads_no_alembic(file_catalogue: Catalogue) -> None:
    """Start-up does not pay for machinery that has nothing to do."""
    program = (
        "import sys, datetime; from hilum.catalogue.opening import open_catalogue; "
        "open_catalogue(sys.argv[1], clock=lambda: datetime.datetime(2026, 11, 25)).close(); "
        "print(sorted({'alembic', 'psycopg', 'mako', 'numpy'} & set(sys.modules)))"
    )
    ran = subprocess.run(
        [sys.executable, "-c", program, str(file_catalogue.file)],
        capture_output=True, text=True, check=True, env=_environment(),
    )  # fmt: skip
    assert ran.stdout.strip() == "[]"


def test_a_newer_file_is_refused_and_left_byte_for_byte(
    file_catalogue: Catalogue, clock: TickingClock
) -> None:
    """A catalogue from a newer version is refused in plain words, and neither it nor its folder is changed."""
    file = file_catalogue.file
    assert file is not None
    file_catalogue.close()
    with sqlite3.connect(file) as raw:
        raw.execute("PRAGMA journal_mode=DELETE")
        raw.execute("UPDATE alembic_version SET version_num = '9999'")
    raw.close()
    before, beside = file.read_bytes(), sorted(file.parent.iterdir())
    with pytest.raises(CatalogueError, match=r"made by a newer version of Hilum .*revision 9999") as refused:
        open_catalogue(file, clock=clock)
    assert "It was left as it is." in str(refused.value)
    assert file.read_bytes() == before
    assert sorted(file.parent.iterdir()) == beside


def test_a_newer_server_catalogue_is_refused(
    catalogue: Catalogue, where: str | Path, clock: TickingClock
) -> None:
    """The same holds on a server: refused, and its revision still stands."""
    with catalogue.engine.begin() as connection:
        connection.execute(text("UPDATE alembic_version SET version_num = '9999'"))
    with pytest.raises(CatalogueError, match="made by a newer version"):
        open_catalogue(where, clock=clock)
    assert revision(catalogue) == "9999"


def test_an_older_catalogue_is_copied_then_brought_up_to_date(
    catalogue: Catalogue, steps_with: Callable[..., Path]
) -> None:
    """Two steps are taken in order; a file is copied first, as it was before them."""
    a_lot(catalogue)
    steps = steps_with(
        "op.create_table('first', sa.Column('id', sa.Integer, primary_key=True))",
        "op.execute('INSERT INTO first (id) SELECT id FROM lot')",
    )
    copy = upgrade(catalogue, revision(catalogue), steps=steps)
    assert revision(catalogue) == "9002"
    with catalogue.look() as connection:
        assert connection.execute(text("SELECT count(*) FROM first")).scalar_one() == 1
    assert upgrade(catalogue, "9002", steps=steps) is None
    if catalogue.file is None:
        assert copy is None
        return
    assert copy is not None
    assert copy.parent == copies_folder(catalogue.file)
    assert copy.name == f"library before upgrade from {NEWEST_REVISION} 2026-11-25.hilum"
    with open_catalogue(copy, clock=TickingClock()) as old:
        assert revision(old) == NEWEST_REVISION
        assert "first" not in tables(old)


def test_a_step_that_fails_leaves_the_catalogue_as_it_was(
    catalogue: Catalogue, steps_with: Callable[..., Path]
) -> None:
    """What a step did before it failed is undone with its note; running again does the same."""
    steps = steps_with("op.create_table('half', sa.Column('id', sa.Integer))\nraise RuntimeError('halfway')")
    before = tables(catalogue)
    for _ in range(2):
        with pytest.raises(RuntimeError, match="halfway"):
            upgrade(catalogue, NEWEST_REVISION, steps=steps)
        assert revision(catalogue) == NEWEST_REVISION
        assert tables(catalogue) == before
    lot_id = a_lot(catalogue)
    assert lot_id > 0


def test_rebuilding_a_table_keeps_the_rows_that_belong_to_it(
    catalogue: Catalogue, steps_with: Callable[..., Path]
) -> None:
    """SQLite rebuilds a changed table by dropping it; lots of a variety must outlive that."""
    lot_id = a_lot(catalogue)
    steps = steps_with(
        "with op.batch_alter_table('variety') as variety:\n"
        "    variety.add_column(sa.Column('colour', sa.Text, nullable=False, server_default=''))\n"
        "    variety.alter_column('note', nullable=True)"
    )
    upgrade(catalogue, NEWEST_REVISION, steps=steps)
    with catalogue.job("look") as job:
        assert (
            job.run(text("SELECT count(*) FROM lot JOIN variety ON variety.id = variety_id")).scalar_one()
            == 1
        )
        assert job.run(text("SELECT stock FROM lot WHERE id = :id"), {"id": lot_id}).scalar_one() == 20_000
        if catalogue.is_sqlite:
            assert job.run(text("PRAGMA foreign_keys")).scalar_one() == 1


def test_a_step_that_orphans_rows_is_undone(
    file_catalogue: Catalogue, steps_with: Callable[..., Path]
) -> None:
    """Foreign keys are off while tables are rebuilt, so they are checked before the step is kept."""
    a_lot(file_catalogue)
    steps = steps_with("op.execute('DELETE FROM variety')")
    with pytest.raises(CatalogueError, match="would leave rows without what they belong to"):
        upgrade(file_catalogue, NEWEST_REVISION, steps=steps)
    assert revision(file_catalogue) == NEWEST_REVISION
    with file_catalogue.look() as connection:
        assert connection.execute(text("SELECT count(*) FROM variety")).scalar_one() == 1


@pytest.mark.postgresql
def test_a_database_with_other_tables_is_not_filled(postgresql_url: str, clock: TickingClock) -> None:
    """A new catalogue is made in an empty database only."""
    engine = create_engine(place(postgresql_url))
    with engine.begin() as connection:
        connection.execute(text("CREATE TABLE accounts (id integer)"))
    with pytest.raises(CatalogueError, match=r"already holds tables\. Choose an empty database"):
        new_catalogue(postgresql_url, clock=clock)
    with engine.connect() as connection:
        assert inspect(connection).get_table_names() == ["accounts"]
    engine.dispose()


def _bare(default: str | None) -> str | None:
    """Give a column's default without the quotes, brackets and casts in which each engine dresses it."""
    return None if default is None else default.split("::")[0].strip("()'")


def _environment() -> dict[str, str]:
    import os

    return os.environ | {"PYTHONPATH": str(Path(__file__).parents[2] / "desktop")}
