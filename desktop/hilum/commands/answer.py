"""Answer: what a verb has to say, as a document for scripts and as lines for a person."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

DONE, FAILED, BAD_INPUT = 0, 1, 2


@dataclass(frozen=True, slots=True)
class Answer:
    """The outcome of one verb; `trouble` goes to standard error and comes with an exit code."""

    document: dict[str, Any]
    lines: tuple[str, ...]
    trouble: str = ""
    exit_code: int = DONE
    changed: bool = False


def answer(
    document: dict[str, Any],
    lines: Iterable[str],
    *,
    trouble: str = "",
    exit_code: int = DONE,
    changed: bool = False,
) -> Answer:
    """Make an answer; `changed` says that the catalogue or a file is no longer what it was."""
    return Answer(document, tuple(lines), trouble, exit_code, changed)
