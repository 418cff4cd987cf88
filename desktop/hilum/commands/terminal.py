"""Terminal: calm tables within a hundred columns, and words that any terminal can show."""

import codecs
import json
import os
import shutil
import sys
import textwrap
import unicodedata
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from io import TextIOWrapper
from typing import Any, TextIO

WIDEST, NARROWEST = 100, 60
NARROWEST_COLUMN = 8
GAP = "  "
# What a terminal without these characters shows instead.
_PLAIN = {
    "“": '"', "”": '"', "„": '"', "‘": "'", "’": "'", "–": "-", "—": "-", "…": "...", "×": "x", "·": "|",
    "°": " deg ", "≥": ">=", "≤": "<=", "±": "+/-", "→": "->", "ß": "ss", "æ": "ae", "ø": "o", "\u00a0": " ",
}  # fmt: skip
_AS_FAR_AS_POSSIBLE = "hilum-plain"


def _plain(error: UnicodeError) -> tuple[str | bytes, int]:
    """Give the nearest plain characters for one that the terminal cannot show."""
    if not isinstance(error, UnicodeEncodeError):
        raise error
    shown = []
    for character in error.object[error.start : error.end]:
        bare = _PLAIN.get(character, unicodedata.normalize("NFKD", character))
        ascii_only = bare.encode("ascii", "ignore").decode("ascii")
        shown.append(ascii_only or "?")
    return "".join(shown), error.end


codecs.register_error(_AS_FAR_AS_POSSIBLE, _plain)


def ready_streams() -> None:
    """Let both streams show what they can of any text, and never fail on a character."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors=_AS_FAR_AS_POSSIBLE)


def width() -> int:
    """Give the columns to write in: those of the terminal, a hundred at most."""
    return max(NARROWEST, min(WIDEST, shutil.get_terminal_size((WIDEST, 24)).columns))


def cells(text: str) -> int:
    """Count the columns a text takes up: none for a combining mark, two for a wide character."""
    return sum(
        0 if unicodedata.combining(each) else 2 if unicodedata.east_asian_width(each) in "WF" else 1
        for each in text
    )


def shortened(text: str, most: int) -> str:
    """Give a text within so many columns, with a mark where it was cut."""
    if cells(text) <= most:
        return text
    kept = ""
    for character in text:
        if cells(kept + character) > most - 1:
            break
        kept += character
    return kept.rstrip() + "…"


def wrapped(text: str, indent: int = 0) -> list[str]:
    """Break a text into lines that fit, each indented."""
    before = " " * indent
    return textwrap.wrap(
        _tame(text), width(), initial_indent=before, subsequent_indent=before, break_on_hyphens=False
    )


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table: its heading, the columns it may take, and whether figures stand to the right."""

    heading: str
    most: int
    right: bool = False


def table(columns: Sequence[Column], rows: Iterable[Sequence[str]], under: Sequence[str] = ()) -> list[str]:
    """Set rows in columns as wide as they need; `under` holds a line of words for each row, or nothing."""
    shown = [[_tame(cell) for cell in row] for row in rows]
    if not shown:
        return []
    room = _room(columns, shown)
    lines = [_line([column.heading for column in columns], columns, room)]
    for place, row in enumerate(shown):
        lines.append(_line(row, columns, room))
        if under and under[place]:
            lines += wrapped(under[place], room[0] + len(GAP))
    return lines


def _room(columns: Sequence[Column], rows: Sequence[Sequence[str]]) -> list[int]:
    """Give each column what it needs and may take; what is too much for the line is taken from the widest words."""
    room = []
    for place, column in enumerate(columns):
        needed = max(cells(column.heading), *(cells(row[place]) for row in rows))
        room.append(max(cells(column.heading), min(column.most, needed)))
    # The first column is a name to be typed again, and figures are never cut.
    wordy = [place for place, column in enumerate(columns) if place and not column.right]
    while wordy and sum(room) + len(GAP) * (len(room) - 1) > width():
        widest = max(wordy, key=lambda place: room[place])
        if room[widest] <= NARROWEST_COLUMN:
            break
        room[widest] -= 1
    return room


def _line(row: Sequence[str], columns: Sequence[Column], room: Sequence[int]) -> str:
    padded = []
    for whole, column, space in zip(row, columns, room, strict=True):
        cell = shortened(whole, space)
        blank = " " * (space - cells(cell))
        padded.append(blank + cell if column.right else cell + blank)
    return GAP.join(padded).rstrip()


def facts(pairs: Iterable[tuple[str, str]]) -> list[str]:
    """Set names and what they are below each other; a name without anything to say is left out."""
    told = [(name, text) for name, text in pairs if text]
    wide = max((cells(name) for name, _ in told), default=0) + len(GAP)
    lines = []
    for name, text in told:
        first, *more = wrapped(text, wide) or [""]
        lines += [name + " " * (wide - cells(name)) + first[wide:], *more]
    return lines


def _tame(text: str) -> str:
    """Take out what would steer the terminal instead of being shown."""
    return "".join(" " if unicodedata.category(each) in ("Cc", "Zl", "Zp") else each for each in text)


def say(text: str) -> None:
    """Write one line to standard error; who closed it does not want to know."""
    try:
        print("hilum: " + " ".join(_tame(text).split()), file=sys.stderr, flush=True)
    except OSError:
        _forget(sys.stderr)


def put(lines: Iterable[str]) -> None:
    """Write lines to standard output; a reader who has seen enough ends nothing but the writing."""
    try:
        for line in lines:
            print(line)
        if sys.stdout is not None:
            sys.stdout.flush()
    except BrokenPipeError:
        _forget(sys.stdout)
    except OSError:
        _forget(sys.stdout)
        raise


def as_document(document: dict[str, Any]) -> str:
    """Give a document as JSON that the stream can carry."""
    encoding = (getattr(sys.stdout, "encoding", None) or "ascii").lower().replace("-", "")
    return json.dumps(document, ensure_ascii=encoding != "utf8", indent=2)


def _forget(stream: TextIO) -> None:
    """Let what is left in a stream's buffer go nowhere, so that Python's own ending stays quiet."""
    try:
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, stream.fileno())
        os.close(nowhere)
    except (OSError, ValueError):
        return
