"""All checks, one after the other: lint, types, tests, and the proof that the program needs no tools."""

import contextlib
import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import database
import debian
import environment

TEST_SERVER = "HILUM_TEST_POSTGRESQL"
SOURCES = ("desktop", "packaging", "tests")


@dataclass(frozen=True)
class Check:
    """One command and the words it is announced with."""

    title: str
    command: list[str]


def main(arguments: list[str]) -> int:
    """Set up, run every check even after one failed, list the failures; 0 only when there is none."""
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(143))  # so that the server is stopped in order
    began = time.monotonic()
    try:
        tools = environment.ready_environment(".venv-test", "test")
        program = environment.ready_environment(".venv", "run")
        _ready_system()
        with _server() as url:
            if url:
                os.environ[TEST_SERVER] = url
            failed = _run_all(_checks(tools, program, arguments))
    except (debian.PackagesMissingError, environment.EnvironmentBuildError, database.ServerError) as problem:
        print(problem, file=sys.stderr)
        return 1
    print(f"\nAll of it took {time.monotonic() - began:.0f} s.")
    for check in failed:
        print(f"FAILED: {check.title}: {' '.join(check.command)}")
    print("There is something to mend." if failed else "All checks passed.")
    return 1 if failed else 0


def _in_ci() -> bool:
    return os.environ.get("CI", "").lower() not in ("", "0", "false")


def _ready_system() -> None:
    missing = debian.missing_for_qt(x_display=False)
    if missing:
        debian.need_packages(missing, "Qt needs libraries that this system does not have yet.")
    wanted = []
    if sys.platform.startswith("linux"):
        if database.server_programs() is None:
            wanted.append("postgresql")
        if not debian.has_program("pdftoppm"):
            wanted.append("poppler-utils")
    if wanted:
        try:
            debian.need_packages(wanted, "Some tests need programs that this system does not have yet.")
        except debian.PackagesMissingError as problem:
            if _in_ci():
                raise
            print(f"{problem}\nGoing on without them.", file=sys.stderr)


@contextlib.contextmanager
def _server() -> Iterator[str | None]:
    given = os.environ.get(TEST_SERVER)
    programs = database.server_programs()
    if given:
        print(f"PostgreSQL tests use the server named in {TEST_SERVER}.")
        yield given
    elif programs:
        began = time.monotonic()
        with database.throw_away_server(programs) as url:
            print(f"Throw-away PostgreSQL from {programs} ready after {time.monotonic() - began:.1f} s.")
            yield url
    elif _in_ci():
        raise database.ServerError("No PostgreSQL server here, and CI must not skip its tests.")
    else:
        print("!!! NO POSTGRESQL SERVER HERE: every test that needs one will be SKIPPED !!!", file=sys.stderr)
        yield None


def _checks(tools: Path, program: Path, arguments: list[str]) -> list[Check]:
    python = str(tools)
    packaging = sorted(str(path) for path in (environment.ROOT / "packaging").glob("*.py"))
    # Two workers: about what the smallest machine has; worksteal evens out the slow window tests.
    pytest = [python, "-m", "pytest", "-n", "2", "--dist", "worksteal", "--cov", "--cov-report=term"]
    return [
        Check("lint", [python, "-m", "ruff", "check", *SOURCES]),
        Check("format", [python, "-m", "ruff", "format", "--check", *SOURCES]),
        Check("types", [python, "-m", "mypy"]),
        Check("types of the scripts", [python, "-m", "mypy", *packaging]),
        Check("lock files and installed parts agree", [python, "-m", "pip", "check"]),
        Check("tests", [*pytest, *arguments]),
        Check("the program starts without these tools", [str(program), "-P", "-m", "hilum", "--version"]),
    ]


def _run_all(checks: list[Check]) -> list[Check]:
    settings = {
        **os.environ,
        "PYTHONPATH": str(environment.ROOT / "desktop"),
        "QT_QPA_PLATFORM": "offscreen",
    }
    failed = []
    for check in checks:
        print(f"\n=== {check.title}", flush=True)
        began = time.monotonic()
        result = subprocess.run(
            check.command, check=False, cwd=environment.ROOT, env=settings, stdin=subprocess.DEVNULL
        )
        outcome = "passed" if result.returncode == 0 else f"FAILED with exit code {result.returncode}"
        print(f"=== {check.title}: {outcome}, {time.monotonic() - began:.1f} s", flush=True)
        if result.returncode != 0:
            failed.append(check)
    return failed
