"""An empty database on the PostgreSQL server that packaging/test.py starts."""

import os
import uuid
from collections.abc import Iterator
from contextlib import contextmanager

import pytest

TEST_SERVER = "HILUM_TEST_POSTGRESQL"
NO_SERVER = f"no PostgreSQL server: {TEST_SERVER} is not set (packaging/test.py sets it)"
IN_CI = os.environ.get("CI", "").lower() not in ("", "0", "false")


def for_psycopg(url: str) -> str:
    """Give an SQLAlchemy address as psycopg takes it."""
    return url.replace("postgresql+psycopg://", "postgresql://", 1)


@contextmanager
def empty_database() -> Iterator[str]:
    """Give the address of a database of one's own; without a server skip, and in CI fail."""
    server = os.environ.get(TEST_SERVER)
    if not server:
        if IN_CI:
            pytest.fail(NO_SERVER)
        pytest.skip(NO_SERVER)
    import psycopg

    name = f"hilum_{uuid.uuid4().hex}"
    with psycopg.connect(for_psycopg(server), autocommit=True) as connection:
        connection.execute(f'CREATE DATABASE "{name}"'.encode())
        yield server.rsplit("/", 1)[0] + "/" + name
        # FORCE: a test that left a connection open shows in its own outcome, not in every later one.
        connection.execute(f'DROP DATABASE "{name}" WITH (FORCE)'.encode())
