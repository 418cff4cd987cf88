"""Calling the command line without a new process, as the shell would: words in; output and exit code out."""

import json
import sqlite3
from collections.abc import Callable
from contextlib import closing, redirect_stderr, redirect_stdout
from dataclasses import dataclass
from datetime import date, datetime, time
from io import BytesIO, TextIOWrapper
from pathlib import Path
from typing import Any

from hilum.commands.shell import run
from tests.support.sources import ROOT

DATA = ROOT / "tests" / "data"
TODAY = date(2026, 11, 25)


@dataclass(frozen=True)
class Called:
    """What one call left: its exit code, what it wrote to both streams."""

    code: int
    out: str
    err: str

    @property
    def document(self) -> Any:
        """Standard output as the one JSON document it is with --json."""
        return json.loads(self.out)


def no_window(where: str | None, demo: bool) -> int:
    """Stand where the window would open; no test of the command line wants one."""
    raise AssertionError(f"a window was opened on {where}, demo={demo}")


def hilum(
    *words: object,
    today: date = TODAY,
    encoding: str = "utf-8",
    open_window: Callable[[str | None, bool], int] = no_window,
) -> Called:
    """Call `hilum` with these words on a given day."""
    out, err = (TextIOWrapper(BytesIO(), encoding=encoding, newline="\n") for _ in range(2))
    with redirect_stdout(out), redirect_stderr(err):
        code = run(
            [str(word) for word in words],
            open_window=open_window,
            clock=lambda: datetime.combine(today, time(9, 30)),
        )
    texts = []
    for stream in (out, err):
        stream.flush()
        texts.append(stream.buffer.getvalue().decode(encoding))  # type: ignore[attr-defined]
    return Called(code, *texts)


def document(*words: object, today: date = TODAY) -> Any:
    """Call `hilum` with --json, see that it is done, and give the document."""
    called = hilum(*words, "--json", today=today)
    assert called.code == 0, called.err
    return called.document


def everything_in(catalogue: Path) -> list[str]:
    """Give all that a catalogue file holds, for saying that nothing in it has changed."""
    with closing(sqlite3.connect(catalogue)) as connection:
        return list(connection.iterdump())
